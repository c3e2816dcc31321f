//! Ports in the cylinder wall.

use super::range::mm;
use super::{Group, Key, Need, Range, Section, Word, degrees};
use crate::model::PortGroup;

/// Usual open duration of a port's roof by its group: common practice, no source. `None` where nothing is usual.
pub fn usual_duration(group: PortGroup) -> Option<Range> {
    match group {
        PortGroup::ExhaustMain | PortGroup::ExhaustAuxiliary => Some(degrees(150.0, 210.0)),
        PortGroup::Transfer | PortGroup::Boost => Some(degrees(105.0, 145.0)),
        PortGroup::Inlet => None,
    }
}

const GROUPS: &[Word] = &[
    Word { word: "exhaust main", meaning: "the exhaust port whose roof the valve moves" },
    Word { word: "exhaust auxiliary", meaning: "a further exhaust port beside or above it" },
    Word { word: "transfer", meaning: "a transfer port" },
    Word { word: "boost", meaning: "a boost (rear transfer) port" },
    Word { word: "inlet", meaning: "an inlet port that the piston skirt opens" },
];

const FLOOR_RULE: &str =
    "level with the crown edge at bottom dead centre, ± 0.3 mm (common practice, no source)";

pub(super) const PORT: Section = Section {
    path: "port",
    repeated: true,
    required: true,
    doc: "One port, or `count` like ones. At least one must be of the group \"exhaust main\".",
    keys: &[
        Key::text("name", 60).needed().doc("Name used in results; no two ports may share it.").example("\"exhaust\""),
        Key::word("group", GROUPS).needed().doc("What the port is for.").example("\"exhaust main\""),
        Key::count("count", 1, 12).means("1").doc("How many like this in one cylinder.").example("2"),
        Key::length("width", mm(1.0, 200.0))
            .usual(mm(5.0, 80.0))
            .one_of("width")
            .from("straight across the port, edge to edge (calliper): the chord")
            .doc("Width of one port as a chord.")
            .example("\"38.0 mm by calliper\""),
        Key::length("width_arc", mm(1.0, 600.0))
            .usual(mm(5.0, 90.0))
            .one_of("width")
            .from("along the bore wall (paper rubbing laid flat): the arc")
            .doc("Width of one port along the wall.")
            .example("\"42.2 ± 0.3 mm\""),
        Key::length("roof_below_deck", mm(0.0, 300.0))
            .one_of("roof")
            .from("deck (top face of the cylinder) down to the roof's highest point; the edge itself, not its chamfer")
            .doc("Roof, measured from the deck.")
            .example("\"29.02 mm by depth gauge\""),
        Key::length("roof_above_crown_at_bdc", mm(0.0, 300.0))
            .one_of("roof")
            .from("crown edge at bottom dead centre up to the roof's highest point; the edge itself, not its chamfer")
            .doc("Roof, measured from the crown at bottom dead centre.")
            .example("\"25.98 mm by depth gauge\""),
        Key::angle("opens_after_tdc", degrees(1.0, 179.0))
            .one_of("roof")
            .from("top dead centre, in crank degrees, going down")
            .doc("Crank angle at which the crown edge uncovers the roof.")
            .example("\"85.5° by degree wheel\""),
        Key::angle("opens_before_bdc", degrees(1.0, 179.0))
            .one_of("roof")
            .from("bottom dead centre, in crank degrees, going down")
            .doc("Crank angle before bottom dead centre at which the crown edge uncovers the roof.")
            .example("\"94.5° by degree wheel\""),
        Key::angle("duration", degrees(2.0, 358.0))
            .one_of("roof")
            .from("opening to closing, in crank degrees")
            .doc("Whole angle for which the port is open.")
            .example("\"189° by degree wheel\""),
        Key::length("floor_below_deck", mm(0.0, 400.0))
            .one_of("floor")
            .from("deck down to the floor's lowest point")
            .doc("Floor, measured from the deck.")
            .example("\"55.0 mm by depth gauge\""),
        Key::length("floor_above_crown_at_bdc", mm(-50.0, 200.0))
            .one_of("floor")
            .from("crown edge at bottom dead centre up to the floor, negative when the floor lies lower")
            .doc("Floor, measured from the crown at bottom dead centre.")
            .example("\"0 ± 0.2 mm\""),
        Key::angle("floor_after_tdc", degrees(1.0, 180.0))
            .one_of("floor")
            .from("top dead centre, in crank degrees, going down")
            .doc("Crank angle at which the crown edge meets the floor.")
            .example("\"170° by degree wheel\""),
        Key::angle("floor_before_bdc", degrees(0.0, 179.0))
            .one_of("floor")
            .from("bottom dead centre, in crank degrees, going down")
            .doc("Crank angle before bottom dead centre at which the crown edge meets the floor.")
            .example("\"10° by degree wheel\""),
        Key::length("corner_radius", mm(0.0, 60.0))
            .usual(mm(0.0, 20.0))
            .one_of("corners")
            .from("in the plane of the port, by radius gauge or from a paper rubbing")
            .doc("Radius of all four corners.")
            .example("\"4 ± 0.5 mm\""),
        Key::length("roof_radius", mm(0.0, 60.0))
            .usual(mm(0.0, 20.0))
            .one_of("corners")
            .from("in the plane of the port")
            .doc("Radius of the two upper corners; give floor_radius with it.")
            .example("\"4 ± 0.5 mm\""),
        Key::length("floor_radius", mm(0.0, 60.0))
            .usual(mm(0.0, 20.0))
            .with("roof_radius")
            .needed()
            .from("in the plane of the port")
            .doc("Radius of the two lower corners.")
            .example("\"3 ± 0.5 mm\""),
        Key::angle("roof_tilt", degrees(-45.0, 45.0))
            .default("0° ± 1°", "a roof is usually cut level", "areas just after opening")
            .from("a level across the width")
            .doc("Tilt of the roof line.")
            .example("\"0°\""),
        Key::angle("duct_angle", degrees(-80.0, 80.0))
            .default("0° exact", "areas are then those of the hole in the wall", "areas square to the flow")
            .from("the line square to the bore wall to the duct's axis")
            .doc("Angle of the duct.")
            .example("\"15 ± 3°\""),
    ],
    groups: &[
        Group { name: "width", what: "the width", need: Need::Required },
        Group { name: "roof", what: "the roof", need: Need::Required },
        Group {
            name: "floor",
            what: "the floor",
            need: Need::Worked { rule: FLOOR_RULE, buys: "areas near bottom dead centre" },
        },
        Group {
            name: "corners",
            what: "the corner radii",
            need: Need::Worked {
                rule: "0.1 x width ± 0.08 x width (common practice, no source)",
                buys: "areas just after opening, where corners matter most",
            },
        },
    ],
};
