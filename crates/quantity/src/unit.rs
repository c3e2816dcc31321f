//! The units a figure may carry, with their factors to SI.
//!
//! Factors follow A. Thompson, B. N. Taylor, *Guide for the Use of the International System of Units (SI)*,
//! NIST Special Publication 811, 2008 edition, appendix B.8; exact ones are written as their definitions.

use crate::Dimension;
use std::f64::consts::PI;

/// One unit: value in SI = (written figure + `zero`) x `factor`.
#[derive(Debug)]
pub(crate) struct Unit {
    /// Spellings as they are compared: no spaces, points, middle dots or hyphens. The first is the shown one.
    spellings: &'static [&'static str],
    pub(crate) dimension: Dimension,
    /// SI per unit.
    pub(crate) factor: f64,
    /// Added to the written figure before the factor: only temperatures have one.
    pub(crate) zero: f64,
}

impl Unit {
    /// SI value of a figure in this unit.
    pub(crate) fn to_si(&self, figure: f64) -> f64 {
        if self.zero == 0.0 { figure * self.factor } else { (figure + self.zero) * self.factor }
    }

    /// The spelling to show.
    pub(crate) fn symbol(&self) -> &'static str {
        self.spellings.first().copied().unwrap_or("")
    }
}

const fn unit(dimension: Dimension, factor: f64, spellings: &'static [&'static str]) -> Unit {
    Unit { spellings, dimension, factor, zero: 0.0 }
}

const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 0.3048;
/// Standard gravity, exact.
const GRAVITY: f64 = 9.806_65;
/// Avoirdupois pound, exact.
const POUND_KG: f64 = 0.453_592_37;
const KGF_N: f64 = GRAVITY;
const LBF_N: f64 = POUND_KG * GRAVITY;
/// Conventional millimetre of mercury, 13 595.1 kg/m³ at standard gravity.
const MMHG_PA: f64 = 13.5951 * GRAVITY;
const DEGREE: f64 = PI / 180.0;

use Dimension::*;

#[rustfmt::skip]
static UNITS: &[Unit] = &[
    unit(Length, 1e-3, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
    unit(Length, 1e-2, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"]),
    unit(Length, 1.0, &["m", "metre", "metres", "meter", "meters"]),
    unit(Length, 1e-6, &["µm", "um", "micron", "microns"]),
    unit(Length, INCH_M, &["in", "\"", "inch", "inches"]),
    unit(Length, INCH_M * 1e-3, &["thou", "thous"]),
    unit(Length, FOOT_M, &["ft", "foot", "feet"]),

    unit(Angle, DEGREE, &["°", "deg", "degs", "degree", "degrees"]),
    unit(Angle, 1.0, &["rad", "radian", "radians"]),
    unit(Angle, 2.0 * PI, &["turns", "turn", "rev", "revs", "revolution", "revolutions"]),

    unit(Area, 1e-6, &["mm²", "mm2", "sqmm"]),
    unit(Area, 1e-4, &["cm²", "cm2", "sqcm"]),
    unit(Area, 1.0, &["m²", "m2"]),
    unit(Area, INCH_M * INCH_M, &["in²", "in2", "sqin", "\"²"]),

    unit(Volume, 1e-6, &["cm³", "cm3", "cc", "ccm", "ml", "mL", "millilitre", "millilitres", "cucm"]),
    unit(Volume, 1e-9, &["mm³", "mm3"]),
    unit(Volume, 1e-3, &["l", "L", "litre", "litres", "liter", "liters"]),
    unit(Volume, INCH_M * INCH_M * INCH_M, &["in³", "in3", "cuin", "ci"]),

    unit(Force, 1.0, &["N", "newton", "newtons"]),
    unit(Force, 1e3, &["kN"]),
    unit(Force, KGF_N, &["kgf", "kp"]),
    unit(Force, LBF_N, &["lbf"]),
    unit(Force, KGF_N * 1e-3, &["gf"]),

    unit(Torque, 1.0, &["N·m", "Nm"]),
    unit(Torque, 1e-3, &["N·mm", "Nmm"]),
    unit(Torque, 1e-2, &["N·cm", "Ncm"]),
    unit(Torque, KGF_N * 1e-2, &["kgf·cm", "kgfcm", "cmkgf"]),
    unit(Torque, KGF_N, &["kgf·m", "kgfm", "mkgf"]),
    unit(Torque, LBF_N * FOOT_M, &["lbf·ft", "lbfft", "ftlbf", "ftlb", "ftlbs", "lbft", "lbsft"]),
    unit(Torque, LBF_N * INCH_M, &["lbf·in", "lbfin", "inlbf", "inlb", "inlbs", "lbin", "lbsin"]),

    unit(Power, 1e3, &["kW"]),
    unit(Power, 1.0, &["W"]),
    unit(Power, 550.0 * LBF_N * FOOT_M, &["hp", "bhp"]),
    unit(Power, 75.0 * GRAVITY, &["PS", "cv", "ch"]),
    unit(Stiffness, 1e3, &["N/mm"]),
    unit(Stiffness, 1.0, &["N/m"]),
    unit(Stiffness, KGF_N * 1e3, &["kgf/mm", "kp/mm"]),
    unit(Stiffness, KGF_N * 1e2, &["kgf/cm"]),
    unit(Stiffness, LBF_N / INCH_M, &["lbf/in", "lbf/inch", "lbf/\""]),

    unit(TorsionRate, 1.0, &["N·m/rad", "Nm/rad"]),
    unit(TorsionRate, 1.0 / DEGREE, &["N·m/deg", "Nm/deg", "Nm/°", "Nm/degree"]),
    unit(TorsionRate, 1e-3 / DEGREE, &["N·mm/deg", "Nmm/deg", "Nmm/°", "Nmm/degree"]),
    unit(TorsionRate, 1e-3, &["N·mm/rad", "Nmm/rad"]),
    unit(TorsionRate, LBF_N * INCH_M, &["lbf·in/rad", "lbfin/rad", "inlbf/rad"]),
    unit(TorsionRate, LBF_N * INCH_M / DEGREE, &["lbf·in/deg", "lbfin/deg", "lbfin/°", "inlbf/deg", "inlbf/°"]),

    unit(Resistance, 1.0, &["Ω", "ohm", "ohms", "R"]),
    unit(Resistance, 1e3, &["kΩ", "kohm", "kohms", "k", "kiloohm", "kiloohms"]),
    unit(Resistance, 1e6, &["MΩ", "Mohm", "Mohms", "megohm", "megohms"]),
    unit(Voltage, 1.0, &["V", "volt", "volts"]),
    unit(Voltage, 1e-3, &["mV"]),
    unit(Current, 1.0, &["A", "amp", "amps", "ampere", "amperes"]),
    unit(Current, 1e-3, &["mA"]),

    unit(Speed, PI / 30.0, &["rpm", "r/min", "rev/min", "revs/min", "1/min", "/min", "min⁻¹"]),
    unit(Speed, 1.0, &["rad/s"]),

    unit(Pressure, 1e3, &["kPa"]),
    unit(Pressure, 1.0, &["Pa"]),
    unit(Pressure, 1e6, &["MPa"]),
    unit(Pressure, 1e5, &["bar"]),
    unit(Pressure, 1e2, &["mbar", "hPa"]),
    unit(Pressure, LBF_N / (INCH_M * INCH_M), &["psi", "lbf/in²", "lbf/in2"]),
    unit(Pressure, MMHG_PA, &["mmHg"]),
    unit(Pressure, MMHG_PA * 25.4, &["inHg"]),

    Unit { spellings: &["°C", "C", "degC", "degreesC", "celsius"], dimension: Temperature, factor: 1.0, zero: 273.15 },
    Unit { spellings: &["°F", "F", "degF", "degreesF", "fahrenheit"], dimension: Temperature, factor: 5.0 / 9.0, zero: 459.67 },
    unit(Temperature, 1.0, &["K", "kelvin"]),

    unit(Time, 1.0, &["s", "sec", "secs", "second", "seconds"]),
    unit(Time, 1e-3, &["ms"]),
    unit(Time, 1e-6, &["µs", "us"]),
    unit(Time, 60.0, &["min", "mins", "minute", "minutes"]),
    unit(Time, 3600.0, &["h", "hr", "hrs", "hour", "hours"]),

    unit(Mass, 1e-3, &["g", "gram", "grams", "gramme", "grammes"]),
    unit(Mass, 1.0, &["kg", "kilogram", "kilograms"]),
    unit(Mass, POUND_KG, &["lb", "lbs", "pound", "pounds"]),
    unit(Mass, POUND_KG / 16.0, &["oz", "ounce", "ounces"]),

    unit(Number, 1.0, &[""]),
    unit(Number, 1e-2, &["%", "percent"]),
];

/// Takes out what does not change a unit: spaces, middle dots, points, asterisks, hyphens ("ft-lbf", "N m", "in.").
fn bare(text: &str) -> String {
    text.chars().filter(|c| !matches!(c, ' ' | '·' | '.' | '*' | '-')).collect()
}

/// Whether two spellings differ only in capitals, and not in the m of milli against the M of mega.
fn same_but_capitals(text: &str, spelling: &str) -> bool {
    let mega = |s: &str| s.chars().next().filter(|c| matches!(c, 'm' | 'M'));
    mega(text) == mega(spelling) && text.to_lowercase() == spelling.to_lowercase()
}

/// The unit of `dimension` spelled `text`.
pub(crate) fn find(text: &str, dimension: Dimension) -> Option<&'static Unit> {
    let wanted = bare(text);
    let mut of_dimension = UNITS.iter().filter(|unit| unit.dimension == dimension);
    of_dimension
        .clone()
        .find(|unit| unit.spellings.contains(&wanted.as_str()))
        .or_else(|| of_dimension.find(|unit| unit.spellings.iter().any(|s| same_but_capitals(&wanted, s))))
}

/// The unit of any dimension spelled exactly `text`, for saying what was written instead.
pub(crate) fn find_any(text: &str) -> Option<&'static Unit> {
    let wanted = bare(text);
    UNITS.iter().find(|unit| !wanted.is_empty() && unit.spellings.contains(&wanted.as_str()))
}

/// The spelling of `dimension` nearest to a mistyped `text`, if one is near enough to be meant.
pub(crate) fn nearest(text: &str, dimension: Dimension) -> Option<&'static str> {
    let typed: Vec<char> = bare(text).to_lowercase().chars().collect();
    if typed.is_empty() || typed.len() > 16 {
        return None;
    }
    let typed = typed.as_slice();
    let allowed = if typed.len() <= 3 { 1 } else { 2 };
    UNITS
        .iter()
        .filter(|unit| unit.dimension == dimension)
        .flat_map(|unit| unit.spellings.iter().map(move |spelling| (distance(typed, spelling), unit)))
        .filter(|(edits, _)| *edits <= allowed && *edits < typed.len())
        .min_by_key(|(edits, _)| *edits)
        .map(|(_, unit)| unit.symbol())
}

/// Edits (insert, delete, change) between what was typed and a spelling, capitals ignored.
fn distance(typed: &[char], spelling: &str) -> usize {
    let target: Vec<char> = bare(spelling).to_lowercase().chars().collect();
    let mut row: Vec<usize> = (0..=target.len()).collect();
    for (i, a) in typed.iter().enumerate() {
        let mut diagonal = i;
        let mut left = i + 1;
        for (cell, b) in row.iter_mut().skip(1).zip(&target) {
            let above = *cell;
            left = (diagonal + usize::from(a != b)).min(above + 1).min(left + 1);
            diagonal = above;
            *cell = left;
        }
        if let Some(first) = row.first_mut() {
            *first = i + 1;
        }
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_every_shown_symbol_is_found_again() {
        for unit in UNITS {
            let found = find(unit.symbol(), unit.dimension).expect("a symbol that is shown must be read");
            assert_eq!(found.factor, unit.factor, "{}", unit.symbol());
        }
    }

    #[test]
    fn exact_no_spelling_means_two_units_of_one_dimension() {
        for (i, a) in UNITS.iter().enumerate() {
            for b in UNITS.iter().skip(i + 1).filter(|b| b.dimension == a.dimension) {
                let shared = a.spellings.iter().find(|s| b.spellings.contains(s));
                assert!(shared.is_none(), "{shared:?} means both {} and {}", a.symbol(), b.symbol());
            }
        }
    }

    #[test]
    fn refuses_to_take_mega_for_milli() {
        assert!(find("mΩ", Resistance).is_none());
        assert!(find("mpa", Pressure).is_none());
        assert!(find("Mm", Length).is_none());
        assert_eq!(find("KPA", Pressure).map(|u| u.factor), Some(1e3));
        assert_eq!(find("RPM", Speed).map(Unit::symbol), Some("rpm"));
    }

    #[test]
    fn exact_edit_distance() {
        let chars = |s: &str| s.chars().collect::<Vec<_>>();
        assert_eq!(distance(&chars("kitten"), "sitting"), 3);
        assert_eq!(distance(&chars(""), "mm"), 2);
        assert_eq!(distance(&chars("thuo"), "thou"), 2);
        assert_eq!(nearest("kg·cm", Torque), Some("kgf·cm"));
        assert_eq!(nearest("banana", Length), None);
    }
}
