//! Slips of the trade and the questions they bring.

use super::*;

/// Asserts key and likely meaning of the only question, and that confirming its key silences it.
#[track_caller]
fn asks(text: &str, key: &str, likely: &str) {
    let question = asked(text);
    assert_eq!((question.key.as_str(), question.likely.as_str()), (key, likely));
    assert!(question.line.is_some());
    let listed = question.confirm.split('"').nth(1).unwrap();
    let sure = text.replacen("portwright = 1", &format!("portwright = 1\nsure = [\"{listed}\"]"), 1);
    assert_eq!(accepted(&sure).questions, []);
}

#[test]
fn practice_inches_for_millimetres() {
    asks(
        &demo_line("squish_clearance", "squish_clearance = \"0.3 in ± 0.01 in\""),
        "head.squish_clearance",
        "Likely meant: 0.762 mm would be usual, with the decimal sign moved.",
    );
    asks(
        &demo_line("opening_gap", "opening_gap = \"0.47 ± 0.01 mm\""),
        "found.opening_gap",
        "Likely meant: 11.94 mm would be usual, if inches were meant.",
    );
    asks(
        &demo_line("opening_gap", "opening_gap = \"7.5 in\""),
        "found.opening_gap",
        "Likely meant: 7.500 mm would be usual, with mm instead of inches.",
    );
}

#[test]
fn practice_whole_question_reads_like_a_sentence() {
    let question = asked(&demo_line("last_gear_radius", "last_gear_radius = \"90 mm\""));
    assert_eq!(
        question.to_string().split_once(", ").unwrap().1,
        "servo.last_gear_radius: '90 mm' was read; usual is 3 to 30 mm (common practice, no source). Likely meant: 9.000 mm would be usual, with the decimal sign moved. Mend it, or add \"servo.last_gear_radius\" to the list sure at the top of the file if it is right."
    );
}

#[test]
fn practice_a_thousand_times_off() {
    asks(
        &demo_line("sensor_open", "sensor_open = \"3.90 Ω\""),
        "servo.sensor_open",
        "Likely meant: 3.900 kΩ would be usual, with the decimal sign moved.",
    );
}

#[test]
fn practice_degrees_for_turns() {
    asks(
        &demo_line("bends", "bends = \"0.15°\""),
        "gear.opening.bends",
        "Likely meant: 54.00° would be usual, if turns were meant.",
    );
}

#[test]
fn practice_wrong_datum() {
    asks(
        &demo_line("duration", "roof_below_deck = \"12.9 mm\""),
        "port \"main transfer\".roof_below_deck",
        "Likely meant: roof_above_crown_at_bdc = \"12.9 mm\", which opens it for 129.9°.",
    );
    asks(
        &demo_line("duration", "roof_above_crown_at_bdc = \"42.1 mm\""),
        "port \"main transfer\".roof_above_crown_at_bdc",
        "Likely meant: roof_below_deck = \"42.1 mm\", which opens it for 129.9°.",
    );
}

#[test]
fn practice_before_for_after() {
    asks(
        &demo_line("duration", "opens_after_tdc = \"65°\""),
        "port \"main transfer\".opens_after_tdc",
        "Likely meant: opens_before_bdc = \"65°\", which opens it for 130.0°.",
    );
    asks(
        &demo_line("duration", "opens_before_bdc = \"115°\""),
        "port \"main transfer\".opens_before_bdc",
        "Likely meant: opens_after_tdc = \"115°\", which opens it for 130.0°.",
    );
}

#[test]
fn practice_duration_for_opening() {
    asks(
        &demo_line("duration", "opens_after_tdc = \"130°\""),
        "port \"main transfer\".opens_after_tdc",
        "Likely meant: duration = \"130°\", which opens it for 130.0°.",
    );
}

#[test]
fn practice_odd_timing_that_no_datum_explains() {
    asks(
        &demo_line("duration", "duration = \"170°\""),
        "port \"main transfer\".duration",
        "No other datum explains it; check stroke, deck clearance and the port's group as well.",
    );
}

#[test]
fn practice_chamfer_of_one_of_a_pair() {
    let side = |name: &str, roof: &str| {
        format!(
            "[[port]]\nname = \"{name}\"\ngroup = \"exhaust auxiliary\"\nwidth = \"9 mm\"\nroof_below_deck = \"{roof}\"\nfloor_below_deck = \"38 mm\"\ncorner_radius = \"2 mm\"\n\n[valve]"
        )
    };
    let text = demo_with("[valve]", &side("left side", "30.05 mm")).replacen(
        "[valve]",
        &side("right side", "29.50 mm"),
        1,
    );
    let question = asked(&text);
    assert_eq!(question.key, "port \"right side\".roof_below_deck");
    assert_eq!(
        question.text,
        "This port looks like the pair of \"left side\", but its roof lies 0.550 mm higher."
    );
    let text = text.replace("29.50 mm", "30.00 mm");
    assert_eq!(accepted(&text).questions, []);
}

#[test]
fn practice_ports_need_room() {
    asks(
        &demo_line("width", "width = \"52.0 mm\""),
        "port \"exhaust\".width",
        "Likely one width is too large, or count is given for ports that are also listed one by one.",
    );
}

#[test]
fn practice_rod_over_all() {
    asks(
        &demo_line("rod_length", "rod_length = \"150.0 mm\""),
        "crank.rod_length",
        "Likely the rod was measured over all instead of centre to centre, or one of the two belongs to another engine.",
    );
}

#[test]
fn practice_valve_that_cannot_reach() {
    let question = asked(&demo_line("travel", "travel = \"60 ± 0.5°\""));
    assert_eq!(question.key, "valve.arm");
    assert_eq!(
        question.text,
        "With no slack at all 60.00° of servo travel lift the valve by 4.145 mm, but flush needs 4.500 mm."
    );
}

#[test]
fn practice_wrong_sign() {
    let question = asked(&demo_line("arm_start", "arm_start = \"33.0 ± 0.3°\""));
    assert_eq!(question.key, "valve.arm_start");
    assert_eq!(question.text, "'33.0 ± 0.3°' was read; usual is −75° to 5° (common practice, no source).");
    assert_eq!(question.likely, "Likely meant: −33.00° would be usual, with the other sign.");
}

#[test]
fn practice_spring_longer_than_free() {
    asks(
        &demo_line("spring_length", "spring_length = \"32.0 mm\""),
        "found.spring_length",
        "Likely the gap or the thread was measured instead, or the free length is that of another spring.",
    );
}

#[test]
fn practice_swapped_sensor_readings() {
    let (servo, found) = DEMO.split_once("[found]").unwrap();
    let found = change(found, "sensor_closed", "sensor_closed = \"3.90 kΩ\"");
    let found = change(&found, "sensor_open", "sensor_open = \"0.62 kΩ\"");
    asks(
        &format!("{servo}[found]{found}"),
        "found.sensor_closed",
        "Likely the two readings changed places, or the leads were on the other end of the sensor.",
    );
}

#[test]
fn practice_figure_copied_beside_a_changed_one() {
    let found = change(
        &demo_line("opening_gap", "opening_gap = \"12.0 ± 0.1 mm\""),
        "opening_thread",
        "opening_thread = \"6.0 mm\"",
    );
    let with = |thread: &str| {
        format!("{found}\n[returns]\nopening_gap = \"10.0 ± 0.1 mm\"\nopening_thread = \"{thread}\"\n")
    };
    asks(
        &with("6.0 mm"),
        "found.opening_thread",
        "Likely opening_thread was copied from the earlier record and not read again.",
    );
    assert_eq!(accepted(&with("4.0 mm")).questions, []);
    asks(
        &with("5.0 mm"),
        "found.opening_gap",
        "Likely one of the four readings is wrong, or the cable was changed in between.",
    );
}

#[test]
fn practice_one_cable_copied_to_the_other() {
    let mut text = DEMO.to_owned();
    for (key, value) in [("gap", "12.0 mm"), ("thread", "6.0 mm by calliper"), ("play", "0.1 ± 0.1 mm")] {
        text = change(&text, &format!("opening_{key}"), &format!("opening_{key} = \"{value}\""));
        text = change(&text, &format!("closing_{key}"), &format!("closing_{key} = \"{value}\""));
    }
    asks(&text, "found.closing_gap", "Likely they were copied from the opening cable and not read.");
}

#[test]
fn practice_proud_blade_beside_a_clear_turn() {
    asks(
        &demo_line("proud_closed", "proud_closed = \"0.6 ± 0.1 mm\""),
        "gates.turn_closed",
        "Likely proud_closed has the wrong sign (back from the bore is negative), or the crank was not turned through a full turn.",
    );
}

#[test]
fn practice_limit_as_large_as_the_figure() {
    asks(
        &demo_line("opening_gap", "opening_gap = \"12.0 ± 12 mm\""),
        "found.opening_gap",
        "Likely the unit or the decimal sign behind the ± is not what was meant.",
    );
}

#[test]
fn refuses_to_be_sure_of_a_key_that_is_not_there() {
    assert_eq!(
        refused(&demo_line("portwright", "portwright = 1\nsure = [\"crank.boer\"]")),
        ["line 13, sure: \"crank.boer\" is no key of this file; did you mean \"crank.bore\"?"]
    );
}
