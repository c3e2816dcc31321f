//! Limits as a mechanic writes them: "3.5 kΩ to 6.5 kΩ", "at most 15 N", "5 ± 1 kΩ".

use evidence::conformity::Limits;
use quantity::{Dimension, Measured, ParseError, Shape, Units};
use thiserror::Error;
use userfile::excerpt;

/// Limits read from a text, in SI. Exact: what a manual prints is the limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TextLimits {
    /// Lowest accepted value.
    pub lower: Option<f64>,
    /// Highest accepted value.
    pub upper: Option<f64>,
    /// True when the larger figure was written first.
    pub reversed: bool,
}

/// Why a text is no limit; one sentence, the field's name to be put before it.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[allow(missing_docs, reason = "the sentences say what each case is")]
pub enum LimitError {
    #[error(
        "'{read}' is no limit; write it like '3 {unit} to 5 {unit}', 'at least 3 {unit}' or 'at most 5 {unit}'"
    )]
    NoWord { read: String, unit: &'static str },
    #[error("{0}")]
    Figure(#[from] ParseError),
    #[error("'{read}' has a coverage factor; a limit is what the manual prints, like '5 ± 1 kΩ' without k")]
    Coverage { read: String },
}

const AT_MOST: [&str; 13] = [
    "at most ",
    "no more than ",
    "not more than ",
    "not over ",
    "less than ",
    "up to ",
    "below ",
    "under ",
    "max. ",
    "max ",
    "maximum ",
    "<",
    "≤",
];
const AT_LEAST: [&str; 11] = [
    "at least ",
    "no less than ",
    "not less than ",
    "more than ",
    "over ",
    "above ",
    "min. ",
    "min ",
    "minimum ",
    ">",
    "≥",
];
/// What may stand between the two figures, the clearest first.
const BETWEEN: [&str; 6] = [" to ", "…", "...", " and ", "–", "-"];

impl TextLimits {
    /// Reads limits of a dimension.
    ///
    /// # Errors
    /// [`LimitError`]: a sentence saying what was read and how to write it.
    pub fn read(text: &str, dimension: Dimension) -> Result<Self, LimitError> {
        let text = text.trim();
        let lower_case = text.to_lowercase();
        let after = |words: &[&str]| {
            words.iter().find(|word| lower_case.starts_with(**word)).and_then(|word| text.get(word.len()..))
        };
        if let Some(rest) = after(&AT_MOST) {
            return Ok(Self {
                lower: None,
                upper: Some(figure(strip_equals(rest), dimension)?),
                reversed: false,
            });
        }
        if let Some(rest) = after(&AT_LEAST) {
            return Ok(Self {
                lower: Some(figure(strip_equals(rest), dimension)?),
                upper: None,
                reversed: false,
            });
        }
        if ["±", "+/-", "+-"].iter().any(|sign| text.contains(sign)) {
            return about(text, dimension);
        }
        let text = after(&["between ", "from "]).unwrap_or(text);
        let mut first_error = None;
        for (low, high) in cuts(text) {
            match pair(low, high, dimension) {
                Ok((low, high)) => {
                    return Ok(Self {
                        lower: Some(low.min(high)),
                        upper: Some(low.max(high)),
                        reversed: low > high,
                    });
                }
                Err(error) => first_error = first_error.or(Some(error)),
            }
        }
        Err(first_error.map_or_else(
            || LimitError::NoWord { read: excerpt(text), unit: first_unit(dimension) },
            LimitError::Figure,
        ))
    }

    /// The same limits for judging.
    pub fn limits(&self) -> Limits {
        Limits { lower: self.lower, upper: self.upper }
    }

    /// The limits in words, in the chosen units.
    pub fn show(&self, dimension: Dimension, units: Units) -> String {
        let shown = |si: f64| quantity::show(&Measured::exact(si, dimension), units);
        match (self.lower, self.upper) {
            (Some(lower), Some(upper)) => format!("{} to {}", shown(lower), shown(upper)),
            (Some(lower), None) => format!("at least {}", shown(lower)),
            (None, Some(upper)) => format!("at most {}", shown(upper)),
            (None, None) => "no limit".to_owned(),
        }
    }
}

fn strip_equals(text: &str) -> &str {
    text.trim().trim_start_matches('=')
}

fn figure(text: &str, dimension: Dimension) -> Result<f64, ParseError> {
    quantity::parse(text, dimension).map(|figure| figure.value)
}

/// The unit for an example.
fn first_unit(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Number => "%",
        _ => dimension.usual_units().split([',', ' ']).next().unwrap_or(""),
    }
}

/// "5 ± 1 kΩ": both limits at once.
fn about(text: &str, dimension: Dimension) -> Result<TextLimits, LimitError> {
    let middle = quantity::parse(text, dimension)?;
    if middle.shape == Shape::Normal {
        return Err(LimitError::Coverage { read: excerpt(text) });
    }
    let half = middle.u * 3f64.sqrt();
    Ok(TextLimits { lower: Some(middle.value - half), upper: Some(middle.value + half), reversed: false })
}

/// Every way to cut the text in two.
fn cuts(text: &str) -> impl Iterator<Item = (&str, &str)> {
    BETWEEN.iter().flat_map(move |word| {
        text.match_indices(word)
            .filter_map(move |(at, _)| Some((text.get(..at)?.trim(), text.get(at + word.len()..)?.trim())))
            .filter(|(low, high)| !low.is_empty() && !high.is_empty())
    })
}

/// Two figures; the first may leave its unit to the second ("3.5 to 6.5 kΩ").
fn pair(low: &str, high: &str, dimension: Dimension) -> Result<(f64, f64), ParseError> {
    let upper = figure(high, dimension)?;
    let lower = match figure(low, dimension) {
        Err(ParseError::NoUnit { .. }) => figure(&format!("{low} {}", unit_of(high)), dimension)?,
        read => read?,
    };
    Ok((lower, upper))
}

/// What stands behind the digits.
fn unit_of(text: &str) -> &str {
    let sign = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | '/' | ' ' | '\u{2212}');
    text.trim_start_matches(sign)
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::Dimension::*;

    fn read(text: &str, dimension: Dimension) -> TextLimits {
        TextLimits::read(text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    fn near(ours: Option<f64>, theirs: f64) {
        let ours = ours.expect("a limit");
        assert!((ours - theirs).abs() <= 1e-9 * theirs.abs().max(1e-3), "{ours} is not {theirs}");
    }

    #[test]
    fn exact_ways_to_write_two_limits() {
        for text in [
            "3.5 kΩ to 6.5 kΩ",
            "3.5 to 6.5 kΩ",
            "between 3.5 and 6.5 kohm",
            "from 3500 Ω to 6.5 kΩ",
            "3.5-6.5 kΩ",
            "3,5 – 6,5 kΩ",
            "3.5 kΩ … 6.5 kΩ",
            "5 ± 1.5 kΩ",
            "5 kΩ +/- 30 %",
        ] {
            let limits = read(text, Resistance);
            near(limits.lower, 3500.0);
            near(limits.upper, 6500.0);
            assert!(!limits.reversed, "{text}");
        }
        let limits = read("-0.5 mm to -0.2 mm", Length);
        near(limits.lower, -0.5e-3);
        near(limits.upper, -0.2e-3);
        let limits = read("-0.5--0.2 mm", Length);
        near(limits.lower, -0.5e-3);
        near(limits.upper, -0.2e-3);
    }

    #[test]
    fn exact_ways_to_write_one_limit() {
        for text in
            ["at most 15 N", "At most 15 N", "no more than 15 N", "max. 15 N", "< 15 N", "<= 15 N", "≤15 N"]
        {
            let limits = read(text, Force);
            near(limits.upper, 15.0);
            assert_eq!(limits.lower, None, "{text}");
        }
        for text in ["at least 11.8 V", "min 11.8 V", ">= 11.8 V", "over 11.8 V"] {
            let limits = read(text, Voltage);
            near(limits.lower, 11.8);
            assert_eq!(limits.upper, None, "{text}");
        }
        near(read("at most 30 %", Number).upper, 0.3);
    }

    #[test]
    fn exact_limits_the_wrong_way_round_are_noticed() {
        let limits = read("6.5 kΩ to 3.5 kΩ", Resistance);
        assert!(limits.reversed);
        near(limits.lower, 3500.0);
    }

    #[test]
    fn refuses_what_is_no_limit() {
        let refused = |text: &str, dimension| TextLimits::read(text, dimension).unwrap_err().to_string();
        assert!(refused("5 kΩ", Resistance).contains("at most"), "{}", refused("5 kΩ", Resistance));
        assert!(refused("", Force).contains("at least"));
        assert!(refused("3.5 to 6.5", Resistance).contains("has no unit"));
        assert!(refused("at most 15 mm", Force).contains("is a length"));
        assert!(refused("5 ± 1 kΩ (k=2)", Resistance).contains("coverage factor"));
    }

    #[test]
    fn exact_shown_in_the_chosen_units() {
        assert_eq!(read("3.5 to 6.5 kΩ", Resistance).show(Resistance, Units::Metric), "3.5 kΩ to 6.5 kΩ");
        assert_eq!(read("at most 0.3 mm", Length).show(Length, Units::Inch), "at most 0.0118 in");
        assert_eq!(read("at least 11.8 V", Voltage).show(Voltage, Units::Metric), "at least 11.8 V");
    }
}
