//! What went where in one turn, and what came of it.

use crate::duct::Row;

/// Sums over one turn, a row of lanes each; "in" is into the engine from the outer air.
#[derive(Debug, Clone)]
pub(crate) struct Ledger<const L: usize> {
    /// Work of the gas on the piston, from above and from below, J.
    pub(crate) above_j: Row<L>,
    pub(crate) below_j: Row<L>,
    /// Heat freed by burning, heat from the cylinder's gas to its walls, heat from the ducts' walls, J.
    pub(crate) freed_j: Row<L>,
    pub(crate) to_walls_j: Row<L>,
    pub(crate) from_ducts_j: Row<L>,
    /// Fuel burned, kg.
    pub(crate) burned_kg: Row<L>,
    /// At mouth and tail, in: mass, energy, second and third species; kg, J, kg, kg.
    pub(crate) mouth: [Row<L>; 4],
    pub(crate) tail: [Row<L>; 4],
    /// What moves through mouth and tail whichever way, kg and J: the measure of the balances.
    pub(crate) moved_kg: Row<L>,
    pub(crate) moved_j: Row<L>,
    /// Through the reed (or inlet port) into the crankcase: mass and second and third species, kg.
    pub(crate) reed: [Row<L>; 3],
    /// Out through the exhaust port when it flows out: mass kg, energy J, third species kg.
    pub(crate) port: [Row<L>; 3],
    /// Greatest pressure in the cylinder, Pa, and its crank angle after top dead centre, rad.
    pub(crate) peak_pa: Row<L>,
    pub(crate) peak_rad: Row<L>,
    /// When the exhaust closed: mass kg, second and third species kg, volume m³.
    pub(crate) trapped: [Row<L>; 4],
}

impl<const L: usize> Ledger<L> {
    pub(crate) const EMPTY: Self = Self {
        above_j: [0.0; L],
        below_j: [0.0; L],
        freed_j: [0.0; L],
        to_walls_j: [0.0; L],
        from_ducts_j: [0.0; L],
        burned_kg: [0.0; L],
        mouth: [[0.0; L]; 4],
        tail: [[0.0; L]; 4],
        moved_kg: [0.0; L],
        moved_j: [0.0; L],
        reed: [[0.0; L]; 3],
        port: [[0.0; L]; 3],
        peak_pa: [0.0; L],
        peak_rad: [0.0; L],
        trapped: [[0.0; L]; 4],
    };
}

/// What the whole engine holds in one lane.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Holding {
    pub(crate) mass_kg: f64,
    pub(crate) energy_j: f64,
    pub(crate) species_kg: [f64; 2],
}

/// What is left over when what a turn brought is compared with what the engine holds more; each over what moved.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize, serde::Deserialize)]
pub struct Balance {
    /// Mass, over the mass through mouth and tail.
    pub mass: f64,
    /// Energy, over the greatest of heat freed, energy through mouth and tail.
    pub energy: f64,
    /// Fuel, over the same mass.
    pub fuel: f64,
    /// Burned gas, over the same mass.
    pub burned: f64,
}

impl<const L: usize> Ledger<L> {
    /// The balance of one lane; `gain` is burned gas for one of fuel.
    pub(crate) fn balance(&self, l: usize, before: &Holding, after: &Holding, gain: f64) -> Balance {
        let into = |k: usize| self.mouth[k][l] + self.tail[k][l];
        let work = self.above_j[l] + self.below_j[l];
        let heat = self.freed_j[l] - self.to_walls_j[l] + self.from_ducts_j[l];
        let mass = self.moved_kg[l].max(f64::MIN_POSITIVE);
        let energy = self.moved_j[l].max(self.freed_j[l]).max(f64::MIN_POSITIVE);
        let grown = |k: usize| after.species_kg[k] - before.species_kg[k];
        Balance {
            mass: (after.mass_kg - before.mass_kg - into(0)) / mass,
            energy: (after.energy_j - before.energy_j - into(1) - heat + work) / energy,
            fuel: (grown(0) - into(2) + self.burned_kg[l]) / mass,
            burned: (grown(1) - into(3) - gain * self.burned_kg[l]) / mass,
        }
    }
}
