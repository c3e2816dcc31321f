//! A wire in a sheath: capstan friction, stretch along a bent run, stiffness of rope and of parts in series.

/// Ratio of the tension at the leading end to that at the trailing end of a wire drawn round bends: e^x (capstan
/// equation). `friction_exponent` = friction coefficient · sum of the magnitudes of all bends in rad, never negative.
/// The radius of the bends does not enter. Source: T. Bevan, *The Theory of Machines*, ch. on belts and ropes.
pub fn capstan_ratio(friction_exponent: f64) -> f64 {
    friction_exponent.exp()
}

/// Stretch in m of a wire of end-to-end stiffness `stiffness_n_per_m` drawn by `leading_tension_n` round bends, the
/// tension falling exponentially from the leading end: T·(1 − e^−x)/(x·k). For x = 0 it is T/k.
pub fn distributed_stretch_m(leading_tension_n: f64, stiffness_n_per_m: f64, friction_exponent: f64) -> f64 {
    leading_tension_n / stiffness_n_per_m * mean_of_exponential(-friction_exponent)
}

/// Mean of e^y taken from 0 to `y`: (e^y − 1)/y, and 1 at y = 0. It turns an end tension into the mean tension of the
/// run; `y` is positive when that end trails, negative when it leads.
pub(crate) fn mean_of_exponential(y: f64) -> f64 {
    if y == 0.0 { 1.0 } else { y.exp_m1() / y }
}

/// Stiffness in N/m of a wire or rope: modulus (Pa) · metallic area (m²) / length (m). For a rope the modulus is the
/// rope's, about 60 to 85 GPa, not that of solid steel; the stretch of a new rope as it beds in comes on top.
pub fn wire_stiffness_n_per_m(modulus_pa: f64, area_m2: f64, length_m: f64) -> f64 {
    modulus_pa * area_m2 / length_m
}

/// Stiffness in N/m of two parts that carry the same load one after the other.
pub fn series_stiffness_n_per_m(first_n_per_m: f64, second_n_per_m: f64) -> f64 {
    1.0 / (compliance(first_n_per_m) + compliance(second_n_per_m))
}

/// Compliance, m/N. A stiffness of zero or less carries nothing, so its compliance is infinite.
pub(crate) fn compliance(stiffness_n_per_m: f64) -> f64 {
    if stiffness_n_per_m <= 0.0 { f64::INFINITY } else { 1.0 / stiffness_n_per_m }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_straight_run_stretches_as_a_plain_spring() {
        assert_eq!(distributed_stretch_m(80.0, 100e3, 0.0), 80.0 / 100e3);
        // The limit must be met without cancellation: first-order term of the series is 1 - x/2.
        let nearly = distributed_stretch_m(80.0, 100e3, 1e-9) / (80.0 / 100e3);
        assert!((nearly - (1.0 - 0.5e-9)).abs() < 1e-15);
    }

    #[test]
    fn converges_to_the_integral_of_the_tension_along_the_sheath() {
        // Midpoint sum of T(s)/k over the run: second order, so ten times the pieces gives a hundredth of the error.
        let (tension, stiffness, x) = (80.0, 120e3, 0.7_f64);
        let sum = |pieces: u32| -> f64 {
            let h = 1.0 / f64::from(pieces);
            (0..pieces).map(|i| tension * (-x * (f64::from(i) + 0.5) * h).exp() * h / stiffness).sum()
        };
        let exact = distributed_stretch_m(tension, stiffness, x);
        let (coarse, fine) = ((sum(10) - exact).abs(), (sum(100) - exact).abs());
        assert!(fine < coarse / 95.0 && coarse / exact < 1e-3, "coarse {coarse:e} fine {fine:e}");
    }

    #[test]
    fn exact_series_of_equal_parts_is_half_as_stiff() {
        assert_eq!(series_stiffness_n_per_m(50.0, 50.0), 25.0);
        assert_eq!(series_stiffness_n_per_m(50.0, 0.0), 0.0);
        assert_eq!(series_stiffness_n_per_m(50.0, f64::INFINITY), 50.0);
    }
}
