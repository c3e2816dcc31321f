//! Demo, page and schema agree with the table of keys.

use super::*;
use crate::file::spec::{Kind, Need};
use std::collections::HashSet;

const PAGE: &str = include_str!("../../../../../docs/engine-file.md");
const SCHEMA: &str = include_str!("../../../../../schema/engine.schema.json");

#[test]
fn exact_demo_is_read_without_question_or_assumption() {
    let reading = accepted(DEMO);
    assert_eq!(reading.questions, []);
    assert_eq!(reading.engine.assumptions, []);
    assert!(reading.engine.invented);
    assert_eq!(reading.engine.ports.len(), 4);
    assert!(DEMO.starts_with("# Invented"));
}

#[test]
fn agrees_page_carries_the_tables_of_the_reader() {
    let (_, rest) = PAGE.split_once("<!-- keys: begin -->").unwrap();
    let (tables, _) = rest.split_once("<!-- keys: end -->").unwrap();
    assert!(
        tables.trim() == reference_markdown().trim(),
        "docs/engine-file.md is out of date: cargo xtask documents"
    );
}

#[test]
fn agrees_stored_schema_is_the_one_of_the_reader() {
    let stored: serde_json::Value = serde_json::from_str(SCHEMA).unwrap();
    assert!(stored == schema(), "schema/engine.schema.json is out of date: cargo xtask documents");
}

/// The code blocks of the page that are whole TOML.
fn blocks() -> Vec<&'static str> {
    PAGE.split("```toml\n")
        .skip(1)
        .filter_map(|rest| rest.split_once("```"))
        .map(|(block, _)| block)
        .collect()
}

#[test]
fn exact_minimal_file_of_the_page_is_read() {
    let minimal = accepted(blocks()[0]);
    assert_eq!(minimal.questions, []);
    let keys: Vec<&str> =
        minimal.engine.assumptions.iter().map(|assumption| assumption.key.as_str()).collect();
    for key in
        ["crank.rod_length", "head.chamber_volume", "port \"exhaust\".floor", "gear.opening.wire_stiffness"]
    {
        assert!(keys.contains(&key), "{key} is not among {keys:?}");
    }
    assert!(minimal.engine.assumptions.iter().all(|assumption| !assumption.cost.is_empty()));
    let whole = accepted(&blocks().concat());
    assert!(whole.engine.found.opening_gap.is_some() && whole.engine.gates.turn_open.is_some());
}

/// Every way of writing a figure, every instrument and every unit that the page names.
#[test]
fn agrees_notation_of_the_page_with_what_is_read() {
    let is_read = |text: &str| {
        quantity::Dimension::ALL.iter().any(|dimension| quantity::parse(text, *dimension).is_ok())
    };
    let (_, rest) = PAGE.split_once("## How a figure is written").unwrap();
    let (notation, _) = rest.split_once("## Where things").unwrap();
    let written: Vec<&str> = notation
        .lines()
        .filter_map(|line| line.strip_prefix("| `\"")?.split_once("\"`"))
        .map(|(text, _)| text)
        .collect();
    assert_eq!(written.len(), 9);
    for text in written.iter().filter(|text| **text != "not known") {
        assert!(is_read(text), "{text}");
    }
    let (_, instruments) = notation.split_once("Instruments after `by`: ").unwrap();
    for name in instruments.split_once(" and others").unwrap().0.split(',').map(str::trim) {
        assert!(quantity::instruments().iter().any(|instrument| instrument.names.contains(&name)), "{name}");
    }
    let (_, units) = notation.split_once("| for | units |").unwrap();
    let rows = units.lines().filter_map(|line| line.strip_prefix("| ")?.split_once(" | "));
    for unit in rows.flat_map(|(_, units)| units.trim_end_matches(" |").split([',', '(', ')'])) {
        let unit = unit.trim().trim_start_matches("or ").split(" or ").next().unwrap_or_default();
        if !unit.is_empty()
            && !unit.contains("none")
            && !unit.contains("quotes")
            && unit != "%; they may stand without"
        {
            assert!(is_read(&format!("1.5 {unit}")), "{unit}");
        }
    }
}

#[test]
fn exact_rod_that_is_not_known_is_two_strokes_with_a_stated_band() {
    let engine = accepted(&demo_line("rod_length", "rod_length = \"not known\"")).engine;
    assert!((engine.crank.rod_length.value - 0.109).abs() < 1e-12);
    assert!((engine.crank.rod_length.u - 0.15 * 0.0545 / 3f64.sqrt()).abs() < 1e-12);
    let [assumption] = engine.assumptions.as_slice() else { panic!("{:?}", engine.assumptions) };
    assert_eq!(assumption.key, "crank.rod_length");
    assert_eq!(
        assumption.text,
        "taken as 109.0 ± 8.2 mm: 2.0 x stroke ± 0.15 x stroke, common practice, no source"
    );
    assert_eq!(assumption.cost, "measuring it takes the rod's share out of the band of every crank angle");
}

/// Every key of the demo and of the examples must be offered by the schema, with nothing else accepted.
#[test]
fn agrees_schema_knows_every_key_of_the_demo() {
    let root: toml::Table = DEMO.parse().unwrap();
    let schema = schema();
    check_object(&serde_json::to_value(root).unwrap(), &schema, "");
}

fn check_object(value: &serde_json::Value, schema: &serde_json::Value, path: &str) {
    assert_eq!(schema["additionalProperties"], false, "{path}");
    let object = value.as_object().unwrap();
    for name in schema["required"].as_array().unwrap() {
        assert!(object.contains_key(name.as_str().unwrap()), "{path}.{name}");
    }
    for (name, value) in object {
        let property = &schema["properties"][name];
        assert!(property.is_object(), "{path}.{name} is not in the schema");
        assert!(property["description"].as_str().is_some_and(|text| !text.is_empty()), "{path}.{name}");
        match value {
            serde_json::Value::Array(items) if name == "port" => {
                items.iter().for_each(|item| check_object(item, &property["items"], name));
            }
            serde_json::Value::Object(_) if property["type"] == "object" => {
                check_object(value, property, name)
            }
            _ => {}
        }
    }
}

#[test]
fn agrees_figures_of_an_engine_are_keys_of_the_table() {
    // Places where one figure can be given by several keys are named by what the figure is.
    let several = ["roof", "floor", "closed_drop", "points[0].travel", "points[0].lift"];
    let flap = demo_line("kind", "kind = \"flap\"\nradius = \"6 mm\"\nstart = \"-33°\"\nratio = \"1 exact\"")
        .replace("slide_angle =", "#")
        .replace("arm =", "#")
        .replace("arm_start =", "#");
    for text in [DEMO.to_owned(), flap] {
        let mut engine = accepted(&text).engine;
        engine.for_each_figure(&mut |key, _| {
            let (section, name) = match key.strip_prefix("port \"").and_then(|rest| rest.rsplit_once("\".")) {
                Some((_, name)) => ("port", name),
                None => key.rsplit_once('.').unwrap(),
            };
            let known = spec().section(section).unwrap_or_else(|| panic!("{key}")).key(name).is_some();
            assert!(known || several.contains(&name), "{key} is not in the table");
        });
    }
}

#[test]
fn exact_every_key_says_what_it_is_and_names_are_used_once() {
    for section in spec().sections {
        assert!(!section.doc.is_empty(), "{}", section.path);
        let mut names = HashSet::new();
        for key in section.keys {
            assert!(names.insert(key.name), "{}.{}", section.path, key.name);
            assert!(key.doc.ends_with('.') && !key.example.is_empty(), "{}.{}", section.path, key.name);
            if let Need::OneOf { group } = key.need {
                assert!(section.groups.iter().any(|other| other.name == group), "{group}");
            }
            if let Kind::Figure(figure) = key.holds {
                let example = key.example.trim_matches('"');
                let read = quantity::parse(example, figure.dimension)
                    .unwrap_or_else(|error| panic!("{example}: {error}"));
                assert!(figure.accepted.contains(read.value), "{example}");
                assert!(figure.usual.is_none_or(|usual| usual.contains(read.value)), "{example}");
            }
        }
    }
}
