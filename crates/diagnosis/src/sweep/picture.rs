//! The sweep drawn: output, deviation from the line, defects marked and named.

use super::defect::{Defect, Repeats};
use super::fold::{Bin, Fold};
use super::track::{PlacedBy, Track};
use super::{DefectKind, Log, Reading, Sweep};
use drawing::plot::{Along, Axis, Band, Line, Plot, Series};
use drawing::{Scene, Style};
use evidence::conformity::Verdict;
use quantity::{Units, display_unit};

/// Places over the travel at which the extremes of all readings are drawn.
const COLUMNS: usize = 400;
/// Defects that are named on the drawing; the findings name all.
const MOST_NAMED: usize = 6;
/// Height of the output's plot and of the strip below it, mm.
const PLOT_MM: f64 = 58.0;
const STRIP_MM: f64 = 40.0;
/// A defect wider than this share of the axis shows as a band, a narrower one as a line.
const WIDE: f64 = 0.015;

/// What is drawn against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Against {
    Travel,
    Time,
    Number,
}

/// Curves kept for the drawing. Output in Ω or V, deviations as shares of the range.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drawn {
    against: Against,
    /// All readings: against travel their extremes, else one after another.
    readings: Vec<(f64, f64)>,
    up: Vec<(f64, f64)>,
    back: Vec<(f64, f64)>,
    off_up: Vec<(f64, f64)>,
    off_back: Vec<(f64, f64)>,
    /// Place of each sample on the level axis; only where that is not travel.
    places: Vec<f64>,
}

const GAP: (f64, f64) = (f64::NAN, f64::NAN);

impl Drawn {
    pub(super) fn of(log: &Log, track: &Track, fold: &Fold) -> Self {
        if track.by != PlacedBy::Output {
            return Self::by_travel(track, fold);
        }
        let mut drawn = Self::plain(log);
        drawn.places = track.spots.iter().map(|s| s.t).collect();
        drawn.readings = track.spots.iter().map(|s| s.y.map_or(GAP, |y| (s.t, track.output(y)))).collect();
        drawn.off_up = track.spots.iter().map(|s| s.y.map_or(GAP, |y| (s.t, y - s.x))).collect();
        drawn
    }

    /// Readings one after another: all that can be drawn of a log that says nothing.
    pub(super) fn plain(log: &Log) -> Self {
        let against = if log.timed { Against::Time } else { Against::Number };
        let place = |i: usize| match against {
            Against::Time => log.samples.get(i).and_then(|s| s.time_s).unwrap_or(f64::NAN),
            _ => i as f64,
        };
        let reading = |(i, s): (usize, &super::Sample)| match s.reading {
            Reading::Value(v) => (place(i), v),
            _ => GAP,
        };
        let readings = log.samples.iter().enumerate().map(reading).collect();
        let none = Vec::new;
        Self {
            against,
            readings,
            up: none(),
            back: none(),
            off_up: none(),
            off_back: none(),
            places: Vec::new(),
        }
    }

    fn by_travel(track: &Track, fold: &Fold) -> Self {
        let output = |bins: &[Option<Bin>]| curve(bins, |b| (b.x, track.output(b.x + b.off)));
        let off = |bins: &[Option<Bin>]| curve(bins, |b| (b.x, b.off));
        Self {
            against: Against::Travel,
            readings: extremes(track),
            up: output(&fold.up),
            back: output(&fold.back),
            off_up: off(&fold.up),
            off_back: off(&fold.back),
            places: Vec::new(),
        }
    }

    /// Where a defect stands on the level axis, once for each time it is drawn.
    fn places_of(&self, defect: &Defect) -> Vec<(f64, f64)> {
        if self.against == Against::Travel {
            return vec![(100.0 * defect.from, 100.0 * defect.to)];
        }
        let at =
            |i: usize| self.places.get(i.min(self.places.len().saturating_sub(1))).copied().unwrap_or(0.0);
        defect.seen_at.iter().map(|&(first, last)| (at(first), at(last))).collect()
    }
}

/// A curve over bins, broken where a bin is empty.
fn curve(bins: &[Option<Bin>], point: impl Fn(&Bin) -> (f64, f64)) -> Vec<(f64, f64)> {
    if bins.iter().all(Option::is_none) {
        return Vec::new();
    }
    // Few samples leave bins empty everywhere: there the curve is carried over.
    let sparse = bins.iter().flatten().count() * 2 < bins.len();
    let kept = bins.iter().filter(|b| !sparse || b.is_some());
    kept.map(|bin| bin.as_ref().map_or(GAP, &point)).collect()
}

/// Lowest and highest output at each place of the travel, of all passes.
fn extremes(track: &Track) -> Vec<(f64, f64)> {
    let mut columns: Vec<Option<[(f64, f64); 2]>> = vec![None; COLUMNS];
    for spot in &track.spots {
        let Some(y) = spot.y else { continue };
        let at = ((spot.x.clamp(0.0, 1.0) * COLUMNS as f64) as usize).min(COLUMNS - 1);
        let here = (spot.x, track.output(y));
        if let Some(column) = columns.get_mut(at) {
            let [low, high] = column.unwrap_or([here, here]);
            *column =
                Some([if here.1 < low.1 { here } else { low }, if here.1 > high.1 { here } else { high }]);
        }
    }
    let mut out: Vec<(f64, f64)> = columns.into_iter().flatten().flatten().collect();
    out.dedup();
    out
}

pub(super) fn scene(sweep: &Sweep, units: Units) -> Scene {
    let drawn = &sweep.drawn;
    let unit = display_unit(sweep.dimension, units);
    let output = if unit.symbol == "V" { "output voltage" } else { "output resistance" };
    let mut plot = Plot::new("Sensor sweep", &sweep.text, level_axis(drawn), Axis::new(output, unit.symbol));
    plot.height_mm = PLOT_MM;
    let in_axes = |points: &[(f64, f64)]| scaled(points, drawn, unit.per_si);
    let along_travel = drawn.against == Against::Travel;
    let mut add = |name: &str, style: Style, points: &[(f64, f64)]| {
        if !points.is_empty() {
            plot.series.push(Series { name: name.into(), style, points: in_axes(points) });
        }
    };
    if along_travel {
        add("", Style::Measure, &drawn.readings);
        add("going up", Style::Curve1, &drawn.up);
        add("coming back", Style::Curve2, &drawn.back);
    } else {
        add("output", Style::Curve1, &drawn.readings);
    }
    mark(&mut plot, sweep, true);
    if drawn.off_up.is_empty() && drawn.off_back.is_empty() {
        return plot.scene();
    }
    plot.above(&strip(sweep))
}

/// The deviation from the line, in per cent of the range.
fn strip(sweep: &Sweep) -> Plot {
    let drawn = &sweep.drawn;
    let off = if drawn.against == Against::Travel {
        "above (+) or below (−) the line"
    } else {
        "above (+) or below (−) its course"
    };
    let mut strip = Plot::new("", "", level_axis(drawn), Axis::new(off, "% of range"));
    strip.height_mm = STRIP_MM;
    let mut most: f64 = 1.0;
    let ways = [("off, up", Style::Curve1, &drawn.off_up), ("off, back", Style::Curve2, &drawn.off_back)];
    for (name, style, points) in ways.into_iter().filter(|w| !w.2.is_empty()) {
        let name = if drawn.against == Against::Travel { name } else { "off" };
        let points = scaled(points, drawn, 100.0);
        most = points.iter().map(|p| p.1.abs()).filter(|y| y.is_finite()).fold(most, f64::max);
        strip.series.push(Series { name: name.into(), style, points });
    }
    strip.y = strip.y.range(-1.15 * most, 1.15 * most);
    strip.lines.push(Line { along: Along::Y, at: 0.0, label: String::new(), style: Style::Centre });
    mark(&mut strip, sweep, false);
    strip
}

fn level_axis(drawn: &Drawn) -> Axis {
    match drawn.against {
        Against::Travel => Axis::new("travel", "%").range(0.0, 100.0),
        Against::Time => Axis::new("time", "s"),
        Against::Number => Axis::new("number of the reading", ""),
    }
}

fn scaled(points: &[(f64, f64)], drawn: &Drawn, up: f64) -> Vec<(f64, f64)> {
    let along = match drawn.against {
        Against::Travel => 100.0,
        _ => 1.0,
    };
    // Readings are counted from one.
    let shift = if drawn.against == Against::Number { 1.0 } else { 0.0 };
    points.iter().map(|(x, y)| (x * along + shift, y * up)).collect()
}

/// Bands and names of the defects.
fn mark(plot: &mut Plot, sweep: &Sweep, named: bool) {
    let drawn = &sweep.drawn;
    let shift = if drawn.against == Against::Number { 1.0 } else { 0.0 };
    let length = match drawn.against {
        Against::Travel => 100.0,
        _ => drawn.places.iter().fold(0.0f64, |a, t| a.max(*t)),
    };
    let shown = |d: &&Defect| d.repeats != Repeats::No || d.verdict().is_some();
    for (i, defect) in sweep.defects.iter().filter(shown).enumerate() {
        let grave = defect.verdict() == Some(Verdict::Fail) && defect.kind != DefectKind::WornPatch;
        let style = if grave { Style::Fault } else { Style::Warn };
        for (k, (low, high)) in drawn.places_of(defect).into_iter().enumerate() {
            let (low, high) = (low + shift, high + shift);
            let wide = high - low > WIDE * length;
            if wide {
                plot.bands.push(Band { along: Along::X, low, high, style });
            }
            let first = named && k == 0 && i < MOST_NAMED;
            let label = match defect.repeats {
                _ if !first => String::new(),
                Repeats::No => "seen once".to_owned(),
                _ => format!("{} at {:.0} %", defect.kind.name(), 100.0 * defect.middle()),
            };
            if !wide || first {
                plot.lines.push(Line {
                    along: Along::X,
                    at: if wide { low } else { 0.5 * (low + high) },
                    label,
                    style,
                });
            }
        }
    }
}
