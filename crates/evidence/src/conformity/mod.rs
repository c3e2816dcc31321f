//! Pass, fail, or cannot tell: a measured value against its limits.
//!
//! JCGM 106:2012, *The role of measurement uncertainty in conformity assessment*: probability of conformance
//! 8.2 and guard bands 8.3; the verdict uses a guard band of the whole expanded uncertainty on both sides. Other
//! guard bands, other beliefs than a normal one, and how often a decision is wrong: [`Limits::guarded`],
//! [`Limits::probability_of`], [`Limits::risk`].

mod risk;

pub use risk::{Belief, Production, Risk};

use crate::distribution::normal_below;
use serde::Serialize;

/// What may be said of a value against its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// The whole band y ± U lies within the limits.
    Pass,
    /// The whole band y ± U lies outside.
    Fail,
    /// A limit runs through the band.
    CannotTell,
}

/// Limits of tolerance, each in the unit of the value; a missing one does not limit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Limits {
    /// Lowest accepted value.
    pub lower: Option<f64>,
    /// Highest accepted value.
    pub upper: Option<f64>,
}

/// A value judged against limits.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Conformity {
    /// The verdict with U = 2u.
    pub verdict: Verdict,
    /// Probability that the true value is within the limits, for a normal spread about the measured value.
    pub probability: f64,
    /// False when 2U reaches the width of the tolerance: then nothing could pass, however good it is.
    pub capable: bool,
    /// Standard uncertainty at or below which this same value would get a verdict (half its distance to the
    /// nearest limit); zero when it lies on a limit, infinite without limits.
    pub u_to_tell: f64,
}

impl Limits {
    /// Both limits, in any order.
    pub fn between(a: f64, b: f64) -> Self {
        Self { lower: Some(a.min(b)), upper: Some(a.max(b)) }
    }

    /// Only a lower limit.
    pub fn at_least(lower: f64) -> Self {
        Self { lower: Some(lower), upper: None }
    }

    /// Only an upper limit.
    pub fn at_most(upper: f64) -> Self {
        Self { lower: None, upper: Some(upper) }
    }

    /// Judges the value `y` with standard uncertainty `u` (not negative); all in one unit.
    ///
    /// A band that just touches a limit from within passes and from outside is not told: differences smaller than
    /// the rounding of the arithmetic count as touching. A value or uncertainty that is no number is not told.
    pub fn judge(&self, y: f64, u: f64) -> Conformity {
        let width = self.upper.unwrap_or(f64::INFINITY) - self.lower.unwrap_or(f64::NEG_INFINITY);
        Conformity {
            verdict: self.verdict(y, u),
            probability: self.probability(y, u),
            capable: 4.0 * u < width,
            u_to_tell: self.limits().map(|limit| (y - limit).abs() / 2.0).fold(f64::INFINITY, f64::min),
        }
    }

    /// Probability that the true value is within the limits, the spread normal about `y` with `u`.
    pub fn probability(&self, y: f64, u: f64) -> f64 {
        if u == 0.0 {
            let inside =
                self.lower.is_none_or(|lower| y >= lower) && self.upper.is_none_or(|upper| y <= upper);
            return if inside { 1.0 } else { 0.0 };
        }
        let below = |limit: f64| normal_below((limit - y) / u);
        match (self.lower, self.upper) {
            (None, None) => 1.0,
            (None, Some(upper)) => below(upper),
            (Some(lower), None) => normal_below((y - lower) / u),
            // Taken on the side of the smaller tail, so that tiny probabilities keep their digits.
            (Some(lower), Some(upper)) if y < 0.5 * (lower + upper) => {
                normal_below((y - lower) / u) - normal_below((y - upper) / u)
            }
            (Some(lower), Some(upper)) => below(upper) - below(lower),
        }
    }

    fn limits(&self) -> impl Iterator<Item = f64> {
        self.lower.into_iter().chain(self.upper)
    }

    fn verdict(&self, y: f64, u: f64) -> Verdict {
        let expanded = 2.0 * u;
        let (low, high) = (y - expanded, y + expanded);
        if low.is_nan() || high.is_nan() {
            return Verdict::CannotTell;
        }
        let slip = |limit: f64| 8.0 * f64::EPSILON * (y.abs() + expanded + limit.abs());
        let within = self.lower.is_none_or(|lower| low >= lower - slip(lower))
            && self.upper.is_none_or(|upper| high <= upper + slip(upper));
        let outside = self.lower.is_some_and(|lower| high < lower - slip(lower))
            || self.upper.is_some_and(|upper| low > upper + slip(upper));
        match (within, outside) {
            (true, _) => Verdict::Pass,
            (false, true) => Verdict::Fail,
            (false, false) => Verdict::CannotTell,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_value_on_a_limit_is_even_odds_and_cannot_be_told() {
        let judged = Limits::at_most(10.0).judge(10.0, 0.5);
        assert_eq!(judged.verdict, Verdict::CannotTell);
        assert!((judged.probability - 0.5).abs() < 1e-15);
        assert_eq!(judged.u_to_tell, 0.0);
    }

    #[test]
    fn exact_figures_without_uncertainty_always_get_a_verdict() {
        let limits = Limits::between(2.0, 1.0);
        assert_eq!(limits.judge(1.0, 0.0).verdict, Verdict::Pass);
        assert_eq!(limits.judge(2.1, 0.0).verdict, Verdict::Fail);
        assert_eq!(limits.judge(2.1, 0.0).probability, 0.0);
    }

    #[test]
    fn exact_a_finer_measurement_at_the_same_value_tells() {
        let limits = Limits::between(4000.0, 6000.0);
        let judged = limits.judge(4040.0, 26.4);
        assert_eq!(judged.verdict, Verdict::CannotTell);
        assert_eq!(limits.judge(4040.0, judged.u_to_tell).verdict, Verdict::Pass);
        assert_eq!(limits.judge(3960.0, 19.99).verdict, Verdict::Fail);
    }

    #[test]
    fn refuses_to_tell_without_numbers() {
        assert_eq!(Limits::at_least(0.0).judge(f64::NAN, 1.0).verdict, Verdict::CannotTell);
        assert_eq!(Limits::at_least(0.0).judge(1.0, f64::NAN).verdict, Verdict::CannotTell);
        assert!(!Limits::between(0.0, 1.0).judge(0.5, f64::NAN).capable);
    }

    #[test]
    fn exact_far_tails_keep_their_digits() {
        let limits = Limits::between(0.0, 1.0);
        let (low, high) = (limits.probability(-9.0, 1.0), limits.probability(10.0, 1.0));
        assert!(low > 0.0 && (low - high).abs() <= 1e-12 * low);
    }
}
