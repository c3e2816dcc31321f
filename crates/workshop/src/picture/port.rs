//! The exhaust port on the unrolled bore wall, seen from inside, and a section through it at the same height.

use super::place::Place;
use super::port_shape::PortShape;
use super::valve_body::{THICK_MM, ValveBody, on_sheet, slide_angle};
use super::{NOTE_MM, angle, length, name, note, scale_bar};
use drawing::{
    Anchor, Dimension, DimensionLabel, Draw, Group, Item, Path, Point, Scene, Style, at, between_levels,
};
use engine::model::{PortGroup, Valve};
use quantity::Units;

/// What the picture shows. Depths are below the deck, m.
#[derive(Debug, Clone, PartialEq)]
pub struct PortView<'a> {
    /// Ports with their places along the wall, see [`PortShape::spread`].
    pub ports: &'a [PortShape],
    /// The valve, for the section.
    pub valve: &'a Valve,
    /// Valve pulley travel, rad.
    pub valve_travel_rad: f64,
    /// Valve edge above its closed position, m.
    pub lift_m: f64,
    /// The edge may lie this far from flush, m.
    pub flush_tolerance_m: f64,
    /// Piston crown edge, m.
    pub crown_depth_m: f64,
    /// The crank angle at which it stands there, rad after top dead centre.
    pub crank_rad: f64,
    /// Crank angle at which the exhaust opens with this lift, rad after top dead centre.
    pub opens_rad: Option<f64>,
    /// How long it stays open, rad.
    pub duration_rad: Option<f64>,
    /// Units to show.
    pub units: Units,
}

/// The two windows on the sheet, mm.
const WALL: (f64, f64) = (0.5, 64.5);
const SECTION: (f64, f64) = (68.0, 99.5);
/// Deck, mm from the top of the sheet.
const DECK: f64 = 7.0;
/// Greatest height of the windows, mm.
const HEIGHT: f64 = 58.0;

/// Levels of the picture, real mm below the deck.
struct Levels {
    roof: f64,
    floor: f64,
    edge: f64,
    crown: f64,
    bottom: f64,
}

impl Levels {
    /// Upper edge of the open part.
    fn effective_roof(&self) -> f64 {
        self.edge.max(self.roof)
    }
}

/// Draws the port.
pub fn port(view: &PortView) -> Scene {
    let levels = levels(view);
    let main_mm = 1e3 * main_port(view).map_or(0.04, |p| p.width_m);
    let scale = (HEIGHT / levels.bottom).min((WALL.1 - WALL.0) / (1.7 * main_mm)).clamp(0.2, 3.0);
    let height = DECK + levels.bottom * scale + 11.0;
    let mut scene = Scene::new(100.0, height, "Exhaust port and valve", &description(view, &levels));
    let wall = Place { origin: at((WALL.0 + WALL.1) / 2.0, DECK), scale, mirrored: false };
    draw_wall(&mut scene, view, &levels, &wall);
    let section = Place { origin: at(SECTION.0 + 11.0, DECK), scale, mirrored: false };
    draw_section(&mut scene, view, &levels, &section);
    draw_flush(&mut scene, view, &levels, &wall);
    write_depth(&mut scene, view, &levels, &wall);
    write_timing(&mut scene, view, &levels, height);
    scale_bar(&mut scene, at(SECTION.0, height - 2.4), scale, view.units);
    scene
}

/// Ports that lie across the bore from the exhaust, outside this picture.
fn opposite(group: PortGroup) -> bool {
    matches!(group, PortGroup::Boost | PortGroup::Inlet)
}

fn main_port<'a>(view: &'a PortView) -> Option<&'a PortShape> {
    view.ports.iter().find(|p| p.group == PortGroup::ExhaustMain)
}

fn levels(view: &PortView) -> Levels {
    let sane = |mm: f64, instead: f64| if mm.is_finite() && mm.abs() < 1e3 { mm } else { instead };
    let roof = sane(main_port(view).map_or(25.0, |p| 1e3 * p.roof_depth_m), 25.0);
    let floor = sane(main_port(view).map_or(54.0, |p| 1e3 * p.floor_depth_m), roof + 28.0).max(roof + 1.0);
    let lowest =
        view.ports.iter().map(|p| 1e3 * p.floor_depth_m).filter(|f| f.is_finite()).fold(floor, f64::max);
    let edge = sane(roof + 1e3 * (view.valve.closed_drop.value - view.lift_m), roof);
    let crown = sane(1e3 * view.crown_depth_m, floor);
    Levels { roof, floor, edge, crown, bottom: lowest.clamp(5.0, 500.0) + 6.0 }
}

fn description(view: &PortView, levels: &Levels) -> String {
    let where_edge = length((levels.edge - levels.roof).abs() / 1e3, 2, view.units);
    let side = if levels.edge > levels.roof { "below" } else { "above" };
    let opens =
        view.opens_rad.map_or(String::new(), |a| format!(" It opens {} after top dead centre.", angle(a)));
    format!(
        "The bore wall unrolled at the exhaust port, seen from inside, and a section. The valve edge stands {where_edge} \
         {side} flush.{opens} Ports beside the exhaust stand in order; their distance round the bore is not measured."
    )
}

fn draw_wall(scene: &mut Scene, view: &PortView, levels: &Levels, place: &Place) {
    let bottom = DECK + levels.bottom * place.scale;
    scene.rect(at(WALL.0, DECK), WALL.1 - WALL.0, bottom - DECK, 0.0, Style::Metal);
    let crown_y = DECK + levels.crown.clamp(0.0, levels.bottom) * place.scale;
    scene.rect(at(WALL.0, crown_y), WALL.1 - WALL.0, bottom - crown_y, 0.0, Style::Piston);
    let mut ports = Group::with_class("ports");
    for shape in view.ports.iter().filter(|p| !opposite(p.group)) {
        draw_port(&mut ports, shape, levels, place);
    }
    scene.group(ports);
    scene.line(at(WALL.0, crown_y), at(WALL.1, crown_y), Style::Outline);
    scene.line(at(WALL.0, DECK), at(WALL.1, DECK), Style::Outline);
    scene.text(note(at(WALL.0, DECK - 1.8), "bore wall from inside, unrolled", Style::Note));
}

/// One port: open part, valve in it, outline; hidden where the piston stands before it.
fn draw_port(group: &mut Group, shape: &PortShape, levels: &Levels, place: &Place) {
    let outline = within_window(&shape.polygon(), place);
    let edge = if shape.covered { levels.edge } else { f64::MIN };
    let part = |from: f64, to: f64| -> Path {
        let cut = between_levels(&outline, from, to);
        Path::polygon(&cut.iter().map(|&p| place.point(p)).collect::<Vec<_>>())
    };
    let top = 1e3 * shape.roof_depth_m;
    let open_from = edge.max(top - 1.0);
    if levels.crown > open_from {
        group.area(part(open_from, levels.crown), Style::OpenArea);
    }
    if shape.covered && edge > top {
        group.area(part(top - 1.0, edge.min(levels.crown)), Style::Valve);
    }
    let visible = between_levels(&outline, -1e4, levels.crown);
    let hidden = between_levels(&outline, levels.crown, 1e4);
    for (polygon, style) in [(visible, Style::Outline), (hidden, Style::Hidden)] {
        for run in without_level(&polygon, levels.crown) {
            let run = run.into_iter().map(|p| place.point(p)).collect();
            group.polyline(run, style);
        }
    }
}

/// The polygon cut to the window of the wall, real mm.
fn within_window(polygon: &[Point], place: &Place) -> Vec<Point> {
    let half = (WALL.1 - WALL.0) / 2.0 / place.scale;
    let turned: Vec<Point> = polygon.iter().map(|p| at(p.y, p.x)).collect();
    between_levels(&turned, -half, half).iter().map(|p| at(p.y, p.x)).collect()
}

/// The edge of a polygon in runs that leave out what lies on a level (where the crown cuts it).
fn without_level(polygon: &[Point], level: f64) -> Vec<Vec<Point>> {
    let on = |p: Point| (p.y - level).abs() < 1e-9;
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for (i, &a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        if on(a) && on(b) {
            open = false;
            continue;
        }
        match runs.last_mut().filter(|_| open) {
            Some(run) => run.push(b),
            None => runs.push(vec![a, b]),
        }
        open = true;
    }
    runs
}

/// Section: piston, bore wall above and below the port, valve at its slide angle. Origin: bore wall at the deck.
fn draw_section(scene: &mut Scene, view: &PortView, levels: &Levels, place: &Place) {
    let right = (SECTION.1 - place.origin.x) / place.scale;
    let left = (SECTION.0 - place.origin.x) / place.scale;
    let kind = &view.valve.kind;
    let drop = 1e3 * view.valve.closed_drop.value;
    let closed = at(0.0, levels.roof + drop);
    let place_valve = Place { origin: place.point(closed), ..*place };
    let slope = slide_angle(kind).tan();
    let point = |x: f64, y: f64| place.point(at(x, y));
    // Wall above the roof, up to the valve's back; the roof itself is at flush.
    let top_x = (slope * (closed.y - 0.0)).clamp(0.0, right);
    let roof_x = (slope * drop).max(0.0);
    let blade =
        matches!(kind, engine::model::ValveKind::Blade { .. } | engine::model::ValveKind::Table { .. });
    let thick = if blade { THICK_MM / slide_angle(kind).cos() + 0.5 } else { 0.0 };
    if blade {
        let wedge = [point(0.0, 0.0), point(top_x, 0.0), point(roof_x, levels.roof), point(0.0, levels.roof)];
        scene.cut_metal(Path::polygon(&wedge), 0.785);
        let behind = [
            point((top_x + thick).min(right), 0.0),
            point(right, 0.0),
            point(right, levels.roof),
            point((roof_x + thick).min(right), levels.roof),
        ];
        scene.cut_metal(Path::polygon(&behind), 0.785);
    } else {
        let above = [point(0.0, 0.0), point(right, 0.0), point(right, levels.roof), point(0.0, levels.roof)];
        scene.cut_metal(Path::polygon(&above), 0.785);
    }
    let (floor, bottom) = (levels.floor, levels.bottom);
    let below =
        [point(0.0, floor), point(right, floor + 0.1 * right), point(right, bottom), point(0.0, bottom)];
    scene.cut_metal(Path::polygon(&below), 0.785);
    let reach = (closed.y / slide_angle(kind).cos()).min(26.0);
    let body = ValveBody::of(kind, view.valve_travel_rad, 1e3 * view.lift_m, reach);
    let mut valve = Group::with_class("valve-body");
    valve.area(on_sheet(&body.outline, &place_valve), Style::Valve);
    if let Some(pivot) = body.pivot {
        valve.circle(place_valve.point(pivot), 1.2, Style::Metal);
    }
    scene.group(valve);
    draw_piston(scene, levels, place, left);
    scene.text(note(at(SECTION.1, DECK - 1.8), "section", Style::Note).anchor(Anchor::End));
}

fn draw_piston(scene: &mut Scene, levels: &Levels, place: &Place, left: f64) {
    let crown = levels.crown.clamp(0.0, levels.bottom);
    let (near, far) = (place.at(-0.35, crown), place.at(left, levels.bottom));
    scene.rect(at(far.x, near.y), near.x - far.x, far.y - near.y, 0.0, Style::Piston);
    for ring in [3.0, 6.0] {
        let y = place.at(0.0, crown + ring).y;
        if y + 1.0 < far.y {
            scene.line(at(near.x - 2.4, y), at(near.x, y), Style::Mark);
        }
    }
}

/// Flush through both views, with its tolerance; the valve edge as found in the drawing.
fn draw_flush(scene: &mut Scene, view: &PortView, levels: &Levels, place: &Place) {
    let y = place.at(0.0, levels.roof).y;
    let tolerance = 1e3 * view.flush_tolerance_m.abs() * place.scale;
    if tolerance.is_finite() {
        scene.rect(at(WALL.1, y - tolerance), SECTION.0 - WALL.1, 2.0 * tolerance, 0.0, Style::LimitBand);
    }
    scene.line(at(WALL.0, y), at(SECTION.0 + 11.0, y), Style::Target);
    scene.text(note(at(WALL.1 - 0.8, y - 0.9), "flush", Style::Target).anchor(Anchor::End).halo());
    let edge = place.at(0.0, levels.edge).y;
    if levels.edge > levels.roof && edge.is_finite() {
        scene.line(at(WALL.1 + 0.4, edge), at(SECTION.0 + 10.6, edge), Style::Measure);
    }
}

/// Depth of the effective roof below the deck, and the crank angle at the crown.
fn write_depth(scene: &mut Scene, view: &PortView, levels: &Levels, place: &Place) {
    let roof = levels.effective_roof();
    let x = WALL.0 + 5.0;
    let left = -500.0 * main_port(view).map_or(0.0, |p| p.width_m);
    let roof_y = place.at(0.0, roof).y;
    scene.line(at(x - 1.5, roof_y), at(place.at(left, 0.0).x.max(x) + 1.0, roof_y), Style::Measure);
    scene.items.push(Item::Dimension(Dimension {
        from: at(x, DECK),
        to: at(x, roof_y),
        offset: 0.0,
        text: length(roof / 1e3, 2, view.units),
        size: NOTE_MM,
        label: DimensionLabel::At(at(x + 1.6, DECK + 5.4), Anchor::Start),
        style: Style::Measure,
    }));
    let (crown, bottom) = (place.at(0.0, levels.crown).y, place.at(0.0, levels.bottom).y);
    // In the piston when it has room, otherwise over the crown.
    let baseline = if crown + 5.0 < bottom { crown + NOTE_MM + 1.0 } else { crown - 1.2 };
    let text = format!("crown at {}", angle(view.crank_rad));
    scene.text(note(at(WALL.1 - 1.2, baseline), &text, Style::Label).anchor(Anchor::End).halo());
}

/// Timing and edge in words under the picture.
fn write_timing(scene: &mut Scene, view: &PortView, levels: &Levels, height: f64) {
    if let Some(opens) = view.opens_rad {
        let open_for = view.duration_rad.map_or(String::new(), |d| format!(", open for {}", angle(d)));
        let text = format!("opens {} after top dead centre{open_for}", angle(opens));
        scene.text(name(at(WALL.0, height - 5.8), &text, Style::Label));
    }
    let above_m = (levels.roof - levels.edge) / 1e3;
    let text = if above_m.abs() < 5e-6 {
        "valve edge flush".to_owned()
    } else {
        let side = if above_m < 0.0 { "below" } else { "above" };
        format!("valve edge {} {side} flush", length(above_m.abs(), 2, view.units))
    };
    scene.text(note(at(WALL.0, height - 1.4), &text, Style::Label));
}
