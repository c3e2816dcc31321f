//! A map in the making: blocks of speeds shared out to threads.

use super::Wanted;
use super::kept::{Cell, TorqueMap};
use engine::model::Engine;
use gas::cycle::{Flow, Model, ModelError, NotConverged, Point, RunError, Settings, Warm};
use std::collections::HashMap;
use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;

/// Speeds, on the average, that one thread runs one after the other, each begun from the one before. The first of a block
/// begins cold, whoever runs it: the figures do not depend on the number of threads, nor on where a map was stopped.
const BLOCK: usize = 6;

/// A map that is being made, or that was just made.
#[derive(Debug)]
pub(crate) struct Job {
    /// The engine file it is made from, word for word.
    pub text: String,
    map: Mutex<TorqueMap>,
    stop: AtomicBool,
    ended: AtomicBool,
    failed: Mutex<Option<String>>,
}

/// How far a job is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Standing {
    /// Speeds done, of the map and of its leaky twin.
    pub done: usize,
    /// Speeds in all.
    pub all: usize,
    /// Nothing more will come.
    pub ended: bool,
    /// It was told to stop.
    pub stopped: bool,
    /// Why nothing came, when nothing did.
    pub failed: Option<String>,
}

/// Counts a job as ended when it goes, also when something broke: a page must not wait for ever.
struct Ending<'a>(&'a AtomicBool);

impl Drop for Ending<'_> {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Release);
    }
}

/// One block: rows `from..to` of the map and of its leaky twin.
#[derive(Debug, Clone, Copy)]
struct Block {
    from: usize,
    to: usize,
}

impl Job {
    /// A job for this engine; `begun` is a map of the same engine file and points that was stopped.
    ///
    /// # Errors
    /// What the engine file lacks.
    pub(crate) fn new(
        text: String,
        engine: &Engine,
        wanted: Wanted,
        begun: Option<TorqueMap>,
    ) -> Result<(Self, Model), ModelError> {
        let model = Model::of(engine)?;
        let assumptions = model.assumptions(&wanted.settings());
        let fresh = TorqueMap::empty(wanted, assumptions);
        let map = match begun {
            Some(begun) if begun.wanted == fresh.wanted => {
                TorqueMap { assumptions: fresh.assumptions, ..begun }
            }
            _ => fresh,
        };
        let job = Self {
            text,
            map: Mutex::new(map),
            stop: AtomicBool::new(false),
            ended: AtomicBool::new(false),
            failed: Mutex::new(None),
        };
        Ok((job, model))
    }

    /// Runs what is not run yet, on all cores; comes back when all is done or [`Job::stop`] was called. `keep` gets what
    /// there is before the job counts as ended, unless there is nothing.
    pub(crate) fn run(&self, model: &Model, keep: impl FnOnce(&TorqueMap)) {
        let _end = Ending(&self.ended);
        let blocks = self.blocks();
        let next = AtomicUsize::new(0);
        let threads = thread::available_parallelism().map_or(1, NonZeroUsize::get);
        thread::scope(|scope| {
            for _ in 0..threads {
                scope.spawn(|| {
                    while let Some(block) = blocks.get(next.fetch_add(1, Ordering::Relaxed)) {
                        if let Err(why) = self.run_block(model, *block) {
                            if why != RunError::Stopped {
                                *lock(&self.failed) = Some(why.to_string());
                            }
                            self.stop();
                            break;
                        }
                    }
                });
            }
        });
        let map = self.map();
        if map.rows.iter().any(Option::is_some) {
            keep(&map);
        }
    }

    /// Blocks of which a row is missing, in the map or in its leaky twin.
    fn blocks(&self) -> Vec<Block> {
        let map = lock(&self.map);
        let missing = |rows: &[Option<Vec<Cell>>], block: &Block| {
            rows.iter().take(block.to).skip(block.from).any(Option::is_none)
        };
        even_blocks(&map.wanted.speeds_rad_s)
            .into_iter()
            .filter(|block| missing(&map.rows, block) || missing(&map.leaky, block))
            .collect()
    }

    fn run_block(&self, model: &Model, block: Block) -> Result<(), RunError> {
        let wanted = lock(&self.map).wanted.clone();
        let settings = wanted.settings();
        let leaky = wanted.leak_m2.map(|leak_m2| Settings { leak_m2, ..settings.clone() });
        let mut go_on = |_| if self.stop.load(Ordering::Relaxed) { Flow::Stop } else { Flow::Continue };
        let mut warm: Option<Warm> = None;
        for row in block.from..block.to {
            let speed = wanted.speeds_rad_s.get(row).copied().unwrap_or_default();
            let run = model.run(speed, &wanted.lifts_m, &settings, warm.as_ref(), &mut go_on)?;
            put(&mut lock(&self.map).rows, row, run.points);
            if let Some(leaky) = &leaky {
                // The same speed without the leak is the nearest start there is.
                let twin = model.run(speed, &wanted.lifts_m, leaky, Some(&run.warm), &mut go_on)?;
                put(&mut lock(&self.map).leaky, row, twin.points);
            }
            warm = Some(run.warm);
        }
        Ok(())
    }

    /// Tells it to stop after the turn that is being run.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// How far it is.
    pub(crate) fn standing(&self) -> Standing {
        let ended = self.ended.load(Ordering::Acquire);
        let map = lock(&self.map);
        let rows = || map.rows.iter().chain(&map.leaky);
        Standing {
            done: rows().filter(|row| row.is_some()).count(),
            all: rows().count(),
            ended,
            stopped: self.stop.load(Ordering::Relaxed),
            failed: lock(&self.failed).clone(),
        }
    }

    /// The map as far as it is.
    pub(crate) fn map(&self) -> TorqueMap {
        lock(&self.map).clone()
    }
}

/// Time that these speeds take, but for a factor: a turn at half the speed has twice the steps.
fn work(speeds_rad_s: &[f64]) -> f64 {
    speeds_rad_s.iter().map(|speed| speed.recip()).sum()
}

/// Blocks that take about as long as each other, those that take longest first: so threads end at about the same time.
fn even_blocks(speeds_rad_s: &[f64]) -> Vec<Block> {
    let share = work(speeds_rad_s) / speeds_rad_s.len().div_ceil(BLOCK) as f64;
    let mut blocks: Vec<Block> = Vec::new();
    let mut done = 0.0;
    for (row, speed) in speeds_rad_s.iter().enumerate() {
        // A row belongs to the block in which half of it is done.
        let begun = done + 0.5 * speed.recip() > share * blocks.len() as f64;
        done += speed.recip();
        match blocks.last_mut() {
            Some(last) if !begun => last.to = row + 1,
            _ => blocks.push(Block { from: row, to: row + 1 }),
        }
    }
    let long = |block: &Block| work(speeds_rad_s.get(block.from..block.to).unwrap_or_default());
    blocks.sort_by(|one, other| long(other).total_cmp(&long(one)));
    blocks
}

fn put(rows: &mut [Option<Vec<Cell>>], row: usize, points: Vec<Result<Point, NotConverged>>) {
    if let Some(slot) = rows.get_mut(row) {
        *slot = Some(points.into_iter().map(Cell::of).collect());
    }
}

/// Makes a whole map at once; `told` hears how far it is, about ten times a second.
///
/// # Errors
/// What the engine file lacks, or what stopped the run.
pub(crate) fn run_here(
    text: &str,
    engine: &Engine,
    wanted: Wanted,
    mut told: impl FnMut(&Standing),
) -> Result<TorqueMap, String> {
    let (job, model) = Job::new(text.to_owned(), engine, wanted, None).map_err(|why| why.to_string())?;
    thread::scope(|scope| {
        scope.spawn(|| job.run(&model, |_| {}));
        loop {
            let standing = job.standing();
            told(&standing);
            if standing.ended {
                break;
            }
            thread::sleep(std::time::Duration::from_millis(100));
        }
    });
    match job.standing().failed {
        Some(why) => Err(why),
        None => Ok(job.map()),
    }
}

/// Jobs by job card: one each.
#[derive(Debug, Default)]
pub(crate) struct Jobs(Mutex<HashMap<i64, Arc<Job>>>);

impl Jobs {
    /// The job of a job card, when one was begun since the program started.
    pub(crate) fn of(&self, visit: i64) -> Option<Arc<Job>> {
        lock(&self.0).get(&visit).cloned()
    }

    /// Puts a job in, unless one is running; false then.
    pub(crate) fn put(&self, visit: i64, job: &Arc<Job>) -> bool {
        let mut jobs = lock(&self.0);
        if jobs.get(&visit).is_some_and(|job| !job.standing().ended) {
            return false;
        }
        jobs.insert(visit, Arc::clone(job));
        true
    }

    /// Tells all to stop, as the program ends.
    pub(crate) fn stop_all(&self) {
        lock(&self.0).values().for_each(|job| job.stop());
    }
}

fn lock<T>(of: &Mutex<T>) -> MutexGuard<'_, T> {
    of.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::torque_map::{Typed, csv};

    fn demo() -> Engine {
        engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine
    }

    /// Two blocks of speeds where the demo engine pulls well.
    fn few(engine: &Engine) -> Wanted {
        let typed = Typed {
            from: "8500 rpm",
            to: "9500 rpm",
            speeds: "7",
            lifts: "2",
            leak: "20 mm²",
            ..Typed::default()
        };
        Wanted::typed(engine, &typed).unwrap()
    }

    #[test]
    fn agrees_a_map_gone_on_with_is_the_map_run_at_once() {
        let engine = demo();
        let mut last = 0;
        let whole = run_here("", &engine, few(&engine), |standing| last = standing.done).unwrap();
        assert!(whole.whole() && last == 14);
        let mut begun = whole.clone();
        // Stopped in the second block.
        begun.leaky[6] = None;
        assert!(!begun.whole());
        let (job, model) = Job::new(String::new(), &engine, few(&engine), Some(begun)).unwrap();
        assert_eq!(job.standing().done, 13);
        let mut kept = None;
        job.run(&model, |map| kept = Some(map.clone()));
        assert_eq!(kept.as_ref(), Some(&whole));
        let again: TorqueMap = serde_json::from_str(&serde_json::to_string(&whole).unwrap()).unwrap();
        assert_eq!(again, whole);
        let table = csv(&whole);
        let columns = |line: &str| line.split(',').count();
        assert_eq!(table.lines().count(), 15);
        assert!(table.lines().all(|line| columns(line) == columns(table.lines().next().unwrap())), "{table}");
    }

    #[test]
    fn agrees_blocks_take_equally_long_and_leave_no_row_out() {
        let speeds: Vec<f64> = (0..24).map(|row| 300.0 + 44.0 * f64::from(row)).collect();
        let mut blocks = even_blocks(&speeds);
        let share = |block: &Block| work(&speeds[block.from..block.to]) / work(&speeds);
        assert_eq!(blocks.len(), 4);
        assert!(blocks.iter().all(|block| (share(block) - 0.25).abs() < 0.05), "{blocks:?}");
        assert!(blocks.windows(2).all(|pair| share(&pair[0]) >= share(&pair[1])), "{blocks:?}");
        blocks.sort_by_key(|block| block.from);
        assert!(blocks.windows(2).all(|pair| pair[0].to == pair[1].from));
        assert_eq!((blocks[0].from, blocks[3].to), (0, 24));
        assert!(even_blocks(&[]).is_empty());
        assert_eq!(even_blocks(&[500.0]).len(), 1);
    }

    #[test]
    fn exact_a_stopped_job_keeps_nothing_it_has_not() {
        let engine = demo();
        let (job, model) = Job::new(String::new(), &engine, few(&engine), None).unwrap();
        job.stop();
        job.run(&model, |_| panic!("there is nothing to keep"));
        let standing = job.standing();
        assert!(standing.ended && standing.stopped && standing.failed.is_none() && standing.done == 0);
    }

    #[test]
    fn refuses_a_second_job_while_one_runs() {
        let engine = demo();
        let job = || Arc::new(Job::new(String::new(), &engine, few(&engine), None).unwrap().0);
        let jobs = Jobs::default();
        assert!(jobs.of(1).is_none());
        assert!(jobs.put(1, &job()) && !jobs.put(1, &job()) && jobs.put(2, &job()));
        jobs.of(1).unwrap().ended.store(true, Ordering::Release);
        assert!(jobs.put(1, &job()));
        jobs.stop_all();
        assert!(jobs.of(1).unwrap().standing().stopped);
    }
}
