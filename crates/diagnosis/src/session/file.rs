//! A visit on the bench as a file: TOML with the sections of a job card.

use super::Entries;
use crate::check::{Actuator, Check, Checks, Problem};
use crate::fault::Tables;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Larger files are refused.
const LONGEST: usize = 2_000_000;
/// Problems beyond this are not worth listing.
const MOST_PROBLEMS: usize = 40;
/// What may stand behind an item's key.
const PARTS: [&str; 3] = ["limit", "limit-source", "sure"];

/// Reads a file of findings:
///
/// ```toml
/// bench.actuator = "servo"
/// symptom.flat-top = "yes"
/// off.tank = "yes"
/// check.sensor-ends.end-to-end = "4.24 kΩ"
/// ```
///
/// # Errors
/// Every problem of the file at once: syntax, unknown sections, checks, items and symptoms, each with its line and
/// the mend. What an entry means is judged later, by its check.
pub fn read_file(text: &str, checks: &Checks, tables: &Tables) -> Result<Entries, Vec<Problem>> {
    let whole = |message: String| vec![Problem { line: None, key: String::new(), message }];
    if text.len() > LONGEST {
        return Err(whole(
            "The file is larger than 2 MB; what was found on one visit has a few kilobytes.".to_owned(),
        ));
    }
    let root = DeTable::parse(text).map_err(|error| {
        let line = error.span().map(|span| line_of(text, span.start));
        vec![Problem { line, key: String::new(), message: format!("This is no TOML: {}.", error.message()) }]
    })?;
    let mut reader = Reader { text, checks, tables, entries: Entries::new(), problems: Vec::new() };
    reader.table("", root.get_ref());
    reader.problems.truncate(MOST_PROBLEMS);
    if reader.problems.is_empty() { Ok(reader.entries) } else { Err(reader.problems) }
}

fn line_of(text: &str, offset: usize) -> usize {
    1 + text.as_bytes().iter().take(offset).filter(|byte| **byte == b'\n').count()
}

struct Reader<'a> {
    text: &'a str,
    checks: &'a Checks,
    tables: &'a Tables,
    entries: Entries,
    problems: Vec<Problem>,
}

impl Reader<'_> {
    fn table(&mut self, path: &str, table: &DeTable<'_>) {
        for (key, value) in table {
            let path =
                if path.is_empty() { key.get_ref().to_string() } else { format!("{path}.{}", key.get_ref()) };
            self.value(&path, value);
        }
    }

    fn value(&mut self, path: &str, value: &Spanned<DeValue<'_>>) {
        let text = match value.get_ref() {
            DeValue::Table(table) => return self.table(path, table),
            DeValue::String(text) => text.to_string(),
            DeValue::Boolean(yes) => if *yes { "yes" } else { "no" }.to_owned(),
            DeValue::Integer(_) | DeValue::Float(_) => {
                return self.refuse(
                    path,
                    value,
                    "a figure needs quotes and a unit, such as \"4.24 kΩ\".".to_owned(),
                );
            }
            _ => return self.refuse(path, value, "write a text in quotes here.".to_owned()),
        };
        match self.fault_of(path, text.trim()) {
            Some(message) => self.refuse(path, value, message),
            None => {
                self.entries.insert(path.to_owned(), text);
            }
        }
    }

    fn refuse(&mut self, path: &str, value: &Spanned<DeValue<'_>>, message: String) {
        let line = Some(line_of(self.text, value.span().start));
        self.problems.push(Problem { line, key: path.to_owned(), message });
    }

    /// What is wrong with an entry, if something is.
    fn fault_of(&self, path: &str, text: &str) -> Option<String> {
        let (section, name) = path.split_once('.').unwrap_or((path, ""));
        match section {
            "bench" if name == "actuator" => Actuator::of_key(text).is_none().then(|| {
                format!(
                    "\"{text}\" is no kind of actuator; write {}.",
                    one_of(Actuator::ALL.map(Actuator::key))
                )
            }),
            "symptom" => {
                let known = self.tables.symptoms.iter().map(|symptom| symptom.key.as_str());
                unknown("symptom", name, known).or_else(|| answer(text))
            }
            "off" => {
                let known = self.checks.take_off.iter().map(|piece| piece.key.as_str());
                unknown("piece that comes off", name, known).or_else(|| answer(text))
            }
            "skip" => unknown("check", name, self.keys()).or_else(|| answer(text)),
            "check" => self.fault_of_check(name),
            "bench" | "normal" | "care" | "notes" => None,
            _ => Some(format!(
                "there is no section {section}; there are {}.",
                one_of(["bench", "symptom", "off", "skip", "check", "normal", "care", "notes"])
            )),
        }
    }

    fn keys(&self) -> impl Iterator<Item = &str> {
        self.checks.checks.iter().map(|check| check.key.as_str())
    }

    fn fault_of_check(&self, name: &str) -> Option<String> {
        let (key, item) = name.split_once('.').unwrap_or((name, ""));
        let Some(check) = self.checks.get(key) else { return unknown("check", key, self.keys()) };
        if item == super::LOG {
            return None;
        }
        let (item, part) = item.split_once('.').map_or((item, None), |(item, part)| (item, Some(part)));
        if let Some(part) = part.filter(|part| !PARTS.contains(part)) {
            return Some(format!("an item has no part {part}; it has {}.", one_of(PARTS)));
        }
        unknown("item of this check", item, names_of(check))
    }
}

fn names_of(check: &Check) -> impl Iterator<Item = &str> {
    let items = check.items.iter().map(|item| item.key.as_str());
    items.chain(check.pairs.iter().map(|pair| pair.key.as_str()))
}

fn answer(text: &str) -> Option<String> {
    (!matches!(text, "yes" | "no" | "")).then(|| format!("\"{text}\" is no answer here; write yes or no."))
}

fn unknown<'a>(what: &str, name: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
    let known: Vec<&str> = known.collect();
    (!known.contains(&name)).then(|| format!("there is no {what} \"{name}\"; there are {}.", one_of(known)))
}

fn one_of<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    words.into_iter().collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str) -> Result<Entries, Vec<Problem>> {
        read_file(text, Checks::built_in(), Tables::built_in())
    }

    #[test]
    fn round_trips_dotted_keys_and_sections_alike() {
        let dotted =
            read("bench.actuator = 'servo'\nsymptom.flat-top = true\ncheck.free-turn.feel = 'stiff'")
                .unwrap();
        let sections = read(
            "[bench]\nactuator = 'servo'\n[symptom]\nflat-top = 'yes'\n[check.free-turn]\nfeel = 'stiff'",
        )
        .unwrap();
        assert_eq!(dotted, sections);
        assert_eq!(dotted["symptom.flat-top"], "yes");
    }

    #[test]
    fn refuses_what_nothing_is_called_with_line_and_mend() {
        let told = |text: &str| {
            read(text).unwrap_err().iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
        };
        assert!(
            told("\nsymptom.flat = 'yes'")
                .starts_with("line 2, symptom.flat: there is no symptom \"flat\"; there are ")
        );
        assert!(told("bench.actuator = 'motor'").contains("servo, governor, diaphragm"));
        assert!(told("check.free-turn.feels = 'x'").contains("feel"));
        assert!(told("check.free-turn.feel.limits = 'x'").contains("limit, limit-source, sure"));
        assert!(told("symptom.flat-top = 'perhaps'").contains("yes or no"));
        assert!(told("check.sensor-ends.end-to-end = 4.24").contains("quotes and a unit"));
        assert!(told("a = = 1").contains("no TOML"));
        assert!(told("other.x = 'y'").contains("no section other"));
    }

    proptest! {
        #[test]
        fn refuses_nothing_by_a_panic(text in "\\PC{0,200}") {
            let _ = read(&text);
        }
    }
}
