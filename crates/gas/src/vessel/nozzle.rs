//! Quasi-steady isentropic flow through an opening between two vessels.
//!
//! Closed forms for a constant ratio of heat capacities: Ames Research Staff, Equations, Tables and Charts for
//! Compressible Flow, NACA Report 1135, 1953, equations (43) to (46) and (92) (recalled; the figures are checked
//! against closed forms worked out independently).

use crate::duct::Vector;

/// Pressure in the throat over stagnation pressure at which the flow chokes.
pub fn critical_pressure_ratio(gamma: f64) -> f64 {
    Vector::exp(gamma / (gamma - 1.0) * Vector::ln(2.0 / (gamma + 1.0)))
}

/// Mass flow over A p0 / sqrt(R T0), for a ratio of back pressure to stagnation pressure from 0 to 1; zero at 1.
pub fn flow_function(gamma: f64, pressure_ratio: f64) -> f64 {
    // Above this no gas is choked: the critical ratio falls with gamma from 0.607 at 1.
    let least = if pressure_ratio > 0.61 { 0.61 } else { critical_pressure_ratio(gamma) };
    let ratio = pressure_ratio.clamp(least, 1.0);
    // expm1 and log keep the digits when both sides have nearly the same pressure.
    let log = Vector::ln(ratio);
    let drop = -libm::expm1((gamma - 1.0) / gamma * log);
    Vector::exp(log / gamma) * (2.0 * gamma / (gamma - 1.0) * drop).sqrt()
}

/// Mass flow, kg/s, through an effective area (geometric area times discharge coefficient), m², from stagnation
/// pressure (Pa), temperature (K) and gas constant (J/(kg K)) to a back pressure (Pa) not above the stagnation
/// pressure.
pub fn mass_flow_kg_s(area_m2: f64, from_pa: f64, from_k: f64, r_j_kg_k: f64, gamma: f64, to_pa: f64) -> f64 {
    area_m2 * from_pa / (r_j_kg_k * from_k).sqrt() * flow_function(gamma, to_pa / from_pa)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_choked_at_the_maximum_of_the_unchoked_form() {
        for gamma in [1.25, 1.3, 1.4] {
            let critical = critical_pressure_ratio(gamma);
            let choked = gamma.sqrt() * libm::pow(2.0 / (gamma + 1.0), (gamma + 1.0) / (2.0 * (gamma - 1.0)));
            assert!((flow_function(gamma, critical) / choked - 1.0).abs() < 1e-12);
            assert_eq!(flow_function(gamma, 0.0), flow_function(gamma, critical));
            assert!(flow_function(gamma, critical + 1e-3) < choked);
            assert_eq!(flow_function(gamma, 1.0), 0.0);
        }
    }

    #[test]
    fn exact_small_pressure_differences_flow_as_incompressible() {
        // mdot = A sqrt(2 rho dp) for a vanishing difference.
        let (p, t, r) = (1e5, 300.0, 287.0);
        let flow = mass_flow_kg_s(1e-4, p, t, r, 1.4, p - 1e-3);
        let plain = 1e-4 * (2.0 * p / (r * t) * 1e-3f64).sqrt();
        assert!((flow / plain - 1.0).abs() < 1e-8);
    }
}
