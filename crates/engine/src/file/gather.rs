//! The parsed file, taken apart by the table of keys: every known key read, every unknown one named.

use super::problem::Problems;
use super::source::Source;
use super::spec::{Section, spec};
use super::table::Table;
use super::value::{Cell, excerpt};
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use userfile::nearest;

/// More unknown keys than this are not worth listing one by one.
const MOST_UNKNOWN: usize = 30;

/// All sections of the file, the keys above them first.
pub(super) fn gather(
    root: &Spanned<DeTable<'_>>,
    source: &Source<'_>,
    problems: &mut Problems,
) -> Vec<Table> {
    let Some(top) = spec().section("") else { return Vec::new() };
    let mut gather = Gather { source, problems, tables: Vec::new(), unknown: 0 };
    gather.table(top, String::new(), None, root.get_ref());
    gather.tables
}

struct Gather<'s, 'i, 'p> {
    source: &'s Source<'i>,
    problems: &'p mut Problems,
    tables: Vec<Table>,
    unknown: usize,
}

impl<'s, 'i> Gather<'s, 'i, '_> {
    fn table(
        &mut self,
        section: &'static Section,
        path: String,
        line: Option<usize>,
        table: &'s DeTable<'i>,
    ) {
        let at = self.tables.len();
        self.tables.push(Table { path, line, ..Table::empty(section) });
        for (name, value) in table {
            let line = self.source.line(name.span().start);
            let name = name.get_ref().as_ref();
            let child =
                if section.path.is_empty() { name.to_owned() } else { format!("{}.{name}", section.path) };
            if let Some(key) = section.key(name) {
                let path = self.tables[at].key(key.name);
                let entry = Cell { source: self.source, path, value }.read(key, self.problems);
                self.tables[at].entries.insert(key.name, entry);
            } else if let Some(section) = spec().section(&child) {
                self.section(section, line, value);
            } else {
                let path = self.tables[at].key(&excerpt(name));
                self.refuse_unknown(section, path, name, line);
            }
        }
    }

    fn section(&mut self, section: &'static Section, line: usize, value: &'s Spanned<DeValue<'i>>) {
        match value.get_ref() {
            DeValue::Table(table) if !section.repeated => {
                self.table(section, section.path.to_owned(), Some(line), table);
            }
            DeValue::Array(array) if section.repeated && array.iter().count() <= 100 => {
                for (at, item) in array.iter().enumerate() {
                    self.repeated(section, at, item);
                }
            }
            DeValue::Array(_) if section.repeated => {
                self.problems.add(
                    Some(line),
                    section.path,
                    "more than 100 of this section are given; no engine has so many",
                );
            }
            _ => self.problems.add(
                Some(line),
                section.path,
                format!(
                    "this is a section: write it as {} on a line of its own, its keys below",
                    section.heading()
                ),
            ),
        }
    }

    fn repeated(&mut self, section: &'static Section, at: usize, item: &'s Spanned<DeValue<'i>>) {
        let line = self.source.line(item.span().start);
        let DeValue::Table(table) = item.get_ref() else {
            let heading = section.heading();
            self.problems.add(
                Some(line),
                section.path,
                format!("write {heading} on a line of its own, its keys below"),
            );
            return;
        };
        let name = table.get("name").and_then(|name| name.get_ref().as_str());
        let path = match name {
            Some(name) => format!("{} \"{}\"", section.path, excerpt(name.trim())),
            None => format!("{} {}", section.path, at + 1),
        };
        self.table(section, path, Some(line), table);
    }

    fn refuse_unknown(&mut self, section: &'static Section, path: String, name: &str, line: usize) {
        self.unknown += 1;
        if self.unknown > MOST_UNKNOWN {
            if self.unknown == MOST_UNKNOWN + 1 {
                self.problems.add(Some(line), "", "more unknown keys follow; is this an engine file?");
            }
            return;
        }
        self.problems.add(Some(line), path, unknown(section, name));
    }
}

/// What to do about an unknown key.
pub(super) fn unknown(section: &'static Section, name: &str) -> String {
    let homes: Vec<String> =
        spec().sections.iter().filter(|other| other.key(name).is_some()).map(place).collect();
    if !homes.is_empty() {
        return format!("this key does not belong here; it belongs {}", homes.join(" or "));
    }
    let children = spec().sections.iter().filter(|child| parent(child.path) == Some(section.path));
    let names = section.keys.iter().map(|key| key.name).chain(children.map(|child| last(child.path)));
    if let Some(known) = nearest(name, names) {
        return format!("unknown key; did you mean {known}?");
    }
    let keys: Vec<&str> = section.keys.iter().map(|key| key.name).collect();
    format!("unknown key; the keys {} are {}", place(section), keys.join(", "))
}

fn place(section: &Section) -> String {
    if section.path.is_empty() {
        "above all sections".to_owned()
    } else {
        format!("in {}", section.heading())
    }
}

fn parent(path: &str) -> Option<&str> {
    if path.is_empty() { None } else { Some(path.rsplit_once('.').map_or("", |(parent, _)| parent)) }
}

fn last(path: &str) -> &str {
    path.rsplit_once('.').map_or(path, |(_, last)| last)
}
