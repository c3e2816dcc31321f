//! What was entered for an item, read but not yet judged.

use quantity::{Dimension, Measured, ParseError};
use std::collections::BTreeMap;

/// The entries of a check.
pub(super) struct Entries<'a>(pub(super) &'a BTreeMap<String, String>);

impl<'a> Entries<'a> {
    /// The text entered under a key; blank counts as nothing.
    pub(super) fn text(&self, key: &str) -> Option<&'a str> {
        self.0.get(key).map(|text| text.trim()).filter(|text| !text.is_empty())
    }

    /// The text entered for a part of an item or pair: `limit`, `limit-source`.
    pub(super) fn of(&self, key: &str, part: &str) -> Option<&'a str> {
        self.text(&format!("{key}.{part}"))
    }

    /// True when an odd answer to this item was confirmed: by a yes, or by the answer itself, which then holds for
    /// that answer only.
    pub(super) fn sure(&self, key: &str) -> bool {
        let yes =
            |text: &str| ["yes", "y", "true", "on", "1", "sure"].contains(&text.to_lowercase().as_str());
        self.of(key, "sure").is_some_and(|text| yes(text) || Some(text) == self.text(key))
    }
}

/// A reading as it was entered.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Entry {
    /// A figure with its uncertainty. `step` is the last digit shown, SI (0 when it cannot be known).
    Figure { measured: Measured, step: f64, by: Option<&'static str> },
    /// The meter showed overload; the end of its range when it was named, SI.
    Overload { range: Option<f64> },
    /// A 1 alone, which some meters show at the left for overload.
    OneAlone,
}

/// Reads an entry. `by` is the instrument to assume when the entry does not say how sure it is.
pub(super) fn read(text: &str, dimension: Dimension, by: Option<&str>) -> Result<Entry, ParseError> {
    if let Some(rest) = strip_overload(text) {
        return overload(rest, dimension);
    }
    if is_one_alone(text) && dimension == Dimension::Resistance {
        return Ok(Entry::OneAlone);
    }
    let bare = quantity::parse(text, dimension)?;
    if says_how_sure(text) {
        return Ok(Entry::Figure { step: step_of(text, dimension), measured: bare, by: None });
    }
    let step = 2.0 * 3f64.sqrt() * bare.u;
    let named = by.and_then(|name| {
        let measured = quantity::parse(&format!("{text} by {name}"), dimension).ok()?;
        let name = quantity::instruments().iter().find(|known| known.names.contains(&name))?.name();
        Some((measured, name))
    });
    Ok(match named {
        // The written text stays what was written. Digits that were left out leave more doubt than a fine instrument.
        Some((measured, name)) if measured.u >= bare.u => {
            Entry::Figure { measured: Measured { written: bare.written, ..measured }, step, by: Some(name) }
        }
        _ => Entry::Figure { measured: bare, step, by: None },
    })
}

fn says_how_sure(text: &str) -> bool {
    let lower = text.to_lowercase();
    ["±", "+/-", "+-", " by ", "exact"].iter().any(|sign| lower.contains(sign))
}

/// The last digit of the figure in front of what says how sure it is.
fn step_of(text: &str, dimension: Dimension) -> f64 {
    let cut = ["±", "+/-", "+-", " by ", " exact"].iter().filter_map(|sign| text.find(sign)).min();
    let head = cut.and_then(|at| text.get(..at)).unwrap_or(text).trim().trim_start_matches('(');
    let with_unit = |unit: &str| quantity::parse(&format!("{head} {unit}"), dimension);
    let bare = quantity::parse(head, dimension).or_else(|_| with_unit(last_word(text)));
    bare.map_or(0.0, |figure| 2.0 * 3f64.sqrt() * figure.u)
}

fn last_word(text: &str) -> &str {
    text.trim()
        .rsplit(|c: char| c.is_whitespace() || c.is_ascii_digit())
        .next()
        .unwrap_or("")
        .trim_matches(['(', ')'])
}

/// What follows "OL" or one of its spellings.
fn strip_overload(text: &str) -> Option<&str> {
    let lower = text.to_lowercase();
    let words = [
        "overload",
        "over load",
        "open circuit",
        "infinite",
        "infinity",
        "o.l.",
        "o.l",
        "0.l",
        "o l",
        "0l",
        "ol",
        "∞",
        "open",
    ];
    let word = words.iter().find(|word| lower.starts_with(**word))?;
    let rest = text.get(word.len()..)?;
    let ends = rest.chars().next().is_none_or(|c| !c.is_alphanumeric());
    ends.then_some(rest.trim())
}

/// "OL", "OL kΩ", "OL on 2 kΩ", "OL (20 kΩ range)".
fn overload(rest: &str, dimension: Dimension) -> Result<Entry, ParseError> {
    let inner = rest.trim_matches(['(', ')', ',', '.', ' ']);
    let inner = inner.strip_prefix("on ").or_else(|| inner.strip_prefix("at ")).unwrap_or(inner);
    let inner = inner.strip_prefix("the ").unwrap_or(inner);
    let inner = inner.strip_suffix("range").unwrap_or(inner).trim();
    if !inner.contains(|c: char| c.is_ascii_digit()) {
        return Ok(Entry::Overload { range: None });
    }
    quantity::parse(inner, dimension).map(|range| Entry::Overload { range: Some(range.value) })
}

fn is_one_alone(text: &str) -> bool {
    matches!(text.trim().trim_end_matches(['.', ' ', ',']), "1" | "I")
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::Dimension::{Resistance, Voltage};

    #[test]
    fn practice_spellings_of_overload() {
        for text in ["OL", "ol", "O.L", "0L", "0.L", "OL kΩ", "O.L. MΩ", "overload", "∞", "open"] {
            assert_eq!(read(text, Resistance, None), Ok(Entry::Overload { range: None }), "{text}");
        }
        for text in ["OL on 2 kΩ", "OL (2 kΩ range)", "OL on the 2 kΩ range", "OL, 2kohm"] {
            assert_eq!(read(text, Resistance, None), Ok(Entry::Overload { range: Some(2000.0) }), "{text}");
        }
        assert_eq!(read("1", Resistance, None), Ok(Entry::OneAlone));
        assert_eq!(read("1 .", Resistance, None), Ok(Entry::OneAlone));
        assert!(read("1", Voltage, None).is_err());
        assert!(read("olive", Resistance, None).is_err());
    }

    #[test]
    fn exact_an_entry_without_its_error_takes_that_of_the_instrument() {
        let Ok(Entry::Figure { measured, step, by }) = read("4.24 kΩ", Resistance, Some("multimeter"))
        else {
            panic!("a figure")
        };
        assert_eq!(by, Some("multimeter"));
        assert!((measured.u * 3f64.sqrt() - (0.009 * 4240.0 + 20.0)).abs() < 1e-9);
        assert!((step - 10.0).abs() < 1e-9);
        assert_eq!(measured.written.as_deref(), Some("4.24 kΩ"));
        for text in
            ["4.24 ± 0.05 kΩ", "4.24 kΩ ± (0.5 % + 2 digits)", "4.24 kΩ exact", "4.24 kΩ by multimeter"]
        {
            let Ok(Entry::Figure { step, by, .. }) = read(text, Resistance, Some("multimeter")) else {
                panic!("{text}")
            };
            assert_eq!(by, None);
            assert!((step - 10.0).abs() < 1e-9, "{text}: {step}");
        }
    }
}
