//! Properties of one mixture, ready for a kernel.

use super::curve::{Curve, TERMS};

/// Heat capacity, energy and gas constant of a mixture whose shares are settled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixture {
    /// Heat capacity.
    pub curve: Curve,
    /// Gas constant, J/(kg K).
    pub r_j_kg_k: f64,
}

impl Mixture {
    /// `first` plus shares of the differences to two others: linear in mass, hence exact for ideal gases.
    #[inline(always)]
    pub(super) fn blended(parts: &[Self; 3], y: [f64; 2]) -> Self {
        let [air, fuel, burned] = parts;
        let of = |air: f64, fuel: f64, burned: f64| air + y[0] * (fuel - air) + y[1] * (burned - air);
        let mut terms = [0.0; TERMS];
        for (k, term) in terms.iter_mut().enumerate() {
            *term = of(air.curve.terms[k], fuel.curve.terms[k], burned.curve.terms[k]);
        }
        Self {
            curve: Curve {
                terms,
                at_joint_j_kg: of(
                    air.curve.at_joint_j_kg,
                    fuel.curve.at_joint_j_kg,
                    burned.curve.at_joint_j_kg,
                ),
            },
            r_j_kg_k: of(air.r_j_kg_k, fuel.r_j_kg_k, burned.r_j_kg_k),
        }
    }

    /// One Newton step from a temperature (K) towards the one with this internal energy (J/kg): the new temperature
    /// and the heat capacity at constant volume at the old one, J/(kg K).
    #[inline(always)]
    pub fn step_to_energy(&self, u_j_kg: f64, t_k: f64) -> (f64, f64) {
        let (here, cv) = self.curve.energy_and_cv(t_k);
        (t_k + (u_j_kg - here) / cv, cv)
    }

    /// Temperature, K, with this internal energy (J/kg above 298.15 K), by two Newton steps from a guess: for
    /// mixtures of an engine within 0.01 K from a guess 100 K off, and within 2e-7 K from one 5 K off. Not above zero when the energy is below
    /// that of any gas: the caller checks.
    #[inline(always)]
    pub fn temperature_k(&self, u_j_kg: f64, guess_k: f64) -> f64 {
        let (first_k, _) = self.step_to_energy(u_j_kg, guess_k);
        self.step_to_energy(u_j_kg, first_k).0
    }

    /// Temperature, K, with this internal energy, as closely as the numbers allow, from any guess above zero.
    pub fn temperature_settled_k(&self, u_j_kg: f64, guess_k: f64) -> f64 {
        let mut t_k = guess_k;
        for _ in 0..20 {
            let (next_k, _) = self.step_to_energy(u_j_kg, t_k);
            let moved_k = (next_k - t_k).abs();
            t_k = next_k;
            if moved_k <= 1e-12 * t_k.abs() {
                break;
            }
        }
        t_k
    }

    /// Heat capacity at constant volume, J/(kg K).
    #[inline(always)]
    pub fn cv_j_kg_k(&self, t_k: f64) -> f64 {
        self.curve.cv_j_kg_k(t_k)
    }

    /// Heat capacity at constant pressure, J/(kg K).
    #[inline(always)]
    pub fn cp_j_kg_k(&self, t_k: f64) -> f64 {
        self.cv_j_kg_k(t_k) + self.r_j_kg_k
    }

    /// Ratio of the heat capacities.
    #[inline(always)]
    pub fn gamma(&self, t_k: f64) -> f64 {
        1.0 + self.r_j_kg_k / self.cv_j_kg_k(t_k)
    }

    /// Internal energy above that at 298.15 K, J/kg.
    #[inline(always)]
    pub fn internal_energy_j_kg(&self, t_k: f64) -> f64 {
        self.curve.energy_j_kg(t_k)
    }

    /// Enthalpy, J/kg: internal energy as above plus R T, so that it is R · 298.15 K at 298.15 K.
    #[inline(always)]
    pub fn enthalpy_j_kg(&self, t_k: f64) -> f64 {
        self.curve.energy_j_kg(t_k) + self.r_j_kg_k * t_k
    }

    /// Speed of sound, m/s.
    #[inline(always)]
    pub fn sound_speed_m_s(&self, t_k: f64) -> f64 {
        (self.gamma(t_k) * self.r_j_kg_k * t_k).sqrt()
    }

    /// Entropy above that at 1000 K and 1 bar, J/(kg K): for comparing states of one mixture.
    pub fn entropy_j_kg_k(&self, t_k: f64, pressure_pa: f64) -> f64 {
        let heated = self.curve.entropy_at_constant_volume_j_kg_k(t_k);
        heated + self.r_j_kg_k * (libm::log(t_k / 1000.0) - libm::log(pressure_pa / 1e5))
    }

    /// Temperature, K, at another pressure with the same entropy.
    pub fn isentropic_k(&self, t_k: f64, pressure_pa: f64, to_pa: f64) -> f64 {
        let wanted = self.entropy_j_kg_k(t_k, pressure_pa);
        let gamma = self.gamma(t_k);
        let mut to_k = t_k * libm::pow(to_pa / pressure_pa, (gamma - 1.0) / gamma);
        for _ in 0..20 {
            let moved = (wanted - self.entropy_j_kg_k(to_k, to_pa)) / self.cp_j_kg_k(to_k);
            // ds = cp dT/T: the step in the logarithm keeps the temperature positive.
            to_k *= libm::exp(moved);
            if moved.abs() < 1e-14 {
                break;
            }
        }
        to_k
    }
}
