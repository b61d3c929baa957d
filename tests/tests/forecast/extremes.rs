//! No input, however odd, makes the forecasts panic or promise: overflow checks are on in this build.

use proptest::prelude::*;
use yarn_scale_core::forecast::{
    Drying, FinishedPair, Rule, Socks, Wanted, Word, answer, halve, pair_check, way_out, will_it_do,
};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Construction, Decitex, Fibre, History, PairRecord, SectionKind, Size, Sock,
    moisture::{MoistureKnown, went},
};
use yarn_scale_core::units::{Milligrams, Stamp};

fn measured() -> impl Strategy<Value = Measured> {
    let mass = prop_oneof![
        Just(i32::MIN),
        Just(i32::MAX),
        Just(0),
        -100_000..2_000_000_i32,
        any::<i32>()
    ];
    let u = prop_oneof![
        Just(f32::NAN),
        Just(f32::INFINITY),
        Just(0.0),
        0.0..500.0_f32,
        any::<f32>()
    ];
    (mass, u).prop_map(|(mass, u)| Measured {
        value: Milligrams(mass),
        u,
    })
}

fn size() -> impl Strategy<Value = Size> {
    let counts = prop_oneof![Just(0), Just(u16::MAX), 20..100_u16];
    (any::<u8>(), counts, any::<u16>()).prop_map(|(stitches, rounds, yarn)| Size {
        stitches,
        rounds,
        yarn: Decitex(yarn),
    })
}

fn kind() -> impl Strategy<Value = SectionKind> {
    prop::sample::select(SectionKind::ALL.to_vec())
}

fn wanted() -> impl Strategy<Value = Wanted> {
    let known = (
        prop::option::of(measured()),
        prop::option::of(any::<i32>()),
        any::<i32>(),
    );
    (kind(), size(), any::<bool>(), any::<u8>(), any::<u8>(), known).prop_map(
        |(kind, size, both, parts, ends, known)| {
            let socks = if both { Socks::Both } else { Socks::One };
            let (first, estimate, begun) = known;
            Wanted {
                parts,
                ends,
                first,
                begun: Milligrams(begun),
                estimate: estimate.map(Milligrams),
                ..Wanted::contrast(kind, Construction::Plain, size, socks)
            }
        },
    )
}

fn history() -> impl Strategy<Value = History> {
    let section = (kind(), size(), any::<bool>(), measured());
    prop::collection::vec((0..40_u16, prop::collection::vec(section, 0..12)), 0..30).prop_map(|pairs| {
        let mut history = History::default();
        for (number, sections) in pairs {
            let mut record = PairRecord::new(number);
            for (kind, size, second, used) in sections {
                let sock = if second { Sock::Second } else { Sock::First };
                record.add(kind, Construction::Plain, size, sock, used);
            }
            history.record(record);
        }
        history
    })
}

proptest! {
    #[test]
    fn answers_hold_together(
        left in measured(),
        wanted in prop::collection::vec(wanted(), 0..14),
        history in history(),
        confidence in any::<f32>(),
        end_mm in any::<u16>(),
    ) {
        let rule = Rule { confidence, end_mm };
        if let Some(found) = answer(left, &wanted, &history, rule) {
            prop_assert!(found.expected <= found.need, "{found:?}");
            prop_assert_eq!(found.word == Word::Enough, found.spare().0 >= 0);
        }
        for choice in will_it_do(left, &wanted, &history, rule) {
            prop_assert!(choice.kinds.count() >= 1);
        }
        if let Some(way) = way_out(left, &wanted, &history, rule) {
            prop_assert_eq!(way.rest.word, Word::Enough);
        }
    }

    #[test]
    fn pan_answers_take_anything(one in measured(), other in measured(), at in any::<[u32; 3]>(), ends in any::<u16>()) {
        let halving = halve(one, other, ends % 2 == 0, Milligrams(i32::from(ends)));
        prop_assert!(halving.target.0 <= one.value.0.max(0));
        let _ = pair_check(FinishedPair {
            pair: one,
            sections: other,
            moisture_u: other.u,
            ends,
            yarn: Decitex(ends),
            lightest: Some(one.value),
            unmarked: 1,
        });
        let mut drying = Drying::new(one);
        for at in at {
            drying.weigh(Stamp(at), other);
            prop_assert!(drying.dryness().is_some());
        }
        let known = MoistureKnown { humidity: Some((one.u, other.u, one.u)), control: Some((other, one)) };
        let _ = went(one, other, Fibre::Wool, one.u, known);
    }
}
