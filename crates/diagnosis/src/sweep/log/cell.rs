//! One cell: a figure with or without its unit, a gap, an open circuit, a time of day.

/// What a cell holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cell<'a> {
    /// Nothing.
    Missing,
    /// The meter's sign for an open circuit.
    Open,
    /// A figure, the step of its last digit, and what stands behind it.
    Figure { value: f64, step: f64, unit: &'a str },
    /// Something else.
    Word(&'a str),
}

/// Why digits are no figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum BadFigure {
    /// `1.234,5` or `1,234,5`: several separators.
    Separators,
    /// `4,860` among figures with a decimal point: thousands or decimals.
    Thousands,
    /// Not finite, or beyond what any meter shows.
    Size,
}

/// Figures beyond this are refused: nothing in a workshop is that large.
const LARGEST: f64 = 1e15;

/// Reads a cell. `points` says that decimal points stand elsewhere in the text, so that a comma with three digits
/// behind it could part thousands.
pub(super) fn read(text: &str, points: bool) -> Result<Cell<'_>, BadFigure> {
    let text = text.trim().trim_matches(['"', '\'', '\u{feff}']).trim();
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b == b'.') && text.bytes().any(|b| b != b'.');
    if let Some(gap) = (!plain).then(|| gap(text)).flatten() {
        return Ok(gap);
    }
    let unsigned = text.strip_prefix(['-', '+', '−', '±', '~']).unwrap_or(text);
    let negative = text.starts_with(['-', '−']);
    let unsigned = unsigned.trim_start();
    let end =
        unsigned.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(unsigned.len());
    let (digits, rest) = unsigned.split_at(end);
    if !digits.bytes().any(|b| b.is_ascii_digit()) {
        return Ok(Cell::Word(text));
    }
    // A full stop or comma that ends the cell is punctuation.
    let digits = digits.trim_end_matches(['.', ',']);
    let (size, step) = decimal(digits, points)?;
    let (power, unit) = exponent(rest);
    let scale = 10f64.powi(power);
    let value = if negative { -size * scale } else { size * scale };
    if !value.is_finite() || value.abs() > LARGEST {
        return Err(BadFigure::Size);
    }
    Ok(Cell::Figure { value, step: step * scale, unit: unit.trim() })
}

/// Signs for no reading and for an open circuit.
fn gap(text: &str) -> Option<Cell<'static>> {
    if text.chars().all(|c| matches!(c, '-' | '–' | '—' | '_' | '?' | '.' | '*' | ' ')) {
        return Some(Cell::Missing);
    }
    if text.len() > 16 {
        return None;
    }
    let word: String =
        text.chars().filter(|c| !matches!(c, '.' | ' ' | '-')).flat_map(char::to_lowercase).collect();
    let word = ["megohm", "mohm", "kohm", "ohm", "mω", "kω", "ω"]
        .iter()
        .find_map(|unit| word.strip_suffix(unit))
        .unwrap_or(&word);
    match word {
        "" => None,
        "ol" | "0l" | "+ol" | ">ol" | "overload" | "over" | "overrange" | "ovrflow" | "overflow" | "open"
        | "∞" | "+∞" | "inf" | "+inf" | "infinity" | "1#inf" => Some(Cell::Open),
        "nan" | "na" | "n/a" | "null" | "none" | "nil" | "missing" | "gap" | "blank" | "invalid"
        | "error" => Some(Cell::Missing),
        _ => None,
    }
}

/// Value and step of the last digit.
fn decimal(digits: &str, points: bool) -> Result<(f64, f64), BadFigure> {
    let separators = digits.bytes().filter(|b| matches!(b, b'.' | b',')).count();
    if separators > 1 {
        return Err(BadFigure::Separators);
    }
    let fraction = digits.split_once(['.', ',']).map_or("", |(_, fraction)| fraction);
    if let Some((whole, fraction)) = digits.split_once(',') {
        let like_thousands = fraction.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
        if points && like_thousands {
            return Err(BadFigure::Thousands);
        }
    }
    let plain = digits.replace(',', ".");
    let value = plain.parse::<f64>().map_err(|_| BadFigure::Separators)?;
    if !value.is_finite() {
        return Err(BadFigure::Size);
    }
    Ok((value, 0.1f64.powi(i32::try_from(fraction.len()).unwrap_or(i32::MAX).min(300))))
}

/// `E-3` behind digits, and what is left.
fn exponent(text: &str) -> (i32, &str) {
    let Some(after) = text.strip_prefix(['e', 'E']) else { return (0, text) };
    let unsigned = after.strip_prefix(['-', '+']).unwrap_or(after);
    let end = unsigned.find(|c: char| !c.is_ascii_digit()).unwrap_or(unsigned.len());
    let (digits, rest) = unsigned.split_at(end);
    if digits.is_empty() {
        return (0, text);
    }
    let size = digits.parse::<i32>().unwrap_or(9999).min(9999);
    (if after.starts_with('-') { -size } else { size }, rest)
}

/// Seconds of a time of day or a stop-watch reading with colons, with or without a date before it: `12:00:01.25`,
/// `0:05.3`, `2024-05-01T12:00:01`. A date counts only where it is written year first.
pub(super) fn clock_s(text: &str) -> Option<f64> {
    let text = text.trim().trim_matches('"').trim_end_matches('Z');
    let (date, clock) = match text.rsplit_once([' ', 'T']) {
        Some((date, clock)) => (Some(date), clock),
        None => (None, text),
    };
    let parts: Vec<&str> = clock.split(':').collect();
    if !(2..=3).contains(&parts.len()) || parts.iter().any(|p| p.is_empty() || p.len() > 12) {
        return None;
    }
    let mut seconds = 0.0;
    for (i, part) in parts.iter().enumerate() {
        let last = i + 1 == parts.len();
        let fine = part.bytes().all(|b| b.is_ascii_digit() || (last && matches!(b, b'.' | b',')));
        let value = part.replace(',', ".").parse::<f64>().ok().filter(|_| fine)?;
        seconds = seconds * 60.0 + value;
    }
    let days = date.and_then(days).unwrap_or(0.0);
    let total = days * 86_400.0 + seconds;
    total.is_finite().then_some(total)
}

/// Days of a date written year first, from an arbitrary day (proleptic Gregorian calendar).
fn days(date: &str) -> Option<f64> {
    let mut parts = date.trim().splitn(3, ['-', '/', '.']);
    let mut next = |most: i64| parts.next()?.parse::<i64>().ok().filter(|n| (1..=most).contains(n));
    let (year, month, day) = (next(9999).filter(|y| *y > 31)?, next(12)?, next(31)?);
    // March is the first month, so that the leap day ends the year.
    let shifted = if month > 2 { year } else { year - 1 };
    let of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    Some((365 * shifted + shifted / 4 - shifted / 100 + shifted / 400 + of_year) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(text: &str) -> (f64, f64, &str) {
        match read(text, false) {
            Ok(Cell::Figure { value, step, unit }) => (value, step, unit),
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn exact_figures_with_units() {
        assert_eq!(figure("0.52 kΩ"), (0.52, 0.010000000000000002, "kΩ"));
        assert_eq!(figure("-0,5V").0, -0.5);
        assert_eq!(figure("\"1.5e-3 V\"").0, 1.5e-3);
        assert_eq!(figure("4860").1, 1.0);
        assert_eq!(figure(".5 s").0, 0.5);
        assert_eq!(figure("7.").0, 7.0);
    }

    #[test]
    fn exact_gaps_and_open_circuits() {
        for text in ["", "---", " - ", "n/a", "NaN", "?", "."] {
            assert_eq!(read(text, false), Ok(Cell::Missing), "{text}");
        }
        for text in ["OL", "0L", "O.L", ".OL", "0.L MΩ", "OL kOhm", "open", "∞", "overload", "Inf"] {
            assert_eq!(read(text, false), Ok(Cell::Open), "{text}");
        }
    }

    #[test]
    fn refuses_figures_that_could_mean_two_things() {
        assert_eq!(read("1.234,5", false), Err(BadFigure::Separators));
        assert_eq!(read("4,860", true), Err(BadFigure::Thousands));
        assert_eq!(figure("4,860").0, 4.86);
        assert_eq!(read("1e300", false), Err(BadFigure::Size));
        assert_eq!(read("9e999", false), Err(BadFigure::Size));
    }

    #[test]
    fn exact_clocks_and_dates() {
        assert_eq!(clock_s("0:05.5"), Some(5.5));
        assert_eq!(clock_s("12:00:01,25"), Some(43_201.25));
        let midnight = clock_s("2024-03-01 00:00:00").unwrap() - clock_s("2024-02-28 23:59:59").unwrap();
        assert_eq!(midnight, 86_401.0, "2024 is a leap year");
        assert_eq!(clock_s("0.5"), None);
        assert_eq!(clock_s("1:2:3:4"), None);
    }
}
