//! The cake on the pan proposes its own pair, if that is plainly another one than the pair in hand. Nothing is asked and nothing changes: the
//! home page says so, and ZERO goes to that pair.

use super::application::App;
use crate::recognise::proposed;
use crate::sock::YarnLetter;
use crate::ui::{EMPTY_BELOW, Key, Page, Press};
use crate::weighing::SteadyLoad;

/// What a load proposes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Proposal {
    load: SteadyLoad,
    /// The pair, and its yarn; `None` for a load that proposes nothing, or of which the proposal was left alone.
    to: Option<(u16, YarnLetter)>,
}

impl App {
    /// A load has settled: on the home page it may propose its pair, once.
    pub(super) fn propose(&mut self, load: SteadyLoad) {
        let is_seen = self.proposal.is_some_and(|before| self.lies_there(&before.load));
        let gross = self.scale.gross(&load);
        if is_seen || !matches!(self.page, Page::Pan(_)) || gross.value < EMPTY_BELOW {
            return;
        }
        let to = proposed(&self.book, self.cursor(), &self.on_pan(gross));
        self.proposal = Some(Proposal { load, to });
    }

    /// The pair that what lies on the pan proposes, and its yarn.
    pub(super) fn proposal(&self) -> Option<(u16, YarnLetter)> {
        let proposal = self.proposal?;
        // Asked for with every view: most loads propose nothing.
        let to = proposal.to?;
        self.lies_there(&proposal.load).then_some(to)
    }

    /// Whoever presses another key on the home page does not want it: not for this load again.
    pub(super) fn leave_proposal(&mut self, press: Press) {
        let other = matches!(press, Press::Short(Key::Mark | Key::Next) | Press::Held(_));
        if let Some(proposal) = self.proposal.as_mut()
            && other
        {
            proposal.to = None;
        }
    }
}
