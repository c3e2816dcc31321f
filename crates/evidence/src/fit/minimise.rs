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
) -> Option<Found> {
    let near = descend(problem, start, damping, Slope::Quick)?;
    let found = descend(problem, &near.values, 1e-3, Slope::Fine)?;
    Some(polish(problem, found))
}

/// Goes on with whole Gauss-Newton steps as long as each takes a tenth or more off the offset: they come nearer by the
/// same share each where residuals are large.
///
/// A sum of squares is flat at its minimum: what is left of it to gain is lost in rounding long before the place of
/// the minimum is. The offset still shows it.
fn polish<M: Fn(&[f64], &mut [f64]) -> bool>(problem: &Problem<'_, M>, mut found: Found) -> Found {
    let scale = problem.scale();
    for _ in 0..50 {
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
        if after.is_nan() || after > 0.9 * before {
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

/// Goes down to where nothing more is gained.
fn descend<M: Fn(&[f64], &mut [f64]) -> bool>(
    problem: &Problem<'_, M>,
    start: &[f64],
    first_damping: f64,
    slope: Slope,
) -> Option<Found> {
    let scale = problem.scale();
    let goal = GOALS[usize::from(slope == Slope::Fine)];
    let residuals = problem.residuals(start)?;
    let jacobian = problem.jacobian(start, &residuals, slope)?;
    let mut found = Found { values: start.to_vec(), residuals, jacobian, settled: false };
    let mut lengths = vec![0.0f64; start.len()];
    let mut damping = Damping { lambda: None, growth: 2.0, first: first_damping };
    for _ in 0..MOST_STEPS {
        for (length, column) in lengths.iter_mut().zip(&found.jacobian) {
            *length = length.max(norm(column));
        }
        let svd = Svd::of(&scaled(&found.jacobian, &lengths));
        let off = offset(&svd, &found.residuals, start.len());
        let left = norm(&found.residuals);
        if off <= goal || left <= 1e-14 * scale {
            found.settled = true;
            break;
        }
        let Some(next) = step_down(problem, &found, &svd, &lengths, &mut damping, slope) else {
            // What could still be gained is lost in rounding: no lower place can be told.
            found.settled = off <= SETTLED || left <= 1e-10 * scale;
            break;
        };
        found = next;
    }
    Some(found)
}

/// How much the next step is held back.
struct Damping {
    lambda: Option<f64>,
    growth: f64,
    first: f64,
}

/// The next place with a smaller sum of squares, damped as much as that takes; `None` where there is none.
fn step_down<M: Fn(&[f64], &mut [f64]) -> bool>(
    problem: &Problem<'_, M>,
    found: &Found,
    svd: &Svd,
    lengths: &[f64],
    damping: &mut Damping,
    slope: Slope,
) -> Option<Found> {
    let before = dot(&found.residuals, &found.residuals);
    let largest = svd.s.first().copied().unwrap_or(1.0);
    let mut lambda = damping.lambda.unwrap_or(damping.first * largest * largest);
    while lambda <= 1e60 {
        let step = damped(svd, &found.residuals, lambda);
        let values = moved(&found.values, &step, lengths);
        if values == found.values {
            return None;
        }
        let lower = problem.residuals(&values).filter(|residuals| dot(residuals, residuals) < before);
        let next = lower.and_then(|residuals| {
            let jacobian = problem.jacobian(&values, &residuals, slope)?;
            Some(Found { values, residuals, jacobian, settled: false })
        });
        if let Some(next) = next {
            let ratio = (before - dot(&next.residuals, &next.residuals)) / gain(svd, &step, lambda);
            let factor = (1.0 - (2.0 * ratio - 1.0).powi(3)).clamp(1.0 / 3.0, 2.0);
            (damping.lambda, damping.growth) = (Some(lambda * factor), 2.0);
            return Some(next);
        }
        lambda *= damping.growth;
        damping.growth *= 2.0;
    }
    None
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

/// What the straight model promises of a step: |r|² - |r + J p|² = pᵀ (JᵀJ + 2 lambda) p.
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
