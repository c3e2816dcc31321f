//! Slack of a cable at its adjuster.

use super::{note, sheet};
use drawing::{Anchor, Dimension, DimensionLabel, Draw, Item, Scene, Style, at};

pub(super) fn slack() -> Scene {
    let mut scene = sheet(
        40.0,
        "Slack of a cable",
        "A sheath pulled out of its adjuster until the wire is taut: the gap between the end of the sheath and the adjuster is the slack.",
    );
    // Wire through everything, adjuster with lock nut on the left, sheath on the right.
    scene.line(at(4.0, 18.0), at(96.0, 18.0), Style::WireOpening);
    scene.rect(at(18.0, 15.0), 26.0, 6.0, 0.8, Style::Metal);
    for thread in 0..8 {
        let x = 20.0 + 1.6 * f64::from(thread);
        scene.line(at(x, 15.0), at(x + 0.8, 21.0), Style::Hidden);
    }
    scene.rect(at(33.0, 12.5), 4.0, 11.0, 0.8, Style::Metal);
    scene.rect(at(52.0, 15.6), 44.0, 4.8, 1.0, Style::Metal);
    scene.rect(at(52.0, 15.0), 5.0, 6.0, 0.4, Style::Metal);
    scene.sheet().push(Item::Dimension(Dimension {
        from: at(44.0, 21.0),
        to: at(52.0, 21.0),
        offset: 6.0,
        text: "slack".to_owned(),
        size: super::NAME,
        label: DimensionLabel::At(at(48.0, 32.5), Anchor::Middle),
        style: Style::Measure,
    }));
    note(&mut scene, at(26.0, 27.0), "adjuster", Anchor::Middle);
    note(&mut scene, at(35.0, 10.5), "lock nut", Anchor::Middle);
    note(&mut scene, at(72.0, 13.0), "sheath, pulled this way", Anchor::Middle);
    scene.arrow(at(84.0, 25.0), at(94.0, 25.0), Style::Proposed);
    scene
}
