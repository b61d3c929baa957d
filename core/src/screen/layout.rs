//! Where things stand on the display, 128 columns by 64 rows.

/// Columns of the display.
pub const COLUMNS: u16 = 128;
/// Rows of the display.
pub const ROWS: u16 = 64;

/// A rectangle of the display that one thing is drawn into, in pixels from the upper left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Field {
    /// First column.
    pub left: i32,
    /// First row.
    pub top: i32,
    /// Columns.
    pub width: u16,
    /// Rows.
    pub height: u16,
}

impl Field {
    /// A field.
    #[must_use]
    pub const fn new(left: i32, top: i32, width: u16, height: u16) -> Self {
        Self {
            left,
            top,
            width,
            height,
        }
    }

    /// The column after its last.
    #[must_use]
    pub const fn right(self) -> i32 {
        self.left.saturating_add(self.width as i32)
    }

    /// What remains of it below its first `rows` rows.
    #[must_use]
    pub const fn below(self, rows: u16) -> Self {
        Self {
            top: self.top.saturating_add(rows as i32),
            height: self.height.saturating_sub(rows),
            ..self
        }
    }

    /// What remains of it after its first `columns` columns.
    #[must_use]
    pub const fn after(self, columns: u16) -> Self {
        Self {
            left: self.left.saturating_add(columns as i32),
            width: self.width.saturating_sub(columns),
            ..self
        }
    }

    /// Its first `columns` columns, or as many as it has.
    #[must_use]
    pub const fn first(self, columns: u16) -> Self {
        let width = if columns < self.width { columns } else { self.width };
        Self { width, ..self }
    }
}

/// What the three keys do, each above its key; the middle one is the big key.
pub(super) const KEYS: [Field; 3] = [
    Field::new(0, 53, 37, 11),
    Field::new(37, 53, 54, 11),
    Field::new(91, 53, 37, 11),
];

/// The same where ZERO does one thing at once and another while it is held: the big key gives way.
pub(super) const KEYS_OF_A_LIST: [Field; 3] = [
    Field::new(0, 53, 42, 11),
    Field::new(42, 53, 47, 11),
    Field::new(89, 53, 39, 11),
];

/// What all three keys do, if they do the same.
pub(super) const ALL_KEYS: Field = Field::new(0, 53, COLUMNS, 11);

/// Everything above the keys.
pub(super) const PAGE: Field = Field::new(0, 0, COLUMNS, 52);
