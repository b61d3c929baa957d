//! Invented sections and histories that the tests of the forecasts share.

use yarn_scale_core::forecast::{Answer, Rule, Socks, Wanted, answer};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Construction, Decitex, HeelConstruction, History, PairRecord, Ribbing, SectionKind, Size, Sock, ToeConstruction,
};
use yarn_scale_core::units::Milligrams;

/// A kind of section and how it is worked.
pub type Section = (SectionKind, Construction);

/// A cuff in two-by-two rib.
pub const CUFF: Section = (SectionKind::Cuff, Construction::Ribbed(Ribbing::TwoByTwo));
/// A heel flap.
pub const HEEL: Section = (SectionKind::Heel, Construction::Heel(HeelConstruction::FlapAndGusset));
/// A wedge toe.
pub const TOE: Section = (SectionKind::Toe, Construction::Toe(ToeConstruction::Wedge));
/// A foot.
pub const FOOT: Section = (SectionKind::Foot, Construction::Plain);

/// 64 stitches in a yarn of 420 m per 100 g.
pub const SIZE: Size = Size {
    stitches: 64,
    rounds: 0,
    yarn: Decitex(2_381),
};

/// What the cuffs of four pairs took, grams: common practice, no source, says about 4 g.
pub const CUFFS: [[f32; 2]; 4] = [[4.0, 4.1], [3.9, 3.8], [4.1, 4.0], [4.0, 4.1]];

/// A mass weighed to 15 mg.
#[must_use]
pub fn grams(grams: f32) -> Measured {
    Measured {
        value: Milligrams((grams * 1_000.0).round() as i32),
        u: 15.0,
    }
}

/// A section to be knitted in a yarn of its own.
#[must_use]
pub fn wanted((kind, construction): Section, socks: Socks) -> Wanted {
    Wanted::contrast(kind, construction, SIZE, socks)
}

/// A history in which each pair's sections took these grams, sock 1 and sock 2; 0 where it was not weighed.
#[must_use]
pub fn history(sections: &[(Section, &[[f32; 2]])]) -> History {
    history_to(grams(0.0).u, sections)
}

/// The same with sections weighed to `u` mg.
#[must_use]
pub fn history_to(u: f32, sections: &[(Section, &[[f32; 2]])]) -> History {
    let mut history = History::default();
    let pairs = sections.iter().map(|(_, uses)| uses.len()).max().unwrap_or(0);
    for pair in 0..pairs {
        let mut record = PairRecord::new(pair as u16 + 1);
        for ((kind, construction), uses) in sections {
            for (sock, used) in [Sock::First, Sock::Second]
                .into_iter()
                .zip(uses.get(pair).into_iter().flatten())
            {
                if *used > 0.0 {
                    record.add(*kind, *construction, SIZE, sock, Measured { u, ..grams(*used) });
                }
            }
        }
        history.record(record);
    }
    history
}

/// Asks by the default rule.
///
/// # Panics
/// If nothing is known of a section.
#[must_use]
pub fn ask(left: f32, wanted: &[Wanted], history: &History) -> Answer {
    answer(grams(left), wanted, history, Rule::default()).expect("something is known")
}
