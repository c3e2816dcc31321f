//! Whole operating points of the demo engine: one speed with 1, 4 and 8 valve lifts to the steady cycle, how the cost grows
//! with the cells, and a map of 24 speeds by 8 lifts on one and on two threads.
//! `cargo bench -p gas --bench operating_point`

use gas::cycle::{Flow, Model, Settings, Warm};
use std::f64::consts::TAU;

const LIFTS_M: [f64; 8] = [0.0, 0.0006, 0.0012, 0.0018, 0.0024, 0.003, 0.00375, 0.0045];

fn main() {
    let engine = engine::file::read(engine::file::DEMO.as_bytes()).expect("the demo reads").engine;
    let model = Model::of(&engine).expect("a model");
    for rpm in [4000.0, 8000.0, 11_000.0] {
        for lanes in [1, 4, 8] {
            one(&model, rpm, lanes, &Settings::default());
        }
    }
    for cell_length_m in [0.028, 0.020, 0.014, 0.010, 0.007] {
        one(&model, 8000.0, 8, &Settings { cell_length_m, ..Settings::default() });
    }
    let speeds: Vec<f64> = (0..24).map(|i| (3000.0 + 9500.0 * f64::from(i) / 23.0) * TAU / 60.0).collect();
    let (whole_s, cycles) = timed(|| sweep(&model, &speeds));
    println!("map of 24 x 8, one thread: {whole_s:.2} s, {:.1} turns a lane", cycles as f64 / 192.0);
    // Every other speed to each: both get their share of the slow ones, and neighbours stay near.
    let share = |first: usize| -> Vec<f64> { speeds.iter().skip(first).step_by(2).copied().collect() };
    let (halves_s, _) = timed(|| {
        std::thread::scope(|scope| {
            let other = scope.spawn(|| sweep(&model, &share(1)));
            sweep(&model, &share(0)) + other.join().unwrap_or(0)
        })
    });
    println!("map of 24 x 8, two threads: {halves_s:.2} s, {:.2} times as fast", whole_s / halves_s);
}

fn one(model: &Model, rpm: f64, lanes: usize, settings: &Settings) {
    let speed_rad_s = rpm * TAU / 60.0;
    let size = model.size(speed_rad_s, settings).expect("settings");
    let run = |settings: &Settings| {
        model
            .run(speed_rad_s, &LIFTS_M[..lanes], settings, None, &mut |_| Flow::Continue)
            .expect("a run")
            .points
    };
    let (seconds, points) = timed(|| run(settings));
    let cycles: Vec<usize> = points.iter().flatten().map(|point| point.cycles).collect();
    // Never settled: what ten turns more take tells what a step takes, whatever came before.
    let endless = |most_cycles| Settings { tolerance: 1e-7, most_cycles, ..settings.clone() };
    let [fewer, more] =
        [10, 20].map(|turns| (0..3).map(|_| timed(|| run(&endless(turns))).0).fold(f64::INFINITY, f64::min));
    let step_s = (more - fewer) / (10 * size.steps) as f64;
    println!(
        "{rpm:.0} rpm, {lanes} lanes, {} cells, {} steps a turn: {} turns in all, {} at most, {seconds:.3} s, {:.1} µs a step, \
         {:.0} million cell updates/s with all that stands at the ends",
        size.cells,
        size.steps,
        cycles.iter().sum::<usize>(),
        cycles.iter().max().copied().unwrap_or(0),
        step_s * 1e6,
        (size.cells * lanes) as f64 / step_s * 1e-6,
    );
}

/// Speeds one after the other, each from the last; gives the turns of all lanes.
fn sweep(model: &Model, speeds_rad_s: &[f64]) -> usize {
    let (mut warm, mut cycles): (Option<Warm>, usize) = (None, 0);
    for speed_rad_s in speeds_rad_s {
        let run =
            model.run(*speed_rad_s, &LIFTS_M, &Settings::default(), warm.as_ref(), &mut |_| Flow::Continue);
        let run = run.expect("a run");
        cycles += run.points.iter().flatten().map(|point| point.cycles).sum::<usize>();
        warm = Some(run.warm);
    }
    cycles
}

#[allow(clippy::disallowed_methods, reason = "a benchmark reads the clock")]
fn timed<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = std::time::Instant::now();
    let result = work();
    (start.elapsed().as_secs_f64(), result)
}
