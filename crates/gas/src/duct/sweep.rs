//! One step of a duct's interior: reconstruction, half step, fluxes and update in one pass over the cells.
//!
//! MUSCL-Hancock in primitive variables, deviations from the local steady flow in tapers. Fluxes through the two ends
//! are left out; the states there come back, half a step on, for whoever knows what stands at the end.
#![allow(
    clippy::needless_range_loop,
    reason = "lanes are innermost in every array: the loop over them is the vector"
)]

use super::caloric::{Caloric, fused};
use super::faces::{Faces, Here, faces};
use super::geometry::Shape;
use super::hllc::{Side, hllc};
use super::state::{Cell, EndState, Primitive, Row, Wall};
use super::steady::Flow;

/// What one pass works on; all slices have a row for each cell.
pub(crate) struct Work<'a, const L: usize> {
    pub(crate) gas: &'a Caloric,
    pub(crate) shapes: &'a [Shape],
    pub(crate) walls: &'a [Wall<L>],
    pub(crate) primitives: &'a [Primitive<L>],
    pub(crate) cells: &'a mut [Cell<L>],
    pub(crate) step_s: f64,
}

/// Flux times area through one face: mass, momentum, energy, species.
type Through<const L: usize> = [Row<L>; 5];

/// Advances all cells by the fluxes between them and by the sources; gives the states at both ends.
#[inline(always)]
pub(crate) fn sweep<const L: usize, const F: bool>(work: Work<'_, L>) -> [EndState<L>; 2] {
    let Work { gas, shapes, walls, primitives, cells, step_s } = work;
    let n = cells.len().min(shapes.len()).min(walls.len()).min(primitives.len());
    let lift = gas.lift_j_kg;
    let mut before = Faces::<L>::EMPTY;
    let mut entering: Through<L> = [[0.0; L]; 5];
    let mut ends = [EndState::EMPTY; 2];
    for i in 0..n {
        let here = Here {
            shape: &shapes[i],
            wall: &walls[i],
            before: &primitives[i.saturating_sub(1)],
            own: &primitives[i],
            after: &primitives[(i + 1).min(n - 1)],
            first: i == 0,
            last: i + 1 == n,
            step_s,
        };
        let now = if shapes[i].tapers { faces::<L, F, true>(&here) } else { faces::<L, F, false>(&here) };
        if i == 0 {
            ends[0] = end_state(&now.left, here.own, lift, 1.0);
        } else {
            let leaving = cross::<L, F>(&before, &now, shapes[i].area_left_m2, lift);
            update::<L, F>(&mut cells[i - 1], &entering, &leaving, &before, step_s / shapes[i - 1].volume_m3);
            entering = leaving;
        }
        before = now;
    }
    if let (Some(cell), Some(shape), Some(own)) = (cells.last_mut(), shapes.last(), primitives.last()) {
        update::<L, F>(cell, &entering, &[[0.0; L]; 5], &before, step_s / shape.volume_m3);
        ends[1] = end_state(&before.right, own, lift, -1.0);
    }
    ends
}

#[inline(always)]
fn side<const L: usize>(rows: &[Row<L>; 7], l: usize) -> Side {
    let flow = Flow {
        density: rows[0][l],
        velocity: rows[1][l],
        pressure: rows[2][l],
        ratio: rows[3][l],
        y: [rows[4][l], rows[5][l]],
    };
    Side { flow, sound: rows[6][l] }
}

#[inline(always)]
fn cross<const L: usize, const F: bool>(
    before: &Faces<L>,
    now: &Faces<L>,
    area_m2: f64,
    lift: f64,
) -> Through<L> {
    let mut through = [[0.0; L]; 5];
    for l in 0..L {
        let flux = hllc::<F>(&side(&before.right, l), &side(&now.left, l), lift);
        for k in 0..5 {
            through[k][l] = flux[k] * area_m2;
        }
    }
    through
}

#[inline(always)]
fn update<const L: usize, const F: bool>(
    cell: &mut Cell<L>,
    entering: &Through<L>,
    leaving: &Through<L>,
    own: &Faces<L>,
    scale: f64,
) {
    for l in 0..L {
        let change = |k: usize| entering[k][l] - leaving[k][l];
        cell.density[l] = fused::<F>(scale, change(0), cell.density[l]);
        cell.momentum[l] = fused::<F>(scale, change(1) + own.force[l], cell.momentum[l]);
        cell.energy[l] = fused::<F>(scale, change(2) + own.heat[l], cell.energy[l]);
        cell.species[0][l] = fused::<F>(scale, change(3), cell.species[0][l]);
        cell.species[1][l] = fused::<F>(scale, change(4), cell.species[1][l]);
    }
}

#[inline(always)]
fn end_state<const L: usize>(rows: &[Row<L>; 7], own: &Primitive<L>, lift: f64, inward: f64) -> EndState<L> {
    let mut end = EndState::EMPTY;
    for l in 0..L {
        let Side { flow, .. } = side(rows, l);
        let by_mass = flow.pressure / flow.density;
        end.density[l] = flow.density;
        end.velocity_in[l] = inward * flow.velocity;
        end.pressure[l] = flow.pressure;
        end.gamma[l] = own.gamma[l];
        end.sound[l] = (own.gamma[l] * by_mass).sqrt();
        end.enthalpy[l] = (flow.ratio + 1.0) * by_mass - lift;
        (end.y[0][l], end.y[1][l]) = (flow.y[0], flow.y[1]);
    }
    end
}
