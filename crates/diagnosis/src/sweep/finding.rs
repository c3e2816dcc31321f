//! What is said of a sweep.

use super::limits::Limit;
use super::track::PlacedBy;
use evidence::conformity::Verdict;
use quantity::{Dimension, Measured, Units, show};
use serde::Serialize;

/// What a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Subject {
    /// Samples, gaps and passes of the log.
    Log,
    /// Whether the samples lie close enough to show a dead spot.
    Sampling,
    /// A place without contact, or that there is none.
    DeadSpot,
    /// A place where the output jumps.
    Jump,
    /// A place where the output holds while the travel goes on.
    FlatSpot,
    /// A place where the output bulges.
    WornPatch,
    /// The output stands still at an end of the travel.
    FlatEnd,
    /// Whether the output goes one way only.
    Monotonic,
    /// Lowest output.
    Lowest,
    /// Highest output.
    Highest,
    /// Highest less lowest output.
    Range,
    /// Spread of a reading.
    Noise,
    /// Output smoothness.
    Smoothness,
    /// Deviation from the line that should be.
    AbsoluteLinearity,
    /// Deviation from the best line.
    IndependentLinearity,
    /// Deviation from the line through the actual ends.
    TerminalLinearity,
    /// Deviation from the best line through the lower end.
    ZeroBasedLinearity,
    /// What the meter or controller takes away.
    Loading,
    /// Difference between going up and coming back.
    Play,
}

/// A figure with its uncertainty.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Figure {
    /// Value in Ω or V, or as a share (0.05 is 5 %).
    pub value: f64,
    /// Standard uncertainty in the same unit.
    pub u: f64,
    /// `Ω`, `V` or `share`.
    pub unit: &'static str,
    /// As it is shown: value ± expanded uncertainty (k = 2) with its unit.
    pub shown: String,
}

impl Figure {
    /// An output.
    pub(super) fn output(value: f64, u: f64, dimension: Dimension) -> Self {
        let unit = if dimension == Dimension::Voltage { "V" } else { "Ω" };
        let shown = show(&Measured::normal(value, u, dimension), Units::Metric);
        Self { value, u, unit, shown }
    }

    /// A share, shown in per cent.
    pub(super) fn share(value: f64, u: f64) -> Self {
        Self { value, u, unit: "share", shown: percent(value, u) }
    }
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Finding {
    /// What it is about.
    pub subject: Subject,
    /// Two or three words.
    pub title: String,
    /// What was found, in full sentences.
    pub text: String,
    /// The figure, when there is one.
    pub figure: Option<Figure>,
    /// From where to where on the travel, 0 to 1.
    pub place: Option<(f64, f64)>,
    /// The verdict; none when nothing was demanded.
    pub verdict: Option<Verdict>,
    /// The limit as shown: `at most 2.00 %`.
    pub limit: Option<String>,
    /// Where the limit comes from.
    pub source: Option<String>,
}

impl Finding {
    pub(super) fn new(subject: Subject, title: &str, text: String) -> Self {
        let (figure, place, verdict, limit, source) = (None, None, None, None, None);
        Self { subject, title: title.to_owned(), text, figure, place, verdict, limit, source }
    }

    pub(super) fn figure(mut self, figure: Figure) -> Self {
        self.figure = Some(figure);
        self
    }

    pub(super) fn place(mut self, from: f64, to: f64) -> Self {
        self.place = Some((from, to));
        self
    }

    /// With a verdict that no figure decides.
    pub(super) fn verdict(mut self, verdict: Verdict, limit: &str, source: &str) -> Self {
        self.verdict = Some(verdict);
        self.limit = Some(limit.to_owned());
        self.source = Some(source.to_owned());
        self
    }

    /// Judges its figure against a limit, when there is one.
    pub(super) fn judged(mut self, limit: Option<&Limit>, dimension: Option<Dimension>) -> Self {
        let (Some(limit), Some(figure)) = (limit, &self.figure) else { return self };
        self.verdict = Some(limit.evidence().judge(figure.value, figure.u).verdict);
        self.limit = Some(shown_limit(limit, dimension));
        self.source = Some(limit.source.clone());
        self
    }
}

/// A limit in words; shares in per cent.
fn shown_limit(limit: &Limit, dimension: Option<Dimension>) -> String {
    let one = |value: f64| match dimension {
        Some(dimension) => show(&Measured::exact(value, dimension), Units::Metric),
        None => percent(value, 0.0),
    };
    match (limit.lower, limit.upper) {
        (Some(lower), Some(upper)) => format!("{} to {}", one(lower), one(upper)),
        (Some(lower), None) => format!("at least {}", one(lower)),
        (None, Some(upper)) => format!("at most {}", one(upper)),
        (None, None) => "none".to_owned(),
    }
}

/// A share in per cent with its expanded uncertainty, `5.20 ± 0.12 %`; an exact one with three digits, `50.1 %`.
pub(super) fn percent(value: f64, u: f64) -> String {
    let shown = if u > 0.0 {
        show(&Measured::normal(100.0 * value, 100.0 * u, Dimension::Number), Units::Metric)
    } else {
        let size = (100.0 * value).abs();
        let decimals = if size >= 100.0 {
            0
        } else if size >= 10.0 {
            1
        } else {
            2
        };
        let text = format!("{:.decimals$}", 100.0 * value);
        let text = if decimals > 0 { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
        text.replace('-', "−")
    };
    format!("{shown} %")
}

/// A travel in per cent with one decimal.
pub(super) fn place_text(from: f64, to: f64, by: PlacedBy) -> String {
    let of = if by == PlacedBy::Output { "of the output's range" } else { "of travel" };
    let (a, b) = (format!("{:.1}", 100.0 * from), format!("{:.1}", 100.0 * to));
    if a == b { format!("at {a} % {of}") } else { format!("from {a} to {b} % {of}") }
}
