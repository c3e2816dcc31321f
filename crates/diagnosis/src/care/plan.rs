//! What the user says of one engine: its use, its season, and intervals of their own.

use super::history::EntryProblem;
use super::task::{Every, Task, Tasks};
use super::{Season, SeasonTurn, counter};
use quantity::Units;
use serde::Serialize;
use std::collections::BTreeMap;

/// An interval of the user's own in place of that of a task.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct OwnInterval {
    /// Interval; empty parts are not watched.
    pub every: Every,
    /// Turns of the season; none keeps those of the task.
    pub season: Option<Vec<SeasonTurn>>,
    /// Where it comes from, e.g. the page of the manual; empty when not said.
    pub source: String,
    /// Not to be reminded of.
    pub off: bool,
}

/// How one engine is used and cared for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plan {
    /// Kind of actuator: `servo`, `governor`, `diaphragm`.
    pub actuator: String,
    /// Keys of the uses that apply.
    pub uses: Vec<String>,
    /// The riding season.
    pub season: Season,
    /// Whether the season was said by the user.
    pub season_is_own: bool,
    /// Own intervals by task.
    pub own: BTreeMap<String, OwnInterval>,
    /// Units in which distances are shown.
    pub units: Units,
    /// Texts that could not be used.
    pub problems: Vec<EntryProblem>,
}

impl Plan {
    /// The plan of an engine of which nothing was said.
    pub fn usual(actuator: &str) -> Self {
        Self {
            actuator: actuator.to_owned(),
            uses: Vec::new(),
            season: Season::USUAL,
            season_is_own: false,
            own: BTreeMap::new(),
            units: Units::Metric,
            problems: Vec::new(),
        }
    }

    /// Reads the texts of the engine's page: `care.use` and `care.oil` (keys of uses, with commas between), `care.season`
    /// ("April to October"), and for each task `care.<task>.hours`, `.distance`, `.months`, `.season` ("before lay-up",
    /// "after lay-up", "both", "none"), `.source` and `.off` ("yes").
    ///
    /// One figure of an own interval replaces the whole built-in one: what the manual does not say is not watched.
    pub fn read(entries: &BTreeMap<String, String>, tasks: &Tasks, actuator: &str, units: Units) -> Self {
        let mut plan = Self { units, ..Self::usual(actuator) };
        for (key, text) in entries {
            let Some(rest) = key.strip_prefix("care.") else { continue };
            let text = text.trim();
            if text.is_empty() {
                continue;
            }
            let read = match rest {
                "use" | "oil" => plan.read_uses(text, tasks),
                "season" => {
                    Season::read(text).map(|season| (plan.season, plan.season_is_own) = (season, true))
                }
                _ => match rest.rsplit_once('.') {
                    Some((task, part)) if tasks.get(task).is_some() => plan.read_own(task, part, text),
                    _ => Ok(()),
                },
            };
            if let Err(message) = read {
                plan.problems.push(EntryProblem { key: key.clone(), message });
            }
        }
        plan
    }

    fn read_uses(&mut self, text: &str, tasks: &Tasks) -> Result<(), String> {
        for word in text.split(',').map(str::trim).filter(|w| !w.is_empty()) {
            let found = tasks.uses.iter().find(|u| u.key == word || u.title.eq_ignore_ascii_case(word));
            let Some(found) = found else {
                let known: Vec<&str> = tasks.uses.iter().map(|u| u.key.as_str()).collect();
                return Err(format!("\"{word}\" is no use that is known. Known are {}.", known.join(", ")));
            };
            if !self.uses.contains(&found.key) {
                self.uses.push(found.key.clone());
            }
        }
        Ok(())
    }

    fn read_own(&mut self, task: &str, part: &str, text: &str) -> Result<(), String> {
        let own = || OwnInterval::default();
        match part {
            "hours" => {
                let hours = above_zero(counter::hours(text)?, text)?;
                self.own.entry(task.to_owned()).or_insert_with(own).every.hours = Some(hours);
            }
            "distance" => {
                let km = above_zero(counter::km(text)?, text)?;
                self.own.entry(task.to_owned()).or_insert_with(own).every.km = Some(km);
            }
            "months" => {
                let months = counter::months(text)?;
                self.own.entry(task.to_owned()).or_insert_with(own).every.months = Some(months);
            }
            "season" => {
                let turns = turns(text)?;
                self.own.entry(task.to_owned()).or_insert_with(own).season = Some(turns);
            }
            "source" => {
                text.clone_into(&mut self.own.entry(task.to_owned()).or_insert_with(own).source);
            }
            "off" => {
                let off = matches!(text.to_lowercase().as_str(), "yes" | "on" | "true");
                self.own.entry(task.to_owned()).or_insert_with(own).off = off;
            }
            _ => {}
        }
        Ok(())
    }

    /// The interval and turns of a task for this engine before anything was learned.
    pub(super) fn interval(&self, task: &Task) -> Interval {
        let own = self.own.get(&task.key);
        let season = own.and_then(|o| o.season.clone()).unwrap_or_else(|| task.season.clone());
        if let Some(own) = own.filter(|o| o.every != Every::default()) {
            let source = if own.source.is_empty() { "your own" } else { own.source.as_str() };
            let source = source.to_owned();
            return Interval {
                every: own.every,
                factor: 1.0,
                uses: Vec::new(),
                season,
                source,
                is_own: true,
            };
        }
        let applied: Vec<(&String, f64)> =
            self.uses.iter().filter_map(|u| task.uses.get(u).map(|f| (u, *f))).collect();
        Interval {
            every: task.every,
            factor: applied.iter().map(|a| a.1).product(),
            uses: applied.iter().map(|a| a.0.clone()).collect(),
            season,
            source: task.figures.clone(),
            is_own: false,
        }
    }
}

/// An interval as it applies to one engine.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Interval {
    pub(super) every: Every,
    /// Product of the factors of the uses.
    pub(super) factor: f64,
    /// The uses that count.
    pub(super) uses: Vec<String>,
    pub(super) season: Vec<SeasonTurn>,
    pub(super) source: String,
    pub(super) is_own: bool,
}

fn above_zero(value: f64, text: &str) -> Result<f64, String> {
    if value > 0.0 { Ok(value) } else { Err(format!("\"{text}\" is no interval; it must be above zero.")) }
}

fn turns(text: &str) -> Result<Vec<SeasonTurn>, String> {
    match text.to_lowercase().replace('-', " ").as_str() {
        "before lay up" => Ok(vec![SeasonTurn::BeforeLayUp]),
        "after lay up" => Ok(vec![SeasonTurn::AfterLayUp]),
        "both" => Ok(vec![SeasonTurn::BeforeLayUp, SeasonTurn::AfterLayUp]),
        "none" | "no" => Ok(Vec::new()),
        _ => Err(format!(
            "\"{text}\" is no turn of the season. Write before lay-up, after lay-up, both or none."
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(entries: &[(&str, &str)]) -> Plan {
        let entries = entries.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
        Plan::read(&entries, Tasks::built_in(), "servo", Units::Metric)
    }

    #[test]
    fn exact_uses_multiply_and_own_figures_replace() {
        let task = Tasks::built_in().get("clean-valve").unwrap();
        let both = plan(&[("care.use", "competition"), ("care.oil", "mineral two-stroke oil, competition")]);
        assert_eq!(both.problems, []);
        assert_eq!(both.interval(task).factor, 0.5 * 0.75);
        let own = plan(&[
            ("care.use", "competition"),
            ("care.clean-valve.hours", "12 h"),
            ("care.clean-valve.source", "manual, page 88"),
            ("care.clean-valve.season", "none"),
        ]);
        let interval = own.interval(task);
        assert_eq!(interval.every, Every { hours: Some(12.0), km: None, months: None });
        assert_eq!((interval.factor, interval.source.as_str()), (1.0, "manual, page 88"));
        assert!(interval.season.is_empty());
    }

    #[test]
    fn refuses_what_is_not_known_and_keeps_the_rest() {
        let found = plan(&[
            ("care.use", "racing"),
            ("care.season", "summer"),
            ("care.clean-valve.hours", "soon"),
            ("care.clean-valve.distance", "1500"),
            ("care.clean-valve.months", "0"),
            ("care.cable-run.hours", "0 h"),
            ("care.cable-run.season", "spring"),
            ("care.grease.months", "6"),
            ("care.nothing.hours", "5 h"),
        ]);
        let keys: Vec<&str> = found.problems.iter().map(|p| p.key.as_str()).collect();
        assert_eq!(keys.len(), 7, "{keys:?}");
        assert!(found.problems.iter().all(|p| p.message.ends_with('.')));
        assert_eq!(found.own["grease"].every.months, Some(6));
        assert_eq!(found.season, Season::USUAL);
    }
}
