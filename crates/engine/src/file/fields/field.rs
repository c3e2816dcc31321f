//! The name of a field and what it stands for in the table of keys.

use crate::file::spec::{Key, Kind, Section, spec};
use std::collections::BTreeMap;
use std::fmt;

/// One field: a key of the engine file, of one port when the section is repeated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Its section.
    pub section: &'static Section,
    /// Number of the port, from 1; `None` in sections that stand once.
    pub place: Option<u32>,
    /// Its key.
    pub key: &'static Key,
    /// It holds the source of a limit, not the limit.
    pub source: bool,
}

impl Field {
    /// The field of this name; `None` when there is none. Every field has one name only.
    pub fn named(name: &str) -> Option<Self> {
        if let Some(limit) = name.strip_suffix(".from")
            && let Some(field) = Self::named(limit)
            && matches!(field.key.holds, Kind::Limit(_))
            && !field.source
        {
            return Some(Self { source: true, ..field });
        }
        let (path, last) = name.rsplit_once('.').unwrap_or(("", name));
        let (section, place) = section_named(path)?;
        Some(Self { section, place, key: section.key(last)?, source: false })
    }

    /// Name of its section, with the number of the port: `crank`, `port.2`; empty above all sections.
    pub fn section_name(&self) -> String {
        name_of(self.section, self.place)
    }

    /// Place among all fields in the order of the file.
    pub(super) fn order(&self) -> (usize, u32, usize, bool) {
        let key = self.section.keys.iter().position(|key| key.name == self.key.name);
        (order_of(self.section), self.place.unwrap_or(0), key.unwrap_or(usize::MAX), self.source)
    }
}

impl fmt::Display for Field {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let section = self.section_name();
        let dot = if section.is_empty() { "" } else { "." };
        let from = if self.source { ".from" } else { "" };
        write!(f, "{section}{dot}{}{from}", self.key.name)
    }
}

/// Place of a section in the file.
pub(super) fn order_of(section: &Section) -> usize {
    spec().sections.iter().position(|other| other.path == section.path).unwrap_or(usize::MAX)
}

/// `crank`, `port.2`, or empty.
pub(super) fn name_of(section: &Section, place: Option<u32>) -> String {
    match place {
        Some(place) => format!("{}.{place}", section.path),
        None => section.path.to_owned(),
    }
}

/// The section of this name, with the number when it is repeated.
pub(super) fn section_named(name: &str) -> Option<(&'static Section, Option<u32>)> {
    if let Some(section) = spec().section(name) {
        return (!section.repeated).then_some((section, None));
    }
    let (path, number) = name.rsplit_once('.')?;
    let section = spec().section(path).filter(|section| section.repeated)?;
    let place: u32 = number.parse().ok().filter(|place| *place > 0)?;
    (place.to_string() == number).then_some((section, Some(place)))
}

/// Numbers of the ports of which any field has a text, in their order.
pub fn sections_of(fields: &BTreeMap<String, String>, path: &str) -> Vec<u32> {
    let mut places: Vec<u32> = fields
        .iter()
        .filter(|(_, text)| !text.trim().is_empty())
        .filter_map(|(name, _)| Field::named(name))
        .filter(|field| field.section.path == path)
        .filter_map(|field| field.place)
        .collect();
    places.sort_unstable();
    places.dedup();
    places
}

/// The field behind a key as results name it: `port "exhaust".width` is `port.1.width` when that port has this
/// name. Other keys are their own names; parts of a value belong to its field.
pub fn field_key(fields: &BTreeMap<String, String>, key: &str) -> String {
    let key = key.split('[').next().filter(|whole| Field::named(whole).is_some()).unwrap_or(key);
    let repeated = spec().sections.iter().filter(|section| section.repeated).map(|section| section.path);
    let quoted = repeated.into_iter().find_map(|path| {
        let rest = key.strip_prefix(path)?.strip_prefix(" \"")?;
        rest.rsplit_once("\".").map(|(name, last)| (path, name, last))
    });
    let Some((path, name, last)) = quoted else { return key.to_owned() };
    let number = sections_of(fields, path)
        .into_iter()
        .find(|place| fields.get(&format!("{path}.{place}.name")).is_some_and(|text| text.trim() == name));
    number.map_or_else(|| key.to_owned(), |place| format!("{path}.{place}.{last}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_every_name() {
        for section in spec().sections {
            for key in section.keys {
                for source in [false, true] {
                    if source && !matches!(key.holds, Kind::Limit(_)) {
                        continue;
                    }
                    let place = section.repeated.then_some(12);
                    let field = Field { section, place, key, source };
                    assert_eq!(Field::named(&field.to_string()), Some(field));
                }
            }
        }
    }

    #[test]
    fn refuses_what_is_no_field() {
        for name in [
            "",
            "bore",
            "crank",
            "crank.",
            "crank.boer",
            "port.width",
            "port.0.width",
            "port.01.width",
            "port.+1.width",
            "port.1.1.width",
            "crank.1.bore",
            "limits.flush.from.from",
            "crank.bore.from",
            "port.99999999999.width",
        ] {
            assert_eq!(Field::named(name), None, "{name}");
        }
    }
}
