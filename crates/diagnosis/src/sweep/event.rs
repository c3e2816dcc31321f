//! What happens in the log: the contact lost, the output thrown off, the output leaping on.

use super::excursion::{Leaps, leaps, leaps_of_output, usual_move};
use super::track::{PlacedBy, Track};
use evidence::robust::{hampel_above, median};

/// What an event is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Happening {
    /// Open circuit, or the output at a rail.
    Lost,
    /// The output is off for a while and comes back.
    Off,
    /// The output leaps and stays.
    Leap,
}

/// Something that happens on one pass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Event {
    pub(super) what: Happening,
    pub(super) pass: usize,
    /// Travel from the lower to the upper edge: halfway to the neighbours that are right.
    pub(super) from: f64,
    pub(super) to: f64,
    /// First and last sample.
    pub(super) first: usize,
    pub(super) last: usize,
    /// Samples that show it.
    pub(super) samples: usize,
    /// Half the gap in which each edge lies, travel.
    pub(super) edge: f64,
    /// Output there, in the track's scale; none for an open circuit.
    pub(super) level: Option<f64>,
    /// How far off, a share of the range; an open circuit is wholly off.
    pub(super) size: f64,
}

/// Readings on either side that the test for single outliers looks at, and its width in standard deviations
/// (Hampel's identifier: median and 1.4826 MAD of a moving window).
const HAMPEL_HALF: usize = 7;
const HAMPEL_WIDTH: f64 = 6.0;
/// Deviations below this share of the range are no dropouts, however quiet the readings.
const LEAST_OFF: f64 = 0.01;
/// From this share of the range on, the output is thrown to a rail.
const LEAST_LOST: f64 = 0.15;
/// Steps below this share of the range are not told from bends.
const LEAST_LEAP: f64 = 0.02;

/// Finds all events and marks the samples that are away.
pub(super) fn find(track: &mut Track) -> Vec<Event> {
    let mut events = Vec::new();
    for pass in 0..track.passes.len() {
        opens(track, pass, &mut events);
    }
    if track.by == PlacedBy::Output {
        in_output(track, &mut events);
    } else {
        for pass in 0..track.passes.len() {
            in_residual(track, pass, &mut events);
        }
    }
    mark(track, &events);
    let before = events.len();
    for pass in 0..track.passes.len() {
        outliers(track, pass, &mut events);
    }
    mark(track, events.get(before..).unwrap_or_default());
    events.sort_by_key(|e| (e.pass, e.first));
    merged(events)
}

fn mark(track: &mut Track, events: &[Event]) {
    for event in events.iter().filter(|e| e.what != Happening::Leap) {
        if let Some(run) = track.spots.get_mut(event.first..=event.last) {
            run.iter_mut().for_each(|s| s.away = true);
        }
    }
}

/// Samples of a pass that have a reading: (number, reading).
fn readings(track: &Track, pass: usize) -> Vec<(usize, f64)> {
    track.of_pass(pass).filter_map(|(i, s)| Some((i, s.y?))).collect()
}

fn opens(track: &Track, pass: usize, events: &mut Vec<Event>) {
    let mut run: Option<(usize, usize, usize)> = None;
    for (i, spot) in track.of_pass(pass) {
        if spot.open {
            run = Some(run.map_or((i, i, 1), |(first, _, n)| (first, i, n + 1)));
        } else if spot.y.is_some()
            && let Some((first, last, n)) = run.take()
        {
            events.push(event(track, (Happening::Lost, first, last), (n, None, 1.0)));
        }
    }
    if let Some((first, last, n)) = run {
        events.push(event(track, (Happening::Lost, first, last), (n, None, 1.0)));
    }
}

/// Leaps of a pass against the line: travel is known, so that the way moved does not enter.
fn in_residual(track: &Track, pass: usize, events: &mut Vec<Event>) {
    let places: Vec<(usize, f64)> = readings(track, pass)
        .into_iter()
        .map(|(i, y)| (i, y - track.spots.get(i).map_or(0.0, |s| s.x)))
        .collect();
    let residuals: Vec<f64> = places.iter().map(|p| p.1).collect();
    let drift = usual_move(&residuals);
    let leap = (8.0 * track.sigma * 2f64.sqrt()).max(LEAST_LEAP).max(4.0 * drift);
    take_leaps(track, &places, leaps(&residuals, leap, drift), events);
}

/// Leaps of the whole log in the output itself.
fn in_output(track: &Track, events: &mut Vec<Event>) {
    let places: Vec<(usize, f64)> =
        track.spots.iter().enumerate().filter_map(|(i, s)| Some((i, s.y?))).collect();
    let values: Vec<f64> = places.iter().map(|p| p.1).collect();
    take_leaps(track, &places, leaps_of_output(&values, 1.0), events);
}

fn take_leaps(track: &Track, places: &[(usize, f64)], found: Leaps, events: &mut Vec<Event>) {
    let values: Vec<f64> = places.iter().map(|p| p.1).collect();
    let number = |at: usize| places.get(at).map_or(0, |p| p.0);
    for (first, last) in found.excursions {
        let run = values.get(first..=last).unwrap_or_default();
        let before = first.checked_sub(1).and_then(|b| values.get(b)).copied().unwrap_or(0.0);
        let size = run.iter().map(|v| (v - before).abs()).fold(0.0, f64::max);
        events.push(excursion(track, (number(first), number(last)), (run.len(), size)));
    }
    for at in found.steps {
        let (a, b) = (number(at), number(at + 1));
        if let (Some(from), Some(to)) = (track.spots.get(a), track.spots.get(b))
            && let (Some(ya), Some(yb)) = (from.y, to.y)
        {
            let size = values.get(at + 1).zip(values.get(at)).map_or(0.0, |(v, w)| (v - w).abs());
            let way = (to.x - from.x).abs();
            let (low, high) = (ya.min(yb).clamp(0.0, 1.0), ya.max(yb).clamp(0.0, 1.0));
            events.push(Event {
                what: Happening::Leap,
                pass: to.pass,
                from: low,
                to: high,
                first: a,
                last: b,
                samples: 2,
                edge: way.min(track.step.max(1e-4)) / 2.0,
                level: None,
                size,
            });
        }
    }
}

fn excursion(track: &Track, (first, last): (usize, usize), (samples, size): (usize, f64)) -> Event {
    let levels: Vec<f64> =
        track.spots.get(first..=last).unwrap_or_default().iter().filter_map(|s| s.y).collect();
    let level = median(&levels);
    let at_rail = level.is_some_and(|y| !(0.02..=0.98).contains(&y));
    let what = if at_rail && size >= LEAST_LOST { Happening::Lost } else { Happening::Off };
    event(track, (what, first, last), (samples, level, size))
}

/// Single readings that stand out from their neighbours.
fn outliers(track: &Track, pass: usize, events: &mut Vec<Event>) {
    // Those already known to be away would pull the median of their neighbours with them.
    let here = |i: usize| track.spots.get(i).is_some_and(|s| !s.away);
    let places: Vec<(usize, f64)> = readings(track, pass).into_iter().filter(|(i, _)| here(*i)).collect();
    if places.len() <= 2 * HAMPEL_HALF {
        return;
    }
    let values = match track.by {
        PlacedBy::Output => off_neighbours(track, &places),
        _ => places.iter().map(|(i, y)| y - track.spots.get(*i).map_or(0.0, |s| s.x)).collect(),
    };
    let least = (HAMPEL_WIDTH * track.sigma).max(LEAST_OFF);
    let flags = hampel_above(&values, HAMPEL_HALF, HAMPEL_WIDTH, least / HAMPEL_WIDTH);
    for (k, (i, _)) in places.iter().enumerate().filter(|(k, _)| flags.get(*k) == Some(&true)) {
        let around = k.saturating_sub(HAMPEL_HALF)..(k + HAMPEL_HALF + 1).min(values.len());
        let middle = median(values.get(around).unwrap_or_default()).unwrap_or(0.0);
        let off = values.get(k).map_or(0.0, |v| (v - middle).abs());
        events.push(excursion(track, (*i, *i), (1, off)));
    }
}

/// Each reading against the straight line through the middles of the seven before and the seven after it: that takes out
/// the way moved, which would widen the window's spread. Near the ends, where the hand turns round, nothing is said.
fn off_neighbours(track: &Track, places: &[(usize, f64)]) -> Vec<f64> {
    let time = |k: usize| places.get(k).and_then(|p| track.spots.get(p.0)).map_or(0.0, |s| s.t);
    let middle = |from: usize| {
        let side = from..from + HAMPEL_HALF;
        let times: Vec<f64> = side.clone().map(time).collect();
        let values: Vec<f64> = places.get(side).unwrap_or_default().iter().map(|p| p.1).collect();
        median(&times).zip(median(&values))
    };
    (0..places.len())
        .map(|k| {
            if k < HAMPEL_HALF || k + HAMPEL_HALF >= places.len() {
                return 0.0;
            }
            let (Some((ta, ya)), Some((tb, yb))) = (middle(k - HAMPEL_HALF), middle(k + 1)) else {
                return 0.0;
            };
            let share = if tb > ta { (time(k) - ta) / (tb - ta) } else { 0.5 };
            places.get(k).map_or(0.0, |p| p.1 - (ya + (yb - ya) * share))
        })
        .collect()
}

/// An event with its edges halfway to the neighbours that were seen.
fn event(
    track: &Track,
    (what, first, last): (Happening, usize, usize),
    (samples, level, size): (usize, Option<f64>, f64),
) -> Event {
    let x = |i: usize| track.spots.get(i).map_or(0.0, |s| s.x);
    let pass = track.spots.get(first).map_or(0, |s| s.pass);
    let right = |s: &&super::track::Spot| s.y.is_some();
    let before =
        track.spots.get(..first).unwrap_or_default().iter().rev().find(right).map_or(x(first), |s| s.x);
    let after = track.spots.get(last + 1..).unwrap_or_default().iter().find(right).map_or(x(last), |s| s.x);
    let (a, b) = (0.5 * (before + x(first)), 0.5 * (after + x(last)));
    let edge = 0.5 * (before - x(first)).abs().max((after - x(last)).abs());
    Event { what, pass, from: a.min(b), to: a.max(b), first, last, samples, edge, level, size }
}

/// Joins events of one pass that follow each other sample on sample.
fn merged(events: Vec<Event>) -> Vec<Event> {
    let mut out: Vec<Event> = Vec::with_capacity(events.len());
    for next in events {
        match out.last_mut() {
            Some(last)
                if last.pass == next.pass
                    && last.what != Happening::Leap
                    && next.what != Happening::Leap
                    && next.first <= last.last + 1 =>
            {
                last.what = if next.what == Happening::Lost { next.what } else { last.what };
                last.last = last.last.max(next.last);
                last.samples += next.samples;
                (last.from, last.to) = (last.from.min(next.from), last.to.max(next.to));
                last.size = last.size.max(next.size);
                last.level = last.level.or(next.level);
            }
            _ => out.push(next),
        }
    }
    out
}
