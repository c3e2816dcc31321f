//! What the gas meets on its way: pipe, intake, reed, carburettor; ignition, fuel, air of the day. All of it may be left
//! out: only torque and power are computed from it.

use super::range::{celsius, cubic_cm, degrees, kilopascals, mm, plain, rpm, square_mm};
use super::{Key, Section, Word};
use quantity::Dimension;

/// Paths of these sections.
pub(super) const PATHS: &[&str] =
    &["pipe", "intake", "reed", "carburettor", "transfer_duct", "ignition", "fuel", "ambient"];

const WALL: &str = "heat lost to the wall: what the gas's temperature, and with it the tuned speed, hangs on";

const fn wall_temperature() -> Key {
    Key::figure("wall_temperature", Dimension::Temperature, celsius(-50.0, 1000.0))
        .usual(celsius(-20.0, 700.0))
        .buys(WALL)
        .from("the wall's outside, engine hot, mean along the piece")
        .doc("Temperature of the wall.")
}

const fn inside(name: &'static str) -> Key {
    Key::length(name, mm(3.0, 400.0)).usual(mm(10.0, 160.0)).needed()
}

pub(super) const PIPE: Section = Section {
    path: "pipe",
    repeated: true,
    required: false,
    doc: "One piece of the exhaust, from the cylinder wall outwards in the order of the flow: port duct, header, diffuser, belly, baffle, stinger. Straight or conical.",
    keys: &[
        Key::text("name", 60)
            .needed()
            .doc("Name used in results; no two pieces may share it.")
            .example("\"header\""),
        Key::length("length", mm(1.0, 5000.0))
            .usual(mm(5.0, 1500.0))
            .needed()
            .from("along the middle line of the piece")
            .doc("Length of the piece.")
            .example("\"250 ± 1 mm\""),
        inside("inlet_diameter")
            .from("inside, at the end nearer to the cylinder; for a port that is not round the circle of the same area")
            .doc("Inner diameter where the gas comes in.")
            .example("\"38.0 ± 0.3 mm\""),
        inside("outlet_diameter")
            .from("inside, at the other end")
            .doc("Inner diameter where the gas goes out.")
            .example("\"40.0 ± 0.3 mm\""),
        wall_temperature().example("\"350 ± 50 °C\""),
        Key::angle("bend", degrees(0.0, 720.0))
            .usual(degrees(0.0, 360.0))
            .buys("the loss in bends")
            .from("all bends of the piece added, left and right alike")
            .doc("How far the piece bends.")
            .example("\"60 ± 5°\""),
    ],
    groups: &[],
};

pub(super) const INTAKE: Section = Section {
    path: "intake",
    repeated: false,
    required: false,
    doc: "The intake tract from its mouth to the reed block or inlet port, with the carburettor in it.",
    keys: &[
        Key::length("length", mm(10.0, 2000.0))
            .usual(mm(50.0, 400.0))
            .needed()
            .from("mouth to reed block (or to the cylinder wall), along the middle line")
            .doc("Length of the whole tract.")
            .example("\"160 ± 2 mm\""),
        inside("mouth_diameter")
            .from("inside, where the air comes in, before any bell")
            .doc("Inner diameter at the mouth.")
            .example("\"45.0 ± 0.5 mm\""),
        inside("inner_diameter")
            .from("inside, at the reed block or port; the circle of the same area when it is not round")
            .doc("Inner diameter at the engine's end.")
            .example("\"38.0 ± 0.5 mm\""),
        Key::figure("airbox_volume", Dimension::Volume, cubic_cm(50.0, 100_000.0))
            .usual(cubic_cm(500.0, 20_000.0))
            .buys("the airbox's own note; without it the mouth breathes free air")
            .from("the whole air space round the mouth, filter in place")
            .doc("Volume of the airbox.")
            .example("\"4000 ± 200 cc\""),
        wall_temperature().example("\"35 ± 10 °C\""),
    ],
    groups: &[],
};

const MATERIALS: &[Word] = &[
    Word { word: "steel", meaning: "spring steel, 207 GPa and 7.8 g/cm³ (from memory)" },
    Word { word: "glass fibre", meaning: "glass fibre in resin, 21.5 GPa and 1.85 g/cm³ (from memory)" },
    Word { word: "carbon fibre", meaning: "carbon fibre in resin, 20.8 GPa and 1.38 g/cm³ (from memory)" },
];

pub(super) const REED: Section = Section {
    path: "reed",
    repeated: false,
    required: false,
    doc: "The reed block between intake and crankcase.",
    keys: &[
        Key::count("petals", 1, 64).needed().doc("Number of petals.").example("6"),
        Key::word("material", MATERIALS)
            .needed()
            .doc("What the petals are made of.")
            .example("\"glass fibre\""),
        Key::length("petal_length", mm(5.0, 150.0))
            .usual(mm(15.0, 70.0))
            .needed()
            .from("clamped edge to tip")
            .doc("Free length of a petal.")
            .example("\"38.0 ± 0.3 mm\""),
        Key::length("petal_width", mm(3.0, 150.0))
            .usual(mm(8.0, 60.0))
            .needed()
            .from("across one petal")
            .doc("Width of a petal.")
            .example("\"22.7 ± 0.2 mm\""),
        Key::length("petal_thickness", mm(0.05, 3.0))
            .usual(mm(0.1, 0.8))
            .needed()
            .from("by micrometer")
            .doc("Thickness of a petal.")
            .example("\"0.42 ± 0.01 mm\""),
        Key::length("stop_lift", mm(0.5, 60.0))
            .usual(mm(3.0, 20.0))
            .needed()
            .from("seat to stop at the tip; to the opposite wall when there is no stop")
            .doc("How far the tip can lift.")
            .example("\"9.0 ± 0.5 mm\""),
        Key::figure("window_area", Dimension::Area, square_mm(20.0, 20_000.0))
            .usual(square_mm(200.0, 4000.0))
            .needed()
            .from("all windows under the petals added")
            .doc("Open area of the block.")
            .example("\"1300 ± 50 mm²\""),
    ],
    groups: &[],
};

const THROTTLES: &[Word] = &[
    Word { word: "slide", meaning: "a slide that is lifted out of the throat" },
    Word { word: "butterfly", meaning: "a plate on a shaft across the throat" },
];

pub(super) const CARBURETTOR: Section = Section {
    path: "carburettor",
    repeated: false,
    required: false,
    doc: "The carburettor's throat and throttle.",
    keys: &[
        Key::length("throat_diameter", mm(5.0, 80.0))
            .usual(mm(10.0, 50.0))
            .needed()
            .from("the narrowest round section, throttle wide open; the circle of the same area when it is not round")
            .doc("Diameter of the throat.")
            .example("\"38.0 mm exact\""),
        Key::word("throttle", THROTTLES).needed().doc("Kind of throttle.").example("\"slide\""),
        Key::figure("opening", Dimension::Number, plain(0.0, 1.0))
            .buys("part throttle; without it the throttle is wide open")
            .from("slide: lift over the throat's diameter; plate: share of its way from shut to wide open")
            .doc("How far the throttle is open.")
            .example("\"1 exact\""),
    ],
    groups: &[],
};

pub(super) const TRANSFER_DUCT: Section = Section {
    path: "transfer_duct",
    repeated: false,
    required: false,
    doc: "The ducts from the crankcase to the transfer ports, all taken together. Without this section they are guessed from stroke and ports.",
    keys: &[
        Key::length("length", mm(10.0, 1000.0))
            .usual(mm(30.0, 200.0))
            .needed()
            .from("crankcase mouth to port along the middle line, mean of all ducts; a wire laid in tells it")
            .doc("Length of the ducts.")
            .example("\"72 ± 3 mm\""),
        Key::figure("foot_area", Dimension::Area, square_mm(50.0, 50_000.0))
            .usual(square_mm(300.0, 5000.0))
            .buys("how fast the gas starts to flow; without it 1.4 times the area of the ports is taken")
            .from("at the crankcase, square to the flow, all ducts added")
            .doc("Area of the ducts at the crankcase.")
            .example("\"1900 ± 80 mm²\""),
        wall_temperature().example("\"80 ± 15 °C\""),
    ],
    groups: &[],
};

pub(super) const IGNITION: Section = Section {
    path: "ignition",
    repeated: false,
    required: false,
    doc: "Ignition timing by speed: one figure, or two with their speeds, straight between and held beyond.",
    keys: &[
        Key::angle("advance", degrees(-10.0, 60.0))
            .usual(degrees(5.0, 40.0))
            .needed()
            .from("top dead centre, back to the spark")
            .doc("Spark before top dead centre.")
            .example("\"26 ± 1°\""),
        Key::figure("speed", Dimension::Speed, rpm(200.0, 30000.0))
            .usual(rpm(500.0, 15000.0))
            .buys("timing that changes with speed")
            .doc("Speed at which this advance holds.")
            .example("\"6000 rpm\""),
        Key::angle("advance_late", degrees(-10.0, 60.0))
            .usual(degrees(2.0, 40.0))
            .buys("timing that changes with speed")
            .with("speed")
            .from("top dead centre, back to the spark")
            .doc("Spark before top dead centre at the higher speed.")
            .example("\"16 ± 1°\""),
        Key::figure("speed_late", Dimension::Speed, rpm(500.0, 40000.0))
            .usual(rpm(2000.0, 20000.0))
            .needed()
            .with("advance_late")
            .doc("Speed at which the later advance holds.")
            .example("\"11500 rpm\""),
    ],
    groups: &[],
};

const FUELS: &[Word] =
    &[Word { word: "petrol", meaning: "petrol, taken as iso-octane; oil in it is left out" }];

pub(super) const FUEL: Section = Section {
    path: "fuel",
    repeated: false,
    required: false,
    doc: "Fuel and mixture.",
    keys: &[
        Key::word("kind", FUELS).needed().doc("What it burns.").example("\"petrol\""),
        Key::figure("equivalence_ratio", Dimension::Number, plain(0.5, 2.0))
            .usual(plain(0.8, 1.4))
            .needed()
            .from("fuel to air over the fuel to air that burns without rest; above 1 rich")
            .doc("Richness of the mixture.")
            .example("\"1.15 ± 0.05\""),
        Key::figure("burned_share", Dimension::Number, plain(0.3, 1.0))
            .usual(plain(0.7, 1.0))
            .buys("heat that an unburned rest keeps back; without it 0.92 is taken (from memory, no source)")
            .doc("Share of the trapped fuel that burns.")
            .example("\"0.92 ± 0.05\""),
    ],
    groups: &[],
};

pub(super) const AMBIENT: Section = Section {
    path: "ambient",
    repeated: false,
    required: false,
    doc: "Air of the day.",
    keys: &[
        Key::figure("pressure", Dimension::Pressure, kilopascals(50.0, 110.0))
            .usual(kilopascals(75.0, 105.0))
            .needed()
            .from("a barometer in the room, not reduced to sea level")
            .doc("Pressure of the air.")
            .example("\"100.2 ± 0.2 kPa\""),
        Key::figure("temperature", Dimension::Temperature, celsius(-30.0, 60.0))
            .usual(celsius(-10.0, 45.0))
            .needed()
            .from("where the engine breathes, in the shade")
            .doc("Temperature of the air.")
            .example("\"22 ± 1 °C\""),
        Key::figure("humidity", Dimension::Number, plain(0.0, 1.0))
            .needed()
            .from("vapour in the air over vapour in saturated air, 0 to 1")
            .doc("Relative humidity of the air.")
            .example("\"0.50 ± 0.05\""),
    ],
    groups: &[],
};
