//! What can be illustrated, and which field asks for which drawing.

use engine::file::fields::Field;
use serde::{Deserialize, Serialize};

/// A cable, by what its pull does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cable {
    /// Opens the valve.
    Opening,
    /// Closes the valve.
    Closing,
}

/// A drawing with one asked dimension.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Illustration {
    /// Bore.
    Bore,
    /// Stroke.
    Stroke,
    /// Connecting rod, centre to centre.
    RodLength,
    /// Bore axis beside the crank centre.
    PinOffset,
    /// Crown edge below the deck.
    DeckClearance,
    /// Piston from crown edge to skirt edge.
    SkirtLength,
    /// Space above the piston.
    ChamberVolume,
    /// Squish gap.
    SquishGap,
    /// Where the squish band ends.
    SquishInner,
    /// Space below the piston.
    CrankcaseVolume,
    /// Port width straight across.
    WidthChord,
    /// Port width along the wall.
    WidthArc,
    /// Roof from the deck.
    RoofFromDeck,
    /// Roof from the crown at bottom dead centre.
    RoofFromCrown,
    /// Opening after top dead centre.
    RoofAfterTdc,
    /// Opening before bottom dead centre.
    RoofBeforeBdc,
    /// Opening to closing.
    RoofDuration,
    /// Floor from the deck.
    FloorFromDeck,
    /// Floor from the crown at bottom dead centre.
    FloorFromCrown,
    /// Floor after top dead centre.
    FloorAfterTdc,
    /// Floor before bottom dead centre.
    FloorBeforeBdc,
    /// All four corners.
    CornerRadius,
    /// Upper corners.
    RoofRadius,
    /// Lower corners.
    FloorRadius,
    /// Tilt of the roof.
    RoofTilt,
    /// Angle of the duct.
    DuctAngle,
    /// Closed edge below the roof.
    ClosedDrop,
    /// Closed edge from the deck.
    ClosedFromDeck,
    /// Closed edge from the crown at bottom dead centre.
    ClosedFromCrown,
    /// Exhaust duration with the valve closed.
    ClosedDuration,
    /// Slide of a blade.
    SlideAngle,
    /// Arm that drives a blade.
    BladeArm,
    /// That arm when closed.
    ArmStart,
    /// Pivot to edge of flap or drum.
    EdgeRadius,
    /// Edge of flap or drum against the level when closed.
    EdgeStart,
    /// Measured points.
    ValvePoints,
    /// Pulley angle at the valve's end.
    MechanicalEnd,
    /// Which way the pulley opens the valve.
    OpeningDirection,
    /// Radius of the witness mark.
    MarkRadius,
    /// Friction of the valve shaft.
    ShaftFriction,
    /// Stiffness of the servo's mount.
    MountStiffness,
    /// Groove radius at the servo.
    ServoRadius(Cable),
    /// Groove radius at the valve.
    ValveRadius(Cable),
    /// Thread of an adjuster.
    Thread(Cable),
    /// Wire of a cable.
    Wire(Cable),
    /// Sheath of a cable.
    Sheath(Cable),
    /// Bends of a cable.
    Bends(Cable),
    /// Spring on the valve's shaft.
    ShaftSpring,
    /// Rate of the spring on the adjuster.
    SpringRate,
    /// That spring with no load.
    SpringFree,
    /// That spring with its coils touching.
    SpringSolid,
    /// That spring as fitted.
    SpringFitted,
    /// Travel of the servo.
    ServoTravel,
    /// Stall torque of the servo.
    StallTorque,
    /// Last gear wheel of the servo.
    LastGear,
    /// Sensor at closed park.
    SensorClosed,
    /// Sensor at full travel.
    SensorOpen,
    /// Speed at which the valve begins to open.
    OpeningSpeed,
    /// Speed from which it is fully open.
    FullOpenSpeed,
    /// How far from flush is accepted.
    FlushLimit,
    /// How far above closed is accepted.
    ClosedLimit,
    /// Slack that must be left.
    SlackLimit(Cable),
    /// How far proud is accepted.
    ProudLimit,
    /// Edge above flush at full travel.
    EdgeAboveFlush,
    /// Edge above closed at closed park.
    EdgeAboveClosed,
    /// Free play along a wire.
    Play(Cable),
    /// Gap at an adjuster.
    Gap(Cable),
    /// Thread that shows at an adjuster.
    ExposedThread(Cable),
    /// Witness mark at full travel.
    MarkAtFull,
    /// Witness mark at closed park.
    MarkAtClosed,
    /// Edge against the bore, closed.
    ProudClosed,
    /// Edge against the bore, open.
    ProudOpen,
    /// Full turn by hand.
    CrankTurn,
}

impl Illustration {
    /// The drawing for a field; `None` for what needs no drawing (names, words, plain numbers).
    pub fn of(key: &str) -> Option<Self> {
        let field = Field::named(key).filter(|field| !field.source)?;
        let name = field.key.name;
        match field.section.path {
            "crank" | "head" | "crankcase" => crank(name),
            "port" => port(name),
            "valve" => valve(name),
            "gear" | "gear.spring" => gear(name),
            "gear.opening" => cable(name, Cable::Opening),
            "gear.closing" => cable(name, Cable::Closing),
            "servo" | "schedule" => servo(name),
            "limits" => limit(name),
            "found" | "returns" => reading(name),
            "gates" => gate(name),
            _ => None,
        }
    }
}

fn crank(key: &str) -> Option<Illustration> {
    Some(match key {
        "bore" => Illustration::Bore,
        "stroke" => Illustration::Stroke,
        "rod_length" => Illustration::RodLength,
        "pin_offset" => Illustration::PinOffset,
        "deck_clearance" => Illustration::DeckClearance,
        "skirt_length" => Illustration::SkirtLength,
        "chamber_volume" => Illustration::ChamberVolume,
        "squish_clearance" => Illustration::SquishGap,
        "squish_inner_diameter" => Illustration::SquishInner,
        "volume" => Illustration::CrankcaseVolume,
        _ => return None,
    })
}

fn port(key: &str) -> Option<Illustration> {
    Some(match key {
        "width" => Illustration::WidthChord,
        "width_arc" => Illustration::WidthArc,
        "roof_below_deck" => Illustration::RoofFromDeck,
        "roof_above_crown_at_bdc" => Illustration::RoofFromCrown,
        "opens_after_tdc" => Illustration::RoofAfterTdc,
        "opens_before_bdc" => Illustration::RoofBeforeBdc,
        "duration" => Illustration::RoofDuration,
        "floor_below_deck" => Illustration::FloorFromDeck,
        "floor_above_crown_at_bdc" => Illustration::FloorFromCrown,
        "floor_after_tdc" => Illustration::FloorAfterTdc,
        "floor_before_bdc" => Illustration::FloorBeforeBdc,
        "corner_radius" => Illustration::CornerRadius,
        "roof_radius" => Illustration::RoofRadius,
        "floor_radius" => Illustration::FloorRadius,
        "roof_tilt" => Illustration::RoofTilt,
        "duct_angle" => Illustration::DuctAngle,
        _ => return None,
    })
}

fn valve(key: &str) -> Option<Illustration> {
    Some(match key {
        "closed_drop" => Illustration::ClosedDrop,
        "closed_below_deck" => Illustration::ClosedFromDeck,
        "closed_above_crown_at_bdc" => Illustration::ClosedFromCrown,
        "closed_duration" => Illustration::ClosedDuration,
        "slide_angle" => Illustration::SlideAngle,
        "arm" => Illustration::BladeArm,
        "arm_start" => Illustration::ArmStart,
        "radius" => Illustration::EdgeRadius,
        "start" => Illustration::EdgeStart,
        "points" => Illustration::ValvePoints,
        "mechanical_end" => Illustration::MechanicalEnd,
        _ => return None,
    })
}

fn gear(key: &str) -> Option<Illustration> {
    Some(match key {
        "opens" | "seen_from" => Illustration::OpeningDirection,
        "shaft_friction" => Illustration::ShaftFriction,
        "mount_stiffness" => Illustration::MountStiffness,
        "mark_radius" => Illustration::MarkRadius,
        "at_closed" | "torsion_rate" => Illustration::ShaftSpring,
        "rate" => Illustration::SpringRate,
        "free_length" => Illustration::SpringFree,
        "solid_length" => Illustration::SpringSolid,
        _ => return None,
    })
}

fn cable(key: &str, cable: Cable) -> Option<Illustration> {
    Some(match key {
        "servo_radius" => Illustration::ServoRadius(cable),
        "valve_radius" => Illustration::ValveRadius(cable),
        "thread" | "pitch" | "hand" => Illustration::Thread(cable),
        "wire_stiffness" | "wire_diameter" | "wire_length" => Illustration::Wire(cable),
        "sheath_stiffness" => Illustration::Sheath(cable),
        "bends" => Illustration::Bends(cable),
        _ => return None,
    })
}

fn servo(key: &str) -> Option<Illustration> {
    Some(match key {
        "travel" | "park_travel" => Illustration::ServoTravel,
        "stall_torque" => Illustration::StallTorque,
        "last_gear_radius" => Illustration::LastGear,
        "sensor_closed" => Illustration::SensorClosed,
        "sensor_open" => Illustration::SensorOpen,
        "opening_speed" => Illustration::OpeningSpeed,
        "full_open_speed" => Illustration::FullOpenSpeed,
        _ => return None,
    })
}

fn limit(key: &str) -> Option<Illustration> {
    Some(match key {
        "flush" => Illustration::FlushLimit,
        "closed" => Illustration::ClosedLimit,
        "opening_slack" => Illustration::SlackLimit(Cable::Opening),
        "closing_slack" => Illustration::SlackLimit(Cable::Closing),
        "proud" => Illustration::ProudLimit,
        _ => return None,
    })
}

fn reading(key: &str) -> Option<Illustration> {
    Some(match key {
        "opening_play" => Illustration::Play(Cable::Opening),
        "closing_play" => Illustration::Play(Cable::Closing),
        "opening_gap" => Illustration::Gap(Cable::Opening),
        "closing_gap" => Illustration::Gap(Cable::Closing),
        "opening_thread" => Illustration::ExposedThread(Cable::Opening),
        "closing_thread" => Illustration::ExposedThread(Cable::Closing),
        "spring_length" => Illustration::SpringFitted,
        "edge_above_flush" => Illustration::EdgeAboveFlush,
        "edge_above_closed" => Illustration::EdgeAboveClosed,
        "mark_at_full" => Illustration::MarkAtFull,
        "mark_at_closed" => Illustration::MarkAtClosed,
        "sensor_closed" => Illustration::SensorClosed,
        "sensor_open" => Illustration::SensorOpen,
        _ => return None,
    })
}

fn gate(key: &str) -> Option<Illustration> {
    Some(match key {
        "proud_closed" => Illustration::ProudClosed,
        "proud_open" => Illustration::ProudOpen,
        "turn_closed" | "turn_open" => Illustration::CrankTurn,
        _ => return None,
    })
}
