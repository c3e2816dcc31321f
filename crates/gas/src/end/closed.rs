//! A wall.

use super::wave::Near;
use crate::duct::{EndFlux, EndState};

/// Pressure on a wall that closes a duct: nothing flows, and the wave that stops the gas sets the pressure.
pub fn closed<const L: usize>(gas: &EndState<L>) -> EndFlux<L> {
    let mut flux = EndFlux::NONE;
    for l in 0..L {
        flux.momentum[l] = Near::of(gas, l).pressure_at(0.0);
    }
    flux
}
