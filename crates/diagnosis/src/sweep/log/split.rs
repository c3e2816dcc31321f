//! Lines to cells.

/// What parts the cells of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Separator {
    /// One sign; a comma only where it is no decimal comma.
    Sign(char),
    /// Commas that are not between two digits: those between are decimal commas.
    LooseComma,
    /// Runs of blanks.
    Blanks,
    /// The whole line is one cell.
    Line,
}

/// Separators of a table, in the order in which they are tried.
pub(super) const OF_TABLES: [Separator; 6] = [
    Separator::Sign('\t'),
    Separator::Sign(';'),
    Separator::Sign('|'),
    Separator::Sign(','),
    Separator::Blanks,
    Separator::Line,
];

/// The cells of a line; a separator between double quotes parts nothing.
pub(super) fn cells(line: &str, separator: Separator) -> Vec<&str> {
    match separator {
        Separator::Line => vec![line],
        Separator::Blanks => line.split_whitespace().collect(),
        Separator::Sign(sign) => cut(line, |text, i| text[i..].starts_with(sign)),
        Separator::LooseComma => cut(line, |text, i| text[i..].starts_with(',') && !between_digits(text, i)),
    }
}

fn cut(line: &str, parts: impl Fn(&str, usize) -> bool) -> Vec<&str> {
    let (mut out, mut start, mut quoted) = (Vec::new(), 0, false);
    for (i, c) in line.char_indices() {
        quoted ^= c == '"';
        if !quoted && parts(line, i) {
            out.push(line.get(start..i).unwrap_or_default());
            start = i + c.len_utf8();
        }
    }
    out.push(line.get(start..).unwrap_or_default());
    // Many programs end each line with a separator.
    if out.len() > 1 && out.last().is_some_and(|last| last.trim().is_empty()) {
        out.pop();
    }
    out
}

/// Whether the sign at byte `i` stands between two digits.
pub(super) fn between_digits(text: &str, i: usize) -> bool {
    let digit = |b: Option<&u8>| b.is_some_and(u8::is_ascii_digit);
    let bytes = text.as_bytes();
    i > 0 && digit(bytes.get(i - 1)) && digit(bytes.get(i + 1))
}

/// Whether `sign` stands anywhere between two digits.
pub(super) fn decimal_sign(text: &str, sign: char) -> bool {
    text.char_indices().any(|(i, c)| c == sign && between_digits(text, i))
}

/// The separator of a list without names.
pub(super) fn of_list(text: &str) -> Separator {
    for sign in ['\t', ';', '|'] {
        if text.contains(sign) {
            return Separator::Sign(sign);
        }
    }
    let loose = text.char_indices().any(|(i, c)| c == ',' && !between_digits(text, i));
    if decimal_sign(text, ',') {
        let points = decimal_sign(text, '.');
        let several = text.lines().any(|line| line.matches(',').count() > 1);
        return match (loose, points, several) {
            (_, true, _) | (false, false, true) => Separator::Sign(','),
            (true, false, _) => Separator::LooseComma,
            (false, false, false) => Separator::Line,
        };
    }
    if loose { Separator::Sign(',') } else { Separator::Line }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_lists_part_where_the_writer_meant() {
        let parts = |text: &str| cells(text, of_list(text)).len();
        assert_eq!(parts("0.52 kΩ, 0.61, 0.70"), 3);
        assert_eq!(parts("0,52 kΩ, 0,61, 0,70"), 3);
        assert_eq!(parts("0,52 kΩ; 0,61; 0,70;"), 3);
        assert_eq!(parts("52,61,70,77"), 4);
        assert_eq!(parts("0.52,0.61"), 2);
        assert_eq!(parts("0,52 kΩ"), 1);
    }

    #[test]
    fn exact_quotes_keep_a_separator() {
        assert_eq!(cells("\"0,52\",\"a;b\",3", Separator::Sign(',')), ["\"0,52\"", "\"a;b\"", "3"]);
    }
}
