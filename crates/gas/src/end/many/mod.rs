//! Openings of several lanes at once: the equations of [`super::orifice`], solved side by side.
//!
//! What is rare is left to the one-lane form: choked flow out of the duct, and into it where the jet's momentum is
//! recovered.

mod recover;
mod solve;
#[cfg(test)]
mod tests;

use super::orifice::{Opening, Recovery, Reservoir, SHUT, settle};
use super::wave::Near;
use crate::duct::{EndFlux, EndState, Instructions, Lanes, Row, Vector};
use recover::Recovering;
use solve::{After, Into, Jet, Miss, OutNarrow, Own, newton};

/// Gas at rest outside a duct's end, a row of lanes each, as in [`Reservoir`].
#[derive(Debug, Clone, Copy)]
#[repr(C, align(64))]
pub struct Reservoirs<const L: usize> {
    /// Pa
    pub pressure_pa: Row<L>,
    /// K
    pub temperature_k: Row<L>,
    /// J/(kg K)
    pub r_j_kg_k: Row<L>,
    /// Ratio of specific heats.
    pub gamma: Row<L>,
    /// J/kg
    pub enthalpy_j_kg: Row<L>,
    /// Mass fractions of the second and third species.
    pub y: [Row<L>; 2],
}

impl<const L: usize> Reservoirs<L> {
    /// Nothing at all.
    pub(crate) const NOTHING: Self = Self {
        pressure_pa: [0.0; L],
        temperature_k: [0.0; L],
        r_j_kg_k: [0.0; L],
        gamma: [0.0; L],
        enthalpy_j_kg: [0.0; L],
        y: [[0.0; L]; 2],
    };

    /// The same in all lanes.
    pub fn same(one: &Reservoir) -> Self {
        Self {
            pressure_pa: [one.pressure_pa; L],
            temperature_k: [one.temperature_k; L],
            r_j_kg_k: [one.r_j_kg_k; L],
            gamma: [one.gamma; L],
            enthalpy_j_kg: [one.enthalpy_j_kg; L],
            y: [[one.y[0]; L], [one.y[1]; L]],
        }
    }

    /// Puts one lane.
    #[inline]
    pub fn put(&mut self, lane: usize, one: &Reservoir) {
        self.pressure_pa[lane] = one.pressure_pa;
        self.temperature_k[lane] = one.temperature_k;
        self.r_j_kg_k[lane] = one.r_j_kg_k;
        self.gamma[lane] = one.gamma;
        self.enthalpy_j_kg[lane] = one.enthalpy_j_kg;
        (self.y[0][lane], self.y[1][lane]) = (one.y[0], one.y[1]);
    }

    /// One lane.
    #[inline]
    pub fn lane(&self, lane: usize) -> Reservoir {
        Reservoir {
            pressure_pa: self.pressure_pa[lane],
            temperature_k: self.temperature_k[lane],
            r_j_kg_k: self.r_j_kg_k[lane],
            gamma: self.gamma[lane],
            enthalpy_j_kg: self.enthalpy_j_kg[lane],
            y: [self.y[0][lane], self.y[1][lane]],
        }
    }
}

/// Openings of several lanes, as in [`Opening`].
#[derive(Debug, Clone, Copy)]
pub struct Openings<const L: usize> {
    /// For flow into the duct.
    pub share_in: Row<L>,
    /// For flow out of the duct.
    pub share_out: Row<L>,
    /// Behind the throat, into the duct.
    pub recovery: Recovery,
}

impl<const L: usize> Openings<L> {
    /// The same in all lanes.
    pub fn same(one: &Opening) -> Self {
        Self { share_in: [one.share_in; L], share_out: [one.share_out; L], recovery: one.recovery }
    }
}

impl Instructions {
    /// Flux through openings that may differ by lane; what leaves the duct enters the reservoir and the other way round.
    pub fn through<const L: usize>(
        self,
        gas: &EndState<L>,
        outside: &Reservoirs<L>,
        openings: &Openings<L>,
    ) -> EndFlux<L> {
        self.compute(Through { gas, outside, openings })
    }
}

struct Through<'a, const L: usize> {
    gas: &'a EndState<L>,
    outside: &'a Reservoirs<L>,
    openings: &'a Openings<L>,
}

impl<const L: usize> Lanes<L> for Through<'_, L> {
    type Found = EndFlux<L>;

    #[inline(always)]
    fn compute<V: Vector>(self) -> EndFlux<L> {
        let mut flux = EndFlux::NONE;
        let mut at = 0;
        while at < L {
            lanes::<L, V>(self.gas, self.outside, self.openings, &mut flux, at);
            at += V::WIDTH;
        }
        flux
    }
}

/// What a lane needs.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Shut,
    Into,
    OutNarrow,
    OutWide,
    Rare,
}

#[inline(always)]
fn lanes<const L: usize, V: Vector>(
    gas: &EndState<L>,
    outside: &Reservoirs<L>,
    openings: &Openings<L>,
    flux: &mut EndFlux<L>,
    at: usize,
) {
    let own = Own::<V>::load(gas, at);
    let ratio = V::load(&outside.pressure_pa, at) / own.pressure;
    let log = ratio.ln();
    let still = own.log_still();
    let full = own.after(log, ratio);
    let run = full.velocity_in * full.velocity_in - own.gamma * own.pressure * ratio / full.density;
    let mut ways = [Way::Shut; 8];
    let (mut inward, mut fast) = ([0.0; 8], [0.0; 8]);
    full.velocity_in.store(&mut inward, 0);
    run.store(&mut fast, 0);
    for (k, way) in ways.iter_mut().enumerate().take(V::WIDTH) {
        let into = inward[k] > 0.0;
        let share = if into { openings.share_in[at + k] } else { openings.share_out[at + k] };
        *way = if share <= SHUT {
            Way::Shut
        } else if into {
            Way::Into
        } else if share >= 1.0 {
            if fast[k] < 0.0 { Way::OutWide } else { Way::Rare }
        } else {
            Way::OutNarrow
        };
    }
    let ways = &mut ways[..V::WIDTH];
    if ways.contains(&Way::Shut) {
        Found::wall(own.pressure * still.exp()).put(flux, at, ways, Way::Shut);
    }
    if ways.contains(&Way::OutWide) {
        out(gas, &own, full, ratio, at).put(flux, at, ways, Way::OutWide);
    }
    if ways.contains(&Way::OutNarrow) {
        let share = V::load(&openings.share_out, at);
        let (low, high) = (log, still.most(log));
        let narrow = OutNarrow::new(&own, low, share);
        let x = newton(&narrow, low, high, V::of(0.5) * (low + high), false);
        let ratio = x.exp();
        let after = own.after(x, ratio);
        narrow.slower_than_sound(&after, x, ratio).store(&mut fast, 0);
        for (way, slower) in ways.iter_mut().zip(fast) {
            if *way == Way::OutNarrow && slower < 0.0 {
                *way = Way::Rare;
            }
        }
        out(gas, &own, after, ratio, at).put(flux, at, ways, Way::OutNarrow);
    }
    if ways.contains(&Way::Into) {
        let share = V::load(&openings.share_in, at).least(V::of(1.0));
        let found = match openings.recovery {
            Recovery::Nothing => into(&own, outside, share, log, still, at),
            Recovery::Momentum => {
                let (found, unchoked) = recovering(&own, outside, share, at);
                unchoked.store(&mut inward, 0);
                for (way, slower) in ways.iter_mut().zip(inward) {
                    if *way == Way::Into && slower < 0.0 {
                        *way = Way::Rare;
                    }
                }
                found
            }
        };
        found.put(flux, at, ways, Way::Into);
    }
    for k in (0..V::WIDTH).filter(|k| ways[*k] == Way::Rare) {
        let lane = at + k;
        let one = Opening {
            share_in: openings.share_in[lane],
            share_out: openings.share_out[lane],
            recovery: openings.recovery,
        };
        let outside = outside.lane(lane);
        let settled = settle(&Near::of(gas, lane), &outside, &one);
        super::open::put(flux, gas, lane, &settled, &outside);
    }
}

/// Fluxes of several lanes.
struct Found<V> {
    mass: V,
    momentum: V,
    energy: V,
    species: [V; 2],
}

impl<V: Vector> Found<V> {
    #[inline(always)]
    fn wall(pressure: V) -> Self {
        let none = V::of(0.0);
        Self { mass: none, momentum: pressure, energy: none, species: [none; 2] }
    }

    #[inline(always)]
    fn put<const L: usize>(&self, flux: &mut EndFlux<L>, at: usize, ways: &[Way], way: Way) {
        let parts = [self.mass, self.momentum, self.energy, self.species[0], self.species[1]];
        let mut rows = [[0.0; 8]; 5];
        for (row, part) in rows.iter_mut().zip(parts) {
            part.store(row, 0);
        }
        for (k, own) in ways.iter().enumerate() {
            if *own != way {
                continue;
            }
            let lane = at + k;
            flux.mass[lane] = rows[0][k];
            flux.momentum[lane] = rows[1][k];
            flux.energy[lane] = rows[2][k];
            (flux.species[0][lane], flux.species[1][lane]) = (rows[3][k], rows[4][k]);
        }
    }
}

/// Out of the duct at a pressure over its own.
#[inline(always)]
fn out<const L: usize, V: Vector>(
    gas: &EndState<L>,
    own: &Own<V>,
    after: After<V>,
    ratio: V,
    at: usize,
) -> Found<V> {
    let velocity = after.velocity_in.least(V::of(0.0));
    let (mass, pressure) = (after.density * velocity, own.pressure * ratio);
    let warmer = own.gamma * own.inverse * (pressure / after.density - own.pressure / own.density);
    let total = V::load(&gas.enthalpy, at) + warmer + V::of(0.5) * velocity * velocity;
    Found {
        mass,
        momentum: mass.fused(velocity, pressure),
        energy: mass * total,
        species: [mass * V::load(&gas.y[0], at), mass * V::load(&gas.y[1], at)],
    }
}

/// Into the duct; `own_log` is the log of outside pressure over the duct's own, `still` that of the wall's.
#[inline(always)]
fn into<const L: usize, V: Vector>(
    own: &Own<V>,
    outside: &Reservoirs<L>,
    share: V,
    own_log: V,
    still: V,
    at: usize,
) -> Found<V> {
    let (one, two, half) = (V::of(1.0), V::of(2.0), V::of(0.5));
    let (p0, t0) = (V::load(&outside.pressure_pa, at), V::load(&outside.temperature_k, at));
    let (r, g) = (V::load(&outside.r_j_kg_k, at), V::load(&outside.gamma, at));
    let kappa = (g - one) / g;
    let cp = r / kappa;
    let flow = share * p0 / (r * t0) * (two * cp * t0).sqrt();
    let critical_colder = two / (g + one);
    let critical = critical_colder.ln() / kappa;
    let miss = Into {
        own,
        outer_ratio: p0 / own.pressure,
        own_log,
        p0,
        r,
        twice_t0: two * t0,
        kappa,
        per_gamma: one / g,
        flow,
        critical,
        choked_mass: flow * critical.exp() / critical_colder * (one - critical_colder).sqrt(),
        by_energy: two * t0 / cp,
    };
    let low = (still - own_log).most(V::of(-60.0)).least(V::of(0.0));
    let x = newton(&miss, low, V::of(0.0), half * low, true);
    let ratio = x.exp();
    let Jet { mass, velocity, .. } = miss.jet(x, ratio);
    // At most the speed of sound, as `at_most_sonic` says.
    let sonic_rt = critical_colder * r * t0;
    let sound = (g * sonic_rt).sqrt();
    let slower = sound - velocity;
    let pressure = slower.plus_or(p0 * ratio, mass * sonic_rt / sound);
    let velocity = slower.plus_or(velocity, sound);
    Found {
        mass,
        momentum: mass.fused(velocity, pressure),
        energy: mass * V::load(&outside.enthalpy_j_kg, at),
        species: [mass * V::load(&outside.y[0], at), mass * V::load(&outside.y[1], at)],
    }
}

/// Into the duct with the jet's momentum recovered; below zero beside it where the throat is choked, and what was found
/// holds no more.
#[inline(always)]
fn recovering<const L: usize, V: Vector>(
    own: &Own<V>,
    outside: &Reservoirs<L>,
    share: V,
    at: usize,
) -> (Found<V>, V) {
    let (one, two, half) = (V::of(1.0), V::of(2.0), V::of(0.5));
    let (p0, t0) = (V::load(&outside.pressure_pa, at), V::load(&outside.temperature_k, at));
    let (r, g) = (V::load(&outside.r_j_kg_k, at), V::load(&outside.gamma, at));
    let kappa = (g - one) / g;
    let cp_t = r * t0 / kappa;
    let miss = Recovering {
        own,
        p0,
        kappa,
        per_gamma: one / g,
        cp_t,
        flow: share * p0 / (r * t0) * (two * cp_t).sqrt(),
        spread: two * (g + one) / (g - one) * cp_t,
    };
    let critical = (two / (g + one)).ln() / kappa;
    let unchoked = -miss.at(critical).0;
    let x = newton(&miss, critical, V::of(0.0), half * critical, true);
    let mixed = miss.mixed(x);
    let mass = mixed.mass;
    let found = Found {
        mass,
        momentum: mass.fused(mixed.velocity, mixed.pressure),
        energy: mass * V::load(&outside.enthalpy_j_kg, at),
        species: [mass * V::load(&outside.y[0], at), mass * V::load(&outside.y[1], at)],
    };
    (found, unchoked)
}
