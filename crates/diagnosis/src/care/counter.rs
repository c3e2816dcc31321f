//! Hours of the engine, distances and months as they are written.

use quantity::Units;

const KM_PER_MILE: f64 = 1.609_344;
/// More than any engine has run.
const MOST_HOURS: f64 = 100_000.0;
const MOST_KM: f64 = 10_000_000.0;

/// A figure and what stands behind it.
fn figure(text: &str) -> Result<(f64, String), String> {
    let text = text.trim();
    let end =
        text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '\u{a0}' | '\u{202f}')));
    let (digits, unit) = text.split_at(end.unwrap_or(text.len()));
    let digits: String = digits.chars().filter(|c| c.is_ascii_digit() || matches!(c, '.' | ',')).collect();
    // "1,200" and "1.200" are a thousand and more to one reader and little over one to another.
    let after = digits.split_once([',', '.']).map(|(_, after)| after);
    if after.is_some_and(|after| after.len() == 3 || after.contains([',', '.'])) {
        return Err(format!("\"{text}\" can be read in two ways. Write thousands without a mark."));
    }
    let value = digits.replace(',', ".").parse::<f64>().ok().filter(|v| v.is_finite());
    let value = value.ok_or_else(|| format!("\"{text}\" does not begin with a figure."))?;
    Ok((value, unit.trim().trim_end_matches('.').to_lowercase()))
}

/// Hours of the engine: `42.5 h`, `42.5` (hours), `90 min`.
pub(super) fn hours(text: &str) -> Result<f64, String> {
    let (value, unit) = figure(text).map_err(|e| format!("{e} Write engine hours as 42.5 h."))?;
    let hours = match unit.as_str() {
        "" | "h" | "hr" | "hrs" | "hour" | "hours" => value,
        "min" | "minutes" => value / 60.0,
        _ => {
            return Err(format!(
                "\"{}\" has no unit of time that fits. Write engine hours as 42.5 h.",
                text.trim()
            ));
        }
    };
    if hours > MOST_HOURS {
        return Err(format!("\"{}\" is more than {MOST_HOURS} h; look at the figure.", text.trim()));
    }
    Ok(hours)
}

/// A distance in km: `3200 km`, `2000 mi`. The unit must be there, since the figure does not tell.
pub(super) fn km(text: &str) -> Result<f64, String> {
    let (value, unit) = figure(text).map_err(|e| format!("{e} Write the distance as 3200 km or 2000 mi."))?;
    let km = match unit.as_str() {
        "km" | "kilometre" | "kilometres" => value,
        "mi" | "mile" | "miles" => value * KM_PER_MILE,
        _ => return Err(format!("\"{}\" needs its unit: write it as 3200 km or 2000 mi.", text.trim())),
    };
    if km > MOST_KM {
        return Err(format!("\"{}\" is more than {MOST_KM} km; look at the figure.", text.trim()));
    }
    Ok(km)
}

/// Months: `12 months`, `12`, `2 years`.
pub(super) fn months(text: &str) -> Result<u32, String> {
    let wrong =
        || format!("\"{}\" is no whole number of months from 1 to 240. Write it as 12 months.", text.trim());
    let (value, unit) = figure(text).map_err(|_| wrong())?;
    let months = match unit.as_str() {
        "" | "month" | "months" => value,
        "year" | "years" => 12.0 * value,
        _ => return Err(wrong()),
    };
    let whole = months.fract() == 0.0 && (1.0..=240.0).contains(&months);
    if whole { Ok(months as u32) } else { Err(wrong()) }
}

/// Hours as they are shown.
pub(super) fn show_hours(hours: f64) -> String {
    if hours.fract().abs() < 0.05 || hours >= 100.0 {
        format!("{hours:.0} h")
    } else {
        format!("{hours:.1} h")
    }
}

/// A distance as it is shown: km, or miles with inch units.
pub(super) fn show_km(km: f64, units: Units) -> String {
    match units {
        Units::Metric => format!("{km:.0} km"),
        Units::Inch => format!("{:.0} mi", km / KM_PER_MILE),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_hours_distances_and_months() {
        assert_eq!(hours("42.5 h"), Ok(42.5));
        assert_eq!(hours(" 42,5 hours"), Ok(42.5));
        assert_eq!(hours("42"), Ok(42.0));
        assert_eq!(hours("90 min"), Ok(1.5));
        assert_eq!(km("3200 km"), Ok(3200.0));
        assert_eq!(km("3 200 km"), Ok(3200.0));
        assert_eq!(km("100 mi"), Ok(160.9344));
        assert_eq!(months("12"), Ok(12));
        assert_eq!(months("2 years"), Ok(24));
        assert_eq!(show_km(160.9344, Units::Inch), "100 mi");
        assert_eq!(show_hours(32.53), "32.5 h");
        assert_eq!(show_hours(30.0), "30 h");
    }

    #[test]
    fn refuses_what_can_be_read_in_two_ways() {
        assert!(km("1,200 km").unwrap_err().contains("two ways"));
        assert!(km("1.200 km").unwrap_err().contains("two ways"));
        assert!(km("1.200,5 km").unwrap_err().contains("two ways"));
        assert!(km("3200").unwrap_err().contains("needs its unit"));
        assert!(km("3200 m").unwrap_err().contains("needs its unit"));
        assert!(hours("3 days").unwrap_err().contains("42.5 h"));
        assert!(hours("-3 h").unwrap_err().contains("does not begin with a figure"));
        assert!(hours("9e9").is_err());
        assert!(hours("99999999 h").unwrap_err().contains("more than"));
        for text in ["", "0", "1.5", "241", "1 week"] {
            assert!(months(text).unwrap_err().contains("12 months"), "{text}");
        }
    }
}
