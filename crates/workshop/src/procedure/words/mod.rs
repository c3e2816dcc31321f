//! What a comparison says, in sentences with figures.

mod conformity;
mod figure_names;
mod reasons;
mod statements;

pub use conformity::{ToldCheck, ToldDemand};

pub(super) use conformity::verdict_word;
pub(super) use figure_names::figure_name;

use super::outcome::Measure;
use crate::setting::demand::Demand;
use quantity::{Dimension, Units, show_value, show_with};

/// Writes figures in the chosen units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Teller {
    pub(super) units: Units,
}

impl Teller {
    pub(super) fn length(self, m: f64) -> String {
        show_with(m, if self.units == Units::Inch { 3 } else { 2 }, Dimension::Length, self.units)
    }

    pub(super) fn angle(self, rad: f64) -> String {
        show_with(rad, 1, Dimension::Angle, self.units)
    }

    pub(super) fn force(self, n: f64) -> String {
        show_with(n, 0, Dimension::Force, self.units)
    }

    /// Any measure in sensible digits.
    pub(super) fn value(self, si: f64, measure: Measure) -> String {
        show_value(si, measure.dimension(), self.units)
    }
}

/// "62 %", and never a rounded 0 or 100 for something that did happen, or did not always.
pub(super) fn percent(share: f64) -> String {
    match share {
        _ if share > 0.0 && share < 0.005 => "under 1 %".to_owned(),
        _ if share < 1.0 && share > 0.995 => "over 99 %".to_owned(),
        _ => format!("{:.0} %", 100.0 * share),
    }
}

/// What is said of one procedure.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Verdict {
    /// Key of the procedure.
    pub key: String,
    /// Its name.
    pub name: String,
    /// One sentence: how often it meets every demand, and where the edge comes to stand.
    pub headline: String,
    /// What it does to edge, wires and servo, and why, each a sentence or two.
    pub reasons: Vec<String>,
}

/// A demand as part of a list.
pub(super) fn in_words(demand: Demand) -> &'static str {
    match demand {
        Demand::RestsClosed => "rests closed with free play",
        Demand::Flush => "flush at full travel",
        Demand::Reseats => "comes back onto its pin",
        Demand::ClosingFree => "closing side never taut",
        Demand::Seated => "sheath seated",
        Demand::WireTension => "wire tension",
        Demand::TorqueMargin => "torque to spare",
        Demand::ToothLoad => "tooth load",
    }
}
