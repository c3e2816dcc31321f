//! How the charge burns by crank angle.

use std::f64::consts::TAU;

/// Wiebe's function: burned share 1 - exp(-a zᵐ⁺¹), z from 0 at the start to 1 at the end, divided by its value at
/// z = 1 so that all burns.
///
/// Wiebe, I. I.: Brennverlauf und Kreisprozess von Verbrennungsmotoren, VEB Verlag Technik, Berlin 1970; a = 5 and
/// m = 2 for spark ignition: Heywood, J. B., Internal Combustion Engine Fundamentals, 1988, equation (9.27) (recalled).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wiebe {
    /// Start of burning, rad after top dead centre (negative before it).
    pub start_rad: f64,
    /// From start to end, rad, above zero.
    pub duration_rad: f64,
    /// Completeness: 5 leaves 0.7 % unburned before the division.
    pub a: f64,
    /// Form: 2 for spark ignition; lower burns earlier.
    pub m: f64,
}

impl Wiebe {
    /// Burned share before the division, at the share `z` of the duration that has gone by (0 to 1).
    pub fn plain_share(a: f64, m: f64, z: f64) -> f64 {
        -libm::expm1(-a * libm::pow(z, m + 1.0))
    }

    /// Slope of [`Self::plain_share`] by z.
    pub fn plain_rate(a: f64, m: f64, z: f64) -> f64 {
        let power = libm::pow(z, m);
        a * (m + 1.0) * power * libm::exp(-a * power * z)
    }

    /// Burned share, 0 to 1, at a crank angle in rad after the top dead centre that `start_rad` is counted from.
    pub fn burned_share(&self, angle_rad: f64) -> f64 {
        let z = ((angle_rad - self.start_rad) / self.duration_rad).clamp(0.0, 1.0);
        Self::plain_share(self.a, self.m, z) / Self::plain_share(self.a, self.m, 1.0)
    }

    /// Share that burns between two crank angles, rad as above: what a step of a cycle adds, without an integral.
    pub fn burned_between(&self, from_rad: f64, to_rad: f64) -> f64 {
        self.burned_share(to_rad) - self.burned_share(from_rad)
    }
}

/// How start and duration of burning follow from speed and charge.
///
/// The power laws have the form of Csallner, P.: Eine Methode zur Vorausberechnung der Änderung des Brennverlaufs von
/// Ottomotoren bei geänderten Betriebsbedingungen, dissertation, Munich 1981 (form recalled); the exponents here are
/// estimates for small two-strokes: no measured burn law of one could be had.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BurnLaw {
    /// Completeness, as in [`Wiebe`].
    pub a: f64,
    /// Form, as in [`Wiebe`].
    pub m: f64,
    /// Delay from spark to start of burning, rad, at the reference.
    pub delay_rad: f64,
    /// Duration of burning, rad, at the reference.
    pub duration_rad: f64,
    /// Reference speed, rad/s.
    pub reference_rad_s: f64,
    /// Delay and duration grow with speed to this power; 0: the same angle at all speeds; 1: the same time.
    pub speed_power: f64,
    /// Delay and duration grow by this share for each unit of burned gas share above the reference.
    pub residual_slope: f64,
    /// Burned gas share of the trapped charge at the reference.
    pub reference_residual: f64,
}

impl BurnLaw {
    /// Stated estimate (no source): 50° from start to end and 8° of delay at 10 000 rpm, growing with the 0.3 power of
    /// speed and with burned gas.
    pub fn estimate() -> Self {
        Self {
            a: 5.0,
            m: 2.0,
            delay_rad: 8f64.to_radians(),
            duration_rad: 50f64.to_radians(),
            reference_rad_s: 10_000.0 * TAU / 60.0,
            speed_power: 0.3,
            residual_slope: 1.5,
            reference_residual: 0.15,
        }
    }

    /// The burning after a spark at an angle before top dead centre, rad, at a speed (rad/s) and a burned gas share of
    /// the trapped charge (0 to 1). Delay and duration are held within a third and three times the reference.
    pub fn burning(&self, spark_before_tdc_rad: f64, speed_rad_s: f64, residual: f64) -> Wiebe {
        let by_speed = libm::pow((speed_rad_s / self.reference_rad_s).max(1e-3), self.speed_power);
        let by_residual = 1.0 + self.residual_slope * (residual - self.reference_residual);
        let longer = (by_speed * by_residual).clamp(1.0 / 3.0, 3.0);
        Wiebe {
            start_rad: -spark_before_tdc_rad + self.delay_rad * longer,
            duration_rad: self.duration_rad * longer,
            a: self.a,
            m: self.m,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conserves_all_of_the_charge_burns_however_it_is_stepped() {
        let wiebe = BurnLaw::estimate().burning(0.35, 900.0, 0.2);
        let sum: f64 = (0..400)
            .map(|i| wiebe.burned_between(-1.0 + 0.01 * f64::from(i), -1.0 + 0.01 * f64::from(i + 1)))
            .sum();
        assert!((sum - 1.0).abs() < 1e-12);
    }

    #[test]
    fn agrees_rate_is_the_slope() {
        for z in [0.1, 0.4, 0.9] {
            let h = 1e-6;
            let slope =
                (Wiebe::plain_share(5.0, 2.0, z + h) - Wiebe::plain_share(5.0, 2.0, z - h)) / (2.0 * h);
            assert!((slope / Wiebe::plain_rate(5.0, 2.0, z) - 1.0).abs() < 1e-8);
        }
    }

    #[test]
    fn exact_the_reference_gives_the_reference() {
        let law = BurnLaw::estimate();
        let wiebe = law.burning(0.3, law.reference_rad_s, law.reference_residual);
        assert!((wiebe.start_rad - (law.delay_rad - 0.3)).abs() < 1e-15);
        assert!((wiebe.duration_rad - law.duration_rad).abs() < 1e-15);
        let faster = law.burning(0.3, 2.0 * law.reference_rad_s, law.reference_residual);
        assert!((faster.duration_rad / law.duration_rad - 2f64.powf(0.3)).abs() < 1e-12);
    }
}
