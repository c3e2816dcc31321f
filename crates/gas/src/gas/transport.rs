//! Viscosity and conductivity of air and burned gas.
//!
//! Cubics in temperature fitted, least greatest relative error, to mixture-averaged values from 300 to 3000 K at
//! 1 atm which a general-purpose thermodynamics library gives with the transport data of a published methane
//! mechanism: the viscosity within 0.9 %, the conductivity within 0.2 %. Pressure hardly matters and is left out.
//! Fuel vapour counts as air.

use crate::duct::Vector;

/// Coefficients by powers of T/1000 K, for air and for burned gas.
type Cubics = [[f64; 4]; 2];

/// Pa s.
const VISCOSITY: Cubics = [
    [5.135_146_38e-6, 49.499_336_3e-6, -13.343_488_1e-6, 2.028_405_15e-6],
    [3.087_686_51e-6, 49.009_284_4e-6, -12.522_726_4e-6, 1.837_392_31e-6],
];

/// W/(m K).
const CONDUCTIVITY: Cubics = [
    [0.005_708_24, 0.071_259_65, -0.008_313_6, 0.000_573_02],
    [0.002_731_96, 0.075_213_41, -0.003_811_82, -0.000_387_48],
];

/// Dynamic viscosity, Pa s, of a mixture with this mass share of burned gas, at a temperature in K (250 to 3500).
#[inline(always)]
pub fn viscosity_pa_s(t_k: f64, burned: f64) -> f64 {
    viscosity_of(t_k, burned)
}

/// The same for several.
#[inline(always)]
pub(crate) fn viscosity_of<V: Vector>(t_k: V, burned: V) -> V {
    blended(&VISCOSITY, t_k, burned)
}

/// Thermal conductivity, W/(m K), of a mixture with this mass share of burned gas, at a temperature in K (250 to 3500).
#[inline(always)]
pub fn conductivity_w_m_k(t_k: f64, burned: f64) -> f64 {
    conductivity_of(t_k, burned)
}

/// As [`viscosity_of`].
#[inline(always)]
pub(crate) fn conductivity_of<V: Vector>(t_k: V, burned: V) -> V {
    blended(&CONDUCTIVITY, t_k, burned)
}

#[inline(always)]
fn blended<V: Vector>(cubics: &Cubics, t_k: V, burned: V) -> V {
    let x = t_k * V::of(1e-3);
    let [air, other] = cubics;
    let mut sum = V::of(other[3] - air[3]).fused(burned, V::of(air[3]));
    for k in [2, 1, 0] {
        sum = sum.fused(x, V::of(other[k] - air[k]).fused(burned, V::of(air[k])));
    }
    sum
}
