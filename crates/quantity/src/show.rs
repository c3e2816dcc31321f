//! [`Measured`] and SI figures to text, in metric or inch units.

use crate::{Dimension, Measured};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// Which units figures are shown in; the figures themselves are not touched by the choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// mm, cm³, N, N·m, kPa, °C.
    #[default]
    Metric,
    /// in, in³, lbf, lbf·ft, psi, °F.
    Inch,
}

/// A unit to show figures in: shown figure = SI value x `per_si` + `offset`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DisplayUnit {
    /// What stands behind the figure; empty for plain numbers.
    pub symbol: &'static str,
    /// Units in one SI unit.
    pub per_si: f64,
    /// Added after the factor; only temperatures have one.
    pub offset: f64,
}

impl DisplayUnit {
    /// The figure in this unit for a value in SI.
    pub fn from_si(self, si: f64) -> f64 {
        si * self.per_si + self.offset
    }

    /// The value in SI for a figure in this unit.
    pub fn to_si(self, figure: f64) -> f64 {
        (figure - self.offset) / self.per_si
    }
}

/// A display unit and the number of decimals that are sensible in it.
struct Face {
    unit: DisplayUnit,
    fewest: usize,
    most: usize,
}

const fn face(symbol: &'static str, si: f64, fewest: usize, most: usize) -> Face {
    Face { unit: DisplayUnit { symbol, per_si: 1.0 / si, offset: 0.0 }, fewest, most }
}

const INCH_M: f64 = 0.0254;
const POUND_KG: f64 = 0.453_592_37;
const LBF_N: f64 = POUND_KG * 9.806_65;

/// The unit for labels of axes and sliders, the same for every figure of a dimension.
pub fn display_unit(dimension: Dimension, units: Units) -> DisplayUnit {
    usual_face(dimension, units).unit
}

fn usual_face(dimension: Dimension, units: Units) -> Face {
    use Dimension::*;
    match (dimension, units) {
        (Length, Units::Metric) => face("mm", 1e-3, 1, 3),
        (Length, Units::Inch) => face("in", INCH_M, 3, 4),
        (Angle, _) => face("°", PI / 180.0, 1, 2),
        (Area, Units::Metric) => face("cm²", 1e-4, 1, 3),
        (Area, Units::Inch) => face("in²", INCH_M * INCH_M, 2, 4),
        (Volume, Units::Metric) => face("cm³", 1e-6, 1, 2),
        (Volume, Units::Inch) => face("in³", INCH_M * INCH_M * INCH_M, 2, 3),
        (Force, Units::Metric) => face("N", 1.0, 0, 2),
        (Force, Units::Inch) => face("lbf", LBF_N, 1, 2),
        (Torque, Units::Metric) => face("N·m", 1.0, 1, 3),
        (Torque, Units::Inch) => face("lbf·in", LBF_N * INCH_M, 1, 2),
        (Power, Units::Metric) => face("kW", 1e3, 1, 2),
        (Power, Units::Inch) => face("hp", 550.0 * LBF_N * 0.3048, 1, 2),
        (Stiffness, Units::Metric) => face("N/mm", 1e3, 1, 3),
        (Stiffness, Units::Inch) => face("lbf/in", LBF_N / INCH_M, 1, 2),
        (TorsionRate, Units::Metric) => face("N·m/rad", 1.0, 2, 4),
        (TorsionRate, Units::Inch) => face("lbf·in/rad", LBF_N * INCH_M, 2, 3),
        (Resistance, _) => face("kΩ", 1e3, 2, 3),
        (Voltage, _) => face("V", 1.0, 2, 3),
        (Current, _) => face("A", 1.0, 2, 3),
        (Speed, _) => face("rpm", PI / 30.0, 0, 1),
        (Pressure, Units::Metric) => face("kPa", 1e3, 1, 2),
        (Pressure, Units::Inch) => face("psi", LBF_N / (INCH_M * INCH_M), 1, 2),
        (Temperature, Units::Metric) => shifted(face("°C", 1.0, 0, 1), -273.15),
        (Temperature, Units::Inch) => shifted(face("°F", 5.0 / 9.0, 0, 1), -459.67),
        (Time, _) => face("ms", 1e-3, 1, 3),
        (Mass, Units::Metric) => face("g", 1e-3, 1, 2),
        (Mass, Units::Inch) => face("oz", POUND_KG / 16.0, 2, 3),
        (Number, _) => face("", 1.0, 0, 4),
    }
}

const fn shifted(face: Face, offset: f64) -> Face {
    Face { unit: DisplayUnit { offset, ..face.unit }, ..face }
}

/// The unit that suits a figure of this size.
fn face_for(size: f64, dimension: Dimension, units: Units) -> Face {
    use Dimension::*;
    match (dimension, units) {
        (Resistance, _) if size < 1e3 => face("Ω", 1.0, 1, 2),
        (Time, _) if size >= 1.0 => face("s", 1.0, 1, 3),
        (Pressure, Units::Metric) if size >= 1e6 => face("bar", 1e5, 1, 2),
        (Torque, Units::Inch) if size >= 2.0 * LBF_N * 0.3048 => face("lbf·ft", LBF_N * 0.3048, 1, 2),
        (Mass, Units::Metric) if size >= 1.0 => face("kg", 1.0, 2, 3),
        (Mass, Units::Inch) if size >= POUND_KG => face("lb", POUND_KG, 2, 3),
        _ => usual_face(dimension, units),
    }
}

/// A measured quantity as it is shown: `10.20 ± 0.12 mm`.
///
/// What stands after ± is the expanded uncertainty 2u (about 95 %), rounded to two significant digits, and the
/// value is rounded to the same decimal. A figure without uncertainty is shown without ±.
pub fn show(measured: &Measured, units: Units) -> String {
    let Measured { value, dimension, .. } = *measured;
    let expanded_si = measured.expanded();
    if !value.is_finite() || !expanded_si.is_finite() {
        return NO_FIGURE.to_owned();
    }
    let face = face_for(value.abs().max(expanded_si), dimension, units);
    let figure = face.unit.from_si(value);
    let expanded = expanded_si * face.unit.per_si;
    if expanded < 1e-9 || expanded < figure.abs() * 1e-12 {
        return show_exact(figure, &face);
    }
    let place = 1 - magnitude(expanded);
    // Rounding can carry (0.0996 -> 0.100): then one digit less says the same.
    let place = if magnitude(round_at(expanded, place)) > magnitude(expanded) { place - 1 } else { place };
    if figure.abs().max(expanded) >= TOO_LONG {
        return with_unit(&format!("{} ± {expanded:.1e}", scientific(figure)), face.unit.symbol);
    }
    let decimals = usize::try_from(place).unwrap_or(0).min(MOST_DECIMALS);
    let text =
        format!("{} ± {:.decimals$}", signed(round_at(figure, place), decimals), round_at(expanded, place));
    with_unit(&text, face.unit.symbol)
}

/// An SI figure with four significant digits, within the decimals that make sense in its unit.
pub fn show_value(si: f64, dimension: Dimension, units: Units) -> String {
    if !si.is_finite() {
        return NO_FIGURE.to_owned();
    }
    let face = face_for(si.abs(), dimension, units);
    let figure = face.unit.from_si(si);
    with_unit(&plain(figure, sensible_decimals(figure, &face)), face.unit.symbol)
}

/// An SI figure with a given number of decimals (at most 12), in the unit of [`display_unit`].
pub fn show_with(si: f64, decimals: usize, dimension: Dimension, units: Units) -> String {
    if !si.is_finite() {
        return NO_FIGURE.to_owned();
    }
    let unit = display_unit(dimension, units);
    with_unit(&plain(unit.from_si(si), decimals.min(MOST_DECIMALS)), unit.symbol)
}

const NO_FIGURE: &str = "no figure";
const MOST_DECIMALS: usize = 12;
/// Figures from here on are shown with an exponent.
const TOO_LONG: f64 = 1e9;

/// An exact figure: all decimals that make sense, without trailing zeros.
fn show_exact(figure: f64, face: &Face) -> String {
    let decimals = face.most.max(sensible_decimals(figure, face));
    let text = plain(figure, decimals);
    let text = if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    with_unit(text, face.unit.symbol)
}

/// Decimals for four significant digits, within the bounds of the face; plain numbers may be as small as they like.
fn sensible_decimals(figure: f64, face: &Face) -> usize {
    if figure == 0.0 {
        return face.fewest;
    }
    let wanted = usize::try_from(3 - magnitude(figure)).unwrap_or(0);
    let most = if face.unit.symbol.is_empty() { MOST_DECIMALS } else { face.most };
    wanted.clamp(face.fewest, most)
}

/// Power of ten of the first significant digit.
fn magnitude(figure: f64) -> i32 {
    // Finite positive figures lie between 1e-324 and 1e309, so the cast cannot overflow.
    figure.abs().log10().floor() as i32
}

fn round_at(figure: f64, place: i32) -> f64 {
    if place >= 0 {
        let scale = 10f64.powi(place.min(300));
        let scaled = figure * scale;
        if scaled.is_finite() { scaled.round() / scale } else { figure }
    } else {
        let scale = 10f64.powi(-place);
        (figure / scale).round() * scale
    }
}

fn plain(figure: f64, decimals: usize) -> String {
    if figure.abs() >= TOO_LONG { scientific(figure) } else { signed(figure, decimals) }
}

fn scientific(figure: f64) -> String {
    true_minus(&format!("{figure:.6e}"))
}

/// Fixed decimals, a true minus sign, and no minus before nothing.
fn signed(figure: f64, decimals: usize) -> String {
    let text = format!("{figure:.decimals$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.chars().all(|c| matches!(c, '0' | '.')) => digits.to_owned(),
        _ => true_minus(&text),
    }
}

fn true_minus(text: &str) -> String {
    text.replace('-', "\u{2212}")
}

fn with_unit(text: &str, symbol: &str) -> String {
    match symbol {
        "" => text.to_owned(),
        "°" => format!("{text}°"),
        _ => format!("{text} {symbol}"),
    }
}

#[cfg(test)]
mod round_trips;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parse;

    fn shown(text: &str, dimension: Dimension, units: Units) -> String {
        show(&parse(text, dimension).unwrap(), units)
    }

    #[test]
    fn exact_lengths() {
        assert_eq!(shown("10.2 ± 0.12 mm (k=2)", Dimension::Length, Units::Metric), "10.20 ± 0.12 mm");
        assert_eq!(shown("10.2 ± 0.1 mm", Dimension::Length, Units::Metric), "10.20 ± 0.12 mm");
        assert_eq!(shown("54.5 mm exact", Dimension::Length, Units::Metric), "54.5 mm");
        assert_eq!(shown("54.5 mm exact", Dimension::Length, Units::Inch), "2.1457 in");
        assert_eq!(shown("1 3/32 in", Dimension::Length, Units::Inch), "1.094 ± 0.018 in");
        assert_eq!(shown("-0.3 ± 0.1 mm", Dimension::Length, Units::Metric), "−0.30 ± 0.12 mm");
        assert_eq!(
            show(&Measured::normal(0.0123, 0.0000498, Dimension::Length), Units::Metric),
            "12.30 ± 0.10 mm"
        );
        assert_eq!(show(&Measured::normal(-1e-9, 0.001, Dimension::Length), Units::Metric), "0.0 ± 2.0 mm");
    }

    #[test]
    fn exact_units_that_change_with_size() {
        assert_eq!(shown("860 Ω exact", Dimension::Resistance, Units::Metric), "860 Ω");
        assert_eq!(shown("4860 ohm exact", Dimension::Resistance, Units::Metric), "4.86 kΩ");
        assert_eq!(show_value(0.015, Dimension::Time, Units::Metric), "15.00 ms");
        assert_eq!(show_value(2.5, Dimension::Time, Units::Metric), "2.500 s");
        assert_eq!(show_value(101_325.0, Dimension::Pressure, Units::Metric), "101.3 kPa");
        assert_eq!(show_value(0.5, Dimension::Torque, Units::Inch), "4.43 lbf·in");
        assert_eq!(show_value(20.0, Dimension::Torque, Units::Inch), "14.75 lbf·ft");
    }

    #[test]
    fn exact_temperatures_shift_the_value_and_not_the_uncertainty() {
        assert_eq!(shown("20 ± 2 °C (k=2)", Dimension::Temperature, Units::Metric), "20.0 ± 2.0 °C");
        assert_eq!(shown("20 ± 2 °C (k=2)", Dimension::Temperature, Units::Inch), "68.0 ± 3.6 °F");
    }

    #[test]
    fn exact_sizes_from_nothing_to_the_absurd() {
        assert_eq!(show_value(0.0, Dimension::Length, Units::Metric), "0.0 mm");
        assert_eq!(show_value(-1e-12, Dimension::Length, Units::Metric), "0.000 mm");
        assert_eq!(show_value(f64::NAN, Dimension::Length, Units::Metric), "no figure");
        assert_eq!(show_value(1e300, Dimension::Length, Units::Metric), "1.000000e303 mm");
        assert_eq!(show(&Measured::normal(628.3, 12.57, Dimension::Speed), Units::Metric), "6000 ± 240 rpm");
        assert_eq!(show_value(0.00012, Dimension::Number, Units::Metric), "0.0001200");
    }

    #[test]
    fn exact_display_unit_goes_both_ways() {
        for dimension in Dimension::ALL {
            for units in [Units::Metric, Units::Inch] {
                let unit = display_unit(dimension, units);
                let there_and_back = unit.to_si(unit.from_si(3.7));
                assert!((there_and_back - 3.7).abs() < 1e-12, "{dimension:?}");
            }
        }
    }
}
