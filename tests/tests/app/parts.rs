//! The parts that a device was built with: asked once, kept, and what follows from them.

use yarn_scale_core::app::{CutOffs, Effect, Input, POOR_CABLE};
use yarn_scale_core::journal::{Record, Setting, SupplyKind};
use yarn_scale_core::screen::{Body, Notice, RefusedWord, Word};
use yarn_scale_core::units::{Milligrams, Millivolts};
use yarn_scale_tests::bench::{Bench, Key};

/// Answers what a new device asks: a panel whose picture begins in column 2, this supply, the last cell of the list.
fn answered(supply_presses: usize, cell_presses: usize) -> Bench {
    let mut bench = Bench::uncalibrated();
    bench.press(Key::Mark);
    assert_eq!(bench.body(), Body::Edges);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    (0..supply_presses).for_each(|_| bench.press(Key::Next));
    bench.press(Key::Mark);
    (0..cell_presses).for_each(|_| bench.press(Key::Next));
    bench.press(Key::Mark);
    bench
}

fn settings(bench: &Bench) -> Vec<Setting> {
    let kept = bench.deeds().into_iter().filter_map(|record| match record {
        Record::Setting(Setting::Language(_) | Setting::LanguageAsked(_)) => None,
        Record::Setting(setting) => Some(setting),
        _ => None,
    });
    kept.collect()
}

#[test]
fn a_new_device_asks_for_its_parts_once_and_keeps_the_answers() {
    let mut bench = answered(2, 1);
    assert_eq!(
        settings(&bench),
        [
            Setting::PanelOffset(2),
            Setting::Supply(SupplyKind::Lithium),
            Setting::CellCapacity(1_000)
        ]
    );
    assert!(
        matches!(bench.body(), Body::Guide(_)),
        "calibration comes next: {:?}",
        bench.body()
    );
    assert_eq!(bench.app.capacity(), Milligrams::from_grams(1_000));

    bench.press(Key::Zero);
    bench.press(Key::Mark);
    assert!(
        matches!(bench.body(), Body::Guide(_)),
        "not asked again: {:?}",
        bench.body()
    );

    let again = bench.power_cycle();
    assert_eq!(again.app.capacity(), Milligrams::from_grams(1_000));
    assert!(
        again.effects.contains(&Effect::PanelBegins(2)),
        "the panel is told before it shows anything"
    );
}

#[test]
fn the_picture_moves_while_it_is_asked_for_and_back_if_it_is_left() {
    let mut bench = Bench::uncalibrated();
    bench.press(Key::Mark);
    bench.effects.clear();
    bench.press(Key::Next);
    bench.press(Key::Next);
    bench.press(Key::Zero);
    let told: Vec<&Effect> = bench
        .effects
        .iter()
        .filter(|effect| matches!(effect, Effect::PanelBegins(_)))
        .collect();
    assert_eq!(
        told,
        [
            &Effect::PanelBegins(2),
            &Effect::PanelBegins(1),
            &Effect::PanelBegins(0)
        ]
    );
    assert_eq!(settings(&bench), []);
}

#[test]
fn a_lithium_cell_is_at_its_end_where_alkaline_cells_are_not() {
    // Three alkaline or NiMH cells are empty at 3.0 V, a lithium cell at 3.2 V (makers' sheets, from memory), less 0.25 V over the diode.
    let [alkaline, nickel, lithium, usb] = [
        SupplyKind::Alkaline,
        SupplyKind::NickelMetalHydride,
        SupplyKind::Lithium,
        SupplyKind::Usb,
    ]
    .map(CutOffs::of);
    assert!(lithium.off >= Millivolts(3_200 - 250) && nickel.off < Millivolts(3_000 - 250));
    assert!(alkaline.off > Millivolts(1_800), "the regulator's least");
    assert!(
        POOR_CABLE < Millivolts(4_750 - 450),
        "USB at its lowest, behind the board's diode"
    );
    for limits in [alkaline, nickel, lithium, usb] {
        assert!(limits.write > limits.off && limits.write >= Millivolts(2_900));
    }
    for (presses, noted) in [(0, true), (2, false)] {
        let mut bench = answered(presses, 0);
        bench.tell(Input::Supply(Millivolts(3_000)));
        bench.press(Key::Zero);
        bench.open(Word::Units);
        let refused = matches!(bench.body(), Body::Notice(Notice::Refused(RefusedWord::SupplyLow)));
        assert_eq!(refused, !noted, "{:?}", bench.body());
    }
}
