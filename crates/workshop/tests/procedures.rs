//! Draws of procedures shared out to threads: the same to the last bit.
#![allow(clippy::unwrap_used, reason = "a test may fail loudly")]

use engine::model::{Engine, ReturnSpring, TravelPoint, ValveKind};
use evidence::sensitivity::Design;
use quantity::{Dimension, Measured, Units};
use workshop::procedure::{Comparison, Draws, Measure, Procedures, Run, Scope};

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

/// The demo engine with another valve and, where asked for, its return spring on the valve shaft.
fn engine_with(kind: ValveKind, spring_on_shaft: bool) -> Engine {
    let mut engine = engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine;
    engine.valve.kind = kind;
    if spring_on_shaft {
        engine.gear.spring = ReturnSpring::Shaft {
            at_closed: Measured::within(0.15, 0.01, Dimension::Torque),
            rate: Measured::within(0.10, 0.01, Dimension::TorsionRate),
        };
        engine.found.spring_length = None;
    }
    engine
}

#[test]
fn practice_every_kind_of_valve_and_spring_is_compared_in_whole_sentences() {
    let length = |mm: f64| Measured::within(mm * 1e-3, 0.02e-3, Dimension::Length);
    let angle = |deg: f64| Measured::within(deg.to_radians(), 0.3f64.to_radians(), Dimension::Angle);
    let ratio = || Measured::exact(0.5, Dimension::Number);
    let points = [(0.0, 0.0), (20.0, 1.1), (40.0, 2.7), (60.0, 4.1), (80.0, 5.2)];
    let table = points.map(|(deg, mm)| TravelPoint { travel: angle(deg), lift: length(mm) }).to_vec();
    for kind in [
        ValveKind::Flap { radius: length(9.0), start: angle(-20.0), ratio: ratio() },
        ValveKind::Drum { radius: length(8.5), start: angle(-15.0), ratio: ratio() },
        ValveKind::Table { points: table },
    ] {
        for (shaft, scope) in
            [(false, Scope::ThisEngine), (true, Scope::ThisEngine), (true, Scope::LikeEngines)]
        {
            let engine = engine_with(kind.clone(), shaft);
            let comparison = Comparison::of(&engine, &Procedures::built_in(), scope, 0..300, 1);
            assert_eq!(comparison.entries.len(), 13, "{:?}", comparison.left_out);
            let told = comparison.told(Units::Inch);
            for line in
                told.procedures.iter().flat_map(|procedure| &procedure.reasons).chain(&told.statements)
            {
                assert!(line.ends_with('.') && !line.contains("NaN") && !line.contains("inf "), "{line}");
            }
            // No other way puts the edge nearer flush than reading it at the port itself.
            let off_m = |key: &str| {
                let edge = comparison.find(key).unwrap().summary.quantiles(Measure::EdgeAtFull).unwrap();
                edge.low.abs().max(edge.high.abs())
            };
            for procedure in &told.procedures {
                assert!(off_m("port-under-load") <= off_m(&procedure.key), "{} {kind:?}", procedure.key);
            }
        }
    }
}
