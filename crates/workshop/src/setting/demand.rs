//! What a setting must meet, each as a margin: positive or zero is met.

use super::case::Case;
use gear::{Direction, Extremes, Regime, Setting};
use serde::Serialize;

/// The demands, in the order in which they are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Demand {
    /// The valve rests on its stop pin through the whole range below the opening speed.
    RestsClosed,
    /// The edge is flush at full travel, rising.
    Flush,
    /// The valve comes back onto its pin when the servo returns.
    Reseats,
    /// The closing side is never taut.
    ClosingFree,
    /// The sheaths stay seated under load.
    Seated,
    /// No wire is overloaded.
    WireTension,
    /// The servo has torque to spare.
    TorqueMargin,
    /// The servo's last gear is not overloaded.
    ToothLoad,
}

impl Demand {
    /// Every demand.
    pub const ALL: [Self; 8] = [
        Self::RestsClosed,
        Self::Flush,
        Self::Reseats,
        Self::ClosingFree,
        Self::Seated,
        Self::WireTension,
        Self::TorqueMargin,
        Self::ToothLoad,
    ];

    /// Kind of quantity in which its margin is told.
    pub fn dimension(self) -> quantity::Dimension {
        use quantity::Dimension;
        match self {
            Self::RestsClosed | Self::Flush | Self::ClosingFree => Dimension::Length,
            Self::Reseats => Dimension::Angle,
            Self::Seated | Self::WireTension | Self::ToothLoad => Dimension::Force,
            Self::TorqueMargin => Dimension::Number,
        }
    }

    /// Key for `--json`.
    pub fn key(self) -> &'static str {
        match self {
            Self::RestsClosed => "rests-closed",
            Self::Flush => "flush-at-full",
            Self::Reseats => "reseats",
            Self::ClosingFree => "closing-free",
            Self::Seated => "sheaths-seated",
            Self::WireTension => "wire-tension",
            Self::TorqueMargin => "torque-margin",
            Self::ToothLoad => "tooth-load",
        }
    }
}

/// What is looked at to judge every demand; each field in SI.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Reached {
    /// Edge above closed position at the end of the park range, the larger of rising and falling, m.
    pub edge_above_closed_m: f64,
    /// Opening slack left at the end of the park range, m.
    pub opening_slack_m: f64,
    /// Edge above flush at full travel, rising, m.
    pub edge_above_flush_m: f64,
    /// Servo travel at which the falling valve is back on its pin, beyond the park range, rad.
    pub reseat_rad: f64,
    /// Least closing slack, or least spring travel left, over the travel, m.
    pub closing_free_m: f64,
    /// Least tension of the sheath that must stay seated, N.
    pub seat_n: f64,
    /// Largest wire tension at either end, N.
    pub tension_n: f64,
    /// Least torque margin.
    pub torque_margin: f64,
    /// Largest tooth load, N; zero when the gear's radius is not known.
    pub tooth_n: f64,
}

impl Reached {
    /// Solves the gear for `setting` at both ends, and takes the extremes over the whole travel and back.
    pub fn of(case: &Case, setting: Setting) -> Self {
        let rising = Regime::new(&case.mechanism, Direction::Rising);
        let falling = Regime::new(&case.mechanism, Direction::Falling);
        Self::with(case, setting, &rising, &falling).0
    }

    /// The same from regimes of the case's mechanism that are at hand, with the extremes it was taken from.
    pub fn with(case: &Case, setting: Setting, rising: &Regime, falling: &Regime) -> (Self, Extremes) {
        let park_up = rising.solve(setting, case.park_rad);
        let park_down = falling.solve(setting, case.park_rad);
        let full = rising.solve(setting, case.full_rad);
        let extremes = Extremes::between(rising, falling, setting, case.mechanism.servo_travel_rad);
        let lift_m = |travel_rad: f64| case.law.lift_m(travel_rad);
        let (closing_free_m, seat_n) = if case.spring_on_adjuster {
            (extremes.spring_left_min_m.unwrap_or(f64::INFINITY), extremes.closing_tension_min_n)
        } else {
            (extremes.closing_slack_min_m, full.opening_tension_valve_n)
        };
        let reached = Self {
            edge_above_closed_m: lift_m(park_up.valve_travel_rad).max(lift_m(park_down.valve_travel_rad)),
            opening_slack_m: -park_up.opening_stretch_m,
            edge_above_flush_m: lift_m(full.valve_travel_rad) - case.drop_m,
            reseat_rad: falling.servo_travel_for(setting, 0.0).unwrap_or(f64::NEG_INFINITY),
            closing_free_m,
            seat_n,
            tension_n: extremes.opening_tension_max_n.max(extremes.closing_tension_max_n),
            torque_margin: extremes.torque_margin_min,
            tooth_n: extremes.tooth_load_max_n.unwrap_or(0.0),
        };
        (reached, extremes)
    }

    /// Margin of one demand: negative when missed. In m, N, rad or a plain number, by the demand.
    pub fn margin(&self, demand: Demand, case: &Case) -> f64 {
        let limits = &case.limits;
        match demand {
            Demand::RestsClosed => (self.opening_slack_m - limits.opening_slack_m)
                .min(limits.closed_m - self.edge_above_closed_m),
            Demand::Flush => limits.flush_m - self.edge_above_flush_m.abs(),
            Demand::Reseats => self.reseat_rad - case.park_rad,
            Demand::ClosingFree => self.closing_free_m - limits.closing_slack_m,
            Demand::Seated => self.seat_n - limits.seat_n,
            Demand::WireTension => limits.tension_n - self.tension_n,
            Demand::TorqueMargin => self.torque_margin - limits.torque_margin,
            Demand::ToothLoad => limits.tooth_n.map_or(f64::INFINITY, |limit| limit - self.tooth_n),
        }
    }

    /// Whether a demand is met.
    pub fn meets(&self, demand: Demand, case: &Case) -> bool {
        self.margin(demand, case) >= 0.0
    }
}
