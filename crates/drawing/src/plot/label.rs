//! Names beside curves: of many possible places the one that covers least.

use super::frame::Frame;
use super::{TEXT_MM, plain};
use crate::point::{Point, at};
use crate::scene::{Anchor, Scene};
use crate::style::Style;
use crate::text::text_width_mm;

/// What is already on the plot, as sample points and boxes.
pub(crate) struct Labels {
    samples: Vec<Point>,
    boxes: Vec<Box>,
    limits: Box,
}

#[derive(Debug, Clone, Copy)]
struct Box {
    low: Point,
    high: Point,
}

impl Box {
    fn holds(&self, p: Point) -> bool {
        p.x > self.low.x && p.x < self.high.x && p.y > self.low.y && p.y < self.high.y
    }

    fn meets(&self, other: &Box) -> bool {
        self.low.x < other.high.x
            && other.low.x < self.high.x
            && self.low.y < other.high.y
            && other.low.y < self.high.y
    }
}

/// Distance between samples of a curve, mm.
const SAMPLE_MM: f64 = 0.7;

impl Labels {
    pub(crate) fn new(frame: &Frame) -> Self {
        let limits = Box {
            low: at(frame.left + 0.6, frame.top - 1.0),
            high: at(frame.right + 1.0, frame.bottom - 0.6),
        };
        Self { samples: Vec::new(), boxes: Vec::new(), limits }
    }

    /// Keeps labels off this line.
    pub(crate) fn avoid_run(&mut self, run: &[Point]) {
        for pair in run.windows(2) {
            let step = pair[1] - pair[0];
            let count = (step.length() / SAMPLE_MM).ceil().clamp(1.0, 400.0) as usize;
            self.samples.extend((0..=count).map(|i| pair[0] + step * (i as f64 / count as f64)));
        }
    }

    /// Keeps labels off this box.
    pub(crate) fn avoid_box(&mut self, low: Point, high: Point) {
        self.boxes.push(Box { low, high });
    }

    /// Writes `text` near one of `stations`, where it covers least.
    pub(crate) fn write(&mut self, scene: &mut Scene, stations: &[Point], text: &str, style: Style) {
        let width = text_width_mm(text, TEXT_MM);
        let mut best: Option<(f64, Box)> = None;
        for (i, &station) in stations.iter().enumerate() {
            // Names read best towards the end of a curve: earlier places cost a little.
            let early = 1.0 - i as f64 / stations.len() as f64;
            for (candidate, far) in around(station, width) {
                let cost = self.cost(&candidate) + 0.8 * early + far;
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, candidate));
                }
            }
        }
        let Some((_, place)) = best else { return };
        let baseline = at((place.low.x + place.high.x) / 2.0, place.high.y - 0.3 * TEXT_MM);
        scene.items.push(crate::Item::Text(plain(baseline, text, style).anchor(Anchor::Middle).halo()));
        self.boxes.push(place);
    }

    fn cost(&self, candidate: &Box) -> f64 {
        let covered = self.samples.iter().filter(|p| candidate.holds(**p)).count() as f64;
        let clashes = self.boxes.iter().filter(|b| b.meets(candidate)).count() as f64;
        let inside = self.limits.low.x <= candidate.low.x
            && self.limits.low.y <= candidate.low.y
            && self.limits.high.x >= candidate.high.x
            && self.limits.high.y >= candidate.high.y;
        covered * 1.5 + clashes * 60.0 + if inside { 0.0 } else { 500.0 }
    }
}

/// Boxes for a label round a point, each with the cost of its distance.
fn around(p: Point, width: f64) -> Vec<(Box, f64)> {
    let height = 1.25 * TEXT_MM;
    let mut out = Vec::with_capacity(24);
    for (gap, far) in [(0.7, 0.0), (2.4, 0.9), (4.6, 2.2), (8.0, 5.0)] {
        for (dx, dy) in [
            (0.0, -1.0),
            (0.0, 1.0),
            (1.0, 0.0),
            (-1.0, 0.0),
            (1.0, -1.0),
            (-1.0, -1.0),
            (1.0, 1.0),
            (-1.0, 1.0),
        ] {
            let centre = at(p.x + dx * (width / 2.0 + gap), p.y + dy * (height / 2.0 + gap));
            let half = at(width / 2.0 + 0.2, height / 2.0);
            out.push((Box { low: centre - half, high: centre + half }, far));
        }
    }
    out
}

/// Places along a curve where its name may stand, from start to end.
pub(crate) fn stations(runs: &[Vec<Point>]) -> Vec<Point> {
    const MOST: usize = 40;
    let all: Vec<Point> = runs.iter().flat_map(|run| resampled(run, 1.5)).collect();
    let stride = all.len().div_ceil(MOST).max(1);
    all.into_iter().step_by(stride).collect()
}

/// Points along a run, about `spacing` mm apart, its ends included.
fn resampled(run: &[Point], spacing: f64) -> Vec<Point> {
    let mut out: Vec<Point> = run.first().copied().into_iter().collect();
    for pair in run.windows(2) {
        let step = pair[1] - pair[0];
        let count = (step.length() / spacing).floor().min(400.0) as usize;
        out.extend((1..=count).map(|i| pair[0] + step * (i as f64 / (count + 1) as f64)));
        if out.last().is_none_or(|last| (*last - pair[1]).length() >= spacing) {
            out.push(pair[1]);
        }
    }
    out
}
