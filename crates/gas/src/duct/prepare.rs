//! From conserved quantities to pressure, temperature and speed of sound, and the fastest wave.

use super::caloric::{Caloric, Near, fused};
use super::geometry::Shape;
use super::state::{Cell, Primitive};

/// Fastest wave over cell length in any cell and lane, 1/s; not a number when the state is broken.
#[inline(always)]
pub(crate) fn prepare<const L: usize, const F: bool>(
    gas: &Caloric,
    shapes: &[Shape],
    cells: &mut [Cell<L>],
    primitives: &mut [Primitive<L>],
) -> f64 {
    let (mut fastest, mut alarm) = ([0.0; L], [0.0; L]);
    for ((cell, to), shape) in cells.iter_mut().zip(primitives.iter_mut()).zip(shapes) {
        let per_length = 1.0 / shape.length_m;
        for l in 0..L {
            lane::<L, F>(gas, cell, to, l);
            let rate = (to.velocity[l].abs() + to.sound[l]) * per_length;
            fastest[l] = if rate > fastest[l] { rate } else { fastest[l] };
            // A broken number survives the sum, not the comparison.
            alarm[l] += 0.0 * rate;
        }
    }
    let worst = fastest.iter().fold(0.0f64, |worst, rate| worst.max(*rate));
    if alarm.iter().all(|sum| *sum == 0.0) { worst } else { f64::NAN }
}

#[inline(always)]
fn lane<const L: usize, const F: bool>(gas: &Caloric, cell: &mut Cell<L>, to: &mut Primitive<L>, l: usize) {
    let density = cell.density[l];
    let inverse = 1.0 / density;
    let u = cell.momentum[l] * inverse;
    let y = [cell.species[0][l] * inverse, cell.species[1][l] * inverse];
    let energy = fused::<F>(-0.5 * u, u, cell.energy[l] * inverse);
    let r = fused::<F>(gas.r[2], y[1], fused::<F>(gas.r[1], y[0], gas.r[0]));
    // One step of third order from the last temperature (Halley): the error is far below 0.1 K for a change of 50 K.
    let guess = cell.temperature[l];
    let near = Near::of::<F>(&gas.mixed::<F>(y), guess);
    let inverse_cv = 1.0 / near.cv;
    let newton = (energy - near.energy) * inverse_cv;
    let bend = near.cv_slope * inverse_cv;
    let change = newton * fused::<F>(-0.5 * newton, bend, 1.0);
    let found = guess + change;
    let temperature = if found > 0.2 * guess { found } else { 0.2 * guess };
    let change = temperature - guess;
    let gamma = fused::<F>(r * inverse_cv, fused::<F>(-change, bend, 1.0), 1.0);
    let rt = r * temperature;
    let inverse_rt = 1.0 / rt;
    cell.temperature[l] = temperature;
    to.density[l] = density;
    to.velocity[l] = u;
    to.pressure[l] = density * rt;
    to.ratio[l] = (energy + gas.lift_j_kg) * inverse_rt;
    (to.y[0][l], to.y[1][l]) = (y[0], y[1]);
    to.sound[l] = (gamma * rt).sqrt();
    to.gamma[l] = gamma;
    to.temperature[l] = temperature;
    to.inverse_density[l] = inverse;
    to.inverse_pressure[l] = inverse * inverse_rt;
    to.cp[l] = fused::<F>(near.cv_slope, change, near.cv) + r;
}
