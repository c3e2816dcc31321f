//! Lanes that run side by side, turn after turn, until each has settled.

use super::carry::{Carry, Coming};
use super::ledger::Ledger;
use super::missing::ModelError;
use super::model::Model;
use super::point::{Outcome, Point, delivered_kg};
use super::rig::Rig;
use super::run::{FEW, Flow, NotConverged, Progress, RunError, rpm, shortest};
use super::settings::Settings;
use super::settling::{Change, Settling, Turn, Verdict};
use super::timetable::Timetable;
use super::trace::{Recorder, Traces};
use super::warm::{Warm, WarmLane};

/// A wave may cross this share of a cell in a step at most.
const LIMIT: f64 = 0.96;
/// What is still to come down the pipe is put there after every second turn while it is more than this share of the
/// tolerance; after the turn `EARLY` only when it is less than `SHRUNK` of what was put last, so that what trembles is not
/// carried for ever.
const CARRIED: f64 = 0.3;
const EARLY: usize = 8;
const SHRUNK: f64 = 0.7;

/// How one lane ended; none when its steps were too long.
pub(super) enum Lane {
    Settled(Box<Point>, WarmLane),
    Failed(NotConverged),
}

/// Some lanes of a run.
pub(super) struct Job<'a> {
    pub(super) model: &'a Model,
    pub(super) settings: &'a Settings,
    pub(super) speed_rad_s: f64,
    pub(super) start: Option<&'a Warm>,
    /// How much shorter the steps are than those laid out.
    pub(super) hurry: f64,
}

/// What is kept of one lane while it runs.
#[derive(Default)]
struct Watch {
    settling: Settling,
    carry: Carry,
    /// What was put down the pipe last, see [`Coming::size`].
    put: Option<f64>,
    done: bool,
    too_fast: bool,
    result: Option<Lane>,
}

impl Watch {
    /// Whether what is still to come down the pipe is to be put there.
    fn worth_carrying(&mut self, coming: &Coming, cycle: usize, tolerance: f64) -> bool {
        let size = coming.size();
        let worth = Change::STATE_WEIGHT * size > CARRIED * tolerance
            && (cycle <= EARLY || self.put.is_none_or(|put| size < SHRUNK * put));
        if worth {
            self.put = Some(size);
        }
        worth
    }
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
    /// Runs lifts (m) side by side; none for a lane whose steps were too long.
    pub(super) fn run<const L: usize>(
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
        let mut carried = [false; L];
        for (lane, whose) in whose.iter().enumerate() {
            let Some(watch) = whose.and_then(|at| watches.get_mut(at)).filter(|watch| !watch.done) else {
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
                    if self.settings.carry
                        && cycle.is_multiple_of(2)
                        && watch.worth_carrying(&coming, cycle, self.settings.tolerance)
                    {
                        watch.carry.put(rig, lane, &coming);
                        carried[lane] = true;
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
                    watch.result =
                        Some(Lane::Settled(Box::new(point), WarmLane::of(rig, lane, lifts_m[lane])));
                }
            }
            watch.done = true;
        }
        // Whether or not anything was carried: no lane may notice what another one does.
        rig.look();
        for lane in (0..L).filter(|lane| carried[*lane]) {
            if let Some(watch) = whose[lane].and_then(|at| watches.get_mut(at)) {
                watch.settling.put(rig.remembered(lane));
            }
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
        for (lane, whose) in whose.iter().enumerate() {
            if rig.crossed(lane, step_s) <= LIMIT {
                continue;
            }
            rig.calm(lane);
            if let Some(watch) = whose.and_then(|at| watches.get_mut(at)).filter(|watch| !watch.done) {
                (watch.done, watch.too_fast) = (true, true);
            }
        }
    }
}
