//! Ports: width round the bore, heights from deck and crown, corners, tilt, duct.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Path, Scene, Style, at};
use std::f64::consts::{FRAC_PI_2, PI};

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    match which {
        Illustration::WidthChord | Illustration::WidthArc => width(which == Illustration::WidthArc, sizes),
        Illustration::CornerRadius | Illustration::RoofRadius | Illustration::FloorRadius => {
            corners(which, sizes)
        }
        Illustration::RoofTilt => tilt(sizes),
        Illustration::DuctAngle => duct(sizes),
        _ => height(which, sizes),
    }
}

/// The bore from above, cut through the port.
fn width(arc: bool, sizes: &Sizes<'_>) -> Scene {
    let (title, text) = if arc {
        (
            "Width along the wall",
            "The port's width along the bore wall, by a paper rubbing laid flat: the arc.",
        )
    } else {
        ("Width straight across", "The port's width straight across, edge to edge, by calliper: the chord.")
    };
    let mut sketch = Sketch::new(58.0, title, text);
    let bore = sizes.mm("crank.bore", (20.0, 150.0), 54.0);
    let width = sizes.mm(&sizes.port("width"), (0.1 * bore, 0.95 * bore), 0.68 * bore);
    let (centre, inner, outer) = (at(32.0, 29.0), 21.0, 26.5);
    let half = (width / bore).asin();
    let on = |radius: f64, angle: f64| centre.polar(radius, angle);
    let far = (inner * half.sin() / outer).asin();
    let wall = Path::from(on(outer, far))
        .long_arc_to(on(outer, -far), outer, true)
        .line_to(on(inner, -half))
        .long_arc_to(on(inner, half), inner, false)
        .close();
    sketch.scene.cut_metal(wall, std::f64::consts::FRAC_PI_4);
    let (upper, lower) = (on(inner, -half), on(inner, half));
    for edge in [on(outer, -far), on(outer, far)] {
        sketch.scene.line(edge, at(66.0, edge.y), Style::Outline);
    }
    sketch.note(at(32.0, 30.0), "bore, from above", Anchor::Middle);
    sketch.note(at(62.0, 30.0), "port", Anchor::Middle);
    for edge in [upper, lower] {
        sketch.scene.dot(edge, 0.9, Style::Mark);
    }
    let key = sizes.port(if arc { "width_arc" } else { "width" });
    let text = sizes.asked(if arc { "arc" } else { "chord" }, &key);
    if arc {
        let label = at(70.0, 26.0);
        sketch.asked_angle((centre, inner), (-half, 2.0 * half), &text, label, Anchor::Start);
        sketch.note(at(70.0, 30.2), "along the wall", Anchor::Start);
        sketch.scene.line(upper, lower, Style::Hidden);
    } else {
        sketch.asked_at(upper, lower, 0.0, &text, at(70.0, 26.0), Anchor::Start);
        sketch.note(at(70.0, 30.2), "edge to edge", Anchor::Start);
        sketch.arc((centre, inner), (-half, 2.0 * half), Style::Hidden);
    }
    sketch.scene
}

/// Levels of the wall on the sheet, mm.
struct Levels {
    deck: f64,
    roof: f64,
    floor: f64,
    crown: f64,
}

fn levels(sizes: &Sizes<'_>) -> Levels {
    let stroke = sizes.mm("crank.stroke", (20.0, 150.0), 54.5);
    let lowest = stroke + sizes.mm("crank.deck_clearance", (0.0, 10.0), 0.5);
    let k = 46.0 / lowest;
    let depth = |below: &str, above: &str, usual: f64| {
        let (below, above) = (sizes.port(below), sizes.port(above));
        let real = if sizes.has(&below) {
            sizes.mm(&below, (0.0, lowest + 4.0), 0.0)
        } else if sizes.has(&above) {
            lowest - sizes.mm(&above, (-4.0, lowest), 0.0)
        } else {
            usual
        };
        7.0 + k * real
    };
    let roof = depth("roof_below_deck", "roof_above_crown_at_bdc", 0.52 * lowest).clamp(16.0, 46.0);
    let floor = depth("floor_below_deck", "floor_above_crown_at_bdc", lowest).clamp(roof + 4.0, 58.0);
    Levels { deck: 7.0, roof, floor, crown: 53.0 }
}

/// The wall cut through the port, piston at bottom dead centre.
fn height(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let (title, text) = match which {
        Illustration::RoofFromDeck => {
            ("Roof below deck", "From the deck down to the roof's edge, not to its chamfer.")
        }
        Illustration::RoofFromCrown => (
            "Roof above crown",
            "From the crown edge at bottom dead centre up to the roof's edge, not to its chamfer.",
        ),
        Illustration::FloorFromDeck => {
            ("Floor below deck", "From the deck down to the floor's lowest point.")
        }
        _ => (
            "Floor above crown",
            "From the crown edge at bottom dead centre up to the floor; minus when it lies lower.",
        ),
    };
    let mut sketch = Sketch::new(64.0, title, text);
    let Levels { deck, roof, floor, crown } = levels(sizes);
    let wall = 52.0;
    sketch.metal(&[(wall, deck), (72.0, deck), (72.0, roof), (wall + 2.4, roof), (wall, roof - 2.4)]);
    sketch.metal(&[(wall, floor), (72.0, floor + 2.0), (72.0, 63.0), (wall, 63.0)]);
    sketch.part(&[(6.0, crown), (wall - 0.4, crown), (wall - 0.4, 63.0), (6.0, 63.0)], Style::Piston);
    sketch.note(at(7.5, 60.5), "piston at bottom dead centre", Anchor::Start);
    sketch.note(at(63.0, (roof + floor) / 2.0 + 1.0), "port", Anchor::Middle);
    let from_deck = matches!(which, Illustration::RoofFromDeck | Illustration::FloorFromDeck);
    let roof_asked = matches!(which, Illustration::RoofFromDeck | Illustration::RoofFromCrown);
    let datum = if from_deck { deck } else { crown };
    if from_deck {
        sketch.datum(at(6.0, deck), at(74.0, deck), "deck", at(75.0, deck + 1.0), Anchor::Start);
    } else {
        sketch.datum(
            at(6.0, crown),
            at(wall - 0.4, crown),
            "crown edge",
            at(7.5, crown - 1.6),
            Anchor::Start,
        );
    }
    let level = if roof_asked { roof } else { floor };
    let x = 42.0;
    let to_edge = if roof_asked { wall + 2.4 } else { wall };
    sketch.line((x - 1.0, level), (to_edge, level), Style::Label);
    let (key, name) = match which {
        Illustration::RoofFromDeck => ("roof_below_deck", "roof"),
        Illustration::RoofFromCrown => ("roof_above_crown_at_bdc", "roof"),
        Illustration::FloorFromDeck => ("floor_below_deck", "floor"),
        _ => ("floor_above_crown_at_bdc", "floor"),
    };
    let text = sizes.asked(name, &sizes.port(key));
    let middle = if (datum - level).abs() < 7.0 { level - 7.0 } else { (datum + level) / 2.0 };
    if (datum - level).abs() < 0.3 {
        sketch.name(at(x - 2.0, level - 9.6), &text, Anchor::End);
        sketch.note(at(x - 2.0, level - 5.4), "level with the crown", Anchor::End);
    } else {
        sketch.asked_at(at(x, datum), at(x, level), 0.0, &text, at(x - 2.2, middle + 1.1), Anchor::End);
    }
    if roof_asked {
        sketch.leader(at(wall + 2.4, roof), at(74.5, roof + 1.2), "to the edge,", Anchor::Start);
        sketch.note(at(74.5, roof + 5.0), "not the chamfer", Anchor::Start);
    }
    sketch.scene
}

/// The port on the wall laid flat.
fn corners(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let (title, text, key) = match which {
        Illustration::RoofRadius => ("Upper corners", "Radius of the two upper corners.", "roof_radius"),
        Illustration::FloorRadius => ("Lower corners", "Radius of the two lower corners.", "floor_radius"),
        _ => ("Corner radius", "Radius of all four corners.", "corner_radius"),
    };
    let mut sketch = Sketch::new(56.0, title, text);
    let (left, right, top, bottom) = (10.0, 60.0, 9.0, 47.0);
    let width = sizes.mm(&sizes.port("width"), (5.0, 120.0), 38.0);
    let k = (right - left) / width;
    let usual = 0.12 * width;
    let radius = |key: &str| {
        let whole = sizes.mm(&sizes.port("corner_radius"), (0.0, 60.0), usual);
        (k * sizes.mm(&sizes.port(key), (0.0, 60.0), whole)).clamp(2.5, 17.0)
    };
    let (upper, lower) = (radius("roof_radius"), radius("floor_radius"));
    let corner = [
        (at(left, top), upper),
        (at(right, top), upper),
        (at(right, bottom), lower),
        (at(left, bottom), lower),
    ];
    sketch.block((2.0, 2.0), (68.0, 54.0), 0.0, Style::Metal);
    sketch.scene.area(Path::rounded(&corner), Style::OpenArea);
    let outline = Path::rounded(&corner);
    sketch.scene.trace(outline, Style::Outline);
    let centres = [
        (at(left + upper, top + upper), upper, PI, true),
        (at(right - upper, top + upper), upper, -FRAC_PI_2, true),
        (at(right - lower, bottom - lower), lower, 0.0, false),
        (at(left + lower, bottom - lower), lower, FRAC_PI_2, false),
    ];
    for (centre, radius, start, is_upper) in centres {
        let asked = match which {
            Illustration::RoofRadius => is_upper,
            Illustration::FloorRadius => !is_upper,
            _ => true,
        };
        if asked {
            sketch.arc((centre, radius), (start, FRAC_PI_2), Style::Mark);
        }
    }
    let (centre, radius, angle) = if which == Illustration::FloorRadius {
        (at(right - lower, bottom - lower), lower, PI / 4.0)
    } else {
        (at(right - upper, top + upper), upper, -PI / 4.0)
    };
    sketch.scene.dot(centre, 0.6, Style::Label);
    sketch.scene.arrow(centre, centre.polar(radius, angle), Style::Label);
    let text = sizes.asked("radius", &sizes.port(key));
    let y = if which == Illustration::FloorRadius { 46.0 } else { 12.0 };
    sketch.scene.line(centre.polar(radius, angle), at(70.0, y - 1.0), Style::Measure);
    sketch.name(at(71.0, y), &text, Anchor::Start);
    sketch.note(at(71.0, y + 4.0), "radius gauge or", Anchor::Start);
    sketch.note(at(71.0, y + 7.8), "paper rubbing", Anchor::Start);
    sketch.note(at(35.0, 29.0), "port on the wall, laid flat", Anchor::Middle);
    sketch.scene
}

fn tilt(sizes: &Sizes<'_>) -> Scene {
    let mut sketch =
        Sketch::new(52.0, "Tilt of the roof", "Angle of the roof line against a level across the width.");
    sketch.block((2.0, 2.0), (68.0, 50.0), 0.0, Style::Metal);
    let angle = 0.16;
    let (left, right, low) = (12.0, 58.0, 18.0);
    let high = low - (right - left) * f64::tan(angle);
    let outline =
        [(at(left, low), 3.0), (at(right, high), 3.0), (at(right, 44.0), 3.0), (at(left, 44.0), 3.0)];
    sketch.scene.area(Path::rounded(&outline), Style::OpenArea);
    sketch.scene.trace(Path::rounded(&outline), Style::Outline);
    sketch.line((left, low), (right, high), Style::Mark);
    sketch.line((6.0, low), (66.0, low), Style::Centre);
    let text = sizes.asked("tilt", &sizes.port("roof_tilt"));
    sketch.asked_angle((at(left, low), 40.0), (-angle, angle), &text, at(71.0, low - 4.0), Anchor::Start);
    sketch.note(at(71.0, low + 1.0), "level", Anchor::Start);
    sketch.note(at(35.0, 33.0), "port on the wall, laid flat", Anchor::Middle);
    sketch.note(at(71.0, 46.0), "drawn larger", Anchor::Start);
    sketch.scene
}

fn duct(sizes: &Sizes<'_>) -> Scene {
    let mut sketch =
        Sketch::new(60.0, "Angle of the duct", "From the line square to the bore wall to the duct's axis.");
    let angle = sizes.rad(&sizes.port("duct_angle"), (-50.0, 50.0), 25.0);
    let drawn = if angle.abs() < 0.14 { 0.3 } else { angle };
    let (wall, middle) = (34.0, 34.0);
    let slope = drawn.tan();
    let (right, half) = (74.0, 9.0);
    let up = |x: f64| -slope * (x - wall);
    let (top, bottom) = (middle - half, middle + half);
    sketch.metal(&[(wall, 3.0), (right, 3.0), (right, (top + up(right)).max(3.2)), (wall, top)]);
    sketch.metal(&[(wall, bottom), (right, (bottom + up(right)).min(56.8)), (right, 57.0), (wall, 57.0)]);
    sketch.line((16.0, middle), (right, middle), Style::Centre);
    sketch.line((wall - 6.0, middle + 6.0 * slope), (right, middle + up(right)), Style::Centre);
    sketch.line((wall, top), (wall, bottom), Style::Mark);
    sketch.note(at(16.0, 12.0), "bore", Anchor::Middle);
    let text = sizes.asked("angle", &sizes.port("duct_angle"));
    let place = at(76.0, middle + up(right) / 2.0 + 1.0);
    sketch.asked_angle((at(wall, middle), 32.0), (-drawn, drawn), &text, place, Anchor::Start);
    if drawn != angle {
        sketch.note(at(76.0, 56.0), "drawn larger", Anchor::Start);
    }
    sketch.note(at(3.0, middle - 1.6), "square to", Anchor::Start);
    sketch.note(at(3.0, middle + 2.2), "the wall", Anchor::Start);
    sketch.scene
}
