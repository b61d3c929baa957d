//! Where things stand on the display, 128 columns by 64 rows.

use super::canvas::Field;

/// Columns of the display.
pub const COLUMNS: u16 = 128;
/// Rows of the display.
pub const ROWS: u16 = 64;

/// The top line: yarn, section, signs.
pub const HEAD: Field = Field::new(0, 0, COLUMNS, 16);
/// The steady sign and, below it, the bowl.
pub const STEADY: Field = Field::new(0, 17, 14, 14);
/// The main number; the rows below 23 are the comma's tail.
pub const NUMBER: Field = Field::new(16, 17, 96, 25);
/// Its unit.
pub const UNIT: Field = Field::new(114, 32, 14, 10);
/// The line below the number.
pub const INFORMATION: Field = Field::new(0, 42, COLUMNS, 10);

/// What the three keys do, each above its key.
pub const KEYS: [Field; 3] = [
    Field::new(0, 53, 38, 11),
    Field::new(40, 53, 48, 11),
    Field::new(90, 53, 38, 11),
];
