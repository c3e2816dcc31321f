//! Lines of a file, the problems found in it, and the TOML parser's errors in a mechanic's words.

use crate::procedure::problem::Problem;
use std::cell::RefCell;

/// The text with its line starts.
pub(super) struct Source<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Source<'a> {
    pub(super) fn of(text: &'a str) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { text, starts }
    }

    /// Line of a place in the text, counted from 1.
    pub(super) fn line(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at)
    }

    fn line_text(&self, line: usize) -> &'a str {
        self.text.lines().nth(line.saturating_sub(1)).unwrap_or("").trim()
    }
}

/// Problems beyond this are not worth listing.
const MOST_PROBLEMS: usize = 60;

/// Collects problems while reading goes on.
#[derive(Default)]
pub(super) struct Problems(RefCell<Vec<Problem>>);

impl Problems {
    pub(super) fn add(&self, line: Option<usize>, key: impl Into<String>, message: impl Into<String>) {
        self.0.borrow_mut().push(Problem { line, key: key.into(), message: message.into() });
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.borrow().is_empty()
    }

    /// In the order of the lines.
    pub(super) fn sorted(self) -> Vec<Problem> {
        let mut problems = self.0.into_inner();
        problems.sort_by_key(|problem| problem.line.unwrap_or(0));
        if problems.len() > MOST_PROBLEMS {
            problems.truncate(MOST_PROBLEMS);
            let message = "more problems follow; mend these first".to_owned();
            problems.push(Problem { line: None, key: String::new(), message });
        }
        problems
    }
}

/// The first signs of a text, for a sentence.
pub(super) fn excerpt(text: &str) -> String {
    const MOST: usize = 40;
    let plain: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).take(MOST + 1).collect();
    if plain.chars().count() > MOST {
        format!("{}...", plain.chars().take(MOST).collect::<String>())
    } else {
        plain
    }
}

/// Adds one problem for each line that the TOML parser could not read.
pub(super) fn explain(source: &Source<'_>, errors: &[toml::de::Error], problems: &Problems) {
    let mut seen = Vec::new();
    for error in errors {
        let line = error.span().map(|span| source.line(span.start));
        if seen.contains(&line) {
            continue;
        }
        seen.push(line);
        let (key, message) = sentence(error.message(), line.map_or("", |line| source.line_text(line)));
        problems.add(line, key, message);
    }
}

/// Key and sentence for an error with this parser message on this line.
fn sentence(message: &str, line: &str) -> (String, String) {
    let is_key = |key: &str| {
        !key.is_empty() && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.'))
    };
    let (key, value) = match line.split_once('=') {
        Some((key, value)) if is_key(key.trim()) => (key.trim(), value.trim()),
        _ => ("", ""),
    };
    let text = if message.contains("duplicate key") {
        format!(
            "'{}' stands twice in its section; keep one",
            excerpt(if key.is_empty() { line } else { key })
        )
    } else if !value.is_empty() && !value.starts_with(['"', '\'', '[', '{', '#']) {
        let bare = value.split('#').next().unwrap_or(value).trim().trim_matches(['"', '\'']);
        format!("the value must stand in quotes; write {key} = \"{}\"", excerpt(bare))
    } else if value.starts_with('"') && value.matches('"').count() == 1 {
        let open = excerpt(value.trim_matches('"'));
        format!("the quotes that open before '{open}' are not closed on this line")
    } else {
        format!(
            "'{}' cannot be read; a line is a section like [[procedure]], a key like turn = \"opening\", or a comment after #",
            excerpt(line)
        )
    };
    (key.to_owned(), text)
}
