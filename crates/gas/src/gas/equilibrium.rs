//! Burned gas in chemical equilibrium: what it dissociates into, and flame temperatures.
//!
//! The cycle's burned gas is frozen; this tells how far that is from equilibrium, and what heat dissociation holds back.
//! Least Gibbs energy by Newton's method on the potentials of the elements: Gordon, S. and McBride, B. J.: Computer
//! Program for Calculation of Complex Chemical Equilibrium Compositions and Applications, NASA Reference Publication 1311,
//! 1994, section 2.3 (method recalled; code our own).

use super::blend::Blend;
use super::error::GasError;
use super::species::{GAS_CONSTANT_J_MOL_K, Species};

/// Species that may be present.
const PRODUCTS: [Species; 11] = [
    Species::CarbonDioxide,
    Species::CarbonMonoxide,
    Species::Water,
    Species::Hydrogen,
    Species::Oxygen,
    Species::Nitrogen,
    Species::Argon,
    Species::Hydroxyl,
    Species::NitricOxide,
    Species::HydrogenAtom,
    Species::OxygenAtom,
];
/// Elements and the sum of amounts.
const UNKNOWNS: usize = 6;
/// Standard pressure of the polynomials' entropies, Pa.
const STANDARD_PA: f64 = 1e5;
/// Logarithm of the mole fraction below which a species is a trace.
const TRACE: f64 = -18.420_681;
const MOST_STEPS: usize = 300;
/// Least and greatest temperature looked for, K.
const COLDEST_K: f64 = 500.0;
const HOTTEST_K: f64 = 5500.0;

/// What is held while the charge burns without loss of heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// Pressure and enthalpy.
    Pressure,
    /// Volume and energy.
    Volume,
}

/// Burned charge in equilibrium.
#[derive(Debug, Clone, PartialEq)]
pub struct Flame {
    /// Temperature, K.
    pub temperature_k: f64,
    /// Pressure, Pa.
    pub pressure_pa: f64,
    /// Amounts of the products, mol, for the amounts of the charge.
    pub products: Blend,
}

/// Products in equilibrium of these atoms (mol of carbon, hydrogen, oxygen, nitrogen, argon) at a temperature (K) and a
/// pressure (Pa).
///
/// # Errors
/// When temperature (500 to 5500 K) or pressure (1 kPa to 100 MPa) lies outside, or no balance is found.
pub fn products(atoms: [f64; 5], t_k: f64, pressure_pa: f64) -> Result<Blend, GasError> {
    GasError::check("temperature of the equilibrium", t_k, COLDEST_K, HOTTEST_K, " K")?;
    GasError::check("pressure of the equilibrium", pressure_pa * 1e-3, 1.0, 1e5, " kPa")?;
    let search = Search::new(atoms, t_k, pressure_pa);
    search.run().ok_or(GasError::NoEquilibrium { t_k })
}

/// The charge burned to equilibrium without loss of heat, from a temperature (K) and a pressure (Pa).
///
/// # Errors
/// When no such state lies between 500 and 5500 K.
pub fn flame(charge: &Blend, t_k: f64, pressure_pa: f64, held: Held) -> Result<Flame, GasError> {
    let (atoms, mass_kg) = (charge.atoms(), charge.mass_kg());
    let volume_rt = charge.amounts() * t_k;
    let wanted = match held {
        Held::Pressure => charge.enthalpy_j_kg(t_k) * mass_kg,
        Held::Volume => charge.energy_j_kg(t_k) * mass_kg,
    };
    let at = |to_k: f64| -> Result<(f64, Flame), GasError> {
        let mut pressure = pressure_pa;
        let mut mixture = products(atoms, to_k, pressure)?;
        if held == Held::Volume {
            // The pressure follows from the amounts, which hardly follow from the pressure.
            for _ in 0..12 {
                pressure = pressure_pa * mixture.amounts() * to_k / volume_rt;
                mixture = products(atoms, to_k, pressure)?;
            }
        }
        let content = match held {
            Held::Pressure => mixture.enthalpy_j_kg(to_k),
            Held::Volume => mixture.energy_j_kg(to_k),
        };
        let flame = Flame { temperature_k: to_k, pressure_pa: pressure, products: mixture };
        Ok((content * mass_kg - wanted, flame))
    };
    let (mut low_k, mut high_k) = (COLDEST_K, HOTTEST_K);
    let (mut low, mut high) = (at(low_k)?.0, at(high_k)?.0);
    if low > 0.0 || high < 0.0 {
        return Err(GasError::NoEquilibrium { t_k: if low > 0.0 { low_k } else { high_k } });
    }
    // Regula falsi that halves the weight of an end that stays.
    for _ in 0..100 {
        let next_k = (low_k * high - high_k * low) / (high - low);
        let (miss, flame) = at(next_k)?;
        if high_k - low_k < 1e-6 || miss.abs() <= 1e-9 * GAS_CONSTANT_J_MOL_K * next_k * charge.amounts() {
            return Ok(flame);
        }
        if miss < 0.0 {
            (low_k, low, high) = (next_k, miss, high * 0.5);
        } else {
            (high_k, high, low) = (next_k, miss, low * 0.5);
        }
    }
    Ok(at(0.5 * (low_k + high_k))?.1)
}

/// The search for one equilibrium, scaled to one mole of atoms.
struct Search {
    wanted: [f64; 5],
    scale: f64,
    /// Gibbs energy over R T of each product at the pressure, without its share.
    potential: [f64; PRODUCTS.len()],
    log_n: [f64; PRODUCTS.len()],
    log_sum: f64,
}

impl Search {
    fn new(atoms: [f64; 5], t_k: f64, pressure_pa: f64) -> Self {
        let scale: f64 = atoms.iter().sum();
        let log_p = libm::log(pressure_pa / STANDARD_PA);
        Self {
            wanted: atoms.map(|amount| amount / scale),
            scale,
            potential: PRODUCTS.map(|species| species.g_over_rt(t_k) + log_p),
            log_n: [libm::log(0.05); PRODUCTS.len()],
            log_sum: libm::log(0.5),
        }
    }

    fn atoms_of(species: Species) -> [f64; 5] {
        species.polynomial().atoms.map(f64::from)
    }

    fn run(mut self) -> Option<Blend> {
        for _ in 0..MOST_STEPS {
            let (changes, sum_change) = self.newton_step()?;
            let share = self.damping(&changes, sum_change);
            self.log_sum += share * sum_change;
            for (log_n, change) in self.log_n.iter_mut().zip(changes) {
                *log_n = (*log_n + share * change).max(-300.0);
            }
            let moved: f64 =
                changes.iter().zip(self.log_n).map(|(c, log_n)| c.abs() * libm::exp(log_n)).sum();
            if share == 1.0 && moved < 1e-13 && sum_change.abs() < 1e-12 {
                return Some(self.blend());
            }
        }
        None
    }

    /// Share of a Newton step to take: no main species by more than a factor of e², no trace beyond a share of 1e-4.
    fn damping(&self, changes: &[f64; PRODUCTS.len()], sum_change: f64) -> f64 {
        let (mut fastest, mut traces) = (5.0 * sum_change.abs(), 1.0f64);
        for (change, log_n) in changes.iter().zip(self.log_n) {
            let log_share = log_n - self.log_sum;
            if log_share > TRACE {
                fastest = fastest.max(change.abs());
            } else if *change >= 0.0 && change - sum_change != 0.0 {
                traces = traces.min(((-log_share - 9.21) / (change - sum_change)).abs());
            }
        }
        traces.min(if fastest > 2.0 { 2.0 / fastest } else { 1.0 })
    }

    /// Changes of the logarithms of the amounts and of their sum.
    fn newton_step(&self) -> Option<([f64; PRODUCTS.len()], f64)> {
        let sum = libm::exp(self.log_sum);
        let mut matrix = [[0.0; UNKNOWNS + 1]; UNKNOWNS];
        let mut mu = [0.0; PRODUCTS.len()];
        for (j, species) in PRODUCTS.into_iter().enumerate() {
            let (atoms, n) = (Self::atoms_of(species), libm::exp(self.log_n[j]));
            mu[j] = self.potential[j] + self.log_n[j] - self.log_sum;
            let pull = n * (mu[j] - 1.0);
            let last = &mut matrix[5];
            for (value, atoms) in last.iter_mut().zip(atoms) {
                *value += atoms * n;
            }
            for (row, mine) in matrix.iter_mut().zip(atoms) {
                for (value, other) in row.iter_mut().zip(atoms) {
                    *value += mine * n * other;
                }
                row[5] += mine * n;
                row[6] += mine * pull;
            }
            matrix[5][5] += n;
            matrix[5][6] += pull;
        }
        for (k, (row, wanted)) in matrix.iter_mut().zip(self.wanted).enumerate() {
            row[6] += wanted;
            if wanted <= 0.0 {
                // An element that is not there has no potential.
                *row = [0.0; UNKNOWNS + 1];
                row[k] = 1.0;
            }
        }
        matrix[5][5] -= sum;
        matrix[5][6] += sum;
        let solution = eliminate(matrix)?;
        let mut changes = [0.0; PRODUCTS.len()];
        for (j, species) in PRODUCTS.into_iter().enumerate() {
            let atoms = Self::atoms_of(species);
            let impossible = atoms.iter().zip(self.wanted).any(|(n, wanted)| *n > 0.0 && wanted <= 0.0);
            let potentials: f64 = atoms.iter().zip(solution).map(|(n, pi)| n * pi).sum();
            changes[j] = if impossible { -300.0 } else { solution[5] + potentials - mu[j] };
        }
        Some((changes, solution[5]))
    }

    fn blend(&self) -> Blend {
        let amounts = self.log_n.map(|log_n| libm::exp(log_n) * self.scale);
        Blend::new(PRODUCTS.into_iter().zip(amounts))
    }
}

/// Gauss' elimination with the greatest pivot.
fn eliminate(mut m: [[f64; UNKNOWNS + 1]; UNKNOWNS]) -> Option<[f64; UNKNOWNS]> {
    for column in 0..UNKNOWNS {
        let best = (column..UNKNOWNS).max_by(|a, b| m[*a][column].abs().total_cmp(&m[*b][column].abs()))?;
        m.swap(column, best);
        let pivot = m[column];
        if pivot[column] == 0.0 || !pivot[column].is_finite() {
            return None;
        }
        for row in m.iter_mut().skip(column + 1) {
            let factor = row[column] / pivot[column];
            for (value, top) in row.iter_mut().zip(pivot) {
                *value -= factor * top;
            }
        }
    }
    let mut solution = [0.0; UNKNOWNS];
    for row in (0..UNKNOWNS).rev() {
        let known: f64 = (row + 1..UNKNOWNS).map(|k| m[row][k] * solution[k]).sum();
        solution[row] = (m[row][UNKNOWNS] - known) / m[row][row];
    }
    Some(solution)
}

#[cfg(test)]
mod tests {
    use super::super::{Air, burn};
    use super::*;

    fn charge(equivalence_ratio: f64) -> Blend {
        let air = burn(&Air::DRY, equivalence_ratio).air;
        Blend::new(air.parts().iter().copied().chain([(Species::IsoOctane, 1.0)]))
    }

    #[test]
    fn conserves_atoms_and_meets_the_mass_action_law() {
        for ratio in [0.7, 1.0, 1.3] {
            for (t_k, pressure_pa) in [(900.0, 1e5), (2200.0, 1e5), (2900.0, 4e6)] {
                let atoms = charge(ratio).atoms();
                let mixture = products(atoms, t_k, pressure_pa).unwrap();
                for (got, wanted) in mixture.atoms().iter().zip(atoms) {
                    assert!((got / wanted - 1.0).abs() < 1e-9, "{ratio} {t_k}");
                }
                let partial = |species| mixture.amount(species) / mixture.amounts() * pressure_pa / 1e5;
                let g = |species: Species| species.g_over_rt(t_k);
                let k = libm::exp(
                    g(Species::CarbonDioxide) - g(Species::CarbonMonoxide) - 0.5 * g(Species::Oxygen),
                );
                let law = partial(Species::CarbonMonoxide) * partial(Species::Oxygen).sqrt()
                    / partial(Species::CarbonDioxide);
                assert!((law / k - 1.0).abs() < 1e-7, "{ratio} {t_k}: {law} {k}");
            }
        }
    }

    #[test]
    fn agrees_cold_products_with_complete_burning() {
        let mixture = products(charge(0.9).atoms(), 700.0, 1e5).unwrap();
        let complete = burn(&Air::DRY, 0.9).burned;
        for species in [Species::CarbonDioxide, Species::Water, Species::Oxygen] {
            assert!((mixture.amount(species) / complete.amount(species) - 1.0).abs() < 1e-5, "{species:?}");
        }
    }

    #[test]
    fn refuses_what_it_cannot_find() {
        assert!(products([1.0, 2.0, 3.0, 4.0, 0.0], 300.0, 1e5).is_err());
        assert!(products([f64::NAN; 5], 2000.0, 1e5).is_err());
        assert!(products([0.0; 5], 2000.0, 1e5).is_err());
        let air = Air::DRY.blend();
        assert!(flame(&air, 300.0, 1e5, Held::Pressure).is_err());
    }
}
