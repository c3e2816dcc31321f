//! Heat from the cylinder's gas to its walls.
//!
//! Both correlations were made on other engines than small two-strokes: expect 30 % and more of doubt in either.

use crate::duct::Vector;

/// State of the charge that a correlation needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Charge {
    /// Pressure, Pa.
    pub pressure_pa: f64,
    /// Temperature, K.
    pub temperature_k: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Dynamic viscosity, Pa s.
    pub viscosity_pa_s: f64,
    /// Conductivity, W/(m K).
    pub conductivity_w_m_k: f64,
    /// Bore, m.
    pub bore_m: f64,
    /// Mean piston speed, m/s.
    pub piston_speed_m_s: f64,
}

/// Where in the cycle Woschni's gas velocity is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WoschniPhase {
    /// Ports open.
    GasExchange,
    /// Ports shut, nothing burned yet.
    Compression,
    /// From the start of burning until the exhaust opens.
    Combustion {
        /// Swept volume, m³.
        swept_m3: f64,
        /// Temperature over pressure times volume at port closing, K/(Pa m³).
        reference_k_j: f64,
        /// Pressure of the motored engine at this crank angle, Pa.
        motored_pa: f64,
    },
}

/// A correlation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WallHeat {
    /// Woschni, G.: A universally applicable equation for the instantaneous heat transfer coefficient in the internal
    /// combustion engine, SAE paper 670931, 1967, in the form of Heywood, J. B., Internal Combustion Engine Fundamentals,
    /// 1988, equation (12.19): h = 3.26 B^-0.2 p^0.8 T^-0.55 w^0.8, p in kPa; w = 6.18 S in gas exchange, 2.28 S in
    /// compression, 2.28 S + 0.00324 V T/(p V) (p - p motored) from the start of burning (form recalled, the factors 6.18
    /// and 2.28 read in teaching notes).
    Woschni,
    /// Annand, W. J. D.: Heat transfer in the cylinders of reciprocating internal combustion engines, Proceedings of the
    /// Institution of Mechanical Engineers 177, 1963, 973: h = a k/B Re^0.7, 0.35 < a < 0.8 (recalled), and radiation.
    Annand {
        /// The factor a.
        a: f64,
        /// Radiation: this share of the black body's; 0.075 for spark ignition (recalled).
        radiation: f64,
    },
}

/// Stefan-Boltzmann constant, W/(m² K⁴): from the exact constants of the SI.
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

impl WallHeat {
    /// Heat transfer coefficient, W/(m² K). `phase` matters to Woschni's alone.
    pub fn coefficient_w_m2_k(&self, charge: &Charge, phase: WoschniPhase) -> f64 {
        match self {
            Self::Woschni => {
                let velocity_m_s = woschni_velocity_m_s(charge, phase).max(0.0);
                3.26 * libm::pow(charge.bore_m, -0.2)
                    * libm::pow(charge.pressure_pa * 1e-3, 0.8)
                    * libm::pow(charge.temperature_k, -0.55)
                    * libm::pow(velocity_m_s, 0.8)
            }
            Self::Annand { a, .. } => {
                let reynolds =
                    charge.density_kg_m3 * charge.piston_speed_m_s * charge.bore_m / charge.viscosity_pa_s;
                annand(*a, charge.bore_m, charge.conductivity_w_m_k, reynolds)
            }
        }
    }

    /// Heat flux from gas to wall, W/m², wall temperature in K; below zero when the wall is the hotter.
    pub fn flux_w_m2(&self, charge: &Charge, phase: WoschniPhase, wall_k: f64) -> f64 {
        let convected = self.coefficient_w_m2_k(charge, phase) * (charge.temperature_k - wall_k);
        let radiated = match self {
            Self::Woschni => 0.0,
            Self::Annand { radiation, .. } => radiated(*radiation, charge.temperature_k, wall_k),
        };
        convected + radiated
    }
}

/// Annand's coefficient, W/(m² K).
#[inline(always)]
pub(super) fn annand<V: Vector>(a: f64, bore_m: f64, conductivity: V, reynolds: V) -> V {
    // Quicker than a power, as good to rounding.
    V::of(a / bore_m) * conductivity * (V::of(0.7) * reynolds.ln()).exp()
}

/// Radiation of a share of the black body's, W/m².
#[inline(always)]
pub(super) fn radiated<V: Vector>(share: f64, gas_k: V, wall_k: f64) -> V {
    let square = gas_k * gas_k;
    V::of(share * STEFAN_BOLTZMANN) * (square * square - V::of(wall_k.powi(4)))
}

/// Woschni's mean gas velocity, m/s.
pub(super) fn woschni_velocity_m_s(charge: &Charge, phase: WoschniPhase) -> f64 {
    let piston = charge.piston_speed_m_s;
    match phase {
        WoschniPhase::GasExchange => 6.18 * piston,
        WoschniPhase::Compression => 2.28 * piston,
        WoschniPhase::Combustion { swept_m3, reference_k_j, motored_pa } => {
            2.28 * piston + 3.24e-3 * swept_m3 * reference_k_j * (charge.pressure_pa - motored_pa)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn charge() -> Charge {
        Charge {
            pressure_pa: 2e6,
            temperature_k: 900.0,
            density_kg_m3: 7.7,
            viscosity_pa_s: 4e-5,
            conductivity_w_m_k: 0.065,
            bore_m: 0.054,
            piston_speed_m_s: 18.0,
        }
    }

    #[test]
    fn exact_no_flux_between_equal_temperatures_and_both_ways_else() {
        for model in [WallHeat::Woschni, WallHeat::Annand { a: 0.5, radiation: 0.075 }] {
            let flux = |wall_k| model.flux_w_m2(&charge(), WoschniPhase::Compression, wall_k);
            assert_eq!(flux(900.0), 0.0);
            assert!(flux(450.0) > 0.0 && flux(1000.0) < 0.0);
        }
    }

    #[test]
    fn exact_powers_of_pressure_and_speed() {
        let (base, mut doubled) = (charge(), charge());
        doubled.pressure_pa *= 2.0;
        doubled.density_kg_m3 *= 2.0;
        let ratio = |model: WallHeat| {
            model.coefficient_w_m2_k(&doubled, WoschniPhase::Compression)
                / model.coefficient_w_m2_k(&base, WoschniPhase::Compression)
        };
        assert!((ratio(WallHeat::Woschni) - 2f64.powf(0.8)).abs() < 1e-12);
        assert!((ratio(WallHeat::Annand { a: 0.5, radiation: 0.0 }) - 2f64.powf(0.7)).abs() < 1e-12);
    }
}
