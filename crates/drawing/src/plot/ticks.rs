//! Round tick values.

use super::Steps;

/// Ticks of an axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Ticks {
    /// Distance between ticks.
    pub step: f64,
    /// Decimals that show the step.
    pub decimals: usize,
    /// The values, rising.
    pub values: Vec<f64>,
}

/// Ticks at round values within `low` to `high`, at most `most` of them (2 at least are aimed at). A range that is
/// empty or not finite gives no ticks.
pub fn nice_ticks(low: f64, high: f64, most: usize, steps: Steps) -> Ticks {
    let span = high - low;
    let most = most.max(2);
    if !(span.is_finite() && span > 0.0 && span > 1e-9 * low.abs().max(high.abs())) {
        return Ticks { step: 1.0, decimals: 0, values: Vec::new() };
    }
    let count = |step: f64| (high / step + 1e-9).floor() - (low / step - 1e-9).ceil() + 1.0;
    let step = candidates(span / most as f64, steps)
        .into_iter()
        .find(|&s| count(s) <= most as f64)
        .unwrap_or(span / most as f64);
    let first = (low / step - 1e-9).ceil();
    let total = count(step).clamp(0.0, most as f64) as usize;
    // Adding zero turns a negative zero into zero.
    let values = (0..total).map(|i| (first + i as f64) * step + 0.0).collect();
    Ticks { step, decimals: decimals(step), values }
}

/// Steps from about `least` upwards.
fn candidates(least: f64, steps: Steps) -> Vec<f64> {
    const DEGREES: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 45.0, 60.0, 90.0, 180.0];
    let decade = least.log10().floor();
    let decimal = (0..3).flat_map(|up| [1.0, 2.0, 5.0].map(|m| m * 10f64.powf(decade + f64::from(up))));
    if steps == Steps::Degrees && (0.5..=90.0).contains(&least) {
        return DEGREES
            .into_iter()
            .chain(decimal.filter(|s| *s > 180.0))
            .filter(|s| *s >= least * 0.5)
            .collect();
    }
    decimal.filter(|s| *s >= least * 0.5).collect()
}

/// Decimals needed to write multiples of `step`.
fn decimals(step: f64) -> usize {
    (-(step.log10() + 1e-9).floor()).clamp(0.0, 9.0) as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn exact_known_ranges() {
        let t = nice_ticks(0.0, 10.0, 6, Steps::Decimal);
        assert_eq!((t.values, t.decimals), (vec![0.0, 2.0, 4.0, 6.0, 8.0, 10.0], 0));
        let t = nice_ticks(-0.3, 0.3, 7, Steps::Decimal);
        assert_eq!(t.decimals, 1);
        assert_eq!(t.values.len(), 7);
        assert_eq!(t.values[3], 0.0);
        assert!(t.values[3].is_sign_positive());
        let t = nice_ticks(60.0, 300.0, 9, Steps::Degrees);
        assert_eq!(t.step, 30.0);
        assert_eq!(t.values.len(), 9);
    }

    #[test]
    fn refuses_empty_ranges() {
        for (a, b) in [(1.0, 1.0), (2.0, 1.0), (f64::NAN, 1.0), (0.0, f64::INFINITY)] {
            assert!(nice_ticks(a, b, 5, Steps::Decimal).values.is_empty());
        }
    }

    proptest! {
        #[test]
        fn exact_ticks_are_inside_rising_and_not_too_many(
            low in -1e6..1e6f64, span in 1e-3..1e6f64, most in 3usize..12, degrees: bool
        ) {
            let steps = if degrees { Steps::Degrees } else { Steps::Decimal };
            let t = nice_ticks(low, low + span, most, steps);
            prop_assert!(!t.values.is_empty() && t.values.len() <= most);
            prop_assert!(t.values.windows(2).all(|w| w[0] < w[1]));
            let slack = t.step * 1e-6;
            prop_assert!(t.values.iter().all(|v| *v >= low - slack && *v <= low + span + slack));
        }
    }
}
