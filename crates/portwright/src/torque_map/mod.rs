//! Torque maps: run on all cores in blocks of speeds, with progress, to be stopped and gone on with; kept in the record.

mod choice;
mod csv;
mod job;
mod kept;
mod wanted;

pub(crate) use choice::{Choice, Petals, Scavenging};
pub(crate) use csv::{csv, traces_csv};
pub(crate) use job::{Job, Jobs, Standing, run_here};
pub(crate) use kept::{Cell, TorqueMap};
pub(crate) use wanted::{Typed, Wanted};

/// What the record calls such a result.
pub(crate) const KIND: &str = "torque-map";
