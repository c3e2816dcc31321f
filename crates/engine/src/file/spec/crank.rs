//! Crank train, combustion chamber and crankcase.

use super::range::{cubic_cm, mm};
use super::{Key, Section};
use quantity::Dimension;

pub(super) const CRANK: Section = Section {
    path: "crank",
    repeated: false,
    required: true,
    doc: "Crank train of one cylinder.",
    keys: &[
        Key::length("bore", mm(10.0, 200.0))
            .usual(mm(30.0, 100.0))
            .needed()
            .from("straight across the cylinder, below the ports")
            .doc("Cylinder bore diameter.")
            .example("\"54.00 ± 0.01 mm\""),
        Key::length("stroke", mm(10.0, 200.0))
            .usual(mm(30.0, 100.0))
            .needed()
            .from("twice the crank radius, as the maker gives it")
            .doc("Stroke.")
            .example("\"54.5 mm exact\""),
        Key::length("rod_length", mm(20.0, 500.0))
            .usual(mm(60.0, 220.0))
            .worked(
                "2.0 x stroke ± 0.15 x stroke (common practice, no source)",
                "degrees of port timing without the rod's share of the band",
            )
            .from("centre of the big end to centre of the small end")
            .doc("Connecting rod length.")
            .example("\"110.0 ± 0.1 mm\""),
        Key::length("pin_offset", mm(-20.0, 20.0))
            .usual(mm(-3.0, 3.0))
            .default(
                "0 mm ± 0.1 mm",
                "most crank trains are plain",
                "opening and closing angles that differ are told apart",
            )
            .from("crank centre to bore axis (or piston pin), positive towards the side where the crank pin goes down")
            .doc("Offset of the bore axis or the piston pin.")
            .example("\"0 mm exact\""),
        Key::length("deck_clearance", mm(-10.0, 30.0))
            .usual(mm(-2.0, 5.0))
            .default(
                "0 mm ± 0.5 mm",
                "the crown edge usually stops near the deck",
                "the band of every port that was measured from the deck becomes narrower by half a millimetre",
            )
            .from("deck (top face of the cylinder) down to the crown edge at top dead centre, negative when the crown stands proud")
            .doc("Crown edge below the deck at top dead centre.")
            .example("\"0.50 mm by depth gauge\""),
        Key::length("skirt_length", mm(5.0, 200.0))
            .usual(mm(25.0, 120.0))
            .buys("timing of an inlet port that the piston skirt opens")
            .from("crown edge down to the skirt's lower edge, on the inlet side")
            .doc("Length of the piston from crown edge to skirt edge.")
            .example("\"60.0 mm by calliper\""),
    ],
    groups: &[],
};

pub(super) const HEAD: Section = Section {
    path: "head",
    repeated: false,
    required: false,
    doc: "Combustion chamber.",
    keys: &[
        Key::figure("chamber_volume", Dimension::Volume, cubic_cm(0.2, 1000.0))
            .usual(cubic_cm(2.0, 80.0))
            .worked(
                "0.09 x swept volume ± 0.03 x swept volume (common practice, no source)",
                "compression ratios worth reading; the valve's setting does not depend on it",
            )
            .from("the whole space above the piston at top dead centre, plug fitted, filled with a burette")
            .doc("Chamber volume at top dead centre.")
            .example("\"11.0 ± 0.1 cc\""),
        Key::length("squish_clearance", mm(0.1, 20.0))
            .usual(mm(0.5, 3.0))
            .buys("squish velocity")
            .from("squish band to piston at top dead centre, by soft wire on both sides along the pin, mean of the two")
            .doc("Squish gap.")
            .example("\"1.10 ± 0.05 mm\""),
        Key::length("squish_inner_diameter", mm(2.0, 200.0))
            .usual(mm(10.0, 80.0))
            .buys("squish velocity")
            .from("straight across, where the squish band ends inwards")
            .doc("Inner diameter of the squish band.")
            .example("\"38.0 mm by calliper\""),
    ],
    groups: &[],
};

pub(super) const CRANKCASE: Section = Section {
    path: "crankcase",
    repeated: false,
    required: false,
    doc: "Crankcase.",
    keys: &[Key::figure("volume", Dimension::Volume, cubic_cm(5.0, 10000.0))
        .usual(cubic_cm(50.0, 3000.0))
        .buys("crankcase compression ratio")
        .from("everything below the piston at bottom dead centre up to the reed or inlet")
        .doc("Crankcase volume at bottom dead centre.")
        .example("\"330 ± 10 cc\"")],
    groups: &[],
};
