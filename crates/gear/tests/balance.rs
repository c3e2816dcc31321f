//! The solver against bisection of the same equations, against hand-worked cases, and its order.

mod bisection;

use bisection::Slow;
use gear::{CableLine, Direction, Mechanism, Regime, Setting, Spring, State};
use proptest::prelude::*;

const DIRECTIONS: [Direction; 2] = [Direction::Rising, Direction::Falling];

fn any_cable() -> impl Strategy<Value = CableLine> {
    (8e-3..30e-3f64, 8e-3..30e-3f64, 4.0..7.0f64, 4.0..7.0f64, 0.0..7.0f64, 0.0..0.25f64).prop_map(
        |(servo_radius_m, valve_radius_m, wire, sheath, bends_rad, friction)| CableLine {
            servo_radius_m,
            valve_radius_m,
            wire_stiffness_n_per_m: 10f64.powf(wire),
            sheath_stiffness_n_per_m: 10f64.powf(sheath),
            bends_rad,
            friction,
        },
    )
}

fn any_spring() -> impl Strategy<Value = Spring> {
    prop_oneof![
        (0.0..0.5f64, 0.0..0.4f64)
            .prop_map(|(at_closed_n_m, rate_n_m_per_rad)| Spring::Shaft { at_closed_n_m, rate_n_m_per_rad }),
        (200.0..20e3f64, 10e-3..30e-3f64, 0.3..0.95f64).prop_map(|(rate_n_per_m, free_length_m, share)| {
            Spring::ClosingAdjuster { rate_n_per_m, free_length_m, solid_length_m: share * free_length_m }
        }),
    ]
}

fn any_mechanism() -> impl Strategy<Value = Mechanism> {
    (
        any_cable(),
        any_cable(),
        any_spring(),
        0.0..0.1f64,
        4.0..7.0f64,
        -0.1..0.1f64,
        prop_oneof![Just(f64::INFINITY), 0.3..2.5f64],
        0.5..3.0f64,
    )
        .prop_map(|(opening, closing, spring, friction, mount, gas, end, travel)| Mechanism {
            opening,
            closing,
            spring,
            shaft_friction_n_m: friction,
            mount_stiffness_n_per_m: 10f64.powf(mount),
            gas_torque_n_m: gas,
            mechanical_end_rad: end,
            servo_travel_rad: travel,
            stall_torque_n_m: 5.0,
            last_gear_radius_m: Some(0.02),
        })
}

fn any_setting() -> impl Strategy<Value = Setting> {
    (-3e-3..6e-3f64, -8e-3..8e-3f64)
        .prop_map(|(opening_slack_m, closing_slack_m)| Setting { opening_slack_m, closing_slack_m })
}

/// Sum of all torques on the valve pulley over the greatest of them, from the reported figures alone.
fn residual(mechanism: &Mechanism, state: &State) -> f64 {
    let torques = [
        mechanism.opening.valve_radius_m * state.opening_tension_valve_n,
        -mechanism.closing.valve_radius_m * state.closing_tension_valve_n,
        -state.spring_torque_n_m,
        mechanism.gas_torque_n_m,
        state.friction_torque_n_m,
        state.pin_torque_n_m,
        -state.end_torque_n_m,
    ];
    let greatest = torques.iter().fold(1e-30_f64, |most, torque| most.max(torque.abs()));
    torques.iter().sum::<f64>().abs() / greatest
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn agrees_with_bisection(m in any_mechanism(), s in any_setting(), share in -0.1..1.2f64) {
        let servo = share * m.servo_travel_rad;
        for direction in DIRECTIONS {
            let state = m.solve(s, servo, direction);
            let by_halves = Slow::new(&m, direction);
            let slow = by_halves.valve_travel_rad(s, servo);
            prop_assert!((state.valve_travel_rad - slow).abs() < 1e-11, "{} against {slow}", state.valve_travel_rad);
            let (opening_n, closing_n) = by_halves.tensions_n(s, servo, slow);
            // Bisection knows travel to 1e-15 rad; a stiffness up to 1e7 N/m at 30 mm turns that into 1e-9 N.
            prop_assert!((state.opening_tension_valve_n - opening_n).abs() < 1e-7);
            prop_assert!((state.closing_tension_valve_n - closing_n).abs() < 1e-7);
        }
    }

    #[test]
    fn conserves_the_torque_balance(m in any_mechanism(), s in any_setting(), share in 0.0..1.0f64) {
        for direction in DIRECTIONS {
            let state = m.solve(s, share * m.servo_travel_rad, direction);
            prop_assert!(residual(&m, &state) < 1e-12, "{:e} in {state:?}", residual(&m, &state));
            prop_assert!(state.friction_torque_n_m.abs() <= m.shaft_friction_n_m * (1.0 + 1e-12) + 1e-15);
            prop_assert!(state.pin_torque_n_m == 0.0 || state.on_pin);
            prop_assert!(state.end_torque_n_m == 0.0 || state.on_end);
            prop_assert!(state.valve_travel_rad >= 0.0 && state.valve_travel_rad <= m.mechanical_end_rad);
        }
    }

    #[test]
    fn conserves_the_torque_balance_of_nearly_rigid_cables(m in any_mechanism(), s in any_setting(), share in 0.0..1.0f64) {
        let mut m = m;
        for cable in [&mut m.opening, &mut m.closing] {
            (cable.wire_stiffness_n_per_m, cable.sheath_stiffness_n_per_m) = (1e14, 1e14);
        }
        m.mount_stiffness_n_per_m = 1e14;
        for direction in DIRECTIONS {
            let state = m.solve(s, share * m.servo_travel_rad, direction);
            prop_assert!(residual(&m, &state) < 1e-12, "{:e} in {state:?}", residual(&m, &state));
        }
    }

    #[test]
    fn agrees_with_the_order_of_things(
        m in any_mechanism(), s in any_setting(), a in 0.0..1.0f64, b in 0.0..1.0f64, less in 0.0..2e-3f64,
    ) {
        let (low, high) = (a.min(b) * m.servo_travel_rad, a.max(b) * m.servo_travel_rad);
        let tighter = Setting { opening_slack_m: s.opening_slack_m - less, ..s };
        for direction in DIRECTIONS {
            let here = m.solve(s, low, direction).valve_travel_rad;
            prop_assert!(m.solve(s, high, direction).valve_travel_rad >= here - 1e-12, "more servo travel closes");
            prop_assert!(m.solve(tighter, low, direction).valve_travel_rad >= here - 1e-12, "less slack closes");
        }
        prop_assert!(m.band_rad(s, low) >= -1e-12, "falling lies below rising");
    }

    #[test]
    fn round_trips_servo_travel(m in any_mechanism(), s in any_setting(), share in 0.0..1.0f64) {
        for direction in DIRECTIONS {
            let servo = share * m.servo_travel_rad;
            let state = m.solve(s, servo, direction);
            if state.on_pin || state.on_end || (state.opening_wire_slack && state.closing_wire_slack) {
                continue;
            }
            let back = Regime::new(&m, direction).servo_travel_for(s, state.valve_travel_rad).unwrap();
            prop_assert!((back - servo).abs() < 1e-10, "{servo} came back as {back}");
        }
    }

    #[test]
    fn round_trips_opening_slack(m in any_mechanism(), s in any_setting(), share in 0.0..1.0f64) {
        for direction in DIRECTIONS {
            let servo = share * m.servo_travel_rad;
            let state = m.solve(s, servo, direction);
            if state.on_pin || state.on_end || state.opening_wire_slack {
                continue;
            }
            let slack = m.opening_slack_for(s.closing_slack_m, state.valve_travel_rad, servo, direction).unwrap();
            prop_assert!((slack - s.opening_slack_m).abs() < 1e-12, "{} came back as {slack}", s.opening_slack_m);
        }
    }

    #[test]
    fn round_trips_closing_slack(m in any_mechanism(), s in any_setting(), share in 0.0..1.0f64) {
        for direction in DIRECTIONS {
            let servo = share * m.servo_travel_rad;
            let state = m.solve(s, servo, direction);
            if state.closing_wire_slack {
                continue;
            }
            let wanted = state.closing_tension_valve_n;
            let slack = m.closing_slack_for(wanted, state.valve_travel_rad, servo, direction).unwrap();
            prop_assert!((slack - s.closing_slack_m).abs() < 1e-12, "{} came back as {slack}", s.closing_slack_m);
        }
    }

    #[test]
    fn exact_pieces_between_kinks_are_straight(m in any_mechanism(), s in any_setting()) {
        for direction in DIRECTIONS {
            let regime = Regime::new(&m, direction);
            let mut kinks = regime.kinks_rad(s, 0.0, m.servo_travel_rad);
            kinks.sort_by(f64::total_cmp);
            for pair in kinks.windows(2) {
                let [low, middle, high] =
                    [pair[0], 0.5 * (pair[0] + pair[1]), pair[1]].map(|servo| regime.solve(s, servo));
                let straight = |of: fn(&State) -> f64, scale: f64| {
                    (of(&middle) - 0.5 * (of(&low) + of(&high))).abs() < 1e-9 * scale
                };
                prop_assert!(straight(|state| state.valve_travel_rad, 1.0), "travel {low:?} {middle:?} {high:?}");
                let scale = 1.0 + high.opening_tension_valve_n.max(low.closing_tension_valve_n);
                prop_assert!(straight(|state| state.opening_tension_valve_n, scale), "{low:?} {middle:?} {high:?}");
                prop_assert!(straight(|state| state.closing_tension_valve_n, scale), "{low:?} {middle:?} {high:?}");
            }
        }
    }

    #[test]
    fn agrees_extremes_are_those_of_a_walk_up_and_back(m in any_mechanism(), s in any_setting()) {
        let worst = m.extremes(s);
        let sweep = m.sweep(s, 401);
        let parked_rad = sweep.points[0].falling.valve_travel_rad;
        let full_rad = sweep.points[400].rising.valve_travel_rad;
        let up = sweep.points.iter().map(|point| point.rising).filter(|state| state.valve_travel_rad >= parked_rad);
        let down = sweep.points.iter().map(|point| point.falling).filter(|state| state.valve_travel_rad <= full_rad);
        let (mut tension_n, mut slack_m, mut servo_n_m) = (0.0_f64, f64::INFINITY, 0.0_f64);
        for state in up.chain(down) {
            tension_n = tension_n.max(state.closing_tension_valve_n).max(state.closing_tension_servo_n);
            slack_m = slack_m.min(-state.closing_stretch_m);
            servo_n_m = servo_n_m.max(state.servo_torque_n_m.abs());
            prop_assert!(-state.closing_stretch_m <= worst.closing_slack_max_m + 1e-12);
            prop_assert!(state.closing_tension_valve_n >= worst.closing_tension_min_n * (1.0 - 1e-9) - 1e-9);
        }
        prop_assert!(tension_n <= worst.closing_tension_max_n * (1.0 + 1e-9) + 1e-9);
        prop_assert!(servo_n_m <= worst.servo_torque_max_n_m * (1.0 + 1e-9) + 1e-9);
        prop_assert!(slack_m >= worst.closing_slack_min_m - 1e-12);
        // One step of the walk moves less than 3 rad / 400 · 60 mm of wire: no extreme lies further off than that,
        // unless the walk never left the place where it turned round.
        if slack_m.is_finite() {
            prop_assert!(slack_m <= worst.closing_slack_min_m + 0.45e-3, "{slack_m} {}", worst.closing_slack_min_m);
        }
    }
}
