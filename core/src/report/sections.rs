//! What each section took, both socks side by side.

use core::fmt::{self, Write};

use super::chart::{self, BOTTOM, LEFT, SIZE, Scale};
use super::markup::{Else, PlusMinus};
use super::row::Row;
use super::words::{Words, construction, kind, words};
use crate::journal::Language;
use crate::measured::Measured;

/// The chart of a pair's rows.
pub(super) fn draw(out: &mut impl Write, pair: u16, rows: &[Row], language: Language) -> fmt::Result {
    let words = words(language);
    chart::begin(out, (pair, "used"), words.used_title, 0)?;
    write!(out, "{} ", words.used_words)?;
    for row in rows {
        let [first, second] = row
            .socks
            .map(|used| Else(used.map(|used| PlusMinus(used, words)), words.not_marked));
        write!(
            out,
            "{}, {} {}: {first} {} {second}. ",
            kind(row.kind, language),
            words.yarn,
            row.yarn.symbol(),
            words.and
        )?;
    }
    chart::described(out)?;
    let uses = rows.iter().flat_map(|row| row.socks).flatten();
    let scale = Scale::to(uses.map(|used| used.value + used.expanded()).max().unwrap_or_default());
    scale.draw(out, RIGHT, words)?;
    let width = RIGHT.saturating_sub(LEFT);
    let count = i32::try_from(rows.len()).unwrap_or(i32::MAX).max(1);
    let column = width.checked_div(count).unwrap_or(width);
    for (row, place) in rows.iter().zip(0..i32::MAX) {
        let left = LEFT.saturating_add(place.saturating_mul(column));
        for ((used, class), share) in row.socks.into_iter().zip(["p", "h"]).zip([14, 52]) {
            let Some(used) = used else { continue };
            let x = left.saturating_add(column.saturating_mul(share) / 100);
            bar(out, (x, column.saturating_mul(34) / 100), used, class, (scale, words))?;
        }
        let x = left.saturating_add(column / 2);
        write!(
            out,
            "<text class=\"m\" x=\"{x}\" y=\"{}\">{}</text><text class=\"m\" x=\"{x}\" y=\"{}\">{} {}</text>",
            BOTTOM.saturating_add(17),
            kind(row.kind, language),
            BOTTOM.saturating_add(33),
            words.yarn,
            row.yarn.symbol()
        )?;
    }
    for (x, class, name) in [(LEFT, "p", words.sock_1), (LEFT.saturating_add(88), "h", words.sock_2)] {
        write!(
            out,
            "<rect class=\"{class}\" x=\"{x}\" y=\"6\" width=\"14\" height=\"14\"/><text x=\"{}\" y=\"18\">{name}</text>",
            x.saturating_add(20)
        )?;
    }
    chart::end(out, words.used_title, words.whiskers)
}

fn bar(
    out: &mut impl Write,
    (x, width): (i32, i32),
    used: Measured,
    class: &str,
    (scale, words): (Scale, &'static Words),
) -> fmt::Result {
    let y = scale.y(used.value);
    write!(
        out,
        "<rect class=\"{class}\" x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{}\"/>",
        BOTTOM.saturating_sub(y)
    )?;
    let middle = x.saturating_add(width / 2);
    let top = scale.whisker(out, middle, used, 0)?;
    chart::label(out, (middle, top.saturating_sub(6)), used.value, words)
}

/// The table of a pair's rows.
pub(super) fn table(out: &mut impl Write, rows: &[Row], language: Language) -> fmt::Result {
    let words = words(language);
    head(out, words.used_caption, &words.used_heads)?;
    out.write_str("<tbody>\n")?;
    let cell = |value: Option<Measured>| Else(value.map(|value| PlusMinus(value, words)), "\u{2013}");
    for row in rows {
        write!(out, "<tr><th scope=\"row\">{}", kind(row.kind, language))?;
        if row.late {
            write!(out, "<br><small>{}</small>", words.set_late)?;
        }
        if row.doubtful {
            write!(out, "<br><small class=\"doubt\">{}</small>", words.in_doubt)?;
        }
        let [first, second] = row.socks.map(cell);
        writeln!(
            out,
            "</th><td>{}</td><td>{}</td><td class=\"n\">{first}</td><td class=\"n\">{second}</td><td class=\"n\">{}</td></tr>",
            construction(row.construction, language),
            row.yarn.symbol(),
            cell(row.difference())
        )?;
    }
    let [first, second] = [0, 1].map(|sock: usize| {
        let uses = rows.iter().filter_map(|row| row.socks.get(sock).copied().flatten());
        cell(uses.reduce(Measured::plus))
    });
    write!(
        out,
        "</tbody>\n<tfoot><tr><th scope=\"row\" colspan=\"3\">{}</th><td class=\"n\">{first}</td><td class=\"n\">{second}</td><td></td></tr></tfoot>\n\
         </table>\n",
        words.all_sections
    )
}

/// Begins a table, with what it shows and the names of its columns.
pub(super) fn head(out: &mut impl Write, caption: &str, columns: &[&str]) -> fmt::Result {
    write!(out, "<table><caption>{caption}</caption>\n<thead><tr>")?;
    for column in columns {
        write!(out, "<th scope=\"col\">{column}</th>")?;
    }
    out.write_str("</tr></thead>\n")
}

/// The right edge of the chart.
const RIGHT: i32 = SIZE.0.saturating_sub(8);
