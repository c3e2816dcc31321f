//! Time of exact solves, beside bisection of the same balance (compliance worked out beforehand, as in `exact_prepared_64`).
//! Each figure is for 64 solves. `cargo bench -p gear`.

#[path = "../tests/bisection/mod.rs"]
mod bisection;

use bisection::Slow;
use divan::{Bencher, black_box};
use gear::{CableLine, Direction, Mechanism, Regime, Setting, Spring};

fn main() {
    divan::main();
    for spring in [ADJUSTER, SHAFT] {
        print_ratio(spring);
    }
}

/// Prints the time of one solve each way and their ratio, the best of many short runs of one process.
fn print_ratio(spring: Spring) {
    let m = mechanism(spring);
    let (s, servo) = (setting(spring), travels(&m));
    let (regime, slow) = (Regime::new(&m, Direction::Rising), Slow::new(&m, Direction::Rising));
    let whole = best_ns(&servo, |theta| m.solve(black_box(s), theta, Direction::Rising).valve_travel_rad);
    let prepared = best_ns(&servo, |theta| regime.solve(black_box(s), theta).valve_travel_rad);
    let halves = best_ns(&servo, |theta| slow.valve_travel_rad(black_box(s), theta));
    println!(
        "{spring:?}: exact {whole:.0} ns, prepared {prepared:.0} ns, bisection {halves:.0} ns: {:.1} times",
        halves / prepared
    );
}

#[allow(clippy::disallowed_methods, reason = "a benchmark reads the clock")]
fn best_ns(servo: &[f64], solve: impl Fn(f64) -> f64) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..200 {
        let start = std::time::Instant::now();
        for &theta in servo {
            black_box(solve(black_box(theta)));
        }
        best = best.min(start.elapsed().as_secs_f64() * 1e9 / servo.len() as f64);
    }
    best
}

fn mechanism(spring: Spring) -> Mechanism {
    let cable = CableLine {
        servo_radius_m: 0.015,
        valve_radius_m: 0.018,
        wire_stiffness_n_per_m: 110e3,
        sheath_stiffness_n_per_m: 400e3,
        bends_rad: 3.1,
        friction: 0.12,
    };
    Mechanism {
        opening: cable,
        closing: cable,
        spring,
        shaft_friction_n_m: 0.03,
        mount_stiffness_n_per_m: 60e3,
        gas_torque_n_m: 0.0,
        mechanical_end_rad: 1.6,
        servo_travel_rad: 1.9,
        stall_torque_n_m: 4.0,
        last_gear_radius_m: Some(0.02),
    }
}

const ADJUSTER: Spring =
    Spring::ClosingAdjuster { rate_n_per_m: 4e3, free_length_m: 0.020, solid_length_m: 0.012 };
const SHAFT: Spring = Spring::Shaft { at_closed_n_m: 0.2, rate_n_m_per_rad: 0.1 };

fn setting(spring: Spring) -> Setting {
    match spring {
        Spring::Shaft { .. } => Setting { opening_slack_m: 0.8e-3, closing_slack_m: 1e-3 },
        Spring::ClosingAdjuster { .. } => Setting { opening_slack_m: 0.8e-3, closing_slack_m: -3e-3 },
    }
}

/// 64 servo travels that cross every piece: on the pin, floating, near the end.
fn travels(m: &Mechanism) -> [f64; 64] {
    std::array::from_fn(|i| m.servo_travel_rad * i as f64 / 63.0)
}

#[divan::bench(args = [ADJUSTER, SHAFT])]
fn exact_64(bencher: Bencher, spring: Spring) {
    let m = mechanism(spring);
    let (s, servo) = (setting(spring), travels(&m));
    bencher.counter(64usize).bench_local(|| {
        for theta in servo {
            black_box(black_box(&m).solve(black_box(s), theta, Direction::Rising));
        }
    });
}

#[divan::bench(args = [ADJUSTER, SHAFT])]
fn exact_prepared_64(bencher: Bencher, spring: Spring) {
    let m = mechanism(spring);
    let (s, servo) = (setting(spring), travels(&m));
    let regime = Regime::new(&m, Direction::Rising);
    bencher.counter(64usize).bench_local(|| {
        for theta in servo {
            black_box(black_box(&regime).solve(black_box(s), theta));
        }
    });
}

#[divan::bench(args = [ADJUSTER, SHAFT])]
fn bisection_64(bencher: Bencher, spring: Spring) {
    let m = mechanism(spring);
    let (s, servo) = (setting(spring), travels(&m));
    let slow = Slow::new(&m, Direction::Rising);
    bencher.counter(64usize).bench_local(|| {
        for theta in servo {
            black_box(black_box(&slow).valve_travel_rad(black_box(s), theta));
        }
    });
}
