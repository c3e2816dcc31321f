//! Text to [`Measured`].

use crate::error::ParseError;
use crate::figure::{self, Figure};
use crate::instrument;
use crate::tidy::{excerpt, tidy};
use crate::unit::{self, Unit};
use crate::{Dimension, Measured, Shape};

/// Texts with more signs than this are refused.
pub const LONGEST_TEXT: usize = 200;

/// Reads a quantity of the given dimension, such as `10.2 ± 0.1 mm`; see the crate's table of forms.
///
/// The value comes in SI, the uncertainty as a standard uncertainty; both are always finite. `written` keeps
/// the text. Limits may carry their own unit; without one they have the unit of the figure. The uncertainty
/// of a temperature is a difference (no shift of zero). Of a plain number written in per cent, `± 2 %` means
/// two percentage points; of everything else it means 2 % of the figure.
///
/// # Errors
/// [`ParseError`]: one sentence naming what was read, the units it could have and the way to mend it.
pub fn parse(text: &str, dimension: Dimension) -> Result<Measured, ParseError> {
    if text.chars().nth(LONGEST_TEXT).is_some() {
        return Err(ParseError::TooLong { limit: LONGEST_TEXT, wanted: dimension });
    }
    let line = tidy(text);
    if line.is_empty() {
        return Err(ParseError::Empty { wanted: dimension });
    }
    let statement = Statement::of(&line, dimension)?;
    let reading = Reading::of(statement.figure, statement.unit, dimension)?;
    let (u, shape) = statement.spread.standard_uncertainty(&reading, &line)?;
    let measured = Measured { value: reading.si, u, shape, dimension, written: Some(text.trim().to_owned()) };
    if !measured.value.is_finite() || !measured.u.is_finite() {
        return Err(ParseError::NotFinite { read: excerpt(&line) });
    }
    if dimension == Dimension::Temperature && measured.value < 0.0 {
        return Err(ParseError::BelowAbsoluteZero { read: excerpt(&line) });
    }
    Ok(measured)
}

/// A line cut into its parts, nothing interpreted yet.
struct Statement<'a> {
    figure: &'a str,
    unit: &'a str,
    spread: Spread<'a>,
}

/// How the line says how sure it is.
enum Spread<'a> {
    LastDigit,
    Exact,
    Instrument(&'a str),
    Limits { terms: &'a str, coverage: Option<f64> },
}

impl<'a> Statement<'a> {
    fn of(line: &'a str, wanted: Dimension) -> Result<Self, ParseError> {
        let (line, ending) = cut_ending(line);
        let (line, coverage) = cut_coverage(line)?;
        let Some((head, tail)) = line.split_once('±') else {
            if let Some(k) = coverage {
                return Err(ParseError::CoverageWithoutLimit { k });
            }
            let line = strip_brackets(line);
            let (figure, unit) = split_figure(line, wanted)?;
            return Ok(Self { figure, unit, spread: ending.unwrap_or(Spread::LastDigit) });
        };
        if tail.contains('±') {
            return Err(ParseError::SeveralLimits { read: excerpt(line) });
        }
        if ending.is_some() {
            return Err(ParseError::TwoUncertainties { read: excerpt(line) });
        }
        let (head, terms, unit_behind) = cut_brackets(head, tail, line, wanted)?;
        let (figure, unit_before) = split_figure(head, wanted)?;
        let unit = match (unit_before, unit_behind) {
            ("", "") => last_unit(terms),
            ("", behind) => behind,
            (before, _) => before,
        };
        Ok(Self { figure, unit, spread: Spread::Limits { terms, coverage } })
    }
}

/// Takes `(k=2)`, `, k = 2` or `k=2` off the end.
fn cut_coverage(line: &str) -> Result<(&str, Option<f64>), ParseError> {
    let Some((before, after)) = line.rsplit_once('=') else { return Ok((line, None)) };
    let before = before.trim_end();
    let bad = || {
        let letter = before.rsplit([' ', '(']).next().unwrap_or(before);
        ParseError::BadCoverage { read: excerpt(&format!("{letter}={}", after.trim_end_matches(')').trim())) }
    };
    let Some(rest) = before.strip_suffix(['k', 'K']) else { return Err(bad()) };
    let (rest, closing) = match rest.trim_end().strip_suffix('(') {
        Some(rest) => (rest, ")"),
        None => (rest, ""),
    };
    match figure::read(after)? {
        Some((k, end)) if (1.0..=10.0).contains(&k.value) && end == closing => {
            Ok((rest.trim_end_matches([' ', ',', ';']), Some(k.value)))
        }
        _ => Err(bad()),
    }
}

/// Takes `exact` or `by an instrument` off the end.
fn cut_ending(line: &str) -> (&str, Option<Spread<'_>>) {
    for word in [" exactly", " exact", " (exact)"] {
        if let Some(rest) = line.strip_suffix(word) {
            return (rest.trim_end_matches([' ', ',']), Some(Spread::Exact));
        }
    }
    match line.split_once(" by ") {
        Some((rest, name)) => (rest.trim_end(), Some(Spread::Instrument(name.trim()))),
        None => (line, None),
    }
}

fn strip_brackets(line: &str) -> &str {
    line.strip_prefix('(').and_then(|inner| inner.strip_suffix(')')).map_or(line, str::trim)
}

/// Separates the limits from brackets round them or round the whole: gives figure part, terms, unit behind.
fn cut_brackets<'a>(
    head: &'a str,
    tail: &'a str,
    line: &str,
    wanted: Dimension,
) -> Result<(&'a str, &'a str, &'a str), ParseError> {
    let unpaired = || ParseError::Bracket { read: excerpt(line), wanted };
    let (mut head, mut tail, mut behind) = (head.trim(), tail.trim(), "");
    // 10.2 mm (± 0.1 mm)
    if let (Some(before), Some(inner)) = (head.strip_suffix('('), tail.strip_suffix(')')) {
        (head, tail) = (before.trim(), inner.trim());
    }
    if let Some(inner) = head.strip_prefix('(') {
        let (terms, unit) = tail.rsplit_once(')').ok_or_else(unpaired)?;
        (head, tail, behind) = (inner.trim(), terms.trim(), unit.trim());
    }
    if let Some(inner) = tail.strip_prefix('(') {
        let (terms, unit) = inner.rsplit_once(')').ok_or_else(unpaired)?;
        tail = terms.trim();
        if behind.is_empty() {
            behind = unit.trim();
        } else if !unit.trim().is_empty() {
            return Err(unpaired());
        }
    }
    if [head, tail, behind].iter().any(|part| part.contains(['(', ')'])) {
        return Err(unpaired());
    }
    Ok((head, tail, behind))
}

/// Cuts `17.5 mm` into the figure's text and the unit's text.
fn split_figure(text: &str, wanted: Dimension) -> Result<(&str, &str), ParseError> {
    let text = text.trim();
    let Some((_, unit)) = figure::read(text)? else {
        return Err(ParseError::NoFigure { read: excerpt(text), wanted });
    };
    let figure = text.get(..text.len() - unit.len()).unwrap_or(text).trim_end();
    if unit.contains('+') {
        return Err(ParseError::UnequalLimits { read: excerpt(text), wanted });
    }
    let second_figure =
        unit.trim_start_matches(['-', ' ', '\'', ',']).starts_with(|c: char| c.is_ascii_digit());
    let per_minute = unit.starts_with("1/") && unit.contains('m');
    if second_figure && !per_minute {
        return Err(ParseError::SeveralFigures { read: excerpt(text) });
    }
    Ok((figure, unit))
}

/// The unit at the very end of the limits, where it stands for figure and limit (`10.2 ± 0.1 mm`).
fn last_unit(terms: &str) -> &str {
    let last = terms.rsplit_once(" + ").map_or(terms, |(_, last)| last);
    match figure::read(last) {
        Ok(Some((_, unit))) if Term::names_share(unit) || Term::names_digits(unit) => "",
        Ok(Some((_, unit))) => unit,
        _ => "",
    }
}

/// The figure with its meaning.
struct Reading {
    figure: Figure,
    unit: &'static Unit,
    si: f64,
    dimension: Dimension,
}

impl Reading {
    fn of(text: &str, unit: &str, dimension: Dimension) -> Result<Self, ParseError> {
        let Some((figure, _)) = figure::read(text)? else {
            return Err(ParseError::NoFigure { read: excerpt(text), wanted: dimension });
        };
        if unit.is_empty() && dimension != Dimension::Number {
            return Err(ParseError::NoUnit { read: excerpt(text), wanted: dimension });
        }
        let unit = resolve(unit, dimension)?;
        Ok(Self { figure, unit, si: unit.to_si(figure.value), dimension })
    }
}

fn resolve(text: &str, wanted: Dimension) -> Result<&'static Unit, ParseError> {
    if let Some(unit) = unit::find(text, wanted) {
        return Ok(unit);
    }
    let unit = excerpt(text);
    if wanted == Dimension::Number {
        return Err(ParseError::UnitOnNumber { unit });
    }
    if let Some(other) = unit::find_any(text) {
        return Err(ParseError::WrongDimension { unit, is: other.dimension, wanted });
    }
    Err(match unit::nearest(text, wanted) {
        Some(nearest) if !nearest.is_empty() => {
            ParseError::Mistyped { unit, nearest: nearest.to_owned(), wanted }
        }
        _ => ParseError::UnknownUnit { unit, wanted },
    })
}

impl Spread<'_> {
    /// Standard uncertainty in SI and the shape it summarises.
    fn standard_uncertainty(&self, reading: &Reading, line: &str) -> Result<(f64, Shape), ParseError> {
        let digit = reading.figure.step * reading.unit.factor;
        let rectangular = |half_width: f64| (half_width / 3f64.sqrt(), Shape::Rectangular);
        match self {
            Self::Exact => Ok((0.0, Shape::Rectangular)),
            Self::LastDigit => Ok(rectangular(digit / 2.0)),
            Self::Instrument(name) => {
                let wanted = reading.dimension;
                let instrument = instrument::find(name)
                    .ok_or_else(|| ParseError::UnknownInstrument { name: excerpt(name), wanted })?;
                let limits = instrument
                    .limits_for(wanted)
                    .ok_or_else(|| ParseError::WrongInstrument { name: instrument.name(), wanted })?;
                let half_width = limits.absolute + limits.relative * reading.si.abs() + limits.digits * digit;
                Ok(rectangular(half_width))
            }
            Self::Limits { terms, coverage } => {
                let half_width = sum_terms(terms, reading, digit, line)?;
                Ok(match coverage {
                    Some(k) => (half_width / k, Shape::Normal),
                    None => rectangular(half_width),
                })
            }
        }
    }
}

/// One summand of a limit.
enum Term<'a> {
    Share,
    Digits,
    Absolute(&'a str),
}

impl<'a> Term<'a> {
    fn of(word: &'a str) -> Self {
        if Self::names_share(word) {
            Self::Share
        } else if Self::names_digits(word) {
            Self::Digits
        } else {
            Self::Absolute(word)
        }
    }

    fn names_share(word: &str) -> bool {
        matches!(word.trim(), "%" | "percent" | "per cent" | "% of reading" | "% rdg")
    }

    fn names_digits(word: &str) -> bool {
        matches!(word.trim(), "d" | "dgt" | "dgts" | "digit" | "digits" | "count" | "counts" | "LSD")
    }
}

/// Half width in SI: the sum of terms such as `0.5 % + 2 digits`, `0.02 mm + 0.1 %`, `0.1 mm`.
fn sum_terms(terms: &str, reading: &Reading, digit: f64, line: &str) -> Result<f64, ParseError> {
    let bad = || ParseError::BadLimit { read: excerpt(terms) };
    if terms.is_empty() {
        return Err(ParseError::NoLimit);
    }
    let mut half_width = 0.0;
    let mut rest = terms;
    loop {
        let (figure, behind) = figure::read(rest)?.ok_or_else(bad)?;
        if figure.value < 0.0 {
            return Err(ParseError::NegativeLimit { read: excerpt(rest) });
        }
        let (word, next) = match behind.split_once('+') {
            Some((word, next)) => (word.trim(), Some(next)),
            None => (behind.trim(), None),
        };
        half_width += match Term::of(word) {
            Term::Share if reading.unit.symbol() == "%" => figure.value * reading.unit.factor,
            Term::Share if reading.dimension == Dimension::Temperature => {
                return Err(ParseError::ShareOfTemperature { read: excerpt(line) });
            }
            Term::Share => figure.value / 100.0 * reading.si.abs(),
            Term::Digits => figure.value * digit,
            Term::Absolute("") => figure.value * reading.unit.factor,
            Term::Absolute(unit)
                if unit.starts_with(|c: char| c.is_ascii_digit()) && !unit.contains("/m") =>
            {
                return Err(bad());
            }
            Term::Absolute(unit) => figure.value * resolve(unit, reading.dimension)?.factor,
        };
        match next {
            Some(next) => rest = next,
            None => return Ok(half_width),
        }
    }
}

#[cfg(test)]
mod tests;
