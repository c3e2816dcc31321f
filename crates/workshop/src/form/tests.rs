use super::*;
use engine::file::DEMO;
use engine::file::fields::{FieldState, fields_of};
use quantity::Units;
use std::collections::BTreeMap;

type Fields = BTreeMap<String, String>;

fn demo() -> Fields {
    fields_of(DEMO).unwrap()
}

fn saved(fields: &mut Fields, changes: Vec<(String, String)>) {
    fields.extend(changes);
}

fn state(fields: &Fields, step: Step) -> StepState {
    path(fields).steps.into_iter().find(|state| state.step == step).unwrap()
}

fn field(fields: &Fields, step: Step, key: &str) -> FormField {
    let items = page(step, fields, Units::Metric).groups.into_iter().flat_map(|group| group.items);
    let all = items.flat_map(|item| match item {
        FormItem::Field(field) => vec![*field],
        FormItem::OneOf(one) => one.ways,
    });
    all.into_iter().find(|field| field.key == key).unwrap()
}

#[test]
fn exact_whole_demo_leaves_nothing_to_enter() {
    let path = path(&demo());
    assert!(path.readable);
    for state in &path.steps {
        let expected = if state.step == Step::Returns { StepStatus::Empty } else { StepStatus::Complete };
        assert_eq!((state.status, state.missing, state.wrong), (expected, 0, 0), "{state:?}");
    }
    assert_eq!(path.next.unwrap().step, Step::Setting);
}

#[test]
fn exact_empty_engine_begins_with_its_first_needed_field() {
    let path = path(&Fields::new());
    assert!(!path.readable);
    assert!(path.steps.iter().all(|state| state.status == StepStatus::Empty));
    let next = path.next.unwrap();
    assert_eq!((next.step, next.key.as_deref()), (Step::Crank, Some("engine.name")));
    let ports = state(&Fields::new(), Step::Ports);
    assert_eq!(ports.missing, 1);
    assert_eq!(
        ports.next.unwrap().text,
        "No port is described yet; begin with the exhaust port whose roof the valve moves."
    );
    assert!(
        state(&Fields::new(), Step::Sheet)
            .next
            .unwrap()
            .text
            .starts_with("The setting can be worked out once")
    );
}

#[test]
fn exact_steps_tell_missing_from_wrong() {
    let mut fields = demo();
    fields.insert("crank.bore".into(), "54".into());
    fields.insert("servo.travel".into(), " ".into());
    fields.remove("found.edge_above_flush");
    fields.remove("found.opening_play");
    fields.insert("gates.turn_open".into(), String::new());
    fields.insert("done.3".into(), "yes".into());
    let crank = state(&fields, Step::Crank);
    assert_eq!((crank.status, crank.missing, crank.wrong), (StepStatus::Wrong, 0, 1));
    assert_eq!(crank.next.unwrap().key.as_deref(), Some("crank.bore"));
    let servo = state(&fields, Step::Servo);
    assert_eq!((servo.status, servo.missing, servo.wrong), (StepStatus::Started, 1, 0));
    let found = state(&fields, Step::AsFound);
    assert_eq!((found.status, found.missing), (StepStatus::Started, 1));
    assert_eq!(state(&fields, Step::Gates).missing, 1);
    assert_eq!(path(&fields).next.unwrap().step, Step::Crank);
}

#[test]
fn exact_field_says_range_cost_and_how_it_was_understood() {
    let bore = field(&demo(), Step::Crank, "crank.bore");
    assert!(bore.required && bore.unknown.is_none());
    assert_eq!(bore.usual.as_deref(), Some("30 to 100 mm"));
    assert!(!bore.unit_keys.iter().any(|key| key.insert == "not known"));
    let rod = field(&demo(), Step::Crank, "crank.rod_length");
    assert!(rod.unknown.unwrap().starts_with("Not known: taken as 2.0 x stroke"));
    assert!(rod.unit_keys.iter().any(|key| key.replaces && key.insert == "not known"));
    let slide = field(&demo(), Step::Valve, "valve.slide_angle");
    assert!(slide.applies && slide.shown.is_some());
    let radius = field(&demo(), Step::Valve, "valve.radius");
    assert!(!radius.applies && radius.problem.is_none());
    assert_eq!(radius.when.unwrap().words, ["flap", "drum"]);
}

#[test]
fn exact_field_shows_what_is_wrong_beside_the_others() {
    let mut fields = demo();
    fields.insert("port.2.name".into(), "exhaust".into());
    assert_eq!(
        field(&fields, Step::Ports, "port.2.name").problem.as_deref(),
        Some("two ports have this name; give each its own")
    );
    fields.insert("crank.bore".into(), "54".into());
    assert_eq!(field(&fields, Step::Crank, "crank.bore").state, FieldState::Wrong);
}

#[test]
fn exact_every_field_of_the_file_is_asked_for_once() {
    let mut asked: Vec<String> = Step::ALL
        .into_iter()
        .flat_map(|step| page(step, &demo(), Units::Inch).groups)
        .flat_map(|group| group.items)
        .flat_map(|item| match item {
            FormItem::Field(field) => vec![field.key],
            FormItem::OneOf(one) => one.ways.into_iter().map(|way| way.key).collect(),
        })
        .collect();
    asked.sort();
    let count = asked.len();
    asked.dedup();
    assert_eq!(asked.len(), count);
    for key in demo().keys().filter(|key| *key != "portwright") {
        assert!(asked.contains(key), "{key}");
    }
}

#[test]
fn round_trips_a_port_that_is_added_moved_and_removed() {
    let mut fields = demo();
    let (place, changes) = add_port(&fields, "transfer");
    assert_eq!(place, 5);
    assert_eq!(changes[0], ("port.5.name".to_owned(), "transfer".to_owned()));
    saved(&mut fields, changes);
    assert_eq!(state(&fields, Step::Ports).status, StepStatus::Started);
    let changes = move_port(&fields, 5, Move::Up);
    saved(&mut fields, changes);
    assert_eq!(fields["port.4.name"], "transfer");
    assert_eq!(fields["port.5.name"], "boost");
    assert_eq!(move_port(&fields, 1, Move::Up), vec![]);
    let changes = remove_port(&fields, 4);
    saved(&mut fields, changes);
    assert_eq!(port_numbers(&fields), [1, 2, 3, 5]);
    assert!(path(&fields).readable);
    let changes = remove_port(&fields, 1);
    assert!(changes.contains(&("valve.covers".to_owned(), String::new())));
}

#[test]
fn exact_questions_stand_at_their_field_until_confirmed() {
    let mut fields = demo();
    fields.insert("crank.deck_clearance".into(), "-3.00 ± 0.02 mm".into());
    let asked = field(&fields, Step::Crank, "crank.deck_clearance").question;
    assert!(asked.is_some());
    fields.insert("sure".into(), engine::file::fields::confirmed(&fields, "crank.deck_clearance"));
    assert_eq!(field(&fields, Step::Crank, "crank.deck_clearance").question, None);
}
