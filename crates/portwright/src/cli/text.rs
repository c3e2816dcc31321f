//! Text for a terminal of 100 columns: wrapped paragraphs, labelled rows, tables.

/// Columns used.
const WIDTH: usize = 100;

/// A text that grows from top to bottom.
#[derive(Debug, Default)]
pub(crate) struct Text {
    lines: Vec<String>,
}

impl Text {
    /// A title with a line under it.
    pub(crate) fn title(&mut self, text: &str) {
        self.wrapped(text, "", "");
        self.lines.push("=".repeat(text.chars().count().min(WIDTH)));
    }

    /// A heading with an empty line above it.
    pub(crate) fn heading(&mut self, text: &str) {
        self.lines.push(String::new());
        self.lines.push(text.to_owned());
        self.lines.push("-".repeat(text.chars().count().min(WIDTH)));
    }

    /// An empty line.
    pub(crate) fn gap(&mut self) {
        self.lines.push(String::new());
    }

    /// A wrapped paragraph, indented by `indent`.
    pub(crate) fn paragraph(&mut self, indent: usize, text: &str) {
        let space = " ".repeat(indent);
        self.wrapped(text, &space, &space);
    }

    /// A wrapped paragraph behind a mark such as "-" or "2.".
    pub(crate) fn item(&mut self, indent: usize, mark: &str, text: &str) {
        let first = format!("{}{mark} ", " ".repeat(indent));
        let rest = " ".repeat(first.chars().count());
        self.wrapped(text, &first, &rest);
    }

    /// Labels in one column, texts wrapped in the other.
    pub(crate) fn rows<'a>(&mut self, rows: impl IntoIterator<Item = (&'a str, String)>) {
        let rows: Vec<(&str, String)> = rows.into_iter().collect();
        let widest = rows.iter().map(|(label, _)| label.chars().count()).max().unwrap_or(0).min(44);
        for (label, text) in rows {
            let pad = " ".repeat(widest.saturating_sub(label.chars().count()));
            let rest = " ".repeat(widest + 4);
            if label.chars().count() > widest {
                self.wrapped(label, "  ", "  ");
                self.wrapped(&text, &rest, &rest);
            } else {
                self.wrapped(&text, &format!("  {label}{pad}  "), &rest);
            }
        }
    }

    /// A table with heads; columns as wide as their widest cell, the first shortened by wrapping when too wide.
    pub(crate) fn table(&mut self, heads: &[String], rows: &[Vec<String>]) {
        let all: Vec<&[String]> = std::iter::once(heads).chain(rows.iter().map(Vec::as_slice)).collect();
        let columns = all.iter().map(|row| row.len()).max().unwrap_or(0);
        let mut widths: Vec<usize> = (0..columns)
            .map(|c| {
                all.iter().filter_map(|row| row.get(c)).map(|cell| cell.chars().count()).max().unwrap_or(0)
            })
            .collect();
        let others: usize = widths.iter().skip(1).map(|width| width + 2).sum();
        if let Some(first) = widths.first_mut() {
            *first = (*first).min(WIDTH.saturating_sub(others + 2)).max(16);
        }
        for (number, row) in all.iter().enumerate() {
            self.table_row(row, &widths);
            if number == 0 {
                let rule: Vec<String> = widths.iter().map(|width| "-".repeat(*width)).collect();
                self.lines.push(format!("  {}", rule.join("  ")).trim_end().to_owned());
            }
        }
    }

    fn table_row(&mut self, row: &[String], widths: &[usize]) {
        let cells: Vec<Vec<String>> =
            row.iter().zip(widths).map(|(cell, width)| wrap(cell, (*width).max(1))).collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(0);
        for line in 0..height {
            let mut text = String::from(" ");
            for (cell, width) in cells.iter().zip(widths) {
                let part = cell.get(line).map_or("", String::as_str);
                let pad = width.saturating_sub(part.chars().count());
                text += &format!(" {part}{} ", " ".repeat(pad));
            }
            self.lines.push(text.trim_end().to_owned());
        }
    }

    fn wrapped(&mut self, text: &str, first: &str, rest: &str) {
        let room = WIDTH.saturating_sub(rest.chars().count()).max(20);
        for (number, line) in wrap(text, room).into_iter().enumerate() {
            self.lines
                .push(format!("{}{line}", if number == 0 { first } else { rest }).trim_end().to_owned());
        }
    }
}

impl From<Text> for String {
    fn from(text: Text) -> Self {
        text.lines.join("\n") + "\n"
    }
}

/// Splits at blanks into lines of at most `room` characters; a longer word stands alone.
fn wrap(text: &str, room: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut used = 0;
    // Plain blanks only: a no-break space holds a figure and its unit together.
    for word in text.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
        let long = word.chars().count();
        if used > 0 && used + 1 + long > room {
            lines.push(String::new());
            used = 0;
        }
        if let Some(line) = lines.last_mut() {
            if used > 0 {
                line.push(' ');
                used += 1;
            }
            line.push_str(word);
            used += long;
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_wrapping_keeps_every_word_and_the_width() {
        let words: Vec<String> = (0..200).map(|n| "x".repeat(n % 13 + 1)).collect();
        let lines = wrap(&words.join(" "), 30);
        assert!(lines.iter().all(|line| line.chars().count() <= 30));
        assert_eq!(lines.join(" "), words.join(" "));
    }

    #[test]
    fn exact_rows_stand_in_two_columns() {
        let mut text = Text::default();
        text.rows([("a", "one".to_owned()), ("longer", "two".to_owned())]);
        assert_eq!(String::from(text), "  a       one\n  longer  two\n");
    }
}
