//! Flow into a duct whose jet mixes at constant momentum: the sudden expansion, for several lanes at once.

use super::solve::{Miss, Own};
use crate::duct::Vector;

/// By the log of the throat's pressure over the outside's.
pub(super) struct Recovering<'a, V> {
    pub(super) own: &'a Own<V>,
    pub(super) p0: V,
    /// (gamma - 1)/gamma, 1/gamma
    pub(super) kappa: V,
    pub(super) per_gamma: V,
    /// Specific heat at constant pressure times temperature, J/kg.
    pub(super) cp_t: V,
    /// Mass flux by duct area over what the throat's pressure ratio makes of it, kg/(m² s).
    pub(super) flow: V,
    /// 2 (gamma + 1)/(gamma - 1) cp T
    pub(super) spread: V,
}

/// The duct's end behind the expansion.
pub(super) struct Mixed<V> {
    pub(super) mass: V,
    pub(super) velocity: V,
    pub(super) pressure: V,
    /// By the log of the throat's pressure: of the velocity over itself, and of the pressure.
    velocity_slope: V,
    pressure_slope: V,
}

impl<V: Vector> Recovering<'_, V> {
    /// Mass, momentum and energy from the throat to the whole duct; the subsonic root.
    #[inline(always)]
    pub(super) fn mixed(&self, log: V) -> Mixed<V> {
        let (one, half, two) = (V::of(1.0), V::of(0.5), V::of(2.0));
        let (ratio, colder) = (log.exp(), (self.kappa * log).exp());
        // Kept off zero: the flow stops with the root of it.
        let fall = (one - colder).most(V::of(1e-300));
        let mass = self.flow * ratio / colder * fall.sqrt();
        // Slope over itself.
        let mass_slope = self.per_gamma - half * self.kappa * colder / fall;
        let jet = (two * self.cp_t * fall).sqrt();
        let jet_slope = -(self.kappa * self.cp_t * colder) / jet;
        let throat = self.p0 * ratio;
        let impulse = mass.fused(jet, throat);
        let impulse_slope = mass * (mass_slope * jet + jet_slope) + throat;
        let (b, b_slope) = (impulse / self.kappa, impulse_slope / self.kappa);
        let rest = (b * b - self.spread * mass * mass).most(V::of(0.0)).sqrt();
        let rest_slope = (b * b_slope - self.spread * mass * mass * mass_slope) / rest.most(V::of(1e-300));
        let velocity = two * self.cp_t * mass / (b + rest);
        let velocity_slope = mass_slope - (b_slope + rest_slope) / (b + rest);
        Mixed {
            mass,
            velocity,
            pressure: impulse - mass * velocity,
            velocity_slope,
            pressure_slope: impulse_slope - mass * velocity * (mass_slope + velocity_slope),
        }
    }
}

impl<V: Vector> Miss<V> for Recovering<'_, V> {
    /// Squares of velocity: they stay smooth where the flow stops.
    #[inline(always)]
    fn at(&self, log: V) -> (V, V) {
        let two = V::of(2.0);
        let mixed = self.mixed(log);
        let ratio = mixed.pressure / self.own.pressure;
        let wave = self.own.after(ratio.ln(), ratio);
        let size = wave.velocity_in.abs();
        let wave_slope = wave.slope * mixed.pressure_slope / mixed.pressure;
        let square = mixed.velocity * mixed.velocity;
        (size * wave.velocity_in - square, two * (size * wave_slope - square * mixed.velocity_slope))
    }
}
