//! Readings as found and as they shall be after the setting, side by side.

use super::{Array, IntoValue, Value, dict, row, text};
use workshop::report::{Report, ReturnValue, Row};

/// Each return value with the reading of the same name as found.
pub(super) fn returns(report: &Report) -> Array {
    let one = |value: &ReturnValue| {
        let found = report.as_found.iter().find(|row| row.label == value.name);
        dict! {
            "name" => text(&value.name),
            "found" => found.map_or(Value::None, |row| text(&row.value)),
            "figure" => text(&value.figure.text),
        }
        .into_value()
    };
    report.returns.iter().map(one).collect()
}

/// Readings as found that are not among the return values; none when there are no return values.
pub(super) fn also_found(report: &Report) -> Array {
    if report.returns.is_empty() {
        return Array::new();
    }
    let other = |found: &&Row| !report.returns.iter().any(|value| value.name == found.label);
    report.as_found.iter().filter(other).map(|found| row(found).into_value()).collect()
}

/// All readings as found, when there are no return values beside which they could stand.
pub(super) fn only_found(report: &Report) -> Array {
    if report.returns.is_empty() {
        report.as_found.iter().map(|found| row(found).into_value()).collect()
    } else {
        Array::new()
    }
}
