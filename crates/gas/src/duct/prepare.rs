//! From conserved quantities to pressure, temperature and speed of sound, and the fastest wave.

use super::caloric::{Caloric, mix};
use super::dispatch::Lanes;
use super::geometry::Shape;
use super::state::{Cell, Primitive};
use super::vector::Vector;

/// What is worked out of what; all slices have a row for each cell.
pub(crate) struct Prepare<'a, const L: usize> {
    pub(crate) gas: &'a Caloric,
    pub(crate) shapes: &'a [Shape],
    pub(crate) cells: &'a mut [Cell<L>],
    pub(crate) primitives: &'a mut [Primitive<L>],
}

impl<const L: usize> Lanes<L> for Prepare<'_, L> {
    /// Fastest wave over cell length in any cell and lane, 1/s; not a number when the state is broken.
    type Found = f64;

    #[inline(always)]
    fn compute<V: Vector>(self) -> f64 {
        prepare::<L, V>(self)
    }
}

#[inline(always)]
fn prepare<const L: usize, V: Vector>(work: Prepare<'_, L>) -> f64 {
    let Prepare { gas, shapes, cells, primitives } = work;
    let (mut fastest, mut alarm) = (V::of(0.0), V::of(0.0));
    for ((cell, to), shape) in cells.iter_mut().zip(primitives.iter_mut()).zip(shapes) {
        let per_length = V::of(shape.per_length);
        let mut at = 0;
        while at < L {
            let speed: V = lanes(gas, cell, to, at);
            let rate = speed * per_length;
            fastest = fastest.most(rate);
            // A broken number survives the sum, not the comparison.
            alarm = V::of(0.0).fused(rate, alarm);
            at += V::WIDTH;
        }
    }
    let (mut rates, mut alarms) = ([0.0; 8], [0.0; 8]);
    fastest.store(&mut rates, 0);
    alarm.store(&mut alarms, 0);
    if alarms.iter().all(|sum| *sum == 0.0) {
        rates.iter().fold(0.0, |worst, rate| rate.max(worst))
    } else {
        f64::NAN
    }
}

/// Lanes from `at` on; gives their fastest waves, m/s.
#[inline(always)]
fn lanes<const L: usize, V: Vector>(
    gas: &Caloric,
    cell: &mut Cell<L>,
    to: &mut Primitive<L>,
    at: usize,
) -> V {
    let one = V::of(1.0);
    let density = V::load(&cell.density, at);
    let inverse = one / density;
    let u = V::load(&cell.momentum, at) * inverse;
    let y = [V::load(&cell.species[0], at) * inverse, V::load(&cell.species[1], at) * inverse];
    let energy = V::load(&cell.energy, at).fused(inverse, -(V::of(0.5) * u * u));
    let r = mix(&gas.r, y);
    // One step of third order from the last temperature (Halley): the error is far below 0.1 K for a change of 50 K.
    let guess = V::load(&cell.temperature, at);
    let near = gas.near(y, guess);
    let inverse_cv = one / near.cv;
    let newton = (energy - near.energy) * inverse_cv;
    let bend = near.cv_slope * inverse_cv;
    let found = newton.fused((V::of(-0.5) * newton).fused(bend, one), guess);
    let temperature = found.most(V::of(0.2) * guess);
    let change = temperature - guess;
    let gamma = (r * inverse_cv).fused((-change).fused(bend, one), one);
    let rt = r * temperature;
    let inverse_rt = one / rt;
    let sound = (gamma * rt).sqrt();
    temperature.store(&mut cell.temperature, at);
    density.store(&mut to.density, at);
    u.store(&mut to.velocity, at);
    (density * rt).store(&mut to.pressure, at);
    ((energy + V::of(gas.lift_j_kg)) * inverse_rt).store(&mut to.ratio, at);
    y[0].store(&mut to.y[0], at);
    y[1].store(&mut to.y[1], at);
    sound.store(&mut to.sound, at);
    gamma.store(&mut to.gamma, at);
    temperature.store(&mut to.temperature, at);
    inverse.store(&mut to.inverse_density, at);
    (inverse * inverse_rt).store(&mut to.inverse_pressure, at);
    (near.cv_slope.fused(change, near.cv) + r).store(&mut to.cp, at);
    u.abs() + sound
}
