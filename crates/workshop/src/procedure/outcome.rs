//! What comes of a setting: the gear solved over its travel, up and back.

use super::figures::Drawn;
use crate::setting::demand::{Demand, Reached};
use gear::Setting;
use quantity::Dimension;
use serde::Serialize;

/// The figures by which procedures are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measure {
    /// Edge above flush at full travel, rising, m; negative below.
    EdgeAtFull,
    /// Edge above its closed position at the end of the park range, m.
    EdgeAtClosed,
    /// Servo travel before the valve moves, rad; zero when it does not rest on its pin.
    LostMotion,
    /// Slack of the opening cable at closed park, m; negative when it is stretched there.
    OpeningSlack,
    /// Greatest slack of the closing cable over the travel, m; above zero its sheath has lost its seat somewhere.
    ClosingSlack,
    /// Least tension that seats the sheath that must stay seated, N.
    SeatTension,
    /// Greatest tension in either wire, N.
    WireTension,
    /// Tension of the opening wire at rest, N: servo back at closed park. Zero when the valve rests on its pin with slack.
    RestTension,
    /// Buckling load of the longest unguided stretch of sheath over the greatest thrust in it: a lower bound, since the
    /// wire inside holds the sheath straight wherever the two touch. At most [`MOST_MARGIN`].
    BucklingMargin,
    /// Greatest torque at the servo's pulley, N·m.
    ServoTorque,
    /// Greatest load on a tooth of the servo's last gear, N; zero when its radius is not known.
    ToothLoad,
}

/// Margins above this say no more.
pub const MOST_MARGIN: f64 = 1000.0;
/// Stands for a demand that is met without bound, because there is no load or no limit.
pub(super) const MOST_TO_SPARE: f64 = 1e9;

impl Measure {
    /// Every measure, in the order in which [`Outcome::values`] holds them.
    pub const ALL: [Self; 11] = [
        Self::EdgeAtFull,
        Self::EdgeAtClosed,
        Self::LostMotion,
        Self::OpeningSlack,
        Self::ClosingSlack,
        Self::SeatTension,
        Self::WireTension,
        Self::RestTension,
        Self::BucklingMargin,
        Self::ServoTorque,
        Self::ToothLoad,
    ];

    /// Key for `--json`.
    pub fn key(self) -> &'static str {
        match self {
            Self::EdgeAtFull => "edge-at-full",
            Self::EdgeAtClosed => "edge-at-closed",
            Self::LostMotion => "lost-motion",
            Self::OpeningSlack => "opening-slack",
            Self::ClosingSlack => "closing-slack",
            Self::SeatTension => "seat-tension",
            Self::WireTension => "wire-tension",
            Self::RestTension => "rest-tension",
            Self::BucklingMargin => "buckling-margin",
            Self::ServoTorque => "servo-torque",
            Self::ToothLoad => "tooth-load",
        }
    }

    /// Name as a heading.
    pub fn name(self) -> &'static str {
        match self {
            Self::EdgeAtFull => "Edge above flush at full travel",
            Self::EdgeAtClosed => "Edge above closed at park",
            Self::LostMotion => "Lost motion of the servo",
            Self::OpeningSlack => "Slack of the opening cable at park",
            Self::ClosingSlack => "Greatest slack of the closing cable",
            Self::SeatTension => "Least tension that seats the sheath",
            Self::WireTension => "Greatest wire tension",
            Self::RestTension => "Tension of the opening wire at rest",
            Self::BucklingMargin => "Buckling margin of the sheath, at least",
            Self::ServoTorque => "Greatest servo torque",
            Self::ToothLoad => "Greatest tooth load",
        }
    }

    /// Kind of quantity.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::EdgeAtFull | Self::EdgeAtClosed | Self::OpeningSlack | Self::ClosingSlack => {
                Dimension::Length
            }
            Self::LostMotion => Dimension::Angle,
            Self::SeatTension | Self::WireTension | Self::RestTension | Self::ToothLoad => Dimension::Force,
            Self::BucklingMargin => Dimension::Number,
            Self::ServoTorque => Dimension::Torque,
        }
    }
}

/// What comes of one draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    /// The slacks that the procedure left.
    pub setting: Setting,
    /// The measures, in the order of [`Measure::ALL`].
    pub values: [f64; Measure::ALL.len()],
    /// Margins of [`Demand::ALL`], each in its own unit: negative when missed. At most 1e9.
    pub margins: [f64; Demand::ALL.len()],
    /// Bit n set: demand n of [`Demand::ALL`] is met.
    pub met: u8,
    /// See [`Signs`].
    pub signs: Signs,
}

/// What strains or frees the gear in a draw, each a bit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Signs(pub(super) u8);

impl Signs {
    /// The valve stands on its mechanical end before the servo has finished.
    pub const ON_END: Self = Self(1);
    /// The closing side goes taut somewhere (the coils of a spring on its adjuster touch).
    pub const CLOSING_TAUT: Self = Self(2);
    /// The opening wire is stretched with the servo parked.
    pub const OPENING_TAUT_AT_PARK: Self = Self(4);
    /// The closing sheath loses its seat somewhere.
    pub const CLOSING_LOOSE: Self = Self(8);
    /// The valve cannot rest on its pin with the servo parked.
    pub const OFF_PIN: Self = Self(16);
    /// Every sign.
    pub const ALL: [Self; 5] =
        [Self::ON_END, Self::CLOSING_TAUT, Self::OPENING_TAUT_AT_PARK, Self::CLOSING_LOOSE, Self::OFF_PIN];

    /// Whether all of `other` are shown.
    pub fn shows(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }
}

/// All demands met.
pub(super) const ALL_MET: u8 = u8::MAX;
const _: () = assert!(Demand::ALL.len() == 8, "the demands fill one byte");

impl Outcome {
    /// Solves `drawn` with its adjusters at `setting`.
    pub(super) fn of(drawn: &Drawn, setting: Setting) -> Self {
        let case = &drawn.case;
        let (reached, extremes) = Reached::with(case, setting, &drawn.rising, &drawn.falling);
        let margins = Demand::ALL.map(|demand| reached.margin(demand, case).min(MOST_TO_SPARE));
        let met =
            margins.iter().enumerate().fold(0, |met, (at, margin)| met | (u8::from(*margin >= 0.0) << at));
        let lifts_rad = drawn.rising.servo_travel_for(setting, 0.0).unwrap_or(case.full_rad);
        let thrust_n = reached.tension_n;
        let margin = if thrust_n > 0.0 { drawn.buckling_n / thrust_n } else { MOST_MARGIN };
        let at_park = drawn.falling.solve(setting, 0.0);
        let sign = |shown: bool, sign: Signs| if shown { sign.0 } else { 0 };
        let end_rad = case.mechanism.mechanical_end_rad;
        let loose = case.spring_on_adjuster && extremes.closing_wire_slack;
        Self {
            setting,
            values: [
                reached.edge_above_flush_m,
                reached.edge_above_closed_m,
                lifts_rad.clamp(0.0, case.full_rad.max(0.0)),
                reached.opening_slack_m,
                extremes.closing_slack_max_m,
                reached.seat_n,
                reached.tension_n,
                at_park.opening_tension_valve_n,
                margin.min(MOST_MARGIN),
                extremes.servo_torque_max_n_m,
                reached.tooth_n,
            ],
            margins,
            met,
            signs: Signs(
                sign(extremes.valve_travel_max_rad >= end_rad, Signs::ON_END)
                    | sign(extremes.closing_wire_taut, Signs::CLOSING_TAUT)
                    | sign(at_park.opening_tension_valve_n > 0.0, Signs::OPENING_TAUT_AT_PARK)
                    | sign(loose, Signs::CLOSING_LOOSE)
                    | sign(!at_park.on_pin, Signs::OFF_PIN),
            ),
        }
    }

    /// One measure, SI.
    pub fn value(&self, measure: Measure) -> f64 {
        Measure::ALL
            .iter()
            .zip(self.values)
            .find(|(of, _)| **of == measure)
            .map_or(f64::NAN, |(_, value)| value)
    }
}
