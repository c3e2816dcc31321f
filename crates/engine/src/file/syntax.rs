//! Errors of the TOML parser in a mechanic's words.

use super::problem::Problems;
use super::source::Source;
use super::value::excerpt;

/// More syntax errors than this are not worth listing: the rest usually follows from the first ones.
const MOST: usize = 20;

/// Adds one problem for each line that could not be read.
pub(super) fn explain(source: &Source<'_>, errors: &[toml::de::Error], problems: &mut Problems) {
    let mut seen = Vec::new();
    for error in errors {
        let line = error.span().map(|span| source.line(span.start));
        if seen.contains(&line) {
            continue;
        }
        seen.push(line);
        if seen.len() > MOST {
            problems.add(None, "", "more lines cannot be read; mend these first");
            return;
        }
        let text = line.map_or("", |line| source.line_text(line));
        let (key, message) = sentence(error.message(), text);
        problems.add(line, key, message);
    }
}

/// Key and sentence for an error with this parser message on this line.
fn sentence(message: &str, line: &str) -> (String, String) {
    let line = line.trim();
    let (key, value) = match line.split_once('=') {
        Some((key, value)) if is_key(key.trim()) => (key.trim(), value.trim()),
        _ => ("", ""),
    };
    let text = if message.contains("duplicate key") {
        duplicate(key, line)
    } else if message.contains("recurs") {
        "brackets are nested too deeply; nothing in an engine file needs more than two levels".to_owned()
    } else if lacks_quotes(value) {
        let bare = value.split('#').next().unwrap_or(value).trim().trim_matches(['"', '\'']);
        format!("the value must stand in quotes; write {key} = \"{}\"", excerpt(bare))
    } else if opens_without_closing(value) {
        format!(
            "the quotes that open before '{}' are not closed on this line",
            excerpt(value.trim_matches('"'))
        )
    } else {
        format!(
            "'{}' cannot be read; a line is a section like [crank], a key like bore = \"54.0 mm\", or a comment after #",
            excerpt(line)
        )
    };
    (key.to_owned(), text)
}

fn duplicate(key: &str, line: &str) -> String {
    if key.is_empty() {
        format!("'{}' stands twice in the file; keep one", excerpt(line))
    } else {
        format!("the key {key} stands twice in its section; keep one of the two lines")
    }
}

fn is_key(key: &str) -> bool {
    !key.is_empty() && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.'))
}

fn lacks_quotes(value: &str) -> bool {
    !value.is_empty() && !value.starts_with(['"', '\'', '[', '{', '#'])
}

fn opens_without_closing(value: &str) -> bool {
    value.starts_with('"') && value.matches('"').count() == 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_says_what_to_write_when_quotes_are_missing() {
        assert_eq!(
            sentence("string values must be quoted", "bore = 54 mm # new sleeve"),
            ("bore".to_owned(), "the value must stand in quotes; write bore = \"54 mm\"".to_owned())
        );
    }

    #[test]
    fn exact_says_where_quotes_are_left_open() {
        assert_eq!(
            sentence("invalid basic string", "bore = \"54 mm").1,
            "the quotes that open before '54 mm' are not closed on this line"
        );
    }
}
