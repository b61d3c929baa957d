//! Whether the stated intervals hold.

use plotters::prelude::*;

use super::{FONT, PlotError, SIZE, color_of};
use crate::lab::measure::benchmark::Outcome;
use crate::lab::measure::contender::Contender;

/// Every section's error beside the half-width that was stated for it; 95 of 100 should lie between the lines.
pub(super) fn coverage(outcome: &Outcome, svg: &mut String) -> Result<(), PlotError> {
    let Some((_, score)) = outcome
        .scores
        .iter()
        .find(|(contender, _)| *contender == Contender::Ours)
    else {
        return Ok(());
    };
    let area = SVGBackend::with_string(svg, SIZE).into_drawing_area();
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
