//! What is left of each yarn, weighing by weighing.

use std::fmt::Write;

use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, VPos};
use yarn_scale_core::forecast::length::{BAND_TOLERANCE, length_of};
use yarn_scale_core::units::Stamp;

use super::chart::{Area, FAINT, INK, PlotError, chart, hung, small, whisker};
use super::markup::{foreign, grams, measured, metres};
use crate::computer::story::{Pair, Story, Yarn};
use crate::failure::Failure;

/// Chart and table of a pair's yarns; `id` is used for this pair alone.
///
/// # Errors
/// If the chart cannot be drawn.
pub(super) fn yarns(id: &str, pair: &Pair, story: &Story) -> Result<String, Failure> {
    let axis = Axis::of(pair, story);
    let title = format!("Yarn left, in grams, by {}", axis.name());
    let mut words = String::from("One line for each yarn. ");
    for yarn in &pair.yarns {
        let masses: Vec<String> = yarn.weights.iter().map(|(_, mass)| grams(mass.value)).collect();
        let _ = write!(words, "Yarn {}: {} g. ", yarn.letter.symbol(), masses.join(", "));
    }
    let svg = chart(&format!("{id}-left"), &title, words.trim_end(), |area| {
        draw(area, pair, &axis)
    })?;
    Ok(format!(
        "<figure>{svg}<figcaption>{title}. Whiskers: 95 % interval, where it is taller than the sign.</figcaption></figure>\n{}",
        table(pair)
    ))
}

/// Where a weight stands from left to right.
enum Axis {
    /// Days since the first: the scale knew the calendar all the time.
    Days(Vec<(Stamp, f64)>),
    /// One after the other: of a scale without a clock the order is all there is.
    Order(Vec<Stamp>),
}

impl Axis {
    fn of(pair: &Pair, story: &Story) -> Self {
        let mut times: Vec<Stamp> = pair.yarns.iter().flat_map(|yarn| &yarn.weights).map(|w| w.0).collect();
        times.sort_unstable();
        times.dedup();
        let known: Option<Vec<(Stamp, u64)>> = times.iter().map(|&at| Some((at, story.unix(at)?))).collect();
        match known.as_deref() {
            Some(known @ [(_, first), ..]) => {
                let days = |unix: u64| unix.saturating_sub(*first) as f64 / 86_400.0;
                Self::Days(known.iter().map(|&(at, unix)| (at, days(unix))).collect())
            }
            _ => Self::Order(times),
        }
    }

    const fn name(&self) -> &'static str {
        match self {
            Self::Days(_) => "days since the first weighing",
            Self::Order(_) => "weighings, one after the other",
        }
    }

    fn place(&self, at: Stamp) -> f64 {
        match self {
            Self::Days(days) => days.iter().find(|day| day.0 == at).map_or(0.0, |day| day.1),
            Self::Order(times) => times.iter().take_while(|&&time| time < at).count() as f64,
        }
    }

    fn end(&self) -> f64 {
        match self {
            Self::Days(days) => days.last().map_or(0.0, |day| day.1),
            Self::Order(times) => times.len().saturating_sub(1) as f64,
        }
        .max(1.0)
    }
}

fn draw(area: &Area<'_>, pair: &Pair, axis: &Axis) -> Result<(), PlotError> {
    let masses = pair.yarns.iter().flat_map(|yarn| &yarn.weights);
    let most = masses
        .map(|(_, mass)| f64::from(mass.value.0) / 1_000.0)
        .fold(1.0, f64::max);
    let mut chart = ChartBuilder::on(area)
        .margin_top(12)
        .margin_right(96)
        .x_label_area_size(42)
        .y_label_area_size(48)
        .build_cartesian_2d(0.0..axis.end(), 0.0..1.05 * most)?;
    chart
        .configure_mesh()
        .disable_x_mesh()
        .y_labels(6)
        .light_line_style(TRANSPARENT)
        .bold_line_style(FAINT)
        .axis_style(INK)
        .label_style(small())
        .x_desc(axis.name())
        .x_label_formatter(&|days| format!("{days:.0}"))
        .y_label_formatter(&|grams| format!("{grams:.0}"))
        .draw()?;
    let mut ends = Vec::new();
    for (number, yarn) in pair.yarns.iter().enumerate() {
        let points: Vec<(f64, f64, f64)> = yarn
            .weights
            .iter()
            .map(|(at, mass)| {
                let half = f64::from(mass.expanded().0) / 1_000.0;
                (axis.place(*at), f64::from(mass.value.0) / 1_000.0, half)
            })
            .collect();
        chart.draw_series(LineSeries::new(
            points.iter().map(|p| (p.0, p.1)),
            INK.stroke_width(if number == 0 { 2 } else { 1 }),
        ))?;
        for &(x, y, half) in &points {
            let (_, low) = chart.backend_coord(&(x, (y - half).max(0.0)));
            let (x, high) = chart.backend_coord(&(x, y + half));
            // Behind a sign that is taller it would only blur it.
            if low - high > 12 {
                whisker(area, x, low, high)?;
            }
        }
        for &(x, y, _) in &points {
            // Signs that are told apart without colour.
            match number % 4 {
                0 => chart.draw_series([Circle::new((x, y), 4, INK.filled())]).map(drop)?,
                1 => chart
                    .draw_series([TriangleMarker::new((x, y), 5, INK.filled())])
                    .map(drop)?,
                2 => chart
                    .draw_series([Circle::new((x, y), 5, INK.stroke_width(2))])
                    .map(drop)?,
                _ => chart
                    .draw_series([Cross::new((x, y), 5, INK.stroke_width(2))])
                    .map(drop)?,
            }
        }
        if let Some(&(x, y, _)) = points.last() {
            ends.push((chart.backend_coord(&(x, y)), yarn));
        }
    }
    // Beside each line's end, one below the other where they would overlap.
    ends.sort_by_key(|((_, y), _)| *y);
    let mut taken: Vec<(i32, i32)> = Vec::new();
    for ((x, y), yarn) in ends {
        let near = taken.iter().filter(|(other, _)| (other - x).abs() < LABEL.0);
        let free = near.map(|(_, other)| other + LABEL.1).max().unwrap_or(0);
        let y = y.max(free);
        taken.push((x, y));
        let label = format!("{} {} g", yarn.letter.symbol(), grams(yarn.account.left));
        area.draw(&Text::new(label, (x + 10, y), hung(HPos::Left, VPos::Center)))?;
    }
    Ok(())
}

fn table(pair: &Pair) -> String {
    let mut html = String::from(
        "<table><caption>The yarns of the pair, grams</caption>\n<thead><tr><th scope=\"col\">Yarn</th>\
         <th scope=\"col\">Weighed in</th><th scope=\"col\">In sections</th><th scope=\"col\">Elsewhere</th>\
         <th scope=\"col\">Left</th><th scope=\"col\">Left, metres</th></tr></thead>\n<tbody>\n",
    );
    for yarn in &pair.yarns {
        let left = yarn.weights.last().map(|(_, mass)| *mass).unwrap_or_default();
        let length = length_of(left, yarn.metres_per_100_g, BAND_TOLERANCE);
        let _ = writeln!(
            html,
            "<tr><th scope=\"row\">{}</th><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td>\
             <td class=\"n\">{}</td><td class=\"n\">{}</td></tr>",
            title(yarn),
            grams(yarn.account.weighed_in),
            grams(yarn.account.used),
            grams(yarn.account.unplanned),
            measured(left),
            length.map_or("not known".to_owned(), metres)
        );
    }
    html.push_str("</tbody>\n</table>\n");
    html
}

/// The yarn's letter, and its name if it has one.
pub(super) fn title(yarn: &Yarn) -> String {
    let letter = yarn.letter.symbol();
    yarn.name
        .as_ref()
        .map_or_else(|| letter.to_string(), |name| format!("{letter}, {}", foreign(name)))
}

/// Width and height of a label at a line's end.
const LABEL: (i32, i32) = (90, 15);
