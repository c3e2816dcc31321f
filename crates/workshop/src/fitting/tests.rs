use super::chain::Chain;
use super::*;
use engine::model::Engine;
use gear::Direction;
use quantity::{Dimension, Measured, Shape, Units};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;
use std::collections::BTreeMap;
use std::f64::consts::PI;

fn demo() -> Engine {
    engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine
}

/// The demo engine with every figure exact.
fn sure() -> Engine {
    let mut engine = demo();
    engine.for_each_figure(&mut |_, figure| figure.u = 0.0);
    engine
}

fn normal(value: f64, u: f64, dimension: Dimension) -> Measured {
    Measured { value, u, shape: Shape::Normal, dimension, written: None }
}

const U_RAD: f64 = 0.15 * PI / 180.0;

/// Readings of the pulley over the travel and back, with two gaps at full travel, of a gear whose unknowns stand at
/// `truth`; each off by `noise` times its uncertainty.
fn made(engine: &Engine, unknown: &[Unknown], truth: &[f64], noise: &mut dyn FnMut() -> f64) -> Readings {
    let servo = |degrees: f64| ServoAt::Travel(Measured::exact(degrees.to_radians(), Dimension::Angle));
    let seen = || Seen::Valve(normal(0.0, U_RAD, Dimension::Angle));
    let mut rows: Vec<Row> = Vec::new();
    for way in [Direction::Rising, Direction::Falling] {
        rows.extend((1..=10).map(|step| Row {
            servo: servo(7.5 * f64::from(step)),
            way,
            gap: None,
            seen: seen(),
        }));
    }
    for gap_m in [11.0e-3, 11.5e-3, 12.5e-3] {
        let gap = Some(Measured::exact(gap_m, Dimension::Length));
        rows.push(Row { servo: servo(70.0), way: Direction::Rising, gap, seen: seen() });
    }
    let mut readings = Readings { unknown: unknown.to_vec(), weigh_engine_file: false, rows };
    let mut values = vec![0.0; readings.rows.len()];
    assert!(Chain::new(engine, &readings).predict(truth, &mut values));
    for (row, value) in readings.rows.iter_mut().zip(values) {
        row.seen = Seen::Valve(normal(value + noise() * U_RAD, U_RAD, Dimension::Angle));
    }
    readings
}

const SOUGHT: [Unknown; 3] = [
    Unknown::OpeningSlack,
    Unknown::Figure("gear.opening.valve_radius"),
    Unknown::Figure("gear.opening.friction"),
];
const TRUTH: [f64; 3] = [0.4e-3, 15.4e-3, 0.2];

#[test]
fn exact_unknowns_of_readings_without_error() {
    let engine = sure();
    let readings = made(&engine, &SOUGHT, &TRUTH, &mut || 0.0);
    let fitted = fit(&engine, &readings).unwrap();
    for (estimate, truth) in fitted.estimates.iter().zip(TRUTH) {
        assert!((estimate.value - truth).abs() < 1e-6 * truth, "{estimate:?}");
        assert_eq!(estimate.u, estimate.u_readings);
    }
    assert!(fitted.residuals.iter().all(|off| off.abs() < 1e-9));
}

/// The stated uncertainty holds: of many fits to readings that err as stated, 95 % come within two of it.
#[test]
fn agrees_uncertainties_with_the_scatter_of_many_fits() {
    let engine = sure();
    let mut random = ChaCha8Rng::seed_from_u64(11);
    let (mut within, mut all) = (0, 0);
    for _ in 0..150 {
        let readings = made(&engine, &SOUGHT, &TRUTH, &mut || random.sample(StandardNormal));
        let fitted = fit(&engine, &readings).unwrap();
        for (estimate, truth) in fitted.estimates.iter().zip(TRUTH) {
            all += 1;
            within += usize::from((estimate.value - truth).abs() <= 1.96 * estimate.u);
        }
    }
    // 450 trials of 95 %, three standard errors (they hang together within one fit, so taken for 150).
    let share = within as f64 / f64::from(all);
    assert!((share - 0.95).abs() < 3.0 * (0.95f64 * 0.05 / 150.0).sqrt(), "{share}");
}

#[test]
fn practice_what_else_is_not_known_widens_the_band() {
    let engine = demo();
    let readings = made(&engine, &SOUGHT, &TRUTH, &mut || 0.0);
    let fitted = fit(&engine, &readings).unwrap();
    assert!(fitted.estimates.iter().all(|one| one.u >= one.u_readings), "{:?}", fitted.estimates);
    assert!(fitted.estimates.iter().any(|one| one.u > 1.2 * one.u_readings), "{:?}", fitted.estimates);
    assert!(fitted.not_followed.is_empty(), "{:?}", fitted.not_followed);
}

#[test]
fn refuses_to_tell_two_springs_in_series_apart() {
    let engine = sure();
    let unknown =
        [Unknown::Figure("gear.opening.wire_stiffness"), Unknown::Figure("gear.opening.sheath_stiffness")];
    let readings = made(&engine, &unknown, &[120e3, 250e3], &mut || 0.0);
    match fit(&engine, &readings) {
        Err(error @ NotFitted::CannotTell(_)) => {
            let said = error.to_string();
            assert!(
                said.contains("stiffness of the wire") && said.contains("stiffness of the sheath"),
                "{said}"
            );
        }
        // Friction along the sheath parts them by a hair: then a warning names both.
        Ok(fitted) => {
            let said = fitted.told(&readings, Units::Metric).warnings.join(" ");
            assert!(
                said.contains("stiffness of the wire") && said.contains("stiffness of the sheath"),
                "{said}"
            );
        }
        Err(other) => panic!("{other}"),
    }
}

/// The gear behind the demo's readings is another one than its file says, so the search runs off: the reason is named all
/// the same.
#[test]
fn refuses_unknowns_in_series_by_name_even_where_the_search_runs_off() {
    let mut readings = read(DEMO).unwrap();
    readings.unknown = vec![
        Unknown::Figure("gear.opening.wire_stiffness"),
        Unknown::Figure("gear.opening.sheath_stiffness"),
    ];
    let Err(NotFitted::CannotTell(confusion)) = fit(&demo(), &readings) else {
        panic!("they cannot be told")
    };
    assert_eq!(confusion.parts.len(), 2);
}

#[test]
fn refuses_what_the_engine_lacks_and_too_few_readings() {
    let mut engine = sure();
    let mut readings = made(&engine, &SOUGHT, &TRUTH, &mut || 0.0);
    readings.rows.truncate(2);
    let said = fit(&engine, &readings).unwrap_err().to_string();
    assert!(said.contains("2 readings") && said.contains("at least 3"), "{said}");
    readings.unknown = vec![Unknown::MarkZero];
    engine.gear.mark_radius = None;
    assert!(matches!(fit(&engine, &readings), Err(NotFitted::NoSuchPart(_))));
    readings.unknown = vec![Unknown::Figure("gear.opening.friction")];
    engine.found.edge_above_flush = None;
    engine.found.opening_play = None;
    assert_eq!(fit(&engine, &readings), Err(NotFitted::NoSlack));
    readings.rows[0].servo = ServoAt::Sensor(normal(1e3, 10.0, Dimension::Resistance));
    engine.servo.sensor_open = None;
    assert_eq!(fit(&engine, &readings), Err(NotFitted::NoSensorEnds));
}

#[test]
fn practice_the_demo_readings_are_read_and_fitted() {
    let readings = read(DEMO).unwrap();
    let engine = demo();
    let fitted = fit(&engine, &readings).unwrap();
    let told = fitted.told(&readings, Units::Metric);
    assert!(fitted.doubts.is_empty(), "{:?}", told.warnings);
    assert_eq!(told.rows.len(), readings.rows.len());
    assert!(told.estimates.iter().all(|one| !one.compared.is_empty()));
    let json = serde_json::to_value(&told).unwrap();
    assert!(json["estimates"][0]["found"]["text"].is_string());
    assert!(!fitted.curve_scenes(&engine, &readings, Units::Metric).is_empty());
    // What is to be entered is taken by the engine file as it stands.
    for one in &told.estimates {
        if let (Some(text), Some(_)) = (&one.enter_text, one.enter_key) {
            assert!(quantity::parse(text, one.found.dimension).is_ok(), "{text}");
        }
    }
}

#[test]
fn refuses_wrong_files_with_every_problem() {
    let text = "portwright = 1\nunknown = [\"slak\", \"slack\", \"slack\"]\n[[reading]]\nservo = \"40 mm\"\nway = \"up\"\nmark = \"8.4 mm\"\nedge = \"1 mm\"\n[[reading]]\nservo = \"400°\"\nway = \"rising\"\nmark = \"8.4 mm exact\"\n";
    let problems = read(text).unwrap_err();
    let lines: Vec<Option<usize>> = problems.iter().map(|problem| problem.line).collect();
    for line in [2, 4, 5, 7, 9, 11] {
        assert!(lines.contains(&Some(line)), "{line}: {problems:?}");
    }
    assert!(read("").unwrap_err().iter().all(|problem| !problem.message.is_empty()));
}

#[test]
fn round_trips_entries_through_their_file() {
    let mut entries = BTreeMap::new();
    let mut put = |key: &str, text: &str| entries.insert(key.to_owned(), text.to_owned());
    put("fit.kind", "valve");
    put("fit.unknown.slack", "yes");
    put("fit.unknown.gear.opening.friction", "yes");
    put("fit.1.servo", "30 ± 0.2°");
    put("fit.1.seen", "29.1 ± 0.3°");
    put("fit.3.servo", "60°");
    put("fit.3.way", "falling");
    put("fit.3.gap", "11.5 mm");
    put("fit.3.seen", "61 \"half\"");
    assert_eq!(row_count(&entries), 3);
    let found = entries_of(&entries);
    assert!(found.readings.is_none());
    assert_eq!(found.problems.keys().collect::<Vec<_>>(), ["fit.3.seen"], "{:?}", found.problems);
    entries.insert("fit.3.seen".to_owned(), "61.0 ± 0.3°".to_owned());
    let readings = entries_of(&entries).readings.unwrap();
    assert_eq!(readings.rows.len(), 2);
    assert_eq!(readings.rows[1].way, Direction::Falling);
    assert_eq!(readings, read(&text_of_entries(&entries)).unwrap());
    let demo = read(DEMO).unwrap();
    assert_eq!(entries_of(&entries_from(&demo)).readings.unwrap(), demo);
}
