//! One chemical species: heat capacity, enthalpy and entropy by its NASA polynomial.

use super::nasa7;

/// Gas constant, J/(mol K): exact since the SI of 2019.
pub const GAS_CONSTANT_J_MOL_K: f64 = 8.314_462_618_153_24;
/// Temperature at which sensible energies are zero and heats of formation are given, K.
pub const REFERENCE_K: f64 = 298.15;
/// Where the two ranges of a polynomial meet, K.
pub const JOINT_K: f64 = 1000.0;

/// A species' polynomial; the form stands above the data in `nasa7.rs`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Nasa7 {
    pub(super) molar_mass_kg_mol: f64,
    /// Atoms of carbon, hydrogen, oxygen, nitrogen, argon.
    pub(super) atoms: [u32; 5],
    pub(super) low: [f64; 7],
    pub(super) high: [f64; 7],
}

/// The species that fresh charge, burned gas and an equilibrium are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Species {
    /// N₂.
    Nitrogen,
    /// O₂.
    Oxygen,
    /// Ar.
    Argon,
    /// CO₂.
    CarbonDioxide,
    /// CO.
    CarbonMonoxide,
    /// H₂O as vapour.
    Water,
    /// H₂.
    Hydrogen,
    /// OH.
    Hydroxyl,
    /// NO.
    NitricOxide,
    /// H.
    HydrogenAtom,
    /// O.
    OxygenAtom,
    /// Iso-octane vapour, C₈H₁₈: stands for petrol.
    IsoOctane,
}

impl Species {
    /// All of them, in the order of their numbers.
    pub const ALL: [Self; 12] = [
        Self::Nitrogen,
        Self::Oxygen,
        Self::Argon,
        Self::CarbonDioxide,
        Self::CarbonMonoxide,
        Self::Water,
        Self::Hydrogen,
        Self::Hydroxyl,
        Self::NitricOxide,
        Self::HydrogenAtom,
        Self::OxygenAtom,
        Self::IsoOctane,
    ];

    pub(super) const fn polynomial(self) -> &'static Nasa7 {
        match self {
            Self::Nitrogen => &nasa7::NITROGEN,
            Self::Oxygen => &nasa7::OXYGEN,
            Self::Argon => &nasa7::ARGON,
            Self::CarbonDioxide => &nasa7::CARBON_DIOXIDE,
            Self::CarbonMonoxide => &nasa7::CARBON_MONOXIDE,
            Self::Water => &nasa7::WATER,
            Self::Hydrogen => &nasa7::HYDROGEN,
            Self::Hydroxyl => &nasa7::HYDROXYL,
            Self::NitricOxide => &nasa7::NITRIC_OXIDE,
            Self::HydrogenAtom => &nasa7::HYDROGEN_ATOM,
            Self::OxygenAtom => &nasa7::OXYGEN_ATOM,
            Self::IsoOctane => &nasa7::ISO_OCTANE,
        }
    }

    /// Molar mass, kg/mol.
    pub fn molar_mass_kg_mol(self) -> f64 {
        self.polynomial().molar_mass_kg_mol
    }

    /// Heat capacity at constant pressure over the gas constant, at a temperature in K (200 to 6000).
    pub fn cp_over_r(self, t_k: f64) -> f64 {
        let a = self.range(t_k);
        a[0] + t_k * (a[1] + t_k * (a[2] + t_k * (a[3] + t_k * a[4])))
    }

    /// Enthalpy with heat of formation over R T, at a temperature in K (200 to 6000).
    pub fn h_over_rt(self, t_k: f64) -> f64 {
        let a = self.range(t_k);
        a[0] + t_k * (a[1] / 2.0 + t_k * (a[2] / 3.0 + t_k * (a[3] / 4.0 + t_k * a[4] / 5.0))) + a[5] / t_k
    }

    /// Entropy at 1 bar over the gas constant, at a temperature in K (200 to 6000).
    pub fn s_over_r(self, t_k: f64) -> f64 {
        let a = self.range(t_k);
        let rising = t_k * (a[1] + t_k * (a[2] / 2.0 + t_k * (a[3] / 3.0 + t_k * a[4] / 4.0)));
        a[0] * libm::log(t_k) + rising + a[6]
    }

    /// Gibbs energy at 1 bar over R T, at a temperature in K (200 to 6000).
    pub fn g_over_rt(self, t_k: f64) -> f64 {
        self.h_over_rt(t_k) - self.s_over_r(t_k)
    }

    fn range(self, t_k: f64) -> &'static [f64; 7] {
        let polynomial = self.polynomial();
        if t_k < JOINT_K { &polynomial.low } else { &polynomial.high }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_ranges_meet() {
        for species in Species::ALL {
            let (below, above) = (JOINT_K * (1.0 - 1e-9), JOINT_K);
            assert!((species.cp_over_r(below) / species.cp_over_r(above) - 1.0).abs() < 1e-5, "{species:?}");
            assert!((species.h_over_rt(below) - species.h_over_rt(above)).abs() < 1e-5, "{species:?}");
            assert!((species.s_over_r(below) - species.s_over_r(above)).abs() < 1e-4, "{species:?}");
        }
    }

    #[test]
    fn agrees_enthalpy_and_entropy_are_integrals_of_heat_capacity() {
        for species in Species::ALL {
            for t_k in [250.0, 600.0, 1500.0, 3200.0] {
                let step_k = 0.01;
                let h = |t_k: f64| species.h_over_rt(t_k) * t_k;
                let cp = (h(t_k + step_k) - h(t_k - step_k)) / (2.0 * step_k);
                assert!((cp / species.cp_over_r(t_k) - 1.0).abs() < 1e-6, "{species:?} {t_k}");
                let s = (species.s_over_r(t_k + step_k) - species.s_over_r(t_k - step_k)) / (2.0 * step_k);
                assert!((s * t_k / species.cp_over_r(t_k) - 1.0).abs() < 1e-6, "{species:?} {t_k}");
            }
        }
    }

    #[test]
    fn exact_masses_are_those_of_the_atoms() {
        // Carbon, hydrogen, oxygen, nitrogen, argon in g/mol, rounded as the data's own source rounds them.
        let atoms = [12.011, 1.008, 15.999, 14.007, 39.95];
        for species in Species::ALL {
            let polynomial = species.polynomial();
            let sum: f64 = polynomial.atoms.iter().zip(atoms).map(|(n, mass)| f64::from(*n) * mass).sum();
            assert!((sum - polynomial.molar_mass_kg_mol * 1e3).abs() < 1e-9, "{species:?}");
        }
    }
}
