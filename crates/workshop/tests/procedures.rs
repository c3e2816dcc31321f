//! Draws of procedures shared out to threads: the same to the last bit.
#![allow(clippy::unwrap_used, reason = "a test may fail loudly")]

use evidence::sensitivity::Design;
use workshop::procedure::{Draws, Measure, Procedures, Run, Scope};

fn run() -> Run {
    let engine = engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine;
    let procedures = Procedures::built_in();
    let procedure = procedures.find("index-marks").unwrap();
    Run::new(&engine, &procedures, procedure, Scope::ThisEngine, 5).unwrap()
}

/// Results of `work` on 0, 1, 2, each on a thread of its own, last first.
fn on_three_threads<T: Send>(work: impl Fn(u64) -> T + Sync) -> Vec<T> {
    std::thread::scope(|scope| {
        let work = &work;
        let workers: Vec<_> = (0..3).rev().map(|at| scope.spawn(move || work(at))).collect();
        workers.into_iter().map(|worker| worker.join().unwrap()).collect()
    })
}

#[test]
fn exact_draws_are_the_same_bits_on_one_thread_and_on_three() {
    let run = run();
    let whole = run.draw(0..600);
    let joined = Draws::join(on_three_threads(|at| run.draw(at * 200..(at + 1) * 200)));
    for measure in Measure::ALL {
        let bits =
            |draws: &Draws| draws.column(measure).iter().map(|value| value.to_bits()).collect::<Vec<_>>();
        assert_eq!(bits(&joined), bits(&whole), "{measure:?}");
    }
    assert_eq!(joined.met(), whole.met());
}

#[test]
fn exact_influences_are_the_same_bits_on_one_thread_and_on_three() {
    let run = run();
    let design = Design { resamples: 0, ..Design::new(200, 9) };
    let plan = run.influence_plan(design).unwrap();
    let pieces = on_three_threads(|at| {
        let blocks = (0..plan.blocks()).filter(|block| block % 3 == at as usize);
        blocks.map(|block| run.influence_block(&plan, block, Measure::EdgeAtFull)).collect::<Vec<_>>()
    });
    let blocks: Vec<_> = pieces.into_iter().flatten().collect();
    assert_eq!(plan.indices(&blocks).unwrap()[0], run.influences(Measure::EdgeAtFull, design).unwrap());
}
