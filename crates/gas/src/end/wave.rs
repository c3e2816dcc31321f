//! The wave that runs into the duct when the pressure at its end is changed, exact for a calorically perfect gas.

use crate::duct::EndState;

/// Gas at the end of a duct in one lane; velocity is positive into the duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Near {
    /// kg/m³
    pub density: f64,
    /// m/s, positive into the duct
    pub velocity_in: f64,
    /// Pa
    pub pressure: f64,
    /// ratio of specific heats
    pub gamma: f64,
    /// m/s
    pub sound: f64,
}

/// Behind the wave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Behind {
    /// m/s, positive into the duct
    pub velocity_in: f64,
    /// Density of the duct's own gas behind the wave, kg/m³.
    pub density: f64,
    /// Velocity by the logarithm of pressure, m/s.
    pub slope: f64,
}

impl Near {
    /// The state behind the wave when the end is at `pressure`, Pa: a rarefaction below the duct's own pressure, a
    /// shock above it (Toro 2009, equations 4.6 to 4.9).
    #[inline]
    pub fn behind(&self, pressure: f64) -> Behind {
        let (g, a) = (self.gamma, self.sound);
        let ratio = pressure / self.pressure;
        if ratio <= 1.0 {
            let (lower, density) = (ratio.powf((g - 1.0) / (2.0 * g)), ratio.powf(1.0 / g));
            let velocity_in = self.velocity_in + 2.0 * a / (g - 1.0) * (lower - 1.0);
            Behind { velocity_in, density: self.density * density, slope: a / g * lower }
        } else {
            let b = (g - 1.0) / (g + 1.0);
            let root = (2.0 / ((g + 1.0) * self.density * self.pressure * (ratio + b))).sqrt();
            let rise = pressure - self.pressure;
            let slope = pressure * root * (1.0 - 0.5 * (ratio - 1.0) / (ratio + b));
            let density = self.density * (ratio + b) / (b * ratio + 1.0);
            Behind { velocity_in: self.velocity_in + rise * root, density, slope }
        }
    }

    /// The same by `log`, the logarithm of pressure over the duct's own: velocity, its slope by `log`, and density.
    #[inline]
    pub(crate) fn behind_log(&self, log: f64) -> Behind {
        let (g, a) = (self.gamma, self.sound);
        if log <= 0.0 {
            let lower = (0.5 * (g - 1.0) / g * log).exp();
            let velocity_in = self.velocity_in + 2.0 * a / (g - 1.0) * (lower - 1.0);
            // Density goes with the pressure over the square of the speed of sound.
            let density = self.density * log.exp() / (lower * lower);
            Behind { velocity_in, density, slope: a / g * lower }
        } else {
            self.behind(self.pressure * log.exp())
        }
    }

    /// Pressure at which the end gas moves at `velocity_in`, m/s: the wave curve read the other way.
    #[inline]
    pub fn pressure_at(&self, velocity_in: f64) -> f64 {
        let (g, a) = (self.gamma, self.sound);
        let faster = velocity_in - self.velocity_in;
        if faster <= 0.0 {
            let lower = (1.0 + 0.5 * (g - 1.0) * faster / a).max(0.0);
            self.pressure * lower.powf(2.0 * g / (g - 1.0))
        } else {
            let quarter = 0.25 * (g + 1.0) * faster;
            self.pressure + self.density * faster * (quarter + (quarter * quarter + a * a).sqrt())
        }
    }

    /// One lane of a duct's end.
    #[inline]
    pub fn of<const L: usize>(end: &EndState<L>, lane: usize) -> Self {
        Self {
            density: end.density[lane],
            velocity_in: end.velocity_in[lane],
            pressure: end.pressure[lane],
            gamma: end.gamma[lane],
            sound: end.sound[lane],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_slopes_are_those_of_the_curve() {
        let near = Near {
            density: 1.2,
            velocity_in: -20.0,
            pressure: 1e5,
            gamma: 1.37,
            sound: (1.37 * 1e5 / 1.2f64).sqrt(),
        };
        for ratio in [0.3, 0.8, 0.999, 1.001, 1.5, 6.0] {
            let at = |ratio: f64| near.behind(ratio * near.pressure).velocity_in;
            let measured = (at(ratio * 1.0001) - at(ratio / 1.0001)) / (2.0 * 1.0001f64.ln());
            let slope = near.behind(ratio * near.pressure).slope;
            assert!((slope / measured - 1.0).abs() < 1e-4, "{ratio}: {slope} {measured}");
            let back = near.pressure_at(at(ratio)) / near.pressure;
            assert!((back / ratio - 1.0).abs() < 1e-12, "{ratio}: {back}");
        }
    }
}
