//! The valve's edge beside the port's roof, its height magnified: where it stands, and how far it spreads.

use super::valve_body::slide_angle;
use super::{NOTE_MM, length, name};
use drawing::{Anchor, Draw, Path, Scene, Style, at};
use engine::model::Valve;
use quantity::Units;

/// What is shown. Heights along the cylinder axis, m above flush.
#[derive(Debug, Clone, Copy)]
pub struct EdgeAtRoof<'a> {
    /// The valve.
    pub valve: &'a Valve,
    /// The edge in the middle draw.
    pub edge_m: f64,
    /// 2.5 % of the draws lie below.
    pub low_m: f64,
    /// 2.5 % lie above.
    pub high_m: f64,
    /// The edge may lie this far from flush.
    pub limit_m: f64,
    /// Lowest and highest place that the picture must show; give the same to pictures that stand side by side.
    pub reach_m: (f64, f64),
    /// Units to show.
    pub units: Units,
}

/// Size of the sheet, mm.
const SIZE: (f64, f64) = (44.0, 34.0);
/// Where the heights are drawn, mm from the top.
const HEIGHTS: (f64, f64) = (3.0, 27.0);
/// Bore wall, mm from the left.
const WALL: f64 = 7.0;
/// Width of the valve, mm.
const THICK: f64 = 7.0;
/// Right end of the metal, mm.
const RIGHT: f64 = 33.0;

/// Draws it. All heights are magnified alike; widths are not to scale.
pub fn edge_at_roof(view: &EdgeAtRoof<'_>) -> Scene {
    let words = beside_flush(view);
    let mut scene = Scene::new(
        SIZE.0,
        SIZE.1,
        "Valve edge at the port roof",
        &format!(
            "Section through the port's roof, heights magnified: in the middle draw the edge stands {words}, in nineteen draws \
             of twenty from {} to {}.",
            length(view.low_m, 2, view.units),
            length(view.high_m, 2, view.units)
        ),
    );
    let (low_m, high_m) = view.reach_m;
    let span_m = (high_m - low_m).max(1e-6);
    let y = |m: f64| {
        let share = ((high_m - m) / span_m).clamp(0.0, 1.0);
        HEIGHTS.0 + share * (HEIGHTS.1 - HEIGHTS.0)
    };
    let (flush, edge) = (y(0.0), y(view.edge_m));
    let band = (y(view.limit_m), y(-view.limit_m));
    scene.rect(at(1.0, band.0), RIGHT - 1.0, band.1 - band.0, 0.0, Style::LimitBand);
    draw_metal(&mut scene, view, flush, edge);
    scene.line(at(1.0, flush), at(RIGHT + 1.0, flush), Style::Target);
    let x = RIGHT + 4.5;
    scene.line(at(x, y(view.low_m)), at(x, y(view.high_m)), Style::Curve1);
    for end in [view.low_m, view.high_m] {
        scene.line(at(x - 1.4, y(end)), at(x + 1.4, y(end)), Style::Outline);
    }
    scene.dot(at(x, edge), 1.1, Style::Proposed);
    let place = at(SIZE.0 / 2.0, HEIGHTS.1 + 0.75 * NOTE_MM + 2.4);
    scene.text(name(place, &words, Style::Label).anchor(Anchor::Middle));
    scene
}

/// Roof on both sides of the valve's slot, and the valve in it.
fn draw_metal(scene: &mut Scene, view: &EdgeAtRoof<'_>, flush: f64, edge: f64) {
    let slope = slide_angle(&view.valve.kind).tan().clamp(-0.6, 0.6);
    let top = HEIGHTS.0 - 2.0;
    // The slot leans away from the bore upwards, as the blade does.
    let lean = |y: f64| 0.5 * slope * (flush - y);
    let front = WALL + 5.0;
    let slot = |x: f64, y: f64| at((x + lean(y)).min(RIGHT), y);
    let wall = [at(WALL, top), slot(front, top), slot(front, flush), at(WALL, flush)];
    scene.cut_metal(Path::polygon(&wall), 0.785);
    let behind = [slot(front + THICK, top), at(RIGHT, top), at(RIGHT, flush), slot(front + THICK, flush)];
    scene.cut_metal(Path::polygon(&behind), 0.785);
    let (near, far) = (front + 0.5, front + THICK - 0.5);
    let valve = [slot(near, top), slot(far, top), slot(far, edge), slot(near, edge)];
    scene.area(Path::polygon(&valve), Style::Valve);
}

/// "0.45 mm above flush"; "flush" when it shows as none.
fn beside_flush(view: &EdgeAtRoof<'_>) -> String {
    let shown = length(view.edge_m.abs(), 2, view.units);
    if shown.trim_start_matches(['0', '.']).starts_with(' ') {
        return "flush".to_owned();
    }
    format!("{shown} {} flush", if view.edge_m < 0.0 { "below" } else { "above" })
}
