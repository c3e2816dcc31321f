//! Curves on two axes.
//!
//! [`Plot`] is plain data in the units of its axes; [`Plot::scene`] lays it out. Curves carry their names beside them,
//! so that there is no legend to look up. The scene's `data-plot` holds the plot rectangle, both axes and thinned
//! points as JSON, for a readout under the pointer.

mod curve;
mod data;
mod frame;
mod label;
mod stack;
mod ticks;

pub use ticks::{Ticks, nice_ticks};

use crate::point::{Point, at};
use crate::scene::{Draw, Group, Scene, Text};
use crate::style::Style;
use frame::Frame;
use label::Labels;

/// Text height in plots, mm.
pub(crate) const TEXT_MM: f64 = 3.0;

/// How ticks are chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Steps {
    /// 1, 2, 5 times a power of ten.
    Decimal,
    /// Whole parts of a turn: 1, 2, 5, 10, 15, 30, 45, 60, 90 degrees.
    Degrees,
}

/// One axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// What it shows.
    pub label: String,
    /// Unit symbol; empty for a plain number.
    pub unit: String,
    /// From and to; found from what is shown when not given.
    pub range: Option<(f64, f64)>,
    /// Tick steps.
    pub steps: Steps,
}

impl Axis {
    /// An axis that fits what is shown.
    pub fn new(label: &str, unit: &str) -> Self {
        let steps = if unit == "°" { Steps::Degrees } else { Steps::Decimal };
        Self { label: label.to_owned(), unit: unit.to_owned(), range: None, steps }
    }

    /// With a fixed range.
    pub fn range(mut self, from: f64, to: f64) -> Self {
        self.range = Some((from, to));
        self
    }

    /// "label, unit".
    pub(crate) fn heading(&self) -> String {
        if self.unit.is_empty() { self.label.clone() } else { format!("{}, {}", self.label, self.unit) }
    }
}

/// A curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Name, written beside the curve; empty for none.
    pub name: String,
    /// Meaning.
    pub style: Style,
    /// Points (x, y) in the units of the axes; one that is not finite breaks the curve.
    pub points: Vec<(f64, f64)>,
}

/// On which axis a target or band lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// A value of x: drawn upright.
    X,
    /// A value of y: drawn level.
    Y,
}

/// A demanded value, drawn right across.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// On which axis.
    pub along: Along,
    /// The value.
    pub at: f64,
    /// Written beside it; empty for none.
    pub label: String,
    /// Meaning.
    pub style: Style,
}

/// A range of values, drawn right across under everything else.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// On which axis.
    pub along: Along,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Meaning.
    pub style: Style,
}

/// A filled rectangle of the plot, under everything else.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// From and to on the level axis.
    pub x: (f64, f64),
    /// From and to on the upright axis.
    pub y: (f64, f64),
    /// Meaning.
    pub style: Style,
}

/// A marked point.
#[derive(Debug, Clone, PartialEq)]
pub struct Marker {
    /// x.
    pub x: f64,
    /// y.
    pub y: f64,
    /// Written beside it; empty for none.
    pub label: String,
    /// Meaning.
    pub style: Style,
}

/// A plot.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// Short name for screen readers.
    pub title: String,
    /// What it shows, for screen readers.
    pub description: String,
    /// Width of the scene, mm.
    pub width_mm: f64,
    /// Height of the scene, mm.
    pub height_mm: f64,
    /// Level axis.
    pub x: Axis,
    /// Upright axis.
    pub y: Axis,
    /// Filled rectangles, under everything.
    pub patches: Vec<Patch>,
    /// Bands, under everything else.
    pub bands: Vec<Band>,
    /// Target lines.
    pub lines: Vec<Line>,
    /// Curves.
    pub series: Vec<Series>,
    /// Marked points.
    pub markers: Vec<Marker>,
    /// The x shown now: an upright line that other parts of the page may move.
    pub cursor: Option<f64>,
}

impl Plot {
    /// An empty plot of 100 mm by 75 mm.
    pub fn new(title: &str, description: &str, x: Axis, y: Axis) -> Self {
        Self {
            title: title.to_owned(),
            description: description.to_owned(),
            width_mm: 100.0,
            height_mm: 75.0,
            x,
            y,
            patches: Vec::new(),
            bands: Vec::new(),
            lines: Vec::new(),
            series: Vec::new(),
            markers: Vec::new(),
            cursor: None,
        }
    }

    /// Lays the plot out.
    pub fn scene(&self) -> Scene {
        let frame = Frame::of(self);
        let mut scene = Scene::new(self.width_mm, self.height_mm, &self.title, &self.description);
        scene.data.push(("plot".into(), data::json(self, &frame)));
        self.draw(&mut scene, &frame);
        scene
    }

    fn draw(&self, scene: &mut Scene, frame: &Frame) {
        for patch in &self.patches {
            draw_patch(scene, frame, patch);
        }
        for band in &self.bands {
            draw_band(scene, frame, band);
        }
        frame.draw(scene, self);
        let mut labels = Labels::new(frame);
        for (i, line) in self.lines.iter().enumerate() {
            draw_line(scene, frame, (i, line), &mut labels);
        }
        for (i, series) in self.series.iter().enumerate() {
            let group = draw_series(frame, (self.lines.len() + i, series), &mut labels);
            scene.group(group);
        }
        if let Some(x) = self.cursor.filter(|x| frame.holds_x(*x)) {
            let mut group = Group::with_class("cursor");
            let x = frame.x_mm(x);
            group.line(at(x, frame.top), at(x, frame.bottom), Style::Now);
            scene.group(group);
        }
        for marker in self.markers.iter().filter(|m| frame.holds(m.x, m.y)) {
            draw_marker(scene, frame, marker, &mut labels);
        }
        self.write_labels(scene, frame, &mut labels);
    }

    /// Names of lines, curves and markers, each at the best free place.
    fn write_labels(&self, scene: &mut Scene, frame: &Frame, labels: &mut Labels) {
        for marker in self.markers.iter().filter(|m| frame.holds(m.x, m.y) && !m.label.is_empty()) {
            let place = at(frame.x_mm(marker.x), frame.y_mm(marker.y));
            labels.write(scene, usize::MAX, &[place], &marker.label, Style::Label);
        }
        for (i, line) in self.lines.iter().enumerate().filter(|(_, l)| !l.label.is_empty()) {
            let places = frame.along(line);
            labels.write(scene, i, &places, &line.label, line.style);
        }
        for (i, series) in self.series.iter().enumerate().filter(|(_, s)| !s.name.is_empty()) {
            let runs = curve::runs(frame, &series.points);
            let places = label::stations(&runs);
            labels.write(scene, self.lines.len() + i, &places, &series.name, series.style);
        }
    }
}

fn draw_band(scene: &mut Scene, frame: &Frame, band: &Band) {
    let (from, to) = (band.low.min(band.high), band.low.max(band.high));
    match band.along {
        Along::Y => {
            let (top, bottom) = (frame.y_clamped(to), frame.y_clamped(from));
            scene.rect(at(frame.left, top), frame.width(), bottom - top, 0.0, band.style);
        }
        Along::X => {
            let (left, right) = (frame.x_clamped(from), frame.x_clamped(to));
            scene.rect(at(left, frame.top), right - left, frame.height(), 0.0, band.style);
        }
    }
}

fn draw_patch(scene: &mut Scene, frame: &Frame, patch: &Patch) {
    let (left, right) = (frame.x_clamped(patch.x.0), frame.x_clamped(patch.x.1));
    let (top, bottom) = (frame.y_clamped(patch.y.1), frame.y_clamped(patch.y.0));
    scene.rect(at(left, top), right - left, bottom - top, 0.0, patch.style);
}

fn draw_line(scene: &mut Scene, frame: &Frame, (owner, line): (usize, &Line), labels: &mut Labels) {
    let ends = frame.along(line);
    if let (Some(&a), Some(&b)) = (ends.first(), ends.last()) {
        scene.line(a, b, line.style);
        labels.avoid_run(owner, &[a, b]);
    }
}

fn draw_series(frame: &Frame, (owner, series): (usize, &Series), labels: &mut Labels) -> Group {
    let mut group = Group::with_class("series");
    group.data.push(("name".into(), series.name.clone()));
    let thinned = curve::thinned(&series.points, frame.columns());
    for run in curve::runs(frame, &thinned) {
        labels.avoid_run(owner, &run);
        group.polyline(run, series.style);
    }
    group
}

fn draw_marker(scene: &mut Scene, frame: &Frame, marker: &Marker, labels: &mut Labels) {
    let place: Point = at(frame.x_mm(marker.x), frame.y_mm(marker.y));
    scene.circle(place, 1.3, marker.style);
    scene.dot(place, 0.55, marker.style);
    labels.avoid_box(at(place.x - 1.5, place.y - 1.5), at(place.x + 1.5, place.y + 1.5));
}

/// A text of the plot's size.
pub(crate) fn plain(place: Point, text: &str, style: Style) -> Text {
    Text::new(place, text, TEXT_MM, style)
}

#[cfg(test)]
mod tests;
