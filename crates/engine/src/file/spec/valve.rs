//! The exhaust power valve.

use super::range::{mm, plain};
use super::{Group, Key, Need, Section, Word, degrees};
use quantity::Dimension;

const KINDS: &[Word] = &[
    Word {
        word: "blade",
        meaning: "a blade that slides along a line, driven by an arm on the pulley's shaft",
    },
    Word { word: "flap", meaning: "a flap on a pivot" },
    Word { word: "drum", meaning: "a drum cut away at its edge, turning in the port roof" },
    Word { word: "table", meaning: "measured points of pulley angle and edge height" },
];

const TURNING: &[&str] = &["flap", "drum"];

pub(super) const VALVE: Section = Section {
    path: "valve",
    repeated: false,
    required: true,
    doc: "The exhaust power valve. Travel is the angle of the valve pulley from its stop pin, opening positive.",
    keys: &[
        Key::word("kind", KINDS).needed().doc("Kind of valve.").example("\"blade\""),
        Key::length("closed_drop", mm(0.1, 60.0))
            .usual(mm(1.0, 12.0))
            .one_of("closed")
            .from("port roof down to the closed valve edge, along the cylinder axis")
            .doc("How far the closed edge lies below the roof.")
            .example("\"4.5 ± 0.05 mm\""),
        Key::length("closed_below_deck", mm(0.0, 300.0))
            .one_of("closed")
            .from("deck down to the closed valve edge")
            .doc("Closed edge, measured from the deck.")
            .example("\"33.5 mm by depth gauge\""),
        Key::length("closed_above_crown_at_bdc", mm(0.0, 300.0))
            .one_of("closed")
            .from("crown edge at bottom dead centre up to the closed valve edge")
            .doc("Closed edge, measured from the crown at bottom dead centre.")
            .example("\"21.5 mm by depth gauge\""),
        Key::angle("closed_duration", degrees(2.0, 358.0))
            .one_of("closed")
            .from("opening to closing of the exhaust with the valve closed, in crank degrees")
            .doc("Exhaust duration with the valve closed.")
            .example("\"170° by degree wheel\""),
        Key::names("covers")
            .worked("every port of the group \"exhaust main\"", "side ports under the valve move with it")
            .doc("Names of the ports whose roof the valve moves.")
            .example("[\"exhaust\"]"),
        Key::angle("mechanical_end", degrees(1.0, 360.0))
            .usual(degrees(20.0, 180.0))
            .buys("a warning before the valve meets its end")
            .from("stop pin, at the valve pulley")
            .doc("Pulley angle at which the valve meets its mechanical end.")
            .example("\"85 ± 1°\""),
        Key::angle("slide_angle", degrees(0.0, 89.0))
            .usual(degrees(0.0, 70.0))
            .when("kind", &["blade"])
            .needed()
            .from("cylinder axis to the line on which the blade slides")
            .doc("Angle of the slide.")
            .example("\"25 ± 0.5°\""),
        Key::length("arm", mm(0.5, 200.0))
            .usual(mm(2.0, 40.0))
            .when("kind", &["blade"])
            .needed()
            .from("shaft centre to drive pin centre")
            .doc("Arm that drives the blade.")
            .example("\"4.58 ± 0.03 mm\""),
        Key::angle("arm_start", degrees(-89.0, 89.0))
            .usual(degrees(-75.0, 5.0))
            .when("kind", &["blade"])
            .needed()
            .from("the arm's position at right angles to the blade, closed, negative before it")
            .doc("Angle of the arm when closed.")
            .example("\"−33 ± 0.5°\""),
        Key::length("radius", mm(1.0, 200.0))
            .usual(mm(5.0, 60.0))
            .when("kind", TURNING)
            .needed()
            .from("pivot or drum axis to the edge")
            .doc("Radius of the edge.")
            .example("\"18.0 ± 0.05 mm\""),
        Key::angle("start", degrees(-89.0, 89.0))
            .usual(degrees(-75.0, 10.0))
            .when("kind", TURNING)
            .needed()
            .from("the level through the pivot (square to the cylinder axis) up to the edge, closed, negative below")
            .doc("Angle of the edge when closed.")
            .example("\"−20 ± 1°\""),
        Key::figure("ratio", Dimension::Number, plain(-20.0, 20.0))
            .usual(plain(0.2, 3.0))
            .when("kind", TURNING)
            .default("1 exact", "the pulley usually sits on the valve's own shaft", "lift by pulley angle")
            .doc("Angle of flap or drum for each angle of the pulley.")
            .example("\"1 exact\""),
        Key::points("points")
            .when("kind", &["table"])
            .needed()
            .from("travel at the pulley from the stop pin; lift of the edge above closed, along the cylinder axis")
            .doc("Measured points, the first at zero and zero, both rising.")
            .example("[{ travel = \"0°\", lift = \"0 mm\" }, { travel = \"40 ± 1°\", lift = \"3.1 ± 0.1 mm\" }]"),
    ],
    groups: &[Group { name: "closed", what: "the closed edge", need: Need::Required }],
};
