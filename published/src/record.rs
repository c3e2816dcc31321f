//! What was checked, one JSON line a check, for `docs/validation.md`.

use serde::Serialize;
use std::fs::OpenOptions;
use std::io::Write;
use std::path::Path;

/// Environment variable with the file that records are appended to. Without it nothing is recorded.
pub const RECORDS_VARIABLE: &str = "PUBLISHED_RECORDS";

#[derive(Debug, Default, Serialize)]
pub(crate) struct Record {
    pub(crate) topic: String,
    pub(crate) key: String,
    pub(crate) reference: String,
    pub(crate) place: String,
    pub(crate) what: String,
    pub(crate) theirs: String,
    pub(crate) ours: String,
    pub(crate) difference: String,
    pub(crate) tolerance: String,
    pub(crate) reason: String,
}

/// Appends one line. Tests run in several processes at once: one write a line keeps the lines whole.
///
/// Checks of the harness itself are not recorded, they prove nothing about the program.
pub(crate) fn append(row: &Record) {
    if row.topic == HARNESS {
        return;
    }
    let Some(path) = std::env::var_os(RECORDS_VARIABLE) else { return };
    let line = match serde_json::to_string(row) {
        Ok(text) => text + "\n",
        Err(cause) => panic!("the check cannot be written as JSON: {cause}"),
    };
    let written = OpenOptions::new()
        .create(true)
        .append(true)
        .open(&path)
        .and_then(|mut file| file.write_all(line.as_bytes()));
    if let Err(cause) = written {
        panic!("cannot record the check in {}: {cause}", Path::new(&path).display());
    }
}

const HARNESS: &str = "check";

/// The topic of a check is the name of the file that holds it.
pub(crate) fn topic_of(file: &str) -> String {
    Path::new(file).file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default()
}

/// `value` rounded to a tenth of the decade of `width`: the same text on every machine, although the
/// last bits of a result may differ between them.
pub(crate) fn rounded(value: f64, width: f64) -> String {
    let Some(decimals) = decimals_for(width) else { return tidy(value) };
    if decimals > 15 || value.abs() >= 1e15 {
        return format!("{value:.3e}");
    }
    let text = if decimals >= 0 {
        format!("{value:.*}", decimals as usize)
    } else {
        let unit = 10f64.powi(-decimals);
        format!("{:.0}", (value / unit).round() * unit)
    };
    trimmed(&text)
}

/// Decimals that show a tenth of the decade of `width`; `None` when the width says nothing.
fn decimals_for(width: f64) -> Option<i32> {
    (width > 0.0 && width.is_finite()).then(|| 1 - width.log10().floor() as i32)
}

/// A short text for a number that comes from the source or a tolerance: at most three figures after the first.
pub(crate) fn tidy(value: f64) -> String {
    if value == 0.0 {
        return "0".to_string();
    }
    let decade = value.abs().log10().floor() as i32;
    if !(-4..=6).contains(&decade) {
        return format!("{value:.3e}").replace(".000e", "e");
    }
    trimmed(&format!("{value:.*}", (3 - decade).max(0) as usize))
}

/// Drops zeros after the decimal point and the sign of a zero.
fn trimmed(text: &str) -> String {
    let short = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text };
    if short == "-0" { "0".to_string() } else { short.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_rounding_follows_the_tolerance() {
        assert_eq!(rounded(1.234_567_89, 0.01), "1.235");
        assert_eq!(rounded(-0.000_000_01, 0.01), "0");
        assert_eq!(rounded(123_456.0, 10_000.0), "123000");
        assert_eq!(rounded(0.5, 0.0), "0.5");
    }

    #[test]
    fn exact_short_texts() {
        assert_eq!(tidy(0.01), "0.01");
        assert_eq!(tidy(1e-9), "1e-9");
        assert_eq!(tidy(0.0), "0");
        assert_eq!(topic_of("published/tests/threads.rs"), "threads");
    }
}
