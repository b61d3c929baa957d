//! One placement, sample by sample.

use plotters::prelude::*;

use super::{FONT, PlotError, SIZE};
use crate::lab::measure::contender::Contender;
use crate::lab::measure::recording::{Event, Recording};
use crate::lab::measure::run::{Run, Words};

/// The first placement of a recording: samples, what is shown, the truth, and when the steady sign is on.
pub(super) fn placement(recording: &Recording, svg: &mut String) -> Result<(), PlotError> {
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
    let area = SVGBackend::with_string(svg, SIZE).into_drawing_area();
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
