//! What a page says of a section, a yarn and masses, wherever on it.

use yarn_scale_core::screen::{Body, Notice, View};
use yarn_scale_core::sock::{Line, YarnLetter};
use yarn_scale_core::units::Milligrams;

use super::words;
use crate::play::scenario::SectionName;

/// What a page says of a section, a yarn and masses, wherever on it.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    /// The number on the display.
    pub shown: Option<String>,
    /// The steady sign.
    pub steady: Option<bool>,
    /// The section.
    pub section: Option<SectionName>,
    /// The yarn.
    pub yarn: Option<YarnLetter>,
    /// What something took.
    pub used: Option<Milligrams>,
    /// What is left, or was weighed.
    pub left: Option<Milligrams>,
}

impl Facts {
    /// Reads a view.
    #[must_use]
    pub fn of(view: &View) -> Self {
        let name = |line: Line| SectionName(line.kind, line.sock);
        match &view.body {
            Body::Pan(pan) => Self {
                shown: pan.shown.map(|shown| shown.to_string()),
                steady: Some(pan.steady),
                section: pan.section.map(name),
                yarn: pan.yarn.map(|(yarn, _)| yarn),
                used: pan.used.map(|used| used.value),
                left: pan.yarn.and_then(|(_, last)| last),
            },
            Body::Notice(notice) => match *notice {
                Notice::WeighedIn { yarn, weight, .. } | Notice::WeightAmended { yarn, weight } => Self {
                    yarn: Some(yarn),
                    left: Some(weight.value),
                    ..Self::default()
                },
                Notice::Noted { line, used, left } => Self {
                    section: Some(name(line)),
                    yarn: Some(line.yarn),
                    used: Some(used.value),
                    left: Some(left),
                    ..Self::default()
                },
                Notice::Started {
                    yarn,
                    weight,
                    unplanned,
                } => Self {
                    yarn: Some(yarn),
                    used: Some(unplanned),
                    left: Some(weight.value),
                    ..Self::default()
                },
                Notice::Amended { line, used } => Self {
                    section: line.map(name),
                    used: Some(used.value),
                    ..Self::default()
                },
                Notice::Undone { line } => Self {
                    section: line.map(name),
                    ..Self::default()
                },
                Notice::Skipped { line } => Self {
                    section: Some(name(line)),
                    ..Self::default()
                },
                _ => Self::default(),
            },
            Body::Question(question) => Self {
                left: question.weight,
                ..Self::default()
            },
            Body::Halve(halve) => Self {
                shown: halve.shown.map(|shown| shown.to_string()),
                steady: Some(halve.steady),
                left: halve.to_go,
                ..Self::default()
            },
            Body::Guide(guide) => Self {
                steady: Some(guide.steady),
                ..Self::default()
            },
            _ => Self::default(),
        }
    }
}

impl std::fmt::Display for Facts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let mut parts = Vec::new();
        if let Some(shown) = &self.shown {
            parts.push(shown.clone());
        }
        if self.steady == Some(true) {
            parts.push("steady".to_owned());
        }
        if let Some(section) = self.section {
            parts.push(section.to_string());
        }
        if let Some(yarn) = self.yarn {
            parts.push(format!("yarn {}", yarn.symbol()));
        }
        for (name, mass) in [("used", self.used), ("left", self.left)] {
            if let Some(Milligrams(mg)) = mass {
                parts.push(format!("{name} {:.2}", f64::from(mg) / 1_000.0));
            }
        }
        f.write_str(&parts.join(", "))
    }
}

/// A screen in one line.
#[must_use]
pub fn line(view: &View) -> String {
    let mut line = words::page(view);
    if let Some(says) = words::says(view) {
        line.push(' ');
        line.push_str(&says);
    }
    let facts = Facts::of(view).to_string();
    if !facts.is_empty() {
        line.push_str(": ");
        line.push_str(&facts);
    }
    let choices = words::choices(view);
    if !choices.is_empty() {
        line.push_str(": ");
        line.push_str(&choices.join(" / "));
    }
    let signs = words::signs(view);
    if !signs.is_empty() {
        line.push_str(&format!(" [{}]", signs.join(", ")));
    }
    line
}
