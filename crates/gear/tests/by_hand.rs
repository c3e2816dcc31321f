//! Cases worked with a pocket calculator. Pulleys of 20 mm, wires of 100 N/mm, all else rigid, unless said.

use gear::{CableLine, Direction, InverseError, Mechanism, Regime, Setting, Spring};

const RADIUS_M: f64 = 0.020;

fn cable() -> CableLine {
    CableLine {
        servo_radius_m: RADIUS_M,
        valve_radius_m: RADIUS_M,
        wire_stiffness_n_per_m: 100e3,
        sheath_stiffness_n_per_m: f64::INFINITY,
        bends_rad: 0.0,
        friction: 0.0,
    }
}

fn with_shaft_spring(at_closed_n_m: f64, shaft_friction_n_m: f64) -> Mechanism {
    Mechanism {
        opening: cable(),
        closing: cable(),
        spring: Spring::Shaft { at_closed_n_m, rate_n_m_per_rad: 0.0 },
        shaft_friction_n_m,
        mount_stiffness_n_per_m: f64::INFINITY,
        gas_torque_n_m: 0.0,
        mechanical_end_rad: f64::INFINITY,
        servo_travel_rad: 1.0,
        stall_torque_n_m: 4.0,
        last_gear_radius_m: Some(0.010),
    }
}

/// Spring of 2 N/mm with 10 mm to solid on the closing adjuster, no friction.
fn with_adjuster_spring() -> Mechanism {
    let spring = Spring::ClosingAdjuster { rate_n_per_m: 2e3, free_length_m: 0.025, solid_length_m: 0.015 };
    Mechanism { spring, ..with_shaft_spring(0.0, 0.0) }
}

fn setting(opening_mm: f64, closing_mm: f64) -> Setting {
    Setting { opening_slack_m: opening_mm * 1e-3, closing_slack_m: closing_mm * 1e-3 }
}

#[track_caller]
fn close(ours: f64, by_hand: f64) {
    assert!((ours - by_hand).abs() <= 1e-12 * by_hand.abs().max(1.0), "{ours} against {by_hand} by hand");
}

#[test]
fn exact_one_wire_against_a_constant_spring() {
    // 0.2 N·m on 20 mm is 10 N, which stretches the wire by 0.1 mm: (20 - 1 - 0.1) mm on 20 mm is 0.945 rad.
    let full = with_shaft_spring(0.2, 0.0).solve(setting(1.0, 5.0), 1.0, Direction::Rising);
    close(full.valve_travel_rad, 0.945);
    close(full.opening_tension_valve_n, 10.0);
    close(full.opening_stretch_m * 1e3, 0.1);
    close(full.servo_torque_n_m, 0.2);
    close(full.torque_margin, 20.0);
    close(full.tooth_load_n.unwrap(), 20.0);
    assert!(full.closing_wire_slack && !full.opening_wire_slack && !full.on_pin);
}

#[test]
fn exact_nearly_rigid_wires_copy_the_servo_less_the_slack() {
    let mut mechanism = with_shaft_spring(0.2, 0.0);
    mechanism.opening.wire_stiffness_n_per_m = 1e11;
    mechanism.opening.valve_radius_m = 0.010;
    // Half the radius, twice the angle; 2 mm of slack are 0.2 rad of it.
    let state = mechanism.solve(setting(2.0, 50.0), 0.6, Direction::Rising);
    assert!((state.valve_travel_rad - 1.0).abs() < 1e-7, "{}", state.valve_travel_rad);
}

#[test]
fn exact_120_degrees_on_15_mm_are_90_degrees_on_20_mm() {
    let mut mechanism = with_shaft_spring(0.2, 0.0);
    mechanism.opening.servo_radius_m = 0.015;
    mechanism.opening.wire_stiffness_n_per_m = 1e12;
    // 10 N stretch so stiff a wire by 1e-11 m, which is 5e-10 rad on 20 mm.
    let state = mechanism.solve(setting(0.0, 50.0), 120f64.to_radians(), Direction::Rising);
    assert!((state.valve_travel_rad - 90f64.to_radians()).abs() < 6e-10);
}

#[test]
fn exact_pin_carries_what_friction_leaves() {
    // Spring 0.2 N·m, friction 0.05: at least 0.15 on the pin. The wire lifts at 0.25 N·m: 12.5 N, 0.125 mm of stretch.
    let mechanism = with_shaft_spring(0.2, 0.05);
    let parked = mechanism.solve(setting(1.0, 5.0), 0.0, Direction::Falling);
    close(parked.pin_torque_n_m, 0.15);
    close(parked.friction_torque_n_m, 0.05);
    assert!(parked.on_pin && parked.opening_wire_slack);
    close(mechanism.lost_motion_rad(setting(1.0, 5.0)).unwrap(), 1.125 / 20.0);
    // Coming back it is down at 0.15 N·m: 7.5 N, 0.075 mm.
    close(mechanism.reseat_rad(setting(1.0, 5.0)).unwrap(), 1.075 / 20.0);
    // Between those two the valve is held by friction alone: nothing sure is left on the pin.
    let held = mechanism.solve(setting(1.0, 5.0), 1.1 / 20.0, Direction::Rising);
    assert!(held.on_pin);
    close(held.pin_torque_n_m, 0.0);
    close(held.friction_torque_n_m, 0.2 - 0.1e-3 * 100e3 * 0.020);
}

#[test]
fn exact_friction_makes_a_band_and_play_at_full() {
    // Rising 0.4 N·m: 20 N, 0.2 mm. Falling 0.2 N·m: 10 N, 0.1 mm. The band is 0.1 mm on 20 mm.
    let mechanism = with_shaft_spring(0.3, 0.1);
    let at = setting(0.0, 5.0);
    close(mechanism.band_rad(at, 0.5), 0.005);
    close(mechanism.play_at_full_rad(at).unwrap(), 0.005);
    let sweep = mechanism.sweep(at, 1001);
    let back = |index: usize| sweep.points[index].returning_valve_rad;
    close(back(1000), 0.99);
    close(back(997), 0.99);
    close(back(500), 0.495);
}

#[test]
fn exact_over_travel_is_past_flush() {
    close(with_shaft_spring(0.2, 0.0).over_travel_rad(setting(1.0, 5.0), 0.9), 0.045);
}

#[test]
fn exact_spring_on_the_adjuster_floats_and_goes_solid() {
    // Spring 2 N/mm and wire 100 N/mm in series: 100/51 N/mm. 5.1 mm taken up: 10 N, spring 5 mm, wire 0.1 mm.
    let mechanism = with_adjuster_spring();
    let floating = mechanism.solve(setting(3.0, -5.1), 0.0, Direction::Falling);
    close(floating.closing_tension_valve_n, 10.0);
    close(floating.spring_compression_m.unwrap() * 1e3, 5.0);
    close(floating.spring_left_m.unwrap() * 1e3, 5.0);
    close(floating.pin_torque_n_m, 0.2);
    assert!(!floating.closing_wire_taut && !floating.closing_wire_slack);
    // Solid at 20 N and 10.2 mm; another 0.3 mm stretch the wire alone: 50 N.
    let solid = mechanism.solve(setting(3.0, -10.5), 0.0, Direction::Falling);
    close(solid.closing_tension_valve_n, 50.0);
    close(solid.spring_left_m.unwrap(), 0.0);
    assert!(solid.closing_wire_taut);
    // Slack to spare: the spring is unseated.
    assert!(mechanism.solve(setting(3.0, 0.5), 0.0, Direction::Falling).closing_wire_slack);
}

#[test]
fn exact_equal_pulleys_hold_the_spring_length_over_the_travel() {
    // Equal pulleys wind one wire as they pay out the other. The spring's 10 N stretch the opening wire by 0.1 mm,
    // which the closing side gives back: 5.2 mm at the pin end as 5.1 mm under way.
    let mechanism = with_adjuster_spring();
    let way = mechanism.solve(setting(0.0, -5.2), 0.7, Direction::Rising);
    close(way.closing_tension_valve_n, 10.0);
    close(way.opening_tension_valve_n, 10.0);
    close(way.valve_travel_rad, 0.7 - 0.1 / 20.0);
    close(way.servo_torque_n_m, 0.0);
}

#[test]
fn exact_unequal_pulleys_make_the_closing_side_taut() {
    // Closing: 20 mm on the valve, 15 mm on the servo. Spring solid at 10.2 mm of take-up; from 5.1 mm at the start
    // 5 mm per radian are taken up, so that just past 1.02 rad of valve travel it is solid.
    let mut mechanism = with_adjuster_spring();
    mechanism.closing.servo_radius_m = 0.015;
    mechanism.opening.wire_stiffness_n_per_m = 1e11;
    mechanism.servo_travel_rad = 1.2;
    let at = setting(0.0, -5.1);
    assert!(!mechanism.solve(at, 1.01, Direction::Rising).closing_wire_taut);
    assert!(mechanism.solve(at, 1.03, Direction::Rising).closing_wire_taut);
    let worst = mechanism.extremes(at);
    assert!(worst.closing_wire_taut && !worst.closing_wire_slack);
    // At full 5.1 + 6 = 11.1 mm: 20 N + 0.9 mm · 100 N/mm.
    assert!((worst.closing_tension_max_n - 110.0).abs() < 1e-3, "{}", worst.closing_tension_max_n);
    assert!((worst.closing_tension_min_n - 10.0).abs() < 1e-3);
}

#[test]
fn exact_slack_for_a_wanted_place_and_spring_length() {
    let mechanism = with_adjuster_spring();
    // Spring 20 mm long: 10 N, so the wire adds 0.1 mm: 5.1 mm taken up.
    let slack_m = mechanism.closing_slack_for_spring_length(0.020, 0.0, 0.0, Direction::Falling).unwrap();
    close(slack_m * 1e3, -5.1);
    // Servo 0.7 rad, valve 0.69 rad: closing take-up 5.1 - 0.2 = 4.9 mm, 4.9 · 100/51 N; the opening wire as much.
    let opening_m = mechanism.opening_slack_for(slack_m, 0.69, 0.7, Direction::Rising).unwrap();
    close(opening_m * 1e3, 0.2 - 4.9 / 51.0);
}

#[test]
fn exact_end_stop_carries_the_over_pull() {
    // End at 0.9 rad; the wire is wound 20 mm, 18 mm are used: 2 mm of stretch, 200 N, 4 N·m less 0.2 and friction 0.1.
    let mechanism = Mechanism { mechanical_end_rad: 0.9, ..with_shaft_spring(0.2, 0.1) };
    let full = mechanism.solve(setting(0.0, 5.0), 1.0, Direction::Rising);
    assert!(full.on_end);
    close(full.end_torque_n_m, 3.7);
    close(full.servo_torque_n_m, 4.0);
    close(full.torque_margin, 1.0);
    close(full.friction_torque_n_m, -0.1);
}

#[test]
fn exact_a_valve_that_nothing_pulls_stays_where_it_was_dragged() {
    // No spring, no friction: 1 mm of slack in each wire. At half a radian (10 mm) the opening wire has dragged the
    // valve to 9 mm; coming back the closing wire has dragged it to 11 mm.
    let mechanism = with_shaft_spring(0.0, 0.0);
    let at = setting(1.0, 1.0);
    close(mechanism.solve(at, 0.5, Direction::Rising).valve_travel_rad, 0.45);
    close(mechanism.solve(at, 0.5, Direction::Falling).valve_travel_rad, 0.55);
    close(mechanism.lost_motion_rad(at).unwrap(), 0.05);
    close(mechanism.reseat_rad(at).unwrap(), -0.05);
    close(mechanism.play_at_full_rad(at).unwrap(), 0.10);
}

#[test]
fn exact_friction_drags_both_wires() {
    // As before with 0.02 N·m of friction: each wire pulls 1 N while it drags, and stretches by 0.01 mm.
    let mechanism = with_shaft_spring(0.0, 0.02);
    let at = setting(1.0, 1.0);
    let rising = mechanism.solve(at, 0.5, Direction::Rising);
    close(rising.valve_travel_rad, 0.45 - 0.0005);
    close(rising.opening_tension_valve_n, 1.0);
    let falling = mechanism.solve(at, 0.5, Direction::Falling);
    close(falling.valve_travel_rad, 0.55 + 0.0005);
    close(falling.servo_torque_n_m, -0.02);
}

#[test]
fn refuses_what_cannot_be() {
    let mechanism = Mechanism { mechanical_end_rad: 1.2, ..with_adjuster_spring() };
    let beyond = mechanism.opening_slack_for(0.0, 1.3, 1.0, Direction::Rising).unwrap_err();
    assert!(matches!(beyond, InverseError::OffRange { .. }));
    assert_eq!(
        mechanism.closing_slack_for(-1.0, 0.0, 0.0, Direction::Falling).unwrap_err().to_string(),
        "a closing tension of -1.0 N cannot be: a wire only pulls; ask for 0 N or more"
    );
    assert_eq!(
        mechanism
            .closing_slack_for_spring_length(0.014, 0.0, 0.0, Direction::Falling)
            .unwrap_err()
            .to_string(),
        "spring length 14.00 mm cannot be: it must lie between solid (15.00 mm) and free (25.00 mm); measure the \
         spring again"
    );
    let blown = Mechanism { gas_torque_n_m: 0.5, ..with_shaft_spring(0.2, 0.0) };
    assert!(matches!(
        blown.opening_slack_for(50e-3, 0.5, 0.5, Direction::Rising),
        Err(InverseError::NoPull { .. })
    ));
}

#[test]
fn exact_gas_that_nothing_holds_is_said() {
    let mut mechanism = Mechanism { gas_torque_n_m: 0.5, ..with_shaft_spring(0.2, 0.0) };
    assert!(!mechanism.solve(setting(0.0, 1.0), 0.5, Direction::Rising).unrestrained);
    mechanism.closing.valve_radius_m = 0.0;
    let blown = mechanism.solve(setting(0.0, 1.0), 0.5, Direction::Rising);
    assert!(blown.unrestrained && blown.valve_travel_rad.is_finite());
}

#[test]
fn refuses_to_panic_on_figures_that_are_none() {
    let odd = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -1.0, 1e300];
    let base = with_adjuster_spring();
    for x in odd {
        let mut cases = [base; 9];
        cases[0].opening.servo_radius_m = x;
        cases[1].closing.valve_radius_m = x;
        cases[2].opening.wire_stiffness_n_per_m = x;
        cases[3].closing.friction = x;
        cases[4].mount_stiffness_n_per_m = x;
        cases[5].mechanical_end_rad = x;
        cases[6].shaft_friction_n_m = x;
        cases[7].servo_travel_rad = x;
        cases[8].spring = Spring::ClosingAdjuster { rate_n_per_m: x, free_length_m: x, solid_length_m: 0.01 };
        for mechanism in cases {
            for direction in [Direction::Rising, Direction::Falling] {
                for at in [setting(1.0, -2.0), setting(x, x)] {
                    mechanism.solve(at, 0.5, direction);
                    mechanism.solve(at, x, direction);
                    Regime::new(&mechanism, direction).servo_travel_for(at, 0.5);
                    let _ = mechanism.opening_slack_for(x, 0.5, x, direction);
                    let _ = mechanism.closing_slack_for(x, 0.5, x, direction);
                    mechanism.extremes(at);
                    mechanism.sweep(at, 3);
                }
            }
        }
    }
}
