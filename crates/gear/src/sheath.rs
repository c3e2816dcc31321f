//! The sheath as a strut: how much thrust its free stretches stand before they bow out.
//!
//! A wire inside a sheath that lies on it everywhere cannot bow the two together: what the wire pulls, the sheath
//! pushes, and the sum is nothing. Only where the sheath stands free of that (worn wide, at a bare ferrule, past a
//! broken clip) does it buckle as a strut of its own. The load here, with no help from the wire, is therefore a lower
//! bound: a margin above 1 is safe, one below 1 says that the sheath must be guided, not that it has failed.

use std::f64::consts::PI;

/// How the ends of a free stretch are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// Free to tilt in ferrules with play: effective length 1.
    Hinged,
    /// Held straight on both sides, as by long ferrules or clips: effective length 0.5.
    Clamped,
    /// Clamped on one side, free to tilt on the other: effective length 0.699.
    ClampedHinged,
}

impl Ends {
    /// Effective length over free length.
    pub fn effective_length(self) -> f64 {
        match self {
            Self::Hinged => 1.0,
            Self::Clamped => 0.5,
            // 0.699 156 = pi/x with x the first root of tan x = x, 4.493 409.
            Self::ClampedHinged => PI / 4.493_409_457_909_064,
        }
    }
}

/// Bending stiffness E·I in N·m² of a sheath clamped level at one end, from how far a weight at the other end sinks:
/// E·I = F·L³/(3·f) (cantilever). Force in N, free length in m, added droop in m; all above zero. Source: U. Jindal,
/// *Machine Design*, ch. on stresses in beams; holds for droops small against the length.
pub fn bending_stiffness_n_m2(weight_n: f64, length_m: f64, droop_m: f64) -> f64 {
    weight_n * length_m.powi(3) / (3.0 * droop_m)
}

/// Thrust in N at which a straight free stretch bows out: π²·E·I/(K·L)² (Euler; U. Jindal, *Machine Design*, ch. 7).
/// Bending stiffness in N·m², free length in m, above zero.
pub fn buckling_load_n(bending_stiffness_n_m2: f64, free_length_m: f64, ends: Ends) -> f64 {
    PI.powi(2) * bending_stiffness_n_m2 / (ends.effective_length() * free_length_m).powi(2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_steel_rod_of_two_millimetres() {
        // I = pi d^4/64, E = 207 GPa, L = 200 mm: 40.114 N hinged, 160.457 N clamped, by hand.
        let stiffness = 207e9 * PI * 0.002_f64.powi(4) / 64.0;
        assert!((buckling_load_n(stiffness, 0.2, Ends::Hinged) - 40.114_370_455).abs() < 1e-8);
        assert!((buckling_load_n(stiffness, 0.2, Ends::Clamped) - 160.457_481_821).abs() < 1e-8);
    }

    #[test]
    fn exact_clamped_and_hinged_solves_tan_x_is_x() {
        let x = PI / Ends::ClampedHinged.effective_length();
        assert!((x.tan() - x).abs() < 1e-10);
    }

    #[test]
    fn round_trips_a_droop() {
        let (stiffness, weight, length) = (4e-3, 0.5, 0.1_f64);
        let droop = weight * length.powi(3) / (3.0 * stiffness);
        assert!((bending_stiffness_n_m2(weight, length, droop) / stiffness - 1.0).abs() < 1e-15);
    }
}
