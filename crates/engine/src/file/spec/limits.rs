//! What a setting must meet.

use super::range::{mm, newtons, plain};
use super::{Key, Section};
use quantity::Dimension;

const PRACTICE: &str = "common practice, no source";
const BUYS: &str = "the verdict stands on a limit you can name";

pub(super) const LIMITS: Section = Section {
    path: "limits",
    repeated: false,
    required: false,
    doc: "Acceptance limits. Each is a figure, or `{ value = \"0.10 mm\", from = \"where the limit comes from\" }`. A figure alone has the source \"not stated\".",
    keys: &[
        Key::limit("flush", Dimension::Length, mm(0.005, 5.0))
            .default("0.10 mm", PRACTICE, BUYS)
            .from("port roof, up or down")
            .doc("The valve edge at full travel may lie this far from flush.")
            .example("{ value = \"0.10 mm\", from = \"own practice\" }"),
        Key::limit("closed", Dimension::Length, mm(0.005, 5.0))
            .default("0.10 mm", PRACTICE, BUYS)
            .from("closed position, up")
            .doc("The valve edge may stand this far above closed below the opening speed.")
            .example("\"0.10 mm\""),
        Key::limit("opening_slack", Dimension::Length, mm(0.0, 20.0))
            .default("0.3 mm", PRACTICE, BUYS)
            .from("along the opening wire, servo at closed park")
            .doc("Least slack of the opening wire.")
            .example("\"0.3 mm\""),
        Key::limit("closing_slack", Dimension::Length, mm(0.0, 20.0))
            .default("0.5 mm", PRACTICE, BUYS)
            .from("along the closing wire, anywhere in the travel")
            .doc("Least slack of the closing wire; with a spring on its adjuster, least spring travel left before the coils touch.")
            .example("\"0.5 mm\""),
        Key::limit("seat_tension", Dimension::Force, newtons(0.0, 200.0))
            .default("3 N", PRACTICE, BUYS)
            .doc("Least tension that keeps a spring-loaded sheath in its seat.")
            .example("\"3 N\""),
        Key::limit("wire_tension", Dimension::Force, newtons(1.0, 5000.0))
            .default("150 N", PRACTICE, BUYS)
            .doc("Largest tension of either wire.")
            .example("\"150 N\""),
        Key::limit("torque_margin", Dimension::Number, plain(1.0, 100.0))
            .default("1.5", PRACTICE, BUYS)
            .doc("Least ratio of the servo's stall torque to its load.")
            .example("\"1.5\""),
        Key::limit("tooth_load", Dimension::Force, newtons(1.0, 5000.0))
            .buys("the load on the last gear is judged, not only shown")
            .doc("Largest load on the teeth of the servo's last gear.")
            .example("\"200 N\""),
        Key::limit("proud", Dimension::Length, mm(0.0, 2.0))
            .default("0 mm", "a proud blade meets the piston", "a blade that stands back is asked for")
            .from("bore wall, inwards")
            .doc("The blade's edge may stand this far proud of the bore.")
            .example("\"0 mm\""),
    ],
    groups: &[],
};
