//! What changes the gas of all lanes of a vessel at once: its volume, time, its own settling.

use super::contents::Contents;
use crate::duct::{Caloric, Instructions, Lanes, Row, Vector, mix};
use crate::end::Reservoirs;

impl<const L: usize> Contents<L> {
    /// Changes the volume (m³) without heat; gives the work done by the gas of each lane, J.
    pub fn resize(&mut self, gas: &Caloric, volume_m3: f64) -> Row<L> {
        // ln(old/new): exact to rounding also for a small change.
        let squeeze = -((volume_m3 - self.volume_m3) / self.volume_m3).ln_1p();
        self.volume_m3 = volume_m3;
        Instructions::best().compute(Resize { gas, held: self, squeeze })
    }

    /// The gas of each lane as it will be after a further time (s) if it goes on flowing as it did last: what stands outside
    /// a duct's end in the middle of a step.
    pub fn ahead(&self, gas: &Caloric, time_s: f64) -> Reservoirs<L> {
        Instructions::best().compute(Ahead { gas, held: self, time_s })
    }

    /// Works out the temperatures anew after [`Self::exchange`] and [`Self::transform`].
    pub fn settle(&mut self, gas: &Caloric) {
        Instructions::best().compute(Settle { gas, held: self });
    }
}

struct Resize<'a, const L: usize> {
    gas: &'a Caloric,
    held: &'a mut Contents<L>,
    squeeze: f64,
}

impl<const L: usize> Lanes<L> for Resize<'_, L> {
    type Found = Row<L>;

    #[inline(always)]
    fn compute<V: Vector>(self) -> Row<L> {
        let Self { gas, held, squeeze } = self;
        let mut work_j = [0.0; L];
        let squeeze = V::of(squeeze);
        let mut at = 0;
        while at < L {
            let (mass, t_k) = (V::load(&held.mass_kg, at), V::load(&held.temperature_k, at));
            let y = shares(held, at);
            let r = mix(&gas.r, y);
            let near = gas.near(y, t_k);
            // That of the middle of the change.
            let cv = near.cv + near.cv_slope * V::of(0.5) * squeeze * r / near.cv * t_k;
            let risen_k = t_k * (squeeze * r / cv).exp_m1();
            let work = -(mass * cv * risen_k);
            work.store(&mut work_j, at);
            (V::load(&held.energy_j, at) - work).store(&mut held.energy_j, at);
            (t_k + risen_k).store(&mut held.temperature_k, at);
            at += V::WIDTH;
        }
        work_j
    }
}

struct Ahead<'a, const L: usize> {
    gas: &'a Caloric,
    held: &'a Contents<L>,
    time_s: f64,
}

impl<const L: usize> Lanes<L> for Ahead<'_, L> {
    type Found = Reservoirs<L>;

    #[inline(always)]
    fn compute<V: Vector>(self) -> Reservoirs<L> {
        let Self { gas, held, time_s } = self;
        let mut all = Reservoirs::NOTHING;
        let (one, time, per_volume) = (V::of(1.0), V::of(time_s), V::of(1.0 / held.volume_m3));
        let mut at = 0;
        while at < L {
            let mass = V::load(&held.rates[0], at).fused(time, V::load(&held.mass_kg, at));
            let energy = V::load(&held.rates[1], at).fused(time, V::load(&held.energy_j, at));
            let inverse = one / mass;
            let y = [
                V::load(&held.rates[2], at).fused(time, V::load(&held.species_kg[0], at)) * inverse,
                V::load(&held.rates[3], at).fused(time, V::load(&held.species_kg[1], at)) * inverse,
            ];
            let by_mass = energy * inverse;
            let (t_k, cv) = gas.near_guess(by_mass, y, V::load(&held.temperature_k, at));
            let r = mix(&gas.r, y);
            let rt = r * t_k;
            (mass * rt * per_volume).store(&mut all.pressure_pa, at);
            t_k.store(&mut all.temperature_k, at);
            r.store(&mut all.r_j_kg_k, at);
            (one + r / cv).store(&mut all.gamma, at);
            (by_mass + rt).store(&mut all.enthalpy_j_kg, at);
            y[0].store(&mut all.y[0], at);
            y[1].store(&mut all.y[1], at);
            at += V::WIDTH;
        }
        all
    }
}

struct Settle<'a, const L: usize> {
    gas: &'a Caloric,
    held: &'a mut Contents<L>,
}

impl<const L: usize> Lanes<L> for Settle<'_, L> {
    type Found = ();

    #[inline(always)]
    fn compute<V: Vector>(self) {
        let Self { gas, held } = self;
        let mut at = 0;
        while at < L {
            let energy = V::load(&held.energy_j, at) / V::load(&held.mass_kg, at);
            let (t_k, _) = gas.near_guess(energy, shares(held, at), V::load(&held.temperature_k, at));
            t_k.store(&mut held.temperature_k, at);
            at += V::WIDTH;
        }
    }
}

/// Mass fractions of the second and third species.
#[inline(always)]
pub(super) fn shares<const L: usize, V: Vector>(held: &Contents<L>, at: usize) -> [V; 2] {
    let inverse = V::of(1.0) / V::load(&held.mass_kg, at);
    [V::load(&held.species_kg[0], at) * inverse, V::load(&held.species_kg[1], at) * inverse]
}
