//! Speed against false steady signs.

use plotters::prelude::*;

use super::{FONT, PlotError, SIZE, color_of};
use crate::lab::measure::benchmark::Outcome;
use crate::lab::measure::contender::Contender;
use crate::lab::measure::table::percentile;

/// Latency of each contender's median handling beside its false steady signs, per 100 handlings; families joined by lines.
pub(super) fn tradeoff(outcome: &Outcome, svg: &mut String) -> Result<(), PlotError> {
    let point = |wanted: fn(&Contender) -> bool| -> Vec<(f64, f64)> {
        let mut points: Vec<(f64, f64)> = outcome
            .scores
            .iter()
            .filter(|(contender, _)| wanted(contender))
            .map(|(_, score)| {
                let latency: Vec<f64> = score.latency.iter().map(|l| l.1).collect();
                let false_signs = 100.0 * (score.handled + score.wrong) as f64 / score.handlings as f64;
                (percentile(&latency, 0.5), false_signs.max(LEAST))
            })
            .collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        points
    };
    let families = [
        (
            "this scale, by how sure it must be",
            point(|c| matches!(c, Contender::OursAt(_))),
        ),
        (
            "moving average + range test, by length",
            point(|c| matches!(c, Contender::Average(_))),
        ),
        ("this scale as it is set", point(|c| matches!(c, Contender::Ours))),
    ];
    let area = SVGBackend::with_string(svg, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let mut chart = ChartBuilder::on(&area)
        .caption("Speed against false steady signs", FONT)
        .margin(12)
        .x_label_area_size(40)
        .y_label_area_size(60)
        .build_cartesian_2d(0.3..2.4, (LEAST..100.0).log_scale())?;
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .x_desc("hand off to steady, median, seconds")
        .y_desc("steady while handled, or wrong, per 100 handlings")
        .draw()?;
    for (number, (name, points)) in families.into_iter().enumerate() {
        let color = color_of(number);
        chart.draw_series(LineSeries::new(points.iter().copied(), color))?;
        chart
            .draw_series(points.into_iter().map(|at| Circle::new(at, 4, color.filled())))?
            .label(name)
            .legend(move |(x, y)| Circle::new((x + 8, y), 4, color.filled()));
    }
    chart
        .configure_series_labels()
        .position(SeriesLabelPosition::UpperRight)
        .background_style(WHITE.mix(0.8))
        .border_style(BLACK)
        .draw()?;
    area.present()?;
    Ok(())
}

/// What none at all is drawn as.
const LEAST: f64 = 0.02;
