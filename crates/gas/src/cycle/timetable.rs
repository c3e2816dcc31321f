//! The steps of one turn, laid out beforehand: how long each is, and volumes and open areas in its middle.
//!
//! The steps do not follow the state, so that what a lane computes does not depend on what runs beside it. They are
//! short enough for the fastest waves expected at each crank angle; a run in which a wave is faster is made anew with
//! shorter steps ([`Timetable::of`], `hurry`).

use super::model::Model;
use super::settings::Settings;
use crate::duct::{Row, pick};
use crate::port::{AreaTable, Areas, Discharge, FlowDirection};
use engine::GeometryError;
use engine::ports::timing;
use std::f64::consts::{PI, TAU};

/// Share of the step that the expected waves would allow.
const SHARE: f64 = 0.85;
/// Waves expected in one tract: the fastest (m/s) around the opening of a port, and at other times; by how much both
/// rise with the mean piston speed (m/s over m/s), as pipes get hotter and flow faster. Figures from runs of the demo
/// engine, with a margin; where another engine's waves are faster its run is made anew with shorter steps.
struct Waves {
    fast_m_s: f64,
    calm_m_s: f64,
    rise: f64,
    /// Crank angle after the opening until which they are fast, and from which they are calm, rad.
    fast_until_rad: f64,
    calm_from_rad: f64,
}

const EXHAUST: Waves =
    Waves { fast_m_s: 820.0, calm_m_s: 560.0, rise: 13.0, fast_until_rad: 0.7, calm_from_rad: 2.2 };
/// While burned gas may be driven back into them.
const TRANSFER: Waves =
    Waves { fast_m_s: 850.0, calm_m_s: 480.0, rise: 0.0, fast_until_rad: 0.7, calm_from_rad: 1.6 };
const INTAKE: Waves =
    Waves { fast_m_s: 520.0, calm_m_s: 520.0, rise: 0.0, fast_until_rad: 0.0, calm_from_rad: 1.0 };
/// Steps of the transfer ducts in one step of the whole: their cells are shorter, and all that flows elsewhere need not
/// be worked out so often.
pub(crate) const TRANSFER_PARTS: u32 = 3;
/// Crank angle before an opening from which waves count as fast, rad.
const BEFORE: f64 = 0.05;

impl Waves {
    fn speed_m_s(&self, after_opening_rad: f64, piston_m_s: f64) -> f64 {
        let since = (after_opening_rad + BEFORE).rem_euclid(TAU);
        let late = (since - self.fast_until_rad) / (self.calm_from_rad - self.fast_until_rad);
        self.fast_m_s + late.clamp(0.0, 1.0) * (self.calm_m_s - self.fast_m_s) + self.rise * piston_m_s
    }
}

/// Shortest cells of the tracts, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shortest {
    pub(crate) exhaust_m: f64,
    pub(crate) transfer_m: f64,
    pub(crate) intake_m: f64,
}

/// Crank angles after top dead centre at which the first port of each kind opens, rad.
#[derive(Debug, Clone, Copy)]
struct Opens {
    exhaust_rad: f64,
    transfer_rad: f64,
}

/// Volumes in m³.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Volumes {
    pub(crate) cylinder_m3: f64,
    pub(crate) crankcase_m3: f64,
}

/// One step.
#[derive(Debug, Clone)]
pub(crate) struct Tick<const L: usize> {
    pub(crate) step_s: f64,
    /// Crank angle after top dead centre at its ends, rad, from -π to π over the turn.
    pub(crate) from_rad: f64,
    pub(crate) to_rad: f64,
    pub(crate) middle: Volumes,
    pub(crate) end: Volumes,
    /// Exhaust, geometric, m².
    pub(crate) exhaust_m2: Row<L>,
    /// Whether the crown has passed the blade's edge; leakage may go on above it.
    pub(crate) open: [bool; L],
    /// Effective areas of the exhaust out of and back into the cylinder, m².
    pub(crate) exhaust_out_m2: Row<L>,
    pub(crate) exhaust_back_m2: Row<L>,
    /// Effective areas of the transfers into and out of the cylinder, m².
    pub(crate) transfer_in_m2: f64,
    pub(crate) transfer_out_m2: f64,
    /// Geometric area of the inlet ports, m².
    pub(crate) inlet_m2: f64,
}

impl<const L: usize> Tick<L> {
    fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Tick<M> {
        Tick {
            step_s: self.step_s,
            from_rad: self.from_rad,
            to_rad: self.to_rad,
            middle: self.middle,
            end: self.end,
            exhaust_m2: pick(&self.exhaust_m2, lanes),
            open: lanes.map(|lane| self.open[lane]),
            exhaust_out_m2: pick(&self.exhaust_out_m2, lanes),
            exhaust_back_m2: pick(&self.exhaust_back_m2, lanes),
            transfer_in_m2: self.transfer_in_m2,
            transfer_out_m2: self.transfer_out_m2,
            inlet_m2: self.inlet_m2,
        }
    }
}

/// The steps of one turn.
#[derive(Debug, Clone)]
pub(crate) struct Timetable<const L: usize> {
    pub(crate) ticks: Vec<Tick<L>>,
    /// Greatest area of the inlet ports, m².
    pub(crate) inlet_most_m2: f64,
}

impl<const L: usize> Timetable<L> {
    /// For one lift (m) a lane at a speed in rad/s; `hurry` makes the steps shorter.
    pub(crate) fn of(
        model: &Model,
        settings: &Settings,
        lifts_m: &[f64; L],
        speed_rad_s: f64,
        shortest: Shortest,
        hurry: f64,
    ) -> Result<Self, GeometryError> {
        let whole_lift_m = model.engine.valve.closed_drop.value;
        let whole = AreaTable::at_lift(&model.engine, whole_lift_m, 0.0)?.greatest();
        let timing = timing(&model.engine, whole_lift_m)?;
        let exhaust_rad = timing.exhaust.opens_rad;
        let transfer_rad = timing.transfer.map_or(exhaust_rad, |transfer| transfer.opens_rad);
        let opens = Opens { exhaust_rad, transfer_rad };
        let tables = AreaTable::at_lifts(&model.engine, lifts_m, settings.leak_m2)?;
        let piston_m_s = model.slider.mean_speed_m_s(speed_rad_s);
        let marks = marks(opens, speed_rad_s, piston_m_s, shortest, hurry);
        let ticks = marks
            .windows(2)
            .map(|pair| tick(model, &tables, &whole, pair[0], pair[1], speed_rad_s))
            .collect();
        Ok(Self { ticks, inlet_most_m2: whole.inlet_m2 })
    }
}

impl<const L: usize> Timetable<L> {
    /// For some of the lanes only.
    pub(crate) fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Timetable<M> {
        Timetable {
            ticks: self.ticks.iter().map(|tick| tick.gather(lanes)).collect(),
            inlet_most_m2: self.inlet_most_m2,
        }
    }
}

fn volumes(model: &Model, angle_rad: f64) -> Volumes {
    Volumes { cylinder_m3: model.cylinder_m3(angle_rad), crankcase_m3: model.below_m3(angle_rad) }
}

/// Crank angles at which the steps meet, rad, from -π to π.
fn marks(opens: Opens, speed_rad_s: f64, piston_m_s: f64, shortest: Shortest, hurry: f64) -> Vec<f64> {
    let stride = |angle_rad: f64| {
        let speed = |waves: &Waves, opens_rad: f64| waves.speed_m_s(angle_rad - opens_rad, piston_m_s);
        let exhaust = shortest.exhaust_m / speed(&EXHAUST, opens.exhaust_rad);
        let parts = f64::from(TRANSFER_PARTS);
        let transfer = parts * shortest.transfer_m / speed(&TRANSFER, opens.transfer_rad);
        let intake = shortest.intake_m / speed(&INTAKE, 0.0);
        SHARE / hurry * exhaust.min(transfer).min(intake) * speed_rad_s
    };
    // The number of steps by the whole that their lengths come to; then all of them the same share shorter.
    let mut plain = vec![-PI];
    let mut at = -PI;
    while at < PI {
        at += stride(at).min(stride(at + stride(at)));
        plain.push(at);
    }
    let scale = TAU / (at + PI);
    for mark in &mut plain {
        *mark = -PI + (*mark + PI) * scale;
    }
    plain
}

fn tick<const L: usize>(
    model: &Model,
    tables: &[AreaTable],
    whole: &Areas,
    from_rad: f64,
    to_rad: f64,
    speed_rad_s: f64,
) -> Tick<L> {
    let middle_rad = 0.5 * (from_rad + to_rad);
    let open: [Areas; L] = std::array::from_fn(|l| tables[l].at(middle_rad));
    let exhaust = Discharge::EXHAUST_ESTIMATE;
    let effective = |direction: FlowDirection| {
        open.map(|areas| {
            areas.exhaust_m2 * exhaust.coefficient(areas.exhaust_m2 / whole.exhaust_m2, direction)
        })
    };
    // The transfers of all lanes are the same: no valve moves them.
    let transfer_m2 = open.first().map_or(0.0, |areas| areas.transfer_m2);
    let transfer = |direction| {
        transfer_m2 * Discharge::TRANSFER_ESTIMATE.coefficient(transfer_m2 / whole.transfer_m2, direction)
    };
    Tick {
        step_s: (to_rad - from_rad) / speed_rad_s,
        from_rad,
        to_rad,
        middle: volumes(model, middle_rad),
        end: volumes(model, to_rad),
        exhaust_m2: open.map(|areas| areas.exhaust_m2),
        open: std::array::from_fn(|l| tables[l].is_open(middle_rad)),
        exhaust_out_m2: effective(FlowDirection::Out),
        exhaust_back_m2: effective(FlowDirection::Back),
        transfer_in_m2: transfer(FlowDirection::Back),
        transfer_out_m2: transfer(FlowDirection::Out),
        inlet_m2: open.first().map_or(0.0, |areas| areas.inlet_m2),
    }
}
