//! A rigid gear without friction: what each procedure leaves follows from lengths and angles alone.

use super::{rigid, rigid_with_shaft_spring, run, sure};
use crate::procedure::{Measure, Outcome, Scope, Signs};
use engine::valve_law::ValveLaw;

/// Radius of all pulleys of the demo engine, m.
const RADIUS_M: f64 = 15e-3;
/// Full servo travel, rad.
const FULL_DEG: f64 = 75.0;
/// Mechanical end, degrees.
const END_DEG: f64 = 85.0;
/// Lengths agree to a tenth of a micrometre: a wire of 10^12 N/m gives a picometre per newton, and the pull is below
/// 10^5 N even where the rigid parts are forced against each other.
const CLOSE_M: f64 = 1e-7;

fn best(key: &str) -> Outcome {
    run(&rigid(), &sure(), key, Scope::ThisEngine).best().unwrap()
}

/// Travel at which the edge stands above flush by this much, from the blade's own law, rad.
fn travel_rad(above_flush_m: f64) -> f64 {
    let reach_m = 4.58e-3 * 25f64.to_radians().cos();
    ((4.5e-3 + above_flush_m) / reach_m + (-33f64).to_radians().sin()).asin() + 33f64.to_radians()
}

fn edge_m(travel_rad: f64) -> f64 {
    ValveLaw::of(&rigid().valve).lift_m(travel_rad) - 4.5e-3
}

/// Edge at full travel when the opening slack is this.
fn edge_with_slack_m(slack_m: f64) -> f64 {
    edge_m(FULL_DEG.to_radians() - slack_m / RADIUS_M)
}

fn near(key: &str, measure: Measure, expected: f64, tolerance: f64) {
    let ours = best(key).value(measure);
    assert!(
        (ours - expected).abs() < tolerance,
        "{key}, {measure:?}: {ours} where {expected} follows by hand"
    );
}

#[test]
fn exact_a_valve_held_flush_comes_flush() {
    for key in ["flush-held", "cylinder-off", "port-under-load", "depth-gauge", "high-and-pin"] {
        near(key, Measure::EdgeAtFull, 0.0, CLOSE_M);
        let slack_m = RADIUS_M * (FULL_DEG.to_radians() - travel_rad(0.0));
        near(key, Measure::OpeningSlack, slack_m, CLOSE_M);
        near(key, Measure::LostMotion, slack_m / RADIUS_M, 1e-5);
        near(key, Measure::RestTension, 0.0, 1e-12);
    }
}

#[test]
fn exact_a_gear_set_at_its_closed_end_keeps_just_that_slack() {
    // Half a millimetre of play; a quarter turn and half a turn of a millimetre thread.
    for (key, slack_m) in
        [("park-and-pin", 0.5e-3), ("equal-wire", 0.5e-3), ("against-stop", 0.25e-3), ("just-lifts", 0.5e-3)]
    {
        near(key, Measure::OpeningSlack, slack_m, CLOSE_M);
        near(key, Measure::EdgeAtFull, edge_with_slack_m(slack_m), CLOSE_M);
    }
}

#[test]
fn exact_a_valve_taken_up_at_its_end_stays_there_and_never_closes() {
    let end_rad = END_DEG.to_radians();
    near("seat-at-end", Measure::EdgeAtFull, edge_m(end_rad), CLOSE_M);
    // With the servo parked the rigid wire holds the pulley where end and full travel leave it: 10 degrees.
    let parked_m = edge_m(end_rad - FULL_DEG.to_radians()) + 4.5e-3;
    near("seat-at-end", Measure::EdgeAtClosed, parked_m, CLOSE_M);
    assert!(best("seat-at-end").signs.shows(Signs::OFF_PIN));
    // Half a turn of a millimetre thread short of it.
    near("running", Measure::EdgeAtFull, edge_m(end_rad - 0.5e-3 / RADIUS_M), CLOSE_M);
}

#[test]
fn exact_the_gap_as_found_gives_the_edge_as_found() {
    // The demo engine was found with a gap of 12 mm and its edge 0.44 mm above flush; the rule wants 12 mm.
    near("fixed-gap", Measure::EdgeAtFull, 0.44e-3, CLOSE_M);
}

#[test]
fn exact_index_marks_with_a_millimetre_of_play() {
    // The mark stood 0.8 mm past its line, on a circle of 18 mm, when the edge stood 0.44 mm above flush.
    let line_rad = travel_rad(0.44e-3) - 0.8 / 18.0;
    near("index-marks", Measure::EdgeAtFull, edge_m(line_rad - 1e-3 / RADIUS_M), CLOSE_M);
}

#[test]
fn exact_a_spring_pushed_with_fifteen_newton_is_pressed_ten_millimetres() {
    let outcome = best("park-and-pin");
    // 15 N at 1.5 N/mm; the closing wire of equal radii pays out what the valve takes, less the opening slack.
    assert!((outcome.setting.closing_slack_m + 10e-3).abs() < CLOSE_M, "{outcome:?}");
    let least_n = 15.0 - 1500.0 * 0.5e-3;
    assert!((outcome.value(Measure::SeatTension) - least_n).abs() < 1e-3, "{outcome:?}");
    // Opening and closing tension balance at equal radii when nothing rubs.
    assert!((outcome.value(Measure::ServoTorque) - 15.0 * RADIUS_M).abs() < 1e-5, "{outcome:?}");
}

#[test]
fn exact_one_turn_short_of_solid() {
    let outcome = best("flush-held");
    // 30 to 12 mm is 18 mm of spring travel; one turn of a millimetre thread is left.
    assert!((outcome.setting.closing_slack_m + 17e-3).abs() < CLOSE_M, "{outcome:?}");
}

#[test]
fn exact_equal_bare_wire() {
    // As found: gaps of 12 and 14 mm, spring 14.5 mm long, so its cable is taken up by 15.5 mm at closed park.
    let outcome = best("equal-wire");
    let found_slack_m = RADIUS_M * (FULL_DEG.to_radians() - travel_rad(0.44e-3));
    let bare_m = 12e-3 + found_slack_m - 0.5e-3;
    let closing_m = 14e-3 - 15.5e-3 - bare_m;
    assert!((outcome.setting.closing_slack_m - closing_m).abs() < CLOSE_M, "{outcome:?}");
}

#[test]
fn exact_play_in_the_closing_wire_of_a_shaft_spring() {
    // Radii of 16 mm on the servo and 15 mm on the valve. A millimetre of play at full travel with the valve at its
    // end: from there to park the servo takes in 16·θ and the valve gives out 15·φ.
    let engine = rigid_with_shaft_spring();
    let outcome = run(&engine, &sure(), "seat-at-end", Scope::ThisEngine).best().unwrap();
    let grows_m = 16e-3 * FULL_DEG.to_radians() - RADIUS_M * END_DEG.to_radians();
    let slack_m = 1e-3 - grows_m;
    assert!((outcome.setting.closing_slack_m - slack_m).abs() < CLOSE_M, "{outcome:?}");
}
