//! A display that fails the test where a careless one would show a mess: outside its edge, and one text over another.

use yarn_scale_core::screen::{COLUMNS, Field, ROWS};
use yarn_scale_core::screen::{Surface, View, draw};

/// What has become of a pixel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Use {
    /// Nothing: dark.
    Free,
    /// Part of a lit ground.
    Ground,
    /// Part of a text.
    Ink,
}

/// The display.
#[derive(Debug, PartialEq, Eq)]
pub struct StrictDisplay {
    uses: Vec<Use>,
    lit: Vec<bool>,
    faults: Vec<String>,
}

impl Default for StrictDisplay {
    fn default() -> Self {
        let pixels = usize::from(COLUMNS) * usize::from(ROWS);
        Self {
            uses: vec![Use::Free; pixels],
            lit: vec![false; pixels],
            faults: Vec::new(),
        }
    }
}

/// Draws a view and says what is wrong with it: nothing, if all is well.
#[must_use]
pub fn faults_of(view: &View) -> Vec<String> {
    let mut display = StrictDisplay::default();
    let drawn = draw(view, &mut display);
    let mut faults = display.faults;
    if drawn.cut > 0 {
        faults.push(format!("{} texts do not fit", drawn.cut));
    }
    faults
}

impl StrictDisplay {
    /// Pixels that are lit in a rectangle, from the upper left corner, ends not included.
    #[must_use]
    pub fn lit_within(&self, columns: std::ops::Range<usize>, rows: std::ops::Range<usize>) -> usize {
        let width = usize::from(COLUMNS);
        let pixels = rows.flat_map(|y| columns.clone().map(move |x| (x, y)));
        pixels.filter(|(x, y)| self.lit[y * width + x]).count()
    }

    fn place(&mut self, x: i32, y: i32) -> Option<usize> {
        let inside = (0..i32::from(COLUMNS)).contains(&x) && (0..i32::from(ROWS)).contains(&y);
        if !inside {
            self.faults.push(format!("drawn outside at {x}, {y}"));
            return None;
        }
        usize::try_from(y * i32::from(COLUMNS) + x).ok()
    }
}

impl Surface for StrictDisplay {
    fn clear(&mut self) {
        self.uses.fill(Use::Free);
        self.lit.fill(false);
    }

    fn fill(&mut self, field: Field) {
        let rows = field.top..field.top + i32::from(field.height);
        for (x, y) in rows.flat_map(|y| (field.left..field.right()).map(move |x| (x, y))) {
            let Some(place) = self.place(x, y) else { continue };
            if self.uses[place] != Use::Free {
                self.faults.push(format!("a ground over something else at {x}, {y}"));
            }
            self.uses[place] = Use::Ground;
            self.lit[place] = true;
        }
    }

    fn put(&mut self, column: i32, row: i32, bits: u32, lit: bool) {
        for y in (0..32).filter(|bit| bits >> bit & 1 == 1).map(|bit| row + bit) {
            let Some(place) = self.place(column, y) else { continue };
            match (self.uses[place], lit) {
                (Use::Free, true) | (Use::Ground, false) => {}
                (Use::Ink, _) => self.faults.push(format!("one text over another at {column}, {y}")),
                _ => self.faults.push(format!("ink of its ground's colour at {column}, {y}")),
            }
            self.uses[place] = Use::Ink;
            self.lit[place] = lit;
        }
    }
}
