//! Pins of the servo's plug: which are measured, which are driven, and which must never get a supply.

use super::{NAME, name, note, sheet};
use drawing::{Anchor, Draw, Point, Scene, Style, Text, at};

fn pin(scene: &mut Scene, place: Point) {
    scene.circle(place, 1.6, Style::Outline);
    scene.dot(place, 0.6, Style::Mark);
}

fn cross(scene: &mut Scene, place: Point) {
    let reach = 2.4;
    scene.line(place + at(-reach, -reach), place + at(reach, reach), Style::Fault);
    scene.line(place + at(-reach, reach), place + at(reach, -reach), Style::Fault);
}

/// The track with its three pins and the meter at the outer two.
pub(super) fn sensor() -> Scene {
    let mut scene = sheet(
        58.0,
        "Position sensor from end to end",
        "The sensor's track with a pin at each end and the wiper's pin between them. The meter joins the two end pins: their reading is the largest of the three and does not change when the pulley turns.",
    );
    scene.rect(at(24.0, 9.0), 52.0, 5.0, 0.5, Style::Metal);
    name(&mut scene, at(50.0, 6.5), "track");
    scene.arrow(at(44.0, 24.0), at(44.0, 14.4), Style::Now);
    scene.polyline(vec![at(44.0, 24.0), at(50.0, 24.0), at(50.0, 28.4)], Style::Outline);
    note(&mut scene, at(52.0, 21.0), "wiper", Anchor::Start);
    for x in [24.0, 76.0] {
        scene.line(at(x, 11.5), at(x, 28.4), Style::Outline);
        pin(&mut scene, at(x, 30.0));
        note(&mut scene, at(x, 36.5), "end", Anchor::Middle);
    }
    pin(&mut scene, at(50.0, 30.0));
    note(&mut scene, at(50.0, 36.5), "third pin", Anchor::Middle);
    scene.polyline(vec![at(22.4, 30.0), at(12.0, 30.0), at(12.0, 47.0), at(38.0, 47.0)], Style::Curve1);
    scene.polyline(vec![at(77.6, 30.0), at(88.0, 30.0), at(88.0, 47.0), at(62.0, 47.0)], Style::Curve1);
    scene.rect(at(38.0, 41.0), 24.0, 11.0, 1.5, Style::Metal);
    scene.text(Text::new(at(50.0, 48.0), "kΩ", NAME + 1.0, Style::Label).anchor(Anchor::Middle).strong());
    note(&mut scene, at(2.0, 56.5), "Ends: largest reading, still when the pulley turns.", Anchor::Start);
    scene
}

/// The plug off the controller: supply through a fuse and a button on the motor's two pins.
pub(super) fn motor() -> Scene {
    let mut scene = sheet(
        62.0,
        "Motor driven from outside",
        "The servo's plug, off the controller. A battery with a fuse and a push button is joined to the two motor pins. The three sensor pins are crossed out: no supply there.",
    );
    scene.rect(at(10.0, 27.0), 80.0, 9.0, 1.5, Style::Metal);
    for x in [20.0, 32.0] {
        pin(&mut scene, at(x, 31.5));
    }
    for x in [56.0, 68.0, 80.0] {
        pin(&mut scene, at(x, 31.5));
        cross(&mut scene, at(x, 31.5));
    }
    name(&mut scene, at(26.0, 42.0), "motor");
    note(&mut scene, at(26.0, 46.0), "a few ohms between them", Anchor::Middle);
    name(&mut scene, at(68.0, 42.0), "sensor");
    note(&mut scene, at(68.0, 46.0), "never a supply here", Anchor::Middle);
    note(
        &mut scene,
        at(50.0, 53.0),
        "Plug off the controller. Pulses of at most 1 s. Swap the leads to come back.",
        Anchor::Middle,
    );
    supply(&mut scene);
    scene
}

fn supply(scene: &mut Scene) {
    scene.rect(at(70.0, 6.0), 22.0, 12.0, 1.0, Style::Metal);
    name(scene, at(81.0, 13.5), "battery");
    note(scene, at(68.5, 8.0), "+", Anchor::End);
    note(scene, at(68.5, 21.0), "\u{2212}", Anchor::End);
    // Plus side: fuse and button.
    scene.polyline(vec![at(70.0, 9.0), at(60.0, 9.0)], Style::Curve1);
    scene.rect(at(50.0, 7.5), 10.0, 3.0, 1.2, Style::Outline);
    note(scene, at(55.0, 5.8), "fuse", Anchor::Middle);
    scene.line(at(50.0, 9.0), at(42.0, 9.0), Style::Curve1);
    scene.line(at(42.0, 9.0), at(36.0, 6.2), Style::Curve1);
    note(scene, at(38.0, 5.0), "button", Anchor::Middle);
    scene.polyline(vec![at(35.5, 9.0), at(20.0, 9.0), at(20.0, 29.9)], Style::Curve1);
    scene.polyline(vec![at(70.0, 16.0), at(32.0, 16.0), at(32.0, 29.9)], Style::Curve2);
}
