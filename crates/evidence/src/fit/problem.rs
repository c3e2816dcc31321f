//! Residuals and their derivatives, each reading in units of its own uncertainty.

use super::svd::norm;
use super::{Parameter, Readings};
use std::cell::Cell;

/// How finely derivatives are taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Slope {
    /// From two points: error about 1e-10 of the size.
    Quick,
    /// From four points: error about 1e-13.
    Fine,
}

/// The farthest a reading and a residual may be, in units of their uncertainty: sums of squares stay within what the
/// arithmetic can hold.
pub(super) const FARTHEST: f64 = 1e150;

/// A model with the readings it is held against.
pub(super) struct Problem<'a, M> {
    parameters: &'a [Parameter],
    readings: &'a Readings,
    model: M,
    evaluations: Cell<usize>,
    /// Length of the readings, each in units of its uncertainty.
    scale: f64,
}

impl<'a, M: Fn(&[f64], &mut [f64]) -> bool> Problem<'a, M> {
    pub(super) fn new(parameters: &'a [Parameter], readings: &'a Readings, model: M) -> Self {
        let weighted = readings.values.iter().enumerate().map(|(at, value)| value / readings.u_of(at));
        let scale = weighted.map(|y| y * y).sum::<f64>().sqrt();
        Self { parameters, readings, model, evaluations: Cell::new(0), scale }
    }

    /// Length of the readings, each in units of its uncertainty: it says how small residuals are pure rounding.
    pub(super) fn scale(&self) -> f64 {
        self.scale
    }

    pub(super) fn evaluations(&self) -> usize {
        self.evaluations.get()
    }

    /// What the model says of the readings; `None` where it gives nothing.
    pub(super) fn predicted(&self, values: &[f64]) -> Option<Vec<f64>> {
        self.evaluations.set(self.evaluations.get() + 1);
        let mut out = vec![0.0; self.readings.values.len()];
        ((self.model)(values, &mut out) && out.iter().all(|y| y.is_finite())).then_some(out)
    }

    /// (Model - reading) / u for every reading, then (value - known) / u for every parameter known beforehand; `None`
    /// where the model gives nothing or one is beyond [`FARTHEST`].
    pub(super) fn residuals(&self, values: &[f64]) -> Option<Vec<f64>> {
        let mut out = self.predicted(values)?;
        for (at, (y, reading)) in out.iter_mut().zip(&self.readings.values).enumerate() {
            *y = (*y - reading) / self.readings.u_of(at);
        }
        for (parameter, value) in self.parameters.iter().zip(values) {
            if let Some(u) = parameter.known {
                out.push((value - parameter.start) / u);
            }
        }
        out.iter().all(|r| r.abs() <= FARTHEST).then_some(out)
    }

    /// Change of the residuals with each parameter, by columns; `None` where the model refuses on both sides or is too
    /// steep for a sum of squares.
    pub(super) fn jacobian(&self, values: &[f64], centre: &[f64], slope: Slope) -> Option<Vec<Vec<f64>>> {
        let bearable = |column: &Vec<f64>| norm(column).is_finite();
        (0..values.len()).map(|at| self.column(values, centre, at, slope).filter(bearable)).collect()
    }

    fn column(&self, values: &[f64], centre: &[f64], at: usize, slope: Slope) -> Option<Vec<f64>> {
        let value = *values.get(at)?;
        let size = value.abs().max(0.1 * self.parameters.get(at)?.size);
        let step = f64::EPSILON.cbrt() * size;
        let (up, down) = (self.moved(values, at, step), self.moved(values, at, -step));
        let quick = match (&up, &down) {
            (Some(up), Some(down)) => line(up, down),
            (Some(side), None) | (None, Some(side)) => return Some(line(side, &(0.0, centre.to_vec()))),
            (None, None) => return None,
        };
        if slope == Slope::Quick {
            return Some(quick);
        }
        // Wider steps against rounding, but small beside the change that would move the readings by as much as they
        // are: a place on an axis may be large where the shape about it is narrow.
        let step = f64::EPSILON.powf(0.2) * size.min(self.scale / norm(&quick));
        let ends = [1.0, -1.0, 2.0, -2.0].map(|times| self.moved(values, at, times * step));
        let [Some(up), Some(down), Some(far_up), Some(far_down)] = &ends else { return Some(quick) };
        let (near, far) = (line(up, down), line(far_up, far_down));
        Some(near.iter().zip(&far).map(|(near, far)| (4.0 * near - far) / 3.0).collect())
    }

    /// Residuals with one parameter moved, and the move that the arithmetic really made; `None` for no move.
    fn moved(&self, values: &[f64], at: usize, step: f64) -> Option<(f64, Vec<f64>)> {
        let mut there = values.to_vec();
        let value = there.get_mut(at)?;
        let before = *value;
        *value += step;
        let step = *value - before;
        if step == 0.0 { None } else { Some((step, self.residuals(&there)?)) }
    }
}

/// Slope between two places along one parameter.
fn line(a: &(f64, Vec<f64>), b: &(f64, Vec<f64>)) -> Vec<f64> {
    a.1.iter().zip(&b.1).map(|(p, q)| (p - q) / (a.0 - b.0)).collect()
}
