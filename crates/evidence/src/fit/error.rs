//! Why a fit is refused.

use super::Confusion;
use thiserror::Error;

/// Why a fit is refused; one sentence each.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[allow(missing_docs, reason = "the sentences say what each case is")]
pub enum FitError {
    #[error("'{name}' was given {what} {value}; it must be a finite number{rule}")]
    BadParameter { name: String, what: &'static str, value: f64, rule: &'static str },

    #[error(
        "reading {at} (counted from 1) has the value {value} and the uncertainty {u}; both must be finite, the uncertainty above zero, and the value at most 1e150 times as large"
    )]
    BadReading { at: usize, value: f64, u: f64 },

    #[error("{given} uncertainties were given for {wanted} readings; give one for each")]
    WrongSize { given: usize, wanted: usize },

    #[error("{readings} readings cannot give {parameters} unknowns; take at least {needed} readings")]
    TooFewReadings { readings: usize, parameters: usize, needed: usize },

    #[error(
        "what is known of '{name}' beforehand can only be weighed against readings whose uncertainty is given; give it"
    )]
    KnownWithoutSpread { name: String },

    #[error("nothing can be computed from the values at the start; start nearer to what is likely")]
    NoStart,

    #[error(
        "the search did not settle after {evaluations} runs of the model; start nearer to what is likely, or fit fewer unknowns"
    )]
    NotSettled { evaluations: usize },

    #[error(
        "'{name}' has no effect on the readings where the search ended, at {value}; start nearer to what is likely, or leave it out"
    )]
    NoEffect { name: String, value: f64 },

    #[error("the readings cannot tell {} apart: they fit as well when {confusion} change together; measure one of them by other means, or take readings further apart", .confusion.names())]
    CannotTell { confusion: Confusion },

    #[error(
        "'{name}' comes out as {value} with a standard uncertainty of {u}, more than the {worth} at which it is of use ({confusion} change together); measure one of them by other means, or take more readings"
    )]
    TooUncertain { name: String, value: f64, u: f64, worth: f64, confusion: Confusion },
}
