//! What was done to an engine, when, and how it was found, from the texts of its job cards.

use super::task::Tasks;
use super::{Day, counter};
use serde::Serialize;
use std::collections::BTreeMap;

/// How a part was found when the task was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Found {
    /// Clean and free, or still as it was set: it could have waited.
    Clean,
    /// As one expects after the interval.
    Usual,
    /// Stiff, with much carbon, or no longer as it was set.
    Stiff,
    /// Stuck, or parted.
    Stuck,
}

/// A text that could not be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct EntryProblem {
    /// Key of the text.
    pub key: String,
    /// What is wrong and how to mend it.
    pub message: String,
}

/// One task done once.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Done {
    /// Key of the task.
    pub task: String,
    /// When.
    pub day: Day,
    /// Engine hours then.
    pub hours: Option<f64>,
    /// Distance then, km.
    pub km: Option<f64>,
    /// How it was found, when noted.
    pub found: Option<Found>,
    /// The text as written.
    pub written: String,
}

/// The texts of one job card with its day.
#[derive(Debug, Clone, Copy)]
pub struct Visit<'a> {
    /// Day of the visit; `care.day` in the texts goes before it.
    pub day: Day,
    /// The texts.
    pub entries: &'a BTreeMap<String, String>,
}

/// Everything done to one engine, in the order of days.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct History {
    /// The tasks done.
    pub done: Vec<Done>,
    /// Texts that could not be used.
    pub problems: Vec<EntryProblem>,
}

/// Words for how a part was found.
const FOUND: [(&[&str], Found); 4] = [
    (&["clean", "free", "clean and free", "as set", "right"], Found::Clean),
    (&["usual", "normal", "some carbon", "light carbon", "as usual"], Found::Usual),
    (
        &["stiff", "much carbon", "heavy carbon", "thick carbon", "off", "worn", "slack", "tight"],
        Found::Stiff,
    ),
    (&["stuck", "seized", "parted", "broken"], Found::Stuck),
];

impl History {
    /// Reads job cards, in any order. On a card stand `care.hours`, `care.distance` and `care.day` (else the day of the
    /// visit), and for each task done `care.<task>` with "done" or how it was found: "clean", "usual", "stiff", "stuck";
    /// "no" and an empty text are not done.
    ///
    /// `care.<task>.last` on the engine's page tells of a time before the record began: "2023-05-12, 40 h, 3100 km, stiff".
    pub fn read<'a>(tasks: &Tasks, visits: impl IntoIterator<Item = Visit<'a>>) -> Self {
        let mut history = Self::default();
        for visit in visits {
            history.read_visit(tasks, visit);
        }
        history.done.sort_by_key(|d| d.day);
        history
    }

    fn read_visit(&mut self, tasks: &Tasks, visit: Visit) {
        let day = self.get(visit, "care.day", |t| t.parse().map_err(|e: super::DayError| e.to_string()));
        let day = day.unwrap_or(visit.day);
        let hours = self.get(visit, "care.hours", counter::hours);
        let km = self.get(visit, "care.distance", counter::km);
        for (key, text) in visit.entries {
            let Some(rest) = key.strip_prefix("care.") else { continue };
            let text = text.trim();
            if tasks.get(rest).is_some() {
                if is_done(text) {
                    let found = found(text);
                    let (task, written) = (rest.to_owned(), text.to_owned());
                    self.done.push(Done { task, day, hours, km, found, written });
                }
            } else if let Some(task) =
                rest.strip_suffix(".last").filter(|t| tasks.get(t).is_some() && !text.is_empty())
            {
                match earlier(task, text) {
                    Ok(done) => self.done.push(done),
                    Err(message) => self.problems.push(EntryProblem { key: key.clone(), message }),
                }
            }
        }
    }

    fn get<T>(&mut self, visit: Visit, key: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
        let text = visit.entries.get(key).map(|t| t.trim()).filter(|t| !t.is_empty())?;
        match read(text) {
            Ok(value) => Some(value),
            Err(message) => {
                self.problems.push(EntryProblem { key: key.to_owned(), message });
                None
            }
        }
    }

    /// The times a task was done, the latest last.
    pub fn of<'a>(&'a self, task: &'a str) -> impl DoubleEndedIterator<Item = &'a Done> {
        self.done.iter().filter(move |d| d.task == task)
    }
}

fn is_done(text: &str) -> bool {
    !matches!(text.to_lowercase().trim_end_matches('.'), "" | "no" | "not done" | "not yet" | "skipped" | "-")
}

fn found(text: &str) -> Option<Found> {
    let text = text.trim().trim_end_matches('.').to_lowercase();
    FOUND.into_iter().find(|(words, _)| words.contains(&text.as_str())).map(|(_, found)| found)
}

/// "2023-05-12, 40 h, 3100 km, stiff": the date must be there, the rest may.
fn earlier(task: &str, text: &str) -> Result<Done, String> {
    let mut parts = text.split([',', ';']).map(str::trim).filter(|p| !p.is_empty());
    let day = parts.next().unwrap_or("").parse::<Day>().map_err(|error| error.to_string())?;
    let mut done =
        Done { task: task.to_owned(), day, hours: None, km: None, found: None, written: text.to_owned() };
    for part in parts {
        if let Some(found) = found(part) {
            done.found = Some(found);
        } else if part.ends_with(['h', 's']) && counter::hours(part).is_ok() {
            done.hours = counter::hours(part).ok();
        } else if counter::km(part).is_ok() {
            done.km = counter::km(part).ok();
        } else if part.to_lowercase() != "done" {
            return Err(format!(
                "\"{part}\" cannot be read. Write date, hours, distance and how it was found: 2023-05-12, 40 h, 3100 km, stiff."
            ));
        }
    }
    Ok(done)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entries(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
        pairs.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect()
    }

    #[test]
    fn exact_job_cards_in_any_order() {
        let tasks = Tasks::built_in();
        let late =
            entries(&[("care.clean-valve", "Stiff."), ("care.hours", "62.5 h"), ("care.grease", "no")]);
        let early = entries(&[
            ("care.day", "2024-05-01"),
            ("care.clean-valve", "done"),
            ("care.distance", "1000 mi"),
            ("care.cable-run", "one strand was out, renewed"),
            ("check.earth-drop.reading", "0.1 V"),
        ]);
        let day = |t: &str| t.parse::<Day>().unwrap();
        let visits = [
            Visit { day: day("2025-04-01"), entries: &late },
            Visit { day: day("2024-06-30"), entries: &early },
        ];
        let history = History::read(tasks, visits);
        assert_eq!(history.problems, []);
        let cleaned: Vec<_> = history.of("clean-valve").collect();
        assert_eq!(cleaned.len(), 2);
        assert_eq!((cleaned[0].day, cleaned[0].found, cleaned[0].hours), (day("2024-05-01"), None, None));
        assert!((cleaned[0].km.unwrap() - 1609.344).abs() < 1e-9);
        assert_eq!((cleaned[1].found, cleaned[1].hours), (Some(Found::Stiff), Some(62.5)));
        assert_eq!(history.of("cable-run").count(), 1);
        assert_eq!(history.of("grease").count(), 0);
    }

    #[test]
    fn exact_a_time_before_the_record() {
        let page = entries(&[
            ("care.clean-valve.last", "12 May 2023, 40 h, 3100 km, stiff"),
            ("care.cable-run.last", "2023-05-12"),
            ("care.grease.last", "12 May 2023, when it rained"),
            ("care.gaskets.last", "last spring"),
        ]);
        let day = Day::of(2025, 1, 1).unwrap();
        let history = History::read(Tasks::built_in(), [Visit { day, entries: &page }]);
        let done = history.of("clean-valve").next().unwrap();
        assert_eq!(done.day.iso(), "2023-05-12");
        assert_eq!((done.hours, done.km, done.found), (Some(40.0), Some(3100.0), Some(Found::Stiff)));
        assert!(history.of("cable-run").next().is_some());
        let keys: Vec<&str> = history.problems.iter().map(|p| p.key.as_str()).collect();
        assert_eq!(keys, ["care.gaskets.last", "care.grease.last"]);
        assert!(history.problems[1].message.contains("when it rained"));
    }

    #[test]
    fn refuses_a_bad_counter_but_keeps_the_task() {
        let card =
            entries(&[("care.clean-valve", "clean"), ("care.hours", "many"), ("care.distance", "3200")]);
        let day = Day::of(2025, 1, 1).unwrap();
        let history = History::read(Tasks::built_in(), [Visit { day, entries: &card }]);
        assert_eq!(history.problems.len(), 2);
        assert_eq!(history.of("clean-valve").next().unwrap().found, Some(Found::Clean));
    }
}
