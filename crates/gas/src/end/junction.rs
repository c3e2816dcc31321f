//! Ducts that meet: one static pressure at all ends, what comes in mixes, mass and energy close to rounding.
//!
//! The constant-pressure junction of Benson (1982). With two ducts of different area it is an area step whose dynamic
//! head is lost. For small waves it gives the exact linear reflection whatever the areas.

use super::root::root;
use super::wave::Near;
use crate::duct::{EndFlux, EndState};

/// What comes out of the ducts into the junction, mixed.
struct Mixed {
    /// kg/s
    mass: f64,
    /// Stagnation enthalpy in the gas's zero of energy, J/kg.
    enthalpy: f64,
    y: [f64; 2],
    /// `cp T` of stagnation with frozen specific heat, J/kg.
    heat: f64,
    gamma: f64,
}

/// One duct at the junction in one lane.
struct Branch {
    near: Near,
    enthalpy: f64,
    y: [f64; 2],
    area_m2: f64,
}

/// Fluxes for ducts that meet, given with their areas in m²; `fluxes` takes one for each.
pub fn junction<const L: usize>(ducts: &[(&EndState<L>, f64)], fluxes: &mut [EndFlux<L>]) {
    let mut branches = Vec::with_capacity(ducts.len());
    for l in 0..L {
        branches.clear();
        branches.extend(ducts.iter().map(|(end, area_m2)| Branch {
            near: Near::of(end, l),
            enthalpy: end.enthalpy[l],
            y: [end.y[0][l], end.y[1][l]],
            area_m2: *area_m2,
        }));
        let still = |branch: &Branch| branch.near.pressure_at(0.0);
        let low = branches.iter().map(still).fold(f64::INFINITY, f64::min);
        let high = branches.iter().map(still).fold(0.0, f64::max);
        let pressure = root(|p| balance(&branches, p), low, high, 1e-13 * high);
        put(&branches, pressure, l, fluxes);
    }
}

/// Mass into the ducts less mass out of them, kg/s; rises with pressure.
fn balance(branches: &[Branch], pressure: f64) -> f64 {
    let mixed = mix(branches, pressure);
    branches.iter().map(|branch| into(branch, pressure, &mixed)).sum::<f64>() - mixed.mass
}

fn mix(branches: &[Branch], pressure: f64) -> Mixed {
    let mut sum = Mixed { mass: 0.0, enthalpy: 0.0, y: [0.0; 2], heat: 0.0, gamma: 0.0 };
    for branch in branches {
        let behind = branch.near.behind(pressure);
        if behind.velocity_in >= 0.0 {
            continue;
        }
        let mass = -branch.area_m2 * behind.density * behind.velocity_in;
        let g = branch.near.gamma;
        let (here, there) = (pressure / behind.density, branch.near.pressure / branch.near.density);
        let kinetic = 0.5 * behind.velocity_in * behind.velocity_in;
        sum.mass += mass;
        sum.enthalpy += mass * (branch.enthalpy + g / (g - 1.0) * (here - there) + kinetic);
        sum.heat += mass * (g / (g - 1.0) * here + kinetic);
        sum.gamma += mass * g;
        sum.y[0] += mass * branch.y[0];
        sum.y[1] += mass * branch.y[1];
    }
    let share = if sum.mass > 0.0 { 1.0 / sum.mass } else { 0.0 };
    Mixed {
        mass: sum.mass,
        enthalpy: sum.enthalpy * share,
        y: sum.y.map(|y| y * share),
        heat: sum.heat * share,
        gamma: sum.gamma * share,
    }
}

/// Mass into one duct, kg/s; none when gas comes out of it.
fn into(branch: &Branch, pressure: f64, mixed: &Mixed) -> f64 {
    let behind = branch.near.behind(pressure);
    let velocity = behind.velocity_in;
    if velocity <= 0.0 {
        return 0.0;
    }
    if mixed.mass <= 0.0 {
        // Nothing comes to be taken in: the search must go lower.
        return branch.area_m2 * behind.density * velocity;
    }
    let heat = (mixed.heat - 0.5 * velocity * velocity).max(0.1 * mixed.heat);
    let density = mixed.gamma / (mixed.gamma - 1.0) * pressure / heat;
    branch.area_m2 * density * velocity
}

fn put<const L: usize>(branches: &[Branch], pressure: f64, l: usize, fluxes: &mut [EndFlux<L>]) {
    let mixed = mix(branches, pressure);
    let taken =
        if mixed.mass > 0.0 { branches.iter().map(|one| into(one, pressure, &mixed)).sum() } else { 0.0 };
    // The pressure is found to rounding only; what is left is spread so that mass and energy close.
    let scale = if taken > 0.0 { mixed.mass / taken } else { 0.0 };
    for (branch, flux) in branches.iter().zip(fluxes) {
        let behind = branch.near.behind(pressure);
        let (mass, enthalpy, y) = if behind.velocity_in < 0.0 && taken > 0.0 {
            let g = branch.near.gamma;
            let warmer = pressure / behind.density - branch.near.pressure / branch.near.density;
            let kinetic = 0.5 * behind.velocity_in * behind.velocity_in;
            (
                behind.density * behind.velocity_in,
                branch.enthalpy + g / (g - 1.0) * warmer + kinetic,
                branch.y,
            )
        } else {
            (scale * into(branch, pressure, &mixed) / branch.area_m2, mixed.enthalpy, mixed.y)
        };
        flux.mass[l] = mass;
        flux.momentum[l] = pressure + mass * if taken > 0.0 { behind.velocity_in } else { 0.0 };
        flux.energy[l] = mass * enthalpy;
        (flux.species[0][l], flux.species[1][l]) = (mass * y[0], mass * y[1]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn end(pressure: f64, velocity_in: f64, y: f64) -> EndState<1> {
        let density = pressure / (287.0 * 600.0);
        EndState {
            density: [density],
            velocity_in: [velocity_in],
            pressure: [pressure],
            sound: [(1.4 * 287.0 * 600.0f64).sqrt()],
            gamma: [1.4],
            enthalpy: [3.5 * 287.0 * 600.0 + 1e5],
            y: [[y], [0.0]],
        }
    }

    #[test]
    fn conserves_mass_energy_and_species_between_three_ducts() {
        let ends = [end(1.6e5, -40.0, 0.0), end(1.0e5, 10.0, 0.5), end(1.2e5, 0.0, 1.0)];
        let areas = [1e-3, 2e-3, 0.5e-3];
        let mut fluxes = [EndFlux::NONE; 3];
        let pairs: Vec<_> = ends.iter().zip(areas).collect();
        junction(&pairs, &mut fluxes);
        let sum =
            |of: fn(&EndFlux<1>) -> f64| -> f64 { fluxes.iter().zip(areas).map(|(f, a)| a * of(f)).sum() };
        let flow: f64 = fluxes.iter().zip(areas).map(|(f, a)| (a * f.mass[0]).abs()).sum();
        assert!(flow > 0.1, "there is flow");
        assert!(sum(|f| f.mass[0]).abs() < 1e-14 * flow);
        assert!(sum(|f| f.energy[0]).abs() < 1e-14 * flow * 1e6);
        assert!(sum(|f| f.species[0][0]).abs() < 1e-14 * flow);
    }

    #[test]
    fn exact_rest_stays() {
        let ends = [end(1e5, 0.0, 0.0), end(1e5, 0.0, 0.5)];
        let mut fluxes = [EndFlux::NONE; 2];
        junction(&[(&ends[0], 1e-3), (&ends[1], 4e-3)], &mut fluxes);
        for flux in fluxes {
            assert_eq!((flux.mass[0], flux.momentum[0], flux.energy[0]), (0.0, 1e5, 0.0));
        }
    }

    #[test]
    fn exact_small_waves_divide_by_area() {
        let impedance = 1e5 / (287.0 * 600.0) * (1.4 * 287.0 * 600.0f64).sqrt();
        for area in [0.2e-3, 1e-3, 1.2e-3, 9e-3] {
            for strength in [0.001, 0.3, 1.0, 30.0] {
                let mut coming = end(1e5 + strength, -strength / impedance, 0.0);
                coming.density[0] *= 1.0 + strength / 1.4e5;
                let mut fluxes = [EndFlux::NONE; 2];
                junction(&[(&coming, 1e-3), (&end(1e5, 0.0, 0.0), area)], &mut fluxes);
                let (pressure, passed) = (fluxes[1].momentum[0] - 1e5, strength * 2.0 / (1.0 + area / 1e-3));
                assert!((pressure / passed - 1.0).abs() < 1e-3, "{area} {strength}: {pressure} {passed}");
                let mass = fluxes[1].mass[0] / (passed / impedance * end(1e5, 0.0, 0.0).density[0]);
                assert!((mass - 1.0).abs() < 1e-3, "{area} {strength}: {mass}");
            }
        }
    }
}
