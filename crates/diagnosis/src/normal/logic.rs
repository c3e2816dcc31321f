//! Control logics as data.

use super::problem::{problem, toml_problem};
use crate::check::{Actuator, Problem};
use serde::{Deserialize, Serialize};
use std::sync::OnceLock;

/// The built-in logics.
const BUILT_IN: &str = include_str!("logics.toml");
/// Longest phase that is drawn, s.
const LONGEST_S: f64 = 600.0;
/// Most logics, and most points of a phase, that are read from a file.
const MOST: usize = 200;

/// Which picture shows the actuator.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Picture {
    /// A servo with two cables.
    Servo,
    /// A governor with balls, spring and rod.
    Governor,
    /// A diaphragm with its feed pipe.
    Diaphragm,
    /// A diaphragm with a vent in its feed pipe.
    DiaphragmVent,
}

/// What a healthy valve does under one way of control.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Logic {
    /// Key, e.g. `runs-to-stop`.
    pub key: String,
    /// Name.
    pub title: String,
    /// What it does.
    pub text: String,
    /// Kinds of actuator it is found on: `servo`, `governor`, `diaphragm`.
    pub actuators: Vec<String>,
    /// How the actuator is drawn.
    pub picture: Picture,
    /// How one knows that an engine has this logic.
    pub known_by: String,
    /// What looks like a fault and is none, for the logic as a whole.
    pub not_a_fault: Vec<String>,
    /// Where the words come from.
    pub source: String,
    /// Where times and travels come from.
    pub figures: String,
    /// The phases from key-on to key-off.
    pub phases: Vec<Phase>,
}

/// One phase of a logic.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Phase {
    /// Key, e.g. `key-on`.
    pub key: String,
    /// Name.
    pub title: String,
    /// What happens.
    pub text: String,
    /// What one sees and hears.
    pub look: String,
    /// What looks like a fault here and is none.
    pub not_a_fault: Vec<String>,
    /// (time from the beginning of the phase in s, travel): straight lines between, time never going back, first 0.
    pub points: Vec<(f64, f64)>,
    /// Engine speed at its beginning and its end, as a part of the highest.
    pub speed: (f64, f64),
}

impl Phase {
    /// How long it is drawn, s.
    pub fn length_s(&self) -> f64 {
        self.points.last().map_or(0.0, |p| p.0)
    }

    /// Travel `seconds` after its beginning; before and after it that of its ends.
    pub fn travel_at(&self, seconds: f64) -> f64 {
        let after = self.points.iter().position(|p| p.0 >= seconds);
        match after {
            Some(0) => self.points[0].1,
            Some(i) => {
                let (a, b) = (self.points[i - 1], self.points[i]);
                let part = if b.0 > a.0 { (seconds - a.0) / (b.0 - a.0) } else { 1.0 };
                a.1 + part * (b.1 - a.1)
            }
            None => self.points.last().map_or(0.0, |p| p.1),
        }
    }

    /// Travel at its end.
    pub fn last_travel(&self) -> f64 {
        self.points.last().map_or(0.0, |p| p.1)
    }

    /// Least and greatest travel in it.
    pub fn range(&self) -> (f64, f64) {
        let travels = self.points.iter().map(|p| p.1);
        travels.fold((1.0, 0.0), |(low, high): (f64, f64), t| (low.min(t), high.max(t)))
    }
}

/// A moment in a logic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Moment<'a> {
    /// The phase it is in.
    pub(crate) phase: &'a Phase,
    /// Valve travel.
    pub(crate) travel: f64,
    /// Engine speed as a part of the highest.
    pub(crate) speed: f64,
}

impl Logic {
    /// From key-on to the end of the last phase, s.
    pub fn length_s(&self) -> f64 {
        self.phases.iter().map(Phase::length_s).sum()
    }

    /// Phases with the time at which each begins, s.
    pub fn starts(&self) -> impl Iterator<Item = (f64, &Phase)> {
        self.phases.iter().scan(0.0, |next, phase| {
            let start = *next;
            *next += phase.length_s();
            Some((start, phase))
        })
    }

    /// The phase with this key.
    pub fn phase(&self, key: &str) -> Option<&Phase> {
        self.phases.iter().find(|p| p.key == key)
    }

    /// Travel at `now_s`; before key-on and after the end that of the ends. Not a number counts as key-on.
    pub fn travel_at(&self, now_s: f64) -> f64 {
        self.moment(now_s).map_or(0.0, |m| m.travel)
    }

    /// The phase at `now_s`.
    pub fn phase_at(&self, now_s: f64) -> Option<&Phase> {
        self.moment(now_s).map(|m| m.phase)
    }

    pub(crate) fn moment(&self, now_s: f64) -> Option<Moment<'_>> {
        let now_s = if now_s.is_finite() { now_s } else { 0.0 };
        let mut begun = self.starts().take_while(|(start, _)| *start <= now_s);
        let (start, phase) = begun.by_ref().last().or_else(|| self.starts().next())?;
        let (from, to) = phase.speed;
        let length = phase.length_s();
        let part = if length > 0.0 { ((now_s - start) / length).clamp(0.0, 1.0) } else { 0.0 };
        Some(Moment { phase, travel: phase.travel_at(now_s - start), speed: from + part * (to - from) })
    }
}

/// The built-in logics.
pub fn logics() -> &'static [Logic] {
    static LOGICS: OnceLock<Vec<Logic>> = OnceLock::new();
    LOGICS.get_or_init(|| read(BUILT_IN).unwrap_or_default())
}

/// The built-in logic with this key.
pub fn logic(key: &str) -> Option<&'static Logic> {
    logics().iter().find(|l| l.key == key)
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawFile {
    phase: Vec<RawTitle>,
    logic: Vec<RawLogic>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawTitle {
    key: String,
    title: String,
    speed: (f64, f64),
    source: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawLogic {
    key: String,
    like: Option<String>,
    title: String,
    text: String,
    actuators: Vec<String>,
    picture: Picture,
    known_by: String,
    not_a_fault: Vec<String>,
    source: String,
    figures: String,
    phases: Vec<RawPhase>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawPhase {
    key: String,
    text: String,
    look: String,
    #[serde(default)]
    not_a_fault: Vec<String>,
    points: Vec<(f64, f64)>,
}

/// Reads a file of logics: the format of the built-in one.
///
/// # Errors
/// Everything that is wrong in it, one sentence each.
pub fn read(text: &str) -> Result<Vec<Logic>, Vec<Problem>> {
    let raw: RawFile = toml::from_str(text).map_err(|error| vec![toml_problem(text, &error)])?;
    if raw.logic.len() > MOST || raw.phase.len() > MOST {
        let message = format!("The file has more than {MOST} records; split it.");
        return Err(vec![problem("", message)]);
    }
    let mut problems = Vec::new();
    for title in &raw.phase {
        check_title(title, &mut problems);
    }
    let mut logics: Vec<Logic> = Vec::new();
    for record in raw.logic {
        if logics.iter().any(|l| l.key == record.key) {
            problems.push(problem(&record.key, "Two logics have this key; give one of them another."));
        }
        let logic = resolve(record, &raw.phase, &logics, &mut problems);
        logics.push(logic);
    }
    if problems.is_empty() { Ok(logics) } else { Err(problems) }
}

fn check_title(title: &RawTitle, problems: &mut Vec<Problem>) {
    let within = |v: f64| (0.0..=1.0).contains(&v);
    if !within(title.speed.0) || !within(title.speed.1) {
        let message = "The engine speed is a part of the highest: write two figures from 0 to 1.";
        problems.push(problem(format!("{}.speed", title.key), message));
    }
    if title.source.trim().is_empty() {
        let message = "The source is missing: write where it comes from, or \"estimate\".";
        problems.push(problem(format!("{}.source", title.key), message));
    }
}

/// Puts the phases of a record in their order, taking those it does not write from the logic it is like.
fn resolve(raw: RawLogic, titles: &[RawTitle], earlier: &[Logic], problems: &mut Vec<Problem>) -> Logic {
    let like = raw.like.as_ref().and_then(|key| earlier.iter().find(|l| &l.key == key));
    if let (Some(key), None) = (&raw.like, like) {
        let message = format!("No earlier logic has the key \"{key}\"; write that one first.");
        problems.push(problem(format!("{}.like", raw.key), message));
    }
    for phase in raw.phases.iter().filter(|p| titles.iter().all(|t| t.key != p.key)) {
        let message = format!("\"{}\" is not in the list of phases; add a [[phase]] for it.", phase.key);
        problems.push(problem(format!("{}.phases", raw.key), message));
    }
    for actuator in raw.actuators.iter().filter(|a| Actuator::of_key(a).is_none()) {
        let message = format!("\"{actuator}\" is not known; there are servo, governor and diaphragm.");
        problems.push(problem(format!("{}.actuators", raw.key), message));
    }
    let source_missing = raw.source.trim().is_empty() || raw.figures.trim().is_empty();
    if source_missing {
        let message = "The source of words or figures is missing: write it, or \"estimate\".";
        problems.push(problem(format!("{}.source", raw.key), message));
    }
    let mut phases = Vec::new();
    for title in titles {
        if let Some(phase) = raw.phases.iter().find(|p| p.key == title.key) {
            check_points(&raw.key, phase, problems);
            phases.push(phase_of(phase, title));
        } else if let Some(phase) = like.and_then(|l| l.phase(&title.key)) {
            phases.push(phase.clone());
        }
    }
    if phases.is_empty() {
        problems.push(problem(format!("{}.phases", raw.key), "The logic has no phase; write one at least."));
    }
    Logic {
        key: raw.key,
        title: raw.title,
        text: raw.text,
        actuators: raw.actuators,
        picture: raw.picture,
        known_by: raw.known_by,
        not_a_fault: raw.not_a_fault,
        source: raw.source,
        figures: raw.figures,
        phases,
    }
}

fn phase_of(raw: &RawPhase, title: &RawTitle) -> Phase {
    Phase {
        key: raw.key.clone(),
        title: title.title.clone(),
        text: raw.text.clone(),
        look: raw.look.clone(),
        not_a_fault: raw.not_a_fault.clone(),
        points: raw.points.clone(),
        speed: title.speed,
    }
}

fn check_points(logic: &str, phase: &RawPhase, problems: &mut Vec<Problem>) {
    let points = &phase.points;
    let message = if points.len() < 2 || points.len() > MOST {
        format!("The curve has {} points; write from 2 to {MOST} of [seconds, travel].", points.len())
    } else if points[0].0 != 0.0 {
        format!(
            "The curve begins at {} s; its first point is at 0 s, the beginning of the phase.",
            points[0].0
        )
    } else if points.windows(2).any(|p| p[1].0 < p[0].0) {
        "The times go back; sort the points by time.".to_owned()
    } else if let Some(p) = points.iter().find(|p| !(0.0..=1.0).contains(&p.1)) {
        format!("A travel of {} is not between 0 (closed) and 1 (fully open).", p.1)
    } else if !points.iter().all(|p| (0.0..=LONGEST_S).contains(&p.0)) || points[points.len() - 1].0 <= 0.0 {
        format!("The phase must last longer than 0 s and no longer than {LONGEST_S} s.")
    } else {
        return;
    };
    problems.push(problem(format!("{logic}.{}.points", phase.key), message));
}

#[cfg(test)]
mod tests;
