//! Distribution functions: the normal, Student's t for few degrees of freedom, and chi-squared.

use libm::{erfc, lgamma};
use std::f64::consts::SQRT_2;

/// Probability that a standard normal variable lies below `z`; relative accuracy near round-off, tails included.
pub fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

/// Probability that a t variable with `degrees_of_freedom` (> 0, may be infinite) lies within ± `t`.
pub fn student_within(t: f64, degrees_of_freedom: f64) -> f64 {
    1.0 - student_outside(t, degrees_of_freedom)
}

fn student_outside(t: f64, degrees_of_freedom: f64) -> f64 {
    if degrees_of_freedom.is_infinite() {
        return erfc(t.abs() / SQRT_2);
    }
    let ratio = degrees_of_freedom / (degrees_of_freedom + t * t);
    incomplete_beta(degrees_of_freedom / 2.0, 0.5, ratio)
}

/// Coverage factor: the `t` for which ± `t` holds the share `coverage` (above 0, below 1) of the distribution.
///
/// Infinite degrees of freedom give the normal's factor (1.96 for 0.95). `None` outside the stated ranges.
pub fn coverage_factor(coverage: f64, degrees_of_freedom: f64) -> Option<f64> {
    let in_range = coverage > 0.0 && coverage < 1.0 && degrees_of_freedom > 0.0;
    if !in_range {
        return None;
    }
    let outside = 1.0 - coverage;
    let mut high = 1.0;
    while student_outside(high, degrees_of_freedom) > outside {
        high *= 2.0;
        if high > 1e100 {
            return None;
        }
    }
    let mut low = 0.0;
    // Bisection until the two ends are neighbours: 60 halvings and the doublings before them.
    for _ in 0..400 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if student_outside(middle, degrees_of_freedom) > outside {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

/// Regularised incomplete beta function I_x(a, b), 0 <= x <= 1.
///
/// Continued fraction of the Digital Library of Mathematical Functions, 8.17.22 (NIST, 2010), on the side where
/// it converges fast, evaluated by the modified Lentz method.
fn incomplete_beta(a: f64, b: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = (lgamma(a + b) - lgamma(a) - lgamma(b) + a * x.ln() + b * (-x).ln_1p()).exp();
    if x < (a + 1.0) / (a + b + 2.0) {
        front / a * beta_fraction(a, b, x)
    } else {
        1.0 - front / b * beta_fraction(b, a, 1.0 - x)
    }
}

fn beta_fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let away_from_zero = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut numerator = 1.0;
    let mut denominator = 1.0 / away_from_zero(1.0 - (a + b) * x / (a + 1.0));
    let mut fraction = denominator;
    for step in 1..1000 {
        let m = f64::from(step);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut change = 1.0;
        for coefficient in [even, odd] {
            denominator = 1.0 / away_from_zero(1.0 + coefficient * denominator);
            numerator = away_from_zero(1.0 + coefficient / numerator);
            change = numerator * denominator;
            fraction *= change;
        }
        if (change - 1.0).abs() < 1e-15 {
            break;
        }
    }
    fraction
}

/// Probability that chi-squared with `degrees_of_freedom` (above 0) lies above `value`; `None` for other arguments.
pub fn chi_squared_above(value: f64, degrees_of_freedom: f64) -> Option<f64> {
    let known = value >= 0.0 && degrees_of_freedom > 0.0 && degrees_of_freedom.is_finite();
    known.then(|| upper_gamma(0.5 * degrees_of_freedom, 0.5 * value))
}

/// Regularised upper incomplete gamma function Q(a, x), a > 0, x >= 0: the series of the Digital Library of
/// Mathematical Functions, 8.7.1, below a + 1, and its continued fraction 8.9.2 above (NIST, 2010).
fn upper_gamma(a: f64, x: f64) -> f64 {
    if x == 0.0 {
        return 1.0;
    }
    if x.is_infinite() {
        return 0.0;
    }
    let front = (a * x.ln() - x - lgamma(a)).exp();
    if x < a + 1.0 {
        let (mut term, mut sum, mut at) = (1.0 / a, 1.0 / a, a);
        while term > 1e-17 * sum {
            at += 1.0;
            term *= x / at;
            sum += term;
        }
        return 1.0 - front * sum;
    }
    const TINY: f64 = 1e-300;
    let mut b = x + 1.0 - a;
    let (mut c, mut d) = (1.0 / TINY, 1.0 / b);
    let mut fraction = d;
    for step in 1..100_000 {
        let i = f64::from(step);
        let numerator = -i * (i - a);
        b += 2.0;
        let away = |value: f64| if value.abs() < TINY { TINY } else { value };
        d = 1.0 / away(numerator * d + b);
        c = away(b + numerator / c);
        fraction *= c * d;
        if (c * d - 1.0).abs() < 1e-15 {
            break;
        }
    }
    front * fraction
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_one_degree_of_freedom_is_the_arctangent() {
        for t in [0.1f64, 1.0, 12.7, 500.0] {
            let exact = 2.0 / std::f64::consts::PI * t.atan();
            assert!((student_within(t, 1.0) - exact).abs() < 1e-13);
        }
        let factor = coverage_factor(0.95, 1.0).unwrap();
        assert!((factor - (0.475 * std::f64::consts::PI).tan()).abs() < 1e-9);
    }

    #[test]
    fn exact_two_degrees_of_freedom_are_algebraic() {
        for t in [0.1f64, 1.0, 4.3, 100.0] {
            assert!((student_within(t, 2.0) - t / (2.0 + t * t).sqrt()).abs() < 1e-13);
        }
    }

    #[test]
    fn agrees_many_degrees_of_freedom_with_the_normal() {
        for t in [0.5, 1.0, 2.0, 3.0] {
            let normal = normal_below(t) - normal_below(-t);
            assert!((student_within(t, f64::INFINITY) - normal).abs() < 1e-15);
            assert!((student_within(t, 1e7) - normal).abs() < 1e-6);
        }
    }

    #[test]
    fn exact_chi_squared_of_even_and_single_degrees_of_freedom() {
        for x in [0.0f64, 0.3, 2.0, 7.5, 40.0, 200.0] {
            let two = (-0.5 * x).exp();
            assert!((chi_squared_above(x, 2.0).unwrap() - two).abs() <= 1e-14 * two.max(1e-3));
            // Six: e^(-h) (1 + h + h²/2), h = x/2.
            let h = 0.5 * x;
            let six = two * (1.0 + h + 0.5 * h * h);
            assert!((chi_squared_above(x, 6.0).unwrap() - six).abs() <= 1e-12 * six + 1e-15);
            let one = erfc((0.5 * x).sqrt());
            assert!((chi_squared_above(x, 1.0).unwrap() - one).abs() <= 1e-12 * one + 1e-14);
        }
        assert_eq!(chi_squared_above(f64::INFINITY, 3.0), Some(0.0));
    }

    #[test]
    fn agrees_many_degrees_of_freedom_of_chi_squared_with_the_normal() {
        // Wilson and Hilferty's cube root is good to some 1e-4 here.
        let freedom = 5000.0f64;
        for x in [4800.0, 5000.0, 5200.0] {
            let part = 2.0 / (9.0 * freedom);
            let z = ((x / freedom).cbrt() - (1.0 - part)) / part.sqrt();
            assert!((chi_squared_above(x, freedom).unwrap() - normal_below(-z)).abs() < 1e-4);
        }
    }

    #[test]
    fn refuses_chi_squared_outside_its_range() {
        for (value, freedom) in [(-1.0, 2.0), (f64::NAN, 2.0), (1.0, 0.0), (1.0, f64::INFINITY)] {
            assert_eq!(chi_squared_above(value, freedom), None);
        }
    }

    #[test]
    fn refuses_coverage_outside_its_range() {
        for (coverage, freedom) in [(0.0, 5.0), (1.0, 5.0), (f64::NAN, 5.0), (0.95, 0.0), (0.95, f64::NAN)] {
            assert_eq!(coverage_factor(coverage, freedom), None);
        }
    }
}
