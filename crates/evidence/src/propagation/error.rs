//! Why a propagation could not be done.

use thiserror::Error;

/// Why a propagation could not be done; one sentence each.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[allow(missing_docs, reason = "the sentences say what each case is")]
pub enum PropagationError {
    #[error(
        "'{name}' has the value {value} and the standard uncertainty {u}; both must be finite, and the uncertainty not negative"
    )]
    BadInput { name: String, value: f64, u: f64 },

    #[error("the result cannot be computed at the best values of its inputs")]
    NoValue,

    #[error(
        "the result cannot be computed when '{name}' is moved by its uncertainty {u} in either direction; measure it more finely"
    )]
    CannotMove { name: String, u: f64 },

    #[error(
        "a correlation of {value} was given between inputs {first} and {second}; it must be from -1 to 1, between two different inputs"
    )]
    BadCorrelation { first: usize, second: usize, value: f64 },

    #[error("correlations were given for {given} inputs, but there are {wanted}")]
    WrongSize { given: usize, wanted: usize },

    #[error("the correlations given cannot all hold at once; check their signs")]
    Impossible,

    #[error("{draws} draws were asked for; ask for 2 to {most}")]
    BadDraws { draws: usize, most: usize },

    #[error(
        "only {usable} of {draws} draws gave a result; the inputs are too uncertain, or the model refuses most of what they allow"
    )]
    TooFewResults { usable: usize, draws: usize },

    #[error("the result does not vary, so no part of its variance can be put down to an input")]
    NothingVaries,

    #[error(
        "{resamples} resamplings for intervals of the share {coverage} were asked for; ask for at most {most}, and for a share above 0 and below 1"
    )]
    BadResampling { resamples: usize, most: usize, coverage: f64 },

    #[error(
        "'{first}' and '{second}' cannot be drawn with the correlation {value}: give both the same shape, and the same degrees of freedom where these are few"
    )]
    CannotCorrelate { first: String, second: String, value: f64 },

    #[error(
        "an interval for the share {coverage} cannot be given; ask for a share above 0 and below 1, and for more draws the nearer it is to 1"
    )]
    BadCoverage { coverage: f64 },
}
