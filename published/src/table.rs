//! Tables of check data: comma-separated, a line of names, comment lines that begin with #.

/// A table.
#[derive(Debug, Clone)]
pub struct Table {
    names: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// One row with the names of its columns.
#[derive(Debug, Clone, Copy)]
pub struct Line<'a> {
    table: &'a Table,
    cells: &'a [String],
}

impl Table {
    /// Reads a table.
    ///
    /// # Panics
    /// When it has no line of names, or a row of another length.
    pub fn read(text: &str) -> Self {
        let mut lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
        let names = split(lines.next().expect("a line of names"));
        let rows: Vec<Vec<String>> = lines.map(split).collect();
        for row in &rows {
            assert_eq!(row.len(), names.len(), "{row:?} does not fit {names:?}");
        }
        Self { names, rows }
    }

    /// All rows.
    pub fn lines(&self) -> impl Iterator<Item = Line<'_>> {
        self.rows.iter().map(|cells| Line { table: self, cells })
    }

    /// Rows whose column has this text.
    pub fn of<'a>(&'a self, column: &'a str, text: &'a str) -> Vec<Line<'a>> {
        let found: Vec<Line<'a>> = self.lines().filter(|line| line.text(column) == text).collect();
        assert!(!found.is_empty(), "no row with {column} {text}");
        found
    }
}

impl Line<'_> {
    /// The text in a column.
    ///
    /// # Panics
    /// When there is no such column.
    pub fn text(&self, column: &str) -> &str {
        let at = self.table.names.iter().position(|name| name == column);
        &self.cells[at.unwrap_or_else(|| panic!("no column {column} in {:?}", self.table.names))]
    }

    /// The number in a column.
    ///
    /// # Panics
    /// When there is no such column or it holds no number.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("{text} in {column} is no number"))
    }
}

/// Splits at commas outside quotation marks.
fn split(line: &str) -> Vec<String> {
    let (mut parts, mut quoted) = (vec![String::new()], false);
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => parts.push(String::new()),
            _ => parts.last_mut().expect("one part at least").push(letter),
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::Table;

    #[test]
    fn exact_columns_by_name() {
        let table = Table::read("# note\nname,x\n\"a, b\",1.5\nc,2\n");
        assert_eq!(table.of("name", "a, b")[0].number("x"), 1.5);
        assert_eq!(table.lines().count(), 2);
    }
}
