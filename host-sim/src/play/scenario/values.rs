//! Values in a scenario, each checked when it is read.

use serde::Deserialize;
use yarn_scale_core::app::Key;
use yarn_scale_core::sock::{SectionKind, Sock, YarnLetter};

/// A time: a number of seconds, or text such as `"90 s"`, `"10 min"`, `"2 h"`, `"3 d"`; at most 40 days.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Deserialize)]
#[serde(try_from = "Written")]
pub struct Seconds(pub f64);

/// A mass, g, from 0 to 2000.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Deserialize)]
#[serde(try_from = "f64")]
pub struct Grams(pub f64);

/// A section of one sock, such as `"cuff 1"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(try_from = "String")]
pub struct SectionName(pub SectionKind, pub Sock);

/// A yarn letter, `"A"` to `"H"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(try_from = "String")]
pub struct Letter(pub YarnLetter);

/// One key or several, one after the other.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "OneOrMore")]
pub struct KeyNames(pub Vec<Key>);

/// One name or several.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(from = "OneOrMore")]
pub struct Names(pub Vec<String>);

#[derive(Deserialize)]
#[serde(untagged, expecting = "expected seconds, or text such as \"10 min\"")]
enum Written {
    Number(f64),
    Text(String),
}

#[derive(Deserialize)]
#[serde(untagged, expecting = "expected a name, or a list of names")]
enum OneOrMore {
    One(String),
    More(Vec<String>),
}

impl TryFrom<Written> for Seconds {
    type Error = String;

    fn try_from(written: Written) -> Result<Self, String> {
        let seconds = match &written {
            Written::Number(seconds) => *seconds,
            Written::Text(text) => {
                let (number, unit) = text.trim().split_once(' ').ok_or(NO_TIME)?;
                let number: f64 = number.parse().map_err(|_| NO_TIME)?;
                number
                    * match unit.trim() {
                        "s" => 1.0,
                        "min" => 60.0,
                        "h" => 3_600.0,
                        "d" => 86_400.0,
                        _ => return Err(NO_TIME.to_owned()),
                    }
            }
        };
        if (0.0..=LONGEST_S).contains(&seconds) {
            Ok(Self(seconds))
        } else {
            Err("a time must be between 0 and 40 days".to_owned())
        }
    }
}

impl TryFrom<f64> for Grams {
    type Error = String;

    fn try_from(grams: f64) -> Result<Self, String> {
        if (0.0..=2_000.0).contains(&grams) {
            Ok(Self(grams))
        } else {
            Err("a mass must be between 0 and 2000 g".to_owned())
        }
    }
}

impl TryFrom<String> for SectionName {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        let unknown = || format!("not a section, such as \"cuff 1\": {text:?}");
        let (kind, sock) = text.split_once(' ').ok_or_else(unknown)?;
        let kind = SectionKind::ALL
            .into_iter()
            .find(|&known| kind_name(known) == kind)
            .ok_or_else(unknown)?;
        match sock {
            "1" => Ok(Self(kind, Sock::First)),
            "2" => Ok(Self(kind, Sock::Second)),
            _ => Err(unknown()),
        }
    }
}

impl std::fmt::Display for SectionName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sock = match self.1 {
            Sock::First => 1,
            Sock::Second => 2,
        };
        write!(f, "{} {sock}", kind_name(self.0))
    }
}

impl TryFrom<String> for Letter {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        let found = YarnLetter::ALL
            .into_iter()
            .find(|letter| text == letter.symbol().to_string());
        found
            .map(Self)
            .ok_or_else(|| format!("not a yarn letter, A to H: {text:?}"))
    }
}

impl From<OneOrMore> for Names {
    fn from(names: OneOrMore) -> Self {
        Self(match names {
            OneOrMore::One(name) => vec![name],
            OneOrMore::More(names) => names,
        })
    }
}

impl TryFrom<OneOrMore> for KeyNames {
    type Error = String;

    fn try_from(names: OneOrMore) -> Result<Self, String> {
        let Names(names) = names.into();
        let key = |name: &String| match name.as_str() {
            "zero" => Ok(Key::Zero),
            "mark" => Ok(Key::Mark),
            "next" => Ok(Key::Next),
            other => Err(format!("not a key, zero, mark or next: {other:?}")),
        };
        names.iter().map(key).collect::<Result<_, _>>().map(Self)
    }
}

const fn kind_name(kind: SectionKind) -> &'static str {
    match kind {
        SectionKind::Cuff => "cuff",
        SectionKind::Leg => "leg",
        SectionKind::Heel => "heel",
        SectionKind::Gusset => "gusset",
        SectionKind::Foot => "foot",
        SectionKind::Toe => "toe",
        SectionKind::Part1 => "part-1",
        SectionKind::Part2 => "part-2",
        SectionKind::Part3 => "part-3",
        SectionKind::Part4 => "part-4",
        SectionKind::Part5 => "part-5",
        SectionKind::Part6 => "part-6",
        SectionKind::Part7 => "part-7",
        SectionKind::Part8 => "part-8",
    }
}

const NO_TIME: &str = "not a time, such as 5, \"90 s\", \"10 min\", \"2 h\", \"3 d\"";
const LONGEST_S: f64 = 40.0 * 86_400.0;
