//! One step of a duct's interior: reconstruction, half step, fluxes and update in one pass over the cells.
//!
//! MUSCL-Hancock in primitive variables, deviations from the local steady flow in tapers. Fluxes through the two ends
//! are left out; the states there come back, half a step on, for whoever knows what stands at the end.
#![allow(
    clippy::needless_range_loop,
    reason = "lanes are innermost in every array: the loop over them is the vector"
)]

use super::caloric::Caloric;
use super::dispatch::Lanes;
use super::faces::{Faces, Here, faces};
use super::geometry::Shape;
use super::hllc::{Flux, Side, hllc};
use super::state::{Cell, EndState, Primitive, Row, Wall};
use super::steady::Flow;
use super::vector::Vector;

/// What one pass works on; all slices have a row for each cell.
pub(crate) struct Work<'a, const L: usize> {
    pub(crate) gas: &'a Caloric,
    pub(crate) shapes: &'a [Shape],
    pub(crate) walls: &'a [Wall<L>],
    pub(crate) primitives: &'a [Primitive<L>],
    pub(crate) cells: &'a mut [Cell<L>],
    pub(crate) step_s: f64,
}

/// What the pass carries from one cell to the next.
#[repr(C, align(64))]
struct Carried<const L: usize> {
    /// State at the right face of the last cell: density, velocity, pressure, ratio, species, speed of sound.
    right: [Row<L>; 7],
    /// Flux through its left face, times area.
    entering: [Row<L>; 5],
    force: Row<L>,
    heat: Row<L>,
    /// Heat from the wall of all cells so far, W.
    warmed: Row<L>,
}

impl<const L: usize> Carried<L> {
    #[inline(always)]
    fn put<V: Vector>(&mut self, now: &Faces<V>, entering: &Flux<V>, at: usize) {
        let Side { flow, sound } = now.right;
        let right = [flow.density, flow.velocity, flow.pressure, flow.ratio, flow.y[0], flow.y[1], sound];
        for (row, value) in self.right.iter_mut().zip(right) {
            value.store(row, at);
        }
        for (row, value) in self.entering.iter_mut().zip(entering) {
            value.store(row, at);
        }
        now.force.store(&mut self.force, at);
        now.heat.store(&mut self.heat, at);
        (V::load(&self.warmed, at) + now.heat).store(&mut self.warmed, at);
    }

    #[inline(always)]
    fn right<V: Vector>(&self, at: usize) -> Side<V> {
        let rows = &self.right;
        let flow = Flow {
            density: V::load(&rows[0], at),
            velocity: V::load(&rows[1], at),
            pressure: V::load(&rows[2], at),
            ratio: V::load(&rows[3], at),
            y: [V::load(&rows[4], at), V::load(&rows[5], at)],
        };
        Side { flow, sound: V::load(&rows[6], at) }
    }

    /// Gives the last cell what enters, less what leaves it, and its sources.
    #[inline(always)]
    fn update<V: Vector>(&self, cell: &mut Cell<L>, leaving: &Flux<V>, scale: V, at: usize) {
        let change = V::load(&self.entering[0], at) - leaving[0];
        add(&mut cell.density, scale, change, at);
        let change = V::load(&self.entering[1], at) - leaving[1] + V::load(&self.force, at);
        add(&mut cell.momentum, scale, change, at);
        let change = V::load(&self.entering[2], at) - leaving[2] + V::load(&self.heat, at);
        add(&mut cell.energy, scale, change, at);
        let change = V::load(&self.entering[3], at) - leaving[3];
        add(&mut cell.species[0], scale, change, at);
        let change = V::load(&self.entering[4], at) - leaving[4];
        add(&mut cell.species[1], scale, change, at);
    }
}

#[inline(always)]
fn add<const L: usize, V: Vector>(row: &mut Row<L>, scale: V, change: V, at: usize) {
    scale.fused(change, V::load(row, at)).store(row, at);
}

/// What a pass finds: the states at both ends and the heat from the wall to all of the gas, W.
pub(crate) type Swept<const L: usize> = ([EndState<L>; 2], Row<L>);

impl<const L: usize> Lanes<L> for Work<'_, L> {
    type Found = Swept<L>;

    #[inline(always)]
    fn compute<V: Vector>(self) -> Swept<L> {
        sweep::<L, V>(self)
    }
}

/// Advances all cells by the fluxes between them and by the sources.
#[inline(always)]
fn sweep<const L: usize, V: Vector>(work: Work<'_, L>) -> Swept<L> {
    let Work { gas, shapes, walls, primitives, cells, step_s } = work;
    let n = cells.len().min(shapes.len()).min(walls.len()).min(primitives.len());
    let lift = gas.lift_j_kg;
    let mut carried = Carried {
        right: [[0.0; L]; 7],
        entering: [[0.0; L]; 5],
        force: [0.0; L],
        heat: [0.0; L],
        warmed: [0.0; L],
    };
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
        if i == 0 {
            begin::<L, V>(&here, &mut carried, &mut ends[0], lift);
        } else {
            let cell = &mut cells[i - 1];
            let scale = step_s / shapes[i - 1].volume_m3;
            if shapes[i].tapers {
                cross::<L, V, true>(&here, &mut carried, cell, scale, lift);
            } else {
                cross::<L, V, false>(&here, &mut carried, cell, scale, lift);
            }
        }
    }
    if let (Some(cell), Some(shape), Some(own)) = (cells.last_mut(), shapes.last(), primitives.last()) {
        let scale = step_s / shape.volume_m3;
        let mut at = 0;
        while at < L {
            carried.update::<V>(cell, &[V::of(0.0); 5], V::of(scale), at);
            put_end::<L, V>(&mut ends[1], &carried.right(at), own, lift, -1.0, at);
            at += V::WIDTH;
        }
    }
    (ends, carried.warmed)
}

/// The first cell: nothing is known of what enters.
#[inline(always)]
fn begin<const L: usize, V: Vector>(
    here: &Here<'_, L>,
    carried: &mut Carried<L>,
    end: &mut EndState<L>,
    lift: f64,
) {
    let mut at = 0;
    while at < L {
        let now = faces::<L, V, true>(here, at);
        put_end(end, &now.left, here.own, lift, 1.0, at);
        carried.put(&now, &[V::of(0.0); 5], at);
        at += V::WIDTH;
    }
}

/// Reconstructs one cell, finds the flux through its left face and finishes the cell before it.
#[inline(always)]
fn cross<const L: usize, V: Vector, const T: bool>(
    here: &Here<'_, L>,
    carried: &mut Carried<L>,
    cell: &mut Cell<L>,
    scale: f64,
    lift: f64,
) {
    let (area, lift, scale) = (V::of(here.shape.area_left_m2), V::of(lift), V::of(scale));
    let mut at = 0;
    while at < L {
        let now = faces::<L, V, T>(here, at);
        let flux = hllc(&carried.right(at), &now.left, lift, area);
        carried.update(cell, &flux, scale, at);
        carried.put(&now, &flux, at);
        at += V::WIDTH;
    }
}

/// The gas at an end.
#[inline(always)]
fn put_end<const L: usize, V: Vector>(
    end: &mut EndState<L>,
    side: &Side<V>,
    own: &Primitive<L>,
    lift: f64,
    inward: f64,
    at: usize,
) {
    let flow = &side.flow;
    let by_mass = flow.pressure / flow.density;
    let gamma = V::load(&own.gamma, at);
    flow.density.store(&mut end.density, at);
    (V::of(inward) * flow.velocity).store(&mut end.velocity_in, at);
    flow.pressure.store(&mut end.pressure, at);
    gamma.store(&mut end.gamma, at);
    (gamma * by_mass).sqrt().store(&mut end.sound, at);
    ((flow.ratio + V::of(1.0)) * by_mass - V::of(lift)).store(&mut end.enthalpy, at);
    flow.y[0].store(&mut end.y[0], at);
    flow.y[1].store(&mut end.y[1], at);
}
