//! The two pull cables, named by what their pull does.

use super::range::{metres, mm, newtons_per_mm, plain};
use super::{Group, Key, Need, Section, Word, degrees};
use crate::file::wire::CONSTRUCTIONS;
use quantity::Dimension;

const HANDS: &[Word] = &[
    Word { word: "right", meaning: "turning clockwise, seen from the head, screws in" },
    Word { word: "left", meaning: "turning clockwise, seen from the head, screws out" },
];

const KEYS: &[Key] = &[
    Key::length("servo_radius", mm(2.0, 200.0))
        .usual(mm(6.0, 50.0))
        .needed()
        .from("centre of the servo's pulley to the centre of the wire in its groove")
        .doc("Groove radius at the servo.")
        .example("\"15.0 ± 0.1 mm\""),
    Key::length("valve_radius", mm(2.0, 200.0))
        .usual(mm(6.0, 50.0))
        .needed()
        .from("centre of the valve's pulley to the centre of the wire in its groove")
        .doc("Groove radius at the valve.")
        .example("\"15.0 ± 0.1 mm\""),
    Key::text("thread", 40)
        .one_of("thread")
        .from("read on the adjuster, or by thread gauge")
        .doc("Metric thread by its designation; \"M6\" alone is taken as the coarse pitch and said so.")
        .example("\"M6 x 1\""),
    Key::length("pitch", mm(0.1, 6.0))
        .usual(mm(0.4, 2.0))
        .one_of("thread")
        .from("travel along the thread for one turn; measure ten turns and divide")
        .doc("Pitch, for a thread that has no metric designation.")
        .example("\"1.00 ± 0.01 mm\""),
    Key::word("hand", HANDS)
        .default("right", "nearly all adjusters are", "the way to turn in every step")
        .from("the adjuster's head")
        .doc("Hand of the adjuster's thread.")
        .example("\"right\""),
    Key::figure("wire_stiffness", Dimension::Stiffness, newtons_per_mm(0.5, 100000.0))
        .usual(newtons_per_mm(20.0, 1000.0))
        .one_of("wire")
        .from("end to end: pull by spring scale over stretch by dial gauge")
        .doc("Stiffness of the wire.")
        .example("\"120 ± 20 N/mm\""),
    Key::length("wire_diameter", mm(0.3, 10.0))
        .usual(mm(0.8, 3.0))
        .one_of("wire")
        .from("across the whole wire, by micrometer, over the crowns of the strands")
        .doc("Wire diameter, from which the stiffness follows with length and construction.")
        .example("\"1.50 ± 0.02 mm\""),
    Key::length("wire_length", metres(0.05, 10.0))
        .usual(metres(0.2, 3.0))
        .with("wire_diameter")
        .needed()
        .from("nipple to nipple")
        .doc("Length of the wire.")
        .example("\"900 ± 10 mm\""),
    Key::word("wire_construction", CONSTRUCTIONS)
        .with("wire_diameter")
        .needed()
        .doc("How the wire is made: strands x wires in each.")
        .example("\"7x7\""),
    Key::figure("sheath_stiffness", Dimension::Stiffness, newtons_per_mm(0.5, 1000000.0))
        .usual(newtons_per_mm(50.0, 3000.0))
        .default("250 N/mm ± 150 N/mm", "common practice, no source", "less band at full opening")
        .from("end to end: push by spring scale over shortening by dial gauge")
        .doc("Stiffness of the sheath against shortening.")
        .example("\"250 ± 50 N/mm\""),
    Key::angle("bends", degrees(0.0, 3600.0))
        .usual(degrees(10.0, 720.0))
        .default("180° ± 90°", "common practice, no source", "less band on cable friction and loads")
        .from("end to end along the cable, left bends and right bends both counted as positive")
        .doc("Sum of all bends of the cable as it lies on the machine.")
        .example("\"180 ± 20°\""),
    Key::figure("friction", Dimension::Number, plain(0.0, 1.0))
        .usual(plain(0.03, 0.3))
        .default("0.12 ± 0.06", "common practice, no source", "less band on cable friction and loads")
        .doc("Friction coefficient of wire in sheath.")
        .example("\"0.12 ± 0.04\""),
];

const GROUPS: &[Group] = &[
    Group { name: "thread", what: "the adjuster's thread", need: Need::Required },
    Group {
        name: "wire",
        what: "the wire's stiffness",
        need: Need::Worked {
            rule: "100 N/mm ± 60 N/mm (common practice, no source)",
            buys: "less band at full opening",
        },
    },
];

pub(super) const OPENING: Section = Section {
    path: "gear.opening",
    repeated: false,
    required: true,
    doc: "The cable whose pull opens the valve, with its adjuster at the valve end.",
    keys: KEYS,
    groups: GROUPS,
};

pub(super) const CLOSING: Section = Section {
    path: "gear.closing",
    repeated: false,
    required: true,
    doc: "The cable whose pull closes the valve, with its adjuster at the valve end.",
    keys: KEYS,
    groups: GROUPS,
};
