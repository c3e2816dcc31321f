//! The steady duct flow through one cell's state, followed to places of other area.
//!
//! In a tapered duct what is limited and advanced is the deviation from this flow, so that it is kept exactly.
//! With `x = ln(density / own density)` steady isentropic flow has `dx/d ln A = m / (1 - m)`, `m` the Mach number
//! squared; three terms of the series in `ln A` are kept. Near and above the speed of sound `x` fades to zero, which is
//! flow of constant `u A`, density and pressure; `imbalance` is what such a flow lacks to be steady.

use super::limit::limited_half;
use super::vector::Vector;
use std::ops::{Add, Sub};

/// Flow at one place: density kg/m³, velocity m/s, pressure Pa, energy ratio, mass fractions.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flow<V> {
    pub(crate) density: V,
    pub(crate) velocity: V,
    pub(crate) pressure: V,
    pub(crate) ratio: V,
    pub(crate) y: [V; 2],
}

macro_rules! part_by_part {
    ($trait:ident, $name:ident) => {
        impl<V: Vector> $trait for Flow<V> {
            type Output = Self;
            // Not by a closure: those are not certain to be inlined, and code outside the kernel's functions is slow.
            #[inline(always)]
            fn $name(self, other: Self) -> Self {
                Self {
                    density: self.density.$name(other.density),
                    velocity: self.velocity.$name(other.velocity),
                    pressure: self.pressure.$name(other.pressure),
                    ratio: self.ratio.$name(other.ratio),
                    y: [self.y[0].$name(other.y[0]), self.y[1].$name(other.y[1])],
                }
            }
        }
    };
}
part_by_part!(Add, add);
part_by_part!(Sub, sub);

impl<V: Vector> Flow<V> {
    /// Half of the limited difference of each part.
    #[inline(always)]
    pub(crate) fn limited_half(self, after: Self) -> Self {
        Self {
            density: limited_half(self.density, after.density),
            velocity: limited_half(self.velocity, after.velocity),
            pressure: limited_half(self.pressure, after.pressure),
            ratio: limited_half(self.ratio, after.ratio),
            y: [limited_half(self.y[0], after.y[0]), limited_half(self.y[1], after.y[1])],
        }
    }
}

/// Steady flow through one state.
pub(crate) struct Steady<V> {
    own: Flow<V>,
    gamma: V,
    /// x by ln A: first, half the second and a sixth of the third derivative.
    first: V,
    second: V,
    third: V,
    ratio_slope: V,
    /// Acceleration over d ln A / dx that balances the flow assumed, m²/s².
    pub(crate) imbalance: V,
}

/// Below the first Mach number squared the steady flow is followed in full, above the second not at all.
const FADE: [f64; 2] = [0.5, 0.8];

impl<V: Vector> Steady<V> {
    #[inline(always)]
    pub(crate) fn through(own: Flow<V>, gamma: V, sound: V) -> Self {
        let one = V::of(1.0);
        let (a2, u2) = (sound * sound, own.velocity * own.velocity);
        let m = (u2 / a2).least(V::of(FADE[1]));
        let fade = ((V::of(FADE[1]) - m) * V::of(1.0 / (FADE[1] - FADE[0]))).least(one);
        let inverse = one / (one - m);
        let first = fade * m * inverse;
        let growth = (V::of(0.5) * (gamma - one)).fused(m, one);
        let cube = inverse * inverse * inverse;
        let second = -(fade * m * growth * cube);
        let half = V::of(0.5) * (gamma - one);
        let bend = m.fused((half + one).fused(V::of(2.0), half * m), one);
        let third = V::of(-2.0 / 3.0) * second * inverse * inverse * bend;
        let imbalance = (u2 - a2).fused(first, u2);
        let ratio_slope = (one - gamma).fused(own.ratio, one);
        Self { own, gamma, first, second, third, ratio_slope, imbalance }
    }

    /// The flow where ln(area / own area) is `log_area`, own area over area `ratio`.
    #[inline(always)]
    pub(crate) fn at(&self, log_area: f64, ratio: f64) -> Flow<V> {
        let log_area = V::of(log_area);
        let x = log_area * self.third.fused(log_area, self.second).fused(log_area, self.first);
        let x = x.least(V::of(0.5)).most(V::of(-0.5));
        Flow {
            density: self.own.density * exp_near_zero(x),
            velocity: self.own.velocity * V::of(ratio) * exp_near_zero(-x),
            pressure: self.own.pressure * exp_near_zero(self.gamma * x),
            ratio: self.ratio_slope.fused(x, self.own.ratio),
            y: self.own.y,
        }
    }
}

#[inline(always)]
fn exp_near_zero<V: Vector>(x: V) -> V {
    let one = V::of(1.0);
    x.fused(V::of(1.0 / 24.0), V::of(1.0 / 6.0)).fused(x, V::of(0.5)).fused(x, one).fused(x, one)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_follows_isentropic_flow_of_changing_area() {
        let gamma = 1.4;
        let own = Flow { density: 1.2, velocity: 120.0, pressure: 1e5, ratio: 2.5, y: [0.0; 2] };
        let sound = (gamma * own.pressure / own.density).sqrt();
        let steady = Steady::through(own, gamma, sound);
        assert!(steady.imbalance.abs() < 1e-9);
        let total = |flow: &Flow<f64>| {
            gamma / (gamma - 1.0) * flow.pressure / flow.density + 0.5 * flow.velocity * flow.velocity
        };
        let off = |log_area: f64| total(&steady.at(log_area, (-log_area).exp())) / total(&own) - 1.0;
        // The series leaves out the fourth order.
        assert!((off(0.04) / off(0.02) - 16.0).abs() < 2.0, "{}", off(0.04) / off(0.02));
        for log_area in [-0.05f64, 0.05] {
            let there = steady.at(log_area, (-log_area).exp());
            let mass = there.density * there.velocity * log_area.exp() / (own.density * own.velocity) - 1.0;
            assert!(mass.abs() < 1e-10, "mass off by {mass}");
            assert!(off(log_area).abs() < 2e-6, "total enthalpy off by {}", off(log_area));
        }
    }

    #[test]
    fn exact_sonic_flow_keeps_pressure_and_says_what_is_missing() {
        let own = Flow { density: 1.2, velocity: 400.0, pressure: 1e5, ratio: 2.5, y: [0.0; 2] };
        let steady = Steady::through(own, 1.4, (1.4f64 * 1e5 / 1.2).sqrt());
        let there = steady.at(0.1, (-0.1f64).exp());
        assert_eq!((there.density, there.pressure), (1.2, 1e5));
        assert_eq!(steady.imbalance, 160_000.0);
    }
}
