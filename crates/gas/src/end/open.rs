//! Fluxes through an opening to reservoirs, one a lane.

use super::many::{Openings, Reservoirs};
use super::orifice::{Opening, Reservoir, Settled, settle};
use super::wave::Near;
use crate::duct::{EndFlux, EndState, Instructions};

/// Flux through openings that may differ by lane; what leaves the duct enters the reservoir and the other way round.
pub fn opening<const L: usize>(
    gas: &EndState<L>,
    outside: &[Reservoir; L],
    openings: &[Opening; L],
) -> EndFlux<L> {
    let mut flux = EndFlux::NONE;
    let Some(first) = openings.first() else { return flux };
    if openings.iter().any(|one| one.recovery != first.recovery) {
        for l in 0..L {
            open_lane(gas, l, &outside[l], &openings[l], &mut flux);
        }
        return flux;
    }
    let (mut reservoirs, mut shares) = (Reservoirs::same(&outside[0]), Openings::same(first));
    for l in 0..L {
        reservoirs.put(l, &outside[l]);
        (shares.share_in[l], shares.share_out[l]) = (openings[l].share_in, openings[l].share_out);
    }
    Instructions::best().through(gas, &reservoirs, &shares)
}

/// One lane of it: puts the flux through one lane's opening into its place of `flux`.
pub fn open_lane<const L: usize>(
    gas: &EndState<L>,
    lane: usize,
    outside: &Reservoir,
    opening_kind: &Opening,
    flux: &mut EndFlux<L>,
) {
    let settled = settle(&Near::of(gas, lane), outside, opening_kind);
    put(flux, gas, lane, &settled, outside);
}

/// The same opening and the same reservoir in all lanes.
pub fn open<const L: usize>(gas: &EndState<L>, outside: &Reservoir, opening_kind: &Opening) -> EndFlux<L> {
    opening(gas, &[*outside; L], &[*opening_kind; L])
}

pub(super) fn put<const L: usize>(
    flux: &mut EndFlux<L>,
    gas: &EndState<L>,
    l: usize,
    settled: &Settled,
    outside: &Reservoir,
) {
    let Settled { pressure, velocity_in, mass, .. } = *settled;
    flux.mass[l] = mass;
    flux.momentum[l] = pressure + mass * velocity_in;
    let (total, y) = if mass > 0.0 {
        (outside.enthalpy_j_kg, outside.y)
    } else {
        let near = Near::of(gas, l);
        let by_mass = near.gamma / (near.gamma - 1.0);
        let behind = near.behind(pressure);
        let warmer = by_mass * (pressure / behind.density - near.pressure / near.density);
        (gas.enthalpy[l] + warmer + 0.5 * velocity_in * velocity_in, [gas.y[0][l], gas.y[1][l]])
    };
    flux.energy[l] = mass * total;
    (flux.species[0][l], flux.species[1][l]) = (mass * y[0], mass * y[1]);
}
