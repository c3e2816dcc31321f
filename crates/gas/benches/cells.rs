//! Cell updates a second on one core: a tuned pipe with tapers, friction, wall heat, three species, thermally perfect
//! gas; the same in a straight duct; and what the ends cost. `cargo bench -p gas --bench cells`.
//!
//! The time-stamp counter ticks at the processor's base rate, so cycles are given at that rate.

use divan::{Bencher, black_box};
use gas::duct::{Caloric, Duct, End, GasState, Geometry, Instructions, Section};
use gas::end::{self, Opening, Openings, Recovery, Reservoir, Reservoirs};
use gas::gas::{Air, Gas};

fn main() {
    divan::main();
    for set in [Instructions::PLAIN, Instructions::best()] {
        report::<4>(set);
        report::<8>(set);
    }
}

fn petrol() -> Gas {
    Gas::petrol(Air::DRY, 1.1).expect("a gas")
}

fn tuned_pipe() -> Geometry {
    let sections = [
        (0.30, 0.038, 0.038),
        (0.35, 0.038, 0.1),
        (0.10, 0.1, 0.1),
        (0.20, 0.1, 0.022),
        (0.25, 0.022, 0.022),
    ]
    .map(|(length_m, begin_m, end_m)| Section { length_m, begin_m, end_m });
    Geometry::from_sections(&sections, 0.008).expect("a duct")
}

fn filled<const L: usize>(geometry: Geometry, gas: &Caloric) -> Duct<L> {
    let mut duct = Duct::new(geometry, gas, |lane, x| GasState {
        pressure_pa: 1e5 * (1.0 + 0.3 * (9.0 * x + lane as f64).sin()),
        temperature_k: 700.0 + 300.0 * (5.0 * x + lane as f64).cos(),
        velocity_m_s: 60.0 * (3.0 * x).sin(),
        y: [0.02, 0.6 + 0.3 * (4.0 * x).sin()],
    });
    for cell in 0..duct.geometry().cells() {
        for lane in 0..L {
            duct.set_wall(cell, lane, 0.25, 0.3, 550.0);
        }
    }
    duct
}

fn step<const L: usize>(duct: &mut Duct<L>, gas: &Caloric, set: Instructions) {
    let step = 0.8 / duct.prepare(gas, set);
    duct.advance(gas, step, set);
    for which in End::BOTH {
        let flux = end::closed(duct.end(which));
        duct.close(which, &flux, step);
    }
}

/// Shortest time of one call, in s, over many short runs.
#[allow(clippy::disallowed_methods, reason = "a benchmark reads the clock")]
fn best_s(mut call: impl FnMut()) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..400 {
        let start = std::time::Instant::now();
        for _ in 0..20 {
            call();
        }
        best = best.min(start.elapsed().as_secs_f64() / 20.0);
    }
    best
}

#[cfg(target_arch = "x86_64")]
#[allow(unsafe_code, clippy::disallowed_methods, reason = "reads the time-stamp counter beside the clock")]
fn base_hz() -> f64 {
    let (start, ticks) = (std::time::Instant::now(), unsafe { core::arch::x86_64::_rdtsc() });
    while start.elapsed().as_millis() < 50 {}
    (unsafe { core::arch::x86_64::_rdtsc() } - ticks) as f64 / start.elapsed().as_secs_f64()
}

#[cfg(not(target_arch = "x86_64"))]
fn base_hz() -> f64 {
    f64::NAN
}

fn report<const L: usize>(set: Instructions) {
    let gas = Caloric::from(&petrol());
    let hz = base_hz();
    for (name, geometry) in
        [("tuned pipe", tuned_pipe()), ("straight", Geometry::straight(1.2, 0.04, 150).expect("a duct"))]
    {
        let mut duct = filled::<L>(geometry, &gas);
        let cells = (duct.geometry().cells() * L) as f64;
        let whole = best_s(|| step(&mut duct, &gas, set));
        let prepare = best_s(|| {
            black_box(duct.prepare(&gas, set));
        });
        let advance = best_s(|| duct.advance(&gas, black_box(1e-12), set));
        println!(
            "{name}, {L} lanes, {}: {:.1} million cell updates/s, {:.1} base cycles each (prepare {:.1}, advance {:.1})",
            set.name(),
            cells / whole * 1e-6,
            whole / cells * hz,
            prepare / cells * hz,
            advance / cells * hz,
        );
    }
    ends::<L>(&gas, hz, set);
}

fn outside(gas: &Gas, pressure_pa: f64, temperature_k: f64, y: [f64; 2]) -> Reservoir {
    Reservoir {
        pressure_pa,
        temperature_k,
        r_j_kg_k: gas.r(y),
        gamma: gas.gamma(temperature_k, y),
        enthalpy_j_kg: gas.enthalpy(temperature_k, y),
        y,
    }
}

fn ends<const L: usize>(caloric: &Caloric, hz: f64, set: Instructions) {
    let gas = petrol();
    let mut duct = filled::<L>(tuned_pipe(), caloric);
    duct.prepare(caloric, set);
    duct.advance(caloric, 1e-12, set);
    let at_end = *duct.end(End::Begin);
    let port = |share| Opening { share_in: share, share_out: share, recovery: Recovery::Nothing };
    for (name, inside, opening) in [
        ("port, flow in, choked", outside(&gas, 6e5, 1500.0, [0.0, 1.0]), port(0.3)),
        ("port, flow in", outside(&gas, 1.5e5, 1200.0, [0.0, 1.0]), port(0.6)),
        ("port, flow out", outside(&gas, 0.8e5, 400.0, [0.05, 0.1]), port(0.6)),
        ("open end, flow out", outside(&gas, 0.9e5, 300.0, [0.0, 0.0]), Opening::BELL_MOUTH),
        ("open end, flow in", outside(&gas, 1.6e5, 300.0, [0.0, 0.0]), Opening::BELL_MOUTH),
        ("sharp mouth, flow in", outside(&gas, 1.3e5, 300.0, [0.0, 0.0]), Opening::SHARP_PIPE),
    ] {
        let (inside, opening) = (Reservoirs::same(&inside), Openings::same(&opening));
        let time = best_s(|| {
            black_box(set.through(black_box(&at_end), black_box(&inside), &opening));
        });
        println!("{name}: {:.0} ns, {:.0} base cycles a lane", time / L as f64 * 1e9, time / L as f64 * hz);
    }
    let wall = best_s(|| {
        black_box(end::closed(black_box(&at_end)));
    });
    println!("wall: {:.0} ns, {:.0} base cycles a lane", wall / L as f64 * 1e9, wall / L as f64 * hz);
}

#[divan::bench(consts = [4, 8])]
fn tuned_pipe_step<const L: usize>(bencher: Bencher) {
    let gas = Caloric::from(&petrol());
    let mut duct = filled::<L>(tuned_pipe(), &gas);
    let cells = duct.geometry().cells() * L;
    bencher.counter(cells).bench_local(|| step(&mut duct, &gas, Instructions::best()));
}
