//! The steady duct flow through one cell's state, followed to places of other area.
//!
//! In a tapered duct what is limited and advanced is the deviation from this flow, so that it is kept exactly.
//! With `x = ln(density / own density)` steady isentropic flow has `dx/d ln A = m / (1 - m)`, `m` the Mach number
//! squared; two terms of the series in `ln A` are kept. Near and above the speed of sound `x` fades to zero, which is
//! flow of constant `u A`, density and pressure; `imbalance` is what such a flow lacks to be steady.

use super::caloric::fused;

/// Flow at one place: density kg/m³, velocity m/s, pressure Pa, energy ratio, mass fractions.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flow {
    pub(crate) density: f64,
    pub(crate) velocity: f64,
    pub(crate) pressure: f64,
    pub(crate) ratio: f64,
    pub(crate) y: [f64; 2],
}

impl Flow {
    #[inline(always)]
    pub(crate) fn map(&self, other: &Self, f: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            density: f(self.density, other.density),
            velocity: f(self.velocity, other.velocity),
            pressure: f(self.pressure, other.pressure),
            ratio: f(self.ratio, other.ratio),
            y: [f(self.y[0], other.y[0]), f(self.y[1], other.y[1])],
        }
    }
}

/// Steady flow through one state.
pub(crate) struct Steady {
    own: Flow,
    gamma: f64,
    /// x by ln A, first and half the second derivative
    first: f64,
    second: f64,
    ratio_slope: f64,
    /// Acceleration over d ln A / dx that balances the flow assumed, m²/s².
    pub(crate) imbalance: f64,
}

/// Below the first Mach number squared the steady flow is followed in full, above the second not at all.
const FADE: [f64; 2] = [0.5, 0.8];

impl Steady {
    #[inline(always)]
    pub(crate) fn through<const F: bool>(own: Flow, gamma: f64, sound: f64) -> Self {
        let (a2, u2) = (sound * sound, own.velocity * own.velocity);
        let m = u2 / a2;
        let m = if m < FADE[1] { m } else { FADE[1] };
        let fade = (FADE[1] - m) * (1.0 / (FADE[1] - FADE[0]));
        let fade = if fade < 1.0 { fade } else { 1.0 };
        let inverse = 1.0 / (1.0 - m);
        let first = fade * m * inverse;
        let growth = fused::<F>(0.5 * (gamma - 1.0), m, 1.0);
        let second = -fade * m * growth * inverse * inverse * inverse;
        let imbalance = fused::<F>(u2 - a2, first, u2);
        let ratio_slope = fused::<F>(1.0 - gamma, own.ratio, 1.0);
        Self { own, gamma, first, second, ratio_slope, imbalance }
    }

    /// The flow where ln(area / own area) is `log_area`, own area over area `ratio`.
    #[inline(always)]
    pub(crate) fn at<const F: bool>(&self, log_area: f64, ratio: f64) -> Flow {
        let x = log_area * fused::<F>(self.second, log_area, self.first);
        let x = if x < 0.5 { x } else { 0.5 };
        let x = if x > -0.5 { x } else { -0.5 };
        Flow {
            density: self.own.density * exp_near_zero::<F>(x),
            velocity: self.own.velocity * ratio * exp_near_zero::<F>(-x),
            pressure: self.own.pressure * exp_near_zero::<F>(self.gamma * x),
            ratio: fused::<F>(self.ratio_slope, x, self.own.ratio),
            y: self.own.y,
        }
    }
}

#[inline(always)]
fn exp_near_zero<const F: bool>(x: f64) -> f64 {
    let fourth = fused::<F>(x, 1.0 / 24.0, 1.0 / 6.0);
    fused::<F>(fused::<F>(fused::<F>(fourth, x, 0.5), x, 1.0), x, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_follows_isentropic_flow_of_changing_area() {
        let gamma = 1.4;
        let own = Flow { density: 1.2, velocity: 120.0, pressure: 1e5, ratio: 2.5, y: [0.0; 2] };
        let sound = (gamma * own.pressure / own.density).sqrt();
        let steady = Steady::through::<false>(own, gamma, sound);
        assert!(steady.imbalance.abs() < 1e-9);
        let total = |flow: &Flow| {
            gamma / (gamma - 1.0) * flow.pressure / flow.density + 0.5 * flow.velocity * flow.velocity
        };
        let off = |log_area: f64| total(&steady.at::<false>(log_area, (-log_area).exp())) / total(&own) - 1.0;
        // The series leaves out the third order.
        assert!((off(0.04) / off(0.02) - 8.0).abs() < 1.0, "{}", off(0.04) / off(0.02));
        for log_area in [-0.05f64, 0.05] {
            let there = steady.at::<false>(log_area, (-log_area).exp());
            let mass = there.density * there.velocity * log_area.exp() / (own.density * own.velocity) - 1.0;
            assert!(mass.abs() < 1e-10, "mass off by {mass}");
            assert!(off(log_area).abs() < 2e-5, "total enthalpy off by {}", off(log_area));
        }
    }

    #[test]
    fn exact_sonic_flow_keeps_pressure_and_says_what_is_missing() {
        let own = Flow { density: 1.2, velocity: 400.0, pressure: 1e5, ratio: 2.5, y: [0.0; 2] };
        let steady = Steady::through::<false>(own, 1.4, (1.4f64 * 1e5 / 1.2).sqrt());
        let there = steady.at::<false>(0.1, (-0.1f64).exp());
        assert_eq!((there.density, there.pressure), (1.2, 1e5));
        assert_eq!(steady.imbalance, 160_000.0);
    }
}
