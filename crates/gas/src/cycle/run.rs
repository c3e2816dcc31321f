//! Turn after turn until every lane has settled.

use super::carry::Carry;
use super::ledger::Ledger;
use super::missing::ModelError;
use super::model::Model;
use super::point::{Outcome, Point, delivered_kg};
use super::rig::Rig;
use super::settings::{Settings, Tract};
use super::settling::{Change, Settling, Turn, Verdict};
use super::timetable::{Shortest, Timetable};
use super::trace::{Recorder, Traces};
use super::warm::{Warm, WarmLane};
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
    /// Turns done.
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

/// A wave may cross this share of a cell in a step at most.
const LIMIT: f64 = 0.96;
/// How much shorter the steps of a lane become that was too fast, and how often.
const HURRIES: [f64; 4] = [1.0, 1.25, 1.6, 2.5];
/// What is still to come down the pipe is put there after every second turn while it is more than this share of the
/// tolerance.
const CARRIED: f64 = 0.3;
/// Lanes that run side by side, at most; when no more than `FEW` of them are left they go on by themselves.
const LANES: usize = 8;
const FEW: usize = 4;

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
        Ok(Run { points, warm: Warm::of(speed_rad_s, warm, start) })
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

fn shortest<const L: usize>(rig: &Rig<'_, L>) -> Shortest {
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
    if !(0.002..=0.05).contains(&settings.cell_length_m) {
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

fn rpm(speed_rad_s: f64) -> f64 {
    speed_rad_s * 60.0 / TAU
}

/// How one lane ended; none when its steps were too long.
enum Lane {
    Settled(Box<Point>, WarmLane),
    Failed(NotConverged),
}

/// Some lanes of a run.
struct Job<'a> {
    model: &'a Model,
    settings: &'a Settings,
    speed_rad_s: f64,
    start: Option<&'a Warm>,
    hurry: f64,
}

/// What is kept of one lane while it runs.
#[derive(Default)]
struct Watch {
    settling: Settling,
    carry: Carry,
    done: bool,
    too_fast: bool,
    result: Option<Lane>,
}

/// Lanes that run side by side, and what they follow.
struct Side<'a, const L: usize> {
    rig: Rig<'a, L>,
    times: Timetable<L>,
    /// The lift of each; lanes to spare run what the first runs.
    lifts_m: [f64; L],
    /// Whose watch each lane has; none for lanes to spare.
    whose: [Option<usize>; L],
}

impl<'a, const L: usize> Side<'a, L> {
    /// Some of them.
    fn gather<const M: usize>(&self, lanes: &[usize]) -> Side<'a, M> {
        let from: [usize; M] = std::array::from_fn(|l| lanes.get(l).or(lanes.first()).copied().unwrap_or(0));
        Side {
            rig: self.rig.gather(&from),
            times: self.times.gather(&from),
            lifts_m: from.map(|lane| self.lifts_m[lane]),
            whose: std::array::from_fn(|l| lanes.get(l).and_then(|lane| self.whose[*lane])),
        }
    }
}

impl<'a> Job<'a> {
    fn run<const L: usize>(
        &self,
        lifts_m: &[f64],
        progress: &mut dyn FnMut(Progress) -> Flow,
    ) -> Result<Vec<Option<Lane>>, RunError> {
        let lifts: [f64; L] =
            std::array::from_fn(|l| lifts_m.get(l).or(lifts_m.first()).copied().unwrap_or(0.0));
        let mut rig = Rig::<L>::cold(self.model, self.settings, self.speed_rad_s)?;
        let times =
            Timetable::of(self.model, self.settings, &lifts, self.speed_rad_s, shortest(&rig), self.hurry)
                .map_err(ModelError::from)?;
        rig.inlet_most_m2 = times.inlet_most_m2;
        for (lane, lift_m) in lifts.iter().enumerate() {
            if let Some(warm) = self.start.and_then(|start| start.start(*lift_m, self.speed_rad_s)) {
                warm.put(&mut rig, lane);
            }
        }
        let recorder = Recorder::new(&rig, &self.settings.probes, times.ticks.len());
        let mut watches: Vec<Watch> = lifts_m.iter().map(|_| Watch::default()).collect();
        let whose = std::array::from_fn(|l| (l < lifts_m.len()).then_some(l));
        self.turns(Side { rig, times, lifts_m: lifts, whose }, &recorder, 1, &mut watches, progress)?;
        let end = |(watch, lift_m): (Watch, &f64)| {
            let given_up = !watch.done && !watch.too_fast;
            watch
                .result
                .or_else(|| given_up.then(|| Lane::Failed(self.out_of_cycles(*lift_m, &watch.settling.last))))
        };
        Ok(watches.into_iter().zip(lifts_m).map(end).collect())
    }

    /// Turn after turn, the first of which is number `from`.
    fn turns<const L: usize>(
        &self,
        mut side: Side<'a, L>,
        recorder: &Recorder,
        from: usize,
        watches: &mut [Watch],
        progress: &mut dyn FnMut(Progress) -> Flow,
    ) -> Result<(), RunError> {
        for cycle in from..=self.settings.most_cycles {
            self.turn(&mut side, recorder, cycle, watches);
            let settled = watches.iter().filter(|watch| watch.done).count();
            let open = watches.iter().filter(|watch| !watch.done);
            let told = Progress {
                cycles: cycle,
                most_cycles: self.settings.most_cycles,
                settled,
                lanes: watches.len(),
                change: open.map(|watch| watch.settling.last.greatest()).fold(0.0, f64::max),
            };
            if progress(told) == Flow::Stop {
                return Err(RunError::Stopped);
            }
            if settled == watches.len() {
                return Ok(());
            }
            let going = |lane: &usize| side.whose[*lane].is_some_and(|watch| !watches[watch].done);
            let lanes: Vec<usize> = (0..L).filter(going).collect();
            if L > FEW && lanes.len() <= FEW {
                return self.turns(side.gather::<FEW>(&lanes), recorder, cycle + 1, watches, progress);
            }
        }
        Ok(())
    }

    fn out_of_cycles(&self, lift_m: f64, last: &Change) -> NotConverged {
        NotConverged::OutOfCycles {
            rpm: rpm(self.speed_rad_s),
            lift_mm: lift_m * 1e3,
            cycles: self.settings.most_cycles,
            percent: 100.0 * last.greatest(),
        }
    }

    /// One turn of all lanes, and what it told.
    fn turn<const L: usize>(
        &self,
        side: &mut Side<'a, L>,
        recorder: &Recorder,
        cycle: usize,
        watches: &mut [Watch],
    ) {
        let Side { rig, times, lifts_m, whose } = side;
        let mut ledger = Ledger::<L>::EMPTY;
        let mut traces: [Traces; L] = std::array::from_fn(|_| recorder.blank());
        // So that every turn is the same function of what it begins with.
        rig.since_renewal = 0;
        let before: [_; L] = std::array::from_fn(|l| rig.holding(l));
        for (at, tick) in times.ticks.iter().enumerate() {
            let crossed = rig.step(tick, &mut ledger);
            if crossed.is_nan() || crossed > LIMIT {
                self.calm_the_fast(rig, tick.step_s, whose, watches);
            }
            recorder.note(rig, at, tick.to_rad, &mut traces);
        }
        rig.look();
        for lane in 0..L {
            let Some(watch) = whose[lane].and_then(|at| watches.get_mut(at)).filter(|watch| !watch.done) else {
                continue;
            };
            let coming = watch.carry.look(rig, lane, -ledger.tail[0][lane]);
            let turn = Turn {
                work_j: ledger.above_j[lane] + ledger.below_j[lane],
                work_floor_j: 0.1 * self.model.air.pressure_pa * self.model.swept_m3(),
                delivery: delivered_kg(&ledger, lane)
                    / (self.model.air_density_kg_m3() * self.model.swept_m3()),
                state: rig.remembered(lane),
                coming: coming.size(),
            };
            match watch.settling.take(turn, self.settings.tolerance) {
                Verdict::Moving => {
                    let far = Change::STATE_WEIGHT * coming.size() > CARRIED * self.settings.tolerance;
                    if far && cycle.is_multiple_of(2) && cycle <= 12 {
                        watch.carry.put(rig, lane, &coming);
                        rig.look();
                        watch.settling.put(rig.remembered(lane));
                    }
                    continue;
                }
                Verdict::Alternating => {
                    watch.result = Some(Lane::Failed(NotConverged::Alternates {
                        rpm: rpm(self.speed_rad_s),
                        lift_mm: lifts_m[lane] * 1e3,
                    }));
                }
                Verdict::Settled => {
                    let gain = 1.0 + self.model.gas.air_per_fuel();
                    let outcome = Outcome {
                        lane,
                        ledger: &ledger,
                        lift_m: lifts_m[lane],
                        speed_rad_s: self.speed_rad_s,
                        cycles: cycle,
                        change: watch.settling.last,
                        balance: ledger.balance(lane, &before[lane], &rig.holding(lane), gain),
                        traces: std::mem::take(&mut traces[lane]),
                    };
                    let point = outcome.point(self.model, self.settings);
                    watch.result = Some(Lane::Settled(Box::new(point), WarmLane::of(rig, lane, lifts_m[lane])));
                }
            }
            watch.done = true;
        }
    }

    /// A lane whose waves are too fast for the steps is taken out and filled with calm gas; it is run again by itself.
    fn calm_the_fast<const L: usize>(
        &self,
        rig: &mut Rig<'a, L>,
        step_s: f64,
        whose: &[Option<usize>; L],
        watches: &mut [Watch],
    ) {
        for lane in 0..L {
            if rig.crossed(lane, step_s) <= LIMIT {
                continue;
            }
            rig.calm(lane);
            if let Some(watch) = whose[lane].and_then(|at| watches.get_mut(at)).filter(|watch| !watch.done) {
                (watch.done, watch.too_fast) = (true, true);
            }
        }
    }
}
