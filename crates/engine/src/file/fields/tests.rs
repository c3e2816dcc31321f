use super::*;
use crate::file::{DEMO, read};
use proptest::prelude::*;
use quantity::Units;
use std::collections::BTreeMap;

type Fields = BTreeMap<String, String>;

fn demo() -> Fields {
    fields_of(DEMO).unwrap()
}

fn with(changes: &[(&str, &str)]) -> Fields {
    let mut fields = demo();
    for (key, text) in changes {
        fields.insert((*key).to_owned(), (*text).to_owned());
    }
    fields
}

fn problems_of(changes: &[(&str, &str)]) -> Vec<(String, String)> {
    let read = read_fields(&with(changes));
    read.problems.into_iter().map(|problem| (problem.key, problem.message)).collect()
}

#[test]
fn round_trips_the_demo_file_through_its_fields() {
    let fields = demo();
    assert_eq!(fields["crank.bore"], "54.00 ± 0.01 mm");
    assert_eq!(fields["port.4.width_arc"], "20.0 ± 0.3 mm");
    assert_eq!(fields["limits.flush.from"], "common practice, no source");
    let composed = compose(&fields);
    assert_eq!((composed.problems.as_slice(), composed.dormant.as_slice()), (&[][..], &[][..]));
    let (ours, theirs) = (read(composed.toml.as_bytes()).unwrap(), read(DEMO.as_bytes()).unwrap());
    assert_eq!(ours.engine, theirs.engine);
    assert_eq!(read_fields(&fields).reading.unwrap().engine, theirs.engine);
    assert_eq!(fields_of(&composed.toml).unwrap(), fields);
    assert_eq!(compose(&fields_of(&composed.toml).unwrap()).toml, composed.toml);
}

#[test]
fn round_trips_assumptions_and_a_table_of_points() {
    let points = "0° = 0 mm\n20 ± 1° = 1.1 mm; 85 ± 1° (k=2) = 5.0 ± 0.1 mm (k=2)";
    let mut fields =
        with(&[("valve.kind", "table"), ("valve.points", points), ("head.chamber_volume", "not known")]);
    fields.remove("crank.rod_length");
    fields.remove("valve.mechanical_end");
    let composed = compose(&fields);
    assert_eq!(composed.dormant, ["valve.slide_angle", "valve.arm", "valve.arm_start"]);
    let file = read(composed.toml.as_bytes()).unwrap();
    let direct = read_fields(&fields);
    assert_eq!(direct.problems, []);
    assert_eq!(direct.reading.unwrap().engine, file.engine);
    assert_eq!(file.engine.assumptions.len(), 2);
    let again = fields_of(&composed.toml).unwrap();
    assert_eq!(read(compose(&again).toml.as_bytes()).unwrap(), file);
}

#[test]
fn exact_gaps_in_port_numbers_are_closed_in_the_file_and_kept_in_what_is_said() {
    let mut fields = Fields::new();
    for (key, text) in demo() {
        let key = key.strip_prefix("port.").map_or(key.clone(), |rest| {
            let (number, rest) = rest.split_once('.').unwrap();
            format!("port.{}.{rest}", number.parse::<u32>().unwrap() * 10)
        });
        fields.insert(key, text);
    }
    assert_eq!(read(compose(&fields).toml.as_bytes()).unwrap(), read(DEMO.as_bytes()).unwrap());
    fields.insert("port.20.width".into(), "24".into());
    fields.insert("port.30.name".into(), " main transfer ".into());
    fields.insert("port.40.duration".into(), String::new());
    let keys: Vec<String> = read_fields(&fields).problems.into_iter().map(|problem| problem.key).collect();
    assert_eq!(keys, ["port.20.width", "port.30.name", "port.40.roof_below_deck"]);
}

#[test]
fn refuses_every_wrong_field_by_its_own_name() {
    let found = problems_of(&[
        ("engine.cylinders", "two"),
        ("crank.bore", "54"),
        ("crank.stroke", ""),
        ("servo.works_oil_pump", "perhaps"),
        ("limits.flush", "-1 mm"),
        ("gear.opening.thread", "M6 x 3"),
        ("gear.spring.kind", "rubber band"),
        ("gates.turn_open", "bumps"),
    ]);
    let keys: Vec<&str> = found.iter().map(|(key, _)| key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "engine.cylinders",
            "crank.bore",
            "crank.stroke",
            "gear.opening.thread",
            "gear.spring.kind",
            "servo.works_oil_pump",
            "limits.flush",
            "gates.turn_open"
        ]
    );
    assert_eq!(found[0].1, "'two' is not a whole number; write one from 1 to 12, without unit");
    assert_eq!(
        found[2].1,
        "not given yet; measured from: twice the crank radius, as the maker gives it; for example 54.5 mm exact"
    );
}

#[test]
fn refuses_an_empty_map_by_naming_each_field_that_is_needed() {
    let read = read_fields(&Fields::new());
    assert_eq!(read.reading, None);
    let keys: Vec<&str> = read.problems.iter().map(|problem| problem.key.as_str()).collect();
    for key in [
        "engine.name",
        "crank.bore",
        "port",
        "valve.kind",
        "valve.closed_drop",
        "gear.opening.thread",
        "servo.travel",
    ] {
        assert!(keys.contains(&key), "{key} in {keys:?}");
    }
}

#[test]
fn exact_unknown_fields_are_kept_out_and_said() {
    let read = read_fields(&with(&[("crank.boer", "54 mm"), ("nothing", "x"), ("blank", "  ")]));
    assert!(read.reading.is_some());
    let said: Vec<String> = read.problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "crank.boer: no field has this name, so it is kept but not used; did you mean crank.bore?",
            "nothing: no field has this name, so it is kept but not used"
        ]
    );
}

#[test]
fn exact_questions_name_fields_and_can_be_confirmed() {
    let mut fields =
        with(&[("port.1.name", "exhaust, \"big\""), ("port.1.roof_below_deck", "27.02 mm by depth gauge")]);
    fields.insert("valve.covers".into(), join_names(&["exhaust, \"big\""]));
    fields.insert("port.2.width".into(), "4.0 mm by calliper".into());
    fields.insert("port.2.corner_radius".into(), "1 mm".into());
    let questions = read_fields(&fields).reading.unwrap().questions;
    assert!(questions.iter().any(|question| question.key == "port.2.width"), "{questions:?}");
    for question in questions {
        fields.insert("sure".into(), confirmed(&fields, &question.key));
    }
    let read = read_fields(&fields);
    assert_eq!(read.problems, []);
    assert_eq!(read.reading.unwrap().questions, []);
    let again = fields_of(&compose(&fields).toml).unwrap();
    assert_eq!(again["sure"], fields["sure"]);
}

#[test]
fn exact_file_with_unknown_keys_is_refused_with_its_lines() {
    let problems =
        fields_of("portwright = 1\n[crank]\nboer = \"54 mm\"\n[limits]\nflush = { valu = 1 }\n").unwrap_err();
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "line 3, crank.boer: unknown key; did you mean bore?",
            "line 5, limits.flush.valu: unknown key; here only value and from can stand"
        ]
    );
}

#[test]
fn exact_one_field_is_answered_as_it_is_left() {
    let said = |key: &str, text: &str| read_field(key, text, Units::Metric);
    assert_eq!(said("crank.bore", "54.0 mm").shown.unwrap(), "54.000 ± 0.058 mm, for about 95 %");
    assert_eq!(said("crank.bore", "54.5 mm exact").shown.unwrap(), "54.5 mm, exact");
    assert_eq!(said("crank.bore", "").state, FieldState::Empty);
    assert_eq!(said("crank.bore", "not known").state, FieldState::NotKnown);
    assert!(said("crank.bore", "not known").problem.unwrap().starts_with("this must be known"));
    assert!(said("crank.rod_length", "not known").shown.unwrap().starts_with("taken as 2.0 x stroke"));
    assert!(said("crank.bore", "5.4 mm").problem.unwrap().contains("54"));
    assert!(said("crank.bore", "120 mm").odd.unwrap().starts_with("outside the usual range 30 to 100 mm"));
    assert_eq!(said("gear.closing.thread", "M6").shown.unwrap(), "pitch 1.000 mm, the coarse one");
    assert_eq!(
        said("valve.points", "0° = 0 mm\n20° = 1.1").problem.unwrap().split(':').next(),
        Some("point 2")
    );
    assert_eq!(said("servo.works_oil_pump", "yes").state, FieldState::Read);
    assert_eq!(said("crank.colour", "red").state, FieldState::Wrong);
    assert!(said("limits.flush.from", "own practice").problem.is_none());
}

fn any_key() -> impl Strategy<Value = String> {
    let keys: Vec<String> =
        demo().into_keys().chain(["valve.points", "sure", "port.7.name"].map(String::from)).collect();
    prop_oneof![4 => proptest::sample::select(keys), 1 => "[a-z.0-9]{0,20}", 1 => any::<String>()]
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>(),
        "[0-9.±,;= °mk\"\\\\\n-]{0,20}",
        proptest::sample::select(vec!["not known", "true", "1", "0° = 0 mm", "blade", "flap", "a, \"b\", c"])
            .prop_map(String::from),
    ]
}

#[test]
fn regress_a_bracket_in_a_ports_name_hides_no_wrong_field() {
    let mut fields = demo();
    fields.insert("port.3.name".to_owned(), "[".to_owned());
    fields.insert("port.3.corner_radius".to_owned(), "wide".to_owned());
    let problems = read_fields(&fields).problems;
    assert!(problems.iter().any(|problem| problem.key == "port.3.corner_radius"), "{problems:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn round_trips_any_texts_without_panic(changes in proptest::collection::btree_map(any_key(), any_text(), 0..12)) {
        let mut fields = demo();
        fields.extend(changes.clone());
        let read_back = read_fields(&fields);
        let composed = compose(&fields);
        let file = read(composed.toml.as_bytes());
        if let Some(reading) = &read_back.reading {
            prop_assert_eq!(&file.unwrap().engine, &reading.engine);
        }
        for problem in &read_back.problems {
            prop_assert!(problem.line.is_none());
        }
        for (key, text) in &changes {
            let check = read_field(key, text, Units::Inch);
            if check.state == FieldState::Wrong && !text.trim().is_empty() && !read_back.dormant.contains(key) {
                prop_assert!(read_back.problems.iter().any(|problem| problem.key.starts_with(key.as_str()) || key.chars().count() > 60 || key.chars().any(char::is_control)), "{} {}", key, text);
            }
        }
        // What a file holds comes back as it was typed, but for blanks at its ends.
        if let Ok(again) = fields_of(&composed.toml) {
            for (key, text) in again.iter().filter(|(key, _)| !key.ends_with("sure") && *key != "valve.points" && *key != "valve.covers") {
                if let Some(typed) = fields.get(key) {
                    prop_assert!(text == typed.trim() || text.parse::<u32>().is_ok() || ["true", "false", "not known"].contains(&text.as_str()));
                }
            }
        } else {
            prop_assert_eq!(fields_of(&composed.toml).unwrap_err(), vec![]);
        }
    }
}
