//! A fit in pictures: readings on the curve of the gear, and how far each lies off it.

use super::chain::Chain;
use super::readings::{Readings, SeenKind};
use super::solve::Fitted;
use drawing::plot::{Along, Axis, Band, Line, Marker, Plot, Series};
use drawing::{Scene, Style};
use engine::model::Engine;
use gear::Direction;
use quantity::{Dimension, Units, display_unit};

/// Points of a curve.
const POINTS: u32 = 120;

impl Fitted {
    /// What was read against servo travel, on what the gear says with the unknowns found, rising and falling, with the
    /// opening adjuster as found; one picture for each kind of thing that was seen.
    pub fn curve_scenes(&self, engine: &Engine, readings: &Readings, units: Units) -> Vec<Scene> {
        let chain = Chain::new(engine, readings);
        let values: Vec<f64> = self.estimates.iter().map(|one| one.value).collect();
        let posed = chain.posed(&values);
        let kinds =
            SeenKind::ALL.into_iter().filter(|kind| readings.rows.iter().any(|row| row.seen.kind() == *kind));
        let (degrees, _) = axis(Dimension::Angle, units);
        kinds
            .map(|kind| {
                let (per_si, symbol) = axis(kind.dimension(), units);
                let mut plot = Plot::new(
                    kind.name(),
                    &format!(
                        "{} against servo travel: readings, and what the gear says with the unknowns found.",
                        kind.name()
                    ),
                    Axis::new("servo travel", "°"),
                    Axis::new(short(kind), symbol),
                );
                let rows = || readings.rows.iter().filter(|row| row.seen.kind() == kind);
                for (way, style, name) in [
                    (Direction::Rising, Style::Curve1, "rising"),
                    (Direction::Falling, Style::Curve2, "falling"),
                ] {
                    let Some(sample) = rows().next() else { continue };
                    let points = (0..=POINTS).filter_map(|step| {
                        let servo_rad = posed.full_rad() * f64::from(step) / f64::from(POINTS);
                        let value = posed.see_at(&sample.seen, servo_rad, way, None)?;
                        Some((servo_rad * degrees, value * per_si))
                    });
                    let points = points.collect();
                    plot.series.push(Series { name: name.to_owned(), style, points });
                }
                for row in rows() {
                    let Some(servo_rad) = posed.servo_rad(row) else { continue };
                    let style = if row.gap.is_some() { Style::AsFound } else { Style::Proposed };
                    let y = row.seen.figure().value * per_si;
                    plot.markers.push(Marker { x: servo_rad * degrees, y, label: String::new(), style });
                }
                plot.scene()
            })
            .collect()
    }

    /// How far every reading lies off, in its own standard uncertainty, against servo travel. The band holds nineteen of
    /// twenty when all is well.
    pub fn residual_scene(&self, engine: &Engine, readings: &Readings) -> Scene {
        let chain = Chain::new(engine, readings);
        let values: Vec<f64> = self.estimates.iter().map(|one| one.value).collect();
        let posed = chain.posed(&values);
        let off: Vec<f64> = self.residuals.iter().zip(&self.u_rows).map(|(off, u)| off / u).collect();
        let reach = off.iter().map(|one| one.abs()).filter(|one| one.is_finite()).fold(2.5, f64::max) * 1.1;
        let mut plot = Plot::new(
            "Readings less what the gear says",
            "Residual of every reading in units of its own standard uncertainty, against servo travel; the band is two of them.",
            Axis::new("servo travel", "°"),
            Axis::new("off, in its own standard uncertainty", "").range(-reach, reach),
        );
        plot.bands.push(Band { along: Along::Y, low: -2.0, high: 2.0, style: Style::LimitBand });
        plot.lines.push(Line { along: Along::Y, at: 0.0, label: String::new(), style: Style::Target });
        for (row, off) in readings.rows.iter().zip(&off) {
            let Some(servo_rad) = posed.servo_rad(row) else { continue };
            let style = if row.way == Direction::Rising { Style::Proposed } else { Style::AsFound };
            plot.markers.push(Marker { x: servo_rad.to_degrees(), y: *off, label: String::new(), style });
        }
        plot.scene()
    }
}

fn axis(dimension: Dimension, units: Units) -> (f64, &'static str) {
    let unit = display_unit(dimension, units);
    (unit.per_si, unit.symbol)
}

fn short(kind: SeenKind) -> &'static str {
    match kind {
        SeenKind::Mark => "mark along its circle",
        SeenKind::Valve => "valve pulley",
        SeenKind::Edge => "edge above closed",
        SeenKind::Pull => "pull of the opening wire",
    }
}
