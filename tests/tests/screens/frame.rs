//! A frame takes whole columns at once; each must be the same as its single pixels.

use proptest::prelude::*;
use yarn_scale_core::screen::Field;
use yarn_scale_core::screen::{Frame, Surface};

/// Pixels of a frame, inside the display only.
fn lit(frame: &Frame) -> Vec<(usize, usize)> {
    let all = (0..64).flat_map(|y| (0..128).map(move |x| (x, y)));
    all.filter(|&(x, y)| frame.is_lit(x, y)).collect()
}

#[test]
fn a_filled_field_is_the_same_as_its_single_pixels() {
    let fields = [
        Field::new(0, 0, 128, 64),
        Field::new(3, 5, 20, 1),
        Field::new(7, 9, 1, 30),
        Field::new(60, 15, 9, 40),
        Field::new(-4, -3, 10, 9),
        Field::new(2, -10, 3, 50),
        Field::new(120, 60, 20, 20),
        Field::new(200, 70, 5, 5),
        Field::new(5, 5, 0, 3),
    ];
    for field in fields {
        let mut frame = Frame::DARK;
        frame.fill(field);
        let within = |x: usize, y: usize| {
            let (x, y) = (x as i32, y as i32);
            (field.left..field.right()).contains(&x) && (field.top..field.top + i32::from(field.height)).contains(&y)
        };
        let expected: Vec<_> = lit(&everything()).into_iter().filter(|&(x, y)| within(x, y)).collect();
        assert_eq!(lit(&frame), expected, "{field:?}");
    }
}

fn everything() -> Frame {
    let mut frame = Frame::DARK;
    frame.bytes_mut().fill(0xFF);
    frame
}

proptest! {
    #[test]
    fn a_column_of_bits_is_the_same_as_its_single_pixels(column in -3_i32..131, row in -40_i32..70, bits: u32, on: bool) {
        let mut frame = if on { Frame::DARK } else { everything() };
        frame.put(column, row, bits, on);
        for y in 0..64 {
            for x in 0..128 {
                let bit = y as i32 - row;
                let touched = x as i32 == column && (0..32).contains(&bit) && bits >> bit & 1 == 1;
                prop_assert_eq!(frame.is_lit(x, y), touched == on, "{} {}", x, y);
            }
        }
    }
}
