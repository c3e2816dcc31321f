//! The working gas: fresh air, fuel vapour and burned gas in any mixture, thermally perfect, 250 to 3500 K.
//!
//! Mass shares `y` are those of fuel and burned gas; the rest is air with its humidity. Sensible energies are zero at
//! 298.15 K; the heat that burning frees is kept apart ([`Gas::heat_j_kg_fuel`]). The burned gas is frozen at the
//! composition in which the delivered equivalence ratio leaves it;
//! [`equilibrium`] tells what that leaves out. Petrol is iso-octane; oil mixed with it is left out.

mod air;
mod blend;
mod burned;
mod curve;
pub mod equilibrium;
mod error;
mod mixture;
mod nasa7;
mod species;
#[cfg(test)]
mod tests;
mod transport;

pub use air::{Air, vapour_pressure_pa};
pub use blend::Blend;
pub use burned::{Burning, burn, water_gas_constant};
pub use curve::Curve;
pub(crate) use curve::{COLDEST, HOTTEST, TERMS};
use engine::model::Fuel;
pub use error::GasError;
pub use mixture::Mixture;
pub use species::{GAS_CONSTANT_J_MOL_K, JOINT_K, REFERENCE_K, Species};
pub(crate) use transport::{conductivity_of, viscosity_of};
pub use transport::{conductivity_w_m_k, viscosity_pa_s};

/// Air, fuel vapour, burned gas.
pub const SPECIES: usize = 3;

/// The three gases of one engine run and the burning that joins them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gas {
    pub(crate) parts: [Mixture; SPECIES],
    equivalence_ratio: f64,
    air_per_fuel: f64,
    heat_j_kg_fuel: f64,
}

impl Gas {
    /// Petrol burned in this air at an equivalence ratio (fuel to air, 1 = just enough air; 0.5 to 2).
    ///
    /// # Errors
    /// When the equivalence ratio lies outside.
    pub fn petrol(air: Air, equivalence_ratio: f64) -> Result<Self, GasError> {
        GasError::check("equivalence ratio (fuel to air)", equivalence_ratio, 0.5, 2.0, "")?;
        let burning = burn(&air, equivalence_ratio);
        let mixture = |blend: &Blend| Mixture { curve: Curve::of(blend), r_j_kg_k: blend.r_j_kg_k() };
        let fuel = Blend::new([(Species::IsoOctane, 1.0)]);
        Ok(Self {
            parts: [mixture(&air.blend()), mixture(&fuel), mixture(&burning.burned)],
            equivalence_ratio,
            air_per_fuel: burning.air_per_fuel(),
            heat_j_kg_fuel: burning.heat_at_constant_volume_j_kg(),
        })
    }

    /// The fuel of an engine file in this air.
    ///
    /// # Errors
    /// As [`Self::petrol`].
    pub fn of(fuel: &Fuel, air: Air) -> Result<Self, GasError> {
        Self::petrol(air, fuel.equivalence_ratio.value)
    }

    /// Equivalence ratio at which the burned gas was formed.
    pub fn equivalence_ratio(&self) -> f64 {
        self.equivalence_ratio
    }

    /// Mass of (moist) air that burns with one mass of fuel at the equivalence ratio.
    pub fn air_per_fuel(&self) -> f64 {
        self.air_per_fuel
    }

    /// Heat that 1 kg of fuel frees when it turns with its air into burned gas at constant volume, 298.15 K before and
    /// after, J/kg.
    pub fn heat_j_kg_fuel(&self) -> f64 {
        self.heat_j_kg_fuel
    }

    /// The mixture with mass shares `y` of fuel and burned gas.
    #[inline(always)]
    pub fn mixture(&self, y: [f64; 2]) -> Mixture {
        Mixture::blended(&self.parts, y)
    }

    /// Gas constant, J/(kg K).
    #[inline(always)]
    pub fn r(&self, y: [f64; 2]) -> f64 {
        let [air, fuel, burned] = &self.parts;
        air.r_j_kg_k + y[0] * (fuel.r_j_kg_k - air.r_j_kg_k) + y[1] * (burned.r_j_kg_k - air.r_j_kg_k)
    }

    /// Heat capacity at constant volume, J/(kg K), temperature in K.
    #[inline(always)]
    pub fn cv(&self, t_k: f64, y: [f64; 2]) -> f64 {
        self.mixture(y).cv_j_kg_k(t_k)
    }

    /// Heat capacity at constant pressure, J/(kg K), temperature in K.
    #[inline(always)]
    pub fn cp(&self, t_k: f64, y: [f64; 2]) -> f64 {
        self.mixture(y).cp_j_kg_k(t_k)
    }

    /// Ratio of the heat capacities.
    #[inline(always)]
    pub fn gamma(&self, t_k: f64, y: [f64; 2]) -> f64 {
        self.mixture(y).gamma(t_k)
    }

    /// Ratio of the heat capacities and gas constant, J/(kg K).
    #[inline(always)]
    pub fn gamma_r(&self, t_k: f64, y: [f64; 2]) -> (f64, f64) {
        let mixture = self.mixture(y);
        (mixture.gamma(t_k), mixture.r_j_kg_k)
    }

    /// Internal energy above that at 298.15 K, J/kg.
    #[inline(always)]
    pub fn internal_energy(&self, t_k: f64, y: [f64; 2]) -> f64 {
        self.mixture(y).internal_energy_j_kg(t_k)
    }

    /// Enthalpy, J/kg: [`Self::internal_energy`] plus R T.
    #[inline(always)]
    pub fn enthalpy(&self, t_k: f64, y: [f64; 2]) -> f64 {
        self.mixture(y).enthalpy_j_kg(t_k)
    }

    /// Temperature, K, with an internal energy in J/kg: two Newton steps from a guess, see [`Mixture::temperature_k`].
    #[inline(always)]
    pub fn temperature(&self, u_j_kg: f64, y: [f64; 2], guess_k: f64) -> f64 {
        self.mixture(y).temperature_k(u_j_kg, guess_k)
    }

    /// Entropy above that of the same mixture at 1000 K and 1 bar, J/(kg K).
    pub fn entropy(&self, t_k: f64, pressure_pa: f64, y: [f64; 2]) -> f64 {
        self.mixture(y).entropy_j_kg_k(t_k, pressure_pa)
    }

    /// Speed of sound, m/s.
    #[inline(always)]
    pub fn sound_speed(&self, t_k: f64, y: [f64; 2]) -> f64 {
        self.mixture(y).sound_speed_m_s(t_k)
    }

    /// Dynamic viscosity, Pa s.
    #[inline(always)]
    pub fn viscosity(&self, t_k: f64, y: [f64; 2]) -> f64 {
        viscosity_pa_s(t_k, y[1])
    }

    /// Thermal conductivity, W/(m K).
    #[inline(always)]
    pub fn conductivity(&self, t_k: f64, y: [f64; 2]) -> f64 {
        conductivity_w_m_k(t_k, y[1])
    }
}
