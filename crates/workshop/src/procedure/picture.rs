//! Procedures in pictures: where the edge comes to stand with each, and the gear of the middle draw.

use super::compare::{Comparison, Entry};
use super::summary::Histogram;
use super::words::percent;
use crate::picture::{self, GearPose, NAME_MM, NOTE_MM, length_axis, name, note};
use drawing::plot::{Steps, nice_ticks};
use drawing::{Anchor, Draw, Path, Scene, Style, Text, at, text_width_mm, wrap};
use quantity::Units;

/// Width of the sheet, mm.
const WIDTH: f64 = 100.0;
/// Left and right end of the scale, mm.
const LEFT: f64 = 3.0;
const RIGHT: f64 = 97.0;
/// Height of one procedure's strip with its name, mm.
const STRIP: f64 = 15.0;
/// Height of the histogram in it, mm.
const HILL: f64 = 8.5;
/// Room above the first strip, mm.
const HEAD: f64 = 5.0;

impl Comparison {
    /// Where the edge stands at full travel with each procedure, best first: a histogram for each over one scale, its
    /// median marked, the acceptance band behind all of them. All hills have the same height.
    pub fn edge_scene(&self, units: Units) -> Scene {
        let bottom = HEAD + STRIP * self.entries.len() as f64;
        let mut scene = Scene::new(
            WIDTH,
            bottom + 12.0,
            "Edge at full travel, procedure by procedure",
            &self.describe(units),
        );
        let (low_m, high_m) = self.edge_range_m();
        let x = move |m: f64| LEFT + (m - low_m) / (high_m - low_m) * (RIGHT - LEFT);
        let limit_m = self.limit_m();
        scene.rect(at(x(-limit_m), HEAD), x(limit_m) - x(-limit_m), bottom - HEAD, 0.0, Style::LimitBand);
        scene.line(at(x(0.0), HEAD - 1.0), at(x(0.0), bottom + 1.0), Style::Target);
        scene.text(note(at(x(0.0), HEAD - 1.8), "flush", Style::Note).anchor(Anchor::Middle));
        for (place, entry) in self.entries.iter().enumerate() {
            strip(&mut scene, HEAD + STRIP * (place as f64 + 1.0), &self.edge_histogram(entry), entry, &x);
        }
        scale(&mut scene, bottom, (low_m, high_m), &x, units);
        scene
    }

    /// Where the edge of one procedure stands: its hill alone, over the scale that all procedures share, with the
    /// acceptance band behind it. For a table that has one in every row.
    pub fn hill_scene(&self, entry: &Entry) -> Scene {
        let name = &entry.run.procedure().name;
        let mut scene = Scene::new(
            WIDTH,
            HILL + 2.0,
            "Edge at full travel",
            &format!("Where the edge stands at full travel with \"{name}\"."),
        );
        let (low_m, high_m) = self.edge_range_m();
        let x = move |m: f64| LEFT + (m - low_m) / (high_m - low_m) * (RIGHT - LEFT);
        let limit_m = self.limit_m();
        scene.rect(at(x(-limit_m), 0.0), x(limit_m) - x(-limit_m), HILL + 2.0, 0.0, Style::LimitBand);
        scene.line(at(x(0.0), 0.0), at(x(0.0), HILL + 2.0), Style::Centre);
        hill(&mut scene, HILL + 1.0, &self.edge_histogram(entry), entry, &x);
        scene
    }

    /// The scale of [`Comparison::hill_scene`], to stand under a column of them.
    pub fn hill_scale_scene(&self, units: Units) -> Scene {
        let mut scene = Scene::new(WIDTH, 12.0, "Scale", "Scale of the edge above flush.");
        let (low_m, high_m) = self.edge_range_m();
        let x = move |m: f64| LEFT + (m - low_m) / (high_m - low_m) * (RIGHT - LEFT);
        scale(&mut scene, 0.5, (low_m, high_m), &x, units);
        scene
    }

    /// The valve's edge beside the port roof in the middle draw, to the scale that all procedures share; `None` when
    /// every draw failed.
    pub fn edge_at_roof_scene(&self, entry: &Entry, units: Units) -> Option<Scene> {
        let edge = entry.summary.quantiles(super::Measure::EdgeAtFull)?;
        Some(picture::edge_at_roof(&picture::EdgeAtRoof {
            valve: &entry.run.engine().valve,
            edge_m: edge.median,
            low_m: edge.low,
            high_m: edge.high,
            limit_m: self.limit_m(),
            reach_m: self.edge_range_m(),
            units,
        }))
    }

    fn describe(&self, units: Units) -> String {
        let lines: Vec<String> = self
            .entries
            .iter()
            .map(|entry| {
                let verdict = self.verdict(entry, units);
                format!("{}: {}", verdict.name, verdict.headline)
            })
            .collect();
        lines.join(" ")
    }
}

/// One procedure: its name and share above, its hill on a base line at `base`.
fn strip(scene: &mut Scene, base: f64, hill: &Histogram, entry: &Entry, x: &impl Fn(f64) -> f64) {
    let procedure = entry.run.procedure();
    let baseline = base - HILL - 1.6;
    let share = format!("all met: {}", percent(entry.summary.all_demands));
    let room = RIGHT - LEFT - text_width_mm(&share, NOTE_MM) - 3.0;
    let title = wrap(&procedure.name, NAME_MM, room, 1).into_iter().next().unwrap_or_default();
    scene.text(name(at(LEFT, baseline), &title, Style::Label).halo());
    scene.text(note(at(RIGHT, baseline), &share, Style::Label).anchor(Anchor::End).halo());
    self::hill(scene, base, hill, entry, x);
}

/// The hill itself, its range and its middle.
fn hill(scene: &mut Scene, base: f64, hill: &Histogram, entry: &Entry, x: &impl Fn(f64) -> f64) {
    let most = hill.counts.iter().copied().max().unwrap_or(0);
    if most > 0 {
        let bins = hill.counts.len() as f64;
        let edge = |bin: f64| x(hill.low + (hill.high - hill.low) * bin / bins);
        let mut path = Path::from(at(edge(0.0), base));
        for (bin, count) in hill.counts.iter().enumerate() {
            let y = base - HILL * f64::from(*count) / f64::from(most);
            path = path.line_to(at(edge(bin as f64), y)).line_to(at(edge(bin as f64 + 1.0), y));
        }
        scene.area(path.line_to(at(edge(bins), base)), Style::Uncertainty);
    }
    scene.line(at(LEFT, base), at(RIGHT, base), Style::Grid);
    if let Some(edge) = entry.summary.quantiles(super::Measure::EdgeAtFull) {
        scene.line(at(x(edge.low), base), at(x(edge.high), base), Style::Curve1);
        scene.line(at(x(edge.median), base - HILL), at(x(edge.median), base + 0.8), Style::Proposed);
    }
}

/// The common scale under all strips.
fn scale(scene: &mut Scene, y: f64, range_m: (f64, f64), x: &impl Fn(f64) -> f64, units: Units) {
    let (per_m, symbol) = length_axis(units);
    scene.line(at(LEFT, y), at(RIGHT, y), Style::Axis);
    let ticks = nice_ticks(range_m.0 * per_m, range_m.1 * per_m, 8, Steps::Decimal);
    for value in ticks.values {
        let place = x(value / per_m);
        scene.line(at(place, y), at(place, y + 1.1), Style::Axis);
        let text = format!("{:.*}", ticks.decimals, value).replace('-', "\u{2212}");
        let label = Text::new(at(place, y + 1.6 + 0.75 * NAME_MM), &text, NOTE_MM, Style::Note);
        scene.text(label.anchor(Anchor::Middle));
    }
    let unit = format!("edge above flush, {symbol}");
    scene.text(note(at((LEFT + RIGHT) / 2.0, y + 9.5), &unit, Style::Note).anchor(Anchor::Middle));
}

impl Entry {
    /// The gear at full travel in the draw whose edge lies in the middle; `None` when every draw failed.
    pub fn median_scene(&self, units: Units) -> Option<Scene> {
        self.median_scene_at(1.0, units)
    }

    /// The same with the servo at a share of its travel, 0 to 1, rising: for a drawing that moves.
    pub fn median_scene_at(&self, share: f64, units: Units) -> Option<Scene> {
        let there = self.run.at(self.summary.median_draw?, share)?;
        let (case, state) = (&there.case, &there.state);
        let spring_length_m = match case.mechanism.spring {
            gear::Spring::ClosingAdjuster { free_length_m, .. } => {
                state.spring_compression_m.map(|pressed| free_length_m - pressed)
            }
            gear::Spring::Shaft { .. } => None,
        };
        let pose = GearPose {
            servo_travel_rad: state.servo_travel_rad,
            valve_travel_rad: state.valve_travel_rad,
            flush_travel_rad: case.flush_travel_rad(),
            lift_m: case.law.lift_m(state.valve_travel_rad),
            opening_slack_m: (-state.opening_stretch_m).max(0.0),
            closing_slack_m: (-state.closing_stretch_m).max(0.0),
            opening_gap_m: there.opening_gap_m,
            closing_gap_m: there.closing_gap_m,
            spring_length_m,
        };
        Some(picture::valve_gear(self.run.engine(), &pose, units))
    }
}
