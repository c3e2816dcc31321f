//! Turn after turn until every lane has settled.

use super::job::{Job, Lane};
use super::missing::ModelError;
use super::model::Model;
use super::point::Point;
use super::rig::Rig;
use super::settings::{Settings, Tract};
use super::timetable::{Shortest, Timetable};
use super::warm::Warm;
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;
use thiserror::Error;

/// Whether to go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// Go on.
    Continue,
    /// Stop; the run ends with [`RunError::Stopped`].
    Stop,
}

/// How far a run is, told after each turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Turns done: of the rough run that shows where to start, then of the run itself.
    pub cycles: usize,
    /// Most turns that will be done.
    pub most_cycles: usize,
    /// Lanes that have settled, and lanes of this part of the run.
    pub settled: usize,
    /// Lanes that run side by side now.
    pub lanes: usize,
    /// Greatest change that the last turn made in any lane that is not settled.
    pub change: f64,
}

/// A lane that did not come to a steady cycle: there is no figure for it.
#[derive(Debug, Clone, PartialEq, Error, Serialize, Deserialize)]
pub enum NotConverged {
    /// Turns ran out.
    #[error(
        "At {rpm:.0} rpm and a lift of {lift_mm:.2} mm the engine had not come to a steady cycle after {cycles} turns: the last one still changed {percent:.2} %. Allow more turns, or take a nearby speed."
    )]
    OutOfCycles {
        /// Speed, rpm.
        rpm: f64,
        /// Lift, mm.
        lift_mm: f64,
        /// Turns done.
        cycles: usize,
        /// Greatest change of the last turn, per cent.
        percent: f64,
    },
    /// Every second turn is the same, neighbours differ.
    #[error(
        "At {rpm:.0} rpm and a lift of {lift_mm:.2} mm the engine alternates between two different turns: there is no steady cycle to give."
    )]
    Alternates {
        /// Speed, rpm.
        rpm: f64,
        /// Lift, mm.
        lift_mm: f64,
    },
    /// The gas left what the equations can follow.
    #[error(
        "At {rpm:.0} rpm and a lift of {lift_mm:.2} mm the flow could not be followed: pressures or temperatures left their range. Check the sizes of pipe, ports and crankcase in the engine file."
    )]
    Broken {
        /// Speed, rpm.
        rpm: f64,
        /// Lift, mm.
        lift_mm: f64,
    },
}

/// Why a run gave nothing at all.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RunError {
    /// The progress callback said so.
    #[error("The run was stopped.")]
    Stopped,
    /// The engine or a setting cannot be.
    #[error(transparent)]
    Model(#[from] ModelError),
}

/// What came of a run: a point for each lift, in order, and a state to start a neighbouring speed from.
#[derive(Debug, Clone)]
pub struct Run {
    /// One for each lift.
    pub points: Vec<Result<Point, NotConverged>>,
    /// The states of those that settled.
    pub warm: Warm,
}

/// How much shorter the steps of a lane become that was too fast, and how often.
const HURRIES: [f64; 4] = [1.0, 1.25, 1.6, 2.5];
/// A run is first made roughly: with cells longer by this, until it changes less than this, in this many turns at most.
/// It takes about as long as two turns of the run itself, and tells how the state moves from one speed to the next.
const ROUGH_CELLS: f64 = 2.5;
const ROUGH_TOLERANCE: f64 = 0.005;
const ROUGH_CYCLES: usize = 14;
/// Longest cell that is taken, m.
const LONGEST_CELL_M: f64 = 0.05;
/// Lanes that run side by side, at most; when no more than `FEW` of them are left they go on by themselves.
const LANES: usize = 8;
pub(super) const FEW: usize = 4;

impl Model {
    /// Runs the engine at a speed (rad/s) with the valve's edge held at lifts (m above closed), side by side, to the
    /// steady cycle of each.
    ///
    /// What a lane gives does not depend on its place or on what runs beside it.
    ///
    /// # Errors
    /// When a setting cannot be used, or `progress` says stop.
    pub fn run(
        &self,
        speed_rad_s: f64,
        lifts_m: &[f64],
        settings: &Settings,
        start: Option<&Warm>,
        progress: &mut dyn FnMut(Progress) -> Flow,
    ) -> Result<Run, RunError> {
        check(speed_rad_s, settings)?;
        let rough = Settings {
            cell_length_m: (ROUGH_CELLS * settings.cell_length_m).min(LONGEST_CELL_M),
            tolerance: ROUGH_TOLERANCE.max(settings.tolerance),
            most_cycles: ROUGH_CYCLES.min(settings.most_cycles),
            probes: Vec::new(),
            ..settings.clone()
        };
        let before = start.and_then(Warm::rough);
        let rough = self.settle(speed_rad_s, lifts_m, &rough, before, progress)?.warm;
        let begin = match start {
            Some(start) => start.moved_as(&rough, lifts_m),
            None => rough.clone().for_its_own_lifts(),
        };
        let Run { points, warm } = self.settle(speed_rad_s, lifts_m, settings, Some(&begin), progress)?;
        Ok(Run { points, warm: warm.after(start).with_rough(rough) })
    }

    /// Turn after turn from one start.
    pub(super) fn settle(
        &self,
        speed_rad_s: f64,
        lifts_m: &[f64],
        settings: &Settings,
        start: Option<&Warm>,
        progress: &mut dyn FnMut(Progress) -> Flow,
    ) -> Result<Run, RunError> {
        let mut results: Vec<Option<Lane>> = lifts_m.iter().map(|_| None).collect();
        for hurry in HURRIES {
            let open: Vec<usize> = (0..lifts_m.len()).filter(|at| results[*at].is_none()).collect();
            for group in open.chunks(LANES) {
                let job = Job { model: self, settings, speed_rad_s, start, hurry };
                let lifts: Vec<f64> = group.iter().map(|at| lifts_m[*at]).collect();
                let lanes = if lifts.len() > FEW {
                    job.run::<LANES>(&lifts, progress)?
                } else {
                    job.run::<FEW>(&lifts, progress)?
                };
                for (at, lane) in group.iter().zip(lanes) {
                    results[*at] = lane;
                }
            }
        }
        let (mut points, mut warm) = (Vec::new(), Vec::new());
        for (lane, lift_m) in results.into_iter().zip(lifts_m) {
            let broken = || NotConverged::Broken { rpm: rpm(speed_rad_s), lift_mm: lift_m * 1e3 };
            match lane {
                Some(Lane::Settled(point, lane)) => {
                    points.push(Ok(*point));
                    warm.push(lane);
                }
                Some(Lane::Failed(cause)) => points.push(Err(cause)),
                None => points.push(Err(broken())),
            }
        }
        Ok(Run { points, warm: Warm::of(speed_rad_s, warm).after(start) })
    }
}

/// How big a run is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Cells in all ducts.
    pub cells: usize,
    /// Steps in a turn.
    pub steps: usize,
}

impl Model {
    /// How big a run at a speed (rad/s) is.
    ///
    /// # Errors
    /// When a setting cannot be used.
    pub fn size(&self, speed_rad_s: f64, settings: &Settings) -> Result<Size, RunError> {
        check(speed_rad_s, settings)?;
        let rig = Rig::<4>::cold(self, settings, speed_rad_s)?;
        let times = Timetable::of(self, settings, &[0.0; 4], speed_rad_s, shortest(&rig), 1.0)
            .map_err(ModelError::from)?;
        Ok(Size { cells: rig.cells(), steps: times.ticks.len() })
    }
}

pub(super) fn shortest<const L: usize>(rig: &Rig<'_, L>) -> Shortest {
    Shortest {
        exhaust_m: rig.shortest_m(Tract::Exhaust),
        transfer_m: rig.shortest_m(Tract::Transfer),
        intake_m: rig.shortest_m(Tract::Intake),
    }
}

fn check(speed_rad_s: f64, settings: &Settings) -> Result<(), ModelError> {
    let out = |what, value: String, mend| Err(ModelError::OutOfRange { what, value, mend });
    if !(50.0..=3000.0).contains(&speed_rad_s) {
        return out("speed", format!("{:.0} rpm", rpm(speed_rad_s)), "give 500 to 28,000 rpm");
    }
    if !(0.002..=LONGEST_CELL_M).contains(&settings.cell_length_m) {
        return out("cell length", format!("{:.1} mm", settings.cell_length_m * 1e3), "give 2 to 50 mm");
    }
    if !(1e-7..=0.05).contains(&settings.tolerance) {
        return out("tolerance", format!("{:e}", settings.tolerance), "give 1e-7 to 0.05");
    }
    if settings.most_cycles < 3 {
        return out("greatest number of turns", settings.most_cycles.to_string(), "give 3 or more");
    }
    Ok(())
}

pub(super) fn rpm(speed_rad_s: f64) -> f64 {
    speed_rad_s * 60.0 / TAU
}
