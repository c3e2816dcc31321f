//! Rates of coil springs from their wire and coils, for when nobody has measured them.

use std::f64::consts::TAU;

/// A spring figure that cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SpringError {
    /// A figure is zero, negative or not a number.
    #[error("{name} is {value}: it must be above zero; measure the spring again")]
    NotPositive {
        /// What it is, in words.
        name: &'static str,
        /// The value in SI.
        value: f64,
    },
    /// The wire is as thick as the coil is wide.
    #[error(
        "wire diameter {wire_mm:.2} mm does not fit a mean coil diameter of {coil_mm:.2} mm: \
         the mean coil diameter is outside diameter less one wire diameter; measure both again"
    )]
    WireTooThick {
        /// Wire diameter, mm.
        wire_mm: f64,
        /// Mean coil diameter, mm.
        coil_mm: f64,
    },
}

/// Rate in N/m of a round-wire compression spring: G·d⁴/(8·D³·N).
///
/// Shear modulus in Pa (about 79 to 84 GPa for spring steel), wire diameter and mean coil diameter (outside diameter
/// less one wire) in m, number of active coils (all coils less the two closed ends). The formula leaves out the
/// curvature of the wire, which matters little from D/d = 4 upwards. Source: J. Shigley, C. Mischke, *Mechanical
/// Engineering Design*, ch. 10; U. Jindal, *Machine Design*, ch. 8.
pub fn compression_rate(
    shear_modulus_pa: f64,
    wire_diameter_m: f64,
    mean_coil_diameter_m: f64,
    active_coils: f64,
) -> Result<f64, SpringError> {
    check_coil(shear_modulus_pa, wire_diameter_m, mean_coil_diameter_m, active_coils)?;
    Ok(shear_modulus_pa * wire_diameter_m.powi(4) / (8.0 * mean_coil_diameter_m.powi(3) * active_coils))
}

/// Which constant turns wire and coils into the rate of a torsion spring; the two lie 6 % apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TorsionConstant {
    /// 64/2π = 10.186 per turn: bending of the wire alone.
    Theory,
    /// 10.8 per turn: the usual workshop constant, friction between coils and mandrel included.
    Practice,
}

/// Rate in N·m/rad of a round-wire torsion spring: E·d⁴/(c·D·N) per turn, divided by 2π.
///
/// Elastic modulus in Pa, wire and mean coil diameter in m, active coils including the legs (see
/// [`coils_for_legs`]). Source: U. Jindal, *Machine Design*, ch. 8 (constant 10.8).
pub fn torsion_rate(
    elastic_modulus_pa: f64,
    wire_diameter_m: f64,
    mean_coil_diameter_m: f64,
    active_coils: f64,
    constant: TorsionConstant,
) -> Result<f64, SpringError> {
    check_coil(elastic_modulus_pa, wire_diameter_m, mean_coil_diameter_m, active_coils)?;
    let per_turn = match constant {
        TorsionConstant::Theory => 64.0 / TAU,
        TorsionConstant::Practice => 10.8,
    };
    Ok(elastic_modulus_pa * wire_diameter_m.powi(4) / (per_turn * mean_coil_diameter_m * active_coils) / TAU)
}

/// Coils that count for the bending of a torsion spring's two straight legs: (l₁ + l₂)/(3·π·D). Lengths in m.
pub fn coils_for_legs(first_leg_m: f64, second_leg_m: f64, mean_coil_diameter_m: f64) -> f64 {
    (first_leg_m + second_leg_m) / (1.5 * TAU * mean_coil_diameter_m)
}

fn check_coil(modulus_pa: f64, wire_m: f64, coil_m: f64, coils: f64) -> Result<(), SpringError> {
    let figures = [
        ("modulus of the spring wire", modulus_pa),
        ("wire diameter", wire_m),
        ("mean coil diameter", coil_m),
        ("number of active coils", coils),
    ];
    for (name, value) in figures {
        if !(value > 0.0 && value.is_finite()) {
            return Err(SpringError::NotPositive { name, value });
        }
    }
    if wire_m >= coil_m {
        return Err(SpringError::WireTooThick { wire_mm: wire_m * 1e3, coil_mm: coil_m * 1e3 });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_a_wire_thicker_than_the_coil() {
        let error = compression_rate(80e9, 5e-3, 4e-3, 6.0).unwrap_err();
        assert_eq!(
            error.to_string(),
            "wire diameter 5.00 mm does not fit a mean coil diameter of 4.00 mm: the mean coil diameter is outside \
             diameter less one wire diameter; measure both again"
        );
    }

    #[test]
    fn refuses_zero_coils_and_what_is_no_number() {
        assert!(compression_rate(80e9, 1e-3, 8e-3, 0.0).is_err());
        assert!(torsion_rate(f64::NAN, 1e-3, 8e-3, 4.0, TorsionConstant::Theory).is_err());
    }

    #[test]
    fn exact_ratio_of_the_two_torsion_constants() {
        let rate = |constant| torsion_rate(200e9, 1e-3, 8e-3, 4.0, constant).unwrap();
        let ratio = rate(TorsionConstant::Theory) / rate(TorsionConstant::Practice);
        assert!((ratio - 10.8 * std::f64::consts::PI / 32.0).abs() < 1e-14);
    }
}
