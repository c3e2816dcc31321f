//! Levenberg-Marquardt: the least sum of squares, from a start.
//!
//! Steps are damped Gauss-Newton steps from the singular values of the Jacobian with its columns scaled to their
//! largest length so far (Levenberg 1944; Marquardt 1963; scaling as Moré 1978). The damping follows the gain of
//! each step as Nielsen 1999 proposes. Where the model refuses, the step is rejected like one that got worse.

use super::problem::{Problem, Slope};
use super::svd::{Svd, dot, norm};

/// Steps of one phase; most problems need ten to fifty.
const MOST_STEPS: usize = 2000;

/// Offset below which a minimum counts as found: a thousandth of the parameters' uncertainty.
const SETTLED: f64 = 1e-3;

/// Where a search ended.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub values: Vec<f64>,
    /// Residuals there, in units of their uncertainties.
    pub residuals: Vec<f64>,
    /// Their derivatives, by columns.
    pub jacobian: Vec<Vec<f64>>,
    /// Whether the place is a minimum as far as rounding lets one see.
    pub settled: bool,
}

/// Where the search stops with quick derivatives, and with fine ones: see [`offset`].
const GOALS: [f64; 2] = [1e-5, 1e-9];

/// Searches the minimum with quick derivatives, then makes sure of it with fine ones; `None` where the model gives
/// nothing at the start. The first steps are the shorter the greater `damping` (above 0; 0.001 is bold).
pub(super) fn minimise<M: Fn(&[f64], &mut [f64]) -> bool>(
    problem: &Problem<'_, M>,
    start: &[f64],
    damping: f64,
    scale: f64,
) -> Option<Found> {
    let near = descend(problem, start, damping, Slope::Quick, scale)?;
    let found = descend(problem, &near.values, 1e-3, Slope::Fine, scale)?;
    Some(polish(problem, found, scale))
}

/// Goes on with whole Gauss-Newton steps as long as each at least halves the offset.
///
/// A sum of squares is flat at its minimum: what is left of it to gain is lost in rounding long before the place of
/// the minimum is. The offset still shows it.
fn polish<M: Fn(&[f64], &mut [f64]) -> bool>(
    problem: &Problem<'_, M>,
    mut found: Found,
    scale: f64,
) -> Found {
    for _ in 0..10 {
        let lengths: Vec<f64> = found.jacobian.iter().map(|column| norm(column)).collect();
        let svd = Svd::of(&scaled(&found.jacobian, &lengths));
        let before = offset(&svd, &found.residuals, found.values.len());
        let step = damped(&svd, &found.residuals, 0.0);
        let values = moved(&found.values, &step, &lengths);
        let Some(residuals) = problem.residuals(&values) else { break };
        let sum = dot(&residuals, &residuals);
        if sum > dot(&found.residuals, &found.residuals) * (1.0 + 1e-9) + (1e-14 * scale).powi(2) {
            break;
        }
        let Some(jacobian) = problem.jacobian(&values, &residuals, Slope::Fine) else { break };
        let lengths: Vec<f64> = jacobian.iter().map(|column| norm(column)).collect();
        let after = offset(&Svd::of(&scaled(&jacobian, &lengths)), &residuals, values.len());
        if after.is_nan() || after > 0.5 * before {
            break;
        }
        found = Found { values, residuals, jacobian, settled: found.settled || after <= SETTLED };
    }
    found
}

/// Columns divided by their lengths; a column of no length stays.
fn scaled(columns: &[Vec<f64>], lengths: &[f64]) -> Vec<Vec<f64>> {
    let divided = |(column, length): (&Vec<f64>, &f64)| {
        column.iter().map(|x| if *length > 0.0 { x / length } else { 0.0 }).collect()
    };
    columns.iter().zip(lengths).map(divided).collect()
}

/// Parameters after a step in scaled parameters.
fn moved(values: &[f64], step: &[f64], lengths: &[f64]) -> Vec<f64> {
    let one = |((value, step), length): ((&f64, &f64), &f64)| {
        if *length > 0.0 { value + step / length } else { *value }
    };
    values.iter().zip(step).zip(lengths).map(one).collect()
}

/// `scale`: size of the readings in units of their uncertainty, which says how small residuals are pure rounding.
fn descend<M: Fn(&[f64], &mut [f64]) -> bool>(
    problem: &Problem<'_, M>,
    start: &[f64],
    first_damping: f64,
    slope: Slope,
    scale: f64,
) -> Option<Found> {
    let goal = GOALS[usize::from(slope == Slope::Fine)];
    let mut values = start.to_vec();
    let mut residuals = problem.residuals(&values)?;
    let mut lengths = vec![0.0f64; values.len()];
    let (mut damping, mut growth) = (None, 2.0);
    let mut jacobian = problem.jacobian(&values, &residuals, slope)?;
    let mut settled = false;
    'steps: for _ in 0..MOST_STEPS {
        for (length, column) in lengths.iter_mut().zip(&jacobian) {
            *length = length.max(norm(column));
        }
        let scaled: Vec<Vec<f64>> = jacobian
            .iter()
            .zip(&lengths)
            .map(|(column, length)| {
                column.iter().map(|x| if *length > 0.0 { x / length } else { 0.0 }).collect()
            })
            .collect();
        let svd = Svd::of(&scaled);
        let before = dot(&residuals, &residuals);
        if offset(&svd, &residuals, values.len()) <= goal || before.sqrt() <= 1e-14 * scale {
            settled = true;
            break;
        }
        let mut lambda = damping.unwrap_or(first_damping * svd.s.first().copied().unwrap_or(1.0).powi(2));
        loop {
            let step = damped(&svd, &residuals, lambda);
            let tried = moved(&values, &step, &lengths);
            if tried == values {
                // The step is lost in rounding: no nearer place can be told.
                settled = offset(&svd, &residuals, values.len()) <= SETTLED || before.sqrt() <= 1e-10 * scale;
                break 'steps;
            }
            let after = problem.residuals(&tried).map(|r| (dot(&r, &r), r));
            // What the straight model promises: |r|² - |r + J p|² = pᵀ(2 lambda p + JᵀJ p).
            let promised = gain(&svd, &step, lambda);
            match after {
                Some((sum, there)) if sum < before => {
                    let ratio = (before - sum) / promised;
                    let Some(next) = problem.jacobian(&tried, &there, slope) else {
                        lambda *= growth;
                        growth *= 2.0;
                        continue;
                    };
                    lambda *= (1.0 - (2.0 * ratio - 1.0).powi(3)).clamp(1.0 / 3.0, 2.0);
                    growth = 2.0;
                    damping = Some(lambda);
                    (values, residuals, jacobian) = (tried, there, next);
                    break;
                }
                _ => {
                    lambda *= growth;
                    growth *= 2.0;
                    if !lambda.is_finite() || lambda > 1e60 {
                        break 'steps;
                    }
                }
            }
        }
    }
    Some(Found { values, residuals, jacobian, settled })
}

/// How far from the minimum, in units of the confidence region: length of the residuals' part along the model over
/// that across it, each per degree of freedom (Bates and Watts 1981). Below 0.001 the distance is nothing beside
/// the uncertainty of the parameters.
fn offset(svd: &Svd, residuals: &[f64], parameters: usize) -> f64 {
    let along: f64 = svd.u.iter().map(|column| dot(column, residuals).powi(2)).sum();
    let across = (dot(residuals, residuals) - along).max(0.0);
    let freedom = residuals.len().saturating_sub(parameters);
    if freedom == 0 {
        return if along == 0.0 { 0.0 } else { f64::INFINITY };
    }
    (along / parameters.max(1) as f64).sqrt() / (across / freedom as f64).sqrt()
}

/// The step, in scaled parameters, that damping `lambda` allows.
fn damped(svd: &Svd, residuals: &[f64], lambda: f64) -> Vec<f64> {
    let mut step = vec![0.0; svd.v.len()];
    for ((u, s), v) in svd.u.iter().zip(&svd.s).zip(&svd.v) {
        let share = if *s > 0.0 { -dot(u, residuals) * s / (s * s + lambda) } else { 0.0 };
        for (out, v) in step.iter_mut().zip(v) {
            *out += share * v;
        }
    }
    step
}

fn gain(svd: &Svd, step: &[f64], lambda: f64) -> f64 {
    svd.s
        .iter()
        .zip(&svd.v)
        .map(|(s, v)| {
            let along = dot(v, step);
            along * along * (s * s + 2.0 * lambda)
        })
        .sum()
}
