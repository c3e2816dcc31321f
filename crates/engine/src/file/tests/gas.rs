//! Sections of the gas's way: all of them may be left out, and each is read whole or refused.

use super::*;
use crate::model::{GasPath, ReedMaterial};

/// The demo file without anything of the gas's way.
fn without() -> String {
    let (before, _) = DEMO.split_once("# What the gas meets").unwrap();
    before.to_owned()
}

#[test]
fn exact_a_file_without_them_reads_as_before() {
    let (bare, whole) = (accepted(&without()), accepted(DEMO));
    assert_eq!(bare.engine.gas, GasPath::default());
    assert_eq!(bare.questions, []);
    assert_eq!(bare.engine.assumptions, []);
    let rest = crate::model::Engine { gas: GasPath::default(), ..whole.engine };
    assert_eq!(rest, bare.engine);
}

#[test]
fn exact_demo_has_a_pipe_whose_pieces_meet() {
    let gas = accepted(DEMO).engine.gas;
    assert_eq!(gas.pipe.len(), 8);
    for pieces in gas.pipe.windows(2) {
        assert_eq!(pieces[0].outlet_diameter.value, pieces[1].inlet_diameter.value);
    }
    assert_eq!(gas.pipe[0].name, "port duct");
    assert!((gas.pipe[1].wall_temperature.as_ref().unwrap().value - 653.15).abs() < 1e-9);
    assert_eq!(gas.reed.unwrap().material, ReedMaterial::GlassFibre);
    let ignition = gas.ignition.unwrap();
    let rpm = |speed: f64| speed * std::f64::consts::PI / 30.0;
    for (speed, degrees) in [(3000.0, 24.0), (6000.0, 24.0), (8750.0, 19.5), (12_000.0, 15.0)] {
        assert!((ignition.advance_rad(rpm(speed)).to_degrees() - degrees).abs() < 1e-9);
    }
    assert!((gas.ambient.unwrap().temperature.value - 293.15).abs() < 1e-9);
}

#[test]
fn refuses_half_a_section_and_what_cannot_be() {
    let said = |text: &str| {
        let problems = read(text.as_bytes()).unwrap_err();
        problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    };
    let half = said(&format!("{}[fuel]\nkind = \"petrol\"\n", without()));
    assert!(
        half.contains("fuel.equivalence_ratio: the key equivalence_ratio is missing in [fuel]"),
        "{half}"
    );
    let twice = said(&DEMO.replace("name = \"header\"", "name = \"belly\""));
    assert!(twice.contains("two pieces of the pipe have this name"), "{twice}");
    let lift = said(&DEMO.replace("stop_lift = \"9.5 ± 0.5 mm\"", "stop_lift = \"45 mm\""));
    assert!(lift.contains("a tip cannot lift 45"), "{lift}");
    let hot = said(&DEMO.replace("wall_temperature = \"40 ± 10 °C\"", "wall_temperature = \"4000 °C\""));
    assert!(hot.contains("outside the accepted range −50 to 1000 °C"), "{hot}");
    let slow = said(&DEMO.replace("speed_late = \"11500 rpm exact\"", "speed_late = \"5000 rpm\""));
    assert!(slow.contains("the later advance holds at the higher speed"), "{slow}");
    let alone = said(&DEMO.replace("speed = \"6000 rpm exact\"\n", ""));
    assert!(alone.contains("this key goes with speed"), "{alone}");
}

#[test]
fn practice_a_step_in_the_pipe_is_asked_about() {
    let turned = DEMO.replace(
        "inlet_diameter = \"42.0 ± 0.3 mm\"\noutlet_diameter = \"62.0 ± 0.3 mm\"",
        "inlet_diameter = \"62.0 ± 0.3 mm\"\noutlet_diameter = \"42.0 ± 0.3 mm\"",
    );
    let questions = accepted(&turned).questions;
    let keys: Vec<&str> = questions.iter().map(|question| question.key.as_str()).collect();
    assert_eq!(keys, ["pipe \"first diffuser\".inlet_diameter", "pipe \"second diffuser\".inlet_diameter"]);
    assert!(
        questions[0].confirm.contains("\"pipe.first diffuser.inlet_diameter\""),
        "{}",
        questions[0].confirm
    );
    let sure = turned.replacen(
        "portwright = 1\n",
        "portwright = 1\nsure = [\"pipe.first diffuser.inlet_diameter\", \"pipe.second diffuser.inlet_diameter\"]\n",
        1,
    );
    assert_eq!(accepted(&sure).questions, []);
}

#[test]
fn round_trips_with_and_without() {
    for text in [DEMO.to_owned(), without()] {
        let engine = accepted(&text).engine;
        assert_eq!(accepted(&write(&engine)).engine, engine);
    }
}

#[test]
fn exact_fields_of_a_pipe_are_known_by_their_number() {
    use crate::file::fields::{fields_of, read_fields};
    let mut fields = fields_of(DEMO).unwrap();
    assert_eq!(fields["pipe.2.name"], "header");
    assert!(read_fields(&fields).reading.is_some());
    fields.insert("pipe.3.length".into(), "long".into());
    let problems = read_fields(&fields).problems;
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].key, "pipe.3.length");
    fields.insert("pipe.3.length".into(), "120 mm".into());
    fields.insert("pipe.4.inlet_diameter".into(), "70 mm".into());
    let questions = read_fields(&fields).reading.unwrap().questions;
    assert_eq!(questions[0].key, "pipe.4.inlet_diameter");
    fields.insert("sure".into(), crate::file::fields::confirmed(&fields, &questions[0].key));
    assert_eq!(read_fields(&fields).reading.unwrap().questions, []);
}
