//! Bytes to a TOML table whose parts know their lines.

use super::problem::Problems;
use super::syntax;
use toml::Spanned;
use toml::de::DeTable;

/// Longest file that is read, bytes. An engine file has a few thousand.
const LONGEST: usize = 1 << 20;

/// The text of a file with the places where its lines begin.
#[derive(Debug)]
pub(super) struct Source<'a> {
    pub(super) text: &'a str,
    line_starts: Vec<usize>,
}

impl<'a> Source<'a> {
    /// Checks size and encoding.
    pub(super) fn of(bytes: &'a [u8], problems: &mut Problems) -> Option<Self> {
        if bytes.len() > LONGEST {
            problems.add(
                None,
                "",
                format!(
                    "the file has {:.1} MB; an engine file has at most 1 MB, so this is something else: choose the right file",
                    bytes.len() as f64 / 1e6
                ),
            );
            return None;
        }
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        match std::str::from_utf8(bytes) {
            Ok(text) if text.trim().is_empty() => {
                problems.add(
                    None,
                    "",
                    "the file is empty; begin it with the line portwright = 1 and a section [engine], or start from the demo file",
                );
                None
            }
            Ok(text) => Some(Self::new(text)),
            Err(error) => {
                let line = bytes.iter().take(error.valid_up_to()).filter(|byte| **byte == b'\n').count() + 1;
                problems.add(
                    Some(line),
                    "",
                    "this line holds bytes that are not UTF-8 text; save the file as plain text with the encoding UTF-8",
                );
                None
            }
        }
    }

    fn new(text: &'a str) -> Self {
        let mut line_starts = vec![0];
        line_starts.extend(text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1));
        Self { text, line_starts }
    }

    /// Line of a byte, counted from 1.
    pub(super) fn line(&self, at: usize) -> usize {
        self.line_starts.partition_point(|start| *start <= at).max(1)
    }

    /// Text of a line, counted from 1.
    pub(super) fn line_text(&self, line: usize) -> &'a str {
        let start = self.line_starts.get(line.saturating_sub(1)).copied().unwrap_or(self.text.len());
        let end = self.line_starts.get(line).copied().unwrap_or(self.text.len());
        self.text.get(start..end).unwrap_or("").trim_end()
    }

    /// The text as a table; every syntax error becomes a problem.
    pub(super) fn table(&self, problems: &mut Problems) -> Option<Spanned<DeTable<'a>>> {
        let (table, errors) = DeTable::parse_recoverable(self.text);
        if errors.is_empty() {
            return Some(table);
        }
        syntax::explain(self, &errors, problems);
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_lines_are_counted_from_one() {
        let source = Source::new("a\nbc\n\nd");
        assert_eq!([0, 1, 2, 4, 5, 6].map(|at| source.line(at)), [1, 1, 2, 2, 3, 4]);
        assert_eq!((source.line_text(2), source.line_text(3), source.line_text(9)), ("bc", "", ""));
    }
}
