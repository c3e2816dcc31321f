//! What the usual workshop instruments leave in doubt.
//!
//! All limits are common practice, no source: what a careful hand gets out of a sound instrument of the
//! usual grade, the setting-up of the work included. They are limits (rectangular), not standard uncertainties.

use crate::Dimension;

/// Limits of error of an instrument for one kind of quantity: half width = absolute + relative + digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Kind of quantity it measures.
    pub dimension: Dimension,
    /// Fixed part of the half width, SI.
    pub absolute: f64,
    /// Part of the half width in proportion to the reading, plain ratio.
    pub relative: f64,
    /// Part of the half width in units of the last written digit.
    pub digits: f64,
}

/// An instrument that may be named after "by".
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instrument {
    /// Names under which it is known; the first is the one shown.
    pub names: &'static [&'static str],
    /// Its limits, one for each kind of quantity it measures.
    pub limits: &'static [Limits],
    /// Where the limits come from.
    pub source: &'static str,
}

impl Instrument {
    /// Limits for one kind of quantity, if the instrument measures it.
    pub fn limits_for(&self, dimension: Dimension) -> Option<&'static Limits> {
        self.limits.iter().find(|limits| limits.dimension == dimension)
    }

    /// The name shown.
    pub fn name(&self) -> &'static str {
        self.names.first().copied().unwrap_or("")
    }
}

const PRACTICE: &str = "common practice, no source";
const DEGREE: f64 = std::f64::consts::PI / 180.0;
const RPM: f64 = std::f64::consts::PI / 30.0;

const fn fixed(dimension: Dimension, absolute: f64) -> Limits {
    Limits { dimension, absolute, relative: 0.0, digits: 0.0 }
}

const fn share(dimension: Dimension, relative: f64) -> Limits {
    Limits { dimension, absolute: 0.0, relative, digits: 0.0 }
}

const fn reading(dimension: Dimension, relative: f64, digits: f64) -> Limits {
    Limits { dimension, absolute: 0.0, relative, digits }
}

const fn instrument(names: &'static [&'static str], limits: &'static [Limits]) -> Instrument {
    Instrument { names, limits, source: PRACTICE }
}

use Dimension::*;

#[rustfmt::skip]
static INSTRUMENTS: &[Instrument] = &[
    instrument(&["calliper", "caliper", "callipers", "calipers", "vernier", "vernier calliper", "vernier caliper",
        "digital calliper", "digital caliper"], &[fixed(Length, 0.05e-3)]),
    instrument(&["depth gauge", "depth gage", "depth micrometer"], &[fixed(Length, 0.05e-3)]),
    instrument(&["feeler", "feelers", "feeler gauge", "feeler gage", "feeler gauges"], &[fixed(Length, 0.025e-3)]),
    instrument(&["micrometer", "mike"], &[fixed(Length, 0.01e-3)]),
    instrument(&["dial gauge", "dial indicator", "dial gage"], &[fixed(Length, 0.02e-3)]),
    instrument(&["rule", "ruler", "steel rule", "tape", "tape measure"], &[fixed(Length, 0.5e-3)]),
    instrument(&["degree wheel", "degree disc", "timing disc"], &[fixed(Angle, 1.0 * DEGREE)]),
    instrument(&["protractor"], &[fixed(Angle, 1.0 * DEGREE)]),
    instrument(&["spring scale", "spring balance", "luggage scale"], &[share(Force, 0.05)]),
    instrument(&["torque wrench"], &[share(Torque, 0.04)]),
    instrument(&["multimeter", "meter", "dmm"], &[reading(Resistance, 0.009, 2.0), reading(Voltage, 0.005, 2.0),
        reading(Current, 0.015, 3.0)]),
    instrument(&["burette", "buret", "syringe"], &[fixed(Volume, 0.1e-6)]),
    instrument(&["pressure gauge", "gauge", "gage"], &[share(Pressure, 0.025)]),
    instrument(&["thermometer"], &[fixed(Temperature, 1.0)]),
    instrument(&["tachometer", "rev counter"], &[fixed(Speed, 50.0 * RPM)]),
    instrument(&["stopwatch"], &[fixed(Time, 0.2)]),
    instrument(&["scales", "balance", "kitchen scales"], &[fixed(Mass, 1e-3)]),
    instrument(&["eye"], &[fixed(Length, 1e-3), fixed(Angle, 5.0 * DEGREE)]),
];

/// Every instrument that may be named after "by", with its limits.
pub fn instruments() -> &'static [Instrument] {
    INSTRUMENTS
}

/// The instrument called `name`; capitals and a leading article do not matter.
pub(crate) fn find(name: &str) -> Option<&'static Instrument> {
    let lower = name.trim().to_lowercase();
    let wanted =
        ["a ", "an ", "the "].iter().find_map(|article| lower.strip_prefix(article)).unwrap_or(&lower);
    INSTRUMENTS.iter().find(|instrument| instrument.names.contains(&wanted))
}

/// Names of the instruments that measure `dimension`.
pub(crate) fn names_for(dimension: Dimension) -> Vec<&'static str> {
    INSTRUMENTS.iter().filter(|i| i.limits_for(dimension).is_some()).map(Instrument::name).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_no_name_means_two_instruments() {
        let mut names: Vec<&str> = INSTRUMENTS.iter().flat_map(|i| i.names.iter().copied()).collect();
        let all = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), all);
        assert!(names.iter().all(|name| *name == name.to_lowercase()));
    }

    #[test]
    fn practice_a_calliper_is_finer_than_a_rule_and_coarser_than_a_micrometer() {
        let half_width = |name: &str| find(name).unwrap().limits_for(Length).unwrap().absolute;
        assert!(half_width("micrometer") < half_width("Calliper"));
        assert!(half_width("the vernier") < half_width("rule"));
    }
}
