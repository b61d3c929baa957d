//! While a backup is being restored the screen says so, whatever it showed before, and no key does anything.

use yarn_scale_core::app::Key;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::link::{Ask, MAX_FRAME, Request, encode};
use yarn_scale_core::screen::{Body, KeyWord, Notice};
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, Simulator, calibrated_flash};
use yarn_scale_sim::world::{Room, Unit, World};
use yarn_scale_tests::line::restore_end;

fn ask(scale: &mut Simulator, id: u8, ask: Ask) {
    let mut buffer = [0; MAX_FRAME];
    let frame = encode(&Request { id, ask }, &mut buffer).expect("a question fits");
    scale.board.link.to_device.extend_from_slice(frame);
    scale.pass(0.3, |_| {});
}

fn view(scale: &Simulator) -> (Body, [KeyWord; 3]) {
    let view = scale.app().expect("it is on").view();
    (view.body, view.keys)
}

#[test]
fn the_page_of_a_restore_stands_until_it_is_done_and_keys_do_nothing() {
    let world = World::new(Unit::typical(1), SampleRate::Ten, Room::constant());
    let flash = calibrated_flash(&world, JOURNAL_BYTES);
    let mut scale = Simulator::with_flash(world, flash);
    scale.switch_on();
    scale.board.world_mut().supply.usb = true;
    // It has gone dark meanwhile.
    scale.pass(3_600.0, |_| {});
    assert_eq!(view(&scale).0, Body::Dark);
    ask(&mut scale, 1, Ask::RestoreBegin);
    let stands = (Body::Notice(Notice::Restoring), [KeyWord::Nothing; 3]);
    assert_eq!(view(&scale), stands);
    assert!(scale.board.panel().level() > 0, "it is to be seen");
    let before = scale.journal();
    for key in [Key::Zero, Key::Mark, Key::Next] {
        scale.press(key);
        scale.pass(0.5, |_| {});
        scale.hold(key);
        scale.pass(0.2, |_| {});
        assert_eq!(view(&scale), stands, "{key:?}");
        assert_eq!(scale.journal(), before);
        ask(&mut scale, 2, Ask::RestoreBegin);
    }
    ask(&mut scale, 3, restore_end(&[]));
    scale.pass(2.0, |_| {});
    assert!(matches!(view(&scale).0, Body::Pan(_)), "{:?}", view(&scale));
    // And if the computer goes in the middle of it, the scale does not stay there for ever.
    ask(&mut scale, 4, Ask::RestoreBegin);
    assert_eq!(view(&scale), stands);
    scale.pass(12.0, |_| {});
    assert!(matches!(view(&scale).0, Body::Pan(_)), "{:?}", view(&scale));
}
