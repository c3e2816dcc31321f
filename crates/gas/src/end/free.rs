//! An end that is not there: the duct goes on with the same gas.

use crate::duct::{EndFlux, EndState};

/// The flux of the end's own state: exact for flow out faster than sound, nearly free of reflection otherwise.
pub fn free<const L: usize>(gas: &EndState<L>) -> EndFlux<L> {
    let mut flux = EndFlux::NONE;
    for l in 0..L {
        let (mass, u) = (gas.density[l] * gas.velocity_in[l], gas.velocity_in[l]);
        flux.mass[l] = mass;
        flux.momentum[l] = gas.pressure[l] + mass * u;
        flux.energy[l] = mass * (gas.enthalpy[l] + 0.5 * u * u);
        (flux.species[0][l], flux.species[1][l]) = (mass * gas.y[0][l], mass * gas.y[1][l]);
    }
    flux
}
