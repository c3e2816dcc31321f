//! Sod's shock tube on one core, for comparison with other codes: `cargo bench -p gas --bench shock_tube [cells]`.
//!
//! Each lane is one tube. Prints million cell updates a second; how near the result is to the exact solution is
//! checked by `published/tests/gas_riemann.rs`.
//! `crates/gas/benches/against_a_package.sh` runs it beside a general-purpose package.

use gas::duct::{Caloric, Duct, End, GasState, Geometry, Instructions};
use gas::end;

const LANES: usize = 8;
const UNTIL: f64 = 0.2;

fn main() {
    let cells = std::env::args().filter_map(|text| text.parse().ok()).next().unwrap_or(200);
    let gas = Caloric::perfect(1.4, 1.0);
    let set = Instructions::best();
    let (mut best, mut updates) = (f64::INFINITY, 0);
    for _ in 0..50 {
        let mut tube = filled(&gas, cells);
        let (seconds, steps) = timed(|| run(&mut tube, &gas, set));
        updates = steps * cells * LANES;
        best = best.min(seconds);
    }
    println!(
        "{cells} cells, {LANES} tubes side by side, {}: {:.2} million cell updates/s",
        set.name(),
        updates as f64 / best * 1e-6
    );
}

fn filled(gas: &Caloric, cells: usize) -> Duct<LANES> {
    let geometry = Geometry::straight(1.0, 0.04, cells).expect("a duct");
    Duct::new(geometry, gas, |_, x| GasState {
        pressure_pa: if x < 0.5 { 1.0 } else { 0.1 },
        temperature_k: if x < 0.5 { 1.0 } else { 0.8 },
        velocity_m_s: 0.0,
        y: [0.0; 2],
    })
}

fn run(tube: &mut Duct<LANES>, gas: &Caloric, set: Instructions) -> usize {
    let (mut time, mut steps) = (0.0, 0);
    while time < UNTIL {
        let step = (0.9 / tube.prepare(gas, set)).min(UNTIL - time);
        tube.advance(gas, step, set);
        for which in End::BOTH {
            let flux = end::free(tube.end(which));
            tube.close(which, &flux, step);
        }
        time += step;
        steps += 1;
    }
    steps
}

#[allow(clippy::disallowed_methods, reason = "a benchmark reads the clock")]
fn timed(work: impl FnOnce() -> usize) -> (f64, usize) {
    let start = std::time::Instant::now();
    let steps = work();
    (start.elapsed().as_secs_f64(), steps)
}
