//! What a load on the pan means when MARK is pressed: noted without a word if it is clear, else asked about.

use super::application::App;
use crate::board::Tone;
use crate::journal::{Record, Setting};
use crate::ledger::{Choice, Finding, WhyAsked, recognise};
use crate::measured::Measured;
use crate::screen::{Question, RefusedWord};
use crate::sock::{BowlNumber, Weight, YarnLetter};
use crate::ui::{Context, EMPTY_BELOW, Page, QuestionPage};
use crate::units::Milligrams;
use crate::weighing::SteadyLoad;

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
            return self.mark_on_empty_pan(load, planned);
        }
        let context = self.context();
        let weight = context.weight(gross, bowl);
        match recognise(self.book.ledger(), line, weight.net, context.expected(line)) {
            Some(Finding::WeighIn(yarn)) => self.note_load(load, Record::WeighIn { yarn, weight }),
            Some(Finding::Section(yarn, _)) => {
                let record = context.boundary(line, yarn, weight, &load);
                self.note_load(load, record);
            }
            Some(Finding::Ask(why, mut choices)) => {
                if let Some(fitting) = fitting_bowl(&context, line, gross, bowl)
                    && !choices.is_full()
                {
                    // There is room: it was looked at.
                    let _ = choices.insert(0, fitting);
                }
                let question = Question {
                    why,
                    weight: weight.net.value,
                    choices,
                    selected: 0,
                };
                self.page = Page::Question(QuestionPage { question, load });
                self.sound(Tone::Refused);
            }
            None => self.refuse(RefusedWord::PlanDone),
        }
    }

    /// An empty pan can mean that the yarn is used up to its end.
    fn mark_on_empty_pan(&mut self, load: SteadyLoad, planned: YarnLetter) {
        let Some(last) = self.book.ledger().last(planned) else {
            return self.refuse(RefusedWord::EmptyPan);
        };
        let used = last.weight.net.value;
        let mut choices = heapless::Vec::new();
        // Two fit into six places.
        let _ = choices.push(Choice::NotNow);
        let _ = choices.push(Choice::Section { yarn: planned, used });
        let question = Question {
            why: WhyAsked::UsedUp { yarn: planned },
            weight: Milligrams::ZERO,
            choices,
            selected: 0,
        };
        self.page = Page::Question(QuestionPage { question, load });
    }

    /// The answer to a question.
    pub(super) fn answer(&mut self, choice: Choice, load: SteadyLoad) {
        let gross = self.scale.gross(&load);
        let in_use = self.book.bowls().in_use();
        let Some(line) = self.cursor() else {
            return self.refuse(RefusedWord::PlanDone);
        };
        let context = self.context();
        let weight = |bowl| context.weight(gross, bowl);
        let record = match choice {
            Choice::Section { yarn, .. } if gross.value.abs() < EMPTY_BELOW => {
                // Nothing is left, exactly.
                let weight = Weight {
                    net: Measured::default(),
                    bowl: None,
                    air: None,
                };
                Record::Mark { line, yarn, weight }
            }
            Choice::Section { yarn, .. } => context.boundary(line, yarn, weight(in_use), &load),
            Choice::OtherBowl { bowl, yarn, .. } => {
                let weight = weight(bowl);
                self.note(Record::Setting(Setting::BowlInUse(bowl)));
                Record::Mark { line, yarn, weight }
            }
            Choice::StartFromHere(yarn) => Record::Unplanned {
                yarn,
                weight: weight(in_use),
            },
            Choice::WeighIn(yarn) => Record::WeighIn {
                yarn,
                weight: weight(in_use),
            },
            Choice::NotNow => return,
        };
        self.note_load(load, record);
    }
}

/// Another bowl, or none, with which the weight would be a plain section.
fn fitting_bowl(context: &Context<'_>, line: u8, gross: Measured, now: Option<BowlNumber>) -> Option<Choice> {
    let others = core::iter::once(None).chain(context.book.bowls().all().map(|(number, _)| Some(number)));
    others.filter(|&bowl| bowl != now).find_map(|bowl| {
        let net = context.net(gross, bowl);
        match recognise(context.ledger(), line, net, context.expected(line)) {
            Some(Finding::Section(yarn, used)) => Some(Choice::OtherBowl { bowl, yarn, used }),
            _ => None,
        }
    })
}
