//! The user's confirmations: keys whose odd figures are right.

use super::problem::Problems;
use super::spec::spec;
use super::table::Table;
use super::value::excerpt;
use userfile::nearest;

/// Keys listed under `sure`.
#[derive(Debug, Default)]
pub(super) struct Sure(Vec<String>);

impl Sure {
    /// Reads the list and refuses names that are no keys of this file.
    pub(super) fn of(tables: &[Table], problems: &mut Problems) -> Self {
        let Some(top) = tables.iter().find(|table| table.path.is_empty()) else { return Self::default() };
        let names = top.names("sure").unwrap_or_default();
        let known = known_keys(tables);
        for name in &names {
            let plain = plain(name);
            if known.iter().any(|key| plain_key(key) == plain) {
                continue;
            }
            let hint = nearest(&plain, known.iter().map(String::as_str))
                .map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
            problems.add(
                top.line_of("sure"),
                "sure",
                format!("\"{}\" is no key of this file{hint}", excerpt(name)),
            );
        }
        Self(names.iter().map(|name| plain(name)).collect())
    }

    /// True when the user has confirmed this key.
    pub(super) fn holds(&self, key: &str) -> bool {
        self.0.contains(&plain(key))
    }
}

/// A key as it is best written under `sure`: `port "exhaust".width` becomes `port.exhaust.width`.
pub(super) fn as_listed(key: &str) -> String {
    let repeated = spec().sections.iter().filter(|section| section.repeated);
    let named = repeated.map(|section| section.path).find_map(|path| {
        let rest = key.strip_prefix(path)?.strip_prefix(" \"")?;
        Some(format!("{path}.{rest}"))
    });
    named.as_deref().unwrap_or(key).replace('"', "")
}

fn plain(key: &str) -> String {
    plain_key(&as_listed(key.trim()))
}

fn plain_key(key: &str) -> String {
    key.to_lowercase()
}

/// Every key that could stand in this file, as it is written under `sure`.
fn known_keys(tables: &[Table]) -> Vec<String> {
    let mut keys = Vec::new();
    for section in spec().sections.iter().filter(|section| !section.repeated) {
        let table = Table::empty(section);
        keys.extend(section.keys.iter().map(|key| table.key(key.name)));
    }
    for table in tables.iter().filter(|table| table.section.repeated) {
        keys.extend(table.section.keys.iter().map(|key| as_listed(&table.key(key.name))));
    }
    keys
}
