//! The valve edge against the bore wall: proud of it, or lying back.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Scene, Style, at};

/// The edge against a straight edge laid along the bore: proud on one side, lying back on the other.
pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let (title, end, key) = match which {
        Illustration::ProudOpen => {
            ("Edge against the bore, valve open", "valve fully open", "gates.proud_open")
        }
        Illustration::ProudLimit => ("Limit for a proud edge", "at both ends", "limits.proud"),
        _ => ("Edge against the bore, valve closed", "valve closed", "gates.proud_closed"),
    };
    let text = "A straight edge along the bore wall. An edge that stands out of the wall is proud: plus, and stops the \
                work. One that lies back from it: minus.";
    let mut sketch = Sketch::new(66.0, title, text);
    for (wall, out, name, sign) in
        [(24.0, 4.0, "proud", "plus: stop"), (70.0, -4.0, "lies back", "minus: right")]
    {
        sketch.block(
            (wall - 3.0 - f64::max(out, 0.0), 14.0),
            (wall - f64::max(out, 0.0), 58.0),
            0.4,
            Style::Metal,
        );
        sketch.metal(&[(wall, 10.0), (wall + 20.0, 10.0), (wall + 20.0, 22.0), (wall, 22.0)]);
        sketch.metal(&[(wall, 48.0), (wall + 20.0, 49.0), (wall + 20.0, 58.0), (wall, 58.0)]);
        let edge = wall - out;
        sketch.part(
            &[
                (edge, 36.0),
                (edge, 29.0),
                (wall + 7.0, 22.0),
                (wall + 20.0, 22.0),
                (wall + 20.0, 29.0),
                (wall + 8.0, 36.0),
            ],
            Style::Valve,
        );
        sketch.line((wall, 10.0), (wall, 60.0), Style::Centre);
        sketch.asked_at(at(wall, 40.0), at(edge, 40.0), 0.0, "", at(wall, 40.0), Anchor::Start);
        let style = if out > 0.0 { Style::Fault } else { Style::Target };
        sketch.line((edge, 29.0), (edge, 36.0), style);
        sketch.name(at(wall - 3.0, 6.5), name, Anchor::Middle);
        sketch.note(at(wall + 6.0, 6.5), sign, Anchor::Start);
    }
    sketch.note(at(1.0, 63.8), "straight edge on the bore wall", Anchor::Start);
    let text = sizes.asked(end, key);
    sketch.name(at(99.0, 63.8), &text, Anchor::End);
    sketch.scene
}
