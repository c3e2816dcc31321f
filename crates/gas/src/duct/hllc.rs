//! The flux through a face between two states: HLLC (Toro, Spruce and Speares 1994), which keeps contacts.

use super::steady::Flow;
use super::vector::Vector;

/// Flux: mass, momentum with pressure, energy, second and third species.
pub(crate) type Flux<V> = [V; 5];

/// One side of a face.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Side<V> {
    pub(crate) flow: Flow<V>,
    /// Speed of sound, m/s.
    pub(crate) sound: V,
}

/// Flux from left to right. Wave speeds are the extremes of both sides (Davis 1988), which need no averages.
///
/// Through the whole `area`. `lift_j_kg` is what the energy ratio counts beyond the gas's own energy.
#[inline(always)]
pub(crate) fn hllc<V: Vector>(left: &Side<V>, right: &Side<V>, lift_j_kg: V, area: V) -> Flux<V> {
    let (l, r) = (&left.flow, &right.flow);
    let slow = (l.velocity - left.sound).least(r.velocity - right.sound);
    let fast = (l.velocity + left.sound).most(r.velocity + right.sound);
    let through_left = l.density * (slow - l.velocity);
    let through_right = r.density * (fast - r.velocity);
    let push = through_left.fused(l.velocity, r.pressure - l.pressure) - through_right * r.velocity;
    let middle = push / (through_left - through_right);
    let edge = middle.plus_or(slow, fast);
    let (density, velocity) = (middle.plus_or(l.density, r.density), middle.plus_or(l.velocity, r.velocity));
    let (pressure, ratio) = (middle.plus_or(l.pressure, r.pressure), middle.plus_or(l.ratio, r.ratio));
    let y = [middle.plus_or(l.y[0], r.y[0]), middle.plus_or(l.y[1], r.y[1])];
    // When both waves run one way the face sees the undisturbed state.
    let inside = middle.plus_or(-slow, fast);
    let middle = inside.plus_or(middle, velocity);
    let through = density * (edge - velocity);
    let star = through.fused(middle - velocity, pressure);
    let kinetic = (V::of(0.5) * velocity).fused(velocity, -lift_j_kg);
    let energy = density.fused(kinetic, pressure * ratio);
    let carried = area * middle / (edge - middle);
    let mass = through * carried;
    let enthalpy = star.fused(edge, energy.fused(edge - velocity, -(pressure * velocity)));
    [mass, mass.fused(middle, area * star), enthalpy * carried, mass * y[0], mass * y[1]]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn side(density: f64, velocity: f64, pressure: f64) -> Side<f64> {
        let flow = Flow { density, velocity, pressure, ratio: 2.5, y: [0.25, 0.5] };
        Side { flow, sound: (1.4 * pressure / density).sqrt() }
    }

    #[test]
    fn exact_equal_states_give_the_flux_of_the_state() {
        for u in [-900.0, -30.0, 0.0, 30.0, 900.0] {
            let s = side(1.2, u, 1e5);
            let flux = hllc(&s, &s, 2e5, 1.0);
            let energy = 2.5e5 + 0.6 * u * u - 1.2 * 2e5;
            let exact = [1.2 * u, 1.2 * u * u + 1e5, u * (energy + 1e5), 0.3 * u, 0.6 * u];
            for (ours, theirs) in flux.iter().zip(exact) {
                assert!((ours - theirs).abs() <= 1e-12 * (theirs.abs() + 1e5), "{u}: {ours} {theirs}");
            }
        }
    }

    #[test]
    fn exact_a_resting_contact_stays() {
        let flux = hllc(&side(1.2, 0.0, 1e5), &side(0.3, 0.0, 1e5), 0.0, 1.0);
        assert_eq!(flux, [0.0, 1e5, 0.0, 0.0, 0.0]);
    }
}
