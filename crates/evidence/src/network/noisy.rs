//! Tables built from one figure or one distribution for each cause.

use super::{MOST_FIGURES, SUM_TOLERANCE};

/// Distribution of the worst of several independent ordered states.
///
/// Each distribution is over the same states, from best to worst; P(worst ≤ k) = Π P(≤ k). None at all gives an
/// empty one. Distributions of different lengths, or that are none, give NaN, which
/// [`Network::new`](super::Network::new) refuses.
pub fn worst_of(distributions: &[&[f64]]) -> Vec<f64> {
    let Some(states) = distributions.first().map(|first| first.len()) else { return Vec::new() };
    if !distributions.iter().all(|one| one.len() == states && is_distribution(one)) {
        return vec![f64::NAN; states];
    }
    let mut at_most = vec![0.0; distributions.len()];
    let mut before = 0.0;
    (0..states)
        .map(|state| {
            at_most.iter_mut().zip(distributions).for_each(|(sum, one)| *sum += one[state]);
            let product: f64 = at_most.iter().product();
            let share = (product - before).max(0.0);
            before = product;
            share
        })
        .collect()
}

fn is_distribution(figures: &[f64]) -> bool {
    figures.iter().all(|figure| (0.0..=1.0).contains(figure))
        && (figures.iter().sum::<f64>() - 1.0).abs() <= SUM_TOLERANCE
}

/// Table of a child whose state is the worst that any parent or the leak brings about (noisy-MAX).
///
/// `leak` is the child's distribution when every parent is harmless; `parents[i][s]` the distribution that parent
/// `i` in state `s` brings about by itself. All are over the child's states from best to worst; a parent's harmless
/// state has all its weight on the best. Rows run through the parents' states, the last parent fastest, and each
/// row has one figure for each state of the child, as [`Variable`](super::Variable) wants them.
///
/// Lengths that do not fit give NaN, and a table beyond [`MOST_FIGURES`] is empty: both are refused by
/// [`Network::new`](super::Network::new).
pub fn noisy_max(leak: &[f64], parents: &[Vec<Vec<f64>>]) -> Vec<f64> {
    let rows = parents.iter().try_fold(1usize, |rows, parent| rows.checked_mul(parent.len()));
    let figures = rows.and_then(|rows| rows.checked_mul(leak.len()));
    let (Some(rows), Some(figures)) = (rows, figures.filter(|&figures| figures <= MOST_FIGURES)) else {
        return Vec::new();
    };
    let mut table = Vec::with_capacity(figures);
    for row in 0..rows {
        let mut distributions = vec![leak];
        let mut left = row;
        for parent in parents.iter().rev() {
            distributions.push(&parent[left % parent.len()]);
            left /= parent.len();
        }
        table.extend(worst_of(&distributions));
    }
    table
}

/// Table of a yes-or-no child of yes-or-no parents, each of which brings it about by itself with its own
/// probability (noisy-OR); `leak` is the probability that it comes about when no parent is present.
///
/// State 0 is "no", state 1 "yes", of parents and child: each row is P(no), P(yes), rows run through the parents'
/// states, the last parent fastest. P(no) = (1 - leak) Π (1 - p) over the parents that are present.
///
/// A probability outside 0 to 1 gives a table that [`Network::new`](super::Network::new) refuses, as does a table
/// beyond [`MOST_FIGURES`], which is empty.
pub fn noisy_or(leak: f64, probabilities: &[f64]) -> Vec<f64> {
    let rows = u32::try_from(probabilities.len()).ok().and_then(|bits| 1usize.checked_shl(bits));
    let Some(rows) = rows.filter(|&rows| rows <= MOST_FIGURES / 2) else { return Vec::new() };
    let count = probabilities.len();
    (0..rows)
        .flat_map(|row| {
            let present = |at: &usize| row >> (count - 1 - at) & 1 == 1;
            let spared: f64 = (0..count).filter(present).map(|at| 1.0 - probabilities[at]).product();
            let no = (1.0 - leak) * spared;
            [no, 1.0 - no]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_noisy_or_with_noisy_max_of_two_states() {
        let (leak, p) = (0.05, [0.3, 0.6, 0.99]);
        let parents: Vec<_> = p.iter().map(|&p| vec![vec![1.0, 0.0], vec![1.0 - p, p]]).collect();
        let by_max = noisy_max(&[1.0 - leak, leak], &parents);
        let by_or = noisy_or(leak, &p);
        assert_eq!(by_or.len(), 16);
        assert!(by_or.iter().zip(&by_max).all(|(a, b)| (a - b).abs() < 1e-15), "{by_or:?} {by_max:?}");
    }

    #[test]
    fn exact_worst_of_two_dice() {
        let die = [1.0 / 6.0; 6];
        let worst = worst_of(&[&die, &die]);
        for (at, share) in worst.iter().enumerate() {
            assert!((share - (2 * at + 1) as f64 / 36.0).abs() < 1e-15);
        }
    }

    #[test]
    fn exact_harmless_causes_leave_the_leak() {
        let leak = [0.7, 0.2, 0.1];
        let worst = worst_of(&[&leak, &[1.0, 0.0, 0.0]]);
        assert!(worst.iter().zip(leak).all(|(a, b)| (a - b).abs() < 1e-15));
        let certain = worst_of(&[&leak, &[0.0, 0.0, 1.0]]);
        assert_eq!(certain[..2], [0.0, 0.0]);
        assert!((certain[2] - 1.0).abs() < 1e-15);
    }

    #[test]
    fn refuses_lengths_that_do_not_fit_and_tables_without_end() {
        assert!(worst_of(&[&[0.5, 0.5], &[1.0]]).iter().all(|value| value.is_nan()));
        assert!(worst_of(&[&[0.5, 0.5], &[1.2, -0.2]]).iter().all(|value| value.is_nan()));
        assert!(worst_of(&[&[0.5, f64::NAN]]).iter().all(|value| value.is_nan()));
        assert!(worst_of(&[]).is_empty());
        assert!(noisy_or(0.0, &[0.5; 60]).is_empty());
        assert!(noisy_or(0.0, &[0.5; 200]).is_empty());
        assert!(noisy_max(&[1.0, 0.0], &vec![vec![vec![1.0, 0.0]; 2]; 70]).is_empty());
        assert!(noisy_max(&[1.0, 0.0], &[vec![]]).is_empty());
    }
}
