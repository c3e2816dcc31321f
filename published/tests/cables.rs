//! Cables: capstan friction, the pull and return tensions of a bent cable, stretch along it, stiffness of rope.

use gear::cable::{distributed_stretch_m, wire_stiffness_n_per_m};
use gear::{CableLine, Direction, Mechanism, Setting, Spring, State};
use published::{Tolerance, cite};

/// A valve pulley of 15 mm against a spring on its shaft, all of it stiff, drawn by one cable.
fn valve(friction: f64, bends_rad: f64) -> Mechanism {
    let cable = CableLine {
        servo_radius_m: 0.015,
        valve_radius_m: 0.015,
        wire_stiffness_n_per_m: 1e9,
        sheath_stiffness_n_per_m: 1e9,
        bends_rad,
        friction,
    };
    Mechanism {
        opening: cable,
        closing: cable,
        spring: Spring::Shaft { at_closed_n_m: 0.20, rate_n_m_per_rad: 0.10 },
        shaft_friction_n_m: 0.0,
        mount_stiffness_n_per_m: 1e9,
        gas_torque_n_m: 0.0,
        mechanical_end_rad: f64::INFINITY,
        servo_travel_rad: 2.0,
        stall_torque_n_m: 1.0,
        last_gear_radius_m: None,
    }
}

/// The gear with its valve at `valve_deg`, the closing wire slack.
fn at(mechanism: &Mechanism, valve_deg: f64, direction: Direction) -> State {
    let setting = Setting { opening_slack_m: 0.0, closing_slack_m: 1.0 };
    let servo_rad = gear::Regime::new(mechanism, direction)
        .servo_travel_for(setting, valve_deg.to_radians())
        .expect("the spring closes, so some servo travel holds the valve anywhere");
    mechanism.solve(setting, servo_rad, direction)
}

#[test]
fn published_ratio_of_tensions_round_a_pulley() {
    let state = at(&valve(0.3, 165f64.to_radians()), 30.0, Direction::Rising);
    cite("BEVAN", "p. 228, example 1: friction 0.3, 165 degrees of wrap").near(
        "ratio of tensions",
        state.opening_tension_servo_n / state.opening_tension_valve_n,
        2.37249,
        Tolerance::absolute(5e-6, "the figure carries five decimals"),
    );
}

#[test]
fn published_friction_of_bent_cables() {
    let source = cite(
        "BEVAN",
        "p. 228, law of tensions e^(mu theta); figures worked out from it independently, in published/data/capstan.csv",
    );
    for line in include_str!("../data/capstan.csv").lines().filter(|line| !line.starts_with('#')).skip(1) {
        let row: Vec<f64> = line.split(',').map(|cell| cell.parse().expect("a number")).collect();
        let [friction, bends_deg, ratio] = row[..] else { panic!("three columns in {line}") };
        let mechanism = valve(friction, bends_deg.to_radians());
        let tolerance = || Tolerance::relative(1e-12, "both are double precision");
        let pull = at(&mechanism, 30.0, Direction::Rising);
        source.near(
            &format!("pull, friction {friction}, bends {bends_deg} degrees, ratio"),
            pull.opening_tension_servo_n / pull.opening_tension_valve_n,
            ratio,
            tolerance(),
        );
        let back = at(&mechanism, 30.0, Direction::Falling);
        source.near(
            &format!("return, friction {friction}, bends {bends_deg} degrees, ratio"),
            back.opening_tension_servo_n / back.opening_tension_valve_n,
            1.0 / ratio,
            tolerance(),
        );
    }
}

#[test]
fn published_pull_and_return_tension_of_a_sprung_valve() {
    // Spring 0.20 N·m + 0.10 N·m/rad, pulley 15 mm, cable with friction 0.12 and 180 degrees of bends.
    let source =
        cite("BEVAN", "p. 228, law of tensions; figures for a sprung valve worked out from it independently");
    let mechanism = valve(0.12, std::f64::consts::PI);
    let tension_n = |valve_deg, direction| at(&mechanism, valve_deg, direction).opening_tension_servo_n;
    let cases = [
        ("opening, valve closed, N", tension_n(0.0, Direction::Rising), 19.44),
        ("opening, valve at 90 degrees, N", tension_n(90.0, Direction::Rising), 34.71),
        ("returning, valve closed, N", tension_n(0.0, Direction::Falling), 9.15),
        ("returning, valve at 90 degrees, N", tension_n(90.0, Direction::Falling), 16.33),
    ];
    for (what, ours, theirs) in cases {
        source.near(what, ours, theirs, Tolerance::absolute(0.005, "the figure carries two decimals"));
    }
}

#[test]
fn published_stretch_along_a_bent_cable() {
    // 800 mm of rope of 97.193 kN per unit strain, drawn with 80 N round 180 degrees with friction 0.12.
    let stiffness_n_per_m = wire_stiffness_n_per_m(100e9, 0.9719302272043423e-6, 0.8);
    let stretch_mm = |x: f64| distributed_stretch_m(80.0, stiffness_n_per_m, x) * 1e3;
    let tolerance = || Tolerance::absolute(5e-5, "the figure carries four decimals");
    cite("BEVAN", "p. 228, law of tensions; its integral along the sheath worked out independently")
        .near("stretch round 180 degrees, mm", stretch_mm(0.12 * std::f64::consts::PI), 0.5486, tolerance())
        .near("stretch of the straight cable, mm", stretch_mm(0.0), 0.6585, tolerance());
}

#[test]
fn published_stiffness_of_wire_rope() {
    // 2 mm rope, 1 m long. JINDAL takes 0.39 d² of metal and 74.4 GPa for 6 x 19 rope; trade tables give 62 to 83 GPa
    // and 0.50 to 0.56 of the full circle for 7 x 19. The first must lie within the second.
    let diameter_m: f64 = 2e-3;
    let full_circle_m2 = std::f64::consts::FRAC_PI_4 * diameter_m.powi(2);
    cite("JINDAL", "example 24-2: metallic area 0.39 d², modulus of rope 74.4 GPa").between(
        "stiffness of 1 m of 2 mm rope, N/mm",
        wire_stiffness_n_per_m(74.4e9, 0.39 * diameter_m.powi(2), 1.0) / 1e3,
        62e9 * 0.50 * full_circle_m2 / 1e3,
        83e9 * 0.56 * full_circle_m2 / 1e3,
    );
}
