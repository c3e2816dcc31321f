//! The spring on the closing adjuster: free, solid, fitted, its rate.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Scene, Style, at};

/// A coil spring along a level, `coils` turns between two places.
fn coils(sketch: &mut Sketch, (from, to): (f64, f64), level: f64, half: f64, coils: u32) {
    let step = (to - from) / f64::from(coils);
    let points = (0..=2 * coils)
        .map(|at_half| {
            let x = from + step * f64::from(at_half) / 2.0;
            at(x, level + if at_half % 2 == 0 { -half } else { half })
        })
        .collect();
    for end in [from, to] {
        sketch.line((end, level - half), (end, level + half), Style::Spring);
    }
    sketch.scene.polyline(points, Style::Spring);
}

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let free = sizes.mm("gear.spring.free_length", (8.0, 100.0), 30.0);
    let share = |key: &str, usual: f64| (sizes.mm(key, (1.0, 300.0), usual * free) / free).clamp(0.2, 0.95);
    match which {
        Illustration::SpringFitted => fitted(sizes, share("found.spring_length", 0.55)),
        Illustration::SpringRate => rate(sizes),
        Illustration::SpringSolid => {
            let mut sketch = Sketch::new(
                44.0,
                "Length with all coils touching",
                "The spring pressed together until all coils touch: wire diameter times number of coils.",
            );
            let solid = 60.0 * share("gear.spring.solid_length", 0.4);
            let wire = solid / 10.0;
            for coil in 0..10 {
                let x = 14.0 + wire * f64::from(coil);
                sketch.block((x, 8.0), (x + wire, 26.0), 0.5 * wire, Style::Metal);
            }
            sketch.scene.arrow(at(3.0, 17.0), at(12.6, 17.0), Style::Mark);
            sketch.scene.arrow(at(14.0 + solid + 11.0, 17.0), at(14.0 + solid + 1.4, 17.0), Style::Mark);
            let text = sizes.asked("solid", "gear.spring.solid_length");
            sketch.asked(at(14.0, 26.0), at(14.0 + solid, 26.0), 6.0, &text);
            sketch.note(at(14.0, 40.0), "coils touching: wire diameter x number of coils", Anchor::Start);
            sketch.scene
        }
        _ => {
            let mut sketch =
                Sketch::new(44.0, "Free length", "The spring lying free: end to end with no load.");
            coils(&mut sketch, (14.0, 74.0), 17.0, 9.0, 8);
            let text = sizes.asked("free", "gear.spring.free_length");
            sketch.asked(at(14.0, 26.0), at(74.0, 26.0), 6.0, &text);
            sketch.note(at(14.0, 40.0), "end to end, no load", Anchor::Start);
            sketch.scene
        }
    }
}

fn rate(sizes: &Sizes<'_>) -> Scene {
    let mut sketch =
        Sketch::new(64.0, "Rate of the spring", "Force over shortening, by spring scale and calliper.");
    coils(&mut sketch, (14.0, 70.0), 13.0, 8.0, 8);
    coils(&mut sketch, (14.0, 50.0), 38.0, 8.0, 8);
    sketch.line((14.0, 3.0), (14.0, 49.0), Style::Outline);
    sketch.line((70.0, 22.0), (70.0, 52.0), Style::Measure);
    sketch.scene.arrow(at(68.0, 38.0), at(51.2, 38.0), Style::Mark);
    sketch.note(at(72.0, 39.0), "force, on a scale", Anchor::Start);
    sketch.asked_at(at(50.0, 47.0), at(70.0, 47.0), 3.0, "shortening", at(72.0, 51.2), Anchor::Start);
    let text = sizes.asked("rate", "gear.spring.rate");
    sketch.name(at(14.0, 60.0), &text, Anchor::Start);
    sketch.note(at(52.0, 60.0), "force over shortening", Anchor::Start);
    sketch.scene
}

fn fitted(sizes: &Sizes<'_>, share: f64) -> Scene {
    let mut sketch = Sketch::new(
        54.0,
        "Spring as fitted",
        "Length of the spring between the closing adjuster's head and the end of the sheath, servo at closed park.",
    );
    let level = 20.0;
    let end = 40.0 + 50.0 * share;
    sketch.metal(&[(16.0, level - 10.0), (21.0, level - 10.0), (21.0, level + 10.0), (16.0, level + 10.0)]);
    sketch.block((8.0, level - 3.0), (34.0, level + 3.0), 0.4, Style::Metal);
    sketch.block((21.0, level - 5.0), (26.0, level + 5.0), 0.6, Style::Metal);
    sketch.block((34.0, level - 8.0), (40.0, level + 8.0), 0.6, Style::Metal);
    sketch.block((end, level - 8.0), (end + 2.4, level + 8.0), 0.4, Style::Metal);
    sketch.block((end + 2.4, level - 2.2), (99.0, level + 2.2), 0.4, Style::Sheath);
    sketch.line((1.0, level), (99.0, level), Style::WireClosing);
    coils(&mut sketch, (40.0, end), level, 6.6, 8);
    let text = sizes.asked_here("length", "found.spring_length");
    sketch.asked(at(40.0, level + 8.0), at(end, level + 8.0), 6.0, &text);
    sketch.name(at(1.0, 5.0), "closing cable", Anchor::Start);
    sketch.note(at(18.5, level + 14.0), "bracket", Anchor::Middle);
    sketch.note(at(37.0, level - 10.0), "adjuster's head", Anchor::Middle);
    sketch.note(at(99.0, level - 5.0), "sheath", Anchor::End);
    sketch.note(at(8.0, 50.0), "as fitted, servo at closed park", Anchor::Start);
    sketch.scene
}
