//! How latency and error are distributed.

use plotters::prelude::*;

use super::{FONT, PlotError, SIZE, color_of};
use crate::lab::measure::benchmark::Outcome;
use crate::lab::measure::contender::Contender;
use crate::lab::measure::table::percentile;

/// Share of handlings that have their flag by a time, for every contender and the bound.
pub(super) fn latency(outcome: &Outcome, svg: &mut String) -> Result<(), PlotError> {
    let mut series: Vec<(String, Vec<f64>)> = outcome
        .scores
        .iter()
        .map(|(c, s)| (c.name(), s.latency.iter().map(|l| l.1).collect()))
        .collect();
    series.push((
        "physical bound".to_owned(),
        outcome.bound.latency.iter().map(|l| l.1).collect(),
    ));
    shares(svg, "Hand off to steady", "seconds", 4.0, &series)
}

/// Histogram of our error at the flag, in bins of 5 mg, ends gathered.
pub(super) fn error(outcome: &Outcome, svg: &mut String) -> Result<(), PlotError> {
    let Some((_, score)) = outcome
        .scores
        .iter()
        .find(|(contender, _)| *contender == Contender::Ours)
    else {
        return Ok(());
    };
    let bins = score
        .error
        .iter()
        .map(|error| ((200.0 * error).round() as i32).clamp(-WIDEST_BIN, WIDEST_BIN));
    let mut counts = vec![0; 2 * WIDEST_BIN as usize + 1];
    for bin in bins {
        counts[(bin + WIDEST_BIN) as usize] += 1;
    }
    let most = counts.iter().copied().max().unwrap_or(1);
    let area = SVGBackend::with_string(svg, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let end = 5 * WIDEST_BIN + 5;
    let mut chart = ChartBuilder::on(&area)
        .caption(
            format!("Error at the flag, {} flags (outermost: and beyond)", score.error.len()),
            FONT,
        )
        .margin(12)
        .x_label_area_size(40)
        .y_label_area_size(60)
        .build_cartesian_2d(-end..end, 0..most + most / 20 + 1)?;
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .x_desc("milligrams")
        .y_desc("flags")
        .draw()?;
    chart.draw_series(
        counts
            .iter()
            .zip(-WIDEST_BIN..)
            .map(|(count, bin)| Rectangle::new([(5 * bin - 2, 0), (5 * bin + 2, *count)], BLUE.mix(0.6).filled())),
    )?;
    area.present()?;
    Ok(())
}

/// Distribution functions of several series up to `end`.
fn shares(
    svg: &mut String,
    caption: &str,
    unit: &str,
    end: f64,
    series: &[(String, Vec<f64>)],
) -> Result<(), PlotError> {
    let area = SVGBackend::with_string(svg, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let mut chart = ChartBuilder::on(&area)
        .caption(caption, FONT)
        .margin(12)
        .x_label_area_size(40)
        .y_label_area_size(60)
        .build_cartesian_2d(0.0..end, 0.0..100.0)?;
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .x_desc(unit)
        .y_desc("per cent below")
        .draw()?;
    for (number, (name, values)) in series.iter().enumerate() {
        if values.is_empty() {
            continue;
        }
        let color = color_of(number).stroke_width(if number == 0 { 3 } else { 1 });
        let points = (0..=200)
            .map(|step| f64::from(step) / 200.0)
            .map(|p| (percentile(values, p), 100.0 * p));
        chart
            .draw_series(LineSeries::new(points.filter(|p| p.0 <= end), color))?
            .label(name)
            .legend(move |(x, y)| PathElement::new([(x, y), (x + 16, y)], color));
    }
    chart
        .configure_series_labels()
        .position(SeriesLabelPosition::LowerRight)
        .background_style(WHITE.mix(0.8))
        .border_style(BLACK)
        .draw()?;
    area.present()?;
    Ok(())
}

/// Outermost bin of the histogram, in 5 mg.
const WIDEST_BIN: i32 = 24;
