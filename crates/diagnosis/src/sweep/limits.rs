//! What the sensor should give, as far as the user knows it, and how it was measured.

use serde::{Deserialize, Serialize};

/// A limit with where it comes from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Limit {
    /// Lowest accepted value, in SI or as a share; none does not limit.
    pub lower: Option<f64>,
    /// Highest accepted value.
    pub upper: Option<f64>,
    /// Where it comes from: a manual, `common practice, no source`, `estimate`.
    pub source: String,
}

impl Limit {
    /// Between two values.
    pub fn between(lower: f64, upper: f64, source: &str) -> Self {
        Self { lower: Some(lower.min(upper)), upper: Some(lower.max(upper)), source: source.to_owned() }
    }

    /// At most this.
    pub fn at_most(upper: f64, source: &str) -> Self {
        Self { lower: None, upper: Some(upper), source: source.to_owned() }
    }

    pub(super) fn evidence(&self) -> evidence::conformity::Limits {
        evidence::conformity::Limits { lower: self.lower, upper: self.upper }
    }
}

/// What the meter adds to the uncertainty of a reading: ±(share of the reading + digits of the last place).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Meter {
    /// Share of the reading, such as 0.009 for 0.9 %.
    pub share: f64,
    /// Digits of the last place.
    pub digits: f64,
}

/// What is known beforehand. Everything may be missing: [`Limits::default`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default, rename_all = "kebab-case")]
pub struct Limits {
    /// Lowest output over the travel, Ω or V as the log.
    pub lowest: Option<Limit>,
    /// Highest output over the travel, Ω or V.
    pub highest: Option<Limit>,
    /// Highest less lowest output, Ω or V.
    pub range: Option<Limit>,
    /// Deviation from a straight line, a share of the applied voltage (of the range, when that is not known). Judged
    /// for absolute linearity when `expected` is given, else for independent linearity.
    pub linearity: Option<Limit>,
    /// Output smoothness, the same share.
    pub smoothness: Option<Limit>,
    /// Output that should stand at travel 0 and at full travel, Ω or V: the line of absolute linearity.
    pub expected: Option<(f64, f64)>,
    /// Voltage applied to the track, V; for a resistance log the resistance of the whole track, Ω.
    pub applied: Option<f64>,
    /// Resistance of the whole track, Ω, for the loading error of a voltage.
    pub track_ohm: Option<f64>,
    /// Input resistance of the meter or controller that reads the wiper, Ω.
    pub load_ohm: Option<f64>,
    /// Accuracy of the meter.
    pub meter: Option<Meter>,
    /// Narrowest dead spot that must not escape, as a share of the travel.
    pub width_to_see: f64,
    /// The sensor was driven at even speed, so that time stands for travel where no travel was logged.
    pub even_speed: bool,
    /// The user has confirmed readings that look a thousand times off.
    pub sure: bool,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            lowest: None,
            highest: None,
            range: None,
            linearity: None,
            smoothness: None,
            expected: None,
            applied: None,
            track_ohm: None,
            load_ohm: None,
            meter: None,
            width_to_see: 0.05,
            even_speed: false,
            sure: false,
        }
    }
}

/// Source of limits that are custom of the trade.
pub(super) const PRACTICE: &str = "common practice, no source";
/// Source of limits that are set here by judgement.
pub(super) const ESTIMATE: &str = "estimate";
