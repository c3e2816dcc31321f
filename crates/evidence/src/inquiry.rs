//! What to ask next: how much an answer tells, and in which order to look when each look costs something.

/// Mutual information in bits: how much an outcome tells of the target, before it is known.
///
/// `joint` holds a probability for each target and outcome, the outcome fastest, as
/// [`Network::joint`](crate::network::Network::joint) gives for two variables; it need not sum to 1. The result is
/// from 0 to the smaller of log2(targets) and log2(outcomes): I = Σ p(t, o) log2(p(t, o) / (p(t) p(o))) (Cover and
/// Thomas, Elements of Information Theory, 2006, equation 2.28). NaN when the length is not `targets` times
/// `outcomes`, or a figure is negative or not finite; 0 for a table of zeros.
pub fn information_bits(joint: &[f64], targets: usize, outcomes: usize) -> f64 {
    let fits = targets.checked_mul(outcomes) == Some(joint.len());
    if !fits || !joint.iter().all(|share| *share >= 0.0 && share.is_finite()) {
        return f64::NAN;
    }
    let total: f64 = joint.iter().sum();
    if joint.is_empty() || total <= 0.0 {
        return 0.0;
    }
    let mut of_outcome = vec![0.0; outcomes];
    for row in joint.chunks_exact(outcomes) {
        of_outcome.iter_mut().zip(row).for_each(|(sum, share)| *sum += share / total);
    }
    let mut bits = 0.0;
    for row in joint.chunks_exact(outcomes) {
        let of_target: f64 = row.iter().map(|share| share / total).sum();
        for (share, outcome) in row.iter().zip(&of_outcome) {
            let share = share / total;
            if share > 0.0 {
                bits += share * (share / (of_target * outcome)).log2();
            }
        }
    }
    // Round-off can leave a hair below zero where the two have nothing to do with each other.
    bits.max(0.0)
}

/// Entropy in bits of a distribution, which need not sum to 1: how much is still open. 0 for none.
pub fn entropy_bits(distribution: &[f64]) -> f64 {
    let total: f64 = distribution.iter().sum();
    let shares = distribution.iter().map(|share| share / total).filter(|&share| share > 0.0);
    shares.map(|share| -share * share.log2()).sum::<f64>().max(0.0)
}

/// Order in which to look at suspects so that finding the one that is at fault costs least: falling p/c, equals as
/// they stand.
///
/// `p[i]` is the probability that `i` is at fault, `c[i]` what it costs to look. Best when exactly one is at fault,
/// a look tells for certain and costs do not depend on the order (Kadane and Simon 1977; Heckerman, Breese and
/// Rommelse 1995): it is not when several share a cover that must come off. What costs nothing comes first; what
/// has no figure comes last. Lists of different lengths are read as far as both go.
pub fn order_by_cost(p: &[f64], c: &[f64]) -> Vec<usize> {
    let worth: Vec<f64> = p
        .iter()
        .zip(c)
        .map(|(p, c)| if *c > 0.0 { p / c } else { f64::INFINITY })
        .map(|worth| if worth.is_nan() { f64::NEG_INFINITY } else { worth })
        .collect();
    let mut order: Vec<usize> = (0..worth.len()).collect();
    order.sort_by(|&a, &b| worth[b].total_cmp(&worth[a]));
    order
}

/// Expected cost of looking in this order until the one at fault is found, and mending it.
///
/// `p[i]` is the probability that `i` is at fault (exactly one is), `look[i]` the cost of looking, `mend[i]` that of
/// mending: Σ (1 - Σ of p before) look + p mend (Heckerman, Breese and Rommelse 1995). In the unit of the costs.
/// Positions of `order` that do not exist in all three lists are left out.
pub fn expected_cost(order: &[usize], p: &[f64], look: &[f64], mend: &[f64]) -> f64 {
    let mut left = 1.0;
    let mut cost = 0.0;
    for &at in order {
        if let (Some(p), Some(look), Some(mend)) = (p.get(at), look.get(at), mend.get(at)) {
            cost += left * look + p * mend;
            left -= p;
        }
    }
    cost
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn exact_a_certain_test_of_four_equals_tells_two_bits() {
        let mut joint = [0.0; 16];
        (0..4).for_each(|at| joint[at * 5] = 0.25);
        assert!((information_bits(&joint, 4, 4) - 2.0).abs() < 1e-15);
        assert_eq!(information_bits(&[0.25; 4], 2, 2), 0.0);
        assert_eq!(information_bits(&[0.0; 4], 2, 2), 0.0);
        assert!((entropy_bits(&[1.0, 1.0, 1.0, 1.0]) - 2.0).abs() < 1e-15);
        assert_eq!(entropy_bits(&[0.0, 1.0]), 0.0);
    }

    #[test]
    fn refuses_tables_that_do_not_fit() {
        assert!(information_bits(&[0.5, 0.5], 2, 2).is_nan());
        assert!(information_bits(&[0.5, -0.5, 0.5, 0.5], 2, 2).is_nan());
        assert!(information_bits(&[0.5, f64::INFINITY], 2, 1).is_nan());
        assert_eq!(information_bits(&[], 0, 0), 0.0);
        assert!(information_bits(&[], usize::MAX, 2).is_nan());
    }

    #[test]
    fn exact_free_looks_come_first_and_unknown_ones_last() {
        assert_eq!(order_by_cost(&[0.1, 0.2, f64::NAN, 0.4], &[1.0, 0.0, 1.0, 1.0]), [1, 3, 0, 2]);
        assert_eq!(order_by_cost(&[0.2, 0.2], &[1.0, 1.0]), [0, 1]);
        assert_eq!(order_by_cost(&[0.2], &[]), [0usize; 0]);
        assert_eq!(expected_cost(&[5], &[1.0], &[1.0], &[1.0]), 0.0);
    }

    /// Cheapest of all orders, by trying each.
    fn cheapest(left: &mut Vec<usize>, so_far: &mut Vec<usize>, cost: &dyn Fn(&[usize]) -> f64) -> f64 {
        if left.is_empty() {
            return cost(so_far);
        }
        let mut best = f64::INFINITY;
        for at in 0..left.len() {
            let one = left.remove(at);
            so_far.push(one);
            best = best.min(cheapest(left, so_far, cost));
            so_far.pop();
            left.insert(at, one);
        }
        best
    }

    proptest! {
        #[test]
        fn agrees_order_by_cost_with_the_best_of_all_orders(
            suspects in prop::collection::vec((0.01f64..1.0, 0.1f64..50.0, 0.0f64..100.0), 1..=6),
        ) {
            let total: f64 = suspects.iter().map(|one| one.0).sum();
            let p: Vec<f64> = suspects.iter().map(|one| one.0 / total).collect();
            let look: Vec<f64> = suspects.iter().map(|one| one.1).collect();
            let mend: Vec<f64> = suspects.iter().map(|one| one.2).collect();
            let ours = expected_cost(&order_by_cost(&p, &look), &p, &look, &mend);
            let cost = |order: &[usize]| expected_cost(order, &p, &look, &mend);
            let best = cheapest(&mut (0..p.len()).collect(), &mut Vec::new(), &cost);
            prop_assert!((ours - best).abs() < 1e-9 * best.max(1.0), "{ours} {best}");
        }

        #[test]
        fn conserves_information_as_entropy_before_less_entropy_after(
            joint in prop::collection::vec(0.0f64..1.0, 12),
        ) {
            let total: f64 = joint.iter().sum();
            prop_assume!(total > 0.1);
            let before: Vec<f64> = joint.chunks(3).map(|row| row.iter().sum()).collect();
            let after: f64 = (0..3)
                .map(|outcome| {
                    let column: Vec<f64> = joint.iter().skip(outcome).step_by(3).copied().collect();
                    column.iter().sum::<f64>() / total * entropy_bits(&column)
                })
                .sum();
            prop_assert!((information_bits(&joint, 4, 3) - (entropy_bits(&before) - after)).abs() < 1e-12);
        }
    }
}
