//! The page as a whole.

use std::fmt::Write;

use super::leftovers::leftovers;
use super::markup::foreign;
use super::materials::materials;
use super::row::Row;
use super::sections::sections;
use super::yarns::yarns;
use crate::computer::story::{Pair, Story};
use crate::failure::Failure;

/// The page of the pairs of a story, in its order.
///
/// # Errors
/// If a chart cannot be drawn.
pub(super) fn page(story: &Story, invented: bool) -> Result<String, Failure> {
    let mut html = String::from(HEAD);
    let _ = write!(
        html,
        "<style>\n{STYLE}</style>\n</head>\n<body>\n<header>\n<h1>Yarn by section</h1>\n"
    );
    if invented {
        html.push_str("<p class=\"invented\">Invented demo: nobody knitted these pairs.</p>\n");
    }
    html.push_str(
        "<p>Weighed on a yarn scale at each section's boundary. \u{B1} is the half-width of the 95&nbsp;% interval; it holds \
         what the moisture of the air may have done to the yarn between two weighings.</p>\n</header>\n",
    );
    if story.pairs.len() > 1 {
        html.push_str("<nav aria-label=\"Pairs\"><ul>\n");
        for pair in &story.pairs {
            let _ = writeln!(html, "<li><a href=\"#pair-{0}\">{1}</a></li>", pair.number, name(pair));
        }
        html.push_str("</ul></nav>\n");
    }
    html.push_str("<main>\n");
    for pair in &story.pairs {
        html.push_str(&of_pair(pair, story)?);
    }
    html.push_str(FOOT);
    Ok(html)
}

fn of_pair(pair: &Pair, story: &Story) -> Result<String, Failure> {
    let id = format!("pair-{}", pair.number);
    let rows = Row::all(pair);
    let mut html = format!("<article id=\"{id}\">\n<h2>{}</h2>\n", name(pair));
    if rows.is_empty() {
        html.push_str("<p>No section is marked yet.</p>\n");
    } else {
        html.push_str(&sections(&id, &rows)?);
    }
    if pair.yarns.is_empty() {
        html.push_str(
            "<p class=\"note\">Of this pair only the sections are kept: its yarns are not known any more.</p>\n",
        );
    } else {
        html.push_str("<h3>Yarn left</h3>\n");
        html.push_str(&yarns(&id, pair, story)?);
        html.push_str(&leftovers(pair, &story.book));
    }
    let materials = materials(pair, &rows, &story.book);
    if !materials.is_empty() {
        let _ = write!(html, "<h3>Materials</h3>\n{materials}");
    }
    html.push_str("</article>\n");
    Ok(html)
}

fn name(pair: &Pair) -> String {
    let number = pair.number;
    pair.name.as_ref().map_or_else(
        || format!("Pair {number}"),
        |name| format!("Pair {number}: {}", foreign(name)),
    )
}

// The policy forbids every request, whatever a name may have smuggled in.
const HEAD: &str = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
     <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
     <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
     <meta name=\"color-scheme\" content=\"light dark\">\n<title>Yarn by section</title>\n";

const FOOT: &str = "</main>\n<footer><p>Not for trade. What a next pair takes is an estimate: keep a reserve.</p></footer>\n\
     </body>\n</html>\n";

const STYLE: &str = include_str!("page.css");
