//! Figures of a file of procedures: a unit, a spread, and a range that is accepted.

use quantity::{Dimension, Measured, Units, parse, show_value};
use userfile::Fields;

/// Accepted values of a figure, SI, and its dimension.
#[derive(Clone, Copy)]
pub(super) struct Range {
    pub(super) dimension: Dimension,
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Range {
    pub(super) const fn of(dimension: Dimension, low: f64, high: f64) -> Self {
        Self { dimension, low, high }
    }
}

/// A figure with its unit and spread that must be there.
pub(super) fn figure(fields: &Fields<'_, '_>, key: &str, range: Range) -> Option<Measured> {
    if !fields.gives(key) {
        let example = range.dimension.example();
        fields.refuse(
            key,
            format!("this is missing; write {} with its unit, like \"{example}\"", range.dimension.noun()),
        );
        return None;
    }
    may_figure(fields, key, range)
}

/// A figure that may be missing.
pub(super) fn may_figure(fields: &Fields<'_, '_>, key: &str, range: Range) -> Option<Measured> {
    let text = fields.may_text(key)?;
    let measured = match parse(&text, range.dimension) {
        Ok(measured) => measured,
        Err(error) => {
            fields.refuse(key, error.to_string());
            return None;
        }
    };
    if measured.value >= range.low && measured.value <= range.high && measured.u.is_finite() {
        return Some(measured);
    }
    let show = |si: f64| show_value(si, range.dimension, Units::Metric);
    fields.refuse(
        key,
        format!(
            "{} is not accepted; it must lie from {} to {}: check the figure and its unit",
            show(measured.value),
            show(range.low),
            show(range.high)
        ),
    );
    None
}
