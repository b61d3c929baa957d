//! Tables of check values, `tests/values/*.csv`: the first line says where the values come from.
//!
//! The tests of core's insides stand within core and read them by this same file, so that it is written as for a crate without std.

use std::borrow::ToOwned;
use std::path::Path;
use std::string::String;
use std::vec::Vec;
use std::{format, fs};

/// One row of a table.
#[derive(Debug)]
pub struct Row {
    place: String,
    cells: Vec<String>,
}

/// The rows of a table in `tests/values`, without its source line, other comments and header.
///
/// # Panics
/// If the table is missing, empty, or its first line does not name a source.
#[must_use]
pub fn rows(table: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../tests/values")
        .join(table);
    let text = fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
    assert!(text.starts_with("# source: "), "{table}: line 1 must name the source");
    let lines = text
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.starts_with('#') && !line.is_empty());
    let rows: Vec<Row> = lines
        .skip(1)
        .map(|(number, line)| Row {
            place: format!("{table}:{}", number + 1),
            cells: line.split(',').map(|cell| cell.trim().to_owned()).collect(),
        })
        .collect();
    assert!(!rows.is_empty(), "{table} has no rows");
    rows
}

impl Row {
    /// The text in a column.
    ///
    /// # Panics
    /// If the row is too short.
    #[must_use]
    pub fn text(&self, column: usize) -> &str {
        self.cells
            .get(column)
            .unwrap_or_else(|| panic!("{}: no column {column}", self.place))
    }

    /// The number in a column.
    ///
    /// # Panics
    /// If there is none.
    #[must_use]
    pub fn number(&self, column: usize) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|_| panic!("{}: {text} is not a number", self.place))
    }
}
