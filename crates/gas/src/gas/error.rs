//! What makes a gas impossible.

use thiserror::Error;

/// A figure from which no gas can be made.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum GasError {
    /// Outside what the formulas hold for.
    #[error("The {what} is {value:.4}{unit}: give {least}{unit} to {most}{unit}.")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// Its value in the unit.
        value: f64,
        /// Least accepted.
        least: f64,
        /// Most accepted.
        most: f64,
        /// Unit of the three with the space before it; empty for a pure number.
        unit: &'static str,
    },
    /// No chemical equilibrium was found.
    #[error(
        "No chemical equilibrium of the burned gas was found near {t_k:.0} K: check temperature, pressure and fuel."
    )]
    NoEquilibrium {
        /// Temperature, K.
        t_k: f64,
    },
}

impl GasError {
    pub(crate) fn check(
        what: &'static str,
        value: f64,
        least: f64,
        most: f64,
        unit: &'static str,
    ) -> Result<f64, Self> {
        if (least..=most).contains(&value) {
            Ok(value)
        } else {
            Err(Self::OutOfRange { what, value, least, most, unit })
        }
    }
}
