//! One way in to both methods.

use super::monte_carlo::monte_carlo_correlated;
use super::{Contribution, Correlation, Interval, PropagationError, Sample, first_order_many};
use crate::Input;
use crate::distribution::coverage_factor;
use serde::Serialize;

/// How uncertainty is propagated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Method {
    /// The law of propagation with first-order terms (JCGM 100:2008).
    FirstOrder,
    /// Propagation of distributions (JCGM 101:2008).
    MonteCarlo {
        /// Number of draws; a million gives two good digits of the ends of a 95 % interval.
        draws: usize,
        /// The same seed gives the same result.
        seed: u64,
    },
}

/// Which interval of a given coverage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Equal probability left out on both sides.
    #[default]
    Symmetric,
    /// The shortest there is.
    Shortest,
}

/// A result with its uncertainty, by either method.
#[derive(Debug, Clone, PartialEq)]
pub struct Evaluation {
    /// Best value: the model at the best inputs, or the mean of the draws.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// Effective degrees of freedom: as [`super::Budget::degrees_of_freedom`] to first order, infinite by Monte
    /// Carlo, where few degrees of freedom are drawn as such.
    pub degrees_of_freedom: Option<f64>,
    /// What each input adds, the largest first; empty by Monte Carlo: see [`what_if`](super::what_if) and
    /// [`sensitivity`](crate::sensitivity) there.
    pub contributions: Vec<Contribution>,
    /// The drawn results; `None` to first order.
    pub sample: Option<Sample>,
}

impl Evaluation {
    /// Interval that holds the share `coverage` (above 0, below 1) of what the result may be.
    ///
    /// To first order it is value ± t u, either kind, with the effective degrees of freedom cut to a whole number
    /// (JCGM 100, G.4.1). `None` where the degrees of freedom are not known, coverage is out of range, or there are
    /// too few draws.
    pub fn interval(&self, coverage: f64, kind: Kind) -> Option<Interval> {
        match (&self.sample, kind) {
            (Some(sample), Kind::Symmetric) => sample.symmetric(coverage),
            (Some(sample), Kind::Shortest) => sample.shortest(coverage),
            (None, _) => {
                let factor = coverage_factor(coverage, self.degrees_of_freedom?.floor().max(1.0))?;
                Some(Interval { low: self.value - factor * self.u, high: self.value + factor * self.u })
            }
        }
    }
}

/// Propagates to one result; see [`evaluate_many`].
///
/// # Errors
/// As [`evaluate_many`].
pub fn evaluate(
    inputs: &[Input],
    correlation: Option<&Correlation>,
    method: Method,
    model: impl Fn(&[f64]) -> Option<f64>,
) -> Result<Evaluation, PropagationError> {
    let all = evaluate_many(inputs, correlation, 1, method, |values, out| {
        match (model(values), out.first_mut()) {
            (Some(result), Some(slot)) => {
                *slot = result;
                true
            }
            _ => false,
        }
    })?;
    all.into_iter().next().ok_or(PropagationError::NoValue)
}

/// Propagates to several results by either method.
///
/// The model writes `outputs` results into its second argument and gives true, or false where there are none.
///
/// # Errors
/// [`PropagationError`]: as [`first_order_many`] and [`monte_carlo_correlated`].
pub fn evaluate_many(
    inputs: &[Input],
    correlation: Option<&Correlation>,
    outputs: usize,
    method: Method,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Vec<Evaluation>, PropagationError> {
    match method {
        Method::FirstOrder => {
            let joint = first_order_many(inputs, correlation, outputs, model)?;
            let evaluation = |budget: super::Budget| Evaluation {
                value: budget.value,
                u: budget.u,
                degrees_of_freedom: budget.degrees_of_freedom,
                contributions: budget.contributions,
                sample: None,
            };
            Ok(joint.budgets.into_iter().map(evaluation).collect())
        }
        Method::MonteCarlo { draws, seed } => {
            let samples = monte_carlo_correlated(inputs, correlation, outputs, draws, seed, model)?;
            let evaluation = |sample: Sample| Evaluation {
                value: sample.mean(),
                u: sample.standard_deviation(),
                degrees_of_freedom: Some(f64::INFINITY),
                contributions: Vec::new(),
                sample: Some(sample),
            };
            Ok(samples.into_iter().map(evaluation).collect())
        }
    }
}

/// Whether two evaluations of one result agree (JCGM 101:2008, clause 8: is first order good enough?).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Agreement {
    /// Distance of the lower ends.
    pub low: f64,
    /// Distance of the upper ends.
    pub high: f64,
    /// Largest distance that does not show in the stated digits of the uncertainty: half a unit of its last digit.
    pub tolerance: f64,
    /// Whether both distances keep to it.
    pub agrees: bool,
}

/// Compares the intervals of two evaluations, one of them by Monte Carlo with enough draws.
///
/// `digits`: significant digits of the uncertainty that matter, 1 or 2 (JCGM 101, 7.9.2). `None` where one of the
/// intervals is, or the uncertainty is zero.
pub fn agreement(
    first: &Evaluation,
    second: &Evaluation,
    coverage: f64,
    kind: Kind,
    digits: u8,
) -> Option<Agreement> {
    let (a, b) = (first.interval(coverage, kind)?, second.interval(coverage, kind)?);
    let u = if second.sample.is_some() { second.u } else { first.u };
    if !(u > 0.0 && u.is_finite()) {
        return None;
    }
    // As many digits as asked for, after rounding: 0.0996 with two digits is 0.10.
    let places = i32::from(digits.max(1)) - 1;
    let unit = |u: f64| 10f64.powi(u.log10().floor() as i32 - places);
    let rounded = (u / unit(u)).round() * unit(u);
    let tolerance = 0.5 * unit(rounded * (1.0 + 1e-12));
    let (low, high) = ((a.low - b.low).abs(), (a.high - b.high).abs());
    Some(Agreement { low, high, tolerance, agrees: low <= tolerance && high <= tolerance })
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRAWN: Method = Method::MonteCarlo { draws: 200_000, seed: 12 };

    fn both(model: impl Fn(&[f64]) -> Option<f64> + Copy) -> (Evaluation, Evaluation) {
        let inputs = [Input::normal("a", 3.0, 0.4), Input::normal("b", 1.0, 0.5)];
        let together = Correlation::none(2).with(0, 1, 0.6).unwrap();
        let by = |method| evaluate(&inputs, Some(&together), method, model).unwrap();
        (by(Method::FirstOrder), by(DRAWN))
    }

    #[test]
    fn agrees_both_methods_on_a_straight_model_with_correlation() {
        let (first, drawn) = both(|x| Some(x[0] - x[1]));
        // 0.16 + 0.25 - 2 x 0.6 x 0.2
        assert!((first.u - 0.17f64.sqrt()).abs() < 1e-12);
        assert!((drawn.u - first.u).abs() < 0.004 && (drawn.value - 2.0).abs() < 0.004);
        for kind in [Kind::Symmetric, Kind::Shortest] {
            let found = agreement(&first, &drawn, 0.95, kind, 1).unwrap();
            assert!(found.agrees && found.tolerance == 0.05, "{found:?}");
        }
        assert_eq!(first.contributions.len(), 2);
        assert!(first.sample.is_none() && drawn.sample.is_some());
    }

    #[test]
    fn exact_a_bent_model_is_found_out() {
        let (first, drawn) = both(|x| Some(x[1] * x[1] * x[1]));
        let found = agreement(&first, &drawn, 0.95, Kind::Symmetric, 1).unwrap();
        assert!(!found.agrees, "{found:?}");
    }

    #[test]
    fn exact_tolerance_is_half_the_last_digit() {
        let with = |u: f64| Evaluation {
            value: 0.0,
            u,
            degrees_of_freedom: Some(f64::INFINITY),
            contributions: Vec::new(),
            sample: None,
        };
        for (u, digits, tolerance) in [
            (2.0, 2, 0.05),
            (0.075, 1, 0.005),
            (0.0996, 2, 0.005),
            (0.0994, 2, 0.0005),
            (35.8, 2, 0.5),
            (1000.0, 1, 500.0),
        ] {
            let found = agreement(&with(u), &with(u), 0.95, Kind::Symmetric, digits).unwrap();
            assert!((found.tolerance / tolerance - 1.0).abs() < 1e-9, "{u} {digits}: {found:?}");
        }
        assert_eq!(agreement(&with(0.0), &with(0.0), 0.95, Kind::Symmetric, 1), None);
    }

    #[test]
    fn refuses_an_interval_without_degrees_of_freedom() {
        let inputs = ["a", "b"].map(|name| Input::normal(name, 1.0, 0.1).with_degrees_of_freedom(4.0));
        let together = Correlation::none(2).with(0, 1, 0.6).unwrap();
        let found = evaluate(&inputs, Some(&together), Method::FirstOrder, |x| Some(x[0] + x[1])).unwrap();
        assert_eq!(found.interval(0.95, Kind::Symmetric), None);
        let drawn = evaluate(&inputs, Some(&together), DRAWN, |x| Some(x[0] + x[1])).unwrap();
        assert!(drawn.interval(0.95, Kind::Symmetric).is_some());
        assert_eq!(drawn.interval(1.5, Kind::Shortest), None);
    }
}
