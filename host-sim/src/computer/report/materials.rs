//! A pattern's list of materials: what the pair took by section, and what to allow for the next one.

use yarn_scale_core::book::Book;
use yarn_scale_core::forecast::{Answer, Reserve, Rule, Wanted, answer};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::Milligrams;

use super::leftovers::basis;
use super::markup::{grams, metres};
use super::row::Row;
use super::yarns::title;
use crate::computer::story::Pair;

/// The table of a pair of which both socks are marked; sections of which only one is are left out.
pub(super) fn materials(pair: &Pair, rows: &[Row], book: &Book) -> String {
    let mut html = String::new();
    for letter in YarnLetter::ALL {
        let rows: Vec<&Row> = rows
            .iter()
            .filter(|row| row.yarn == letter && row.both().is_some())
            .collect();
        if rows.is_empty() {
            continue;
        }
        html.push_str("<tbody>\n");
        for row in &rows {
            html.push_str(&line(
                &format!("{}, yarn {}", row.name(), letter.symbol()),
                std::slice::from_ref(row),
                book,
            ));
        }
        if rows.len() > 1 {
            let yarn = pair.yarns.iter().find(|yarn| yarn.letter == letter);
            let name = yarn.map_or_else(|| letter.symbol().to_string(), title);
            html.push_str(&line(&format!("<strong>together, yarn {name}</strong>"), &rows, book));
        }
        html.push_str("</tbody>\n");
    }
    if html.is_empty() {
        return html;
    }
    format!(
        "<table><caption>Materials for a pattern, both socks</caption>\n<thead><tr><th scope=\"col\">Section</th>\
         <th scope=\"col\">Took, g</th><th scope=\"col\">Took, m</th><th scope=\"col\">Reserve, g</th>\
         <th scope=\"col\">Allow, g</th><th scope=\"col\">Allow, m</th><th scope=\"col\">Reserve rests on</th></tr></thead>\n\
         {html}</table>\n<p class=\"note\">The reserve makes the yarn do for 95 of 100 such pairs, by the spread of the knitter's own; \
         it holds the ends to weave in. With fewer than three pairs it is a quarter over. Reserves do not add up: what one \
         section takes more, another may take less. Another knitter's gauge may ask for more.</p>\n"
    )
}

/// A line for one section, or for several in the same yarn.
fn line(name: &str, rows: &[&Row], book: &Book) -> String {
    let took = rows.iter().filter_map(|row| row.both()).reduce(Measured::plus);
    let wanted: Vec<Wanted> = rows.iter().map(|row| row.wanted()).collect();
    let (Some(took), Some(row)) = (took, rows.first()) else {
        return String::new();
    };
    let length = |mass: Measured| row.length(mass).map_or("not known".to_owned(), metres);
    let rule = Rule::default();
    let known = answer(Measured::default(), &wanted, book.history(), rule);
    let reserve = known.map(|known| (reserve(&known, &wanted, rule), basis(&known)));
    let (more, allow, allow_m, why) = reserve.map_or_else(
        || ("not known".to_owned(), String::new(), String::new(), String::new()),
        |(reserve, why)| {
            let allow = Measured {
                value: took.value + reserve,
                u: 0.0,
            };
            (grams(reserve), grams(allow.value), length(allow), why)
        },
    );
    format!(
        "<tr><th scope=\"row\">{name}</th><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{more}</td>\
         <td class=\"n\"><strong>{allow}</strong></td><td class=\"n\">{allow_m}</td><td>{why}</td></tr>\n",
        grams(took.value),
        length(took)
    )
}

/// What to allow beyond what the sections took: the reserve at the rule's confidence and, where it goes by spread, the ends.
/// A quarter over holds them already.
fn reserve(known: &Answer, wanted: &[Wanted], rule: Rule) -> Milligrams {
    let reserve = known.need - known.expected;
    match known.basis.reserve {
        Reserve::Quarter => reserve,
        Reserve::Spread { .. } => wanted.iter().fold(reserve, |sum, one| {
            let length = one.all_ends().saturating_mul(rule.end_mm.into());
            sum + one.size.yarn.or_usual().mass_of(length)
        }),
    }
}
