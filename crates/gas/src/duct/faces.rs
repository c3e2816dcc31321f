//! The states at both faces of one cell half a step on, and its sources.

use super::geometry::Shape;
use super::hllc::Side;
use super::state::{Primitive, Wall};
use super::steady::{Flow, Steady};
use super::vector::Vector;

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

/// What one cell gives.
pub(crate) struct Faces<V> {
    pub(crate) left: Side<V>,
    pub(crate) right: Side<V>,
    /// Force of walls on the gas, N
    pub(crate) force: V,
    /// Heat from the wall, W
    pub(crate) heat: V,
}

#[inline(always)]
fn flow_of<const L: usize, V: Vector>(rows: &Primitive<L>, at: usize) -> Flow<V> {
    Flow {
        density: V::load(&rows.density, at),
        velocity: V::load(&rows.velocity, at),
        pressure: V::load(&rows.pressure, at),
        ratio: V::load(&rows.ratio, at),
        y: [V::load(&rows.y[0], at), V::load(&rows.y[1], at)],
    }
}

/// Density and pressure at a face are held above this share of the cell's own, in case half a step empties it.
const LEAST_SHARE: f64 = 0.1;

/// Reconstructs and advances by half a step the lanes from `at` on. `T`: the cell or a neighbour tapers.
#[inline(always)]
pub(crate) fn faces<const L: usize, V: Vector, const T: bool>(here: &Here<'_, L>, at: usize) -> Faces<V> {
    let (shape, rows) = (here.shape, here.own);
    let own: Flow<V> = flow_of(rows, at);
    let steady = Steady::through(own, V::load(&rows.gamma, at), V::load(&rows.sound, at));
    let assumed = Assumed::<V, T> { steady: &steady, own, shape };
    let after = flow_of::<L, V>(here.after, at) - assumed.at(3);
    let before = assumed.at(0) - flow_of::<L, V>(here.before, at);
    // At an end the difference towards the only neighbour stands for both.
    let before_or = if here.first { after } else { before };
    let after_or = if here.last { before } else { after };
    let half_slope = before_or.limited_half(after_or);
    let half = half_step::<L, V, T>(here, &own, &half_slope, steady.imbalance, at);
    let (left, right) = (assumed.at(1), assumed.at(2));
    let volume = V::of(shape.volume_m3);
    let mut force = half.drag * volume;
    if T {
        let (from, to) = (V::of(shape.area_left_m2), V::of(shape.area_right_m2));
        let missing = own.density.fused(steady.imbalance, half.change.pressure);
        force = force + missing.fused(to - from, to * push(&right) - from * push(&left));
    }
    let least = [V::of(LEAST_SHARE) * own.density, V::of(LEAST_SHARE) * own.pressure];
    let to_left = left + half.change - half_slope;
    let to_right = right + half.change + half_slope;
    Faces {
        left: side(rows, to_left, &least, at),
        right: side(rows, to_right, &least, at),
        force,
        heat: half.heat * volume,
    }
}

/// The flow that is taken for steady, at the four places a cell looks at.
struct Assumed<'a, V, const T: bool> {
    steady: &'a Steady<V>,
    own: Flow<V>,
    shape: &'a Shape,
}

impl<V: Vector, const T: bool> Assumed<'_, V, T> {
    #[inline(always)]
    fn at(&self, place: usize) -> Flow<V> {
        if T { self.steady.at(self.shape.log_areas[place], self.shape.ratios[place]) } else { self.own }
    }
}

/// Pressure and momentum flux, Pa.
#[inline(always)]
fn push<V: Vector>(flow: &Flow<V>) -> V {
    (flow.density * flow.velocity).fused(flow.velocity, flow.pressure)
}

/// What half a step changes, and the sources at its end.
struct Half<V> {
    change: Flow<V>,
    /// N/m³
    drag: V,
    /// W/m³
    heat: V,
}

#[inline(always)]
fn half_step<const L: usize, V: Vector, const T: bool>(
    here: &Here<'_, L>,
    own: &Flow<V>,
    half_slope: &Flow<V>,
    imbalance: V,
    at: usize,
) -> Half<V> {
    let (rows, wall, one) = (here.own, here.wall, V::of(1.0));
    let gamma = V::load(&rows.gamma, at);
    let inverse_density = V::load(&rows.inverse_density, at);
    let inverse_pressure = V::load(&rows.inverse_pressure, at);
    let temperature = V::load(&rows.temperature, at);
    let friction = V::load(&wall.friction_per_m, at);
    let time = V::of(0.5 * here.step_s);
    // Of half slopes: twice the half step over the length.
    let along = V::of(here.step_s * here.shape.per_length);
    let u = own.velocity;
    let carry = along * u;
    let spread = along * half_slope.velocity;
    let pull = friction * u.abs() * u;
    let exchange = V::load(&wall.exchange_per_m, at) * V::load(&rows.cp, at);
    let warmer = V::load(&wall.temperature_k, at) - temperature;
    let warming = time * own.density * (u.abs() * exchange).fused(warmer, pull * u);
    let mut push = time * pull;
    if T {
        push = imbalance.fused(V::of(-0.5 * here.step_s * here.shape.widening_per_m), push);
    }
    let ratio_slope = (one - gamma).fused(own.ratio, one);
    let pressing = along * half_slope.pressure * inverse_density;
    let change = Flow {
        density: -carry.fused(half_slope.density, own.density * spread),
        velocity: -carry.fused(half_slope.velocity, pressing + push),
        pressure: (gamma - one)
            .fused(warming, -carry.fused(half_slope.pressure, gamma * own.pressure * spread)),
        ratio: ratio_slope.fused(warming.fused(inverse_pressure, -spread), -(carry * half_slope.ratio)),
        y: [-(carry * half_slope.y[0]), -(carry * half_slope.y[1])],
    };
    let (density, u) = (own.density + change.density, u + change.velocity);
    let risen = change.pressure.fused(inverse_pressure, -(change.density * inverse_density));
    let flow = density * u.abs();
    Half { change, drag: -(friction * flow * u), heat: exchange * flow * (-temperature).fused(risen, warmer) }
}

/// A face with its speed of sound, taken from the cell's to second order in the change of density: it only sets wave
/// speeds.
#[inline(always)]
fn side<const L: usize, V: Vector>(rows: &Primitive<L>, flow: Flow<V>, least: &[V; 2], at: usize) -> Side<V> {
    let minus_one = V::of(-1.0);
    let density = flow.density.most(least[0]);
    let pressure = flow.pressure.most(least[1]);
    let denser = density.fused(V::load(&rows.inverse_density, at), minus_one);
    let pressed = pressure.fused(V::load(&rows.inverse_pressure, at), minus_one);
    let hotter = denser.fused(denser, pressed - denser);
    let sound = V::load(&rows.sound, at);
    Side { flow: Flow { density, pressure, ..flow }, sound: (V::of(0.5) * sound).fused(hotter, sound) }
}
