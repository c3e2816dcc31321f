//! A blend of species in fixed proportions, by its exact polynomials: the measure for the fast forms.

use super::species::{GAS_CONSTANT_J_MOL_K, REFERENCE_K, Species};

/// Species with their amounts (mol, in any common scale).
#[derive(Debug, Clone, PartialEq)]
pub struct Blend {
    parts: Vec<(Species, f64)>,
}

impl Blend {
    /// From amounts; those of zero are left out.
    pub fn new(parts: impl IntoIterator<Item = (Species, f64)>) -> Self {
        Self { parts: parts.into_iter().filter(|(_, amount)| *amount > 0.0).collect() }
    }

    /// Species and amounts, mol.
    pub fn parts(&self) -> &[(Species, f64)] {
        &self.parts
    }

    /// Amount of one species, mol.
    pub fn amount(&self, species: Species) -> f64 {
        self.parts.iter().filter(|(part, _)| *part == species).map(|(_, amount)| amount).sum()
    }

    /// Sum of all amounts, mol.
    pub fn amounts(&self) -> f64 {
        self.parts.iter().map(|(_, amount)| amount).sum()
    }

    /// Mass of the amounts, kg.
    pub fn mass_kg(&self) -> f64 {
        self.parts.iter().map(|(species, amount)| amount * species.molar_mass_kg_mol()).sum()
    }

    /// Gas constant of the blend, J/(kg K).
    pub fn r_j_kg_k(&self) -> f64 {
        GAS_CONSTANT_J_MOL_K * self.amounts() / self.mass_kg()
    }

    /// Heat capacity at constant pressure, J/(kg K), temperature in K (200 to 6000).
    pub fn cp_j_kg_k(&self, t_k: f64) -> f64 {
        self.per_kg(|species| species.cp_over_r(t_k))
    }

    /// Enthalpy with heats of formation, J/kg.
    pub fn enthalpy_j_kg(&self, t_k: f64) -> f64 {
        t_k * self.per_kg(|species| species.h_over_rt(t_k))
    }

    /// Internal energy with heats of formation, J/kg.
    pub fn energy_j_kg(&self, t_k: f64) -> f64 {
        t_k * self.per_kg(|species| species.h_over_rt(t_k) - 1.0)
    }

    /// Internal energy above that at 298.15 K, J/kg.
    pub fn sensible_energy_j_kg(&self, t_k: f64) -> f64 {
        self.energy_j_kg(t_k) - self.energy_j_kg(REFERENCE_K)
    }

    /// Enthalpy above that at 298.15 K, J/kg.
    pub fn sensible_enthalpy_j_kg(&self, t_k: f64) -> f64 {
        self.enthalpy_j_kg(t_k) - self.enthalpy_j_kg(REFERENCE_K)
    }

    /// Atoms of carbon, hydrogen, oxygen, nitrogen, argon, mol.
    pub fn atoms(&self) -> [f64; 5] {
        let mut atoms = [0.0; 5];
        for (species, amount) in &self.parts {
            for (sum, count) in atoms.iter_mut().zip(species.polynomial().atoms) {
                *sum += amount * f64::from(count);
            }
        }
        atoms
    }

    fn per_kg(&self, of: impl Fn(Species) -> f64) -> f64 {
        let sum: f64 = self.parts.iter().map(|(species, amount)| amount * of(*species)).sum();
        GAS_CONSTANT_J_MOL_K * sum / self.mass_kg()
    }
}
