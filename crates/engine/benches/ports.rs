//! How long port timing and areas take, on the invented demo engine.

use divan::{Bencher, black_box};
use engine::file::{DEMO, read};
use engine::model::Engine;
use engine::ports::{Layout, area_curve, exhaust_angles, report, timing};

fn main() {
    divan::main();
}

fn demo() -> Engine {
    match read(DEMO.as_bytes()) {
        Ok(reading) => reading.engine,
        Err(problems) => panic!("the demo engine file does not read: {}", problems[0]),
    }
}

#[divan::bench(args = [0.0, 3e-3, 9e-3])]
fn whole_report(bencher: Bencher<'_, '_>, lift_m: f64) {
    let engine = demo();
    bencher.bench_local(|| report(black_box(&engine), black_box(lift_m)));
}

#[divan::bench]
fn timing_alone(bencher: Bencher<'_, '_>) {
    let engine = demo();
    bencher.bench_local(|| timing(black_box(&engine), black_box(3e-3)));
}

#[divan::bench]
fn exhaust_alone(bencher: Bencher<'_, '_>) {
    let engine = demo();
    bencher.bench_local(|| exhaust_angles(black_box(&engine), black_box(3e-3)));
}

#[divan::bench]
fn area_curve_of_361_points(bencher: Bencher<'_, '_>) {
    let engine = demo();
    bencher.bench_local(|| area_curve(black_box(&engine), black_box(3e-3), 361));
}

#[divan::bench]
fn areas_at_one_angle(bencher: Bencher<'_, '_>) {
    let engine = demo();
    let layout = Layout::of(&engine, 3e-3);
    bencher.bench_local(|| layout.as_ref().map(|layout| layout.exhaust_area_m2(black_box(2.0))));
}
