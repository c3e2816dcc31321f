//! Model to file to model.

use super::*;
use quantity::Measured;

#[test]
fn round_trips_demo_and_minimal_file_exactly() {
    let page = include_str!("../../../../../docs/engine-file.md");
    let minimal = page.split("```toml\n").nth(1).and_then(|rest| rest.split_once("```")).unwrap().0;
    for text in [DEMO, minimal] {
        let engine = accepted(text).engine;
        assert_eq!(accepted(&write(&engine)).engine, engine);
    }
}

#[test]
fn round_trips_figures_without_words() {
    let mut engine = accepted(DEMO).engine;
    let mut before: Vec<Measured> = Vec::new();
    engine.for_each_figure(&mut |_, figure| {
        figure.written = None;
        before.push(figure.clone());
    });
    let mut back = accepted(&write(&engine)).engine;
    let mut at = 0;
    back.for_each_figure(&mut |key, figure| {
        let old = &before[at];
        at += 1;
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-14 * a.abs().max(b.abs());
        assert!(close(figure.value, old.value) && close(figure.u, old.u), "{key}: {figure:?} was {old:?}");
        assert!(figure.u == 0.0 || figure.shape == old.shape, "{key}");
    });
    assert_eq!(at, before.len());
}

#[test]
fn round_trips_other_kinds_of_valve_and_spring() {
    let spring = DEMO.find("[gear.spring]").unwrap()..DEMO.find("[servo]").unwrap();
    let mut text = DEMO.to_owned();
    text.replace_range(spring, "[gear.spring]\nkind = \"shaft\"\nat_closed = \"0.20 ± 0.02 N·m\"\ntorsion_rate = \"0.10 ± 0.02 N·m/rad\"\n\n");
    for kind in ["flap", "drum"] {
        let text = text
            .replace("kind = \"blade\"", &format!("kind = \"{kind}\"\nradius = \"4.2 mm\"\nstart = \"-33°\""))
            .replace("slide_angle =", "#")
            .replace("arm =", "#")
            .replace("arm_start =", "#");
        let engine = accepted(&text).engine;
        assert_eq!(accepted(&write(&engine)).engine, engine);
    }
}

#[test]
fn round_trips_words_that_need_care() {
    let mut engine = accepted(DEMO).engine;
    engine.note = Some("a \"quoted\" name,\na second line, a \\ and a # hash".to_owned());
    engine.ports[1].name = "left \"A\" port".to_owned();
    assert_eq!(accepted(&write(&engine)).engine, engine);
}

#[test]
fn agrees_wire_from_its_construction_with_the_stiffness_it_gives() {
    let text = demo_line(
        "wire_stiffness",
        "wire_diameter = \"1.50 mm\"\nwire_length = \"900 mm\"\nwire_construction = \"7x7\"",
    );
    let cable = accepted(&text).engine.gear.opening;
    // 100 GPa x (49/81)·π/4 x (1.5 mm)² / 900 mm
    assert!((cable.wire_stiffness.value - 118.78e3).abs() < 10.0, "{}", cable.wire_stiffness.value);
    let partial = demo_line("wire_stiffness", "wire_diameter = \"1.50 mm\"");
    assert_eq!(refused(&partial).len(), 2);
}

#[test]
fn agrees_stall_torque_of_the_motor_with_that_of_the_pulley() {
    let text =
        demo_line("stall_torque", "motor_stall_torque = \"0.011 N·m exact\"\nefficiency = \"0.7 exact\"");
    let torque = accepted(&text).engine.servo.stall_torque;
    assert!((torque.value - 0.011 * 200.0 * 0.7).abs() < 1e-12 && torque.u == 0.0);
}

#[test]
fn agrees_closed_edge_by_every_datum() {
    for (key, text) in [
        ("closed_below_deck", "33.52 mm exact"),
        ("closed_above_crown_at_bdc", "21.48 mm exact"),
        ("closed_duration", "170.031319° exact"),
    ] {
        let text = demo_line("closed_drop", &format!("{key} = \"{text}\""));
        let drop = accepted(&text).engine.valve.closed_drop;
        assert!((drop.value - 4.5e-3).abs() < 1e-6, "{key}: {}", drop.value);
        assert!(drop.u > 0.0);
    }
}
