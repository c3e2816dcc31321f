//! How wide a text is likely to be, for placing labels. Fonts differ, so the estimate is on the wide side.

/// Likely width of `text` at `size_mm`, mm, a little on the wide side for common sans-serif fonts.
pub fn text_width_mm(text: &str, size_mm: f64) -> f64 {
    text.chars().map(character_width).sum::<f64>() * size_mm
}

/// Advance in units of the font size: usual widths of a grotesque sans-serif, from memory, raised by some 4 %.
fn character_width(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | 'I' => 0.29,
        't' | 'f' | 'r' | ' ' | '(' | ')' | '/' | '-' | '·' => 0.36,
        'm' | 'M' | 'W' | '%' | '@' => 0.90,
        'w' => 0.78,
        '°' | '²' | '³' => 0.42,
        'A'..='Z' => 0.71,
        '0'..='9' => 0.60,
        '±' | '+' | '=' | '<' | '>' | '−' => 0.62,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' => 0.54,
        c if c.is_ascii() => 0.60,
        _ => 0.75,
    }
}

/// Breaks `text` into at most `most` lines no wider than `width_mm`; what does not fit ends in an ellipsis.
pub fn wrap(text: &str, size_mm: f64, width_mm: f64, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if text_width_mm(&longer, size_mm) <= width_mm || line.is_empty() {
            line = longer;
        } else {
            lines.push(std::mem::replace(&mut line, word.to_owned()));
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    let cut = lines.len() > most;
    lines.truncate(most);
    for (i, line) in lines.iter_mut().enumerate() {
        let must_end = cut && i + 1 == most;
        if must_end || text_width_mm(line, size_mm) > width_mm {
            shorten(line, size_mm, width_mm);
        }
    }
    lines
}

fn shorten(line: &mut String, size_mm: f64, width_mm: f64) {
    while text_width_mm(line, size_mm) + size_mm > width_mm && line.pop().is_some() {}
    line.truncate(line.trim_end().len());
    line.push('…');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_wrap_keeps_every_word_and_the_width() {
        let text = "the left side of the machine, looking at the pulley of the valve";
        let lines = wrap(text, 3.0, 40.0, 9);
        assert_eq!(lines.join(" "), text);
        assert!(lines.iter().all(|l| text_width_mm(l, 3.0) <= 40.0));
        assert!(lines.len() > 2);
    }

    #[test]
    fn exact_wrap_ends_what_does_not_fit_with_an_ellipsis() {
        let lines = wrap("one two three four five six seven eight nine ten", 3.0, 20.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines[1].ends_with('…'));
        let long = wrap(&"x".repeat(500), 3.0, 20.0, 2);
        assert_eq!(long.len(), 1);
        assert!(text_width_mm(&long[0], 3.0) <= 20.0);
    }
}
