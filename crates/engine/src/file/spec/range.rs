//! Ranges in the unit a mechanic would use.

use serde::Serialize;
use std::fmt;

/// A range of figures, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Range {
    /// Lower end, in [`Range::unit`].
    pub least: f64,
    /// Upper end, in [`Range::unit`].
    pub most: f64,
    /// Unit as it is written, empty for a plain number.
    pub unit: &'static str,
    /// SI value of one unit.
    pub si_per_unit: f64,
    /// SI value of nought units: 273.15 K for °C, else 0.
    pub si_at_nought: f64,
}

impl Range {
    /// A figure in the range's unit as SI.
    pub fn to_si(&self, figure: f64) -> f64 {
        figure * self.si_per_unit + self.si_at_nought
    }

    /// True when the SI value lies in the range (its ends included, whatever the last bit of the conversion).
    pub fn contains(&self, si: f64) -> bool {
        let value = (si - self.si_at_nought) / self.si_per_unit;
        let tolerance = 1e-9 * self.least.abs().max(self.most.abs());
        value >= self.least - tolerance && value <= self.most + tolerance
    }
}

impl fmt::Display for Range {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (least, most) = (signed(self.least), signed(self.most));
        match self.unit {
            "" => write!(f, "{least} to {most}"),
            "°" => write!(f, "{least}° to {most}°"),
            unit => write!(f, "{least} to {most} {unit}"),
        }
    }
}

/// A number with a true minus sign.
fn signed(value: f64) -> String {
    value.to_string().replace('-', "−")
}

const fn range(least: f64, most: f64, unit: &'static str, si_per_unit: f64) -> Range {
    Range { least, most, unit, si_per_unit, si_at_nought: 0.0 }
}

pub(super) const fn mm(least: f64, most: f64) -> Range {
    range(least, most, "mm", 1e-3)
}

pub(super) const fn metres(least: f64, most: f64) -> Range {
    range(least, most, "m", 1.0)
}

/// Degrees of angle.
pub const fn degrees(least: f64, most: f64) -> Range {
    range(least, most, "°", std::f64::consts::PI / 180.0)
}

pub(super) const fn cubic_cm(least: f64, most: f64) -> Range {
    range(least, most, "cm³", 1e-6)
}

pub(super) const fn newtons(least: f64, most: f64) -> Range {
    range(least, most, "N", 1.0)
}

pub(super) const fn newton_metres(least: f64, most: f64) -> Range {
    range(least, most, "N·m", 1.0)
}

pub(super) const fn newtons_per_mm(least: f64, most: f64) -> Range {
    range(least, most, "N/mm", 1e3)
}

pub(super) const fn newton_metres_per_rad(least: f64, most: f64) -> Range {
    range(least, most, "N·m/rad", 1.0)
}

pub(super) const fn kilohms(least: f64, most: f64) -> Range {
    range(least, most, "kΩ", 1e3)
}

pub(super) const fn rpm(least: f64, most: f64) -> Range {
    range(least, most, "rpm", std::f64::consts::PI / 30.0)
}

pub(super) const fn plain(least: f64, most: f64) -> Range {
    range(least, most, "", 1.0)
}

pub(super) const fn square_mm(least: f64, most: f64) -> Range {
    range(least, most, "mm²", 1e-6)
}

pub(super) const fn kilopascals(least: f64, most: f64) -> Range {
    range(least, most, "kPa", 1e3)
}

/// Degrees of temperature.
pub(super) const fn celsius(least: f64, most: f64) -> Range {
    Range { least, most, unit: "°C", si_per_unit: 1.0, si_at_nought: 273.15 }
}
