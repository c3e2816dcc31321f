//! A number as it is shown and as it is computed.

use quantity::{Dimension, Measured, Units};
use serde::Serialize;

/// A figure: finished text, and the SI value behind it.
#[derive(Debug, Clone, Serialize)]
pub struct Figure {
    /// Finished text with unit and, where it comes from measurements, ± for about 95 %.
    pub text: String,
    /// Value in SI.
    pub value: f64,
    /// Standard uncertainty in SI.
    pub standard_uncertainty: f64,
    /// What kind of quantity.
    pub dimension: Dimension,
}

impl Figure {
    /// Shows a measured figure in the chosen units.
    pub fn of(measured: &Measured, units: Units) -> Self {
        Self {
            text: quantity::show(measured, units),
            value: measured.value,
            standard_uncertainty: measured.u,
            dimension: measured.dimension,
        }
    }
}
