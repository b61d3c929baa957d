//! What a load on the pan means when MARK is pressed: noted without a word if it is certain enough, else asked about.

use super::application::App;
use crate::board::Tone;
use crate::journal::{PairEvent, Record, Setting};
use crate::measured::Measured;
use crate::recognise::{Choice, Meaning, OnPan, Situation, WhyAsked, ask, consider};
use crate::screen::{Question, RefusedWord};
use crate::sock::{BowlNumber, Weight, YarnLetter};
use crate::ui::{EMPTY_BELOW, Page, QuestionPage, To};
use crate::units::Milligrams;
use crate::weighing::SteadyLoad;

/// A load that differs by more is another one: the question goes with the one that it was about.
const SAME_LOAD: Milligrams = Milligrams(300);

/// Marks that can be taken back in a row without a question.
const TAKEN_BACK_FREELY: u8 = 2;

impl App {
    /// The press means this load.
    pub(super) fn take_mark(&mut self, load: SteadyLoad) {
        let bowl = self.book.bowls().in_use();
        let gross = self.scale.gross(&load);
        let Some(line) = self.cursor() else {
            return self.refuse(RefusedWord::PlanDone);
        };
        let Some(planned) = self.book.ledger().plan().line(line).map(|line| line.yarn) else {
            return;
        };
        if gross.value.abs() < EMPTY_BELOW {
            return self.mark_on_empty_pan(load, line, planned);
        }
        let on_pan = OnPan {
            apart: self.context().difference_u(planned, bowl, &load),
            ..self.on_pan(gross)
        };
        let Some(situation) = Situation::of(&self.book, line, &on_pan) else {
            return;
        };
        let considered = consider(&situation);
        let weight = self.context().weight(gross, bowl);
        match situation.certain(&considered) {
            Some(Meaning::FirstWeight(yarn)) => self.note_load(load, Record::WeighIn { yarn, weight }),
            Some(Meaning::Section { line, yarn, .. }) => {
                let record = self.context().boundary(line, yarn, weight, &load);
                self.note_load(load, record);
            }
            // It has gone already: there is nothing left to ask about.
            _ if !self.lies_there(&load) => self.refuse(RefusedWord::NotSteady),
            _ => {
                let (why, choices) = ask(&situation, &considered, self.book.ledger().plan());
                self.page = Page::Question(QuestionPage {
                    question: Question {
                        why,
                        weight: Some(weight.net.value),
                        choices,
                        selected: 0,
                    },
                    load: Some(load),
                });
                self.sound(Tone::Refused);
            }
        }
    }

    /// An empty pan can mean that the yarn is used up to its end.
    fn mark_on_empty_pan(&mut self, load: SteadyLoad, line: u8, yarn: YarnLetter) {
        let last = self.book.ledger().last(yarn).map(|last| last.weight.net.value);
        let Some((used, section)) = last.zip(self.book.ledger().plan().line(line)) else {
            return self.refuse(RefusedWord::EmptyPan);
        };
        let section = Choice::Section {
            line,
            section,
            yarn,
            used,
        };
        let question = Question {
            why: WhyAsked::UsedUp { yarn },
            weight: None,
            choices: [Choice::NotNow, section].into_iter().collect(),
            selected: 0,
        };
        self.page = Page::Question(QuestionPage {
            question,
            load: Some(load),
        });
    }

    /// The answer to a question.
    pub(super) fn answer(&mut self, choice: Choice, load: Option<SteadyLoad>) {
        match (choice, load) {
            (Choice::NotNow | Choice::NothingUsed(_), _) | (_, None) => {
                if let Choice::TakeBack { of, .. } = choice {
                    self.note(Record::Undone { of });
                }
            }
            (Choice::OtherPair(pair), _) => self.note(Record::Setting(Setting::PairInHand(pair))),
            (choice, Some(load)) => self.answer_of(choice, load),
        }
    }

    fn answer_of(&mut self, choice: Choice, load: SteadyLoad) {
        let gross = self.scale.gross(&load);
        let in_use = self.book.bowls().in_use();
        let weight = self.context().weight(gross, in_use);
        let record = match choice {
            Choice::Section { line, yarn, .. } if gross.value.abs() < EMPTY_BELOW => Record::Mark {
                line,
                yarn,
                // Nothing is left, exactly.
                weight: Weight {
                    net: Measured::default(),
                    bowl: None,
                    air: None,
                },
            },
            Choice::Section { line, yarn, .. } => self.context().boundary(line, yarn, weight, &load),
            Choice::OtherBowl { bowl, yarn, .. } => return self.mark_in_bowl(bowl, yarn, gross, load),
            Choice::Both(late) => {
                let Some((line, _, _)) = late.then else { return };
                self.note(Record::OfPair {
                    pair: self.book.ledger().pair(),
                    event: late.event(),
                });
                Record::Mark {
                    line,
                    yarn: late.yarn,
                    weight,
                }
            }
            Choice::StartFromHere { yarn, .. } => Record::Unplanned { yarn, weight },
            Choice::GoesOn { from, was, yarn } => {
                let pair = self.book.ledger().pair();
                if !self.book.needles().have_room(&[pair, from]) {
                    return self.refuse(RefusedWord::PairFull);
                }
                let event = PairEvent::Carried {
                    yarn,
                    from,
                    was,
                    weight,
                };
                Record::OfPair { pair, event }
            }
            Choice::WeighIn(yarn) => Record::WeighIn { yarn, weight },
            Choice::NotNow | Choice::OtherPair(_) | Choice::NothingUsed(_) | Choice::TakeBack { .. } => return,
        };
        self.note_load(load, record);
    }

    fn mark_in_bowl(&mut self, bowl: Option<BowlNumber>, yarn: YarnLetter, gross: Measured, load: SteadyLoad) {
        let Some(line) = self.cursor() else {
            return self.refuse(RefusedWord::PlanDone);
        };
        let weight = self.context().weight(gross, bowl);
        self.note(Record::Setting(Setting::BowlInUse(bowl)));
        self.note_load(load, Record::Mark { line, yarn, weight });
    }

    /// Takes the newest weight or skip back; after two in a row it asks first.
    pub(super) fn undo(&mut self) {
        self.go(To::Pan);
        let Some(of) = self.book.ledger().newest() else {
            return self.refuse(RefusedWord::NothingToUndo);
        };
        let count = self.marking.taken_back;
        if count < TAKEN_BACK_FREELY {
            return self.note(Record::Undone { of });
        }
        let ledger = self.book.ledger();
        let place = ledger.steps().iter().position(|step| step.sequence == of);
        let section = match place
            .and_then(|place| ledger.steps().get(place))
            .map(|step| step.purpose)
        {
            Some(crate::ledger::Purpose::Section(line)) => ledger.plan().line(line),
            _ => None,
        };
        let used = place.and_then(|place| ledger.used_at(place)).map(|used| used.value);
        let question = Question {
            why: WhyAsked::TakeBackMore { count },
            weight: None,
            choices: [Choice::NotNow, Choice::TakeBack { of, section, used }]
                .into_iter()
                .collect(),
            selected: 0,
        };
        self.page = Page::Question(QuestionPage { question, load: None });
        self.sound(Tone::Refused);
    }

    /// A question goes away with the load that it was about.
    pub(super) fn withdraw_question(&mut self) {
        if let Page::Question(QuestionPage { load: Some(load), .. }) = &self.page
            && !self.lies_there(load)
        {
            self.go(To::Pan);
        }
    }

    /// What is on the pan, seen now.
    pub(super) fn on_pan(&self, gross: Measured) -> OnPan {
        OnPan {
            gross,
            at: self.stamp(),
            humidity: self.climate.map(|air| air.humidity_percent),
            apart: None,
        }
    }

    /// Whether this load is what is on the pan, as far as that is known now.
    pub(super) fn lies_there(&self, load: &SteadyLoad) -> bool {
        let gross = self.scale.gross(load).value;
        let now = match self.scale.steady() {
            Some(now) => Some(self.scale.gross(&now).value),
            None if self.scale.is_empty() => Some(Milligrams::ZERO),
            // A hand, a footstep: what comes of it will be seen.
            None => None,
        };
        now.is_none_or(|now| (now - gross).abs() <= SAME_LOAD)
    }
}
