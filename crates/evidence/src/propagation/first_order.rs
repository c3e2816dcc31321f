//! First-order propagation: JCGM 100:2008, *Guide to the expression of uncertainty in measurement*, clause 5.

use super::{Correlation, PropagationError};
use crate::Input;
use crate::distribution::coverage_factor;
use serde::Serialize;

/// What one input adds to the uncertainty of a result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Contribution {
    /// Name of the input.
    pub name: String,
    /// Change of the result for a unit change of the input, sign included.
    pub sensitivity: f64,
    /// |sensitivity| x standard uncertainty of the input, in the unit of the result.
    pub u: f64,
}

/// A result with its standard uncertainty and where that comes from.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Budget {
    /// The result at the best values of the inputs.
    pub value: f64,
    /// Combined standard uncertainty, correlations included.
    pub u: f64,
    /// One for each input that is not exact, the largest first.
    pub contributions: Vec<Contribution>,
    /// Effective degrees of freedom by the Welch-Satterthwaite formula (JCGM 100, equation G.2b), infinite when
    /// all inputs' uncertainties are taken as known; `None` where inputs with few degrees of freedom are
    /// correlated, for which the formula does not hold.
    pub degrees_of_freedom: Option<f64>,
}

/// Several results of the same inputs, and how they hang together.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// One for each result.
    pub budgets: Vec<Budget>,
    /// Correlation of the results.
    pub correlation: Correlation,
}

impl Budget {
    /// Factor from `u` to the half width that holds the share `coverage` (0.95: 95 %), for a result that spreads
    /// like Student's t; the effective degrees of freedom are cut to a whole number as JCGM 100, G.4.1 asks.
    pub fn coverage_factor(&self, coverage: f64) -> Option<f64> {
        coverage_factor(coverage, self.degrees_of_freedom?.floor().max(1.0))
    }
}

/// Propagates to one result; inputs are taken as uncorrelated.
///
/// The model gets the inputs' values in order and gives the result, or `None` where there is none. Each input is
/// moved by plus and minus its own standard uncertainty and the sensitivity is the mean slope between the two.
/// A small step would find the slope at one point, which at a unilateral stop is that of one side only; the step u
/// averages both sides as the spread of the input does. Where the model refuses on one side, the other is used.
///
/// # Errors
/// [`PropagationError`] when an input is no number, or the model gives nothing at or around the best values.
pub fn first_order(
    inputs: &[Input],
    model: impl Fn(&[f64]) -> Option<f64>,
) -> Result<Budget, PropagationError> {
    let joint = first_order_many(inputs, None, 1, |values, out| match (model(values), out.first_mut()) {
        (Some(result), Some(slot)) => {
            *slot = result;
            true
        }
        _ => false,
    })?;
    joint.budgets.into_iter().next().ok_or(PropagationError::NoValue)
}

/// Propagates to several results at once, inputs correlated or not; see [`first_order`] for the method.
///
/// The model writes `outputs` results into its second argument and gives true, or false where there are none.
///
/// # Errors
/// As [`first_order`]; and when the correlations do not fit the inputs or cannot hold together.
pub fn first_order_many(
    inputs: &[Input],
    correlation: Option<&Correlation>,
    outputs: usize,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Joint, PropagationError> {
    check(inputs)?;
    if let Some(correlation) = correlation {
        if correlation.size() != inputs.len() {
            return Err(PropagationError::WrongSize { given: correlation.size(), wanted: inputs.len() });
        }
        if !correlation.is_possible() {
            return Err(PropagationError::Impossible);
        }
    }
    let run = |values: &[f64]| -> Option<Vec<f64>> {
        let mut out = vec![0.0; outputs];
        (model(values, &mut out) && out.iter().all(|result| result.is_finite())).then_some(out)
    };
    let mut values: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let best = run(&values).ok_or(PropagationError::NoValue)?;
    let mut changes = Vec::with_capacity(inputs.len());
    for (at, input) in inputs.iter().enumerate() {
        changes.push(change_for(at, input, &mut values, &best, &run)?);
    }
    Ok(combine(inputs, correlation, &best, &changes))
}

pub(crate) fn check(inputs: &[Input]) -> Result<(), PropagationError> {
    match inputs.iter().find(|i| !i.value.is_finite() || !i.u.is_finite() || i.u < 0.0) {
        Some(bad) => Err(PropagationError::BadInput { name: bad.name.clone(), value: bad.value, u: bad.u }),
        None => Ok(()),
    }
}

/// Change of every result for a move of one input by its u: half the difference between plus and minus.
fn change_for(
    at: usize,
    input: &Input,
    values: &mut [f64],
    best: &[f64],
    run: &impl Fn(&[f64]) -> Option<Vec<f64>>,
) -> Result<Vec<f64>, PropagationError> {
    if input.u == 0.0 {
        return Ok(vec![0.0; best.len()]);
    }
    let mut moved = |step: f64| {
        if let Some(value) = values.get_mut(at) {
            *value = input.value + step;
        }
        let result = run(values);
        if let Some(value) = values.get_mut(at) {
            *value = input.value;
        }
        result
    };
    let difference =
        |a: &[f64], b: &[f64], share: f64| a.iter().zip(b).map(|(a, b)| share * (a - b)).collect();
    match (moved(input.u), moved(-input.u)) {
        (Some(up), Some(down)) => Ok(difference(&up, &down, 0.5)),
        (Some(up), None) => Ok(difference(&up, best, 1.0)),
        (None, Some(down)) => Ok(difference(best, &down, 1.0)),
        (None, None) => Err(PropagationError::CannotMove { name: input.name.clone(), u: input.u }),
    }
}

fn combine(inputs: &[Input], correlation: Option<&Correlation>, best: &[f64], changes: &[Vec<f64>]) -> Joint {
    let change =
        |input: usize, output: usize| changes.get(input).and_then(|c| c.get(output)).copied().unwrap_or(0.0);
    let covariance = |a: usize, b: usize| -> f64 {
        let own: f64 = (0..inputs.len()).map(|i| change(i, a) * change(i, b)).sum();
        let shared = |correlation: &Correlation| -> f64 {
            let pair = |i: usize, j: usize| change(i, a) * change(j, b) + change(j, a) * change(i, b);
            (0..inputs.len())
                .map(|i| (0..i).map(|j| correlation.between(i, j) * pair(i, j)).sum::<f64>())
                .sum()
        };
        own + correlation.map_or(0.0, shared)
    };
    // Rounding can leave a variance of full cancellation a hair below nothing.
    let u: Vec<f64> = (0..best.len()).map(|a| covariance(a, a).max(0.0).sqrt()).collect();
    let mut between = Correlation::none(best.len());
    let mut budgets = Vec::with_capacity(best.len());
    for (a, (value, u_a)) in best.iter().zip(&u).enumerate() {
        for (b, u_b) in u.iter().enumerate().take(a) {
            if *u_a > 0.0 && *u_b > 0.0 {
                between.set(a, b, (covariance(a, b) / (u_a * u_b)).clamp(-1.0, 1.0));
            }
        }
        let own: Vec<f64> = (0..inputs.len()).map(|i| change(i, a)).collect();
        budgets.push(Budget {
            value: *value,
            u: *u_a,
            contributions: contributions(inputs, &own),
            degrees_of_freedom: degrees_of_freedom(inputs, correlation, &own, *u_a),
        });
    }
    Joint { budgets, correlation: between }
}

fn contributions(inputs: &[Input], changes: &[f64]) -> Vec<Contribution> {
    let mut list: Vec<Contribution> = inputs
        .iter()
        .zip(changes)
        .filter(|(input, _)| input.u > 0.0)
        .map(|(input, change)| Contribution {
            name: input.name.clone(),
            sensitivity: change / input.u,
            u: change.abs(),
        })
        .collect();
    list.sort_by(|a, b| b.u.total_cmp(&a.u));
    list
}

fn degrees_of_freedom(
    inputs: &[Input],
    correlation: Option<&Correlation>,
    changes: &[f64],
    u: f64,
) -> Option<f64> {
    let few: f64 = inputs
        .iter()
        .zip(changes)
        .filter(|(input, _)| input.degrees_of_freedom.is_finite())
        .map(|(input, change)| change.powi(4) / input.degrees_of_freedom)
        .sum();
    if few == 0.0 {
        return Some(f64::INFINITY);
    }
    if correlation.is_some_and(|correlation| !correlation.is_none()) {
        return None;
    }
    Some(u.powi(4) / few)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_linear_model() {
        let inputs = [
            Input::normal("a", 1.0, 0.3),
            Input::within("b", 2.0, 3f64.sqrt() * 0.2),
            Input::exact("c", 5.0),
        ];
        let budget = first_order(&inputs, |x| Some(2.0 * x[0] - 4.0 * x[1] + x[2])).unwrap();
        assert!((budget.value + 1.0).abs() < 1e-12);
        assert!((budget.u - 1.0).abs() < 1e-12);
        let names: Vec<&str> = budget.contributions.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names, ["b", "a"]);
        assert!((budget.contributions[0].sensitivity + 4.0).abs() < 1e-12);
        assert_eq!(budget.degrees_of_freedom, Some(f64::INFINITY));
        assert!((budget.coverage_factor(0.95).unwrap() - 1.959_964).abs() < 1e-6);
    }

    #[test]
    fn exact_a_stop_counts_with_the_share_of_the_spread_that_reaches_it() {
        let inputs = [Input::normal("travel", 0.0, 1.0)];
        let budget = first_order(&inputs, |x| Some(x[0].max(0.0))).unwrap();
        assert!((budget.u - 0.5).abs() < 1e-15);
    }

    #[test]
    fn exact_full_correlation_cancels_a_difference() {
        let inputs = [Input::normal("a", 3.0, 0.5), Input::normal("b", 1.0, 0.5)];
        let together = Correlation::none(2).with(0, 1, 1.0).unwrap();
        let joint = first_order_many(&inputs, Some(&together), 2, |x, out| {
            out[0] = x[0] - x[1];
            out[1] = x[0] + x[1];
            true
        })
        .unwrap();
        assert!(joint.budgets[0].u < 1e-7 && (joint.budgets[1].u - 1.0).abs() < 1e-12);
    }

    #[test]
    fn refuses_models_that_give_nothing() {
        let inputs = [Input::normal("bore", 1.0, 2.0)];
        assert_eq!(first_order(&inputs, |_| None), Err(PropagationError::NoValue));
        assert_eq!(first_order(&inputs, |_| Some(f64::NAN)), Err(PropagationError::NoValue));
        let only_here = |x: &[f64]| (x[0] == 1.0).then_some(x[0]);
        assert!(matches!(first_order(&inputs, only_here), Err(PropagationError::CannotMove { .. })));
        let one_side = first_order(&inputs, |x| (x[0] >= 0.0).then_some(3.0 * x[0])).unwrap();
        assert!((one_side.u - 6.0).abs() < 1e-12);
        let bad = [Input { u: -1.0, ..Input::exact("rod", 1.0) }];
        assert!(matches!(first_order(&bad, |x| Some(x[0])), Err(PropagationError::BadInput { .. })));
    }
}
