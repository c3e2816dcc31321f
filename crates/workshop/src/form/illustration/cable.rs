//! Cables: adjuster with gap, exposed thread and play; wire, sheath, bends, mount.

use super::kind::{Cable, Illustration};
use super::pulley::{wire, word};
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Path, Scene, Style, at};
use std::f64::consts::FRAC_PI_2;

/// Level of the wire and places along it on the sheet, mm.
const LEVEL: f64 = 22.0;
const LEAVES: f64 = 17.0;
const TIP: f64 = 40.0;
const NUT: f64 = 64.0;
const HEAD: f64 = 76.0;

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    match which {
        Illustration::Wire(cable) => whole_wire(cable, sizes),
        Illustration::Sheath(cable) => sheath(cable, sizes),
        Illustration::Bends(cable) => bends(cable, sizes),
        Illustration::MountStiffness => mount(sizes),
        Illustration::Gap(cable)
        | Illustration::ExposedThread(cable)
        | Illustration::Thread(cable)
        | Illustration::Play(cable)
        | Illustration::SlackLimit(cable) => adjuster(which, cable, sizes),
        _ => adjuster(which, Cable::Opening, sizes),
    }
}

fn adjuster(which: Illustration, cable: Cable, sizes: &Sizes<'_>) -> Scene {
    let name = word(cable);
    let (title, text) = match which {
        Illustration::Gap(_) => {
            ("Gap", format!("From the valve pulley to the end of the sheath at the {name} adjuster."))
        }
        Illustration::ExposedThread(_) => {
            ("Thread that shows", format!("From the lock nut to the shoulder of the {name} adjuster."))
        }
        Illustration::Thread(_) => {
            ("Thread of the adjuster", format!("Size across and pitch of the {name} adjuster's thread."))
        }
        Illustration::SlackLimit(_) => {
            ("Least slack", format!("Free play that must be left along the {name} wire."))
        }
        _ => (
            "Free play",
            format!("How far the {name} wire can be moved along itself by hand, servo at closed park."),
        ),
    };
    let height = if matches!(which, Illustration::Thread(_)) { 66.0 } else { 56.0 };
    let mut sketch = Sketch::new(height, title, &text);
    assembly(&mut sketch, cable);
    match which {
        Illustration::Gap(_) => {
            let text = sizes.asked_here("gap", &format!("found.{name}_gap"));
            let place = at((LEAVES + TIP) / 2.0 + 2.0, LEVEL + 15.0);
            sketch.asked_at(at(LEAVES, LEVEL + 1.0), at(TIP, LEVEL + 1.0), 9.0, &text, place, Anchor::Middle);
        }
        Illustration::ExposedThread(_) => {
            let text = sizes.asked_here("thread", &format!("found.{name}_thread"));
            sketch.asked_at(
                at(NUT, LEVEL - 3.5),
                at(HEAD, LEVEL - 3.5),
                -6.0,
                &text,
                at(HEAD - 6.0, LEVEL - 11.2),
                Anchor::Middle,
            );
        }
        Illustration::Thread(_) => thread(&mut sketch, cable, sizes),
        _ => {
            let key = if matches!(which, Illustration::SlackLimit(_)) {
                format!("limits.{name}_slack")
            } else {
                format!("found.{name}_play")
            };
            let text = sizes.asked_here(
                if matches!(which, Illustration::SlackLimit(_)) { "at least" } else { "play" },
                &key,
            );
            let y = LEVEL + 7.0;
            sketch.asked_at(at(24.0, y), at(33.0, y), 0.0, &text, at(26.0, y + 12.0), Anchor::Start);
            sketch.line((28.5, LEVEL), (28.5, y), Style::Measure);
            sketch.note(at(26.0, y + 16.4), "moved along the wire by hand,", Anchor::Start);
            sketch.note(at(26.0, y + 20.2), "from stop to stop, not stretched", Anchor::Start);
        }
    }
    sketch.scene
}

/// Pulley, wire, adjuster in its bracket, lock nut, sheath.
fn assembly(sketch: &mut Sketch, cable: Cable) {
    let centre = at(4.0, LEVEL + 14.0);
    sketch.circle(centre, 19.0, Style::Metal);
    sketch.arc((centre, 14.0), (-FRAC_PI_2 - 0.5, 0.5), wire(cable));
    sketch.block((TIP, LEVEL - 3.0), (HEAD, LEVEL + 3.0), 0.4, Style::Metal);
    for step in 0..20 {
        let x = TIP + 1.6 + 1.8 * f64::from(step);
        if x < HEAD - 0.8 {
            sketch.line((x, LEVEL - 3.0), (x - 0.7, LEVEL + 3.0), Style::Hatching);
        }
    }
    sketch.metal(&[(54.0, LEVEL - 9.0), (59.0, LEVEL - 9.0), (59.0, LEVEL + 9.0), (54.0, LEVEL + 9.0)]);
    sketch.block((59.0, LEVEL - 5.0), (NUT, LEVEL + 5.0), 0.6, Style::Metal);
    sketch.block((HEAD, LEVEL - 4.4), (HEAD + 6.0, LEVEL + 4.4), 0.6, Style::Metal);
    sketch.block((HEAD + 6.0, LEVEL - 2.0), (99.0, LEVEL + 2.0), 0.4, Style::Sheath);
    sketch.line((4.0, LEVEL), (TIP, LEVEL), wire(cable));
    sketch.line((TIP, LEVEL), (99.0, LEVEL), wire(cable));
    sketch.note(at(2.0, LEVEL + 20.0), "valve pulley", Anchor::Start);
    sketch.note(at(56.5, LEVEL + 13.0), "bracket", Anchor::Middle);
    sketch.leader(at(61.5, LEVEL - 5.0), at(52.0, LEVEL - 13.0), "lock nut", Anchor::End);
    sketch.note(at(79.0, LEVEL + 9.0), "head", Anchor::Middle);
    sketch.note(at(93.0, LEVEL + 6.0), "sheath", Anchor::Middle);
    sketch.name(at(1.0, 5.0), &format!("{} cable", word(cable)), Anchor::Start);
}

/// The thread drawn larger: size and pitch.
fn thread(sketch: &mut Sketch, cable: Cable, sizes: &Sizes<'_>) {
    let (top, bottom) = (43.0, 53.0);
    let crests: Vec<_> =
        (0..13)
            .map(|step| at(34.0 + 3.0 * f64::from(step), if step % 2 == 0 { top + 2.0 } else { top }))
            .chain((0..13).rev().map(|step| {
                at(34.0 + 3.0 * f64::from(step), if step % 2 == 0 { bottom } else { bottom + 2.0 })
            }))
            .collect();
    sketch.scene.area(Path::polygon(&crests), Style::Metal);
    sketch.line((NUT + 4.0, LEVEL + 3.4), (62.0, top - 2.0), Style::Measure);
    let key = format!("gear.{}.pitch", word(cable));
    let text = sizes.asked("pitch", &key);
    let crest = bottom + 2.0;
    sketch.asked_at(at(43.0, crest), at(49.0, crest), 4.0, &text, at(51.0, crest + 5.0), Anchor::Start);
    let name = sizes.fields.get(&format!("gear.{}.thread", word(cable))).map_or("", |text| text.trim());
    let name: String =
        if name.is_empty() { "thread = ?".to_owned() } else { name.chars().take(14).collect() };
    sketch.asked(at(70.0, top), at(70.0, bottom + 2.0), -3.0, &name);
    sketch.note(at(51.0, crest + 9.0), "crest to crest, over ten", Anchor::Start);
}

fn whole_wire(cable: Cable, sizes: &Sizes<'_>) -> Scene {
    let name = word(cable);
    let mut sketch = Sketch::new(
        54.0,
        "Wire",
        "The wire alone: its length from nipple to nipple, its diameter over the crowns of the strands, its stretch under a pull.",
    );
    sketch.name(at(1.0, 5.0), &format!("{name} cable, wire alone"), Anchor::Start);
    let level = 14.0;
    for x in [6.0, 90.0] {
        sketch.block((x, level - 2.4), (x + 4.0, level + 2.4), 0.8, Style::Metal);
    }
    sketch.line((10.0, level), (90.0, level), wire(cable));
    let length = sizes.asked("length", &format!("gear.{name}.wire_length"));
    sketch.asked(at(10.0, level), at(90.0, level), 8.0, &length);
    let centre = at(14.0, 41.0);
    sketch.circle(centre, 2.6, Style::Metal);
    for strand in 0..6 {
        sketch.circle(centre.polar(5.2, f64::from(strand) * std::f64::consts::FRAC_PI_3), 2.6, Style::Metal);
    }
    let diameter = sizes.asked("diameter", &format!("gear.{name}.wire_diameter"));
    sketch.asked_at(at(14.0, 33.2), at(14.0, 48.8), -10.0, &diameter, at(26.0, 37.0), Anchor::Start);
    sketch.note(at(26.0, 41.2), "over the crowns", Anchor::Start);
    let stiffness = sizes.asked("stiffness", &format!("gear.{name}.wire_stiffness"));
    sketch.name(at(26.0, 48.0), &stiffness, Anchor::Start);
    sketch.note(at(26.0, 52.0), "pull over stretch, end to end", Anchor::Start);
    sketch.scene
}

fn sheath(cable: Cable, sizes: &Sizes<'_>) -> Scene {
    let name = word(cable);
    let mut sketch =
        Sketch::new(46.0, "Sheath", "The sheath alone, pushed together end to end: push over shortening.");
    sketch.name(at(1.0, 5.0), &format!("{name} cable, sheath alone"), Anchor::Start);
    let level = 17.0;
    sketch.metal(&[(4.0, level - 8.0), (10.0, level - 8.0), (10.0, level + 8.0), (4.0, level + 8.0)]);
    sketch.block((10.0, level - 3.0), (72.0, level + 3.0), 0.6, Style::Sheath);
    for step in 0..30 {
        let x = 12.0 + 2.0 * f64::from(step);
        sketch.line((x, level - 3.0), (x + 1.0, level + 3.0), Style::Hatching);
    }
    sketch.line((76.0, level - 5.0), (76.0, level + 5.0), Style::Hidden);
    sketch.scene.arrow(at(94.0, level), at(73.0, level), Style::Mark);
    sketch.note(at(84.0, level - 2.4), "push", Anchor::Middle);
    sketch.asked_at(
        at(72.0, level + 5.0),
        at(76.0, level + 5.0),
        4.0,
        "shortening",
        at(65.0, level + 10.0),
        Anchor::End,
    );
    let text = sizes.asked("stiffness", &format!("gear.{name}.sheath_stiffness"));
    sketch.name(at(10.0, 36.0), &text, Anchor::Start);
    sketch.note(at(10.0, 40.2), "push by spring scale over shortening by dial gauge", Anchor::Start);
    sketch.scene
}

fn bends(cable: Cable, sizes: &Sizes<'_>) -> Scene {
    let name = word(cable);
    let mut sketch = Sketch::new(
        62.0,
        "Sum of all bends",
        "All bends of the cable as it lies on the machine, left and right both counted as positive.",
    );
    sketch.name(at(1.0, 5.0), &format!("{name} cable"), Anchor::Start);
    let run = Path::from(at(4.0, 14.0))
        .line_to(at(28.0, 14.0))
        .arc_to(at(42.0, 28.0), 14.0, true)
        .line_to(at(42.0, 34.0))
        .arc_to(at(56.0, 48.0), 14.0, false)
        .line_to(at(94.0, 48.0));
    sketch.scene.trace(run, wire(cable));
    for (centre, start) in [(at(28.0, 28.0), -FRAC_PI_2), (at(56.0, 34.0), FRAC_PI_2)] {
        for angle in [start, start + FRAC_PI_2] {
            sketch.scene.line(centre, centre.polar(14.0, angle), Style::Measure);
        }
        let place = centre.polar(5.0, start + FRAC_PI_2 / 2.0);
        sketch.asked_angle(
            (centre, 9.0),
            (start, FRAC_PI_2),
            "90°",
            at(place.x, place.y + 1.0),
            Anchor::Middle,
        );
    }
    let text = sizes.asked("all together", &format!("gear.{name}.bends"));
    sketch.name(at(56.0, 14.0), &text, Anchor::Start);
    sketch.note(at(56.0, 18.4), "here 90° + 90° = 180°:", Anchor::Start);
    sketch.note(at(56.0, 22.2), "left and right both count", Anchor::Start);
    sketch.scene
}

fn mount(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        54.0,
        "Stiffness of the mount",
        "Pull on one cable over how far the servo gives way along it.",
    );
    let level = 20.0;
    sketch.metal(&[(86.0, 6.0), (94.0, 6.0), (94.0, 46.0), (86.0, 46.0)]);
    let zigzag: Vec<_> = (0..=8)
        .map(|step| at(74.0 + 1.5 * f64::from(step), 30.0 + if step % 2 == 0 { -2.4 } else { 2.4 }))
        .collect();
    sketch.scene.polyline(zigzag, Style::Spring);
    sketch.block((46.0, 10.0), (74.0, 42.0), 1.5, Style::Servo);
    sketch.circle(at(58.0, 30.0), 10.0, Style::Metal);
    sketch.line((8.0, level), (58.0, level), Style::WireOpening);
    sketch.scene.arrow(at(26.0, level), at(6.0, level), Style::Mark);
    sketch.note(at(6.0, level - 2.4), "pull", Anchor::Start);
    sketch.note(at(60.0, 38.6), "servo", Anchor::Middle);
    sketch.note(at(80.0, 26.0), "mount", Anchor::Middle);
    sketch.line((42.0, 12.0), (42.0, 42.0), Style::Hidden);
    sketch.asked_at(at(46.0, 44.0), at(42.0, 44.0), 0.0, "gives way", at(35.0, 45.0), Anchor::End);
    let text = sizes.asked("stiffness", "gear.mount_stiffness");
    sketch.name(at(8.0, 52.0), &text, Anchor::Start);
    sketch.note(at(50.0, 52.0), "pull over giving way", Anchor::Start);
    sketch.scene
}
