//! Stiffness of a wire from its diameter, construction and length: k = E·A/L.
//!
//! A stranded wire is softer than a rod of its diameter, because part of the section is air (A = share of the
//! circle) and because the strands uncoil (E below that of solid steel). Shares are exact for round wires that
//! touch (7 strands of 7: 49/81; one strand of 19: 19/25). 6x19: E = 74.4 GPa and A = 0.39 d² as in Jindal,
//! Machine Design (2010), example 24-2. 7x19: 62 to 83 GPa and 0.50 to 0.56 of the circle, secondary source.
//! Solid steel 200 GPa. E of 1x19 and 7x7: from memory, therefore wide.

use super::spec::Word;
use quantity::{Dimension, Measured};
use std::f64::consts::FRAC_PI_4;

/// Constructions that can be named in the file.
pub(super) const CONSTRUCTIONS: &[Word] = &[
    Word { word: "solid", meaning: "one wire" },
    Word { word: "1x19", meaning: "one strand of 19 wires, stiff" },
    Word { word: "7x7", meaning: "7 strands of 7 wires" },
    Word { word: "7x19", meaning: "7 strands of 19 wires, supple" },
    Word { word: "6x19", meaning: "6 strands of 19 wires round a fibre core" },
];

/// E·A for one square metre of diameter squared: (middle, half-width of E in Pa), (middle, half-width of A/d²).
fn section(construction: &str) -> Option<((f64, f64), (f64, f64))> {
    match construction {
        "solid" => Some(((200e9, 5e9), (FRAC_PI_4, 0.0))),
        "1x19" => Some(((130e9, 30e9), (FRAC_PI_4 * 19.0 / 25.0, 0.0))),
        "7x7" => Some(((100e9, 30e9), (FRAC_PI_4 * 49.0 / 81.0, 0.0))),
        "7x19" => Some(((72.5e9, 10.5e9), (FRAC_PI_4 * 0.53, FRAC_PI_4 * 0.03))),
        "6x19" => Some(((74.4e9, 7.4e9), (0.39, 0.01))),
        _ => None,
    }
}

/// Stiffness of a wire, N/m, with the spreads of all four figures combined (JCGM 100:2008, 5.1.6).
///
/// Diameter and length in m. `None` for an unknown construction or a figure that is not above zero.
pub(super) fn stiffness(diameter: &Measured, length: &Measured, construction: &str) -> Option<Measured> {
    let ((e_pa, e_half), (share, share_half)) = section(construction)?;
    if diameter.value <= 0.0 || length.value <= 0.0 {
        return None;
    }
    let value = e_pa * share * diameter.value.powi(2) / length.value;
    let relative = [
        e_half / e_pa / 3f64.sqrt(),
        share_half / share / 3f64.sqrt(),
        2.0 * diameter.u / diameter.value,
        length.u / length.value,
    ];
    let u = value * relative.iter().map(|part| part * part).sum::<f64>().sqrt();
    Some(Measured::normal(value, u, Dimension::Stiffness))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Measured {
        Measured::exact(value * 1e-3, Dimension::Length)
    }

    #[test]
    fn exact_solid_wire_is_modulus_times_section_over_length() {
        let k = stiffness(&mm(1.0), &mm(1000.0), "solid").unwrap();
        assert!((k.value - 200e9 * FRAC_PI_4 * 1e-6).abs() < 1e-6);
        assert!((k.u / k.value - 0.025 / 3f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn exact_spread_of_the_diameter_counts_twice() {
        let diameter = Measured::normal(1e-3, 0.05e-3, Dimension::Length);
        let k = stiffness(&diameter, &mm(1000.0), "solid").unwrap();
        let modulus = 0.025 / 3f64.sqrt();
        assert!((k.u / k.value - (0.01 + modulus * modulus).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn practice_supple_wires_are_softer() {
        let of = |construction| stiffness(&mm(1.5), &mm(900.0), construction).unwrap().value;
        assert!(of("solid") > of("1x19") && of("1x19") > of("7x7") && of("7x7") > of("7x19"));
    }

    #[test]
    fn refuses_what_is_no_wire() {
        assert!(stiffness(&mm(0.0), &mm(1.0), "solid").is_none());
        assert!(stiffness(&mm(1.0), &mm(1.0), "rope").is_none());
    }
}
