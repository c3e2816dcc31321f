//! Errors of the TOML parser in a mechanic's words.

use crate::Layout;
use crate::source::{Problems, Source, excerpt};

/// Adds one problem for each line that could not be read.
pub(super) fn explain(source: &Source<'_>, errors: &[toml::de::Error], problems: &Problems) {
    let mut seen = Vec::new();
    for error in errors {
        let line = error.span().map(|span| source.line(span.start));
        if seen.contains(&line) {
            continue;
        }
        seen.push(line);
        let text = line.map_or("", |line| source.line_text(line));
        let (key, message) = sentence(error.message(), text, source.layout);
        problems.add(line, key, message);
    }
}

/// Key and sentence for an error with this parser message on this line.
fn sentence(message: &str, line: &str, layout: &Layout) -> (String, String) {
    let line = line.trim();
    let (key, value) = match line.split_once('=') {
        Some((key, value)) if is_key(key.trim()) => (key.trim(), value.trim()),
        _ => ("", ""),
    };
    let text = if message.contains("duplicate key") && !key.is_empty() {
        format!("the key {key} stands twice in its section; keep one of the two lines")
    } else if message.contains("duplicate key") {
        format!("'{}' stands twice in the file; keep one", excerpt(line))
    } else if message.contains("recurs") {
        format!(
            "brackets are nested too deeply; nothing in a file of {} needs more than three levels",
            layout.holds
        )
    } else if !value.is_empty() && !value.starts_with(['"', '\'', '[', '{', '#']) {
        let bare = value.split('#').next().unwrap_or(value).trim().trim_matches(['"', '\'']);
        format!("the value must stand in quotes; write {key} = \"{}\"", excerpt(bare))
    } else if value.starts_with('"') && value.matches('"').count() == 1 {
        format!(
            "the quotes that open before '{}' are not closed on this line",
            excerpt(value.trim_matches('"'))
        )
    } else {
        format!(
            "'{}' cannot be read; a line is a section like [[{}]], a key like {}, or a comment after #",
            excerpt(line),
            layout.section,
            layout.line
        )
    };
    (key.to_owned(), text)
}

fn is_key(key: &str) -> bool {
    !key.is_empty() && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.'))
}
