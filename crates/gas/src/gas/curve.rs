//! Heat capacity at constant volume as two polynomials that meet at 1000 K, without a branch.
//!
//! With x = T/1000 K, s = min(x, 1) - 1 and d = max(x, 1) - 1:
//! cv = c + a1 s + a2 s² + a3 s³ + a4 s⁴ + b1 d + b2 d² + b3 d³. Below the joint that is the NASA polynomial itself;
//! above it a cubic fitted to the polynomial's upper range up to 3500 K. One polynomial over the whole range needs a
//! degree above ten for the same closeness, for the NASA ranges meet with a kink.

use super::blend::Blend;
use super::species::{GAS_CONSTANT_J_MOL_K, JOINT_K, REFERENCE_K};
use std::f64::consts::PI;

/// Number of coefficients of a heat capacity.
pub(crate) const TERMS: usize = 8;
/// Below this T/1000 K the heat capacity is held, so that extrapolation stays tame.
pub(crate) const COLDEST: f64 = 0.2;
/// Above this T/1000 K the heat capacity is held.
pub(crate) const HOTTEST: f64 = 4.0;
/// Upper end of the fit, K.
const FIT_UP_TO_K: f64 = 3500.0;
/// Points of the fit, placed as the zeros of a Chebyshev polynomial.
const FIT_POINTS: usize = 64;

/// Coefficients c, a1 to a4, b1 to b3 of the heat capacity, J/(kg K), for T/1000 K; and the energy at the joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Curve {
    pub(crate) terms: [f64; TERMS],
    /// Internal energy at 1000 K above that at 298.15 K, J/kg.
    pub(crate) at_joint_j_kg: f64,
}

/// A temperature taken apart for a curve.
#[derive(Debug, Clone, Copy)]
struct Split {
    s: f64,
    d: f64,
    /// What lies outside the held ends.
    beyond: f64,
}

#[inline(always)]
fn split(t_k: f64) -> Split {
    let x = t_k * (1.0 / JOINT_K);
    let below = if x < 1.0 { x } else { 1.0 };
    let below = if below > COLDEST { below } else { COLDEST };
    let above = if x > 1.0 { x } else { 1.0 };
    let above = if above < HOTTEST { above } else { HOTTEST };
    Split { s: below - 1.0, d: above - 1.0, beyond: x + 1.0 - below - above }
}

impl Curve {
    /// The curve of a blend.
    pub fn of(blend: &Blend) -> Self {
        let low = lower_terms(blend);
        let high = upper_terms(blend, low[0]);
        let mut curve = Self {
            terms: [low[0], low[1], low[2], low[3], low[4], high[0], high[1], high[2]],
            at_joint_j_kg: 0.0,
        };
        curve.at_joint_j_kg = -curve.energy_j_kg(REFERENCE_K);
        curve
    }

    /// Heat capacity at constant volume, J/(kg K).
    #[inline(always)]
    pub fn cv_j_kg_k(&self, t_k: f64) -> f64 {
        self.cv_of(&split(t_k))
    }

    #[inline(always)]
    fn cv_of(&self, at: &Split) -> f64 {
        let [c, a1, a2, a3, a4, b1, b2, b3] = self.terms;
        c + at.s * (a1 + at.s * (a2 + at.s * (a3 + at.s * a4))) + at.d * (b1 + at.d * (b2 + at.d * b3))
    }

    /// Internal energy above that at 298.15 K, J/kg.
    #[inline(always)]
    pub fn energy_j_kg(&self, t_k: f64) -> f64 {
        self.energy_and_cv(t_k).0
    }

    /// Internal energy above that at 298.15 K, J/kg, and heat capacity at constant volume, J/(kg K).
    #[inline(always)]
    pub fn energy_and_cv(&self, t_k: f64) -> (f64, f64) {
        const HALF: f64 = 1.0 / 2.0;
        const THIRD: f64 = 1.0 / 3.0;
        const QUARTER: f64 = 1.0 / 4.0;
        const FIFTH: f64 = 1.0 / 5.0;
        let at = split(t_k);
        let [c, a1, a2, a3, a4, b1, b2, b3] = self.terms;
        let (s, d) = (at.s, at.d);
        let low = s * (HALF * a1 + s * (THIRD * a2 + s * (QUARTER * a3 + s * (FIFTH * a4))));
        let high = d * (HALF * b1 + d * (THIRD * b2 + d * (QUARTER * b3)));
        let cv = self.cv_of(&at);
        let inside = s * (c + low) + d * (c + high);
        (self.at_joint_j_kg + JOINT_K * (inside + cv * at.beyond), cv)
    }

    /// Integral of cv/T from 1000 K, J/(kg K): the entropy at constant volume.
    pub fn entropy_at_constant_volume_j_kg_k(&self, t_k: f64) -> f64 {
        let at = split(t_k);
        let [c, a1, a2, a3, a4, b1, b2, b3] = self.terms;
        let below = over_temperature(&[c, a1, a2, a3, a4], 1.0 + at.s);
        let above = over_temperature(&[c, b1, b2, b3, 0.0], 1.0 + at.d);
        let end = (1.0 + at.s) * (1.0 + at.d);
        below + above + self.cv_of(&at) * libm::log(t_k / JOINT_K / end)
    }
}

/// Integral of a polynomial in (x - 1) over x from 1.
fn over_temperature(terms: &[f64; 5], x: f64) -> f64 {
    // Powers of x by expanding the powers of (x - 1).
    const BINOMIAL: [[f64; 5]; 5] = [
        [1.0, 0.0, 0.0, 0.0, 0.0],
        [-1.0, 1.0, 0.0, 0.0, 0.0],
        [1.0, -2.0, 1.0, 0.0, 0.0],
        [-1.0, 3.0, -3.0, 1.0, 0.0],
        [1.0, -4.0, 6.0, -4.0, 1.0],
    ];
    let power = |k: usize| -> f64 { terms.iter().zip(BINOMIAL).map(|(term, row)| term * row[k]).sum() };
    let rising: f64 = (1..5).map(|k| power(k) * (x.powi(k as i32) - 1.0) / k as f64).sum();
    power(0) * libm::log(x) + rising
}

/// The lower NASA polynomial about 1000 K by powers of T/1000 K.
fn lower_terms(blend: &Blend) -> [f64; 5] {
    let scale = GAS_CONSTANT_J_MOL_K / blend.mass_kg();
    let mut powers = [0.0; 5];
    for (species, amount) in blend.parts() {
        for (k, power) in powers.iter_mut().enumerate() {
            let one = species.polynomial().low[k] * JOINT_K.powi(k as i32) - if k == 0 { 1.0 } else { 0.0 };
            *power += amount * one * scale;
        }
    }
    // Taylor shift by one: Horner's scheme again and again.
    for start in 0..4 {
        for k in (start..4).rev() {
            powers[k] += powers[k + 1];
        }
    }
    powers
}

/// The cubic above the joint: least squares of the relative error, held at the joint.
fn upper_terms(blend: &Blend, joint_j_kg_k: f64) -> [f64; 3] {
    let (r, half_k) = (blend.r_j_kg_k(), (FIT_UP_TO_K - JOINT_K) / 2.0);
    let mut matrix = [[0.0; 3]; 3];
    let mut right = [0.0; 3];
    for point in 0..FIT_POINTS {
        let place = libm::cos(PI * (point as f64 + 0.5) / FIT_POINTS as f64);
        let t_k = JOINT_K + half_k * (1.0 + place);
        let (cv, d) = (blend.cp_j_kg_k(t_k) - r, t_k / JOINT_K - 1.0);
        let row = [d / cv, d * d / cv, d * d * d / cv];
        let wanted = (cv - joint_j_kg_k) / cv;
        for i in 0..3 {
            for j in 0..3 {
                matrix[i][j] += row[i] * row[j];
            }
            right[i] += row[i] * wanted;
        }
    }
    solve(matrix, right)
}

/// Cramer's rule for three unknowns.
fn solve(m: [[f64; 3]; 3], right: [f64; 3]) -> [f64; 3] {
    let determinant = |m: &[[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let whole = determinant(&m);
    let unknown = |column: usize| {
        let mut changed = m;
        for (row, value) in changed.iter_mut().zip(right) {
            row[column] = value;
        }
        determinant(&changed) / whole
    };
    [unknown(0), unknown(1), unknown(2)]
}
