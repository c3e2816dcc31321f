//! The flux through a face between two states: HLLC (Toro, Spruce and Speares 1994), which keeps contacts.

use super::caloric::fused;
use super::steady::Flow;

/// Flux by area: mass, momentum with pressure, energy, second and third species.
pub(crate) type Flux = [f64; 5];

/// One side of a face.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Side {
    pub(crate) flow: Flow,
    /// Speed of sound, m/s.
    pub(crate) sound: f64,
}

/// Flux from left to right. Wave speeds are the extremes of both sides (Davis 1988), which need no averages.
///
/// `lift_j_kg` is what the energy ratio counts beyond the gas's own energy.
#[inline(always)]
pub(crate) fn hllc<const F: bool>(left: &Side, right: &Side, lift_j_kg: f64) -> Flux {
    let (l, r) = (&left.flow, &right.flow);
    let (one, two) = (l.velocity - left.sound, r.velocity - right.sound);
    let slow = if one < two { one } else { two };
    let (one, two) = (l.velocity + left.sound, r.velocity + right.sound);
    let fast = if one > two { one } else { two };
    let through_left = l.density * (slow - l.velocity);
    let through_right = r.density * (fast - r.velocity);
    let push =
        fused::<F>(-through_right, r.velocity, fused::<F>(through_left, l.velocity, r.pressure - l.pressure));
    let middle = push / (through_left - through_right);
    let upwind = middle >= 0.0;
    let pick = |a: f64, b: f64| if upwind { a } else { b };
    let edge = pick(slow, fast);
    let (density, velocity) = (pick(l.density, r.density), pick(l.velocity, r.velocity));
    let (pressure, ratio) = (pick(l.pressure, r.pressure), pick(l.ratio, r.ratio));
    let y = [pick(l.y[0], r.y[0]), pick(l.y[1], r.y[1])];
    // When both waves run one way the face sees the undisturbed state.
    let beyond = pick(-slow, fast) <= 0.0;
    let middle = if beyond { velocity } else { middle };
    let through = pick(through_left, through_right);
    let star = fused::<F>(through, middle - velocity, pressure);
    let energy = fused::<F>(density, fused::<F>(0.5 * velocity, velocity, -lift_j_kg), pressure * ratio);
    let carried = middle / (edge - middle);
    let mass = through * carried;
    let enthalpy = fused::<F>(star, edge, fused::<F>(energy, edge - velocity, -pressure * velocity));
    [mass, fused::<F>(mass, middle, star), enthalpy * carried, mass * y[0], mass * y[1]]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn side(density: f64, velocity: f64, pressure: f64) -> Side {
        let flow = Flow { density, velocity, pressure, ratio: 2.5, y: [0.25, 0.5] };
        Side { flow, sound: (1.4 * pressure / density).sqrt() }
    }

    #[test]
    fn exact_equal_states_give_the_flux_of_the_state() {
        for u in [-900.0, -30.0, 0.0, 30.0, 900.0] {
            let s = side(1.2, u, 1e5);
            let flux = hllc::<false>(&s, &s, 2e5);
            let energy = 2.5e5 + 0.6 * u * u - 1.2 * 2e5;
            let exact = [1.2 * u, 1.2 * u * u + 1e5, u * (energy + 1e5), 0.3 * u, 0.6 * u];
            for (ours, theirs) in flux.iter().zip(exact) {
                assert!((ours - theirs).abs() <= 1e-12 * (theirs.abs() + 1e5), "{u}: {ours} {theirs}");
            }
        }
    }

    #[test]
    fn exact_a_resting_contact_stays() {
        let flux = hllc::<false>(&side(1.2, 0.0, 1e5), &side(0.3, 0.0, 1e5), 0.0);
        assert_eq!(flux, [0.0, 1e5, 0.0, 0.0, 0.0]);
    }
}
