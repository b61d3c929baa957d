//! What each section took, both socks side by side.

use std::fmt::Write;

use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, VPos};
use yarn_scale_core::measured::Measured;

use super::chart::{Area, FAINT, HATCHED, INK, PLAIN, PlotError, chart, hung, small, whisker};
use super::markup::measured;
use super::row::Row;
use crate::computer::table::construction_name;
use crate::failure::Failure;

/// Chart and table of a pair's rows; `id` is used for this pair alone.
///
/// # Errors
/// If the chart cannot be drawn.
pub(super) fn sections(id: &str, rows: &[Row]) -> Result<String, Failure> {
    let title = "Yarn used by section, in grams";
    let mut words = String::from("Bars with 95 % intervals, sock 1 plain, sock 2 hatched. ");
    for row in rows {
        let value = |used: Option<Measured>| used.map_or("not marked".to_owned(), |used| measured(used) + " g");
        let _ = write!(
            words,
            "{} in yarn {}: {} and {}. ",
            row.name(),
            row.yarn.symbol(),
            value(row.socks[0]),
            value(row.socks[1])
        );
    }
    let svg = chart(&format!("{id}-used"), title, words.trim_end(), |area| draw(area, rows))?;
    Ok(format!(
        "<figure>{svg}<figcaption>{title}. Whiskers: 95 % interval.</figcaption></figure>\n{}",
        table(rows)
    ))
}

fn draw(area: &Area<'_>, rows: &[Row]) -> Result<(), PlotError> {
    let uses = rows.iter().flat_map(|row| row.socks).flatten();
    let most = uses.map(top).fold(1.0, f64::max);
    let mut chart = ChartBuilder::on(area)
        .margin_top(30)
        .margin_right(8)
        .x_label_area_size(42)
        .y_label_area_size(48)
        .build_cartesian_2d(0.0..rows.len() as f64, 0.0..1.12 * most)?;
    chart
        .configure_mesh()
        .disable_x_mesh()
        .x_labels(0)
        .y_labels(6)
        .light_line_style(TRANSPARENT)
        .bold_line_style(FAINT)
        .axis_style(INK)
        .label_style(small())
        .y_label_formatter(&|grams| format!("{grams:.0}"))
        .draw()?;
    for (place, row) in rows.iter().enumerate() {
        let left = place as f64;
        for (used, (from, to, color)) in row
            .socks
            .iter()
            .zip([(left + 0.14, left + 0.48, PLAIN), (left + 0.52, left + 0.86, HATCHED)])
        {
            let Some(used) = used else { continue };
            let (mass, middle) = (f64::from(used.value.0) / 1_000.0, 0.5 * (from + to));
            let half = f64::from(used.expanded().0) / 1_000.0;
            chart.draw_series([
                Rectangle::new([(from, 0.0), (to, mass)], color.filled()),
                Rectangle::new([(from, 0.0), (to, mass)], INK.stroke_width(1)),
            ])?;
            let (_, low) = chart.backend_coord(&(middle, (mass - half).max(0.0)));
            let (x, y) = chart.backend_coord(&(middle, mass + half));
            whisker(area, x, low, y)?;
            area.draw(&Text::new(
                format!("{mass:.1}"),
                (x, y - 6),
                hung(HPos::Center, VPos::Bottom),
            ))?;
        }
        let (x, y) = chart.backend_coord(&(left + 0.5, 0.0));
        area.draw(&Text::new(row.name(), (x, y + 6), hung(HPos::Center, VPos::Top)))?;
        let yarn = format!("yarn {}", row.yarn.symbol());
        area.draw(&Text::new(yarn, (x, y + 22), hung(HPos::Center, VPos::Top)))?;
    }
    for (x, color, name) in [(52, PLAIN, "sock 1"), (132, HATCHED, "sock 2")] {
        area.draw(&Rectangle::new([(x, 6), (x + 14, 20)], color.filled()))?;
        area.draw(&Rectangle::new([(x, 6), (x + 14, 20)], INK.stroke_width(1)))?;
        area.draw(&Text::new(name, (x + 20, 13), hung(HPos::Left, VPos::Center)))?;
    }
    Ok(())
}

/// Upper end of the interval, grams.
fn top(used: Measured) -> f64 {
    f64::from(used.value.0.saturating_add(used.expanded().0)) / 1_000.0
}

fn table(rows: &[Row]) -> String {
    let mut html = String::from(
        "<table><caption>What each section took, grams, with the half-width of its 95&nbsp;% interval</caption>\n\
         <thead><tr><th scope=\"col\">Section</th><th scope=\"col\">Worked</th><th scope=\"col\">Yarn</th>\
         <th scope=\"col\">Sock 1</th><th scope=\"col\">Sock 2</th><th scope=\"col\">1 less 2</th></tr></thead>\n<tbody>\n",
    );
    let cell = |value: Option<Measured>| value.map_or("\u{2013}".to_owned(), measured);
    for row in rows {
        let mut notes = String::new();
        if row.late {
            notes.push_str("<br><small>a mark was set afterwards</small>");
        }
        if row.doubtful {
            notes.push_str("<br><small>in doubt: a record beside it is damaged</small>");
        }
        let _ = writeln!(
            html,
            "<tr><th scope=\"row\">{}{notes}</th><td>{}</td><td>{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td>\
             <td class=\"n\">{}</td></tr>",
            row.name(),
            construction_name(row.construction),
            row.yarn.symbol(),
            cell(row.socks[0]),
            cell(row.socks[1]),
            cell(row.difference())
        );
    }
    let sum = |sock: usize| rows.iter().filter_map(|row| row.socks[sock]).reduce(Measured::plus);
    let _ = write!(
        html,
        "</tbody>\n<tfoot><tr><th scope=\"row\" colspan=\"3\">All marked sections</th><td class=\"n\">{}</td>\
         <td class=\"n\">{}</td><td></td></tr></tfoot>\n</table>\n",
        cell(sum(0)),
        cell(sum(1))
    );
    html
}
