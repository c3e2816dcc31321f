//! Propagation of whole distributions: JCGM 101:2008, *Propagation of distributions using a Monte Carlo method*.

use super::draw::Drawer;
use super::first_order::check;
use super::{Correlation, PropagationError, Sample};
use crate::Input;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// More draws than this are refused: one result takes eight bytes.
pub const MOST_DRAWS: usize = 20_000_000;

/// Draws the inputs `draws` times and gives the spread of one result.
///
/// Inputs are independent. The same seed gives the same draws (ChaCha with eight rounds), on every machine up to
/// the last digits of its logarithms. A draw for which the model gives `None` or no finite number is counted as
/// failed and left out.
///
/// # Errors
/// [`PropagationError`] when an input is no number, the number of draws is not from 2 to [`MOST_DRAWS`], or fewer
/// than half of the draws gave a result.
pub fn monte_carlo(
    inputs: &[Input],
    draws: usize,
    seed: u64,
    model: impl Fn(&[f64]) -> Option<f64>,
) -> Result<Sample, PropagationError> {
    let samples =
        monte_carlo_many(inputs, 1, draws, seed, |values, out| match (model(values), out.first_mut()) {
            (Some(result), Some(slot)) => {
                *slot = result;
                true
            }
            _ => false,
        })?;
    samples.into_iter().next().ok_or(PropagationError::NoValue)
}

/// As [`monte_carlo`], for several results of the same draws; a draw that fails, fails for all of them.
///
/// The model writes `outputs` results into its second argument and gives true, or false where there are none.
///
/// # Errors
/// As [`monte_carlo`].
pub fn monte_carlo_many(
    inputs: &[Input],
    outputs: usize,
    draws: usize,
    seed: u64,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Vec<Sample>, PropagationError> {
    monte_carlo_correlated(inputs, None, outputs, draws, seed, model)
}

/// As [`monte_carlo_many`], inputs correlated or not.
///
/// Correlated inputs get their correlation exactly when both are normal or rectangular; those with few degrees of
/// freedom must have the same number of them, and are drawn from a multivariate t distribution (JCGM 102:2011).
///
/// # Errors
/// As [`monte_carlo`]; and when the correlations do not fit the inputs, cannot hold together, or join shapes for
/// which they cannot be drawn.
pub fn monte_carlo_correlated(
    inputs: &[Input],
    correlation: Option<&Correlation>,
    outputs: usize,
    draws: usize,
    seed: u64,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Vec<Sample>, PropagationError> {
    check(inputs)?;
    if !(2..=MOST_DRAWS).contains(&draws) {
        return Err(PropagationError::BadDraws { draws, most: MOST_DRAWS });
    }
    let drawer = Drawer::new(inputs, correlation)?;
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let mut values = vec![0.0; inputs.len()];
    let mut out = vec![0.0; outputs];
    let mut results = vec![Vec::with_capacity(draws); outputs];
    let mut failed = 0;
    for _ in 0..draws {
        drawer.draw(&mut random, &mut values);
        if model(&values, &mut out) && out.iter().all(|result| result.is_finite()) {
            for (list, result) in results.iter_mut().zip(&out) {
                list.push(*result);
            }
        } else {
            failed += 1;
        }
    }
    let usable = draws - failed;
    if usable < 2 || usable < draws / 2 {
        return Err(PropagationError::TooFewResults { usable, draws });
    }
    Ok(results.into_iter().map(|list| Sample::of(list, failed)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::propagation::first_order;

    fn sum(x: &[f64]) -> Option<f64> {
        Some(x.iter().sum())
    }

    #[test]
    fn exact_the_same_seed_gives_the_same_sample() {
        let inputs = [Input::normal("a", 1.0, 0.1), Input::within("b", 2.0, 0.1)];
        let one = monte_carlo(&inputs, 1000, 7, sum).unwrap();
        assert_eq!(one, monte_carlo(&inputs, 1000, 7, sum).unwrap());
        assert_ne!(one, monte_carlo(&inputs, 1000, 8, sum).unwrap());
    }

    #[test]
    fn agrees_with_first_order_on_a_linear_model() {
        let inputs = [Input::normal("a", 1.0, 0.1), Input::within("b", 2.0, 0.2), Input::exact("c", 3.0)];
        let budget = first_order(&inputs, sum).unwrap();
        let draws = 100_000;
        let sample = monte_carlo(&inputs, draws, 1, sum).unwrap();
        // Four standard errors of a mean and of a standard deviation.
        assert!((sample.mean() - budget.value).abs() < 4.0 * budget.u / (draws as f64).sqrt());
        assert!(
            (sample.standard_deviation() - budget.u).abs() < 4.0 * budget.u / (2.0 * draws as f64).sqrt()
        );
    }

    #[test]
    fn exact_rectangular_draws_stay_within_their_limits() {
        let sample = monte_carlo(&[Input::within("a", 1.0, 0.5)], 10_000, 3, sum).unwrap();
        assert!(sample.sorted().iter().all(|y| (0.5..=1.5).contains(y)));
        assert!(sample.sorted()[0] < 0.51 && sample.sorted()[9_999] > 1.49);
    }

    #[test]
    fn agrees_few_readings_spread_as_the_t_distribution() {
        let input = Input::normal("a", 0.0, 1.0).with_degrees_of_freedom(4.0);
        let sample = monte_carlo(&[input], 200_000, 5, sum).unwrap();
        // t for 95 % and 4 degrees of freedom is 2.776; a quantile of 200 000 draws is good to about 0.03 here.
        assert!((1.0 - 2.0 * sample.share_up_to(-2.776_445) - 0.95).abs() < 0.003);
    }

    #[test]
    fn exact_correlated_inputs_keep_shape_and_correlation() {
        let inputs = [
            Input::normal("a", 1.0, 0.1),
            Input::within("b", 2.0, 0.2 * 3f64.sqrt()),
            Input::within("c", 3.0, 0.3 * 3f64.sqrt()),
            Input::exact("d", 4.0),
        ];
        let wanted = [(0, 1, 0.8), (0, 2, -0.3), (1, 2, 0.2)];
        let correlation =
            wanted.iter().try_fold(Correlation::none(4), |all, (i, j, r)| all.with(*i, *j, *r)).unwrap();
        let draws = 200_000;
        let samples = monte_carlo_correlated(&inputs, Some(&correlation), 7, draws, 4, |x, out| {
            out[..4].copy_from_slice(x);
            for (at, (i, j, _)) in wanted.iter().enumerate() {
                out[4 + at] = (x[*i] - inputs[*i].value) * (x[*j] - inputs[*j].value);
            }
            true
        })
        .unwrap();
        for (sample, input) in samples.iter().zip(&inputs) {
            let room = 4.0 * input.u / (draws as f64).sqrt();
            assert!((sample.mean() - input.value).abs() <= room);
            assert!((sample.standard_deviation() - input.u).abs() <= room);
        }
        for (at, (i, j, r)) in wanted.iter().enumerate() {
            let found = samples[4 + at].mean() / (inputs[*i].u * inputs[*j].u);
            assert!((found - r).abs() < 0.01, "{found} for {r}");
        }
        let half_width = 0.2 * 3f64.sqrt();
        assert!(samples[1].sorted().iter().all(|y| (y - 2.0).abs() <= half_width));
        assert!((samples[1].share_up_to(2.0 - 0.5 * half_width) - 0.25).abs() < 0.005);
    }

    #[test]
    fn agrees_readings_of_one_occasion_spread_as_the_multivariate_t() {
        // The sum of two correlated t variables is a t variable of the combined scale.
        let input = |name: &str| Input::normal(name, 0.0, 1.0).with_degrees_of_freedom(4.0);
        let correlation = Correlation::none(2).with(0, 1, 0.5).unwrap();
        let sum = |x: &[f64], out: &mut [f64]| {
            out[0] = x[0] + x[1];
            true
        };
        let samples =
            monte_carlo_correlated(&[input("a"), input("b")], Some(&correlation), 1, 200_000, 6, sum)
                .unwrap();
        let inside = 1.0 - 2.0 * samples[0].share_up_to(-2.776_445 * 3f64.sqrt());
        assert!((inside - 0.95).abs() < 0.003, "{inside}");
        let other = [input("a"), Input::normal("b", 0.0, 1.0).with_degrees_of_freedom(5.0)];
        let error = monte_carlo_correlated(&other, Some(&correlation), 1, 10, 6, sum).unwrap_err();
        assert!(matches!(error, PropagationError::CannotCorrelate { .. }), "{error}");
        let three = Correlation::none(3).with(0, 1, 0.5).unwrap();
        let error = monte_carlo_correlated(&other, Some(&three), 1, 10, 6, sum).unwrap_err();
        assert!(matches!(error, PropagationError::WrongSize { .. }), "{error}");
    }

    #[test]
    fn conserves_draws_counted_as_results_or_as_failed() {
        let inputs = [Input::normal("a", 1.0, 1.0)];
        let sample = monte_carlo(&inputs, 10_000, 2, |x| (x[0] > 0.0).then_some(x[0])).unwrap();
        assert_eq!(sample.sorted().len() + sample.failed(), 10_000);
        assert!((sample.failed() as f64 / 10_000.0 - 0.1587).abs() < 0.015);
    }

    #[test]
    fn refuses_too_few_draws_and_too_few_results() {
        let inputs = [Input::normal("a", 1.0, 1.0)];
        assert!(matches!(monte_carlo(&inputs, 1, 0, sum), Err(PropagationError::BadDraws { .. })));
        assert!(matches!(monte_carlo(&inputs, usize::MAX, 0, sum), Err(PropagationError::BadDraws { .. })));
        assert!(matches!(
            monte_carlo(&inputs, 100, 0, |_| None),
            Err(PropagationError::TooFewResults { .. })
        ));
        let infinite = |x: &[f64]| Some(x[0] / 0.0);
        assert!(matches!(
            monte_carlo(&inputs, 100, 0, infinite),
            Err(PropagationError::TooFewResults { .. })
        ));
    }
}
