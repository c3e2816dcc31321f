//! Why no gas model can be made of an engine.

use crate::duct::ShapeError;
use crate::gas::GasError;
use engine::GeometryError;
use std::fmt;
use thiserror::Error;

/// A section or key of the engine file that the simulation needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// As it is written in the file, e.g. `[reed]` or `crankcase.volume`.
    pub key: String,
    /// What to add, a clause for a mechanic.
    pub add: String,
}

impl Missing {
    pub(crate) fn new(key: &str, add: &str) -> Self {
        Self { key: key.to_owned(), add: add.to_owned() }
    }
}

/// All of what is missing, one after the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AllMissing(pub Vec<Missing>);

impl fmt::Display for AllMissing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, missing) in self.0.iter().enumerate() {
            let between = if at > 0 { "; " } else { "" };
            write!(f, "{between}{}: {}", missing.key, missing.add)?;
        }
        Ok(())
    }
}

/// Why an engine cannot be simulated.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ModelError {
    /// The engine file lacks what the gas meets on its way.
    #[error("The engine file lacks figures that the simulation needs. Add {0}.")]
    Missing(AllMissing),
    /// Crank train, valve or ports are impossible.
    #[error(transparent)]
    Geometry(#[from] GeometryError),
    /// Air or fuel are impossible.
    #[error(transparent)]
    Gas(#[from] GasError),
    /// A piece of pipe or intake is impossible.
    #[error("{tract}: {cause}.")]
    Duct {
        /// Which duct.
        tract: &'static str,
        /// What is wrong with it.
        cause: ShapeError,
    },
    /// Transfer ducts that do not go into the crankcase's volume.
    #[error(
        "transfer_duct.length is {length_mm:.0} mm: with these areas the ducts can be up to {most_mm:.0} mm long; longer ones \
         would take more than two fifths of crankcase.volume, which counts them in. Measure length, foot_area and \
         crankcase.volume again."
    )]
    TransferDucts {
        /// As the file gives it, mm.
        length_mm: f64,
        /// Longest that goes in, mm.
        most_mm: f64,
    },
    /// A figure outside what the simulation can use.
    #[error("The {what} is {value}: {mend}.")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// With its unit.
        value: String,
        /// Accepted range and way to mend.
        mend: &'static str,
    },
}
