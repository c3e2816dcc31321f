//! Tasks as data.

use crate::check::{Actuator, Problem};
use crate::normal::problem::{problem, toml_problem};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// The built-in tasks.
const BUILT_IN: &str = include_str!("tasks.toml");
/// Keys that mean something else in the texts of a job card.
const RESERVED: [&str; 6] = ["use", "oil", "season", "day", "hours", "distance"];
/// Most records of a file.
const MOST_RECORDS: usize = 500;
/// An interval may be multiplied by no less and no more.
const FACTORS: std::ops::RangeInclusive<f64> = 0.1..=10.0;

/// Every so many hours, km or months, whichever comes first.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Every {
    /// Hours of the engine.
    pub hours: Option<f64>,
    /// Distance, km.
    pub km: Option<f64>,
    /// Months.
    pub months: Option<u32>,
}

impl Every {
    /// Hours and km multiplied by `factor`, rounded to half hours and 50 km where they are not small: more digits would
    /// promise what an estimate does not hold. Months stay whole; days are counted from them.
    pub(super) fn scaled(&self, factor: f64) -> Self {
        if factor == 1.0 {
            return *self;
        }
        let to = |value: Option<f64>, step: f64| {
            value.map(|v| v * factor).map(|v| if v >= 4.0 * step { (v / step).round() * step } else { v })
        };
        Self { hours: to(self.hours, 0.5), km: to(self.km, 50.0), months: self.months }
    }
}

/// At which turn of the season.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SeasonTurn {
    /// As the season ends.
    BeforeLayUp,
    /// Before the new season begins.
    AfterLayUp,
}

/// A way of using the engine that changes intervals.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Use {
    /// Key, e.g. `competition`.
    pub key: String,
    /// Name.
    pub title: String,
    /// What it does to the valve.
    pub text: String,
    /// Where that comes from.
    pub source: String,
}

/// Something to be done again and again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Task {
    /// Key, e.g. `clean-valve`.
    pub key: String,
    /// Name.
    pub title: String,
    /// What happens when it is left.
    pub why: String,
    /// What is done.
    pub text: String,
    /// Kinds of actuator it is for: `servo`, `governor`, `diaphragm`.
    pub actuators: Vec<String>,
    /// About how long it takes.
    pub minutes: f64,
    /// Interval.
    #[serde(default)]
    pub every: Every,
    /// Turns of the season.
    #[serde(default)]
    pub season: Vec<SeasonTurn>,
    /// Factors on every interval, by use.
    #[serde(default, rename = "use")]
    pub uses: BTreeMap<String, f64>,
    /// Whether the engine's own history changes the interval.
    #[serde(default)]
    pub learns: bool,
    /// Where the words come from.
    pub source: String,
    /// Where the figures come from.
    pub figures: String,
}

/// All tasks, with the uses they name.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tasks {
    /// Uses.
    #[serde(default, rename = "use")]
    pub uses: Vec<Use>,
    /// Tasks.
    #[serde(default, rename = "task")]
    pub tasks: Vec<Task>,
}

impl Tasks {
    /// The built-in tasks.
    pub fn built_in() -> &'static Self {
        static TASKS: OnceLock<Tasks> = OnceLock::new();
        TASKS.get_or_init(|| Self::read(BUILT_IN).unwrap_or_default())
    }

    /// Reads a file of tasks: the format of the built-in one. A task may name the built-in uses without repeating them.
    ///
    /// # Errors
    /// Everything that is wrong in it, one sentence each.
    pub fn read(text: &str) -> Result<Self, Vec<Problem>> {
        let tasks: Self = toml::from_str(text).map_err(|error| vec![toml_problem(text, &error)])?;
        let mut problems = Vec::new();
        if tasks.tasks.len() + tasks.uses.len() > MOST_RECORDS {
            problems.push(problem("", format!("The file has more than {MOST_RECORDS} records; split it.")));
        }
        let mut known: Vec<String> = tasks.uses.iter().map(|u| u.key.clone()).collect();
        if text != BUILT_IN {
            known.extend(Self::built_in().uses.iter().map(|u| u.key.clone()));
        }
        for (i, task) in tasks.tasks.iter().enumerate() {
            if tasks.tasks[..i].iter().any(|t| t.key == task.key) {
                problems.push(problem(&task.key, "Two tasks have this key; give one of them another."));
            }
            check(task, &known, &mut problems);
        }
        for found in tasks.uses.iter().filter(|u| u.source.trim().is_empty()) {
            problems.push(problem(format!("{}.source", found.key), SOURCE_MISSING));
        }
        if problems.is_empty() { Ok(tasks) } else { Err(problems) }
    }

    /// These tasks with the user's own: equal keys are replaced, others added behind.
    #[must_use]
    pub fn with(mut self, own: Self) -> Self {
        for task in own.tasks {
            match self.tasks.iter_mut().find(|t| t.key == task.key) {
                Some(place) => *place = task,
                None => self.tasks.push(task),
            }
        }
        for own_use in own.uses {
            match self.uses.iter_mut().find(|u| u.key == own_use.key) {
                Some(place) => *place = own_use,
                None => self.uses.push(own_use),
            }
        }
        self
    }

    /// The task with this key.
    pub fn get(&self, key: &str) -> Option<&Task> {
        self.tasks.iter().find(|t| t.key == key)
    }

    /// The tasks for a kind of actuator.
    pub fn of<'a>(&'a self, actuator: &'a str) -> impl Iterator<Item = &'a Task> {
        self.tasks.iter().filter(move |t| t.actuators.iter().any(|a| a == actuator))
    }
}

const SOURCE_MISSING: &str = "The source is missing: write where it comes from, or \"estimate\".";

fn check(task: &Task, uses: &[String], problems: &mut Vec<Problem>) {
    let key = &task.key;
    let mut add = |part: &str, message: String| {
        let place = if part.is_empty() { key.clone() } else { format!("{key}.{part}") };
        problems.push(problem(place, message));
    };
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if key.is_empty() || !key.chars().all(plain) {
        add("", "A key is made of small letters, digits and hyphens; write it as clean-valve.".into());
    } else if RESERVED.contains(&key.as_str()) {
        add("", format!("\"{key}\" means something else on a job card; choose another key."));
    }
    let source_missing = task.source.trim().is_empty() || task.figures.trim().is_empty();
    if source_missing {
        add("source", SOURCE_MISSING.into());
    }
    if task.actuators.is_empty() {
        add(
            "actuators",
            "The task is for no actuator; write servo, governor, diaphragm or several of them.".into(),
        );
    }
    for actuator in task.actuators.iter().filter(|a| Actuator::of_key(a).is_none()) {
        add("actuators", format!("\"{actuator}\" is not known; there are servo, governor and diaphragm."));
    }
    let Every { hours, km, months } = task.every;
    if hours.is_none() && km.is_none() && months.is_none() && task.season.is_empty() {
        add("every", "The task has no interval: write hours, km or months, or a season.".into());
    }
    let bad = |v: Option<f64>| v.is_some_and(|v| !(v > 0.0 && v.is_finite()));
    if bad(hours) || bad(km) || months.is_some_and(|m| !(1..=240).contains(&m)) {
        add("every", "An interval must be above zero, months from 1 to 240.".into());
    }
    if !(0.0..=10_000.0).contains(&task.minutes) {
        add("minutes", format!("{} is no time in minutes; write from 0 to 10000.", task.minutes));
    }
    for (name, factor) in &task.uses {
        if !uses.contains(name) {
            add("use", format!("\"{name}\" is no use of the list; add a [[use]] for it."));
        }
        if !FACTORS.contains(factor) {
            add("use", format!("The factor {factor} for \"{name}\" must be from 0.1 to 10."));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_built_in_file_reads_without_a_problem() {
        assert_eq!(Tasks::read(BUILT_IN), Ok(Tasks::built_in().clone()));
        for actuator in Actuator::ALL.map(Actuator::key) {
            let keys: Vec<&str> = Tasks::built_in().of(actuator).map(|t| t.key.as_str()).collect();
            assert!(keys.contains(&"clean-valve") && keys.len() >= 8, "{actuator}: {keys:?}");
        }
        assert!(Tasks::built_in().of("servo").all(|t| t.key != "diaphragm" && t.key != "governor"));
    }

    #[test]
    fn practice_every_text_is_a_sentence_and_has_a_source() {
        let sources = ["common practice, no source", "estimate"];
        for task in &Tasks::built_in().tasks {
            for text in [&task.why, &task.text] {
                assert!(text.ends_with('.') && text.trim() == text, "{}: {text}", task.key);
            }
            assert!(!task.title.ends_with('.'));
            for source in [&task.source, &task.figures] {
                assert!(sources.contains(&source.as_str()), "{}", task.key);
            }
        }
        for found in &Tasks::built_in().uses {
            assert!(found.text.ends_with('.') && sources.contains(&found.source.as_str()), "{}", found.key);
        }
    }

    #[test]
    fn exact_scaled_intervals_are_round() {
        let every = Every { hours: Some(30.0), km: Some(3000.0), months: Some(12) };
        let scaled = every.scaled(0.625);
        assert_eq!((scaled.hours, scaled.km, scaled.months), (Some(19.0), Some(1900.0), Some(12)));
        assert_eq!(every.scaled(1.0), every);
        assert_eq!(Every { hours: Some(1.0), ..every }.scaled(0.5).hours, Some(0.5));
    }

    const OWN: &str = r#"
[[task]]
key = "clean-valve"
title = "Clean the valve"
why = "My engine carbons."
text = "As the manual says, page 88."
actuators = ["servo"]
minutes = 40
every = { hours = 15 }
source = "manual, page 88"
figures = "manual, page 88"
"#;

    #[test]
    fn exact_own_tasks_replace_by_key_or_are_added() {
        let before = Tasks::built_in().tasks.len();
        let own = Tasks::read(OWN).unwrap();
        let tasks = Tasks::built_in().clone().with(own);
        assert_eq!(tasks.tasks.len(), before);
        assert_eq!(tasks.get("clean-valve").unwrap().every, Every { hours: Some(15.0), ..Every::default() });
        let added = Tasks::read(&OWN.replace("clean-valve", "pipe-joint")).unwrap();
        assert_eq!(Tasks::built_in().clone().with(added).tasks.len(), before + 1);
    }

    #[test]
    fn agrees_with_the_page_in_docs() {
        let page = include_str!("../../../../docs/care.md");
        let example = page.split("```toml").nth(1).unwrap().split("```").next().unwrap();
        let own = Tasks::read(example).unwrap();
        assert_eq!(own.tasks[0].key, "pipe-joint");
        for task in &Tasks::built_in().tasks {
            assert!(page.contains(&format!("`{}`", task.key)), "docs/care.md lacks {}", task.key);
        }
    }

    #[test]
    fn refuses_what_is_wrong_with_place_and_mend() {
        let cases = [
            (
                "every = { hours = 15 }",
                "every = { hours = 0 }",
                "clean-valve.every: An interval must be above zero",
            ),
            ("every = { hours = 15 }", "every = { hours = nan }", "above zero"),
            ("every = { hours = 15 }", "every = { months = 0 }", "from 1 to 240"),
            ("every = { hours = 15 }", "", "has no interval"),
            ("every = { hours = 15 }", "every = { weeks = 2 }", "weeks"),
            ("every = { hours = 15 }", "every = { hours = 15 }\nuse = { sea = 0.5 }", "add a [[use]]"),
            ("every = { hours = 15 }", "every = { hours = 15 }\nuse = { road = 0 }", "from 0.1 to 10"),
            ("key = \"clean-valve\"", "key = \"hours\"", "means something else"),
            ("key = \"clean-valve\"", "key = \"Clean valve\"", "small letters"),
            ("[\"servo\"]", "[]", "for no actuator"),
            ("[\"servo\"]", "[\"solenoid\"]", "servo, governor and diaphragm"),
            ("figures = \"manual, page 88\"", "figures = \" \"", "source is missing"),
            ("minutes = 40", "minutes = -1", "no time in minutes"),
        ];
        for (from, to, message) in cases {
            assert!(OWN.contains(from), "{from}");
            let said = Tasks::read(&OWN.replacen(from, to, 1)).unwrap_err();
            let said = said.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
            assert!(said.contains(message), "{to}: {said}");
        }
        let twice = format!("{OWN}{OWN}");
        assert!(Tasks::read(&twice).unwrap_err()[0].message.contains("Two tasks"));
    }
}
