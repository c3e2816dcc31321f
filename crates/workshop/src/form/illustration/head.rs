//! Combustion chamber.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Path, Scene, Style, at};

/// Piston crown and squish band on the sheet, mm.
const CROWN: f64 = 44.0;
const BAND: f64 = 37.0;

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let (title, text) = match which {
        Illustration::SquishGap => ("Squish gap", "Gap between squish band and piston at top dead centre."),
        Illustration::SquishInner => ("Squish band", "Diameter at which the squish band ends inwards."),
        _ => ("Chamber volume", "The whole space above the piston at top dead centre, plug fitted."),
    };
    let mut sketch = Sketch::new(58.0, title, text);
    let inner = 19.0;
    let bowl = |path: Path| path.line_to(at(40.0 - inner, BAND)).arc_to(at(40.0 + inner, BAND), 21.0, true);
    let head = bowl(Path::from(at(4.0, 8.0)).line_to(at(4.0, BAND)))
        .line_to(at(76.0, BAND))
        .line_to(at(76.0, 8.0))
        .close();
    if which == Illustration::ChamberVolume {
        let space = bowl(Path::from(at(10.0, CROWN)).line_to(at(10.0, BAND)))
            .line_to(at(70.0, BAND))
            .line_to(at(70.0, CROWN))
            .close();
        sketch.scene.area(space, Style::OpenArea);
    }
    sketch.scene.cut_metal(head, std::f64::consts::FRAC_PI_4);
    for (near, far) in [(10.0, 4.0), (70.0, 76.0)] {
        sketch.scene.cut_metal(
            super::sketch::polygon(&[(near, BAND), (far, BAND), (far, 56.0), (near, 56.0)]),
            -std::f64::consts::FRAC_PI_4,
        );
    }
    sketch.part(&[(10.3, CROWN), (69.7, CROWN), (69.7, 56.0), (10.3, 56.0)], Style::Piston);
    sketch.block((36.0, 4.0), (44.0, 24.5), 0.6, Style::Metal);
    sketch.note(at(46.0, 6.4), "plug fitted", Anchor::Start);
    sketch.note(at(40.0, 53.5), "piston at top dead centre", Anchor::Middle);
    match which {
        Illustration::SquishGap => {
            let text = sizes.value("head.squish_clearance");
            sketch.asked_at(at(64.0, BAND), at(64.0, CROWN), 0.0, &text, at(78.0, 41.6), Anchor::Start);
            sketch.note(at(78.0, 46.0), "by soft wire,", Anchor::Start);
            sketch.note(at(78.0, 49.8), "both sides", Anchor::Start);
        }
        Illustration::SquishInner => {
            let text = sizes.value("head.squish_inner_diameter");
            sketch.asked(at(40.0 - inner, BAND), at(40.0 + inner, BAND), 0.0, &text);
            sketch.leader(at(66.0, BAND), at(78.0, 34.0), "squish band", Anchor::Start);
        }
        _ => {
            let text = sizes.value("head.chamber_volume");
            sketch.name(at(40.0, 34.0), &text, Anchor::Middle);
            sketch.note(at(78.0, 38.0), "filled with", Anchor::Start);
            sketch.note(at(78.0, 41.8), "a burette", Anchor::Start);
        }
    }
    sketch.scene
}
