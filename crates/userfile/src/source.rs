//! Lines of a file, the problems found in it, and what is quoted of it.

use crate::{Layout, Problem};
use std::cell::RefCell;

/// Problems beyond this are not worth listing.
const MOST_PROBLEMS: usize = 60;

/// The text with its line starts.
pub(super) struct Source<'a> {
    /// What kind of file it is.
    pub(super) layout: &'static Layout,
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Source<'a> {
    pub(super) fn of(text: &'a str, layout: &'static Layout) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { layout, text, starts }
    }

    /// Line of a place in the text, counted from 1.
    pub(super) fn line(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at)
    }

    /// Text of a line.
    pub(super) fn line_text(&self, line: usize) -> &'a str {
        self.text.lines().nth(line.saturating_sub(1)).unwrap_or("")
    }
}

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

/// What was written, short enough and clean enough to stand inside a sentence.
pub fn excerpt(text: &str) -> String {
    const LONGEST: usize = 40;
    let text = text.trim();
    let mut out: String = text.chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(LONGEST).is_some() {
        out.push('…');
    }
    out
}
