//! Propagation of whole distributions: JCGM 101:2008, *Propagation of distributions using a Monte Carlo method*.

use super::draw::Spread;
use super::first_order::check;
use super::{PropagationError, Sample};
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
    check(inputs)?;
    if !(2..=MOST_DRAWS).contains(&draws) {
        return Err(PropagationError::BadDraws { draws, most: MOST_DRAWS });
    }
    let spreads: Vec<Spread> = inputs.iter().map(Spread::of).collect();
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let mut values = vec![0.0; inputs.len()];
    let mut out = vec![0.0; outputs];
    let mut results = vec![Vec::with_capacity(draws); outputs];
    let mut failed = 0;
    for _ in 0..draws {
        for (value, spread) in values.iter_mut().zip(&spreads) {
            *value = spread.draw(&mut random);
        }
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
