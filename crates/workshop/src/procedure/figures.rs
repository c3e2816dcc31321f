//! One gear out of many: every figure that is drawn, in one fixed order, and the gear that follows from them.

use super::model::{FreeSheath, Parts};
use super::run::Scope;
use crate::setting::case::Case;
use crate::setting::present::{ClosingFrom, OpeningFrom, Sources};
use engine::model::{Cable, Engine, ReturnSpring, ValveKind};
use engine::valve_law::{MonotoneCubic, ValveLaw};
use gear::sheath::{bending_stiffness_n_m2, buckling_load_n};
use gear::{CableLine, Direction, Regime, Setting, Spring};
use quantity::Measured;
use std::fmt;

/// What a drawn figure is called in a list of what matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Name {
    /// A key of the engine file, or of the file of procedures.
    Figure(&'static str),
    /// What the hand does or reads in a step, counted from 0.
    Step(usize, &'static str),
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Figure(key) => f.write_str(key),
            Self::Step(step, what) => write!(f, "step {}: {what}", step + 1),
        }
    }
}

/// What was read of the engine at hand, as far as a procedure needs it.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Known {
    /// Slack plus gap of the opening cable, m: the same however its adjuster stands.
    pub(super) opening_m: Option<f64>,
    /// Slack plus gap of the closing cable, m.
    pub(super) closing_m: Option<f64>,
    /// The slacks as found, m.
    pub(super) left: Option<Setting>,
    /// Valve travel at which the witness mark is on its line, rad.
    pub(super) line_rad: Option<f64>,
}

/// A drawn gear, before any adjuster is turned.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    pub(super) case: Case,
    pub(super) rising: Regime,
    pub(super) falling: Regime,
    pub(super) known: Known,
    /// Radius of the witness mark's circle, m; not a number when there is no mark.
    pub(super) mark_radius_m: f64,
    /// How far the lock nut draws each adjuster out, m.
    pub(super) opening_nut_m: f64,
    pub(super) closing_nut_m: f64,
    pub(super) home_slack_m: f64,
    pub(super) buckling_n: f64,
}

/// An engine with the variation of its like, ready to be drawn.
#[derive(Debug, Clone)]
pub(super) struct Figures {
    engine: Engine,
    base: Case,
    parts: Parts,
    sheath: FreeSheath,
    scope: Scope,
    sources: Sources,
    /// What the best values say of the engine at hand.
    best: Known,
    /// The procedure needs what was read, so that it must be worked out for every draw.
    pub(super) needs_known: bool,
}

impl Figures {
    pub(super) fn new(engine: &Engine, parts: &Parts, sheath: &FreeSheath, scope: Scope) -> Self {
        let mut engine = engine.clone();
        engine.for_each_figure(&mut |_, figure| figure.written = None);
        let base = Case::of(&engine);
        let sources = Sources::of(&engine.found, &base);
        let mut figures = Self {
            base,
            parts: parts.clone(),
            sheath: sheath.clone(),
            scope,
            sources,
            best: Known::default(),
            needs_known: true,
            engine,
        };
        // Worked out as if of this engine, so that nothing is taken from what is not known yet.
        figures.scope = Scope::ThisEngine;
        let best = figures.draw(&mut |_, figure| figure.value).known;
        figures.scope = scope;
        figures.best = best;
        figures
    }

    /// What the readings at hand tell.
    pub(super) fn best(&self) -> &Known {
        &self.best
    }

    pub(super) fn case(&self) -> &Case {
        &self.base
    }

    pub(super) fn parts(&self) -> &Parts {
        &self.parts
    }

    pub(super) fn sheath(&self) -> &FreeSheath {
        &self.sheath
    }

    pub(super) fn engine(&self) -> &Engine {
        &self.engine
    }

    /// Builds a gear, asking `take` for every figure, always in the same order.
    pub(super) fn draw(&self, take: &mut impl FnMut(Name, &Measured) -> f64) -> Drawn {
        let mut case = self.base.clone();
        self.draw_mechanism(&mut case, take);
        self.draw_valve(&mut case, take);
        let engine = &self.engine;
        case.park_rad = take(Name::Figure("schedule.park_travel"), &engine.schedule.park_travel);
        let mark_radius_m =
            engine.gear.mark_radius.as_ref().map_or(f64::NAN, |r| take(Name::Figure("gear.mark_radius"), r));
        let found = self.draw_found(take);
        let part =
            |take: &mut dyn FnMut(Name, &Measured) -> f64, name, figure| take(Name::Figure(name), figure);
        let opening_nut_m = part(take, "parts.thread_play (opening)", &self.parts.thread_play);
        let closing_nut_m = part(take, "parts.thread_play (closing)", &self.parts.thread_play);
        let home_slack_m = part(take, "parts.home_slack", &self.parts.home_slack);
        let buckling_n = self.draw_buckling(take);
        let others = self.draw_others(take);
        case.drop_m += others.roof_m;
        let rising = Regime::new(&case.mechanism, Direction::Rising);
        let falling = Regime::new(&case.mechanism, Direction::Falling);
        let known = match self.scope {
            _ if !self.needs_known => Known::default(),
            Scope::ThisEngine => self.known(&case, &found, mark_radius_m),
            Scope::LikeEngines => Known {
                opening_m: self.best.opening_m.map(|sum| sum + others.opening_m),
                closing_m: self.best.closing_m.map(|sum| sum + others.closing_m),
                left: self.best.left,
                line_rad: self.best.line_rad.map(|line| line + others.line_m / mark_radius_m),
            },
        };
        Drawn {
            case,
            rising,
            falling,
            known,
            mark_radius_m,
            opening_nut_m,
            closing_nut_m,
            home_slack_m: if home_slack_m < 0.0 { 0.0 } else { home_slack_m },
            buckling_n,
        }
    }

    fn draw_mechanism(&self, case: &mut Case, take: &mut impl FnMut(Name, &Measured) -> f64) {
        let gear = &self.engine.gear;
        let (opening, pitch_m) = draw_cable(&gear.opening, &OPENING_KEYS, take);
        case.mechanism.opening = opening;
        case.opening_pitch_m = pitch_m;
        let (closing, pitch_m) = draw_cable(&gear.closing, &CLOSING_KEYS, take);
        case.mechanism.closing = closing;
        case.closing_pitch_m = pitch_m;
        case.mechanism.spring = match &gear.spring {
            ReturnSpring::Shaft { at_closed, rate } => Spring::Shaft {
                at_closed_n_m: take(Name::Figure("gear.spring.at_closed"), at_closed),
                rate_n_m_per_rad: take(Name::Figure("gear.spring.torsion_rate"), rate),
            },
            ReturnSpring::ClosingAdjuster { rate, free_length, solid_length } => Spring::ClosingAdjuster {
                rate_n_per_m: take(Name::Figure("gear.spring.rate"), rate),
                free_length_m: take(Name::Figure("gear.spring.free_length"), free_length),
                solid_length_m: take(Name::Figure("gear.spring.solid_length"), solid_length),
            },
        };
        let mechanism = &mut case.mechanism;
        mechanism.shaft_friction_n_m = take(Name::Figure("gear.shaft_friction"), &gear.shaft_friction);
        mechanism.mount_stiffness_n_per_m = take(Name::Figure("gear.mount_stiffness"), &gear.mount_stiffness);
        mechanism.gas_torque_n_m = take(Name::Figure("gear.gas_torque"), &gear.gas_torque);
        let servo = &self.engine.servo;
        case.full_rad = take(Name::Figure("servo.travel"), &servo.travel);
        mechanism.servo_travel_rad = case.full_rad;
        mechanism.stall_torque_n_m = take(Name::Figure("servo.stall_torque"), &servo.stall_torque);
        mechanism.last_gear_radius_m = servo
            .last_gear_radius
            .as_ref()
            .map(|radius| take(Name::Figure("servo.last_gear_radius"), radius));
    }

    fn draw_valve(&self, case: &mut Case, take: &mut impl FnMut(Name, &Measured) -> f64) {
        let valve = &self.engine.valve;
        case.drop_m = take(Name::Figure("valve.closed_drop"), &valve.closed_drop);
        if let Some(end) = &valve.mechanical_end {
            case.mechanism.mechanical_end_rad = take(Name::Figure("valve.mechanical_end"), end);
        }
        case.law = match &valve.kind {
            ValveKind::Blade { slide_angle, arm, arm_start } => {
                let slide_rad = take(Name::Figure("valve.slide_angle"), slide_angle);
                let reach_m = take(Name::Figure("valve.arm"), arm) * slide_rad.cos();
                ValveLaw::Arm {
                    reach_m,
                    start_rad: take(Name::Figure("valve.arm_start"), arm_start),
                    ratio: 1.0,
                }
            }
            ValveKind::Flap { radius, start, ratio } | ValveKind::Drum { radius, start, ratio } => {
                ValveLaw::Arm {
                    reach_m: take(Name::Figure("valve.radius"), radius),
                    start_rad: take(Name::Figure("valve.start"), start),
                    ratio: take(Name::Figure("valve.ratio"), ratio),
                }
            }
            ValveKind::Table { points } => {
                let mut pair = |point: &engine::model::TravelPoint| {
                    let travel = take(Name::Figure("valve.points.travel"), &point.travel);
                    (travel, take(Name::Figure("valve.points.lift"), &point.lift))
                };
                let points: Vec<_> = points.iter().map(&mut pair).collect();
                ValveLaw::Table(MonotoneCubic::through(&points))
            }
        };
    }

    fn draw_buckling(&self, take: &mut impl FnMut(Name, &Measured) -> f64) -> f64 {
        let sheath = &self.sheath;
        let free_m = take(Name::Figure("sheath.free_length"), &sheath.free_length);
        let weight_n = take(Name::Figure("sheath.test_weight"), &sheath.test_weight);
        let length_m = take(Name::Figure("sheath.test_length"), &sheath.test_length);
        let droop_m = take(Name::Figure("sheath.test_droop"), &sheath.test_droop);
        buckling_load_n(bending_stiffness_n_m2(weight_n, length_m, droop_m), free_m, sheath.ends)
    }

    /// How another engine differs; nothing of it for the engine at hand. The figures are asked for all the same, so
    /// that the draws of both scopes share every other figure.
    fn draw_others(&self, take: &mut impl FnMut(Name, &Measured) -> f64) -> Others {
        let parts = &self.parts;
        let drawn = Others {
            opening_m: take(Name::Figure("parts.opening_length"), &parts.opening_length),
            closing_m: take(Name::Figure("parts.closing_length"), &parts.closing_length),
            roof_m: take(Name::Figure("parts.roof"), &parts.roof),
            line_m: take(Name::Figure("parts.index_line"), &parts.index_line),
        };
        match self.scope {
            Scope::ThisEngine => Others::default(),
            Scope::LikeEngines => drawn,
        }
    }

    fn draw_found(&self, take: &mut impl FnMut(Name, &Measured) -> f64) -> Readings {
        let found = &self.engine.found;
        let mut read =
            |name, figure: &Option<Measured>| figure.as_ref().map(|figure| take(Name::Figure(name), figure));
        Readings {
            opening_gap: read("found.opening_gap", &found.opening_gap),
            closing_gap: read("found.closing_gap", &found.closing_gap),
            edge: read("found.edge_above_flush", &found.edge_above_flush),
            opening_play: read("found.opening_play", &found.opening_play),
            closing_play: read("found.closing_play", &found.closing_play),
            spring: read("found.spring_length", &found.spring_length),
            mark: read("found.mark_at_full", &found.mark_at_full),
        }
    }

    /// What the readings say of this gear: the same chain as for the present state in `setting`.
    fn known(&self, case: &Case, found: &Readings, mark_radius_m: f64) -> Known {
        let closing = match self.sources.closing {
            ClosingFrom::SpringLength => {
                found.spring.and_then(|length| case.closing_slack_for_spring_m(length))
            }
            ClosingFrom::Play => found.closing_play,
            ClosingFrom::Nothing => None,
        };
        let opening = match self.sources.opening {
            OpeningFrom::Edge => found
                .edge
                .and_then(|edge| case.opening_slack_for_lift_m(closing.unwrap_or(0.0), case.drop_m + edge)),
            OpeningFrom::Play => found.opening_play,
            OpeningFrom::Nothing => None,
        };
        let stands = found.edge.and_then(|edge| case.law.travel_rad(case.drop_m + edge));
        let read_line = stands.zip(found.mark).map(|(travel, mark)| travel - mark / mark_radius_m);
        let line = read_line.or_else(|| case.flush_travel_rad()).filter(|_| mark_radius_m > 0.0);
        Known {
            opening_m: opening.zip(found.opening_gap).map(|(slack, gap)| slack + gap),
            closing_m: closing.zip(found.closing_gap).map(|(slack, gap)| slack + gap),
            left: opening
                .zip(closing)
                .map(|(opening_slack_m, closing_slack_m)| Setting { opening_slack_m, closing_slack_m }),
            line_rad: line,
        }
    }
}

/// Differences of another engine, m.
#[derive(Default)]
struct Others {
    opening_m: f64,
    closing_m: f64,
    roof_m: f64,
    line_m: f64,
}

/// Readings as drawn, m.
struct Readings {
    opening_gap: Option<f64>,
    closing_gap: Option<f64>,
    edge: Option<f64>,
    opening_play: Option<f64>,
    closing_play: Option<f64>,
    spring: Option<f64>,
    mark: Option<f64>,
}

const OPENING_KEYS: [&str; 7] = [
    "gear.opening.servo_radius",
    "gear.opening.valve_radius",
    "gear.opening.wire_stiffness",
    "gear.opening.sheath_stiffness",
    "gear.opening.bends",
    "gear.opening.friction",
    "gear.opening.pitch",
];
const CLOSING_KEYS: [&str; 7] = [
    "gear.closing.servo_radius",
    "gear.closing.valve_radius",
    "gear.closing.wire_stiffness",
    "gear.closing.sheath_stiffness",
    "gear.closing.bends",
    "gear.closing.friction",
    "gear.closing.pitch",
];

/// A cable and the pitch of its adjuster.
fn draw_cable(
    cable: &Cable,
    keys: &[&'static str; 7],
    take: &mut impl FnMut(Name, &Measured) -> f64,
) -> (CableLine, f64) {
    let line = CableLine {
        servo_radius_m: take(Name::Figure(keys[0]), &cable.servo_radius),
        valve_radius_m: take(Name::Figure(keys[1]), &cable.valve_radius),
        wire_stiffness_n_per_m: take(Name::Figure(keys[2]), &cable.wire_stiffness),
        sheath_stiffness_n_per_m: take(Name::Figure(keys[3]), &cable.sheath_stiffness),
        bends_rad: take(Name::Figure(keys[4]), &cable.bends),
        friction: take(Name::Figure(keys[5]), &cable.friction),
    };
    (line, take(Name::Figure(keys[6]), &cable.thread.pitch))
}
