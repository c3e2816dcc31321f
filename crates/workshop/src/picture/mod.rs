//! Pictures of engine and setting, to scale, as scenes in millimetres.
//!
//! Each picture takes plain figures in SI and the units to show; none of them computes the setting.

mod adjuster_turn;
mod edge_at_roof;
mod error_ends;
pub(crate) mod place;
mod port;
mod port_area;
mod port_shape;
mod travel_curve;
pub(crate) mod valve_body;
mod valve_gear;

pub use adjuster_turn::{adjuster_mark, adjuster_turn};
pub use edge_at_roof::{EdgeAtRoof, edge_at_roof};
pub use error_ends::{EndError, EndPicture, Reading, error_ends};
pub use port::{PortView, port};
pub use port_area::{AreaCurve, PortAreas, port_area};
pub use port_shape::PortShape;
pub use travel_curve::{TravelCurves, travel_curve};
pub use valve_gear::{GearPose, valve_gear};

use drawing::{Anchor, Draw, Point, Style, Text, at};
use quantity::{Dimension, Units, display_unit, show_with};

/// Height of names and headings, mm.
pub(crate) const NAME_MM: f64 = 3.0;
/// Height of notes and dimensions, mm.
pub(crate) const NOTE_MM: f64 = 2.8;

/// A length with `decimals` in mm, one more in inches.
pub(crate) fn length(m: f64, decimals: usize, units: Units) -> String {
    let decimals = if units == Units::Inch { decimals + 1 } else { decimals };
    show_with(m, decimals, Dimension::Length, units)
}

/// An angle in degrees, one decimal.
pub(crate) fn angle(rad: f64) -> String {
    show_with(rad, 1, Dimension::Angle, Units::Metric)
}

/// The factor from m to the unit of length axes, and its symbol.
pub(crate) fn length_axis(units: Units) -> (f64, &'static str) {
    let unit = display_unit(Dimension::Length, units);
    (unit.per_si, unit.symbol)
}

/// A note of standard height.
pub(crate) fn note(place: Point, text: &str, style: Style) -> Text {
    Text::new(place, text, NOTE_MM, style)
}

/// A name of standard height.
pub(crate) fn name(place: Point, text: &str, style: Style) -> Text {
    Text::new(place, text, NAME_MM, style).strong()
}

/// A round length for the scale bar: about a sixth of the sheet. `scale` is sheet mm for one real mm.
pub(crate) fn scale_bar(sheet: &mut impl Draw, start: Point, scale: f64, units: Units) {
    let (per_m, symbol) = length_axis(units);
    let sheet_per_unit = scale * 1000.0 / per_m;
    let rounds = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0];
    let Some(round) = rounds.into_iter().rev().find(|r| r * sheet_per_unit <= 18.0) else { return };
    let end = at(start.x + round * sheet_per_unit, start.y);
    sheet.line(start, end, Style::Outline);
    for p in [start, end] {
        sheet.line(at(p.x, p.y - 1.0), at(p.x, p.y + 1.0), Style::Outline);
    }
    let text = format!("{round} {symbol}");
    sheet.text(note(at(end.x + 1.4, end.y + 0.36 * NOTE_MM), &text, Style::Note).anchor(Anchor::Start));
}

#[cfg(test)]
mod tests;
