//! Roots of one variable in a bracket.

/// Where `f` falls through zero between `low` and `high`, to rounding; none when it does not go from positive (or
/// zero) to negative (or zero) there.
///
/// False position in the Illinois variant (Dowell and Jarratt, BIT 11, 1971, 168-174): the bracket is kept, and an end that stays
/// twice in a row counts half, so that convergence is faster than halving.
pub(crate) fn falling_root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut at_low, mut at_high) = (f(low), f(high));
    if !(at_low >= 0.0 && at_high <= 0.0) {
        return None;
    }
    let mut moved_low = None;
    for _ in 0..100 {
        if high - low <= 4.0 * f64::EPSILON * low.abs().max(high.abs()) {
            break;
        }
        let span = at_low - at_high;
        let guess = if span > 0.0 { low + (high - low) * at_low / span } else { 0.5 * (low + high) };
        let at = f(guess);
        if at == 0.0 {
            return Some(guess);
        }
        if at > 0.0 {
            (low, at_low) = (guess, at);
            if moved_low == Some(true) {
                at_high *= 0.5;
            }
        } else {
            (high, at_high) = (guess, at);
            if moved_low == Some(false) {
                at_low *= 0.5;
            }
        }
        moved_low = Some(at > 0.0);
    }
    Some(if at_low.abs() < at_high.abs() { low } else { high })
}

#[cfg(test)]
mod tests {
    use super::falling_root;

    #[test]
    fn exact_root_of_two_and_of_cosine() {
        let root = falling_root(0.0, 3.0, |x| 2.0 - x * x).unwrap();
        assert!((root - 2f64.sqrt()).abs() < 1e-15, "{root}");
        let root = falling_root(0.0, 3.0, f64::cos).unwrap();
        assert!((root - std::f64::consts::FRAC_PI_2).abs() < 1e-15, "{root}");
    }

    #[test]
    fn exact_root_of_steep_and_flat_ends() {
        let root = falling_root(-1.0, 1.0, |x| -(x - 0.3).powi(3)).unwrap();
        assert!((root - 0.3).abs() < 1e-5, "{root}");
        let root = falling_root(0.0, 1.0, |x| 1e-6 - x.powi(9)).unwrap();
        assert!((root - 1e-6f64.powf(1.0 / 9.0)).abs() < 1e-14, "{root}");
    }

    #[test]
    fn refuses_a_bracket_without_a_fall() {
        assert_eq!(falling_root(0.0, 1.0, |x| x + 1.0), None);
        assert_eq!(falling_root(0.0, 1.0, |_| f64::NAN), None);
    }
}
