//! One spelling for the many ways in which the same sign is typed.

/// Replaces look-alike signs by the one the reader knows and runs of blanks by one space.
pub(crate) fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            // Minus, hyphen, figure dash, en dash.
            '\u{2212}' | '\u{2010}'..='\u{2013}' => out.push('-'),
            '\u{2033}' | '\u{201C}' | '\u{201D}' => out.push('"'),
            '\u{03BC}' => out.push('µ'),
            '\u{2126}' => out.push('Ω'),
            '\u{22C5}' | '\u{2219}' | '\u{2022}' | '×' => out.push('·'),
            'º' | '˚' => out.push('°'),
            '℃' => out.push_str("°C"),
            '℉' => out.push_str("°F"),
            '½' => out.push_str(" 1/2"),
            '¼' => out.push_str(" 1/4"),
            '¾' => out.push_str(" 3/4"),
            '⅛' => out.push_str(" 1/8"),
            '⅜' => out.push_str(" 3/8"),
            '⅝' => out.push_str(" 5/8"),
            '⅞' => out.push_str(" 7/8"),
            '\u{2044}' => out.push('/'),
            '\u{2009}' | '\u{FEFF}' => out.push(' '),
            c if c.is_whitespace() => out.push(' '),
            c => out.push(c),
        }
    }
    let words: Vec<&str> = out.split(' ').filter(|word| !word.is_empty()).collect();
    let line = words.join(" ");
    line.replace("+/-", "±").replace("+-", "±").replace("''", "\"").replace("^2", "²").replace("^3", "³")
}

/// What was written, short enough and clean enough to stand inside a sentence.
pub(crate) fn excerpt(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut out: String =
        text.trim().chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.trim().chars().nth(LONGEST).is_some() {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_signs_are_made_one() {
        assert_eq!(tidy(" 10\u{A0}\u{202F}mm +/- 0.1 "), "10 mm ± 0.1");
        assert_eq!(tidy("\u{2212}3 µm"), "-3 µm");
        assert_eq!(tidy("1½″"), "1 1/2\"");
        assert_eq!(tidy("7 cm^3"), "7 cm³");
    }

    #[test]
    fn exact_excerpts_are_short_and_clean() {
        assert_eq!(excerpt("  a\u{1b}b "), "a b");
        assert_eq!(excerpt(&"x".repeat(100)).chars().count(), 41);
    }
}
