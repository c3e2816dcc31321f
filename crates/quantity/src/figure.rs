//! Reading one figure: decimal, with exponent, or a fraction; and how finely it was written.

use crate::error::ParseError;
use crate::tidy::excerpt;

/// A figure without its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Figure {
    pub(crate) value: f64,
    /// One unit of the last written digit; for a fraction one part of its denominator.
    pub(crate) step: f64,
}

/// Reads the figure at the start of `text`; gives it and what follows it, blanks trimmed.
///
/// `text` is tidied. Not a figure at all: `Ok(None)`.
pub(crate) fn read(text: &str) -> Result<Option<(Figure, &str)>, ParseError> {
    let text = text.trim_start();
    let (negative, unsigned) = match text.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let Some((figure, rest)) = read_unsigned(unsigned)? else { return Ok(None) };
    if !figure.value.is_finite() || !figure.step.is_finite() {
        return Err(ParseError::NotFinite { read: excerpt(text) });
    }
    let value = if negative { -figure.value } else { figure.value };
    Ok(Some((Figure { value, ..figure }, rest.trim_start())))
}

fn read_unsigned(text: &str) -> Result<Option<(Figure, &str)>, ParseError> {
    let (digits, rest) = split_while(text, |c| c.is_ascii_digit() || matches!(c, '.' | ','));
    if !digits.contains(|c: char| c.is_ascii_digit()) {
        return Ok(None);
    }
    // A comma or full stop at the end belongs to the sentence ("54.5, k=2"), unless it ends a whole figure ("5.").
    let kept = digits.trim_end_matches(',');
    let rest = text.get(kept.len()..).unwrap_or(rest);
    if kept.chars().all(|c| c.is_ascii_digit())
        && let Some(found) = read_fraction(kept, rest)?
    {
        return Ok(Some(found));
    }
    let plain = settle_decimal_sign(kept)?;
    let (power, rest) = read_exponent(rest);
    let decimals = plain.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let value = format!("{plain}e{power}").parse::<f64>().unwrap_or(f64::INFINITY);
    let step = 10f64.powi(power.saturating_sub(i32::try_from(decimals).unwrap_or(i32::MAX)));
    Ok(Some((Figure { value, step }, rest)))
}

/// `3/8`, or after a whole number ` 3/32` or `-3/32`.
fn read_fraction<'a>(whole: &str, rest: &'a str) -> Result<Option<(Figure, &'a str)>, ParseError> {
    let number = |digits: &str| digits.parse::<f64>().unwrap_or(f64::INFINITY);
    let (whole, top, after_top) = if rest.starts_with('/') {
        ("0", whole, rest)
    } else {
        let Some(second) = rest.strip_prefix([' ', '-']) else { return Ok(None) };
        let (top, after) = split_while(second, |c| c.is_ascii_digit());
        (whole, top, after)
    };
    let Some(under) = after_top.strip_prefix('/') else { return Ok(None) };
    let (bottom, rest) = split_while(under, |c| c.is_ascii_digit());
    if top.is_empty() || bottom.is_empty() {
        return Ok(None);
    }
    let parts = number(bottom);
    if parts == 0.0 {
        return Err(ParseError::DividedByZero { read: format!("{}/{}", excerpt(top), excerpt(bottom)) });
    }
    let figure = Figure { value: number(whole) + number(top) / parts, step: 1.0 / parts };
    Ok(Some((figure, rest)))
}

/// Turns a decimal comma into a point; refuses what could be a thousands separator.
fn settle_decimal_sign(digits: &str) -> Result<String, ParseError> {
    let commas = digits.matches(',').count();
    let points = digits.matches('.').count();
    if commas + points > 1 {
        let without: String = digits.chars().filter(char::is_ascii_digit).collect();
        return Err(ParseError::SeveralSeparators { read: excerpt(digits), without: excerpt(&without) });
    }
    if let Some((whole, decimals)) = digits.split_once(',') {
        let could_be_thousands =
            decimals.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
        if could_be_thousands {
            return Err(ParseError::Thousands { whole: whole.to_owned(), decimals: decimals.to_owned() });
        }
    }
    Ok(digits.replace(',', "."))
}

/// `e-3` and the like; anything else after the digits is left alone.
fn read_exponent(text: &str) -> (i32, &str) {
    let none = (0, text);
    let Some(after) = text.strip_prefix(['e', 'E']) else { return none };
    let unsigned = after.strip_prefix(['-', '+']).unwrap_or(after);
    let (digits, rest) = split_while(unsigned, |c| c.is_ascii_digit());
    if digits.is_empty() {
        return none;
    }
    // Beyond four digits the value is infinite or nothing in any case.
    let size = digits.parse::<i32>().unwrap_or(9999).min(9999);
    (if after.starts_with('-') { -size } else { size }, rest)
}

fn split_while(text: &str, keep: impl Fn(char) -> bool) -> (&str, &str) {
    let end = text.find(|c: char| !keep(c)).unwrap_or(text.len());
    text.split_at(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(text: &str) -> (f64, f64, &str) {
        let (figure, rest) = read(text).unwrap().unwrap();
        (figure.value, figure.step, rest)
    }

    #[test]
    fn exact_figures() {
        assert_eq!(figure("54.50 mm"), (54.5, 0.01, "mm"));
        assert_eq!(figure("17,5mm"), (17.5, 0.1, "mm"));
        assert_eq!(figure(".5"), (0.5, 0.1, ""));
        assert_eq!(figure("-3 °C"), (-3.0, 1.0, "°C"));
        assert_eq!(figure("0,125 in"), (0.125, 1e-3, "in"));
        assert_eq!(figure("1234,567 mm"), (1234.567, 1e-3, "mm"));
        assert_eq!(figure("1.20e3 rpm"), (1200.0, 10.0, "rpm"));
        assert_eq!(figure("3 exact"), (3.0, 1.0, "exact"));
        assert_eq!(figure("3000 1/min"), (3000.0, 1.0, "1/min"));
    }

    #[test]
    fn exact_fractions() {
        assert_eq!(figure("1 3/32 in"), (1.09375, 1.0 / 32.0, "in"));
        assert_eq!(figure("1-3/32 in"), (1.09375, 1.0 / 32.0, "in"));
        assert_eq!(figure("-3/8\""), (-0.375, 0.125, "\""));
    }

    #[test]
    fn refuses_what_is_no_figure() {
        assert_eq!(read("inf mm").unwrap(), None);
        assert_eq!(read("NaN").unwrap(), None);
        assert_eq!(read("").unwrap(), None);
        assert!(matches!(read("1e999 mm"), Err(ParseError::NotFinite { .. })));
        assert!(matches!(read("1/0 in"), Err(ParseError::DividedByZero { .. })));
        assert!(matches!(read("1,234 mm"), Err(ParseError::Thousands { .. })));
        assert!(matches!(read("1.234,5 mm"), Err(ParseError::SeveralSeparators { .. })));
    }
}
