//! What was read of the present state, the return values of an earlier setting, and the gates before a first start.

use super::range::{kilohms, mm};
use super::{Key, Section, Word};
use quantity::Dimension;

const STATE: &str = "the present state is judged from it, and can be gone back to";
const CHECK: &str = "one more way to see that the setting is right";

const fn resistance(name: &'static str) -> Key {
    Key::figure(name, Dimension::Resistance, kilohms(0.0, 1000.0)).usual(kilohms(0.05, 10.0))
}

const READINGS: &[Key] = &[
    Key::text("date", 60)
        .buys("the record can be told from another")
        .doc("When it was read.")
        .example("\"12 March\""),
    Key::length("opening_play", mm(0.0, 60.0))
        .usual(mm(0.0, 8.0))
        .buys(STATE)
        .from("along the wire at its adjuster, servo at closed park")
        .doc("Free play of the opening cable.")
        .example("\"1.0 ± 0.2 mm\""),
    Key::length("closing_play", mm(0.0, 60.0))
        .usual(mm(0.0, 8.0))
        .buys(STATE)
        .from("along the wire at its adjuster, servo at closed park")
        .doc("Free play of the closing cable.")
        .example("\"0.5 ± 0.2 mm\""),
    Key::length("opening_gap", mm(0.0, 200.0))
        .usual(mm(1.0, 60.0))
        .buys(STATE)
        .from("valve pulley to the end of the sheath at the opening adjuster")
        .doc("Gap at the opening adjuster.")
        .example("\"12.0 ± 0.1 mm\""),
    Key::length("closing_gap", mm(0.0, 200.0))
        .usual(mm(1.0, 60.0))
        .buys(STATE)
        .from("valve pulley to the end of the sheath at the closing adjuster")
        .doc("Gap at the closing adjuster.")
        .example("\"14.0 ± 0.1 mm\""),
    Key::length("opening_thread", mm(0.0, 100.0))
        .usual(mm(0.0, 40.0))
        .buys(STATE)
        .from("lock nut to the adjuster's shoulder")
        .doc("Thread that shows at the opening adjuster.")
        .example("\"6.0 mm by calliper\""),
    Key::length("closing_thread", mm(0.0, 100.0))
        .usual(mm(0.0, 40.0))
        .buys(STATE)
        .from("lock nut to the adjuster's shoulder")
        .doc("Thread that shows at the closing adjuster.")
        .example("\"5.0 mm by calliper\""),
    Key::length("spring_length", mm(1.0, 300.0))
        .usual(mm(3.0, 100.0))
        .buys(STATE)
        .from("end to end as fitted, servo at closed park")
        .doc("Length of the spring on the closing adjuster.")
        .example("\"17.0 mm by calliper\""),
    Key::length("edge_above_flush", mm(-60.0, 60.0))
        .usual(mm(-5.0, 5.0))
        .buys(STATE)
        .from(
            "port roof to valve edge along the cylinder axis, servo at full travel, negative below the roof",
        )
        .doc("Valve edge above flush.")
        .example("\"0.36 ± 0.06 mm\""),
    Key::length("edge_above_closed", mm(-10.0, 60.0))
        .usual(mm(-0.5, 5.0))
        .buys(STATE)
        .from("the closed position (valve on its stop pin) to the valve edge, servo at closed park")
        .doc("Valve edge above closed.")
        .example("\"0.00 ± 0.05 mm\""),
    Key::length("mark_at_full", mm(-60.0, 60.0))
        .usual(mm(-10.0, 10.0))
        .buys(CHECK)
        .from("the mark's line, along the mark's circle, servo at full travel, opening positive")
        .doc("Offset of the witness mark on the valve pulley.")
        .example("\"0.0 ± 0.2 mm\""),
    Key::length("mark_at_closed", mm(-60.0, 60.0))
        .usual(mm(-10.0, 10.0))
        .buys(CHECK)
        .from("the mark's line, along the mark's circle, servo at closed park, opening positive")
        .doc("Offset of the witness mark on the valve pulley.")
        .example("\"0.0 ± 0.2 mm\""),
    resistance("sensor_closed")
        .buys(CHECK)
        .from("sensor's wiper to its ground end, plug off, servo at closed park")
        .doc("Sensor at closed park.")
        .example("\"0.62 kΩ ±(0.5 % + 2 digits)\""),
    resistance("sensor_open")
        .buys(CHECK)
        .from("sensor's wiper to its ground end, plug off, servo at full travel")
        .doc("Sensor at full travel.")
        .example("\"3.90 kΩ ±(0.5 % + 2 digits)\""),
    Key::text("play_felt", 300)
        .buys("a worn end is told from a slack cable")
        .doc("Where play was felt and in which direction: along the wire or sideways.")
        .example("\"along the wire at the valve end\""),
];

pub(super) const FOUND: Section = Section {
    path: "found",
    repeated: false,
    required: false,
    doc: "The state as found, read before anything is touched. The servo stands at closed park unless a key says otherwise.",
    keys: READINGS,
    groups: &[],
};

pub(super) const RETURNS: Section = Section {
    path: "returns",
    repeated: false,
    required: false,
    doc: "Return values: the same readings, taken after an earlier setting that was right.",
    keys: READINGS,
    groups: &[],
};

const TURN: &[Word] = &[
    Word { word: "clear", meaning: "turned by hand through a full turn, nothing touches" },
    Word { word: "touches", meaning: "something touches" },
];

const GATE: &str = "the first start is not released without it";

pub(super) const GATES: Section = Section {
    path: "gates",
    repeated: false,
    required: false,
    doc: "What must be known before a first start.",
    keys: &[
        Key::length("proud_closed", mm(-20.0, 20.0))
            .usual(mm(-3.0, 1.0))
            .buys(GATE)
            .from("bore wall to the blade's edge, valve closed, negative when it lies back")
            .doc("How far the blade's edge stands proud of the bore, closed.")
            .example("\"−0.5 ± 0.1 mm\""),
        Key::length("proud_open", mm(-20.0, 20.0))
            .usual(mm(-3.0, 1.0))
            .buys(GATE)
            .from("bore wall to the blade's edge, valve fully open, negative when it lies back")
            .doc("How far the blade's edge stands proud of the bore, open.")
            .example("\"−0.6 ± 0.1 mm\""),
        Key::word("turn_closed", TURN)
            .buys(GATE)
            .doc("A full turn of the crank by hand with the valve closed.")
            .example("\"clear\""),
        Key::word("turn_open", TURN)
            .buys(GATE)
            .doc("A full turn of the crank by hand with the valve fully open.")
            .example("\"clear\""),
    ],
    groups: &[],
};
