//! Invented contents for the pages.

use yarn_scale_core::journal::Language;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{Body, KeyWord, Status, View, YarnNames};
use yarn_scale_core::sock::{Construction, Line, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::Unit;

use super::{Case, page_of};

/// The keys of a list.
pub(super) const LIST_KEYS: [KeyWord; 3] = [KeyWord::BackOrUp, KeyWord::Choose, KeyWord::Down];

/// A case in grams without signs.
pub(super) fn case(name: &'static str, body: Body, keys: [KeyWord; 3]) -> Case {
    Case {
        page: page_of(&body),
        name,
        view: View {
            body,
            keys,
            status: Status::default(),
            unit: Unit::Gram,
            language: Language::English,
            names: YarnNames::new(),
        },
    }
}

/// The same where yarns have names.
pub(super) fn with_names(names: &[(YarnLetter, &str)], case: Case) -> Case {
    let names = names
        .iter()
        .map(|&(yarn, name)| (yarn, name.try_into().unwrap_or_default()));
    Case {
        view: View {
            names: names.collect(),
            ..case.view
        },
        ..case
    }
}

/// A mass and its standard uncertainty, both in milligrams.
pub(super) fn measured(milligrams: i32, u: f32) -> Measured {
    Measured {
        value: Milligrams(milligrams),
        u,
    }
}

/// A section of the plan.
pub(super) fn line(kind: SectionKind, sock: Sock, yarn: YarnLetter) -> Line {
    Line {
        kind,
        sock,
        yarn,
        construction: Construction::Plain,
        stitches: 64,
    }
}
