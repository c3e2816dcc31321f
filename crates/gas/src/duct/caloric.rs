//! What the flow needs to know of the gas, laid out for the kernel: the same curves as [`crate::gas`].

use super::vector::Vector;
use crate::gas::{COLDEST, Gas, HOTTEST, TERMS};

/// Temperatures are counted in this, K; it is also where the two pieces of a heat capacity meet.
const SCALE_K: f64 = 1000.0;

/// Coefficients of the heat capacity, and the energy where its pieces meet.
pub(crate) const COEFFICIENTS: usize = TERMS + 1;

/// A thermally perfect mixture of three species, the first of which is what the other two leave over.
///
/// Taken from a [`Gas`], energies are the same to rounding. A calorically perfect gas has its zero of energy at 0 K.
#[derive(Debug, Clone, PartialEq)]
pub struct Caloric {
    /// Gas constants: first species, then how much the second and the third exceed it; J/(kg K).
    pub(crate) r: [f64; 3],
    /// Terms of the curves and energy at the joint: first species, then what the others have beyond it.
    terms: [[f64; 3]; COEFFICIENTS],
    /// Added to an energy makes it about `cv T`, so that it is positive and even across a contact; J/kg.
    pub(crate) lift_j_kg: f64,
}

impl From<&Gas> for Caloric {
    fn from(gas: &Gas) -> Self {
        let of = |one: usize| {
            let part = &gas.parts[one];
            let mut terms = [0.0; COEFFICIENTS];
            terms[..TERMS].copy_from_slice(&part.curve.terms);
            terms[TERMS] = part.curve.at_joint_j_kg;
            (part.r_j_kg_k, terms)
        };
        let mut caloric = Self::of_parts([of(0), of(1), of(2)]);
        let cold = crate::gas::REFERENCE_K;
        caloric.lift_j_kg = cold * caloric.cv(cold, [0.0; 2]);
        caloric
    }
}

impl Caloric {
    fn of_parts(parts: [(f64, [f64; COEFFICIENTS]); 3]) -> Self {
        let [one, two, three] = parts;
        Self {
            r: [one.0, two.0 - one.0, three.0 - one.0],
            terms: std::array::from_fn(|j| [one.1[j], two.1[j] - one.1[j], three.1[j] - one.1[j]]),
            lift_j_kg: 0.0,
        }
    }

    /// One gas of constant ratio of specific heats, gas constant in J/(kg K); its energy is `cv T`.
    pub fn perfect(gamma: f64, r_j_kg_k: f64) -> Self {
        Self::perfect_pair([gamma; 2], [r_j_kg_k; 2])
    }

    /// Two calorically perfect gases: the first, and as second and third species the second.
    pub fn perfect_pair(gamma: [f64; 2], r_j_kg_k: [f64; 2]) -> Self {
        let of = |one: usize| {
            let cv = r_j_kg_k[one] / (gamma[one] - 1.0);
            let mut terms = [0.0; COEFFICIENTS];
            (terms[0], terms[TERMS]) = (cv, cv * SCALE_K);
            (r_j_kg_k[one], terms)
        };
        Self::of_parts([of(0), of(1), of(1)])
    }

    /// Gas constant of the mixture, J/(kg K); `y` are the mass fractions of the second and third species.
    #[inline(always)]
    pub fn r(&self, y: [f64; 2]) -> f64 {
        self.r[0] + self.r[1] * y[0] + self.r[2] * y[1]
    }

    /// Energy and its derivatives for a mixture at a temperature in K.
    ///
    /// Where all of several temperatures lie below the joint only the cold piece is worked out: the result is the same to
    /// the last bit, as the hot piece adds nothing there.
    #[inline(always)]
    pub(crate) fn near<V: Vector>(&self, y: [V; 2], temperature_k: V) -> Near<V> {
        let t = &self.terms;
        let one = V::of(1.0);
        let x = temperature_k * V::of(1.0 / SCALE_K);
        let constant = mix(&t[0], y);
        let cold = [constant, mix(&t[1], y), mix(&t[2], y), mix(&t[3], y), mix(&t[4], y)];
        let joint = mix(&t[8], y);
        if (x - one).all_minus() {
            let nothing = Hot { upper: constant, high: constant, slope: V::of(0.0), d: V::of(0.0) };
            return Near::of(x, one, &cold, joint, &nothing);
        }
        let hot = [mix(&t[5], y), mix(&t[6], y), mix(&t[7], y)];
        let above = x.most(one).least(V::of(HOTTEST));
        Near::of(x, above, &cold, joint, &Hot::of(constant, &hot, above - one))
    }

    /// Internal energy, J/kg, at a temperature in K.
    #[inline]
    pub fn internal_energy(&self, temperature_k: f64, y: [f64; 2]) -> f64 {
        self.near(y, temperature_k).energy
    }

    /// Enthalpy, J/kg, at a temperature in K.
    #[inline]
    pub fn enthalpy(&self, temperature_k: f64, y: [f64; 2]) -> f64 {
        self.internal_energy(temperature_k, y) + self.r(y) * temperature_k
    }

    /// Specific heat at constant volume, J/(kg K), at a temperature in K.
    #[inline]
    pub fn cv(&self, temperature_k: f64, y: [f64; 2]) -> f64 {
        self.near(y, temperature_k).cv
    }

    /// Internal energy in J/kg and specific heat at constant volume in J/(kg K) at a temperature in K.
    #[inline]
    pub fn energy_and_cv(&self, temperature_k: f64, y: [f64; 2]) -> (f64, f64) {
        let near = self.near(y, temperature_k);
        (near.energy, near.cv)
    }

    /// Temperature, K, with an internal energy in J/kg, from a guess: one step of third order, far below 0.1 K off from a
    /// guess 50 K off. With it the specific heat at constant volume there, J/(kg K), straight from the guess.
    #[inline]
    pub fn temperature_and_cv(&self, energy_j_kg: f64, y: [f64; 2], guess_k: f64) -> (f64, f64) {
        self.near_guess(energy_j_kg, y, guess_k)
    }

    /// The same for several.
    #[inline(always)]
    pub(crate) fn near_guess<V: Vector>(&self, energy_j_kg: V, y: [V; 2], guess_k: V) -> (V, V) {
        let near = self.near(y, guess_k);
        let newton = (energy_j_kg - near.energy) / near.cv;
        let bend = V::of(1.0) - V::of(0.5) * newton * near.cv_slope / near.cv;
        let found = newton.fused(bend, guess_k).most(V::of(0.2) * guess_k);
        (found, near.cv_slope.fused(found - guess_k, near.cv))
    }

    /// The temperature alone.
    #[inline]
    pub fn temperature(&self, energy_j_kg: f64, y: [f64; 2], guess_k: f64) -> f64 {
        self.temperature_and_cv(energy_j_kg, y, guess_k).0
    }

    /// Ratio of specific heats at a temperature in K.
    #[inline]
    pub fn gamma(&self, temperature_k: f64, y: [f64; 2]) -> f64 {
        1.0 + self.r(y) / self.cv(temperature_k, y)
    }
}

/// First species and what the others have beyond it, by their mass fractions.
#[inline(always)]
pub(crate) fn mix<V: Vector>(parts: &[f64; 3], y: [V; 2]) -> V {
    V::of(parts[2]).fused(y[1], V::of(parts[1]).fused(y[0], V::of(parts[0])))
}

/// Energy and its first two derivatives at one temperature.
pub(crate) struct Near<V> {
    /// J/kg
    pub(crate) energy: V,
    /// J/(kg K)
    pub(crate) cv: V,
    /// J/(kg K²)
    pub(crate) cv_slope: V,
}

/// What the piece above the joint adds.
struct Hot<V> {
    /// Heat capacity and its mean from the joint on.
    upper: V,
    high: V,
    slope: V,
    /// Distance above the joint.
    d: V,
}

impl<V: Vector> Hot<V> {
    #[inline(always)]
    fn of(constant: V, terms: &[V; 3], d: V) -> Self {
        let [b1, b2, b3] = *terms;
        let high = (V::of(1.0 / 4.0) * b3).fused(d, V::of(1.0 / 3.0) * b2);
        Self {
            upper: b3.fused(d, b2).fused(d, b1).fused(d, constant),
            high: high.fused(d, V::of(1.0 / 2.0) * b1).fused(d, constant),
            slope: (V::of(3.0) * b3).fused(d, V::of(2.0) * b2).fused(d, b1),
            d,
        }
    }
}

impl<V: Vector> Near<V> {
    /// At a temperature over [`SCALE_K`]; `above` is that or the joint, the greater.
    #[inline(always)]
    fn of(x: V, above: V, cold: &[V; 5], joint: V, hot: &Hot<V>) -> Self {
        let [c, a1, a2, a3, a4] = *cold;
        let one = V::of(1.0);
        let below = x.least(one).most(V::of(COLDEST));
        let (s, beyond) = (below - one, x + one - below - above);
        let low = (V::of(1.0 / 5.0) * a4).fused(s, V::of(1.0 / 4.0) * a3);
        let low = low.fused(s, V::of(1.0 / 3.0) * a2).fused(s, V::of(1.0 / 2.0) * a1).fused(s, c);
        let cv = a4.fused(s, a3).fused(s, a2).fused(s, a1).fused(s, hot.upper);
        let slope = (V::of(4.0) * a4).fused(s, V::of(3.0) * a3).fused(s, V::of(2.0) * a2).fused(s, a1);
        let first = (x - one).plus_or(hot.slope, slope);
        let energy = V::of(SCALE_K).fused(s.fused(low, hot.d.fused(hot.high, cv * beyond)), joint);
        Self { energy, cv, cv_slope: first * V::of(1.0 / SCALE_K) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::Air;

    fn petrol() -> Gas {
        Gas::petrol(Air::DRY, 1.1).expect("a gas")
    }

    #[test]
    fn agrees_with_the_gas_it_is_taken_from() {
        let (gas, caloric) = (petrol(), Caloric::from(&petrol()));
        for t in [250.0, 500.0, 999.0, 1001.0, 1800.0, 3500.0] {
            for y in [[0.0, 0.0], [0.07, 0.0], [0.02, 0.6], [0.0, 1.0]] {
                let close = |a: f64, b: f64| (a - b).abs() <= 1e-13 * b.abs().max(1e5);
                assert!(close(caloric.internal_energy(t, y), gas.internal_energy(t, y)), "{t} {y:?}");
                assert!((caloric.cv(t, y) / gas.cv(t, y) - 1.0).abs() < 1e-14, "{t} {y:?}");
                assert!((caloric.r(y) / gas.r(y) - 1.0).abs() < 1e-15);
            }
        }
    }

    #[test]
    fn exact_a_cold_lane_does_not_notice_a_hot_one() {
        use crate::duct::state::Row;
        use crate::duct::vector::Four;
        let caloric = Caloric::from(&petrol());
        let of = |t_k: Row<4>| {
            let y = [Four::of(0.02), Four::of(0.4)];
            let near = caloric.near(y, Four::load(&t_k, 0));
            let mut rows = [[0.0; 4]; 3];
            near.energy.store(&mut rows[0], 0);
            near.cv.store(&mut rows[1], 0);
            near.cv_slope.store(&mut rows[2], 0);
            rows.map(|row| [row[0], row[1]])
        };
        for t_k in [180.0, 300.0, 666.6, 999.9] {
            assert_eq!(of([t_k, 1.1 * 300.0, 310.0, 320.0]), of([t_k, 1.1 * 300.0, 1600.0, 4000.0]));
        }
    }

    #[test]
    fn exact_slope_of_heat_capacity() {
        let caloric = Caloric::from(&petrol());
        for t in [300.0, 700.0, 1300.0, 2500.0] {
            let y = [0.01, 0.5];
            let near = caloric.near(y, t);
            let at = |t: f64| caloric.near(y, t).cv;
            let measured = (at(t + 1.0) - at(t - 1.0)) / 2.0;
            assert!((near.cv_slope / measured - 1.0).abs() < 1e-4, "{t}: {} {measured}", near.cv_slope);
        }
    }

    #[test]
    fn exact_perfect_gas() {
        let gas = Caloric::perfect(1.4, 287.0);
        assert!((gas.gamma(300.0, [0.3, 0.2]) - 1.4).abs() < 1e-15);
        for t in [1.0, 300.0, 2000.0, 9000.0] {
            assert!((gas.internal_energy(t, [0.0; 2]) - 287.0 / 0.4 * t).abs() < 1e-8);
        }
        let pair = Caloric::perfect_pair([1.4, 1.3], [287.0, 290.0]);
        assert!((pair.gamma(300.0, [0.5, 0.5]) - 1.3).abs() < 1e-15);
    }
}
