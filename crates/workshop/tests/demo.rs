//! The demo engine from its file to the answer, and what changes when its file does.

mod engines;

use engines::{answer_to, changed, demo};
use quantity::Units;
use workshop::report::{GateState, Outcome};

#[test]
fn regress_the_demo_gets_a_setting_near_ten_millimetres() {
    let answer = demo();
    let report = &answer.report;
    assert_eq!(report.outcome, Outcome::Ready);
    assert!(report.questions.is_empty(), "{:?}", report.questions);
    // Common practice, no source: referenced to the port the gap came out at 10 mm where a rule asks for 12 mm.
    let gap = report.gap_rule.as_ref().unwrap();
    assert!((gap.target.value - 10.0e-3).abs() < 0.15e-3, "{}", gap.target.text);
    assert!(gap.text.contains("over-travels"), "{}", gap.text);
    assert!(report.findings.iter().any(|finding| finding.name == "Over-travel" && finding.serious));
    for demand in &report.demands {
        assert!(demand.met && demand.probability > 0.9, "{demand:?}");
    }
    for end in &report.ends {
        assert_eq!(end.proposed.as_ref().unwrap().verdict, "pass", "{end:?}");
    }
}

#[test]
fn exact_the_arithmetic_adds_up() {
    let answer = demo();
    let solution = answer.solution();
    let (case, setting) = (&solution.case, solution.proposed().unwrap());
    let flush = case.law.travel_rad(case.drop_m).unwrap();
    let full = case.mechanism.solve(setting, case.full_rad, gear::Direction::Rising);
    assert!((full.valve_travel_rad - flush).abs() < 1e-12);
    let opening = &case.mechanism.opening;
    let sum =
        opening.servo_radius_m * case.full_rad - opening.valve_radius_m * flush - full.opening_stretch_m;
    assert!((sum - setting.opening_slack_m).abs() < 1e-12);
    let slack = answer.report.arithmetic.iter().find(|line| line.what.starts_with("Free play")).unwrap();
    assert!(slack.result.starts_with(&format!("{:.2}", setting.opening_slack_m * 1e3)), "{slack:?}");
}

#[test]
fn round_trips_a_setting_that_was_made_is_left_alone() {
    // Put the predicted readings of the proposal in as found: the next answer must turn nothing and see no drift.
    let first = demo();
    let mut engine = first.engine_with_returns().unwrap();
    let made = engine.returns.clone().unwrap();
    engine.found = made;
    let second = answer_to(engine);
    assert!(second.report.headline.contains("Leave both adjusters"), "{}", second.report.headline);
    assert!(!second.report.drift.is_empty());
    assert!(second.report.drift.iter().all(|line| !line.real), "{:?}", second.report.drift);
    assert!(second.report.findings.is_empty(), "{:?}", second.report.findings);
}

#[test]
fn exact_a_shifted_gap_is_told_in_flats_and_the_way_back() {
    let mut engine = demo().engine_with_returns().unwrap();
    engine.found = engine.returns.clone().unwrap();
    // Half a millimetre on a 1 mm pitch is three flats; the gap grew, so the adjuster must go in: clockwise.
    engine.found.opening_gap.as_mut().unwrap().value += 0.5e-3;
    let report = answer_to(engine).report;
    let line = report.drift.iter().find(|line| line.name == "Gap at the opening adjuster").unwrap();
    assert!(line.real && line.text.contains("3.0 flats into its bracket, clockwise"), "{line:?}");
}

#[test]
fn exact_a_left_hand_thread_turns_the_other_way() {
    let right = demo();
    let left = changed(&[("hand = \"right\"", "hand = \"left\"")]);
    let turn = |answer: &workshop::Answer| {
        answer
            .report
            .steps
            .iter()
            .filter_map(|step| step.turn.clone())
            .find(|turn| turn.cable == "opening")
            .unwrap()
    };
    let (right, left) = (turn(&right), turn(&left));
    assert_eq!(right.effect, "into its bracket");
    assert_eq!(left.effect, right.effect);
    assert!(right.clockwise && !left.clockwise);
    assert_eq!(right.direction, "clockwise");
    assert_eq!(left.direction, "anticlockwise");
}

#[test]
fn exact_the_way_back_undoes_the_turns() {
    let report = demo().report;
    let turn = report
        .steps
        .iter()
        .filter_map(|step| step.turn.clone())
        .find(|turn| turn.cable == "opening")
        .unwrap();
    assert_eq!(turn.effect, "into its bracket");
    let back = format!("opening adjuster {:.1} flats out of its bracket (anticlockwise)", turn.flats);
    assert!(report.steps[0].action.contains(&back), "{}", report.steps[0].action);
}

#[test]
fn agrees_inch_and_metric_hold_the_same_numbers() {
    let reading = engine::file::read(engine::file::DEMO.as_bytes()).unwrap();
    let metric = workshop::answer(&reading, Units::Metric).report;
    let inch = workshop::answer(&reading, Units::Inch).report;
    for (a, b) in metric.returns.iter().zip(&inch.returns) {
        assert_eq!(a.figure.value, b.figure.value);
        assert_eq!(a.key, b.key);
    }
    assert!(inch.returns[0].figure.text.ends_with(" in"), "{}", inch.returns[0].figure.text);
    assert!(metric.returns[0].figure.text.ends_with(" mm"));
}

#[test]
fn refuses_to_go_on_with_a_proud_blade() {
    let report = changed(&[("proud_open = \"-0.7 ± 0.1 mm\"", "proud_open = \"0.2 ± 0.05 mm\"")]).report;
    assert_eq!(report.outcome, Outcome::GateStops);
    assert!(report.steps.is_empty());
    assert!(
        report.gates.iter().any(|gate| gate.state == GateState::Stop && gate.question.contains("fully open"))
    );
}

#[test]
fn refuses_to_pass_a_blade_that_may_be_proud() {
    let report = changed(&[("proud_open = \"-0.7 ± 0.1 mm\"", "proud_open = \"-0.02 ± 0.05 mm\"")]).report;
    assert_eq!(report.outcome, Outcome::GateOpen);
}

#[test]
fn refuses_to_go_on_when_the_piston_touches() {
    let report = changed(&[("turn_closed = \"clear\"", "turn_closed = \"touches\"")]).report;
    assert_eq!(report.outcome, Outcome::GateStops);
    assert!(report.steps.is_empty());
}

#[test]
fn exact_a_servo_that_works_the_oil_pump_is_re_checked() {
    let report = changed(&[("works_oil_pump = false", "works_oil_pump = true")]).report;
    assert_eq!(report.outcome, Outcome::GateOpen);
    assert!(report.steps.iter().any(|step| step.cautions.iter().any(|caution| caution.contains("oil pump"))));
}

#[test]
fn exact_without_a_reading_the_steps_say_turn_until() {
    let report = changed(&[
        ("edge_above_flush =", "# edge_above_flush ="),
        ("opening_play =", "# opening_play ="),
        ("spring_length =", "# spring_length ="),
    ])
    .report;
    assert_eq!(report.outcome, Outcome::ReadingMissing);
    assert!(report.headline.contains("edge at full travel"), "{}", report.headline);
    let opening = report.steps.iter().find(|step| step.title == "Opening cable").unwrap();
    assert!(opening.turn.is_none() && opening.action.contains("until the edge stands flush"), "{opening:?}");
    let closing = report.steps.iter().find(|step| step.title == "Closing cable").unwrap();
    assert!(closing.action.contains("until the spring on it is"), "{closing:?}");
}

#[test]
fn agrees_a_reading_at_the_port_makes_poor_geometry_harmless() {
    // Errors of servo travel and arm cancel when the edge itself was read; with only free play to go by they do not.
    let poor = [
        ("travel = \"75 ± 0.5°\"", "travel = \"75 ± 2°\""),
        ("arm = \"4.58 ± 0.01 mm\"", "arm = \"4.58 ± 0.08 mm\""),
    ];
    let by_play = [
        ("edge_above_flush =", "# edge_above_flush ="),
        ("opening_play = \"0.0 ± 0.1 mm\"", "opening_play = \"0.1 ± 0.1 mm\""),
    ];
    let width = |edits: &[(&str, &str)]| {
        changed(edits).report.ends[1].proposed.as_ref().unwrap().height.standard_uncertainty
    };
    let (edge, edge_poor) = (width(&[]), width(&poor));
    let (play, play_poor) = (width(&by_play), width(&[by_play, poor].concat()));
    assert!(edge_poor < 1.2 * edge, "{edge} to {edge_poor}");
    assert!(play_poor > 2.0 * play, "{play} to {play_poor}");
}

#[test]
fn exact_a_short_servo_is_told_with_the_part_that_must_change() {
    let report = changed(&[("travel = \"75 ± 0.5°\"", "travel = \"66 ± 0.5°\"")]).report;
    assert_eq!(report.outcome, Outcome::Conflict);
    assert!(report.steps.is_empty());
    let conflict = &report.conflicts[0];
    assert!(conflict.change.contains("servo travel of"), "{conflict:?}");
    assert!(conflict.between.iter().any(|name| name.contains("rests on its stop pin")), "{conflict:?}");
}

#[test]
fn exact_the_part_that_must_change_does_mend_the_conflict() {
    let short = changed(&[("travel = \"75 ± 0.5°\"", "travel = \"66 ± 0.5°\"")]);
    let text = &short.report.conflicts[0].change;
    let wanted: f64 = text
        .split("servo travel of ")
        .nth(1)
        .and_then(|rest| rest.split('°').next())
        .and_then(|number| number.trim().parse().ok())
        .unwrap();
    let longer = format!("travel = \"{:.1} ± 0.5°\"", wanted + 0.2);
    let mended = changed(&[("travel = \"75 ± 0.5°\"", &longer)]).report;
    assert!(mended.conflicts.is_empty(), "{text}: {:?}", mended.conflicts);
}

#[test]
fn exact_flush_past_the_mechanical_end_is_out_of_reach() {
    let report = changed(&[("mechanical_end = \"85 ± 1°\"", "mechanical_end = \"55 ± 1°\"")]).report;
    assert_eq!(report.outcome, Outcome::Conflict);
    assert!(report.conflicts[0].change.contains("lifts"), "{:?}", report.conflicts);
}

#[test]
fn exact_faults_are_named_from_the_present_state() {
    let names = |edits: &[(&str, &str)]| -> Vec<String> {
        changed(edits).report.findings.into_iter().map(|finding| finding.name).collect()
    };
    let open = names(&[("edge_above_closed = \"0.00 ± 0.05 mm\"", "edge_above_closed = \"0.60 ± 0.05 mm\"")]);
    assert!(open.contains(&"Valve starts open".to_owned()), "{open:?}");
    let solid =
        names(&[("spring_length = \"14.5 mm by calliper\"", "spring_length = \"12.0 mm by calliper\"")]);
    assert!(solid.contains(&"Taut closing cable".to_owned()), "{solid:?}");
    let low = names(&[("edge_above_flush = \"0.44 ± 0.05 mm\"", "edge_above_flush = \"-0.80 ± 0.05 mm\"")]);
    assert!(low.contains(&"Short of flush".to_owned()), "{low:?}");
    assert!(low.contains(&"Readings do not agree".to_owned()), "{low:?}");
    let sensor = names(&[(
        "sensor_open = \"3.90 kΩ ± (0.5 % + 2 digits)\"\nplay_felt",
        "sensor_open = \"3.40 kΩ ± (0.5 % + 2 digits)\"\nplay_felt",
    )]);
    assert!(sensor.contains(&"Actuator not at its end".to_owned()), "{sensor:?}");
}

#[test]
fn exact_questions_hold_the_steps_back() {
    let report = changed(&[("shaft_friction = \"0.06 ± 0.02 N·m\"", "shaft_friction = \"6 ± 2 N·m\"")]);
    let report = report.report;
    assert_eq!(report.outcome, Outcome::Questions);
    assert!(report.steps.is_empty() && !report.questions.is_empty());
}

#[test]
fn agrees_an_unknown_rod_widens_the_timing_and_is_named() {
    let known = demo();
    let unknown = changed(&[("rod_length = \"110.0 ± 0.1 mm\"", "rod_length = \"not known\"")]);
    let rod = |answer: &workshop::Answer| {
        answer
            .report
            .timing_budget
            .iter()
            .find(|line| line.key == "crank.rod_length")
            .map_or(0.0, |line| line.share)
    };
    assert!(rod(&unknown) > 0.5 && rod(&known) < 0.1, "{} and {}", rod(&unknown), rod(&known));
    assert!(unknown.report.assumptions.iter().any(|line| line.key.contains("rod_length")));
    // The setting of the edge does not depend on the rod at all.
    let turns = |answer: &workshop::Answer| answer.solution().turns.opening.unwrap();
    assert!((turns(&known) - turns(&unknown)).abs() < 1e-9);
}
