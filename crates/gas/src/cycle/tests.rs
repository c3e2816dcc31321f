//! The whole engine: what is kept, what repeats, what a lane may depend on.

use super::*;
use engine::model::Engine;
use std::f64::consts::TAU;

fn demo() -> Engine {
    engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine
}

fn go(_: Progress) -> Flow {
    Flow::Continue
}

/// Coarse and quick: for what holds on any grid.
fn quick() -> Settings {
    Settings { cell_length_m: 0.03, ..Settings::default() }
}

fn run(rpm: f64, lifts_m: &[f64], settings: &Settings) -> Vec<Point> {
    let run = Model::of(&demo()).unwrap().run(rpm * TAU / 60.0, lifts_m, settings, None, &mut go).unwrap();
    run.points.into_iter().map(|point| point.unwrap()).collect()
}

#[test]
fn conserves_mass_species_and_energy_over_a_whole_turn() {
    for point in run(8000.0, &[0.0, 0.002, 0.0045], &quick()) {
        let Balance { mass, energy, fuel, burned } = point.balance;
        for (what, left) in [("mass", mass), ("energy", energy), ("fuel", fuel), ("burned gas", burned)] {
            assert!(left.abs() < 1e-9, "{what} at {:.4} m: {left:e}", point.lift_m);
        }
        assert!(point.torque_n_m > 5.0 && point.torque_n_m < 25.0, "{}", point.torque_n_m);
    }
}

#[test]
fn exact_a_lane_does_not_depend_on_place_or_company() {
    let lifts = [0.0, 0.001, 0.002, 0.003, 0.0045];
    let many = run(9000.0, &lifts, &quick());
    let alone = run(9000.0, &[0.002], &quick());
    let turned = run(9000.0, &[0.0045, 0.002], &quick());
    let same = |one: &Point, two: &Point| {
        assert_eq!((one.torque_n_m, one.cycles, one.residual), (two.torque_n_m, two.cycles, two.residual));
        assert_eq!(one, two);
    };
    same(&many[2], &alone[0]);
    same(&many[2], &turned[1]);
    same(&many[4], &turned[0]);
}

#[test]
fn agrees_efficiencies_with_each_other() {
    for point in run(7000.0, &[0.0, 0.0045], &quick()) {
        let product = point.delivery_ratio * point.trapping_efficiency;
        assert!(
            (product / point.charging_efficiency - 1.0).abs() < 1e-9,
            "{:e}",
            product / point.charging_efficiency - 1.0
        );
        assert!((point.scavenging_efficiency + point.residual - 1.0).abs() < 1e-12);
        let brake = point.imep_pa - point.pmep_pa - point.fmep_pa;
        assert!((brake - point.bmep_pa).abs() < 1e-6);
        assert!((point.power_w - point.torque_n_m * point.speed_rad_s).abs() < 1e-6);
        let traces = &point.traces;
        assert!(traces.angle_rad.len() > 200 && traces.angle_rad.is_sorted());
        assert_eq!(traces.angle_rad.len(), traces.cylinder_pa.len());
        let most = traces.cylinder_pa.iter().fold(0.0f64, |most, pa| most.max(*pa));
        assert!((most / point.peak_pa - 1.0).abs() < 0.02);
    }
}

#[test]
fn exact_the_steady_cycle_repeats() {
    // Started from its own end a run must settle at once and at the same place.
    let model = Model::of(&demo()).unwrap();
    let speed_rad_s = 8000.0 * TAU / 60.0;
    let settings = quick();
    let first = model.run(speed_rad_s, &[0.001], &settings, None, &mut go).unwrap();
    let again = model.run(speed_rad_s, &[0.001], &settings, Some(&first.warm), &mut go).unwrap();
    let (first, again) = (first.points[0].as_ref().unwrap(), again.points[0].as_ref().unwrap());
    assert!(again.cycles <= 6, "{} turns", again.cycles);
    assert!((again.torque_n_m / first.torque_n_m - 1.0).abs() < settings.tolerance);
    assert!((again.delivery_ratio / first.delivery_ratio - 1.0).abs() < settings.tolerance);
}

#[test]
fn agrees_a_warm_start_with_a_cold_one() {
    // Where the last speed and the rough runs point to is only a start: the steady cycle is the same.
    let model = Model::of(&demo()).unwrap();
    let settings = Settings { tolerance: 1e-4, ..quick() };
    let lifts = [0.0, 0.0045];
    let mut warm: Option<Warm> = None;
    let mut last = Vec::new();
    for rpm in [7200.0, 7600.0, 8000.0] {
        let run = model.run(rpm * TAU / 60.0, &lifts, &settings, warm.as_ref(), &mut go).unwrap();
        last = run.points.into_iter().map(|point| point.unwrap()).collect();
        warm = Some(run.warm);
    }
    let cold = model.run(8000.0 * TAU / 60.0, &lifts, &settings, None, &mut go).unwrap();
    for (warm, cold) in last.iter().zip(&cold.points) {
        let cold = cold.as_ref().unwrap();
        let off = warm.torque_n_m / cold.torque_n_m - 1.0;
        assert!(off.abs() < 5e-4, "{} {}", warm.torque_n_m, cold.torque_n_m);
    }
}

#[test]
fn agrees_a_rough_start_with_none_at_all_and_saves_turns() {
    let model = Model::of(&demo()).unwrap();
    let (speed_rad_s, lifts) = (8000.0 * TAU / 60.0, [0.0, 0.002, 0.0045]);
    let turns = |points: &[Result<Point, NotConverged>]| {
        points.iter().flatten().map(|point| point.cycles).sum::<usize>()
    };
    let both = |settings: &Settings| {
        let rough = model.run(speed_rad_s, &lifts, settings, None, &mut go).unwrap().points;
        (rough, model.settle(speed_rad_s, &lifts, settings, None, &mut go).unwrap().points)
    };
    let (rough, cold) = both(&quick());
    assert!(4 * turns(&rough) < 3 * turns(&cold), "{} {}", turns(&rough), turns(&cold));
    let (rough, cold) = both(&Settings { tolerance: 1e-4, ..quick() });
    for (rough, cold) in rough.iter().flatten().zip(cold.iter().flatten()) {
        let off = rough.torque_n_m / cold.torque_n_m - 1.0;
        assert!(off.abs() < 5e-4, "{} {}", rough.torque_n_m, cold.torque_n_m);
    }
}

#[test]
fn exact_a_diameter_that_steps_divides_the_pipe_and_keeps_the_balance() {
    let mut engine = demo();
    engine.gas.pipe[1].inlet_diameter.value += 0.003;
    let run = Model::of(&engine).unwrap().run(800.0, &[0.0], &quick(), None, &mut go).unwrap();
    let balance = run.points[0].as_ref().unwrap().balance;
    assert!(balance.mass.abs() < 1e-9 && balance.energy.abs() < 1e-9, "{balance:?}");
}

#[test]
fn agrees_a_throttle_lets_less_through() {
    let model = Model::of(&demo()).unwrap();
    let delivery = |throttle: f64| {
        let settings = Settings { throttle: Some(throttle), ..quick() };
        let run = model.run(800.0, &[0.0], &settings, None, &mut go).unwrap();
        run.points[0].as_ref().unwrap().delivery_ratio
    };
    let (shut, half, open) = (delivery(0.25), delivery(0.5), delivery(1.0));
    assert!(shut < half && half < open, "{shut} {half} {open}");
}

#[test]
fn exact_a_motored_engine_burns_nothing_and_brakes() {
    let settings = Settings { fired: false, ..quick() };
    for point in run(6000.0, &[0.0], &settings) {
        assert!(point.torque_n_m < 0.0 && point.bsfc_kg_j.is_none());
        assert!(point.imep_pa.abs() < 1e5 && point.balance.burned.abs() < 1e-12);
    }
}

#[test]
fn refuses_an_engine_without_its_gas_and_names_all_of_it() {
    let mut engine = demo();
    engine.gas = engine::model::GasPath::default();
    engine.crankcase_volume = None;
    let text = Model::of(&engine).unwrap_err().to_string();
    for key in ["crankcase.volume", "[[pipe]]", "[intake]", "[carburettor]", "[reed]", "[ignition]", "[fuel]"]
    {
        assert!(text.contains(key), "{key}: {text}");
    }
}

#[test]
fn refuses_settings_that_cannot_be() {
    let model = Model::of(&demo()).unwrap();
    let say = |speed_rad_s: f64, settings: Settings| {
        model.run(speed_rad_s, &[0.0], &settings, None, &mut go).unwrap_err().to_string()
    };
    assert!(say(f64::NAN, quick()).contains("rpm"));
    assert!(say(800.0, Settings { cell_length_m: 0.0, ..quick() }).contains("cell length"));
    assert!(say(800.0, Settings { throttle: Some(-1.0), ..quick() }).contains("throttle"));
    assert_eq!(model.run(800.0, &[0.0], &quick(), None, &mut |_| Flow::Stop).unwrap_err(), RunError::Stopped);
}

#[test]
fn refuses_a_figure_when_turns_run_out() {
    let model = Model::of(&demo()).unwrap();
    let settings = Settings { most_cycles: 4, ..quick() };
    let run = model.run(800.0, &[0.0], &settings, None, &mut go).unwrap();
    assert!(matches!(run.points[0], Err(NotConverged::OutOfCycles { cycles: 4, .. })));
    assert!(run.points[0].as_ref().unwrap_err().to_string().contains("steady cycle"));
}

#[test]
fn agrees_what_is_said_of_the_transfer_ducts_is_used() {
    let torque = |text: &str| {
        let text = format!("{}\n{text}", engine::file::DEMO);
        let engine = engine::file::read(text.as_bytes()).unwrap().engine;
        let model = Model::of(&engine)?;
        let assumed = model.assumptions(&quick()).iter().filter(|line| line.contains("ransfer")).count();
        let run = model.run(1000.0, &[0.0], &quick(), None, &mut go).unwrap();
        Ok::<_, ModelError>((run.points[0].as_ref().unwrap().torque_n_m, assumed))
    };
    let (guessed, three) = torque("").unwrap();
    let (given, none) = torque(
        "[transfer_duct]\nlength = \"45 ± 2 mm\"\nfoot_area = \"1500 ± 50 mm²\"\nwall_temperature = \"90 ± 10 °C\"",
    )
    .unwrap();
    assert_eq!((three, none), (3, 0));
    assert!((given / guessed - 1.0).abs() > 1e-3, "{given} {guessed}");
    let long = torque("[transfer_duct]\nlength = \"900 ± 2 mm\"").unwrap_err().to_string();
    assert!(long.contains("transfer_duct.length") && long.contains("crankcase.volume"), "{long}");
    assert!(long.contains("900 mm") && long.contains("up to "), "the accepted range: {long}");
}

#[test]
fn agrees_carrying_down_the_pipe_with_plain_turns() {
    let model = Model::of(&demo()).unwrap();
    let settings = Settings { tolerance: 1e-4, ..quick() };
    let plain = Settings { carry: false, ..settings.clone() };
    for speed_rad_s in [500.0, 800.0, 1100.0] {
        let lifts = [0.0, 0.0045];
        let carried = model.run(speed_rad_s, &lifts, &settings, None, &mut go).unwrap().points;
        let plain = model.run(speed_rad_s, &lifts, &plain, None, &mut go).unwrap().points;
        for (carried, plain) in carried.iter().zip(&plain) {
            let (carried, plain) = (carried.as_ref().unwrap(), plain.as_ref().unwrap());
            let off = carried.torque_n_m / plain.torque_n_m - 1.0;
            assert!(off.abs() < 5e-4, "{speed_rad_s}: {} {}", carried.torque_n_m, plain.torque_n_m);
        }
    }
}
