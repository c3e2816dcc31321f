//! Friction and heat exchange of the ducts' walls.

use super::model::Piece;
use crate::duct::{Duct, Geometry, Instructions, Vector, WallLaw};
use crate::gas::viscosity_of;

/// Below this Reynolds number the factors are held: friction hardly matters there.
const LEAST_REYNOLDS: f64 = 2300.0;
/// Blasius 1913, see [`crate::loss::Friction::Blasius`]: Fanning factor times Re^0.25.
const BLASIUS: f64 = 0.0791;
/// Depcik and Assanis, see [`crate::loss::Nusselt::DepcikAssanis`]: Nusselt number over Re^0.75.
const DEPCIK_ASSANIS: f64 = 0.07;
/// Prandtl number of air and of burned gas.
const PRANDTL: f64 = 0.7;

/// What the walls of one duct need to know of its shape.
#[derive(Debug, Clone)]
pub(crate) struct Walls {
    cells: Vec<CellWall>,
}

#[derive(Debug, Clone, Copy)]
struct CellWall {
    diameter_m: f64,
    per_diameter: f64,
    bend_per_m: f64,
    wall_k: f64,
}

impl Walls {
    /// For a duct cut out of these pieces.
    pub(crate) fn of(geometry: &Geometry, pieces: &[Piece]) -> Self {
        let cell = |at: usize| {
            let piece = pieces.get(geometry.section_of(at));
            CellWall {
                diameter_m: geometry.diameter_m(at),
                per_diameter: 1.0 / geometry.diameter_m(at),
                bend_per_m: piece.map_or(0.0, |piece| 0.5 * piece.bend_heads / piece.section.length_m),
                wall_k: piece.map_or(300.0, |piece| piece.wall_k),
            }
        };
        Self { cells: (0..geometry.cells()).map(cell).collect() }
    }

    /// Sets the walls' temperatures; neither friction nor heat yet.
    pub(crate) fn stand<const L: usize>(&self, duct: &mut Duct<L>) {
        for (at, cell) in self.cells.iter().enumerate() {
            for lane in 0..L {
                duct.set_wall(at, lane, 0.0, 0.0, cell.wall_k);
            }
        }
    }

    /// Friction and heat exchange from the gas as it is now.
    pub(crate) fn renew<const L: usize>(&self, duct: &mut Duct<L>, set: Instructions) {
        duct.renew_walls(self, set);
    }
}

impl WallLaw for Walls {
    /// Both laws go with Re^-0.25 here: two roots for both.
    #[inline(always)]
    fn factors<V: Vector>(&self, cell: usize, density: V, speed: V, temperature: V, third: V) -> (V, V) {
        let cell = &self.cells[cell];
        let (one, per_diameter) = (V::of(1.0), V::of(cell.per_diameter));
        let reynolds = density * speed * V::of(cell.diameter_m) / viscosity_of(temperature, third);
        let quarter = one / reynolds.most(V::of(LEAST_REYNOLDS)).sqrt().sqrt() * per_diameter;
        let friction = V::of(2.0 * BLASIUS).fused(quarter, V::of(cell.bend_per_m));
        (friction, V::of(4.0 * DEPCIK_ASSANIS / PRANDTL) * quarter)
    }
}
