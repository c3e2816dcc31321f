//! Linearity by the four usual definitions, and the loading error.
//!
//! Definitions: VRCI-P-100A (Variable Resistive Components Institute), as in C. D. Todd, ed., *The Potentiometer
//! Handbook*, McGraw-Hill 1975 (both from memory); they are computed in [`evidence::linearity`]. Deviations are in per
//! cent of the applied voltage; where that is not known, of the range, and the text says so. They are taken from the
//! folded readings (median of all passes at each place) without those marked as defects, so that a dead spot is not
//! counted twice.

use super::finding::{Figure, Finding, Subject, place_text};
use super::findings::of_applied;
use super::fold::Fold;
use super::limits::Limit;
use super::track::{PlacedBy, Track};
use super::{Limits, Log};
use evidence::linearity::{self, Line, LinearityError};
use quantity::{Dimension, Measured, Units, show};

type Definition = fn(&[(f64, f64)]) -> Result<Line, LinearityError>;

/// Deviations from the four lines; without travel in the log nothing can be told.
pub(super) fn linearity(track: &Track, fold: &Fold, limits: &Limits) -> Vec<Finding> {
    if track.by == PlacedBy::Output {
        return limits.linearity.iter().map(untold).collect();
    }
    let (share, of) = of_applied(track, limits);
    let points: Vec<(f64, f64)> = fold.points().iter().map(|(x, y)| (*x, y * share)).collect();
    let judged_absolute = limits.expected.is_some();
    let own = limits.linearity.as_ref();
    let definitions: [(Subject, &str, &str, Definition, Option<&Limit>); 3] = [
        (
            Subject::IndependentLinearity,
            "Independent linearity",
            "the straight line that fits best",
            linearity::independent,
            own.filter(|_| !judged_absolute),
        ),
        (
            Subject::TerminalLinearity,
            "Terminal-based linearity",
            "the straight line through the actual ends",
            linearity::terminal_based,
            None,
        ),
        (
            Subject::ZeroBasedLinearity,
            "Zero-based linearity",
            "the best straight line through the lower end",
            linearity::zero_based,
            None,
        ),
    ];
    let finding = |subject, title: &str, line: &str, found: Line, (limit, of): (Option<&Limit>, &str)| {
        let figure = Figure::share(found.deviation, uncertainty(fold, found.worst_travel) * share);
        let place = place_text(found.worst_travel, found.worst_travel, track.by);
        let text = format!("The output is off {line} by {} of {of} at most, {place}.", figure.shown);
        Finding::new(subject, title, text)
            .figure(figure)
            .place(found.worst_travel, found.worst_travel)
            .judged(limit, None)
    };
    let mut out: Vec<Finding> = absolute(track, fold, limits)
        .map(|(found, of)| {
            let line = "the line that it should follow";
            finding(Subject::AbsoluteLinearity, "Absolute linearity", line, found, (own, of))
        })
        .into_iter()
        .collect();
    for (subject, title, line, definition, limit) in definitions {
        if let Ok(found) = definition(&points) {
            out.push(finding(subject, title, line, found, (limit, of)));
        }
    }
    out
}

/// Deviation from the line through the expected ends.
fn absolute(track: &Track, fold: &Fold, limits: &Limits) -> Option<(Line, &'static str)> {
    let (start, full) = limits.expected.filter(|(a, b)| a.is_finite() && b.is_finite() && a != b)?;
    let output = |y: f64| (track.output(y) - start) / (full - start);
    let points: Vec<(f64, f64)> = fold.points().iter().map(|(x, y)| (*x, output(*y))).collect();
    let mut line = linearity::absolute(&points).ok()?;
    let applied = limits.applied.filter(|a| a.is_finite() && *a > 0.0);
    line.deviation *= applied.map_or(1.0, |a| (full - start).abs() / a);
    Some((line, if applied.is_some() { "what is applied to the track" } else { "the expected range" }))
}

fn uncertainty(fold: &Fold, x: f64) -> f64 {
    let near = fold.both.iter().flatten().min_by(|a, b| (a.x - x).abs().total_cmp(&(b.x - x).abs()));
    near.map_or(0.0, |bin| bin.u)
}

fn untold(limit: &Limit) -> Finding {
    let text = "How straight the output is cannot be told: the log has no travel. Log the travel, or drive the sensor \
                at even speed and say so.";
    let finding = Finding::new(Subject::IndependentLinearity, "Independent linearity", text.to_owned());
    finding.verdict(evidence::conformity::Verdict::CannotTell, "as given", &limit.source)
}

/// Largest error that meter or controller input adds by its load (a voltage only).
pub(super) fn loading(log: &Log, limits: &Limits) -> Option<Finding> {
    let (track, load) = limits.track_ohm.zip(limits.load_ohm)?;
    if log.dimension != Dimension::Voltage || !(track > 0.0 && load > 0.0) {
        return None;
    }
    let (at, error) = linearity::greatest_loading_error(track / load);
    if !error.is_finite() {
        return None;
    }
    let ohms = |value: f64| show(&Measured::exact(value, Dimension::Resistance), Units::Metric);
    let figure = Figure::share(error.abs(), 0.0);
    let text = format!(
        "An input of {} on a track of {} pulls the output down by {} of the applied voltage at most, at {:.0} % of \
         the track.",
        ohms(load),
        ohms(track),
        figure.shown,
        100.0 * at
    );
    Some(Finding::new(Subject::Loading, "Loading error", text).figure(figure).place(at, at))
}
