//! What must hold for any hand and any gear.

use super::{demo, run, sure};
use crate::procedure::{Measure, Procedures, Scope, Until, drivers};
use evidence::sensitivity::Design;
use proptest::prelude::*;

/// What comes of a procedure at best values when every pull of the hand at the opening adjuster is this.
fn with_pull(key: &str, pull_n: f64) -> crate::procedure::Outcome {
    let mut procedures = sure();
    for step in procedures.procedures.iter_mut().flat_map(|procedure| &mut procedure.steps) {
        if let (Until::Pull(at), crate::procedure::Side::Opening) = (&mut step.until, step.turn) {
            at.value = pull_n;
        }
    }
    run(&demo(), &procedures, key, Scope::ThisEngine).best().unwrap()
}

#[test]
fn practice_a_harder_pull_raises_edge_and_tension() {
    for key in ["seat-at-end", "flush-held", "cylinder-off", "against-stop"] {
        let mut before = with_pull(key, 0.0);
        for pull_n in [5.0, 10.0, 20.0, 40.0, 80.0] {
            let now = with_pull(key, pull_n);
            assert!(now.setting.opening_slack_m < before.setting.opening_slack_m, "{key} at {pull_n} N");
            for measure in [Measure::EdgeAtFull, Measure::RestTension] {
                assert!(
                    now.value(measure) >= before.value(measure) - 1e-12,
                    "{key} {measure:?} at {pull_n} N"
                );
            }
            before = now;
        }
        assert!(
            before.value(Measure::WireTension) > with_pull(key, 0.0).value(Measure::WireTension),
            "{key}"
        );
    }
}

#[test]
fn practice_turning_back_gives_that_much_slack() {
    let slack_m = |turns: f64| {
        let mut procedures = sure();
        for step in procedures.procedures.iter_mut().flat_map(|procedure| &mut procedure.steps) {
            step.back.value = turns * std::f64::consts::TAU;
        }
        run(&demo(), &procedures, "against-stop", Scope::ThisEngine).best().unwrap().setting.opening_slack_m
    };
    // A millimetre thread.
    assert!((slack_m(1.25) - slack_m(0.25) - 1e-3).abs() < 1e-12);
}

#[test]
fn practice_the_home_slack_does_not_matter_once_both_adjusters_are_set() {
    let with = |home_m: f64, key: &str| {
        let mut procedures = sure();
        procedures.parts.home_slack.value = home_m;
        run(&demo(), &procedures, key, Scope::ThisEngine).best().unwrap()
    };
    for procedure in &Procedures::built_in().procedures {
        assert_eq!(with(6e-3, &procedure.key), with(12e-3, &procedure.key), "{}", procedure.key);
    }
}

#[test]
fn practice_lengths_drive_the_fixed_gap_and_the_reading_drives_the_port() {
    let (engine, procedures) = (demo(), Procedures::built_in());
    let first = |key: &str| {
        let run = run(&engine, &procedures, key, Scope::LikeEngines);
        let drivers = drivers(&run, Measure::EdgeAtFull);
        let sum: f64 = drivers.iter().map(|driver| driver.share).sum();
        assert!(sum > 0.98 && sum < 1.0 + 1e-9, "{key}: shares add up to {sum}");
        drivers[0].clone()
    };
    assert_eq!(first("fixed-gap").key, "parts.opening_length");
    assert_eq!(first("port-under-load").key, "step 2: edge read");
}

#[test]
fn agrees_drivers_with_the_variance_that_is_left_when_the_first_is_known() {
    let engine = demo();
    let spread = |procedures: &Procedures| {
        let run = run(&engine, procedures, "fixed-gap", Scope::LikeEngines);
        crate::procedure::Summary::of(&run.draw(0..20_000))
            .quantiles(Measure::EdgeAtFull)
            .unwrap()
            .standard_deviation
    };
    let mut procedures = Procedures::built_in();
    let share =
        drivers(&run(&engine, &procedures, "fixed-gap", Scope::LikeEngines), Measure::EdgeAtFull)[0].share;
    let all = spread(&procedures);
    procedures.parts.opening_length.u = 0.0;
    let left = spread(&procedures);
    // The valve's law bends, so the share of a straight line is good to a few per cent.
    assert!((1.0 - (left / all).powi(2) - share).abs() < 0.05, "{share} {left} {all}");
}

#[test]
fn agrees_variance_based_influences_with_the_shares_of_a_straight_line() {
    let (engine, procedures) = (demo(), Procedures::built_in());
    for (key, rows) in [("port-under-load", 400), ("cylinder-off", 400), ("fixed-gap", 1_500)] {
        let run = run(&engine, &procedures, key, Scope::LikeEngines);
        let design = Design { resamples: 0, ..Design::new(rows, 3) };
        let indices = run.influences(Measure::EdgeAtFull, design).unwrap();
        let (first, straight) = (indices.ranked()[0], &drivers(&run, Measure::EdgeAtFull)[0]);
        assert_eq!(first.name, straight.key, "{key}");
        // A share estimated from n rows is good to about 2/√n; the valve's law bends a little besides.
        let tolerance = 2.0 / (rows as f64).sqrt() + 0.02;
        assert!((first.total.value - straight.share).abs() < tolerance, "{key}: {first:?} {straight:?}");
    }
}

#[test]
fn refuses_influences_on_what_does_not_vary() {
    // Flush at full with the valve on its pin at park, always: the edge at park is zero in every draw.
    let run = run(&demo(), &Procedures::built_in(), "port-under-load", Scope::ThisEngine);
    assert!(run.influences(Measure::EdgeAtClosed, Design::new(50, 1)).is_err());
}

proptest! {
    #[test]
    fn practice_nothing_breaks_on_figures_far_off(
        scale in prop::collection::vec(0.0f64..4.0, 80), pick in 0usize..13
    ) {
        let mut engine = demo();
        let mut next = scale.iter().cycle();
        engine.for_each_figure(&mut |_, figure| figure.value *= next.next().copied().unwrap_or(1.0));
        let procedures = Procedures::built_in();
        let procedure = &procedures.procedures[pick];
        if let Ok(run) = crate::procedure::Run::new(&engine, &procedures, procedure, Scope::LikeEngines, 1) {
            let draws = run.draw(0..4);
            prop_assert_eq!(draws.count(), 4);
            // Tooth load is left out: a gear radius scaled to nothing is drawn below nothing half of the time.
            for measure in [Measure::WireTension, Measure::RestTension] {
                prop_assert!(draws.column(measure).iter().all(|value| value.is_nan() || *value >= 0.0));
            }
        }
    }
}
