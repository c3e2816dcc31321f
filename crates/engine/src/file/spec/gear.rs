//! What joins valve and actuator, apart from the cables themselves.

use super::range::{mm, newton_metres, newton_metres_per_rad, newtons_per_mm};
use super::{Key, Section, Word};
use quantity::Dimension;

const TURNS: &[Word] = &[
    Word { word: "clockwise", meaning: "clockwise, seen from `seen_from`" },
    Word { word: "anticlockwise", meaning: "anticlockwise, seen from `seen_from`" },
];

pub(super) const GEAR: Section = Section {
    path: "gear",
    repeated: false,
    required: true,
    doc: "What joins valve and actuator.",
    keys: &[
        Key::word("opens", TURNS)
            .needed()
            .from("the place named in `seen_from`")
            .doc("Which way the valve pulley turns to open the valve.")
            .example("\"clockwise\""),
        Key::text("seen_from", 120)
            .needed()
            .doc("From where the pulley's turning is seen.")
            .example("\"the left side of the machine, facing the pulley\""),
        Key::text("adjuster_seen_from", 120)
            .default(
                "the adjuster's head, looking along the wire towards the pulley",
                "the place from which a hand turns it",
                "the way to turn in every step",
            )
            .doc("From where the adjusters' turning is seen.")
            .example("\"below the carburettor, looking up along the wire\""),
        Key::figure("shaft_friction", Dimension::Torque, newton_metres(0.0, 50.0))
            .usual(newton_metres(0.0, 1.0))
            .default(
                "0.06 N·m ± 0.04 N·m",
                "common practice, no source",
                "less difference between rising and falling travel",
            )
            .from("cables off: the torque at the valve pulley that just moves the valve, less the spring's")
            .doc("Friction of valve shaft and blade, never negative.")
            .example("\"0.06 ± 0.02 N·m\""),
        Key::figure("mount_stiffness", Dimension::Stiffness, newtons_per_mm(1.0, 1000000.0))
            .usual(newtons_per_mm(50.0, 5000.0))
            .default("400 N/mm ± 250 N/mm", "common practice, no source", "less band at full opening")
            .from("pull on one cable over how far the actuator gives way along it")
            .doc("Stiffness of the actuator's mount as a cable feels it.")
            .example("\"400 ± 100 N/mm\""),
        Key::figure("gas_torque", Dimension::Torque, newton_metres(-50.0, 50.0))
            .usual(newton_metres(-1.0, 1.0))
            .default("0 N·m exact", "the setting is made at rest", "loads with the engine running")
            .from("the valve shaft, opening positive")
            .doc("Torque of the exhaust gas on the valve.")
            .example("\"0 N·m exact\""),
        Key::length("mark_radius", mm(2.0, 300.0))
            .usual(mm(5.0, 80.0))
            .buys("the witness mark read in mm becomes an angle")
            .from("shaft centre out to where the witness mark is read")
            .doc("Radius at which the witness mark on the valve pulley is read.")
            .example("\"18 ± 0.5 mm\""),
    ],
    groups: &[],
};

const SPRINGS: &[Word] = &[
    Word { word: "shaft", meaning: "a spring on the valve's shaft, always closing" },
    Word {
        word: "closing adjuster",
        meaning: "a compression spring between the closing cable's adjuster and the end of its sheath",
    },
];

const SHAFT: &[&str] = &["shaft"];
const ADJUSTER: &[&str] = &["closing adjuster"];

pub(super) const SPRING: Section = Section {
    path: "gear.spring",
    repeated: false,
    required: true,
    doc: "The return spring.",
    keys: &[
        Key::word("kind", SPRINGS).needed().doc("Where the spring sits.").example("\"closing adjuster\""),
        Key::figure("at_closed", Dimension::Torque, newton_metres(0.0, 50.0))
            .usual(newton_metres(0.0, 3.0))
            .when("kind", SHAFT)
            .needed()
            .from("valve pulley, cables off, valve on its stop pin")
            .doc("Closing torque of the spring with the valve closed.")
            .example("\"0.20 ± 0.02 N·m\""),
        Key::figure("torsion_rate", Dimension::TorsionRate, newton_metres_per_rad(0.0, 100.0))
            .usual(newton_metres_per_rad(0.0, 3.0))
            .when("kind", SHAFT)
            .needed()
            .from("valve pulley: rise in torque for one radian (57.3°) of travel")
            .doc("Rate of the spring.")
            .example("\"0.10 ± 0.02 N·m/rad\""),
        Key::figure("rate", Dimension::Stiffness, newtons_per_mm(0.001, 1000.0))
            .usual(newtons_per_mm(0.2, 20.0))
            .when("kind", ADJUSTER)
            .needed()
            .from("force over shortening, by spring scale and calliper")
            .doc("Rate of the spring.")
            .example("\"1.5 ± 0.1 N/mm\""),
        Key::length("free_length", mm(3.0, 300.0))
            .usual(mm(8.0, 100.0))
            .when("kind", ADJUSTER)
            .needed()
            .from("end to end with no load")
            .doc("Free length of the spring.")
            .example("\"30.0 mm by calliper\""),
        Key::length("solid_length", mm(1.0, 300.0))
            .usual(mm(3.0, 80.0))
            .when("kind", ADJUSTER)
            .worked(
                "0.4 x free length ± 0.1 x free length (common practice, no source)",
                "how near the closing cable is to being taut",
            )
            .from("end to end with all coils touching: wire diameter x number of coils")
            .doc("Solid length of the spring.")
            .example("\"12.0 ± 0.3 mm\""),
    ],
    groups: &[],
};
