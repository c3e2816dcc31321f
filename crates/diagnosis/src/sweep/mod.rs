//! The position sensor over its whole travel.
//!
//! A multimeter shows an average and misses short breaks; a logged sweep does not. [`Log::read`] takes the log,
//! [`Sweep::of`] lays all passes over each other by travel and says what is found: a true dead spot stands at the same
//! travel each time and both ways, noise does not. [`Sweep::scene`] draws it.
//!
//! How it is found, and where each limit comes from: `docs/sensor-sweep.md`.

mod defect;
mod event;
mod excursion;
mod finding;
mod findings;
mod fold;
mod limits;
mod log;
mod picture;
mod straight;
mod told;
mod track;

#[cfg(test)]
mod tests;

pub use defect::{Defect, DefectKind, Repeats};
pub use finding::{Figure, Finding, Subject};
pub use limits::{Limit, Limits, Meter};
pub use log::{Log, MOST_SAMPLES, Problem, Reading, Sample};
pub use track::{Pass, PlacedBy};

use evidence::conformity::Verdict;
use fold::Fold;
use quantity::Dimension;
use serde::Serialize;
use track::Track;

/// What the sweep comes to: the outcomes of the check `sensor-sweep`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// From end to end without jumps.
    Clean,
    /// The output jumps, holds or bulges somewhere.
    Jumps,
    /// The contact is lost somewhere, or the output does not follow the travel at all.
    Open,
}

impl Outcome {
    /// Its key in the table of checks.
    pub fn key(self) -> &'static str {
        match self {
            Outcome::Clean => "clean",
            Outcome::Jumps => "jumps",
            Outcome::Open => "open",
        }
    }
}

/// Something to ask before limits are judged.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Question {
    /// The question.
    pub text: String,
    /// What the readings are to be multiplied by ([`Log::scaled`]) if the answer is that another unit was meant. If
    /// the figures are right, set [`Limits::sure`].
    pub factor: f64,
}

/// A judged sweep.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Sweep {
    /// What it comes to; none when the log cannot tell.
    pub outcome: Option<Outcome>,
    /// That in one or two sentences.
    pub text: String,
    /// To be asked first.
    pub questions: Vec<Question>,
    /// What was found, the weightiest first.
    pub findings: Vec<Finding>,
    /// The defects, in the order of travel.
    pub defects: Vec<Defect>,
    /// Ways over the travel.
    pub passes: Vec<Pass>,
    /// From what travel is known.
    pub placed_by: PlacedBy,
    /// What was measured.
    pub dimension: Dimension,
    #[serde(skip)]
    drawn: picture::Drawn,
}

impl Sweep {
    /// Judges a sweep. Never fails: what a log does not tell is said to be so.
    pub fn of(log: &Log, limits: &Limits) -> Sweep {
        match Track::of(log, limits) {
            Some(track) => judged(log, limits, track),
            None => untold(log),
        }
    }

    /// Output against travel (against time, or the number of the sample, where travel is not known), defects marked and
    /// named, the deviation from the line below. Both axes stand under the finger in `data-plot`.
    pub fn scene(&self, units: quantity::Units) -> drawing::Scene {
        picture::scene(self, units)
    }
}

fn judged(log: &Log, limits: &Limits, mut track: Track) -> Sweep {
    let events = event::find(&mut track);
    let fold = Fold::of(&track);
    let defects = defect::find(&track, &events, &fold);
    let sampling = findings::sampling(log, &track, limits);
    let close_enough = sampling.verdict == Some(Verdict::Pass);
    let highest = track.output(0.0).max(track.output(1.0));
    let question = findings::slip(log, highest, limits);
    let of_log = findings::of_log(log, &track);
    let whole = of_log.verdict == Some(Verdict::Pass);

    let mut found = told::findings(log, track.by, &defects, close_enough && whole);
    found.extend(findings::monotonic(&track, &fold));
    found.extend(findings::range(log, &track, limits, question.is_some()));
    found.extend(straight::linearity(&track, &fold, limits));
    found.extend(findings::noise(&track, limits));
    found.extend(findings::play(&track, &fold));
    found.extend(straight::loading(log, limits));
    found.push(sampling);
    found.push(of_log);

    let outcome = if question.is_some() { None } else { outcome(&defects, &found) };
    let drawn = picture::Drawn::of(log, &track, &fold);
    Sweep {
        outcome,
        text: summary(outcome, &question, &found),
        questions: question.into_iter().collect(),
        findings: found,
        defects,
        passes: track.passes,
        placed_by: track.by,
        dimension: log.dimension,
        drawn,
    }
}

/// The worst of the defects; else clean, when nothing that bears on it is left untold.
fn outcome(defects: &[Defect], findings: &[Finding]) -> Option<Outcome> {
    if let Some(worst) = defects.iter().filter_map(Defect::outcome).max() {
        return Some(worst);
    }
    let bears = |f: &&Finding| {
        use Subject::{DeadSpot, FlatSpot, Jump, Log, Monotonic, Noise, Sampling, Smoothness, WornPatch};
        let subjects = [DeadSpot, FlatSpot, Jump, Log, Monotonic, Noise, Sampling, Smoothness, WornPatch];
        subjects.contains(&f.subject)
    };
    let has = |wanted: Verdict| findings.iter().filter(bears).any(|f| f.verdict == Some(wanted));
    if has(Verdict::Fail) {
        Some(Outcome::Jumps)
    } else if has(Verdict::CannotTell) {
        None
    } else {
        Some(Outcome::Clean)
    }
}

fn summary(outcome: Option<Outcome>, question: &Option<Question>, findings: &[Finding]) -> String {
    if let Some(question) = question {
        return question.text.clone();
    }
    let first =
        |wanted: Verdict| findings.iter().find(|f| f.verdict == Some(wanted)).map(|f| f.text.as_str());
    match outcome {
        Some(Outcome::Clean) => "The sensor's output runs from end to end without jumps.".to_owned(),
        Some(_) => {
            let mut failed = findings.iter().filter(|f| f.verdict == Some(Verdict::Fail));
            let text = failed.next().map_or("The sensor's output is faulty.", |f| &f.text).to_owned();
            let mut also: Vec<String> = failed.map(|f| f.title.to_lowercase()).collect();
            also.dedup();
            if also.is_empty() { text } else { format!("{text} Fails also: {}.", also.join(", ")) }
        }
        None => format!("Cannot tell. {}", first(Verdict::CannotTell).unwrap_or_default()),
    }
}

/// A log that is too short, or whose output does not change.
fn untold(log: &Log) -> Sweep {
    let (missing, open) = log.gaps();
    let values: Vec<f64> = log.values().collect();
    let seen = values.len() + open;
    let moved = log.travelled && {
        let travel = log.samples.iter().filter_map(|s| s.travel);
        let (low, high) = travel.fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)));
        high > low
    };
    let (outcome, text) = if seen < track::FEWEST {
        let text = format!(
            "The log is too short: {seen} readings ({missing} missing). Sweep slowly from end to end and back, at least \
             three times, with 20 readings or more each way."
        );
        (None, text)
    } else if open > 0 && 2 * open >= seen {
        (
            Some(Outcome::Open),
            format!("The circuit is open on {open} of {seen} readings: no sweep is to be seen."),
        )
    } else if moved && values.len() >= track::FEWEST {
        let text = "The output does not change while the travel does: wrong pair of wires, or the wiper does not turn.";
        (Some(Outcome::Open), text.to_owned())
    } else {
        let text = "The output does not change: was the sensor moved? Log it while it goes from end to end.";
        (None, text.to_owned())
    };
    let verdict = if outcome.is_some() { Verdict::Fail } else { Verdict::CannotTell };
    let limit = "from about zero to the end value without jumps";
    let finding = Finding::new(Subject::Log, "Log", text.clone()).verdict(verdict, limit, limits::PRACTICE);
    Sweep {
        outcome,
        text: if outcome.is_none() { format!("Cannot tell. {text}") } else { text },
        questions: Vec::new(),
        findings: vec![finding],
        defects: Vec::new(),
        passes: Vec::new(),
        placed_by: if log.travelled { PlacedBy::Travel } else { PlacedBy::Output },
        dimension: log.dimension,
        drawn: picture::Drawn::plain(log),
    }
}
