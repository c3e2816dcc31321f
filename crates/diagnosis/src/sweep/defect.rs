//! Defects: events and deviations that stand at a place of the travel.

use super::event::{Event, Happening};
use super::fold::{Bin, Fold};
use super::track::{PlacedBy, Track};
use evidence::robust::median;
use serde::Serialize;

/// What a defect is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DefectKind {
    /// The contact is lost: open circuit, or the output falls to a rail.
    DeadSpot,
    /// The output is thrown off for a moment, or leaps on at once.
    Jump,
    /// The output holds while the travel goes on.
    FlatSpot,
    /// The output bulges where the track is worn.
    WornPatch,
    /// The output stands still at an end of the travel: the track ends before the travel does, often by design.
    FlatEnd,
}

/// How often a defect was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Repeats {
    /// At the same place on at least half of the passes over it, and at least twice.
    Yes,
    /// On fewer: noise, or a lead that moved.
    No,
    /// There is only one pass over it.
    OnePass,
}

/// A defect at its place.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Defect {
    /// What it is.
    pub kind: DefectKind,
    /// From where, travel 0 to 1.
    pub from: f64,
    /// To where, travel 0 to 1.
    pub to: f64,
    /// Standard uncertainty of either edge, travel.
    pub edge_u: f64,
    /// How far off, a share of the range.
    pub size: f64,
    /// Standard uncertainty of that.
    pub size_u: f64,
    /// Output there, Ω or V; none for an open circuit.
    pub level: Option<f64>,
    /// Passes over the place, and those that show it.
    pub passes: usize,
    /// Passes that show it.
    pub shown: usize,
    /// Seen on passes up, seen on passes back.
    pub both_ways: bool,
    /// Samples that show it.
    pub samples: usize,
    /// Whether it repeats.
    pub repeats: Repeats,
    /// First and last sample each time it was seen, counted from zero.
    pub seen_at: Vec<(usize, usize)>,
}

impl Defect {
    /// The middle, travel.
    pub fn middle(&self) -> f64 {
        0.5 * (self.from + self.to)
    }
}

/// Deviations below this share of the range are not told from the bends of a good track (estimate).
pub(super) const LEAST_PATCH: f64 = 0.005;
/// A deviation counts from this many standard uncertainties on.
const PATCH_WIDTH: f64 = 5.0;

/// All defects, in the order of travel.
pub(super) fn find(track: &Track, events: &[Event], fold: &Fold) -> Vec<Defect> {
    let mut found = clustered(track, events, &Seen::of(track));
    if track.by != PlacedBy::Output {
        let near = 2.0 * fold.width();
        for patch in patches(track, fold) {
            // The edges of a leap or dead spot stand in the folded deviation too.
            let known = found
                .iter()
                .any(|d| d.repeats != Repeats::No && patch.from < d.to + near && patch.to > d.from - near);
            if !known {
                found.push(patch);
            }
        }
    }
    found.sort_by(|a, b| a.from.total_cmp(&b.from));
    found
}

/// Events of one place together.
fn clustered(track: &Track, events: &[Event], seen: &Seen) -> Vec<Defect> {
    let near = (1.5 * track.step).clamp(0.003, 0.05);
    let mut sorted: Vec<&Event> = events.iter().collect();
    sorted.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut clusters: Vec<(f64, Vec<&Event>)> = Vec::new();
    for event in sorted {
        match clusters.last_mut() {
            Some((to, held)) if event.from <= *to + near => {
                *to = to.max(event.to);
                held.push(event);
            }
            _ => clusters.push((event.to, vec![event])),
        }
    }
    clusters.iter().flat_map(|(_, held)| defects(track, held, seen)).collect()
}

/// The defects of a cluster: one, or the single events when they do not repeat.
fn defects(track: &Track, events: &[&Event], seen: &Seen) -> Vec<Defect> {
    let one = defect(track, events, seen);
    if one.repeats == Repeats::No && events.len() > 1 {
        return events.iter().map(|e| defect(track, &[e], seen)).collect();
    }
    vec![one]
}

fn defect(track: &Track, events: &[&Event], all: &Seen) -> Defect {
    let mut of_pass: Vec<usize> = events.iter().map(|e| e.pass).collect();
    of_pass.sort_unstable();
    of_pass.dedup();
    // A contact that comes and goes within the spot gives several events on one pass: first their outer edges.
    let edges = |pick: fn(&Event) -> f64, outer: fn(f64, f64) -> f64| {
        let of = |pass: &usize| events.iter().filter(|e| e.pass == *pass).map(|e| pick(e)).reduce(outer);
        median(&of_pass.iter().filter_map(of).collect::<Vec<_>>()).unwrap_or(0.0)
    };
    let (from, to) = (edges(|e| e.from, f64::min), edges(|e| e.to, f64::max));
    let seen = all.passes_over(track, events);
    let shown = of_pass.len();
    let repeats = match (seen, shown) {
        _ if all.reaching(from, to) <= 1 => Repeats::OnePass,
        (seen, shown) if shown >= 2 && 2 * shown >= seen => Repeats::Yes,
        _ => Repeats::No,
    };
    let worst = events.iter().fold(None, |worst: Option<&&Event>, e| match worst {
        Some(w) if w.size >= e.size => Some(w),
        _ => Some(e),
    });
    let lost = events.iter().filter(|e| e.what == Happening::Lost).count();
    let kind = if 2 * lost >= events.len() { DefectKind::DeadSpot } else { DefectKind::Jump };
    let edge = median(&events.iter().map(|e| e.edge).collect::<Vec<_>>()).unwrap_or(0.0);
    Defect {
        kind,
        from,
        to,
        edge_u: edge / 3f64.sqrt(),
        size: worst.map_or(0.0, |w| w.size),
        size_u: track.sigma * 2f64.sqrt(),
        level: worst.and_then(|w| w.level).map(|y| track.output(y)),
        passes: seen.max(shown),
        shown,
        both_ways: of_pass.iter().any(|p| track.rising(*p)) && of_pass.iter().any(|p| !track.rising(*p)),
        samples: events.iter().map(|e| e.samples).sum(),
        repeats,
        seen_at: events.iter().map(|e| (e.first, e.last)).collect(),
    }
}

/// Where something was seen at all.
struct Seen {
    /// (travel, pass), in the order of travel.
    places: Vec<(f64, usize)>,
    /// Lowest and highest travel of each pass.
    reach: Vec<(f64, f64)>,
}

impl Seen {
    fn of(track: &Track) -> Self {
        let mut reach = vec![(f64::MAX, f64::MIN); track.passes.len()];
        let mut places = Vec::new();
        for spot in track.spots.iter().filter(|s| s.observed()) {
            places.push((spot.x, spot.pass));
            if let Some((low, high)) = reach.get_mut(spot.pass) {
                (*low, *high) = (low.min(spot.x), high.max(spot.x));
            }
        }
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self { places, reach }
    }

    /// Passes that went over the place, whether they sampled it or not.
    fn reaching(&self, from: f64, to: f64) -> usize {
        let middle = 0.5 * (from + to);
        self.reach.iter().filter(|r| r.0 <= middle && r.1 >= middle).count()
    }

    /// Passes that have seen the place of the events.
    fn passes_over(&self, track: &Track, events: &[&Event]) -> usize {
        let margin = track.step;
        let inner = |e: &&Event| {
            let edge = e.edge.min(0.5 * (e.to - e.from));
            (e.from + edge, e.to - edge)
        };
        let (low, high) =
            events.iter().map(inner).fold((f64::MAX, f64::MIN), |(l, h), (a, b)| (l.min(a), h.max(b)));
        let (low, high) = (low - margin, high + margin);
        if events.iter().all(|e| e.what == Happening::Leap) {
            // A leap has nothing between: the pass must have come to both sides.
            let both = |r: &&(f64, f64)| r.0 <= low + 1.5 * margin && r.1 >= high - 1.5 * margin;
            return self.reach.iter().filter(both).count();
        }
        let first = self.places.partition_point(|p| p.0 < low);
        let over = self.places.get(first..).unwrap_or_default().iter().take_while(|p| p.0 <= high);
        let mut passes: Vec<usize> = over.map(|p| p.1).collect();
        passes.sort_unstable();
        passes.dedup();
        passes.len()
    }
}

/// Bulges of the folded deviation.
fn patches(track: &Track, fold: &Fold) -> Vec<Defect> {
    let one_way = fold.up.iter().all(Option::is_none) || fold.back.iter().all(Option::is_none);
    let shows = |width: f64, least: f64| -> Vec<bool> {
        let way = |bins: &[Option<Bin>], i: usize| {
            let bin = (*bins.get(i)?)?;
            Some(bin.local?.abs() > (width * bin.u).max(least))
        };
        let at = |i: usize| match (way(&fold.up, i), way(&fold.back, i)) {
            (Some(up), Some(back)) => up && back,
            (Some(only), None) | (None, Some(only)) => only && one_way,
            (None, None) => false,
        };
        (0..fold.both.len()).map(at).collect()
    };
    let (sure, likely) = (shows(PATCH_WIDTH, LEAST_PATCH), shows(0.5 * PATCH_WIDTH, 0.5 * LEAST_PATCH));
    let found = runs(&sure).into_iter().filter(|(a, b)| b > a);
    let mut patches: Vec<Defect> = Vec::new();
    for (first, last) in found {
        // What is sure says that there is a patch, what is likely how far it reaches.
        let from = likely.iter().take(first).rposition(|l| !l).map_or(0, |i| i + 1);
        let to = likely.iter().skip(last + 1).position(|l| !l).map_or(likely.len() - 1, |i| last + i);
        let patch = patch(track, fold, (from.min(first), to.max(last)), one_way);
        if patches.last().is_none_or(|before| patch.from > before.to) {
            patches.push(patch);
        }
    }
    patches
}

fn patch(track: &Track, fold: &Fold, (first, last): (usize, usize), one_way: bool) -> Defect {
    let width = fold.width();
    let of = |bins: &[Option<Bin>]| {
        let held = bins.get(first..=last).unwrap_or_default().iter().flatten();
        held.filter_map(|b| Some((b.local?, b.u)))
            .fold((0.0f64, 0.0), |w, b| if b.0.abs() > w.0.abs() { b } else { w })
    };
    let (up, back) = (of(&fold.up), of(&fold.back));
    let opposite = !one_way && up.0 * back.0 < 0.0;
    let worst = if opposite || up.0.abs() > back.0.abs() { up } else { back };
    let (from, to) = (first as f64 * width, (last + 1) as f64 * width);
    let inside = |s: &super::track::Spot| s.y.is_some() && s.x >= from && s.x <= to;
    let passes = (0..track.passes.len()).filter(|&p| track.of_pass(p).any(|(_, s)| inside(s))).count();
    let kind = match opposite {
        _ if flat_end(fold, (first, last)) => DefectKind::FlatEnd,
        true => DefectKind::FlatSpot,
        false => DefectKind::WornPatch,
    };
    Defect {
        kind,
        from,
        to,
        edge_u: width / 12f64.sqrt(),
        size: worst.0,
        size_u: worst.1,
        level: None,
        passes,
        shown: passes,
        both_ways: !one_way,
        samples: track.spots.iter().filter(|s| inside(s)).count(),
        repeats: if passes >= 2 { Repeats::Yes } else { Repeats::OnePass },
        seen_at: Vec::new(),
    }
}

/// Whether the patch is at an end of the travel and the output hardly moves in it.
fn flat_end(fold: &Fold, (first, last): (usize, usize)) -> bool {
    let end = first == 0 || last + 1 == fold.both.len();
    let held: Vec<&Bin> = fold.both.get(first..=last).unwrap_or_default().iter().flatten().collect();
    let span = |f: fn(&&Bin) -> f64| {
        let (low, high) = held.iter().map(f).fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
        high - low
    };
    end && held.len() > 1 && span(|b| b.x + b.off) < 0.3 * span(|b| b.x)
}

/// Runs of true, first and last; a single false between two runs is bridged.
fn runs(flags: &[bool]) -> Vec<(usize, usize)> {
    let mut out: Vec<(usize, usize)> = Vec::new();
    for (i, _) in flags.iter().enumerate().filter(|(_, f)| **f) {
        match out.last_mut() {
            Some((_, last)) if i <= *last + 2 => *last = i,
            _ => out.push((i, i)),
        }
    }
    out
}
