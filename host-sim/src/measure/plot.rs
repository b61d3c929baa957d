//! The figures as pictures.

use std::error::Error;
use std::path::Path;

use plotters::prelude::*;

use super::benchmark::Outcome;
use super::contender::Contender;
use super::recording::{Event, Recording};
use super::run::{Run, Words};
use super::table::percentile;

/// What a plotting library may complain about.
pub type PlotError = Box<dyn Error>;

/// Writes all pictures into `folder`, which exists.
///
/// # Errors
/// If one cannot be written.
pub fn all(outcome: &Outcome, example: &Recording, folder: &Path) -> Result<(), PlotError> {
    placement(example, &folder.join("placement.svg"))?;
    latency(outcome, &folder.join("latency.svg"))?;
    error(outcome, &folder.join("error.svg"))?;
    coverage(outcome, &folder.join("coverage.svg"))
}

/// The first placement of a recording: samples, what is shown, the truth, and when the steady sign is on.
fn placement(recording: &Recording, path: &Path) -> Result<(), PlotError> {
    let Some(timing) = recording.events.iter().find_map(|e| {
        if let Event::Handling(_, timing) = e {
            Some(*timing)
        } else {
            None
        }
    }) else {
        return Ok(());
    };
    let run = Run::of(Contender::Ours, recording, Words::Arrived);
    let settled = recording.settled_g(recording.first_from(timing.hand_off));
    let (from, to) = (
        recording.first_from(timing.contact - 1.0),
        recording.first_from(timing.hand_off + 4.0),
    );
    let time = |i: usize| recording.conversions[i].at - timing.hand_off;
    let area = SVGBackend::new(path, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let mut chart = ChartBuilder::on(&area)
        .caption("A placement: samples, shown mass, steady sign", FONT)
        .margin(12)
        .x_label_area_size(40)
        .y_label_area_size(60)
        .build_cartesian_2d(time(from)..time(to - 1), -0.5..0.5)?;
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .x_desc("seconds after the hand has left")
        .y_desc("grams from the settled load")
        .draw()?;
    let steady = (from..to).filter(|i| run.shown[*i].steady);
    let period = recording.unit.period_s(recording.rate);
    chart
        .draw_series(
            steady.map(|i| Rectangle::new([(time(i) - period, -0.5), (time(i), 0.5)], GREEN.mix(0.12).filled())),
        )?
        .label("steady sign")
        .legend(|(x, y)| Rectangle::new([(x, y - 5), (x + 16, y + 5)], GREEN.mix(0.3).filled()));
    let near = |g: f64| (-0.5..0.5).contains(&g);
    let raw = (from..to).filter_map(|i| {
        Some((
            time(i),
            recording.calibration.grams(f64::from(recording.conversions[i].raw?)) - settled,
        ))
    });
    chart
        .draw_series(
            raw.filter(|p| near(p.1))
                .map(|p| Circle::new(p, 3, BLACK.mix(0.5).filled())),
        )?
        .label("samples")
        .legend(|(x, y)| Circle::new((x + 8, y), 3, BLACK.mix(0.5).filled()));
    let zero_shift = recording.first_from(timing.contact);
    let shift = settled - recording.settled_g(zero_shift) + run.shown[zero_shift].grams.unwrap_or(0.0);
    let shown = (from..to)
        .filter_map(|i| Some((time(i), run.shown[i].grams? - shift)))
        .filter(|p| near(p.1));
    chart
        .draw_series(LineSeries::new(shown, BLUE.stroke_width(2)))?
        .label("shown, unrounded")
        .legend(|(x, y)| PathElement::new([(x, y), (x + 16, y)], BLUE.stroke_width(2)));
    let clean = (from..to).map(|i| {
        (
            time(i),
            recording.calibration.grams(recording.conversions[i].truth.clean_counts) - settled,
        )
    });
    chart
        .draw_series(LineSeries::new(clean.filter(|p| near(p.1)), RED))?
        .label("noise-free cell")
        .legend(|(x, y)| PathElement::new([(x, y), (x + 16, y)], RED));
    chart
        .configure_series_labels()
        .background_style(WHITE.mix(0.8))
        .border_style(BLACK)
        .draw()?;
    area.present()?;
    Ok(())
}

/// Share of handlings that have their flag by a time, for every contender and the bound.
fn latency(outcome: &Outcome, path: &Path) -> Result<(), PlotError> {
    let mut series: Vec<(&str, Vec<f64>)> = outcome
        .scores
        .iter()
        .map(|(c, s)| (c.name(), s.latency.iter().map(|l| l.1).collect()))
        .collect();
    series.push(("physical bound", outcome.bound.latency.iter().map(|l| l.1).collect()));
    shares(path, "Hand off to steady", "seconds", 4.0, &series)
}

/// Histogram of our error at the flag, in bins of 5 mg, ends gathered.
fn error(outcome: &Outcome, path: &Path) -> Result<(), PlotError> {
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
    let area = SVGBackend::new(path, SIZE).into_drawing_area();
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
fn shares(path: &Path, caption: &str, unit: &str, end: f64, series: &[(&str, Vec<f64>)]) -> Result<(), PlotError> {
    let area = SVGBackend::new(path, SIZE).into_drawing_area();
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
            .label(*name)
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

/// Every section's error beside the half-width that was stated for it; 95 of 100 should lie between the lines.
fn coverage(outcome: &Outcome, path: &Path) -> Result<(), PlotError> {
    let Some((_, score)) = outcome
        .scores
        .iter()
        .find(|(contender, _)| *contender == Contender::Ours)
    else {
        return Ok(());
    };
    let area = SVGBackend::new(path, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let (inside, stated) = score
        .sections
        .iter()
        .map(|s| s.covered())
        .fold((0, 0), |sum, c| (sum.0 + c.0, sum.1 + c.1));
    let caption = format!(
        "Sections: {:.1} % of {stated} truths inside the stated interval",
        100.0 * inside as f64 / stated as f64
    );
    let end = 400.0;
    let mut chart = ChartBuilder::on(&area)
        .caption(caption, FONT)
        .margin(12)
        .x_label_area_size(40)
        .y_label_area_size(60)
        .build_cartesian_2d(0.0..end, -end..end)?;
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .x_desc("stated half-width of the 95 % interval, mg")
        .y_desc("error of the section, mg")
        .draw()?;
    for (number, (section, name)) in score
        .sections
        .iter()
        .zip(["comes back, cold", "comes back, warm", "stays", "adverse"])
        .enumerate()
    {
        let color = color_of(number).mix(0.5);
        let points = section
            .stated
            .iter()
            .zip(&section.error)
            .map(|(half, error)| (1_000.0 * half, 1_000.0 * error));
        chart
            .draw_series(
                points
                    .filter(|p| p.0 < end && p.1.abs() < end)
                    .take(1_500)
                    .map(|p| Circle::new(p, 2, color.filled())),
            )?
            .label(name)
            .legend(move |(x, y)| Circle::new((x + 8, y), 3, color.filled()));
    }
    for side in [-end, end] {
        chart.draw_series(LineSeries::new([(0.0, 0.0), (end, side)], BLACK))?;
    }
    chart
        .configure_series_labels()
        .background_style(WHITE.mix(0.8))
        .border_style(BLACK)
        .draw()?;
    area.present()?;
    Ok(())
}

/// Outermost bin of the histogram, in 5 mg.
const WIDEST_BIN: i32 = 24;
/// Distinct on white, also in print and for most colour-blind eyes.
const fn color_of(number: usize) -> RGBColor {
    match number {
        0 => RGBColor(0, 90, 181),
        1 => RGBColor(220, 50, 32),
        2 => RGBColor(0, 128, 90),
        3 => RGBColor(230, 140, 0),
        4 => RGBColor(130, 60, 160),
        5 => RGBColor(120, 120, 120),
        _ => RGBColor(0, 0, 0),
    }
}

const SIZE: (u32, u32) = (900, 560);
const FONT: (&str, u32) = ("sans-serif", 20);
