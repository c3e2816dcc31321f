//! How much the bend of a model adds to first order: JCGM 100:2008, 5.1.2, note.

use super::PropagationError;
use super::first_order::check;
use crate::Input;
use serde::Serialize;

/// Steps as a share of each input's uncertainty: small beside the bend, large beside rounding.
const STEP: f64 = 0.25;

/// The next terms after first order, for uncorrelated inputs with normal spreads.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SecondOrder {
    /// Standard uncertainty from the slopes at the best values alone.
    pub u_first: f64,
    /// Standard uncertainty with the next terms. They can be negative; a variance below nothing is given as zero.
    pub u: f64,
    /// How far the mean of the result lies from the result at the best values, by the bend alone.
    pub shift: f64,
}

/// Slopes, bends and mixed changes at the best values, each times the uncertainties of its inputs.
struct Taylor<'a, M> {
    inputs: &'a [Input],
    model: M,
    best: f64,
}

/// Adds the terms [½ (∂²f/∂xᵢ∂xⱼ)² + ∂f/∂xᵢ ∂³f/∂xᵢ∂xⱼ²] uᵢ² uⱼ² to the first-order variance.
///
/// Where they matter, so do terms beyond, and Monte Carlo is the better answer; they tell that it is needed. Inputs
/// are uncorrelated. The model gives the result, or `None` where there is none.
///
/// # Errors
/// [`PropagationError`] when an input is no number, or the model gives nothing at or around the best values (up to
/// half an uncertainty away).
pub fn second_order(
    inputs: &[Input],
    model: impl Fn(&[f64]) -> Option<f64>,
) -> Result<SecondOrder, PropagationError> {
    check(inputs)?;
    let values: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let best = model(&values).filter(|y| y.is_finite()).ok_or(PropagationError::NoValue)?;
    let taylor = Taylor { inputs, model, best };
    let uncertain: Vec<usize> =
        (0..inputs.len()).filter(|at| inputs.get(*at).is_some_and(|input| input.u > 0.0)).collect();
    let (mut first, mut more, mut shift) = (0.0, 0.0, 0.0);
    for i in &uncertain {
        let [up, down, far_up, far_down] =
            [(1, 0), (-1, 0), (2, 0), (-2, 0)].map(|(times, _)| taylor.at(&[(*i, times)]));
        let (up, down, far_up, far_down) = (up?, down?, far_up?, far_down?);
        let slope = (8.0 * (up - down) - (far_up - far_down)) / (12.0 * STEP);
        let bend = (up + down) / (STEP * STEP);
        let third = (far_up - 2.0 * up + 2.0 * down - far_down) / (2.0 * STEP.powi(3));
        first += slope * slope;
        more += 0.5 * bend * bend + slope * third;
        shift += 0.5 * bend;
        for j in uncertain.iter().filter(|j| *j != i) {
            let corner = |a: i8, b: i8| taylor.at(&[(*i, a), (*j, b)]);
            let [pp, pm, mp, mm] = [corner(1, 1)?, corner(1, -1)?, corner(-1, 1)?, corner(-1, -1)?];
            let mixed = (pp - pm - mp + mm) / (4.0 * STEP * STEP);
            let third = ((pp + pm - 2.0 * up) - (mp + mm - 2.0 * down)) / (2.0 * STEP.powi(3));
            more += 0.5 * mixed * mixed + slope * third;
        }
    }
    Ok(SecondOrder { u_first: first.sqrt(), u: (first + more).max(0.0).sqrt(), shift })
}

impl<M: Fn(&[f64]) -> Option<f64>> Taylor<'_, M> {
    /// Change of the result when inputs are moved by so many steps.
    fn at(&self, moves: &[(usize, i8)]) -> Result<f64, PropagationError> {
        let mut values: Vec<f64> = self.inputs.iter().map(|input| input.value).collect();
        for (at, times) in moves {
            if let (Some(value), Some(input)) = (values.get_mut(*at), self.inputs.get(*at)) {
                *value += f64::from(*times) * STEP * input.u;
            }
        }
        let moved = (self.model)(&values).filter(|y| y.is_finite()).map(|y| y - self.best);
        moved.ok_or_else(|| {
            let input = moves.first().and_then(|(at, _)| self.inputs.get(*at));
            let (name, u) = input.map(|i| (i.name.clone(), i.u)).unwrap_or_default();
            PropagationError::CannotMove { name, u }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_square_and_product_of_normal_quantities() {
        // x² about 0: variance 2u⁴, mean u². (x + 1)(y + 2): variance 4u² + v² + u²v².
        let square = second_order(&[Input::normal("x", 0.0, 0.3)], |x| Some(x[0] * x[0])).unwrap();
        assert!(square.u_first.abs() < 1e-12);
        assert!((square.u - 2f64.sqrt() * 0.09).abs() < 1e-12);
        assert!((square.shift - 0.09).abs() < 1e-12);
        let inputs = [Input::normal("x", 1.0, 0.3), Input::normal("y", 2.0, 0.4), Input::exact("z", 5.0)];
        let product = second_order(&inputs, |x| Some(x[0] * x[1])).unwrap();
        assert!((product.u - (4.0f64 * 0.09 + 0.16 + 0.09 * 0.16).sqrt()).abs() < 1e-12);
        assert!(product.shift.abs() < 1e-12);
    }

    #[test]
    fn refuses_a_model_that_stops_nearby() {
        let inputs = [Input::normal("x", 1.0, 4.0)];
        let error = second_order(&inputs, |x| (x[0] > 0.5).then_some(x[0])).unwrap_err();
        assert!(matches!(error, PropagationError::CannotMove { .. }));
        assert_eq!(second_order(&inputs, |_| None), Err(PropagationError::NoValue));
    }
}
