//! Texts made fit for paper: bounded, breakable, without characters that reorder or hide others.

/// Longest text that is printed, in characters; the rest is told as cut.
const LONGEST: usize = 800;

/// Longest name that is printed, in characters.
const LONGEST_NAME: usize = 160;

/// Longest run without a place to break, in characters.
const LONGEST_RUN: usize = 28;

/// Makes any text printable.
///
/// Control characters and those that turn the writing direction are left out: they could show a figure other than the
/// one that stands there. Long runs may break anywhere. The ohm and micro signs become the Greek letters that look the
/// same, because fonts have those.
pub(crate) fn printable(text: &str) -> String {
    within(text, LONGEST)
}

/// Makes a name printable in large letters.
pub(crate) fn printable_name(text: &str) -> String {
    within(text, LONGEST_NAME)
}

fn within(text: &str, longest: usize) -> String {
    let mut out = String::with_capacity(text.len());
    let mut run = 0;
    let mut count = 0;
    for c in text.chars() {
        if count == longest {
            out.push_str(" … (cut)");
            break;
        }
        let Some(c) = kept(c) else { continue };
        run = if c.is_whitespace() || c == '-' { 0 } else { run + 1 };
        if run > LONGEST_RUN {
            out.push('\u{200b}');
            run = 1;
        }
        out.push(c);
        count += 1;
    }
    out
}

/// The character as it is printed; none when it is left out.
fn kept(c: char) -> Option<char> {
    match c {
        '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => Some(' '),
        '\u{2126}' => Some('Ω'),
        '\u{b5}' => Some('μ'),
        '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => None,
        '\u{feff}' | '\u{fffe}' | '\u{ffff}' | '\u{fff9}'..='\u{fffb}' => None,
        c if c.is_control() => None,
        c => Some(c),
    }
}

/// A figure without its sign, for where the direction stands in words.
pub(crate) fn unsigned(text: &str) -> &str {
    text.trim_start_matches(['+', '-', '−', ' '])
}

/// A probability in words that claim no more than they know.
pub(crate) fn probability(p: f64) -> String {
    match p {
        p if !p.is_finite() => "not known".to_owned(),
        p if p < 0.01 => "under 1 %".to_owned(),
        p if p > 0.99 => "over 99 %".to_owned(),
        p => format!("{:.0} %", p * 100.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_characters_that_turn_the_writing_direction() {
        assert_eq!(printable("1\u{202e}23\u{202c} mm\u{0}"), "123 mm");
        assert_eq!(printable("line\nline\ttab"), "line line tab");
    }

    #[test]
    fn exact_long_runs_can_break_and_long_texts_are_cut() {
        let broken = printable(&"x".repeat(100));
        assert_eq!(broken.matches('\u{200b}').count(), 3);
        assert_eq!(broken.replace('\u{200b}', ""), "x".repeat(100));
        let cut = printable(&"word ".repeat(600));
        assert!(cut.ends_with("… (cut)"), "{cut}");
        assert!(cut.chars().count() < LONGEST + 20);
    }

    #[test]
    fn exact_ohm_sign_becomes_the_letter() {
        assert_eq!(printable("4.86 k\u{2126}"), "4.86 kΩ");
    }

    #[test]
    fn exact_figures_lose_their_sign_only() {
        assert_eq!(unsigned("−1.25 ± 0.10 turns"), "1.25 ± 0.10 turns");
        assert_eq!(unsigned("+ 0.5 turns"), "0.5 turns");
        assert_eq!(unsigned("2 turns"), "2 turns");
    }

    #[test]
    fn exact_probabilities_claim_no_certainty() {
        assert_eq!(probability(1.0), "over 99 %");
        assert_eq!(probability(0.0), "under 1 %");
        assert_eq!(probability(0.456), "46 %");
        assert_eq!(probability(f64::NAN), "not known");
    }
}
