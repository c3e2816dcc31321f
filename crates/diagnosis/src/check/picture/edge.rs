//! The valve edge at the port roof, cut along the cylinder axis.

use super::{name, note, sheet};
use drawing::{Anchor, Draw, Path, Point, Scene, Style, at};

const ROOF: f64 = 24.0;
const FLOOR: f64 = 42.0;
const TOP: f64 = 8.0;
const FOOT: f64 = 50.0;
const WALL: f64 = 4.0;
const BLADE: f64 = 5.0;

fn block(corner: Point, width: f64, height: f64) -> Path {
    let (x, y) = (corner.x, corner.y);
    Path::polygon(&[corner, at(x + width, y), at(x + width, y + height), at(x, y + height)])
}

/// Wall, port and valve from `head` to its edge at `edge`; `left` is the bore side of the wall.
fn port(scene: &mut Scene, left: f64, edge: f64, head: f64) {
    scene.cut_metal(block(at(left, TOP), WALL, ROOF - TOP), std::f64::consts::FRAC_PI_4);
    scene.cut_metal(block(at(left, FLOOR), 24.0, FOOT - FLOOR), std::f64::consts::FRAC_PI_4);
    scene.cut_metal(block(at(left + WALL + BLADE, TOP), 15.0, ROOF - TOP), std::f64::consts::FRAC_PI_4);
    scene.area(block(at(left + WALL, head), BLADE, edge - head), Style::Valve);
    scene.line(at(left - 3.0, ROOF), at(left + 24.0, ROOF), Style::Target);
}

/// Flush, short and over.
pub(super) fn open() -> Scene {
    let mut scene = sheet(
        64.0,
        "Valve edge at full open",
        "Three cuts through the port: the valve edge level with the port roof, standing below it in the port (short, minus), and drawn up past it (over, plus).",
    );
    let panels =
        [(6.0, ROOF, "flush", ""), (39.0, ROOF + 6.0, "short", "\u{2212}"), (72.0, ROOF - 6.0, "over", "+")];
    for (left, edge, word, sign) in panels {
        port(&mut scene, left, edge, TOP - 3.0);
        name(&mut scene, at(left + 12.0, 56.0), word);
        if edge != ROOF {
            let x = left + WALL + 0.5 * BLADE;
            scene.arrow(at(x + 6.0, ROOF), at(x + 6.0, edge), Style::Measure);
            scene.line(at(left + WALL, edge), at(x + 7.5, edge), Style::Measure);
            note(&mut scene, at(x + 8.0, 0.5 * (edge + ROOF) + 1.0), sign, Anchor::Start);
        }
    }
    note(&mut scene, at(7.0, 36.0), "bore", Anchor::End);
    note(&mut scene, at(12.0, 36.0), "port", Anchor::Start);
    note(&mut scene, at(2.0, 62.5), "level line: port roof", Anchor::Start);
    scene
}

/// On the stop and off it.
pub(super) fn closed() -> Scene {
    let mut scene = sheet(
        64.0,
        "Valve seated when closed",
        "Two cuts through the port: the valve's lug rests on the stop pin; the lug stands off the pin and the edge is lifted by the same amount.",
    );
    let panels = [(14.0, 0.0, "on its stop"), (62.0, 3.5, "stands off")];
    for (left, lift, word) in panels {
        let edge = ROOF + 9.0 - lift;
        let head = TOP - 3.5 - lift;
        port(&mut scene, left, edge, head);
        let lug = at(left + WALL + BLADE, head);
        scene.area(block(lug, 7.0, 2.0), Style::Valve);
        scene.dot(at(lug.x + 5.0, TOP - 0.75), 0.75, Style::Mark);
        name(&mut scene, at(left + 12.0, 56.0), word);
        if lift > 0.0 {
            let x = left + WALL + BLADE + 3.0;
            scene.line(at(left + WALL, edge + lift), at(x + 2.0, edge + lift), Style::Measure);
            scene.line(at(left + WALL, edge), at(x + 2.0, edge), Style::Measure);
            scene.arrow(at(x, edge + lift), at(x, edge), Style::Measure);
            note(&mut scene, at(x + 3.0, edge + 0.5 * lift + 1.0), "lift", Anchor::Start);
        } else {
            note(&mut scene, at(lug.x + 8.0, TOP - 1.5), "stop pin", Anchor::Start);
        }
    }
    note(&mut scene, at(2.0, 62.5), "level line: port roof", Anchor::Start);
    scene
}
