//! Names beside curves: of many possible places the one that covers least.

use super::frame::Frame;
use super::{TEXT_MM, plain};
use crate::point::{Point, at};
use crate::scene::{Anchor, Draw, Scene};
use crate::style::Style;
use crate::text::text_width_mm;

/// What is already on the plot, as sample points and boxes.
pub(crate) struct Labels {
    /// Places on lines and curves, each with the number of its line.
    samples: Vec<(usize, Point)>,
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

    /// The point of the box nearest to `p`.
    fn nearest(&self, p: Point) -> Point {
        at(p.x.clamp(self.low.x, self.high.x), p.y.clamp(self.low.y, self.high.y))
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
/// A curve within this distance of another's name could be taken for the one named, mm.
const NEAR: Point = at(2.0, 2.0);

impl Labels {
    pub(crate) fn new(frame: &Frame) -> Self {
        let limits = Box {
            low: at(frame.left + 0.6, frame.top - 1.0),
            high: at(frame.right + 1.0, frame.bottom - 0.6),
        };
        Self { samples: Vec::new(), boxes: Vec::new(), limits }
    }

    /// Keeps labels off this line, which is number `owner`.
    pub(crate) fn avoid_run(&mut self, owner: usize, run: &[Point]) {
        for pair in run.windows(2) {
            let step = pair[1] - pair[0];
            let count = (step.length() / SAMPLE_MM).ceil().clamp(1.0, 400.0) as usize;
            self.samples.extend((0..=count).map(|i| (owner, pair[0] + step * (i as f64 / count as f64))));
        }
    }

    /// Keeps labels off this box.
    pub(crate) fn avoid_box(&mut self, low: Point, high: Point) {
        self.boxes.push(Box { low, high });
    }

    /// Writes `text` near one of `stations` of line `owner`, where it covers least and no other line is as near.
    pub(crate) fn write(
        &mut self,
        scene: &mut Scene,
        owner: usize,
        stations: &[Point],
        text: &str,
        style: Style,
    ) {
        let width = text_width_mm(text, TEXT_MM);
        let reach = at(width + FURTHEST_MM + NEAR.x, 1.25 * TEXT_MM + FURTHEST_MM + NEAR.y);
        let mut best: Option<(f64, Place)> = None;
        for (i, &station) in stations.iter().enumerate() {
            // Names read best towards the end of a curve: earlier places cost a little.
            let early = 0.8 * (1.0 - i as f64 / stations.len() as f64);
            let around_here = Box { low: station - reach, high: station + reach };
            let near: Vec<_> = self.samples.iter().filter(|(_, p)| around_here.holds(*p)).copied().collect();
            for place in around(station, width) {
                let least = best.as_ref().map_or(f64::INFINITY, |(least, _)| *least);
                if early + place.far >= least {
                    continue;
                }
                let cost = self.cost(owner, &near, &place.room) + early + place.far;
                if cost < least {
                    best = Some((cost, place));
                }
            }
        }
        let Some((_, place)) = best else { return };
        let room = place.room;
        if place.gap > LEADER_FROM_MM {
            scene.line(place.station, room.nearest(place.station), Style::Measure);
        }
        let baseline = at((room.low.x + room.high.x) / 2.0, room.high.y - 0.3 * TEXT_MM);
        scene.items.push(crate::Item::Text(plain(baseline, text, style).anchor(Anchor::Middle).halo()));
        self.boxes.push(room);
    }

    /// What a label in `candidate` covers; `near` are the samples that it could cover.
    fn cost(&self, owner: usize, near: &[(usize, Point)], candidate: &Box) -> f64 {
        let covered = near.iter().filter(|(_, p)| candidate.holds(*p)).count() as f64;
        let wide = Box { low: candidate.low - NEAR, high: candidate.high + NEAR };
        let strangers = near.iter().filter(|(of, p)| *of != owner && wide.holds(*p)).count() as f64;
        let clashes = self.boxes.iter().filter(|b| b.meets(candidate)).count() as f64;
        let inside = self.limits.low.x <= candidate.low.x
            && self.limits.low.y <= candidate.low.y
            && self.limits.high.x >= candidate.high.x
            && self.limits.high.y >= candidate.high.y;
        covered * 1.5 + strangers * 0.3 + clashes * 60.0 + if inside { 0.0 } else { 500.0 }
    }
}

/// A place for a label.
struct Place {
    /// Point of the line it belongs to.
    station: Point,
    /// What it takes up.
    room: Box,
    /// Distance from the line, mm.
    gap: f64,
    /// Cost of that distance.
    far: f64,
}

/// Furthest a name stands from its curve, mm.
const FURTHEST_MM: f64 = 8.0;
/// From this distance a thin line joins name and curve, mm.
const LEADER_FROM_MM: f64 = 2.0;

/// Places for a label round a point.
fn around(station: Point, width: f64) -> Vec<Place> {
    const SIDES: [(f64, f64); 8] = [
        (0.0, -1.0),
        (0.0, 1.0),
        (1.0, 0.0),
        (-1.0, 0.0),
        (1.0, -1.0),
        (-1.0, -1.0),
        (1.0, 1.0),
        (-1.0, 1.0),
    ];
    let half = at(width / 2.0 + 0.2, 0.625 * TEXT_MM);
    let mut out = Vec::with_capacity(32);
    for (gap, far) in [(0.7, 0.0), (2.6, 2.0), (4.6, 3.5), (FURTHEST_MM, 7.0)] {
        for (dx, dy) in SIDES {
            let centre = at(station.x + dx * (half.x + gap), station.y + dy * (half.y + gap));
            out.push(Place { station, room: Box { low: centre - half, high: centre + half }, gap, far });
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
