//! An invented engine with round figures for tests: bore 54, stroke 54.5, rod 110 mm, rectangular ports.

use crate::model::*;
use quantity::{Dimension, Measured};

pub(crate) fn mm(value: f64) -> Measured {
    Measured::exact(value * 1e-3, Dimension::Length)
}

fn deg(value: f64) -> Measured {
    Measured::exact(value.to_radians(), Dimension::Angle)
}

fn plain(value: f64, dimension: Dimension) -> Measured {
    Measured::exact(value, dimension)
}

/// A port with its roof given by its whole duration, in degrees, and its floor at bottom dead centre.
pub(crate) fn port(name: &str, group: PortGroup, duration_deg: f64, arc_mm: f64) -> Port {
    Port {
        name: name.to_owned(),
        group,
        count: 1,
        width: mm(arc_mm),
        width_measure: WidthMeasure::Arc,
        roof: PortEdge { datum: EdgeDatum::Duration, at: deg(duration_deg) },
        floor: PortEdge { datum: EdgeDatum::AboveCrownAtBdc, at: mm(0.0) },
        roof_radius: mm(0.0),
        floor_radius: mm(0.0),
        roof_tilt: deg(0.0),
        duct_angle: deg(0.0),
    }
}

pub(crate) fn inlet(floor_mm: f64) -> Port {
    Port {
        roof: PortEdge { datum: EdgeDatum::BelowDeck, at: mm(floor_mm - 20.0) },
        floor: PortEdge { datum: EdgeDatum::BelowDeck, at: mm(floor_mm) },
        ..port("inlet", PortGroup::Inlet, 0.0, 30.0)
    }
}

fn cable() -> Cable {
    Cable {
        servo_radius: mm(15.0),
        valve_radius: mm(20.0),
        thread: Thread { designation: None, pitch: mm(1.0), hand: ThreadHand::Right },
        wire_stiffness: plain(2e5, Dimension::Stiffness),
        sheath_stiffness: plain(2e5, Dimension::Stiffness),
        bends: deg(180.0),
        friction: plain(0.1, Dimension::Number),
    }
}

fn limits() -> Limits {
    let limit = |value: Measured| Limit { value, from: "invented".to_owned() };
    Limits {
        flush: limit(mm(0.2)),
        closed: limit(mm(0.2)),
        opening_slack: limit(mm(0.5)),
        closing_slack: limit(mm(0.5)),
        seat_tension: limit(plain(2.0, Dimension::Force)),
        wire_tension: limit(plain(200.0, Dimension::Force)),
        torque_margin: limit(plain(2.0, Dimension::Number)),
        tooth_load: None,
        proud: limit(mm(0.0)),
    }
}

fn gear() -> Gear {
    Gear {
        opening: cable(),
        closing: cable(),
        spring: ReturnSpring::Shaft {
            at_closed: plain(0.1, Dimension::Torque),
            rate: plain(0.05, Dimension::TorsionRate),
        },
        shaft_friction: plain(0.01, Dimension::Torque),
        mount_stiffness: plain(2e5, Dimension::Stiffness),
        gas_torque: plain(0.0, Dimension::Torque),
        opens_clockwise: true,
        seen_from: "the left".to_owned(),
        adjuster_seen_from: "the head".to_owned(),
        mark_radius: None,
    }
}

fn crank() -> Crank {
    Crank {
        bore: mm(54.0),
        stroke: mm(54.5),
        rod_length: mm(110.0),
        pin_offset: mm(0.0),
        deck_clearance: mm(1.0),
        skirt_length: Some(mm(50.0)),
    }
}

fn valve() -> Valve {
    Valve {
        kind: ValveKind::Drum { radius: mm(12.0), start: deg(-20.0), ratio: plain(1.0, Dimension::Number) },
        closed_drop: mm(6.0),
        covers: vec!["main exhaust".to_owned()],
        mechanical_end: None,
    }
}

/// Exhaust 189° of 40 mm arc under a valve that lowers it by 6 mm; two transfers of 130°; a boost port of 128°.
pub(crate) fn engine() -> Engine {
    Engine {
        name: "round figures".to_owned(),
        invented: true,
        note: None,
        cylinders: 1,
        crank: crank(),
        head: Head {
            chamber_volume: plain(11e-6, Dimension::Volume),
            squish_clearance: Some(mm(1.0)),
            squish_inner_diameter: Some(mm(36.0)),
        },
        crankcase_volume: Some(plain(350e-6, Dimension::Volume)),
        ports: vec![
            port("main exhaust", PortGroup::ExhaustMain, 189.0, 40.0),
            Port { count: 2, ..port("main transfer", PortGroup::Transfer, 130.0, 26.0) },
            port("boost", PortGroup::Boost, 128.0, 18.0),
        ],
        valve: valve(),
        gear: gear(),
        servo: Servo {
            travel: deg(120.0),
            stall_torque: plain(2.0, Dimension::Torque),
            reduction: plain(200.0, Dimension::Number),
            last_gear_radius: None,
            sensor_closed: None,
            sensor_open: None,
            works_oil_pump: false,
        },
        schedule: Schedule {
            opening_speed: plain(700.0, Dimension::Speed),
            full_open_speed: plain(900.0, Dimension::Speed),
            park_travel: deg(0.0),
        },
        limits: limits(),
        found: Found::default(),
        gates: Gates::default(),
        returns: None,
        gas: crate::model::GasPath::default(),
        assumptions: Vec::new(),
    }
}
