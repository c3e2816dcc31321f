//! What the flow needs to know of the gas: three species, each with an internal energy that is a polynomial in T.

/// Number of polynomial coefficients of the internal energy.
pub const COEFFICIENTS: usize = 7;

/// Kelvin per unit of the polynomials' argument.
const SCALE_K: f64 = 1000.0;

/// A thermally perfect mixture of three species, the first of which is what the other two leave over.
///
/// Internal energies are `sum_j c[j] (T / 1000 K)^j` in J/kg; the zero of energy is the giver's. With linear
/// polynomials the gas is calorically perfect.
#[derive(Debug, Clone, PartialEq)]
pub struct Caloric {
    /// Gas constants: first species, then how much the second and the third exceed it; J/(kg K).
    pub(crate) r: [f64; 3],
    /// Coefficients by power: first species, then how much the second and the third exceed it; J/kg.
    pub(crate) u: [[f64; 3]; COEFFICIENTS],
    /// Added to an energy makes it about `cv T`, so that it is positive and even across a contact; J/kg.
    pub(crate) lift_j_kg: f64,
}

impl Caloric {
    /// Takes gas constants in J/(kg K) and energy coefficients in J/kg by power of T / 1000 K, species by species.
    ///
    /// `energy_at_0_k_j_kg` is about what the energies come to at 0 K: it only guides the reconstruction.
    pub fn new(r: [f64; 3], u: [[f64; COEFFICIENTS]; 3], energy_at_0_k_j_kg: f64) -> Self {
        Self {
            r: [r[0], r[1] - r[0], r[2] - r[0]],
            u: std::array::from_fn(|j| [u[0][j], u[1][j] - u[0][j], u[2][j] - u[0][j]]),
            lift_j_kg: -energy_at_0_k_j_kg,
        }
    }

    /// One gas of constant ratio of specific heats, gas constant in J/(kg K); its energy is `cv T`.
    pub fn perfect(gamma: f64, r_j_kg_k: f64) -> Self {
        let mut u = [0.0; COEFFICIENTS];
        u[1] = SCALE_K * r_j_kg_k / (gamma - 1.0);
        Self::new([r_j_kg_k; 3], [u; 3], 0.0)
    }

    /// Two calorically perfect gases: the first, and as second and third species the second.
    pub fn perfect_pair(gamma: [f64; 2], r_j_kg_k: [f64; 2]) -> Self {
        let of = |one: usize| {
            let mut u = [0.0; COEFFICIENTS];
            u[1] = SCALE_K * r_j_kg_k[one] / (gamma[one] - 1.0);
            u
        };
        Self::new([r_j_kg_k[0], r_j_kg_k[1], r_j_kg_k[1]], [of(0), of(1), of(1)], 0.0)
    }

    /// Gas constant of the mixture, J/(kg K); `y` are the mass fractions of the second and third species.
    #[inline(always)]
    pub fn r(&self, y: [f64; 2]) -> f64 {
        self.r[0] + self.r[1] * y[0] + self.r[2] * y[1]
    }

    /// Coefficients of the mixture's energy.
    #[inline(always)]
    pub(crate) fn mixed<const F: bool>(&self, y: [f64; 2]) -> [f64; COEFFICIENTS] {
        let mut mixed = [0.0; COEFFICIENTS];
        for (to, c) in mixed.iter_mut().zip(&self.u) {
            *to = fused::<F>(c[2], y[1], fused::<F>(c[1], y[0], c[0]));
        }
        mixed
    }

    /// Internal energy, J/kg, at a temperature in K.
    pub fn internal_energy(&self, temperature_k: f64, y: [f64; 2]) -> f64 {
        let mixed = self.mixed::<false>(y);
        let t = temperature_k / SCALE_K;
        mixed.iter().rev().fold(0.0, |sum, c| sum * t + c)
    }

    /// Specific heat at constant volume, J/(kg K), at a temperature in K.
    pub fn cv(&self, temperature_k: f64, y: [f64; 2]) -> f64 {
        let near = Near::of::<false>(&self.mixed::<false>(y), temperature_k);
        near.cv
    }

    /// Ratio of specific heats at a temperature in K.
    pub fn gamma(&self, temperature_k: f64, y: [f64; 2]) -> f64 {
        1.0 + self.r(y) / self.cv(temperature_k, y)
    }
}

/// Energy and its first two derivatives at one temperature.
pub(crate) struct Near {
    /// J/kg
    pub(crate) energy: f64,
    /// J/(kg K)
    pub(crate) cv: f64,
    /// J/(kg K²)
    pub(crate) cv_slope: f64,
}

impl Near {
    #[inline(always)]
    pub(crate) fn of<const F: bool>(c: &[f64; COEFFICIENTS], temperature_k: f64) -> Self {
        let t = temperature_k * (1.0 / SCALE_K);
        let (mut energy, mut first, mut second) = (c[COEFFICIENTS - 1], 0.0, 0.0);
        for j in (0..COEFFICIENTS - 1).rev() {
            second = fused::<F>(second, t, first);
            first = fused::<F>(first, t, energy);
            energy = fused::<F>(energy, t, c[j]);
        }
        Self { energy, cv: first / SCALE_K, cv_slope: 2.0 * second / (SCALE_K * SCALE_K) }
    }
}

/// `a b + c`, in one rounding where the processor has it and in two elsewhere.
#[inline(always)]
pub(crate) fn fused<const F: bool>(a: f64, b: f64, c: f64) -> f64 {
    if F { a.mul_add(b, c) } else { a * b + c }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_derivatives_of_a_polynomial() {
        let near = Near::of::<false>(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0], 2000.0);
        assert_eq!(near.energy, 769.0);
        assert!((near.cv - 1.86).abs() > 0.0);
        let slope: f64 = (1..7).map(|j| f64::from(j) * f64::from(j + 1) * 2f64.powi(j - 1)).sum();
        assert!((near.cv * 1e3 - slope).abs() < 1e-9);
        let bend: f64 = (2..7).map(|j| f64::from(j * (j - 1)) * f64::from(j + 1) * 2f64.powi(j - 2)).sum();
        assert!((near.cv_slope * 1e6 - bend).abs() < 1e-9);
    }

    #[test]
    fn exact_perfect_gas() {
        let gas = Caloric::perfect(1.4, 287.0);
        assert!((gas.gamma(300.0, [0.3, 0.2]) - 1.4).abs() < 1e-15);
        assert!((gas.internal_energy(300.0, [0.0; 2]) - 287.0 / 0.4 * 300.0).abs() < 1e-9);
        let pair = Caloric::perfect_pair([1.4, 1.3], [287.0, 290.0]);
        assert!((pair.gamma(300.0, [0.5, 0.5]) - 1.3).abs() < 1e-15);
    }
}
