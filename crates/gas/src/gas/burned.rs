//! What iso-octane and air burn to, frozen.

use super::air::Air;
use super::blend::Blend;
use super::species::{REFERENCE_K, Species};

/// Carbon and hydrogen atoms of the fuel.
const CARBON: f64 = 8.0;
const HYDROGEN: f64 = 18.0;
/// Temperature at which the water-gas balance of rich products is taken to freeze, K: Spindt, R. S., SAE paper
/// 650507, 1965, as Heywood, J. B., Internal Combustion Engine Fundamentals, 1988, section 4.9 gives it (recalled:
/// a constant of 3.5, which is that of 1740 K).
const FREEZE_K: f64 = 1740.0;

/// One mole of fuel with its air, and what they burn to.
#[derive(Debug, Clone, PartialEq)]
pub struct Burning {
    /// The air, mol for one mole of fuel.
    pub air: Blend,
    /// The products of the fuel and this air.
    pub burned: Blend,
}

/// Oxygen molecules that burn one fuel molecule completely.
pub(super) const OXYGEN_FOR_FUEL: f64 = CARBON + HYDROGEN / 4.0;

/// Air and products for one mole of fuel at an equivalence ratio (fuel to air, 1 = just enough air).
///
/// Lean: carbon dioxide and water with the oxygen left over. Rich: carbon monoxide and hydrogen as the water-gas
/// balance at 1740 K leaves them; no soot, which holds below an equivalence ratio of about 3.
pub fn burn(air: &Air, equivalence_ratio: f64) -> Burning {
    let mole = air.blend();
    let moles = OXYGEN_FOR_FUEL / equivalence_ratio / mole.amount(Species::Oxygen);
    let air = Blend::new(mole.parts().iter().map(|(species, share)| (*species, share * moles)));
    let water_from_air = air.amount(Species::Water);
    let carbon = CARBON + air.amount(Species::CarbonDioxide);
    let hydrogen = HYDROGEN / 2.0 + water_from_air;
    // Oxygen atoms, all of them.
    let oxygen =
        2.0 * air.amount(Species::Oxygen) + 2.0 * air.amount(Species::CarbonDioxide) + water_from_air;
    let lacking = 2.0 * carbon + hydrogen - oxygen;
    let (dioxide, water, left) = if lacking <= 0.0 {
        (carbon, hydrogen, -lacking / 2.0)
    } else {
        let dioxide = water_gas(carbon, hydrogen, oxygen);
        (dioxide, oxygen - carbon - dioxide, 0.0)
    };
    let burned = Blend::new([
        (Species::CarbonDioxide, dioxide),
        (Species::CarbonMonoxide, carbon - dioxide),
        (Species::Water, water),
        (Species::Hydrogen, hydrogen - water),
        (Species::Oxygen, left),
        (Species::Nitrogen, air.amount(Species::Nitrogen)),
        (Species::Argon, air.amount(Species::Argon)),
    ]);
    Burning { air, burned }
}

/// Carbon dioxide of rich products: CO · H₂O = K · CO₂ · H₂ with the amounts of atoms kept.
fn water_gas(carbon: f64, hydrogen: f64, oxygen: f64) -> f64 {
    let k = water_gas_constant(FREEZE_K);
    // With d of dioxide: CO = carbon - d, H2O = oxygen - carbon - d, H2 = hydrogen - H2O.
    let free = oxygen - carbon;
    let (square, line, point) = (1.0 - k, -(carbon + free) - k * (hydrogen - free), carbon * free);
    let root = (line * line - 4.0 * square * point).max(0.0).sqrt();
    // The root between zero and both limits, in the form that keeps its digits when `square` is small.
    2.0 * point / (-line + root)
}

/// Equilibrium constant CO · H₂O / (CO₂ · H₂) at a temperature in K.
pub fn water_gas_constant(t_k: f64) -> f64 {
    let g = |species: Species| species.g_over_rt(t_k);
    let change =
        g(Species::CarbonMonoxide) + g(Species::Water) - g(Species::CarbonDioxide) - g(Species::Hydrogen);
    libm::exp(-change)
}

impl Burning {
    /// Mass of air for one mass of fuel.
    pub fn air_per_fuel(&self) -> f64 {
        self.air.mass_kg() / Species::IsoOctane.molar_mass_kg_mol()
    }

    /// Heat that burning 1 kg of fuel vapour frees at constant volume, 298.15 K before and after, water as vapour, J/kg.
    pub fn heat_at_constant_volume_j_kg(&self) -> f64 {
        let mass_energy = |blend: &Blend| blend.energy_j_kg(REFERENCE_K) * blend.mass_kg();
        let fuel = Blend::new([(Species::IsoOctane, 1.0)]);
        (mass_energy(&fuel) + mass_energy(&self.air) - mass_energy(&self.burned)) / fuel.mass_kg()
    }

    /// Heat that burning 1 kg of fuel vapour frees at constant pressure, 298.15 K before and after, water as vapour,
    /// J/kg: the lower heating value when there is air enough.
    pub fn heat_at_constant_pressure_j_kg(&self) -> f64 {
        let mass_enthalpy = |blend: &Blend| blend.enthalpy_j_kg(REFERENCE_K) * blend.mass_kg();
        let fuel = Blend::new([(Species::IsoOctane, 1.0)]);
        (mass_enthalpy(&fuel) + mass_enthalpy(&self.air) - mass_enthalpy(&self.burned)) / fuel.mass_kg()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conserves_atoms_and_mass() {
        for air in [Air::DRY, Air::moist(100e3, 303.15, 0.8).unwrap()] {
            for ratio in [0.5, 0.99, 1.0, 1.01, 1.3, 2.0] {
                let burning = burn(&air, ratio);
                let fuel = Blend::new([(Species::IsoOctane, 1.0)]);
                let mass_in = fuel.mass_kg() + burning.air.mass_kg();
                assert!((burning.burned.mass_kg() / mass_in - 1.0).abs() < 1e-12);
                for ((from_fuel, from_air), after) in
                    fuel.atoms().iter().zip(burning.air.atoms()).zip(burning.burned.atoms())
                {
                    assert!((from_fuel + from_air - after).abs() < 1e-10, "{ratio}");
                }
                assert!(burning.burned.parts().iter().all(|(_, amount)| *amount >= 0.0));
            }
        }
    }

    #[test]
    fn exact_rich_products_hold_the_water_gas_balance() {
        let burned = burn(&Air::DRY, 1.2).burned;
        let n = |species| burned.amount(species);
        let k = n(Species::CarbonMonoxide) * n(Species::Water)
            / (n(Species::CarbonDioxide) * n(Species::Hydrogen));
        assert!((k / water_gas_constant(FREEZE_K) - 1.0).abs() < 1e-10);
        // Recalled: 3.5.
        assert!((k - 3.5).abs() < 0.15, "{k}");
    }
}
