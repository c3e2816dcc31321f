//! How often a decision is wrong: JCGM 106:2012, clauses 8.3 (guard bands) and 9.5 (risks of a whole production).

use super::Limits;
use crate::distribution::{normal_below, student_within};
use serde::Serialize;

/// Shape of what is believed of the true value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Belief {
    /// Normal about the measured value.
    Normal,
    /// Student's t of few degrees of freedom, scaled by u: after few readings.
    Student {
        /// Degrees of freedom, above zero.
        degrees_of_freedom: f64,
    },
    /// Rectangular with half width √3 u.
    Rectangular,
}

impl Belief {
    /// Probability of a true value at or below `z` uncertainties from the measured one.
    fn below(self, z: f64) -> f64 {
        match self {
            Self::Normal => normal_below(z),
            Self::Student { degrees_of_freedom } => {
                let tail = 0.5 * (1.0 - student_within(z.abs(), degrees_of_freedom));
                if z < 0.0 { tail } else { 1.0 - tail }
            }
            Self::Rectangular => (0.5 + z / (2.0 * 3f64.sqrt())).clamp(0.0, 1.0),
        }
    }
}

/// What comes to the measurement: values that spread normally.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Production {
    /// Mean of the true values.
    pub mean: f64,
    /// Their standard deviation, above zero.
    pub standard_deviation: f64,
}

/// How often a decision is wrong, as shares of all that is measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Risk {
    /// Accepted, though outside the limits (the consumer's risk).
    pub wrong_acceptance: f64,
    /// Rejected, though within the limits (the producer's risk).
    pub wrong_rejection: f64,
    /// Within the limits, measured or not.
    pub conforming: f64,
}

impl Limits {
    /// Limits of acceptance: these, drawn inwards by a guard band on each side (outwards when it is negative).
    ///
    /// `None` when nothing is left between them: no measured value could be accepted.
    pub fn guarded(&self, guard_band: f64) -> Option<Limits> {
        let limits = Limits {
            lower: self.lower.map(|lower| lower + guard_band),
            upper: self.upper.map(|upper| upper - guard_band),
        };
        let empty = limits.lower.zip(limits.upper).is_some_and(|(lower, upper)| lower > upper);
        (!empty && !guard_band.is_nan()).then_some(limits)
    }

    /// Probability that the true value is within the limits, for a belief of another shape than
    /// [`Limits::probability`] takes; `u` scales it (for Student's t it is the scale, not the standard deviation).
    pub fn probability_of(&self, y: f64, u: f64, belief: Belief) -> f64 {
        if u == 0.0 || belief == Belief::Normal {
            return self.probability(y, u);
        }
        let low = self.lower.map_or(0.0, |lower| belief.below((lower - y) / u));
        let above = self.upper.map_or(0.0, |upper| belief.below((y - upper) / u));
        1.0 - low - above
    }

    /// How often deciding by `acceptance` is wrong about these limits, when each value of a production is measured
    /// once with the standard uncertainty `u` (above zero; errors normal).
    ///
    /// `None` when `u` or the production's deviation is not a number above zero.
    pub fn risk(&self, acceptance: &Limits, production: Production, u: f64) -> Option<Risk> {
        let Production { mean, standard_deviation: sd } = production;
        let positive = |x: f64| x.is_finite() && x > 0.0;
        if !(positive(u) && positive(sd) && mean.is_finite()) {
            return None;
        }
        let density = |z: f64| (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt();
        let accepted = |z: f64| acceptance.probability(mean + sd * z, u);
        // In deviations of the production; beyond nine of them lies less than 1e-18.
        let end = |limit: Option<f64>, missing: f64| {
            limit.map_or(missing, |limit| (limit - mean) / sd).clamp(-REACH, REACH)
        };
        let (low, high) = (end(self.lower, -REACH), end(self.upper, REACH));
        let step = u / sd;
        let wrong = |z: f64| density(z) * accepted(z);
        let lost = |z: f64| density(z) * (1.0 - accepted(z));
        Some(Risk {
            wrong_acceptance: integral(-REACH, low, step, wrong) + integral(high, REACH, step, wrong),
            wrong_rejection: integral(low, high, step, lost),
            conforming: self.probability(mean, sd),
        })
    }
}

/// Deviations of the production up to which is integrated.
const REACH: f64 = 9.0;

/// Integral of a smooth function that changes over lengths of `scale` or 1: Gauss-Legendre with five points
/// (Abramowitz and Stegun 1964, table 25.4) on panels of a quarter of that.
fn integral(low: f64, high: f64, scale: f64, f: impl Fn(f64) -> f64) -> f64 {
    const NODES: [(f64, f64); 3] = [
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    ];
    if high <= low {
        return 0.0;
    }
    // Errors far smaller than the production's spread matter only near the limits, and there by their integral.
    let panels = ((high - low) / (0.25 * scale.clamp(1e-4, 1.0))).ceil().max(1.0) as usize;
    let half = 0.5 * (high - low) / panels as f64;
    (0..panels)
        .map(|panel| {
            let middle = low + half * (2 * panel + 1) as f64;
            let pair = |(node, weight): &(f64, f64)| {
                let sides =
                    if *node == 0.0 { f(middle) } else { f(middle - half * node) + f(middle + half * node) };
                weight * sides
            };
            half * NODES.iter().map(pair).sum::<f64>()
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One limit in the middle of the production: a quarter of the plane less the angle between the two lines.
    #[test]
    fn exact_one_limit_at_the_mean() {
        for u in [0.1f64, 0.5, 1.0, 3.0] {
            let limits = Limits::at_least(0.0);
            let found = limits.risk(&limits, Production { mean: 0.0, standard_deviation: 1.0 }, u).unwrap();
            let exact = u.atan() / (2.0 * std::f64::consts::PI);
            assert!((found.wrong_acceptance - exact).abs() < 1e-9, "{u}: {found:?}");
            assert!((found.wrong_rejection - exact).abs() < 1e-9);
            assert_eq!(found.conforming, 0.5);
        }
    }

    #[test]
    fn exact_guard_band_trades_one_risk_for_the_other() {
        let limits = Limits::between(-1.0, 1.0);
        let production = Production { mean: 0.0, standard_deviation: 0.5 };
        let with = |w: f64| limits.risk(&limits.guarded(w).unwrap(), production, 0.1).unwrap();
        let (bare, guarded) = (with(0.0), with(0.2));
        // For errors small beside the production the ratio is (φ(2) - 2 (1 - Φ(2))) / φ(0) = 0.0213; the production
        // thinning out towards the limit adds to it.
        let ratio = guarded.wrong_acceptance / bare.wrong_acceptance;
        assert!((0.0213..0.03).contains(&ratio), "{ratio}");
        assert!(guarded.wrong_rejection > bare.wrong_rejection);
        assert_eq!(limits.guarded(1.1), None);
        assert_eq!(limits.guarded(f64::NAN), None);
        assert_eq!(Limits::at_most(2.0).guarded(0.5), Some(Limits::at_most(1.5)));
    }

    #[test]
    fn exact_beliefs_of_other_shapes() {
        let limits = Limits::between(-1.0, 1.0);
        // Rectangular with half width 2: half of it within.
        let rectangular = limits.probability_of(0.0, 2.0 / 3f64.sqrt(), Belief::Rectangular);
        assert!((rectangular - 0.5).abs() < 1e-15);
        assert_eq!(limits.probability_of(0.0, 0.1, Belief::Rectangular), 1.0);
        // One degree of freedom: the arctangent.
        let student = limits.probability_of(0.0, 1.0, Belief::Student { degrees_of_freedom: 1.0 });
        assert!((student - 0.5).abs() < 1e-13);
        let one_sided =
            Limits::at_most(1.0).probability_of(0.0, 1.0, Belief::Student { degrees_of_freedom: 1.0 });
        assert!((one_sided - 0.75).abs() < 1e-13);
        assert_eq!(limits.probability_of(0.3, 0.2, Belief::Normal), limits.probability(0.3, 0.2));
    }

    #[test]
    fn refuses_risk_without_spread() {
        let limits = Limits::between(0.0, 1.0);
        let production = Production { mean: 0.0, standard_deviation: 0.0 };
        assert_eq!(limits.risk(&limits, production, 0.1), None);
        let production = Production { mean: 0.0, standard_deviation: 1.0 };
        assert_eq!(limits.risk(&limits, production, f64::NAN), None);
    }
}
