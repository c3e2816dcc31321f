//! Friction and heat exchange with the walls of all cells, anew.

use super::dispatch::Lanes;
use super::state::{Primitive, Wall};
use super::vector::Vector;

/// How friction and heat exchange follow the gas.
pub(crate) trait WallLaw {
    /// For a cell, density (kg/m³), speed (m/s, not negative), temperature (K) and mass share of the third species: the first
    /// two figures of [`super::Duct::set_wall`]. To be inlined always.
    fn factors<V: Vector>(&self, cell: usize, density: V, speed: V, temperature: V, third: V) -> (V, V);
}

pub(super) struct Renew<'a, const L: usize, W> {
    pub(super) law: &'a W,
    pub(super) walls: &'a mut [Wall<L>],
    pub(super) primitives: &'a [Primitive<L>],
}

impl<const L: usize, W: WallLaw> Lanes<L> for Renew<'_, L, W> {
    type Found = ();

    #[inline(always)]
    fn compute<V: Vector>(self) {
        for (cell, (wall, rows)) in self.walls.iter_mut().zip(self.primitives).enumerate() {
            let mut at = 0;
            while at < L {
                let (density, speed) = (V::load(&rows.density, at), V::load(&rows.velocity, at).abs());
                let (t_k, third) = (V::load(&rows.temperature, at), V::load(&rows.y[1], at));
                let (friction, exchange) = self.law.factors(cell, density, speed, t_k, third);
                friction.store(&mut wall.friction_per_m, at);
                exchange.store(&mut wall.exchange_per_m, at);
                at += V::WIDTH;
            }
        }
    }
}
