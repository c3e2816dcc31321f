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
#[allow(missing_docs)]
pub enum Illustration {
    Bore,
    Stroke,
    RodLength,
    PinOffset,
    DeckClearance,
    SkirtLength,
    ChamberVolume,
    SquishGap,
    SquishInner,
    CrankcaseVolume,
    WidthChord,
    WidthArc,
    RoofFromDeck,
    RoofFromCrown,
    RoofAfterTdc,
    RoofBeforeBdc,
    RoofDuration,
    FloorFromDeck,
    FloorFromCrown,
    FloorAfterTdc,
    FloorBeforeBdc,
    CornerRadius,
    RoofRadius,
    FloorRadius,
    RoofTilt,
    DuctAngle,
    ClosedDrop,
    ClosedFromDeck,
    ClosedFromCrown,
    ClosedDuration,
    SlideAngle,
    BladeArm,
    ArmStart,
    EdgeRadius,
    EdgeStart,
    ValvePoints,
    MechanicalEnd,
    OpeningDirection,
    MarkRadius,
    ShaftFriction,
    MountStiffness,
    ServoRadius(Cable),
    ValveRadius(Cable),
    Thread(Cable),
    Wire(Cable),
    Sheath(Cable),
    Bends(Cable),
    ShaftSpring,
    SpringRate,
    SpringFree,
    SpringSolid,
    SpringFitted,
    ServoTravel,
    StallTorque,
    LastGear,
    SensorClosed,
    SensorOpen,
    OpeningSpeed,
    FullOpenSpeed,
    FlushLimit,
    ClosedLimit,
    SlackLimit(Cable),
    ProudLimit,
    EdgeAboveFlush,
    EdgeAboveClosed,
    Play(Cable),
    Gap(Cable),
    ExposedThread(Cable),
    MarkAtFull,
    MarkAtClosed,
    ProudClosed,
    ProudOpen,
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
