//! What is kept of the gas: conserved quantities in each cell, and what follows from them. Lanes are innermost.

use super::caloric::Caloric;

/// One quantity in all lanes.
pub type Row<const L: usize> = [f64; L];

/// Some lanes of a row.
#[inline]
pub(crate) fn pick<const L: usize, const M: usize>(row: &Row<L>, lanes: &[usize; M]) -> Row<M> {
    lanes.map(|lane| row[lane])
}

/// Conserved quantities of one cell, by volume, and the temperature found last (the next search starts there).
#[derive(Debug, Clone, Copy)]
#[repr(C, align(64))]
pub(crate) struct Cell<const L: usize> {
    /// kg/m³
    pub(crate) density: Row<L>,
    /// kg/(m² s), positive from beginning to end
    pub(crate) momentum: Row<L>,
    /// internal and kinetic, J/m³
    pub(crate) energy: Row<L>,
    /// second and third species, kg/m³
    pub(crate) species: [Row<L>; 2],
    /// K
    pub(crate) temperature: Row<L>,
}

impl<const L: usize> Cell<L> {
    pub(crate) const EMPTY: Self = Self {
        density: [0.0; L],
        momentum: [0.0; L],
        energy: [0.0; L],
        species: [[0.0; L]; 2],
        temperature: [0.0; L],
    };

    /// Some lanes of it.
    pub(crate) fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Cell<M> {
        let of = |row| pick(row, lanes);
        Cell {
            density: of(&self.density),
            momentum: of(&self.momentum),
            energy: of(&self.energy),
            species: [of(&self.species[0]), of(&self.species[1])],
            temperature: of(&self.temperature),
        }
    }

    /// Puts gas into one lane.
    pub(crate) fn put(&mut self, gas: &Caloric, lane: usize, state: &GasState) {
        let GasState { pressure_pa, temperature_k, velocity_m_s, y } = *state;
        let density = pressure_pa / (gas.r(y) * temperature_k);
        self.density[lane] = density;
        self.momentum[lane] = density * velocity_m_s;
        self.energy[lane] =
            density * (gas.internal_energy(temperature_k, y) + 0.5 * velocity_m_s * velocity_m_s);
        self.species[0][lane] = density * y[0];
        self.species[1][lane] = density * y[1];
        self.temperature[lane] = temperature_k;
    }
}

/// What the step needs of one cell, worked out from the conserved quantities.
#[derive(Debug, Clone, Copy)]
#[repr(C, align(64))]
pub(crate) struct Primitive<const L: usize> {
    pub(crate) density: Row<L>,
    pub(crate) velocity: Row<L>,
    pub(crate) pressure: Row<L>,
    /// Lifted internal energy by volume over pressure: `1/(gamma - 1)` in a calorically perfect gas.
    pub(crate) ratio: Row<L>,
    pub(crate) y: [Row<L>; 2],
    pub(crate) sound: Row<L>,
    pub(crate) gamma: Row<L>,
    pub(crate) temperature: Row<L>,
    pub(crate) inverse_density: Row<L>,
    pub(crate) inverse_pressure: Row<L>,
    pub(crate) cp: Row<L>,
}

impl<const L: usize> Primitive<L> {
    pub(crate) const EMPTY: Self = Self {
        density: [0.0; L],
        velocity: [0.0; L],
        pressure: [0.0; L],
        ratio: [0.0; L],
        y: [[0.0; L]; 2],
        sound: [0.0; L],
        gamma: [0.0; L],
        temperature: [0.0; L],
        inverse_density: [0.0; L],
        inverse_pressure: [0.0; L],
        cp: [0.0; L],
    };
}

/// Friction and heat exchange with the wall of one cell.
#[derive(Debug, Clone, Copy)]
#[repr(C, align(64))]
pub(crate) struct Wall<const L: usize> {
    /// Pressure loss per metre over `rho u |u|`: twice the Fanning factor over the diameter, bends spread; 1/m.
    pub(crate) friction_per_m: Row<L>,
    /// Four times the Stanton number over the diameter, 1/m.
    pub(crate) exchange_per_m: Row<L>,
    /// K
    pub(crate) temperature_k: Row<L>,
}

impl<const L: usize> Wall<L> {
    pub(crate) const SMOOTH: Self =
        Self { friction_per_m: [0.0; L], exchange_per_m: [0.0; L], temperature_k: [300.0; L] };

    /// Some lanes of it.
    pub(crate) fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Wall<M> {
        Wall {
            friction_per_m: pick(&self.friction_per_m, lanes),
            exchange_per_m: pick(&self.exchange_per_m, lanes),
            temperature_k: pick(&self.temperature_k, lanes),
        }
    }
}

/// The gas at one end of a duct, half a step on, seen from the end: velocity is positive into the duct.
#[derive(Debug, Clone, Copy)]
#[repr(C, align(64))]
pub struct EndState<const L: usize> {
    /// kg/m³
    pub density: Row<L>,
    /// m/s, positive into the duct
    pub velocity_in: Row<L>,
    /// Pa
    pub pressure: Row<L>,
    /// m/s
    pub sound: Row<L>,
    /// ratio of specific heats
    pub gamma: Row<L>,
    /// Static enthalpy by mass, J/kg, in the gas's own zero of energy.
    pub enthalpy: Row<L>,
    /// Mass fractions of the second and third species.
    pub y: [Row<L>; 2],
}

/// What flows through one end of a duct by its area, positive into the duct.
#[derive(Debug, Clone, Copy, PartialEq)]
#[repr(C, align(64))]
pub struct EndFlux<const L: usize> {
    /// kg/(m² s)
    pub mass: Row<L>,
    /// Pressure and momentum flux, Pa; it has no direction.
    pub momentum: Row<L>,
    /// W/m²
    pub energy: Row<L>,
    /// Second and third species, kg/(m² s).
    pub species: [Row<L>; 2],
}

impl<const L: usize> EndFlux<L> {
    /// Nothing flows and nothing presses.
    pub const NONE: Self =
        Self { mass: [0.0; L], momentum: [0.0; L], energy: [0.0; L], species: [[0.0; L]; 2] };
}

impl<const L: usize> EndState<L> {
    pub(crate) const EMPTY: Self = Self {
        density: [0.0; L],
        velocity_in: [0.0; L],
        pressure: [0.0; L],
        sound: [0.0; L],
        gamma: [0.0; L],
        enthalpy: [0.0; L],
        y: [[0.0; L]; 2],
    };
}

/// The gas at one place in one lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasState {
    /// Pa
    pub pressure_pa: f64,
    /// K
    pub temperature_k: f64,
    /// m/s, positive from the beginning of the duct to its end
    pub velocity_m_s: f64,
    /// Mass fractions of the second and third species; 0 to 1, together at most 1.
    pub y: [f64; 2],
}
