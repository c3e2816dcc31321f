//! The list of sources, read from `refs.bib`.
//!
//! Only the part of BibTeX that the file uses is understood: entries with fields in balanced braces, and
//! comment lines that begin with a per cent sign.

use std::fmt;
use std::sync::OnceLock;

const TEXT: &str = include_str!("../refs.bib");

/// One source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Name by which checks cite it.
    pub key: String,
    /// Fields in the order of the file, names in lower case.
    pub fields: Vec<(String, String)>,
}

impl Entry {
    /// The text of a field, when the entry has it.
    pub fn field(&self, name: &str) -> Option<&str> {
        self.fields.iter().find(|(known, _)| known == name).map(|(_, text)| text.as_str())
    }
}

impl fmt::Display for Entry {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let parts: Vec<&str> =
            ["author", "title", "institution", "publisher", "school", "journal", "year", "doi"]
                .iter()
                .filter_map(|name| self.field(name))
                .collect();
        write!(f, "{}", parts.join(", "))?;
        self.field("note").map_or(Ok(()), |note| write!(f, " [{note}]"))
    }
}

/// All sources in the order of the file.
///
/// # Panics
/// When the file cannot be read; a test of this crate holds that it can.
pub fn entries() -> &'static [Entry] {
    static ENTRIES: OnceLock<Vec<Entry>> = OnceLock::new();
    ENTRIES.get_or_init(|| match parse(TEXT) {
        Ok(list) => list,
        Err(cause) => panic!("published/refs.bib: {cause}"),
    })
}

/// The source with this key.
pub fn find(key: &str) -> Option<&'static Entry> {
    entries().iter().find(|entry| entry.key == key)
}

fn parse(text: &str) -> Result<Vec<Entry>, String> {
    let body: String = text
        .lines()
        .filter(|line| !line.trim_start().starts_with('%'))
        .fold(String::new(), |all, line| all + line.trim() + " ");
    let mut rest = body.trim();
    let mut list: Vec<Entry> = Vec::new();
    while !rest.is_empty() {
        let at = rest.strip_prefix('@').ok_or_else(|| format!("expected @ at: {}", start_of(rest)))?;
        let brace = at.find('{').ok_or_else(|| format!("no brace after @{}", start_of(at)))?;
        let (inside, after) = balanced(&at[brace..])?;
        let entry = entry_of(inside)?;
        if list.iter().any(|known| known.key == entry.key) {
            return Err(format!("the key {} stands twice", entry.key));
        }
        list.push(entry);
        rest = after.trim_start();
    }
    Ok(list)
}

fn entry_of(inside: &str) -> Result<Entry, String> {
    let (key, mut rest) =
        inside.split_once(',').ok_or_else(|| format!("no fields in: {}", start_of(inside)))?;
    let mut fields = Vec::new();
    loop {
        rest = rest.trim_start_matches([',', ' ']);
        if rest.is_empty() {
            return Ok(Entry { key: key.trim().to_string(), fields });
        }
        let (name, value) =
            rest.split_once('=').ok_or_else(|| format!("{key}: no = in {}", start_of(rest)))?;
        let (text, after) = balanced(value.trim_start()).map_err(|cause| format!("{key}: {cause}"))?;
        fields.push((name.trim().to_lowercase(), text.replace(['{', '}'], "").trim().to_string()));
        rest = after;
    }
}

/// Splits `{inside} rest` at the brace that closes the first one.
fn balanced(text: &str) -> Result<(&str, &str), String> {
    let mut depth = 0usize;
    for (at, sign) in text.char_indices() {
        match sign {
            '{' => depth += 1,
            '}' if depth == 1 => return Ok((&text[1..at], &text[at + 1..])),
            '}' if depth > 1 => depth -= 1,
            _ if depth == 0 => return Err(format!("expected a brace at: {}", start_of(text))),
            _ => {}
        }
    }
    Err(format!("no closing brace for: {}", start_of(text)))
}

fn start_of(text: &str) -> String {
    text.chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_every_source_has_what_a_reader_needs() {
        assert!(!entries().is_empty());
        for entry in entries() {
            assert!(entry.field("title").is_some(), "{}: no title", entry.key);
            assert!(
                entry.field("author").or(entry.field("institution")).is_some(),
                "{}: neither author nor institution",
                entry.key
            );
            let year = entry.field("year").and_then(|year| year.parse::<u32>().ok());
            assert!(year.is_some_and(|year| (1600..2100).contains(&year)), "{}: no year", entry.key);
            assert!(entry.field("note").is_some(), "{}: a note must say what was read", entry.key);
            assert!(!entry.key.contains(char::is_lowercase), "{}: keys are upper case", entry.key);
        }
    }

    #[test]
    fn exact_nested_braces() {
        let list =
            parse("% note\n@misc{A-1,\n  author = {{Two Words}},\n  year = {2001}\n}").expect("parses");
        assert_eq!(list[0].field("author"), Some("Two Words"));
        assert_eq!(list[0].to_string(), "Two Words, 2001");
    }

    #[test]
    fn refuses_broken_files() {
        for text in [
            "@book{A, title = {x}",
            "book{A}",
            "@book{A}",
            "@book{A, title x}",
            "@b{A, t = {x}} @b{A, t = {y}}",
        ] {
            assert!(parse(text).is_err(), "{text} should be refused");
        }
    }
}
