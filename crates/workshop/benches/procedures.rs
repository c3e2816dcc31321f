//! Draws of the whole gear a second: each procedure carried out on a drawn gear and the gear solved up and back.
//! `cargo bench -p workshop --bench procedures`.

use std::ops::Range;
use workshop::procedure::{Comparison, Draws, Entry, Procedures, Run, Scope};

const DRAWS: u64 = 100_000;
const PIECE: u64 = 5_000;

fn main() {
    let engine = demo();
    let (runs, left_out) = Comparison::prepare(&engine, &Procedures::built_in(), Scope::LikeEngines, 1);
    for (procedure, why) in left_out {
        println!("{}: {why}", procedure.name);
    }
    for threads in [1, 2] {
        let mut all = 0.0;
        for run in &runs {
            let (draws, seconds) = timed(|| draw(run, 0..DRAWS, threads));
            all += seconds;
            let rate = draws.count() as f64 / seconds;
            println!("{threads} threads, {}: {seconds:.3} s, {rate:.0} draws a second", run.procedure().key);
        }
        println!(
            "{threads} threads, {} procedures: {:.0} draws a second",
            runs.len(),
            runs.len() as f64 * DRAWS as f64 / all
        );
    }
    let (comparison, seconds) = timed(|| {
        let entries = runs.iter().map(|run| Entry::of(run.clone(), &draw(run, 0..DRAWS, 2))).collect();
        Comparison::rank(Scope::LikeEngines, entries, Vec::new())
    });
    if let Some(run) = runs.first() {
        let design = evidence::sensitivity::Design::new(1_000, 1);
        let (indices, seconds) = timed(|| run.influences(workshop::procedure::Measure::EdgeAtFull, design));
        println!(
            "influences of {} by 1,000 rows, one thread: {seconds:.2} s, {}",
            run.procedure().key,
            indices.is_ok()
        );
    }
    println!("whole comparison of {} procedures on two threads: {seconds:.2} s", comparison.entries.len());
}

fn demo() -> engine::model::Engine {
    match engine::file::read(engine::file::DEMO.as_bytes()) {
        Ok(reading) => reading.engine,
        Err(problems) => panic!("{problems:?}"),
    }
}

/// The draws of a range in pieces, shared out to threads that take the next piece when they are free.
fn draw(run: &Run, range: Range<u64>, threads: usize) -> Draws {
    let next = std::sync::atomic::AtomicU64::new(range.start);
    let work = || {
        let mut pieces = Vec::new();
        loop {
            let start = next.fetch_add(PIECE, std::sync::atomic::Ordering::Relaxed);
            if start >= range.end {
                return pieces;
            }
            pieces.push(run.draw(start..(start + PIECE).min(range.end)));
        }
    };
    let pieces = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        workers.into_iter().flat_map(|worker| worker.join().unwrap_or_default()).collect()
    });
    Draws::join(pieces)
}

#[allow(clippy::disallowed_methods, reason = "a benchmark reads the clock")]
fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let start = std::time::Instant::now();
    let result = work();
    (result, start.elapsed().as_secs_f64())
}
