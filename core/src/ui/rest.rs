//! Rest of the pair: for each yarn, whether what is left of it does for what is still to be knitted.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::forecast::{Begun, Rule, Word, answer, wanted, way_out};
use crate::measured::Measured;
use crate::screen::{About, AnswerPage, Body, KeyWord};
use crate::sock::YarnLetter;
use crate::units::Milligrams;

/// The answer for one yarn, as it was when the pan or the ledger last changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct RestPage {
    yarn: YarnLetter,
    answer: AnswerPage,
}

impl RestPage {
    /// Asks for a yarn; without one, for the yarn of the next section.
    #[must_use]
    pub(crate) fn of(yarn: Option<YarnLetter>, context: &Context<'_>) -> Self {
        let planned = context.section().map(|line| line.yarn);
        let yarn = yarn.or(planned).unwrap_or_default();
        Self {
            yarn,
            answer: ask(context, yarn),
        }
    }

    /// The yarn that it is about.
    pub(super) const fn yarn(&self) -> YarnLetter {
        self.yarn
    }

    /// The yarn will likely not do.
    #[must_use]
    pub(crate) fn is_short(&self) -> bool {
        self.missing().is_some()
    }

    /// What will likely be missing, if it will not do.
    #[must_use]
    pub(crate) fn missing(&self) -> Option<Milligrams> {
        let answer = self
            .answer
            .answer
            .filter(|answer| self.answer.weighed_in && answer.word == Word::Short)?;
        Some(answer.likely.abs())
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match press {
            Press::Short(Key::Mark) => Actions::go(To::Pan).and(Action::Mark),
            Press::Held(Key::Mark) => Action::Undo.into(),
            Press::Short(Key::Zero) => {
                let next = yarns(context)
                    .skip_while(|&other| other != self.yarn)
                    .nth(1)
                    .or_else(|| yarns(context).next());
                *self = Self::of(Some(next.unwrap_or_default()), context);
                Actions::none()
            }
            Press::Short(Key::Next) => Actions::go(To::Pan),
            Press::Held(Key::Next) => Actions::go(To::Everything),
            Press::Down(_) | Press::Held(Key::Zero) | Press::Again(_) => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        (Body::Answer(self.answer), [KeyWord::Yarn, KeyWord::Mark, KeyWord::Next])
    }
}

/// The yarns of the plan, in order of their letters.
fn yarns(context: &Context<'_>) -> impl Iterator<Item = YarnLetter> {
    YarnLetter::ALL
        .into_iter()
        .filter(|yarn| context.ledger().plan().lines.iter().any(|line| line.yarn == *yarn))
}

fn ask(context: &Context<'_>, yarn: YarnLetter) -> AnswerPage {
    let place = yarns(context)
        .position(|other| other == yarn)
        .map_or(0, |place| place.saturating_add(1));
    let count = yarns(context).count();
    let place = (u8::try_from(place).unwrap_or(0), u8::try_from(count).unwrap_or(0));
    let mut page = AnswerPage {
        about: About::RestOf(yarn),
        answer: None,
        way_out: None,
        weighed_in: false,
        parts: is_of_parts(context),
        place,
    };
    let Some(last) = context.ledger().last(yarn) else {
        // What it is needed for can be said all the same.
        let all = wanted(context.ledger(), yarn, None);
        page.answer = answer(Measured::default(), &all, context.book.history(), Rule::default());
        return page;
    };
    page.weighed_in = true;
    let on_pan = on_pan(context, yarn);
    let left = on_pan.map_or(last.weight.net, |(net, _)| net);
    let wanted = wanted(context.ledger(), yarn, on_pan.map(|(_, begun)| begun));
    page.answer = answer(left, &wanted, context.book.history(), Rule::default());
    if page.answer.is_some_and(|answer| answer.word != Word::Enough) {
        page.way_out = way_out(left, &wanted, context.book.history(), Rule::default()).map(|way_out| way_out.change);
    }
    page
}

/// The plan is one of parts: what is knitted is no sock.
fn is_of_parts(context: &Context<'_>) -> bool {
    context.ledger().plan().lines.iter().any(|line| line.kind.is_part())
}

/// What the yarn weighs now and what has gone into the running section, if it is this yarn that is on the pan.
fn on_pan(context: &Context<'_>, yarn: YarnLetter) -> Option<(Measured, Begun)> {
    let section = context.section().filter(|section| section.yarn == yarn)?;
    let (_, net) = context.section_on_pan()?;
    let used = context.ledger().last(section.yarn)?.weight.net.value - net.value;
    let line = context.cursor?;
    Some((net, Begun { line, used }))
}
