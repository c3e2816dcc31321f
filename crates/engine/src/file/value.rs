//! One value of the file, read as the kind its key asks for.

use super::problem::Problems;
use super::source::Source;
use super::spec::{Figure, Key, Kind, Need, Word};
use super::table::{Entry, Value};
use super::unlikely;
use quantity::{Dimension, Measured};
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use userfile::nearest;

/// Longest list of names or points.
const LONGEST_LIST: usize = 200;

/// A value with the place it was read from.
pub(super) struct Cell<'s, 'i> {
    pub(super) source: &'s Source<'i>,
    /// Full key, for the user.
    pub(super) path: String,
    pub(super) value: &'s Spanned<DeValue<'i>>,
}

impl<'s, 'i> Cell<'s, 'i> {
    fn line(&self) -> usize {
        self.source.line(self.value.span().start)
    }

    /// The value as it stands in the file, cut to a readable length.
    fn raw(&self) -> String {
        excerpt(self.source.text.get(self.value.span()).unwrap_or(""))
    }

    fn part(&self, name: &str, value: &'s Spanned<DeValue<'i>>) -> Self {
        Cell { source: self.source, path: format!("{}{name}", self.path), value }
    }

    /// Reads the value for `key`; what cannot be read becomes a problem and [`Value::Bad`].
    pub(super) fn read(&self, key: &'static Key, problems: &mut Problems) -> Entry {
        let line = Some(self.line());
        let value =
            if self.says_not_known(key) { Ok(Value::NotKnown) } else { self.read_kind(key, problems) };
        let value = value.unwrap_or_else(|message| {
            if !message.is_empty() {
                problems.add(line, self.path.clone(), message);
            }
            Value::Bad
        });
        Entry { line, value }
    }

    fn says_not_known(&self, key: &Key) -> bool {
        let free_text = matches!(key.holds, Kind::Text { .. }) && !matches!(key.need, Need::OneOf { .. });
        !free_text
            && self.value.get_ref().as_str().is_some_and(|text| text.trim().eq_ignore_ascii_case("not known"))
    }

    /// An empty message means that the problems are already listed.
    fn read_kind(&self, key: &'static Key, problems: &mut Problems) -> Result<Value, String> {
        match key.holds {
            Kind::Figure(figure) => self.figure(&figure, key.from).map(Value::Figure),
            Kind::Limit(figure) => self.limit(&figure, key.from, problems),
            Kind::Text { longest } => self.text(longest, key.example).map(Value::Text),
            Kind::Count { least, most } => self.count(least, most).map(Value::Count),
            Kind::Flag => self.flag().map(Value::Flag),
            Kind::Word { words } => self.word(words).map(Value::Word),
            Kind::Names => self.names(key.example).map(Value::Names),
            Kind::Points => self.points(key.example, problems),
        }
    }

    /// A figure with unit; a number without quotes only where no unit is needed.
    fn figure(&self, figure: &Figure, from: &str) -> Result<Measured, String> {
        let measured = match self.value.get_ref() {
            DeValue::String(text) => {
                quantity::parse(text, figure.dimension).map_err(|error| error.to_string())?
            }
            DeValue::Integer(_) | DeValue::Float(_) => {
                let raw = self.raw();
                quantity::parse(&raw, figure.dimension)
                    .map_err(|error| format!("{error}; with its unit the value stands in quotes"))?
            }
            _ => {
                return Err(format!(
                    "{} is {}; here {} in quotes is wanted, for example \"{}\"",
                    self.raw(),
                    kind_of(self.value.get_ref()),
                    figure.dimension.noun(),
                    figure.dimension.example()
                ));
            }
        };
        within(&measured, figure, from)?;
        Ok(measured)
    }

    /// A limit: `"0.10 mm"` or `{ value = "0.10 mm", from = "..." }`.
    fn limit(&self, figure: &Figure, from: &str, problems: &mut Problems) -> Result<Value, String> {
        let DeValue::Table(table) = self.value.get_ref() else {
            let value = chosen(self.figure(figure, from)?);
            return Ok(Value::Limit { value, from: "not stated".to_owned() });
        };
        let example = format!("{{ value = \"{}\", from = \"own practice\" }}", figure.dimension.example());
        self.refuse_others(table, &["value", "from"], problems)?;
        let Some(value) = table.get("value") else {
            return Err(format!("the limit has no value; write it like {example}"));
        };
        let value = chosen(self.part(".value", value).figure(figure, from)?);
        let source = match table.get("from") {
            Some(text) => self.part(".from", text).text(300, "\"own practice\"")?,
            None => "not stated".to_owned(),
        };
        Ok(Value::Limit { value, from: source })
    }

    fn refuse_others(
        &self,
        table: &DeTable<'_>,
        known: &[&str],
        problems: &mut Problems,
    ) -> Result<(), String> {
        let mut refused = false;
        for key in table.keys().filter(|key| !known.contains(&key.get_ref().as_ref())) {
            refused = true;
            problems.add(
                Some(self.source.line(key.span().start)),
                format!("{}.{}", self.path, excerpt(key.get_ref())),
                format!("unknown key; here only {} can stand", known.join(" and ")),
            );
        }
        if refused { Err(String::new()) } else { Ok(()) }
    }

    fn text(&self, longest: usize, example: &str) -> Result<String, String> {
        let text = match self.value.get_ref() {
            DeValue::String(text) => text.trim().to_owned(),
            DeValue::Datetime(date) => date.to_string(),
            other => {
                return Err(format!(
                    "{} is {}; write words in quotes, for example {example}",
                    self.raw(),
                    kind_of(other)
                ));
            }
        };
        if text.is_empty() {
            return Err(format!("the text is empty; write it, for example {example}, or leave the line out"));
        }
        let length = text.chars().count();
        if length > longest {
            return Err(format!("the text has {length} letters; at most {longest} have room, so shorten it"));
        }
        if text.chars().any(|c| c.is_control() && !matches!(c, '\n' | '\t' | '\r')) {
            return Err("the text holds signs that cannot be printed; type it again".to_owned());
        }
        Ok(text)
    }

    fn count(&self, least: u32, most: u32) -> Result<u32, String> {
        let range = if least == most {
            format!("the whole number {least}")
        } else {
            format!("a whole number from {least} to {most}")
        };
        let number = match self.value.get_ref() {
            DeValue::Integer(_) => self.raw().parse::<i64>().ok(),
            DeValue::Float(_) => {
                self.raw().parse::<f64>().ok().filter(|x| x.fract() == 0.0).map(|x| x as i64)
            }
            _ => None,
        };
        match number.map(u32::try_from) {
            Some(Ok(number)) if (least..=most).contains(&number) => Ok(number),
            _ => Err(format!("{} is not accepted; write {range}, without quotes and unit", self.raw())),
        }
    }

    fn flag(&self) -> Result<bool, String> {
        let value = self.value.get_ref();
        value.as_bool().ok_or_else(|| {
            format!("{} is {}; write true or false, without quotes", self.raw(), kind_of(value))
        })
    }

    fn word(&self, words: &'static [Word]) -> Result<&'static str, String> {
        let list = || {
            let words: Vec<String> = words.iter().map(|word| format!("\"{}\"", word.word)).collect();
            words.join(", ")
        };
        let Some(text) = self.value.get_ref().as_str() else {
            return Err(format!(
                "{} is {}; write one of {}",
                self.raw(),
                kind_of(self.value.get_ref()),
                list()
            ));
        };
        if let Some(word) = words.iter().find(|word| word.word.eq_ignore_ascii_case(text.trim())) {
            return Ok(word.word);
        }
        let hint = nearest(text, words.iter().map(|word| word.word))
            .map_or(String::new(), |word| format!("; did you mean \"{word}\"?"));
        Err(format!("\"{}\" is not known here{hint} It can be {}", excerpt(text), list())
            .replace("here It", "here; it"))
    }

    fn names(&self, example: &str) -> Result<Vec<String>, String> {
        let wanted = || format!("write a list in square brackets, for example {example}");
        let Some(array) = self.value.get_ref().as_array() else {
            return Err(format!("{} is {}; {}", self.raw(), kind_of(self.value.get_ref()), wanted()));
        };
        if array.iter().count() > LONGEST_LIST {
            return Err(format!("the list is longer than {LONGEST_LIST}; shorten it"));
        }
        array
            .iter()
            .map(|item| item.get_ref().as_str().map(|name| name.trim().to_owned()))
            .collect::<Option<Vec<_>>>()
            .ok_or_else(|| format!("every entry must stand in quotes; {}", wanted()))
    }

    fn points(&self, example: &str, problems: &mut Problems) -> Result<Value, String> {
        let Some(array) = self.value.get_ref().as_array() else {
            return Err(format!(
                "{} is {}; write the points like {example}",
                self.raw(),
                kind_of(self.value.get_ref())
            ));
        };
        let count = array.iter().count();
        if !(2..=LONGEST_LIST).contains(&count) {
            return Err(format!(
                "{count} points are given; 2 to {LONGEST_LIST} are accepted, for example {example}"
            ));
        }
        let mut points = Vec::new();
        for (at, item) in array.iter().enumerate() {
            let cell = self.part(&format!("[{}]", at + 1), item);
            match cell.point(problems) {
                Ok(point) => points.push(point),
                Err(message) if message.is_empty() => {}
                Err(message) => problems.add(Some(cell.line()), cell.path.clone(), message),
            }
        }
        if points.len() == count { Ok(Value::Points(points)) } else { Err(String::new()) }
    }

    fn point(&self, problems: &mut Problems) -> Result<(Measured, Measured), String> {
        const EXAMPLE: &str = "{ travel = \"40 ± 1°\", lift = \"3.1 ± 0.1 mm\" }";
        const TRAVEL: Figure =
            Figure { dimension: Dimension::Angle, accepted: super::spec::degrees(0.0, 360.0), usual: None };
        let DeValue::Table(table) = self.value.get_ref() else {
            return Err(format!("{} is {}; write {EXAMPLE}", self.raw(), kind_of(self.value.get_ref())));
        };
        self.refuse_others(table, &["travel", "lift"], problems)?;
        let part = |name: &str| {
            table
                .get(name)
                .map(|value| self.part(&format!(".{name}"), value))
                .ok_or_else(|| format!("the point has no {name}; write it like {EXAMPLE}"))
        };
        let travel = part("travel")?.figure(&TRAVEL, "stop pin, at the valve pulley")?;
        let lift = part("lift")?.figure(&super::spec::LIFT, "closed edge up along the cylinder axis")?;
        Ok((travel, lift))
    }
}

/// A limit is chosen, not measured: its last digit leaves nothing in doubt.
pub(super) fn chosen(limit: Measured) -> Measured {
    Measured { u: 0.0, ..limit }
}

/// Refuses a figure outside its accepted range.
fn within(measured: &Measured, figure: &Figure, from: &str) -> Result<(), String> {
    if figure.accepted.contains(measured.value) {
        return Ok(());
    }
    let read = measured.written.as_deref().unwrap_or("");
    let from = if from.is_empty() { String::new() } else { format!(" (measured from: {from})") };
    let likely =
        unlikely::reading(measured, figure.usual).map_or(String::new(), |likely| format!("; {likely}"));
    Err(format!(
        "'{}' is outside the accepted range {}{from}{likely}; check the figure, its sign and its unit",
        excerpt(read),
        figure.accepted
    ))
}

fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a section",
    }
}

/// At most 60 letters on one line, for quoting in a sentence.
pub(super) fn excerpt(text: &str) -> String {
    let short: String = text.chars().take(60).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(60).is_some() { format!("{short} ...") } else { short }
}
