//! Which measurement to better: what the band of a result becomes when one input is known better.

use super::{Correlation, Evaluation, Kind, Method, PropagationError, evaluate_many};
use crate::Input;
use crate::distribution::coverage_factor;
use serde::Serialize;

/// Half widths of a result's band, now and with one input known better.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bettered {
    /// Name of the input.
    pub name: String,
    /// Half the width of the shortest interval of the coverage asked for, as things are.
    pub now: f64,
    /// The same with the input's uncertainty halved.
    pub halved: f64,
    /// The same with the input known exactly.
    pub removed: f64,
}

impl Bettered {
    /// Share by which the band shrinks when the input's uncertainty is halved; 0 where there is no band.
    pub fn shrink_halved(&self) -> f64 {
        shrink(self.now, self.halved)
    }

    /// Share by which the band shrinks when the input is known exactly; 0 where there is no band.
    pub fn shrink_removed(&self) -> f64 {
        shrink(self.now, self.removed)
    }
}

fn shrink(now: f64, then: f64) -> f64 {
    if now > 0.0 { 1.0 - then / now } else { 0.0 }
}

/// For one result; see [`what_if_many`].
///
/// # Errors
/// As [`what_if_many`].
pub fn what_if(
    inputs: &[Input],
    correlation: Option<&Correlation>,
    method: Method,
    coverage: f64,
    model: impl Fn(&[f64]) -> Option<f64>,
) -> Result<Vec<Bettered>, PropagationError> {
    let one = |values: &[f64], out: &mut [f64]| match (model(values), out.first_mut()) {
        (Some(result), Some(slot)) => {
            *slot = result;
            true
        }
        _ => false,
    };
    let all = what_if_many(inputs, correlation, 1, method, coverage, one)?;
    all.into_iter().next().ok_or(PropagationError::NoValue)
}

/// For each result, one line for each input that is not exact: the one that shrinks the band most when halved first.
///
/// The other inputs, the best values and the correlations stay as they are. By Monte Carlo all cases use the same
/// draws, each moved towards the best value of the input that is bettered, so that their differences are not noise;
/// it takes 2 x inputs + 1 times the draws. To first order an unknown number of degrees of freedom counts as many.
///
/// # Errors
/// As [`evaluate_many`]; and when coverage is not above 0 and below 1, or too great for the draws.
pub fn what_if_many(
    inputs: &[Input],
    correlation: Option<&Correlation>,
    outputs: usize,
    method: Method,
    coverage: f64,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Vec<Vec<Bettered>>, PropagationError> {
    let bands = |changed: Option<(usize, f64)>| -> Result<Vec<f64>, PropagationError> {
        let all = match method {
            Method::FirstOrder => {
                let inputs = with_less(inputs, changed);
                evaluate_many(&inputs, correlation, outputs, method, &model)?
            }
            Method::MonteCarlo { .. } => {
                evaluate_many(inputs, correlation, outputs, method, |values, out| {
                    let Some((at, share)) = changed else { return model(values, out) };
                    let mut values = values.to_vec();
                    if let (Some(value), Some(input)) = (values.get_mut(at), inputs.get(at)) {
                        *value = input.value + share * (*value - input.value);
                    }
                    model(&values, out)
                })?
            }
        };
        all.iter().map(|evaluation| half_width(evaluation, coverage)).collect()
    };
    let now = bands(None)?;
    let mut lists = vec![Vec::new(); outputs];
    for (at, input) in inputs.iter().enumerate().filter(|(_, input)| input.u > 0.0) {
        let (halved, removed) = (bands(Some((at, 0.5)))?, bands(Some((at, 0.0)))?);
        for (((list, now), halved), removed) in lists.iter_mut().zip(&now).zip(&halved).zip(&removed) {
            let name = input.name.clone();
            list.push(Bettered { name, now: *now, halved: *halved, removed: *removed });
        }
    }
    for list in &mut lists {
        list.sort_by(|a, b| b.shrink_halved().total_cmp(&a.shrink_halved()));
    }
    Ok(lists)
}

fn with_less(inputs: &[Input], changed: Option<(usize, f64)>) -> Vec<Input> {
    let mut inputs = inputs.to_vec();
    if let Some((input, share)) = changed.and_then(|(at, share)| Some((inputs.get_mut(at)?, share))) {
        input.u *= share;
    }
    inputs
}

fn half_width(evaluation: &Evaluation, coverage: f64) -> Result<f64, PropagationError> {
    let known = evaluation.interval(coverage, Kind::Shortest).map(|interval| 0.5 * interval.width());
    let many = || coverage_factor(coverage, f64::INFINITY).filter(|_| evaluation.sample.is_none());
    known
        .or_else(|| many().map(|factor| factor * evaluation.u))
        .ok_or(PropagationError::BadCoverage { coverage })
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRAWN: Method = Method::MonteCarlo { draws: 50_000, seed: 8 };

    fn inputs() -> [Input; 3] {
        [Input::normal("a", 1.0, 0.3), Input::normal("b", 2.0, 0.4), Input::exact("c", 3.0)]
    }

    fn sum(x: &[f64]) -> Option<f64> {
        Some(x.iter().sum())
    }

    #[test]
    fn exact_sum_of_two() {
        let list = what_if(&inputs(), None, Method::FirstOrder, 0.95, sum).unwrap();
        let names: Vec<&str> = list.iter().map(|line| line.name.as_str()).collect();
        assert_eq!(names, ["b", "a"]);
        assert!((list[0].now - 1.959_964 * 0.5).abs() < 1e-6);
        // √(0.09 + 0.04) / 0.5 and 0.3 / 0.5.
        assert!((list[0].shrink_halved() - (1.0 - 0.13f64.sqrt() / 0.5)).abs() < 1e-9);
        assert!((list[0].shrink_removed() - 0.4).abs() < 1e-9);
        assert!((list[1].shrink_removed() - 0.2).abs() < 1e-9);
    }

    #[test]
    fn agrees_monte_carlo_with_first_order() {
        let first = what_if(&inputs(), None, Method::FirstOrder, 0.95, sum).unwrap();
        let drawn = what_if(&inputs(), None, DRAWN, 0.95, sum).unwrap();
        for (a, b) in first.iter().zip(&drawn) {
            assert_eq!(a.name, b.name);
            assert!((a.shrink_halved() - b.shrink_halved()).abs() < 0.015);
            assert!((a.shrink_removed() - b.shrink_removed()).abs() < 0.015);
        }
        assert_eq!(drawn, what_if(&inputs(), None, DRAWN, 0.95, sum).unwrap());
    }

    /// With full correlation a difference gets worse when only one of its two parts is known better.
    #[test]
    fn exact_correlated_inputs_can_make_it_worse() {
        let inputs = [Input::normal("a", 1.0, 0.4), Input::normal("b", 2.0, 0.4)];
        let together = Correlation::none(2).with(0, 1, 1.0).unwrap();
        for method in [Method::FirstOrder, DRAWN] {
            let difference = |x: &[f64]| Some(x[0] - x[1] + 0.1 * x[0]);
            let list = what_if(&inputs, Some(&together), method, 0.95, difference).unwrap();
            assert!(list.iter().any(|line| line.shrink_halved() < 0.0), "{list:?}");
        }
    }

    #[test]
    fn refuses_coverage_out_of_range() {
        for method in [Method::FirstOrder, DRAWN] {
            let error = what_if(&inputs(), None, method, 1.0, sum).unwrap_err();
            assert!(matches!(error, PropagationError::BadCoverage { .. }));
        }
        assert_eq!(what_if(&[], None, Method::FirstOrder, 0.95, |_| Some(1.0)), Ok(Vec::new()));
    }
}
