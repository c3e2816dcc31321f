//! Fresh and burned gas in the cylinder while it is scavenged: one pressure, a temperature each.
//!
//! The curve of a scavenging model goes by volume (the rigs that measure it work cold), so what leaves is mixed by volume
//! too. The cylinder's enthalpy is one sum; how it is shared follows from the fresh gas, whose temperature is that with
//! which it came in, changed with the pressure as without heat; the burned gas has the rest. In perfect mixing what
//! leaves is the mean of both, whatever the sharing.

use crate::duct::{Caloric, Row, Vector, pick};
use crate::end::Reservoir;
use crate::vessel::Scavenging;

/// (γ - 1)/γ of fresh charge, by which its temperature follows the pressure.
const KAPPA: f64 = 0.275;
const REFERENCE_PA: f64 = 1e5;
/// Below this share of mass a gas has the mean temperature: it is too little to tell.
const TOO_LITTLE: f64 = 2e-3;
/// Below this share of volume the burned gas is thinned out whatever the model says, so that no step takes more of it than
/// there is.
const LAST: f64 = 0.06;
/// Burned gas is never taken as hotter, K.
const HOTTEST_K: f64 = 2500.0;

/// Temperature of the fresh gas in each lane, brought to 1 bar without heat, K.
#[derive(Debug, Clone)]
pub(crate) struct Zones<const L: usize> {
    potential_k: Row<L>,
}

/// Temperatures of fresh and burned gas, K.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Temperatures {
    fresh_k: f64,
    burned_k: f64,
}

impl<const L: usize> Zones<L> {
    pub(crate) const NEW: Self = Self { potential_k: [300.0; L] };

    /// Some lanes of it.
    pub(crate) fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Zones<M> {
        Zones { potential_k: pick(&self.potential_k, lanes) }
    }

    /// Temperature of the fresh gas brought to 1 bar, K.
    pub(crate) fn potential_k(&self, lane: usize) -> f64 {
        self.potential_k[lane]
    }

    /// Takes it up again.
    pub(crate) fn set_potential_k(&mut self, lane: usize, potential_k: f64) {
        self.potential_k[lane] = potential_k;
    }

    /// All of the gas at one temperature: when the exhaust opens.
    pub(crate) fn merge(&mut self, lane: usize, temperature_k: f64, pressure_pa: f64) {
        self.potential_k[lane] = potential_k(temperature_k, pressure_pa);
    }

    /// Fresh gas (kg) comes to what is there (kg) with a temperature (K), the cylinder being at a pressure (Pa).
    pub(crate) fn admit(
        &mut self,
        lane: usize,
        there_kg: f64,
        more_kg: f64,
        temperature_k: f64,
        pressure_pa: f64,
    ) {
        if more_kg > 0.0 {
            let share = more_kg / (more_kg + there_kg.max(0.0));
            let before = self.potential_k[lane];
            self.potential_k[lane] = before + share * (potential_k(temperature_k, pressure_pa) - before);
        }
    }

    /// The gas that leaves a cylinder in which the gas is `inside` on the whole.
    pub(crate) fn leaving(
        &self,
        gas: &Caloric,
        lane: usize,
        model: &Scavenging,
        inside: &Reservoir,
    ) -> Reservoir {
        let y = inside.y;
        let purity = (1.0 - y[1]).clamp(0.0, 1.0);
        // All burned, or by rounding less than nothing of it.
        if purity < TOO_LITTLE || y[1] <= 0.0 {
            return *inside;
        }
        let fuel = y[0] / purity;
        let Temperatures { fresh_k, burned_k } = self.temperatures(gas, lane, inside, purity, fuel);
        let (fresh_y, burned_y) = ([fuel, 0.0], [0.0, 1.0]);
        // Volumes by mass at one pressure.
        let (fresh_v, burned_v) = (gas.r(fresh_y) * fresh_k, gas.r(burned_y) * burned_k);
        let by_volume = purity * fresh_v / (purity * fresh_v + (1.0 - purity) * burned_v);
        let leaves = model.exhaust_purity(by_volume).max(1.0 - (1.0 - by_volume) / LAST);
        let share = leaves * burned_v / (leaves * burned_v + (1.0 - leaves) * fresh_v);
        let y = [fuel * share, 1.0 - share];
        let enthalpy_j_kg =
            share * gas.enthalpy(fresh_k, fresh_y) + (1.0 - share) * gas.enthalpy(burned_k, burned_y);
        let temperature_k = at_enthalpy_k(gas, enthalpy_j_kg, y, share * fresh_k + (1.0 - share) * burned_k);
        Reservoir {
            pressure_pa: inside.pressure_pa,
            temperature_k,
            r_j_kg_k: gas.r(y),
            gamma: gas.gamma(temperature_k, y),
            enthalpy_j_kg,
            y,
        }
    }

    fn temperatures(
        &self,
        gas: &Caloric,
        lane: usize,
        inside: &Reservoir,
        purity: f64,
        fuel: f64,
    ) -> Temperatures {
        let mean_k = inside.temperature_k;
        let fresh_k = self.potential_k[lane] * power(inside.pressure_pa / REFERENCE_PA);
        let burned = 1.0 - purity;
        if fresh_k >= mean_k || burned < TOO_LITTLE {
            return Temperatures { fresh_k: mean_k, burned_k: mean_k };
        }
        let left = (inside.enthalpy_j_kg - purity * gas.enthalpy(fresh_k, [fuel, 0.0])) / burned;
        let guess_k = (mean_k - purity * fresh_k) / burned;
        let burned_k = at_enthalpy_k(gas, left, [0.0, 1.0], guess_k.clamp(mean_k, HOTTEST_K));
        Temperatures { fresh_k, burned_k: burned_k.clamp(mean_k, HOTTEST_K) }
    }
}

/// To the power of [`KAPPA`].
fn power(ratio: f64) -> f64 {
    Vector::exp(KAPPA * Vector::ln(ratio))
}

fn potential_k(temperature_k: f64, pressure_pa: f64) -> f64 {
    temperature_k * power(REFERENCE_PA / pressure_pa)
}

/// Temperature, K, with an enthalpy, from a near guess.
fn at_enthalpy_k(gas: &Caloric, enthalpy_j_kg: f64, y: [f64; 2], guess_k: f64) -> f64 {
    let r = gas.r(y);
    let mut t_k = guess_k;
    for _ in 0..2 {
        let (energy, cv) = gas.energy_and_cv(t_k, y);
        t_k += (enthalpy_j_kg - energy - r * t_k) / (cv + r);
    }
    t_k
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::{Air, Gas};

    fn inside(gas: &Caloric, temperature_k: f64, y: [f64; 2]) -> Reservoir {
        Reservoir {
            pressure_pa: 1.2e5,
            temperature_k,
            r_j_kg_k: gas.r(y),
            gamma: gas.gamma(temperature_k, y),
            enthalpy_j_kg: gas.enthalpy(temperature_k, y),
            y,
        }
    }

    #[test]
    fn exact_perfect_mixing_leaves_the_mean() {
        let gas = Caloric::from(&Gas::petrol(Air::DRY, 1.1).unwrap());
        let mut zones = Zones::<1>::NEW;
        zones.merge(0, 340.0, 1.2e5);
        let inside = inside(&gas, 600.0, [0.04, 0.4]);
        let out = zones.leaving(&gas, 0, &Scavenging::PerfectMixing, &inside);
        assert!((out.y[1] - 0.4).abs() < 1e-12 && (out.y[0] - 0.04).abs() < 1e-12);
        assert!((out.enthalpy_j_kg / inside.enthalpy_j_kg - 1.0).abs() < 1e-6);
        assert!((out.temperature_k - 600.0).abs() < 1e-3);
    }

    #[test]
    fn exact_displacement_leaves_hot_burned_gas_alone() {
        let gas = Caloric::from(&Gas::petrol(Air::DRY, 1.1).unwrap());
        let mut zones = Zones::<1>::NEW;
        zones.merge(0, 340.0, 1.2e5);
        let inside = inside(&gas, 600.0, [0.03, 0.5]);
        let out = zones.leaving(&gas, 0, &Scavenging::PerfectDisplacement, &inside);
        assert_eq!(out.y, [0.0, 1.0]);
        // Heat capacities are not equal, so only nearly the mean of 340 K and this.
        assert!((out.temperature_k - 840.0).abs() < 30.0, "{}", out.temperature_k);
    }

    #[test]
    fn exact_the_last_burned_gas_is_thinned_out() {
        let gas = Caloric::from(&Gas::petrol(Air::DRY, 1.1).unwrap());
        let mut zones = Zones::<1>::NEW;
        zones.merge(0, 340.0, 1.2e5);
        let inside = inside(&gas, 341.0, [0.06, 0.001]);
        let out = zones.leaving(&gas, 0, &Scavenging::PerfectDisplacement, &inside);
        assert!(out.y[1] > 0.01 && out.y[1] < 0.03, "{:?}", out.y);
    }

    #[test]
    fn exact_fresh_gas_keeps_the_mean_of_what_came() {
        let mut zones = Zones::<1>::NEW;
        zones.merge(0, 500.0, 1e5);
        zones.admit(0, 1e-5, 3e-5, 300.0, 1e5);
        assert!((zones.potential_k[0] - 350.0).abs() < 1e-12);
    }
}
