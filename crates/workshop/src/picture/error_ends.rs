//! The error at both ends of travel: closed and full open, as found and proposed, beside the acceptance band.

use super::{NAME_MM, NOTE_MM, length_axis, name, note};
use drawing::plot::{Steps, nice_ticks};
use drawing::{Anchor, Draw, Scene, Style, at};
use quantity::{Dimension, Units, show_with};

/// An error with its band: where the edge stands against where it should, m, above positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Best value, m.
    pub value_m: f64,
    /// Half width of its band (about 95 %), m.
    pub band_m: f64,
}

/// One end of travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndError {
    /// Lowest error accepted, m.
    pub low_m: f64,
    /// Highest error accepted, m.
    pub high_m: f64,
    /// As found; none when it was not measured.
    pub found: Option<Reading>,
    /// As proposed; none when no setting is proposed.
    pub proposed: Option<Reading>,
    /// Crank degrees by which the port opens earlier for an edge higher by 1 m, here: rad/m, positive.
    pub earlier_rad_per_m: f64,
}

/// Both ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndPicture {
    /// Full servo travel: edge against flush.
    pub open: EndError,
    /// Closed park: edge against its closed position.
    pub closed: EndError,
    /// Units to show.
    pub units: Units,
}

/// Left and right edge of the scales, mm.
const LEFT: f64 = 37.0;
const RIGHT: f64 = 95.5;
/// Height of one row, mm.
const ROW: f64 = 9.0;
/// From the heading's baseline to the first row, mm.
const HEAD: f64 = 9.5;

/// Draws both ends, full open above closed as the edge stands in the cylinder.
pub fn error_ends(picture: &EndPicture) -> Scene {
    let mut scene = Scene::new(100.0, 83.0, "Error at both ends of travel", &description(picture));
    panel(&mut scene, 4.0, "Full open: edge against flush", &picture.open, picture.units);
    panel(&mut scene, 46.5, "Closed: edge against its closed position", &picture.closed, picture.units);
    scene
}

fn description(picture: &EndPicture) -> String {
    let say = |which: &str, end: &EndError| {
        let tell = |reading: Option<Reading>, none: &str| {
            reading.map_or_else(|| none.to_owned(), |r| words(r, picture.units))
        };
        format!(
            "{which}: as found {}, proposed {}.",
            tell(end.found, "not measured"),
            tell(end.proposed, "nothing")
        )
    };
    format!("{} {}", say("Full open", &picture.open), say("Closed", &picture.closed))
}

fn decimals(units: Units) -> usize {
    if units == Units::Inch { 4 } else { 2 }
}

/// "1.20 ± 0.15 mm above".
fn words(reading: Reading, units: Units) -> String {
    let side = side(reading.value_m, units, "above", "below");
    format!("{} {side}", figure(reading, units)).trim_end().to_owned()
}

/// "1.20 ± 0.15 mm", without its side.
fn figure(reading: Reading, units: Units) -> String {
    let (_, symbol) = length_axis(units);
    let show = |m: f64| show_with(m.abs(), decimals(units), Dimension::Length, units);
    if !reading.value_m.is_finite() {
        return show(reading.value_m);
    }
    let value = show(reading.value_m);
    let value = value.trim_end_matches(symbol).trim_end();
    format!("{value} ± {}", show(reading.band_m))
}

/// The word for the side on which a value lies; empty when it shows as zero.
fn side(value_m: f64, units: Units, above: &'static str, below: &'static str) -> &'static str {
    let shown = value_m * length_axis(units).0 * 10f64.powi(decimals(units) as i32);
    if shown >= 0.5 {
        above
    } else if shown <= -0.5 {
        below
    } else {
        ""
    }
}

/// Half the width of the scale: everything shown fits, the acceptance band fills at most two thirds.
fn half_range(end: &EndError) -> f64 {
    let reach = |r: Reading| r.value_m.abs() + r.band_m.abs();
    let limits = [1.5 * end.low_m.abs(), 1.5 * end.high_m.abs()];
    let readings = [end.found, end.proposed].into_iter().flatten().map(|r| 1.1 * reach(r));
    let half = limits.into_iter().chain(readings).filter(|v| v.is_finite()).fold(0.0, f64::max);
    if half > 1e-7 && half < 1.0 { half } else { 1e-3 }
}

fn panel(scene: &mut Scene, top: f64, heading: &str, end: &EndError, units: Units) {
    let half = half_range(end);
    let x = |m: f64| (LEFT + RIGHT) / 2.0 + (m / half).clamp(-1.0, 1.0) * (RIGHT - LEFT) / 2.0;
    let (first, last) = (top + HEAD, top + HEAD + 2.0 * ROW);
    scene.text(name(at(0.8, top), heading, Style::Label));
    let (low, high) = (end.low_m.min(end.high_m), end.low_m.max(end.high_m));
    scene.rect(at(x(low), first), (x(high) - x(low)).max(0.6), last - first, 0.0, Style::LimitBand);
    millimetre_scale(scene, last, half, units);
    degree_scale(scene, first, half * end.earlier_rad_per_m);
    scene.line(at(x(0.0), first - 1.0), at(x(0.0), last + 1.0), Style::Target);
    let (row_1, row_2) = (first + ROW / 2.0, first + 1.5 * ROW);
    for (y, title, style, reading, none) in [
        (row_1, "as found", Style::AsFound, end.found, "not measured"),
        (row_2, "proposed", Style::Proposed, end.proposed, "none"),
    ] {
        match reading {
            Some(reading) => row(scene, y, title, style, reading, &x, units),
            None => {
                scene.text(name(at(0.8, y - 0.4), title, style));
                scene.text(note(at(0.8, y + 3.2), none, Style::Note));
            }
        }
    }
}

/// Name and figure on the left, bar and mark on the scale.
fn row(
    scene: &mut Scene,
    y: f64,
    title: &str,
    style: Style,
    reading: Reading,
    x: &impl Fn(f64) -> f64,
    units: Units,
) {
    scene.text(name(at(0.8, y - 0.5), title, style));
    scene.text(note(at(0.8, y + 3.2), &words(reading, units), Style::Label));
    if !reading.value_m.is_finite() {
        return;
    }
    let (low, high) = (x(reading.value_m - reading.band_m.abs()), x(reading.value_m + reading.band_m.abs()));
    scene.line(at(low, y), at(high, y), style);
    for end in [low, high] {
        scene.line(at(end, y - 1.3), at(end, y + 1.3), Style::Outline);
    }
    match style {
        Style::AsFound => scene.circle(at(x(reading.value_m), y), 1.4, style),
        _ => scene.dot(at(x(reading.value_m), y), 1.4, style),
    }
}

/// Scale under the rows: mm or in, below on the left, above on the right.
fn millimetre_scale(scene: &mut Scene, y: f64, half_m: f64, units: Units) {
    let (per_m, symbol) = length_axis(units);
    scale(scene, y, half_m * per_m, 1.0);
    scene.text(note(at(LEFT, y + 8.0), "below, later", Style::Note));
    let right = at(RIGHT, y + 8.0);
    scene.text(note(right, "above, earlier", Style::Note).anchor(Anchor::End));
    scene.text(note(at((LEFT + RIGHT) / 2.0, y + 8.0), symbol, Style::Note).anchor(Anchor::Middle));
}

/// Scale over the rows: crank degrees.
fn degree_scale(scene: &mut Scene, y: f64, half_rad: f64) {
    let half = half_rad.to_degrees();
    if half.is_finite() && half > 1e-6 {
        scale(scene, y, half, -1.0);
        scene.text(note(at(0.8, y - 1.6), "crank degrees", Style::Note));
    }
}

/// A level scale from -half to +half; `side` 1 writes its figures under it, -1 over it.
fn scale(scene: &mut Scene, y: f64, half: f64, side: f64) {
    scene.line(at(LEFT, y), at(RIGHT, y), Style::Axis);
    let ticks = nice_ticks(-half, half, 7, Steps::Decimal);
    for value in ticks.values {
        let x = (LEFT + RIGHT) / 2.0 + value / half * (RIGHT - LEFT) / 2.0;
        scene.line(at(x, y), at(x, y + side * 1.1), Style::Axis);
        let text = if value == 0.0 { "0".to_owned() } else { format!("{:.*}", ticks.decimals, value.abs()) };
        let baseline = if side > 0.0 { y + 1.6 + 0.75 * NAME_MM } else { y - 1.6 };
        scene.text(drawing::Text::new(at(x, baseline), &text, NOTE_MM, Style::Note).anchor(Anchor::Middle));
    }
}
