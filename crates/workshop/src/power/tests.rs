//! The map on the demo engine, with torque made up so that the answers are known.

use super::*;
use crate::Answer;
use gas::correction::{Day, Rule};
use gas::map::Grid;
use quantity::Units;
use std::f64::consts::PI;

const RPM: f64 = PI / 30.0;

fn demo() -> Answer {
    crate::answer(&engine::file::read(engine::file::DEMO.as_bytes()).unwrap(), Units::Metric)
}

/// Best lift rises evenly from closed at 4000 rpm to flush at 8000 rpm; each millimetre off it costs 0.4 N m times its
/// square.
fn made(flush_m: f64) -> Grid {
    let speeds: Vec<f64> = (2..=11).map(|k| f64::from(k) * 1000.0 * RPM).collect();
    let lifts: Vec<f64> = (0..=8).map(|k| flush_m * f64::from(k) / 8.0).collect();
    let torque = |speed: f64, lift: f64| {
        let best = flush_m * ((speed / RPM - 4000.0) / 4000.0).clamp(0.0, 1.0);
        20.0 - 0.4 * ((lift - best) * 1e3).powi(2)
    };
    let rows = speeds.iter().map(|s| lifts.iter().map(|l| Some(torque(*s, *l))).collect()).collect();
    Grid::new(speeds, lifts, rows).unwrap()
}

#[test]
fn exact_commanded_travel_is_straight_between_the_two_speeds() {
    let engine = demo().engine;
    let (opening, full) = (engine.schedule.opening_speed.value, engine.schedule.full_open_speed.value);
    let travel = engine.servo.travel.value;
    assert_eq!(commanded_rad(&engine, 0.5 * opening), engine.schedule.park_travel.value);
    assert_eq!(commanded_rad(&engine, full), travel);
    let half = engine.schedule.park_travel.value + 0.5 * (travel - engine.schedule.park_travel.value);
    assert!((commanded_rad(&engine, 0.5 * (opening + full)) - half).abs() < 1e-12);
}

#[test]
fn exact_proposed_setting_is_flush_at_full_speed_and_a_half_turn_moves_it() {
    let answer = demo();
    let flush_m = answer.solution().case.drop_m;
    let grid = made(flush_m);
    let told = told(&answer, &grid, None, f64::INFINITY);
    let top = told.speeds.last().unwrap();
    assert!((top.own.lift_m - flush_m).abs() < 1e-5, "{:?}", top.own);
    assert!((top.own.torque_n_m.unwrap() - 20.0).abs() < 0.01);
    let (least, most) = top.own.band_n_m.unwrap();
    assert!(least < top.own.torque_n_m.unwrap() && most <= 20.0 + 1e-9);
    // Half a turn in lets slack in: the edge stands low at full travel by what the setting says of a turn.
    let case = &answer.solution().case;
    let setting = answer.solution().proposed().unwrap();
    let back = told.turned.iter().find(|turned| turned.turns == -0.5).unwrap();
    let slacker =
        gear::Setting { opening_slack_m: setting.opening_slack_m + 0.5 * case.opening_pitch_m, ..setting };
    let low_m = -case.edge_above_flush_m(slacker);
    assert!(low_m > 1e-4, "half a turn must be felt at the port");
    let lost = back.gains_n_m.last().copied().flatten().unwrap();
    let expected = -0.4 * (low_m * 1e3).powi(2);
    // The map is read between lifts 1/8 of the travel apart: a parabola's sag between them, at its steepest end.
    assert!((lost - expected).abs() < 0.12, "{lost} {expected}");
    let out = told.turned.iter().find(|turned| turned.turns == 0.5).unwrap();
    assert!(out.points.last().unwrap().held, "beyond flush the last lift is taken, and said to be");
}

#[test]
fn exact_best_schedule_and_its_sentence() {
    let answer = demo();
    let grid = made(answer.solution().case.drop_m);
    let told = told(&answer, &grid, None, f64::INFINITY);
    assert_eq!(told.crossings_rad_s.len(), 1);
    assert!((told.crossings_rad_s[0] / RPM - 6000.0).abs() < 1.0);
    assert!(told.statements[0].contains("6000 rpm"), "{}", told.statements[0]);
    let schedule = told.statements.iter().find(|s| s.contains("best schedule")).unwrap();
    assert!(schedule.contains("opens from 3000 rpm to 8500 rpm"), "{schedule}");
    assert!(told.costs.iter().any(|row| row.name.contains("stuck closed") && row.worst.is_some()));
    for text in told.statements.iter().chain(&told.rests_on) {
        assert!(!text.contains("NaN") && text.ends_with('.'), "{text}");
    }
}

#[test]
fn exact_a_leak_is_compared_on_its_own_map() {
    let answer = demo();
    let grid = made(answer.solution().case.drop_m);
    let rows: Vec<Vec<Option<f64>>> = (0..10)
        .map(|row| {
            grid.lifts_m().iter().map(|lift| grid.at_row(row, *lift).map(|torque| torque - 1.5)).collect()
        })
        .collect();
    let leaky = Grid::new(grid.speeds_rad_s().to_vec(), grid.lifts_m().to_vec(), rows).unwrap();
    let told = told(&answer, &grid, Some((20e-6, &leaky)), f64::INFINITY);
    let leak = told.costs.iter().find(|row| row.name.contains("leak")).unwrap();
    assert!(leak.by_speed.iter().all(|cost| (cost.lost_n_m.unwrap() - 1.5).abs() < 1e-9), "{leak:?}");
}

#[test]
fn exact_ways_that_stand_low_lose_what_the_map_says() {
    use crate::procedure::{Comparison, Draws, Entry, Measure, Procedures, Scope};
    let answer = demo();
    let grid = made(answer.solution().case.drop_m);
    let (runs, left_out) = Comparison::prepare(&answer.engine, &Procedures::built_in(), Scope::ThisEngine, 1);
    let entries = runs.into_iter().map(|run| {
        let draws = Draws::join(vec![run.draw(0..400)]);
        Entry::of(run, &draws)
    });
    let comparison = Comparison::rank(Scope::ThisEngine, entries.collect(), left_out);
    let told = ways_torque(&answer, &grid, &comparison).unwrap();
    assert_eq!(told.ways.len(), comparison.entries.len());
    assert!((told.speeds_rad_s[0] / RPM - 3000.0).abs() < 1e-9 && told.speeds_rad_s[2] / RPM >= 8500.0);
    for ((key, _, reached), entry) in told.ways.iter().zip(&comparison.entries) {
        let top = reached[2].unwrap();
        let edge = entry.summary.quantiles(Measure::EdgeAtFull).unwrap();
        // At the top flush is best: torque falls with the square of what the edge stands low.
        let expected = 20.0 - 0.4 * (edge.median.min(0.0) * 1e3).powi(2);
        assert!((top.median_n_m - expected).abs() < 0.12, "{key}: {} {expected}", top.median_n_m);
        assert!(top.least_n_m <= top.median_n_m && top.median_n_m <= top.most_n_m + 1e-12, "{key}");
    }
    let narrow = Grid::new(vec![100.0, 200.0], vec![0.0, 0.004], vec![vec![Some(1.0); 2]; 2]).unwrap();
    assert_eq!(ways_torque(&answer, &narrow, &comparison), None);
}

#[test]
fn agrees_scenes_are_drawn_in_both_units() {
    let answer = demo();
    let grid = made(answer.solution().case.drop_m);
    let told = told(&answer, &grid, None, 0.001 / (1000.0 * RPM));
    for units in [Units::Metric, Units::Inch] {
        for scene in [
            torque_scene(&told, &[(6000.0 * RPM, 15.0)], units),
            power_scene(&told, &[], units),
            map_scene(&grid, &told, units),
            turned_scene(&told.turned, units),
            costs_scene(&told.costs, units),
        ] {
            let svg = drawing::to_svg(&scene, drawing::Theme::Paper);
            assert!(!svg.contains("NaN") && !scene.title.is_empty());
            assert!(svg.contains(if units == Units::Metric { "mm" } else { "viewBox" }));
        }
    }
}

#[test]
fn round_trips_sheets_in_the_usual_writings() {
    let read = |text: &str| MeasuredCurve::read(text).unwrap().points;
    let points = read("8000 rpm; 18.2 N·m\n# rain\n\n6000 rpm; 15.0 kW\n");
    assert!((points[0].speed_rad_s - 6000.0 * RPM).abs() < 1e-9);
    assert!((points[0].torque_n_m - 15e3 / (6000.0 * RPM)).abs() < 1e-9);
    assert!((points[1].torque_n_m - 18.2).abs() < 1e-12);
    for text in ["speed (rpm), power (kW)\n6000, 15.0\n", "n [rpm]\tP [kW]\n6000\t15.0", "rpm;kW\n6000;15,0"]
    {
        assert!((read(text)[0].torque_n_m - points[0].torque_n_m).abs() < 1e-9, "{text}");
    }
    assert!((read("6000 rpm, 20 PS")[0].torque_n_m * 6000.0 * RPM - 20.0 * 735.49875).abs() < 1e-6);
    let day = Day { pressure_pa: 95_000.0, temperature_k: 303.15, relative_humidity: 0.4 };
    let sheet = MeasuredCurve { points };
    let factor = Rule::SaeJ1349.factor(&day);
    let back = sheet.as_on_the_day(Rule::SaeJ1349, &day).unwrap();
    assert!((back.points[1].torque_n_m * factor - 18.2).abs() < 1e-12);
}

#[test]
fn exact_a_measured_point_stands_beside_the_computed_one() {
    let answer = demo();
    let grid = made(answer.solution().case.drop_m);
    let told = told(&answer, &grid, None, f64::INFINITY);
    let sheet = MeasuredCurve::read("9500 rpm; 16.0 N·m\n11000 rpm; 16.0 N·m\n15000 rpm; 16.0 N·m").unwrap();
    let beside = sheet.beside(&told);
    let at = |row: usize| told.speeds[row].own.torque_n_m.unwrap();
    // The speeds of the map are whole thousands from 2000 rpm on.
    assert!((beside[0].computed_n_m.unwrap() - 0.5 * (at(7) + at(8))).abs() < 1e-9);
    assert!((beside[1].ratio().unwrap() - at(9) / 16.0).abs() < 1e-9);
    assert_eq!(beside[2].computed_n_m, None);
    let mean = Beside::mean_ratio(&beside).unwrap();
    assert!((mean - 0.5 * (beside[0].ratio().unwrap() + beside[1].ratio().unwrap())).abs() < 1e-12);
    assert_eq!(Beside::mean_ratio(&beside[2..]), None);
    let top = told.speeds.last().unwrap();
    assert!(top.given_away().unwrap().abs() < 1e-3, "flush is best at the top");
}

#[test]
fn refuses_sheets_with_a_sentence_for_each_line() {
    for (text, line, words) in [
        ("6000 rpm", 1, "two columns"),
        ("6000 rpm; 12", 1, "torque or power"),
        ("6000 rpm; 12 N·m\n9; 12 N·m", 2, "engine speed"),
        ("6000 rpm; 12 mm", 1, "torque or power"),
        ("60000 rpm; 12 N·m", 1, "outside of 100 rpm"),
        ("6000 rpm; 12000 N·m", 1, "1000 N·m"),
        ("6000 rpm; 12 N·m; 3", 1, "two columns"),
    ] {
        let problems = MeasuredCurve::read(text).unwrap_err();
        assert_eq!(problems[0].line, line, "{text}");
        assert!(problems[0].text.contains(words), "{text}: {}", problems[0]);
    }
    assert_eq!(MeasuredCurve::read("").unwrap().points, []);
}

proptest::proptest! {
    #[test]
    fn refuses_or_reads_whatever_is_typed(text in "\\PC{0,60}(\n\\PC{0,60}){0,3}") {
        if let Err(problems) = MeasuredCurve::read(&text) {
            proptest::prop_assert!(problems.iter().all(|p| p.line > 0 && !p.text.is_empty()));
        }
    }
}
