//! The states at both faces of one cell half a step on, and its sources.

use super::caloric::fused;
use super::geometry::Shape;
use super::limit::limited;
use super::state::{Primitive, Row, Wall};
use super::steady::{Flow, Steady};

/// One cell with its neighbours.
pub(crate) struct Here<'a, const L: usize> {
    pub(crate) shape: &'a Shape,
    pub(crate) wall: &'a Wall<L>,
    pub(crate) before: &'a Primitive<L>,
    pub(crate) own: &'a Primitive<L>,
    pub(crate) after: &'a Primitive<L>,
    pub(crate) first: bool,
    pub(crate) last: bool,
    pub(crate) step_s: f64,
}

/// States at the left and right face (density, velocity, pressure, ratio, species, speed of sound) and the sources.
#[derive(Clone, Copy)]
#[repr(C, align(64))]
pub(crate) struct Faces<const L: usize> {
    pub(crate) left: [Row<L>; 7],
    pub(crate) right: [Row<L>; 7],
    /// Force of walls on the gas, N
    pub(crate) force: Row<L>,
    /// Heat from the wall, W
    pub(crate) heat: Row<L>,
}

impl<const L: usize> Faces<L> {
    pub(crate) const EMPTY: Self =
        Self { left: [[0.0; L]; 7], right: [[0.0; L]; 7], force: [0.0; L], heat: [0.0; L] };

    #[inline(always)]
    fn put(rows: &mut [Row<L>; 7], l: usize, flow: &Flow, sound: f64) {
        rows[0][l] = flow.density;
        rows[1][l] = flow.velocity;
        rows[2][l] = flow.pressure;
        rows[3][l] = flow.ratio;
        (rows[4][l], rows[5][l]) = (flow.y[0], flow.y[1]);
        rows[6][l] = sound;
    }
}

#[inline(always)]
fn flow_of<const L: usize>(rows: &Primitive<L>, l: usize) -> Flow {
    Flow {
        density: rows.density[l],
        velocity: rows.velocity[l],
        pressure: rows.pressure[l],
        ratio: rows.ratio[l],
        y: [rows.y[0][l], rows.y[1][l]],
    }
}

/// A face state is given up for the cell's own when density, pressure or energy ratio fall below this share of it.
const LEAST_SHARE: f64 = 0.1;

/// Reconstructs and advances by half a step. `T`: the cell or a neighbour tapers.
#[inline(always)]
pub(crate) fn faces<const L: usize, const F: bool, const T: bool>(here: &Here<'_, L>) -> Faces<L> {
    let mut out = Faces::EMPTY;
    for l in 0..L {
        lane::<L, F, T>(here, &mut out, l);
    }
    out
}

#[inline(always)]
fn lane<const L: usize, const F: bool, const T: bool>(here: &Here<'_, L>, out: &mut Faces<L>, l: usize) {
    let (shape, rows) = (here.shape, here.own);
    let own = flow_of(rows, l);
    let gamma = rows.gamma[l];
    let steady = Steady::through::<F>(own, gamma, rows.sound[l]);
    let at = |place: usize| {
        if T { steady.at::<F>(shape.log_areas[place], shape.ratios[place]) } else { own }
    };
    let after = flow_of(here.after, l).map(&at(3), |there, assumed| there - assumed);
    let before = at(0).map(&flow_of(here.before, l), |assumed, there| assumed - there);
    let slope = before.map(&after, |before, after| {
        // At an end the difference towards the only neighbour stands for both.
        let before_or = if here.first { after } else { before };
        let after_or = if here.last { before } else { after };
        limited(before_or, after_or)
    });
    let half = half_step::<L, F, T>(here, &own, &slope, steady.imbalance, l);
    let (left, right) = (at(1), at(2));
    let to_left =
        left.map(&slope, |flow, slope| fused::<F>(-0.5, slope, flow)).map(&half.change, |a, b| a + b);
    let to_right =
        right.map(&slope, |flow, slope| fused::<F>(0.5, slope, flow)).map(&half.change, |a, b| a + b);
    let sane = |flow: &Flow| {
        (flow.density > LEAST_SHARE * own.density)
            & (flow.pressure > LEAST_SHARE * own.pressure)
            & (flow.ratio > LEAST_SHARE * own.ratio)
    };
    let keep = sane(&to_left) & sane(&to_right);
    let left_or = to_left.map(&left, |new, own| if keep { new } else { own });
    let right_or = to_right.map(&right, |new, own| if keep { new } else { own });
    Faces::put(&mut out.left, l, &left_or, sound_near::<L, F>(rows, &left_or, l));
    Faces::put(&mut out.right, l, &right_or, sound_near::<L, F>(rows, &right_or, l));
    let mut force = half.drag * shape.volume_m3;
    if T {
        let push = |area: f64, flow: &Flow| {
            area * fused::<F>(flow.density * flow.velocity, flow.velocity, flow.pressure)
        };
        let widening = shape.area_right_m2 - shape.area_left_m2;
        let through = push(shape.area_right_m2, &right) - push(shape.area_left_m2, &left);
        let missing = if keep { half.change.pressure } else { 0.0 };
        force += fused::<F>(fused::<F>(own.density, steady.imbalance, missing), widening, through);
    }
    out.force[l] = force;
    out.heat[l] = half.heat * shape.volume_m3;
}

/// What half a step changes, and the sources at its end.
struct Half {
    change: Flow,
    /// N/m³
    drag: f64,
    /// W/m³
    heat: f64,
}

#[inline(always)]
fn half_step<const L: usize, const F: bool, const T: bool>(
    here: &Here<'_, L>,
    own: &Flow,
    slope: &Flow,
    imbalance: f64,
    l: usize,
) -> Half {
    let (rows, wall) = (here.own, here.wall);
    let gamma = rows.gamma[l];
    let time = 0.5 * here.step_s;
    let along = time / here.shape.length_m;
    let u = own.velocity;
    let carry = along * u;
    let spread = along * slope.velocity;
    let drag_by_mass = -wall.friction_per_m[l] * u * u.abs();
    let heat = wall.exchange_per_m[l]
        * own.density
        * u.abs()
        * rows.cp[l]
        * (wall.temperature_k[l] - rows.temperature[l]);
    let warming = time * fused::<F>(-own.density * drag_by_mass, u, heat);
    let mut push = time * drag_by_mass;
    if T {
        let widening = (here.shape.area_right_m2 - here.shape.area_left_m2) / here.shape.volume_m3;
        push = fused::<F>(time * imbalance, widening, push);
    }
    let ratio_slope = fused::<F>(1.0 - gamma, own.ratio, 1.0);
    let change = Flow {
        density: -fused::<F>(carry, slope.density, own.density * spread),
        velocity: push - fused::<F>(carry, slope.velocity, along * slope.pressure * rows.inverse_density[l]),
        pressure: fused::<F>(
            gamma - 1.0,
            warming,
            -fused::<F>(carry, slope.pressure, gamma * own.pressure * spread),
        ),
        ratio: fused::<F>(
            ratio_slope,
            fused::<F>(warming, rows.inverse_pressure[l], -spread),
            -carry * slope.ratio,
        ),
        y: [-carry * slope.y[0], -carry * slope.y[1]],
    };
    let (density, u) = (own.density + change.density, u + change.velocity);
    let warmer =
        fused::<F>(change.pressure, rows.inverse_pressure[l], -change.density * rows.inverse_density[l]);
    let temperature = fused::<F>(rows.temperature[l], warmer, rows.temperature[l]);
    let flow = density * u.abs();
    Half {
        change,
        drag: -wall.friction_per_m[l] * flow * u,
        heat: wall.exchange_per_m[l] * flow * rows.cp[l] * (wall.temperature_k[l] - temperature),
    }
}

/// Speed of sound at a face from the cell's, to second order in the change of density; it only sets wave speeds.
#[inline(always)]
fn sound_near<const L: usize, const F: bool>(rows: &Primitive<L>, face: &Flow, l: usize) -> f64 {
    let denser = fused::<F>(face.density, rows.inverse_density[l], -1.0);
    let pressed = fused::<F>(face.pressure, rows.inverse_pressure[l], -1.0);
    let hotter = fused::<F>(denser, denser, pressed - denser);
    rows.sound[l] * fused::<F>(0.5, hotter, 1.0)
}
