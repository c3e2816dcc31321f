//! A plate or slide that leaves part of a duct open, quasi-steady: the ducts before and behind it are solved together.
//!
//! Before it the gas contracts without loss to the open area, or runs at the speed of sound there; behind it the jet's
//! kinetic energy is lost (the constant-pressure model of Benson 1982, as at a port). Which way the gas goes follows from
//! the pressures with which it would stand still at a shut plate.

use super::orifice::{SHUT, out_of};
use super::root::root;
use super::wave::Near;
use crate::duct::{EndFlux, EndState};

/// Relative width to which the pressure behind the plate is found.
const NARROW: f64 = 1e-12;

/// Fluxes into two ducts of one area at a plate that leaves `share` (0 to 1) of it open.
pub fn plate<const L: usize>(one: &EndState<L>, two: &EndState<L>, share: f64) -> [EndFlux<L>; 2] {
    let mut fluxes = [EndFlux::NONE; 2];
    for l in 0..L {
        let nears = [Near::of(one, l), Near::of(two, l)];
        let still = [nears[0].pressure_at(0.0), nears[1].pressure_at(0.0)];
        let [first, second] = &mut fluxes;
        if share <= SHUT || still[0] == still[1] {
            (first.momentum[l], second.momentum[l]) = (still[0], still[1]);
        } else if still[0] > still[1] {
            let through = Through::of([&nears[0], &nears[1]], [still[0], still[1]], share);
            through.put([first, second], one, l);
        } else {
            let through = Through::of([&nears[1], &nears[0]], [still[1], still[0]], share);
            through.put([second, first], two, l);
        }
    }
    fluxes
}

/// What flows, by the area of the ducts.
struct Through {
    /// kg/(m² s)
    mass: f64,
    /// Pressure and momentum flux before and behind the plate, Pa.
    push: [f64; 2],
    /// Total enthalpy over the enthalpy of the gas before the plate as it was, J/kg.
    warmer: f64,
}

impl Through {
    /// From the first duct to the second, given the pressures with which the gas of each would stand still.
    fn of([from, to]: [&Near; 2], still: [f64; 2], share: f64) -> Self {
        let by_mass = from.gamma / (from.gamma - 1.0);
        // State before the plate, mass flux, total `cp T` and velocity behind the plate at a pressure there.
        let at = |pressure: f64| {
            let before = out_of(from, pressure, share.min(1.0));
            let mass = -before.mass;
            let density = from.behind(before.pressure).density;
            let heat = by_mass * before.pressure / density + 0.5 * before.velocity_in * before.velocity_in;
            (before, mass, heat, velocity(by_mass * pressure, mass, heat))
        };
        let miss = |pressure: f64| to.behind(pressure).velocity_in - at(pressure).3;
        let pressure = root(miss, still[1], still[0], NARROW * still[0]);
        let (before, mass, heat, velocity) = at(pressure);
        Self {
            mass,
            push: [before.pressure - mass * before.velocity_in, pressure + mass * velocity],
            warmer: heat - by_mass * from.pressure / from.density,
        }
    }

    fn put<const L: usize>(&self, [from, to]: [&mut EndFlux<L>; 2], gas: &EndState<L>, l: usize) {
        let energy = self.mass * (gas.enthalpy[l] + self.warmer);
        (from.mass[l], to.mass[l]) = (-self.mass, self.mass);
        (from.momentum[l], to.momentum[l]) = (self.push[0], self.push[1]);
        (from.energy[l], to.energy[l]) = (-energy, energy);
        for s in 0..2 {
            let species = self.mass * gas.y[s][l];
            (from.species[s][l], to.species[s][l]) = (-species, species);
        }
    }
}

/// Velocity behind the plate of a mass flux, by energy alone (the jet mixes without heat): `still` is `cp/R` times the
/// pressure there, `heat` the total `cp T`.
fn velocity(still: f64, mass: f64, heat: f64) -> f64 {
    2.0 * mass * heat / (still + (still * still + 2.0 * mass * mass * heat).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Air in two lanes; velocity into the duct.
    fn end(pressure: f64, temperature: f64, velocity_in: f64) -> EndState<2> {
        EndState {
            density: [pressure / (287.0 * temperature); 2],
            velocity_in: [velocity_in; 2],
            pressure: [pressure; 2],
            sound: [(1.4 * 287.0 * temperature).sqrt(); 2],
            gamma: [1.4; 2],
            enthalpy: [1004.5 * temperature; 2],
            y: [[0.02; 2], [0.1; 2]],
        }
    }

    #[test]
    fn exact_wide_open_it_is_not_there() {
        let (one, two) = (end(1e5, 300.0, -40.0), end(1e5, 300.0, 40.0));
        let [from, to] = plate(&one, &two, 1.0);
        let density = one.density[0];
        assert!((to.mass[0] / (40.0 * density) - 1.0).abs() < 1e-9);
        assert!((to.momentum[0] / (1e5 + density * 1600.0) - 1.0).abs() < 1e-9);
        assert!((from.momentum[0] / to.momentum[0] - 1.0).abs() < 1e-9);
        assert!((to.energy[0] / (40.0 * density * (1004.5 * 300.0 + 800.0)) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn exact_what_leaves_one_duct_enters_the_other_whichever_way() {
        for share in [0.05, 0.3, 0.8] {
            for (one, two) in [(1.6e5, 0.7e5), (1.0e5, 1.002e5), (0.5e5, 2.5e5)] {
                let [first, second] = plate(&end(one, 330.0, 10.0), &end(two, 300.0, -25.0), share);
                assert_eq!(first.mass[1], -second.mass[1]);
                assert_eq!(first.energy[1], -second.energy[1]);
                assert_eq!(first.species[1][1], -second.species[1][1]);
            }
        }
    }

    #[test]
    fn exact_mass_flux_of_the_open_area_and_choking() {
        // Upstream total state and downstream pressure give the flow of a nozzle of the open area.
        let nozzle = |total_pa: f64, total_k: f64, back_pa: f64| {
            let ratio = (back_pa / total_pa).max((2.0f64 / 2.4).powf(3.5));
            let colder = ratio.powf(0.4 / 1.4);
            let velocity = (2.0 * 1004.5 * total_k * (1.0 - colder)).sqrt();
            total_pa * ratio / (287.0 * total_k * colder) * velocity
        };
        for (one, two, share) in [(1.2e5, 1.0e5, 0.3), (1.05e5, 1.0e5, 0.6), (3.0e5, 0.4e5, 0.2)] {
            let (before, after) = (end(one, 320.0, 0.0), end(two, 300.0, 0.0));
            let [_, to] = plate(&before, &after, share);
            let near = Near::of(&before, 0);
            // The wave that the flow sends back upstream.
            let speed = root(
                |u| {
                    let p = near.pressure_at(-u);
                    near.behind(p).density * u - to.mass[0]
                },
                0.0,
                200.0,
                1e-12,
            );
            let (p, density) = (near.pressure_at(-speed), near.behind(near.pressure_at(-speed)).density);
            let t = p / (287.0 * density);
            let total_k = t + speed * speed / 2009.0;
            let total_pa = p * (total_k / t).powf(3.5);
            let velocity = to.momentum[0];
            // Behind: momentum flux is pressure and mass flux times velocity, energy gives the velocity.
            let after_near = Near::of(&after, 0);
            let back = root(|p| p + to.mass[0] * after_near.behind(p).velocity_in - velocity, two, one, 1e-9);
            let expected = share * nozzle(total_pa, total_k, back);
            assert!((to.mass[0] / expected - 1.0).abs() < 1e-6, "{share}: {} {expected}", to.mass[0]);
        }
    }

    #[test]
    fn exact_shut_it_is_two_walls() {
        let [first, second] = plate(&end(1.6e5, 330.0, 10.0), &end(0.7e5, 300.0, -25.0), 0.0);
        assert_eq!((first.mass[0], second.mass[0]), (0.0, 0.0));
        assert!(first.momentum[0] > 1.5e5 && second.momentum[0] > 0.7e5);
    }
}
