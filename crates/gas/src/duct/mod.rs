//! Flow in one duct: geometry, state and step.
//!
//! Finite volumes, second order in space and time, conservative, exact at rest in any shape. Several lanes (the same
//! duct at different valve travels) are computed side by side. A step is taken in three parts:
//!
//! 1. [`Duct::prepare`] works out pressure, temperature and speed of sound, and gives the fastest wave;
//! 2. [`Duct::advance`] moves the interior on and leaves the states at both ends half a step on ([`Duct::end`]);
//! 3. [`Duct::close`] takes what flows through each end meanwhile, found by [`crate::end`].
//!
//! ```
//! use gas::duct::{Caloric, Duct, GasState, Geometry, Instructions, End};
//! use gas::end;
//! let air = Caloric::perfect(1.4, 287.0);
//! let geometry = Geometry::straight(1.0, 0.04, 100).expect("a duct");
//! let rest = GasState { pressure_pa: 1e5, temperature_k: 300.0, velocity_m_s: 0.0, y: [0.0; 2] };
//! let mut duct = Duct::<4>::new(geometry, &air, |_lane, _x_m| rest);
//! let set = Instructions::best();
//! let fastest_per_s = duct.prepare(&air, set);
//! let step_s = 0.8 / fastest_per_s;
//! duct.advance(&air, step_s, set);
//! for which in End::BOTH {
//!     let flux = end::closed(duct.end(which));
//!     duct.close(which, &flux, step_s);
//! }
//! ```

mod caloric;
mod dispatch;
mod faces;
mod geometry;
mod hllc;
mod limit;
mod pair;
mod prepare;
mod renew;
mod state;
mod steady;
mod sweep;
#[cfg(test)]
mod tests;
mod vector;
#[cfg(target_arch = "x86_64")]
mod wide;

pub use caloric::Caloric;
pub(crate) use caloric::mix;
pub use dispatch::Instructions;
pub(crate) use dispatch::Lanes;
pub use geometry::{Geometry, Section, ShapeError};
pub use state::{EndFlux, EndState, GasState, Row};

use prepare::Prepare;
pub(crate) use renew::WallLaw;
pub(crate) use state::pick;
use state::{Cell, Primitive, Wall};
use sweep::Work;
pub(crate) use vector::Vector;

/// One end of a duct.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Where distances are counted from.
    Begin,
    /// The other.
    Far,
}

impl End {
    /// Both, the beginning first.
    pub const BOTH: [Self; 2] = [Self::Begin, Self::Far];
}

/// What a duct holds in one lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Content {
    /// kg
    pub mass_kg: f64,
    /// Internal and kinetic, J.
    pub energy_j: f64,
    /// Second and third species, kg.
    pub species_kg: [f64; 2],
}

/// A duct and the gas in it, in `L` lanes.
#[derive(Debug, Clone)]
pub struct Duct<const L: usize> {
    geometry: Geometry,
    cells: Vec<Cell<L>>,
    primitives: Vec<Primitive<L>>,
    walls: Vec<Wall<L>>,
    ends: [EndState<L>; 2],
    warmed_w: Row<L>,
}

impl<const L: usize> Duct<L> {
    /// Fills a duct by lane and distance from its beginning in m; walls are smooth and let no heat through.
    pub fn new(geometry: Geometry, gas: &Caloric, fill: impl Fn(usize, f64) -> GasState) -> Self {
        let mut cells = Vec::with_capacity(geometry.cells());
        for shape in &geometry.shapes {
            let mut cell = Cell::EMPTY;
            for l in 0..L {
                cell.put(gas, l, &fill(l, shape.middle_m));
            }
            cells.push(cell);
        }
        let primitives = vec![Primitive::EMPTY; cells.len()];
        let walls = vec![Wall::SMOOTH; cells.len()];
        let mut duct =
            Self { geometry, cells, primitives, walls, ends: [EndState::EMPTY; 2], warmed_w: [0.0; L] };
        duct.prepare(gas, Instructions::PLAIN);
        duct
    }

    /// The same duct with some of the lanes only, between two steps.
    pub(crate) fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Duct<M> {
        Duct {
            geometry: self.geometry.clone(),
            cells: self.cells.iter().map(|cell| cell.gather(lanes)).collect(),
            // Worked out anew at the beginning of a step.
            primitives: vec![Primitive::EMPTY; self.primitives.len()],
            walls: self.walls.iter().map(|wall| wall.gather(lanes)).collect(),
            ends: [EndState::EMPTY; 2],
            warmed_w: pick(&self.warmed_w, lanes),
        }
    }

    /// The shape.
    pub fn geometry(&self) -> &Geometry {
        &self.geometry
    }

    /// Sets the wall of one cell in one lane: pressure loss per metre over `rho u |u|` (twice the Fanning factor over
    /// the diameter, bends spread over their length), four times the Stanton number over the diameter (both 1/m),
    /// and the wall's temperature in K. A cell or lane that is not there is passed over.
    pub fn set_wall(
        &mut self,
        cell: usize,
        lane: usize,
        friction_per_m: f64,
        exchange_per_m: f64,
        wall_k: f64,
    ) {
        if let Some(wall) = self.walls.get_mut(cell).filter(|_| lane < L) {
            wall.friction_per_m[lane] = friction_per_m;
            wall.exchange_per_m[lane] = exchange_per_m;
            wall.temperature_k[lane] = wall_k;
        }
    }

    /// Works out pressures and temperatures; gives the fastest wave over the cell length, 1/s, in any cell and lane,
    /// or not a number when the state is broken. A step may be up to 0.9 over that.
    pub fn prepare(&mut self, gas: &Caloric, set: Instructions) -> f64 {
        set.compute(Prepare {
            gas,
            shapes: &self.geometry.shapes,
            cells: &mut self.cells,
            primitives: &mut self.primitives,
        })
    }

    /// Advances the interior by a step in s; what flows through the ends is still to come by [`Duct::close`].
    pub fn advance(&mut self, gas: &Caloric, step_s: f64, set: Instructions) {
        (self.ends, self.warmed_w) = set.compute(Work {
            gas,
            shapes: &self.geometry.shapes,
            walls: &self.walls,
            primitives: &self.primitives,
            cells: &mut self.cells,
            step_s,
        });
    }

    /// The gas at one end half a step on, after [`Duct::advance`].
    pub fn end(&self, which: End) -> &EndState<L> {
        &self.ends[which as usize]
    }

    /// Heat that the wall gave to the gas of each lane in the last [`Duct::advance`], W; below zero when it took some.
    pub fn heat_from_wall_w(&self) -> &Row<L> {
        &self.warmed_w
    }

    /// Works out friction and heat exchange anew by a law from the gas as of the last [`Duct::prepare`].
    pub(crate) fn renew_walls(&mut self, law: &impl WallLaw, set: Instructions) {
        set.compute(renew::Renew { law, walls: &mut self.walls, primitives: &self.primitives });
    }

    /// Area of one end, m².
    pub fn end_area_m2(&self, which: End) -> f64 {
        match which {
            End::Begin => self.geometry.begin_area_m2(),
            End::Far => self.geometry.end_area_m2(),
        }
    }

    /// Lets a flux through one end for a step in s.
    pub fn close(&mut self, which: End, flux: &EndFlux<L>, step_s: f64) {
        let (cell, shape, area, inward) = match which {
            End::Begin => {
                (self.cells.first_mut(), self.geometry.shapes.first(), self.geometry.begin_area_m2(), 1.0)
            }
            End::Far => {
                (self.cells.last_mut(), self.geometry.shapes.last(), self.geometry.end_area_m2(), -1.0)
            }
        };
        let (Some(cell), Some(shape)) = (cell, shape) else { return };
        let scale = step_s * area / shape.volume_m3;
        for l in 0..L {
            cell.density[l] += scale * flux.mass[l];
            cell.momentum[l] += inward * scale * flux.momentum[l];
            cell.energy[l] += scale * flux.energy[l];
            cell.species[0][l] += scale * flux.species[0][l];
            cell.species[1][l] += scale * flux.species[1][l];
        }
    }

    /// The gas in a cell in one lane, as of the last [`Duct::prepare`]; `None` for a cell or lane that is not there.
    pub fn gas(&self, cell: usize, lane: usize) -> Option<GasState> {
        let rows = self.primitives.get(cell).filter(|_| lane < L)?;
        Some(GasState {
            pressure_pa: rows.pressure[lane],
            temperature_k: rows.temperature[lane],
            velocity_m_s: rows.velocity[lane],
            y: [rows.y[0][lane], rows.y[1][lane]],
        })
    }

    /// Density in kg/m³ of a cell in one lane, as of the last [`Duct::prepare`].
    pub fn density_kg_m3(&self, cell: usize, lane: usize) -> Option<f64> {
        self.primitives.get(cell).filter(|_| lane < L).map(|rows| rows.density[lane])
    }

    /// Fastest wave over the cell length in one lane, 1/s, as of the last [`Duct::prepare`]; infinite when the lane's state
    /// is broken or there is no such lane.
    pub fn fastest_per_s(&self, lane: usize) -> f64 {
        let rate = |(rows, shape): (&Primitive<L>, &geometry::Shape)| {
            (rows.velocity[lane].abs() + rows.sound[lane]) * shape.per_length
        };
        let rates = self.primitives.iter().zip(&self.geometry.shapes).filter(|_| lane < L).map(rate);
        rates
            .fold(None, |most: Option<f64>, rate| {
                Some(if rate.is_nan() { f64::INFINITY } else { most.unwrap_or(0.0).max(rate) })
            })
            .unwrap_or(f64::INFINITY)
    }

    /// Replaces the gas of one lane, by distance from the beginning in m.
    pub fn refill(&mut self, gas: &Caloric, lane: usize, fill: impl Fn(f64) -> GasState) {
        if lane < L {
            for (cell, shape) in self.cells.iter_mut().zip(&self.geometry.shapes) {
                cell.put(gas, lane, &fill(shape.middle_m));
            }
        }
    }

    /// Replaces the gas of one lane, cell by cell.
    pub(crate) fn refill_cells(&mut self, gas: &Caloric, lane: usize, states: &[GasState]) {
        if lane < L {
            for (cell, state) in self.cells.iter_mut().zip(states) {
                cell.put(gas, lane, state);
            }
        }
    }

    /// What the duct holds in one lane; zero for a lane that is not there.
    pub fn content(&self, lane: usize) -> Content {
        let mut sum = Content { mass_kg: 0.0, energy_j: 0.0, species_kg: [0.0; 2] };
        for (cell, shape) in self.cells.iter().zip(&self.geometry.shapes).filter(|_| lane < L) {
            sum.mass_kg += cell.density[lane] * shape.volume_m3;
            sum.energy_j += cell.energy[lane] * shape.volume_m3;
            sum.species_kg[0] += cell.species[0][lane] * shape.volume_m3;
            sum.species_kg[1] += cell.species[1][lane] * shape.volume_m3;
        }
        sum
    }
}
