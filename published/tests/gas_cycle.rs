//! The whole engine: motored compression, and what is known of engines with an exhaust power valve.

use engine::kinematics::SliderCrank;
use engine::model::Engine;
use engine::ports::report;
use gas::cycle::{Flow, Model, Point, Settings};
use gas::duct::{Caloric, GasState};
use gas::gas::{Air, Gas};
use gas::vessel::Contents;
use published::table::Table;
use published::{Tolerance, cite, practice};
use std::f64::consts::{FRAC_PI_4, TAU};

fn demo() -> Engine {
    engine::file::read(engine::file::DEMO.as_bytes()).expect("the demo reads").engine
}

fn points(model: &Model, rpm: f64, lifts_m: &[f64], settings: &Settings) -> Vec<Point> {
    let run = model.run(rpm * TAU / 60.0, lifts_m, settings, None, &mut |_| Flow::Continue).expect("a run");
    run.points.into_iter().map(|point| point.expect("a steady cycle")).collect()
}

#[test]
fn published_motored_compression_of_a_perfect_gas() {
    let table = Table::read(include_str!("../data/gas/motored_adiabatic.csv"));
    let slider = SliderCrank::new(0.02725, 0.110, 0.0).expect("a crank train");
    let bore_m2 = FRAC_PI_4 * 0.054 * 0.054;
    let cases = ["full_stroke", "from_EPC_90atdc"].into_iter().flat_map(|case| [(case, 1.4), (case, 1.35)]);
    for (case, gamma) in cases {
        let mut lines = table.of("case", case);
        lines.retain(|line| line.number("gamma") == gamma);
        let first = lines[0].number("theta_deg");
        let gas = Caloric::perfect(gamma, 287.0);
        let start = GasState { pressure_pa: 1e5, temperature_k: 350.0, velocity_m_s: 0.0, y: [0.0; 2] };
        // The chamber that makes the first volume the published one.
        let chamber_m3 = lines[0].number("V") - bore_m2 * slider.drop_m((360.0 - first).to_radians());
        let volume = |deg: f64| chamber_m3 + bore_m2 * slider.drop_m((360.0 - deg).to_radians());
        let mut vessel = Contents::<1>::filled(&gas, volume(first), |_| start);
        let (mut at, mut work, mut worst) = (first, 0.0, [0.0f64; 3]);
        for line in &lines {
            let until = line.number("theta_deg");
            while at < until - 1e-9 {
                at += 0.5;
                work -= vessel.resize(&gas, volume(at))[0];
                vessel.settle(&gas);
            }
            let state = vessel.gas(&gas, 0);
            worst[0] = worst[0].max((state.pressure_pa / line.number("p") - 1.0).abs());
            worst[1] = worst[1].max((state.temperature_k / line.number("T") - 1.0).abs());
            worst[2] = worst[2].max((work - line.number("work_in")).abs());
        }
        let tolerance = || Tolerance::absolute(1e-6, "as the check data suggest for steps of half a degree");
        cite(
            "HEYWOOD-1988",
            "chapter 2, isentropic compression with the slider-crank; worked out independently",
        )
        .near(&format!("{case}, {gamma}: greatest relative error of pressure"), worst[0], 0.0, tolerance())
        .near(&format!("{case}, {gamma}: greatest relative error of temperature"), worst[1], 0.0, tolerance())
        .near(
            &format!("{case}, {gamma}: greatest error of work, J"),
            worst[2],
            0.0,
            Tolerance::absolute(3e-5, "a millionth of the work"),
        );
    }
}

#[test]
fn published_motored_compression_of_real_air() {
    let table = Table::read(include_str!("../data/gas/isentropic_air.csv"));
    let gas = Caloric::from(&Gas::petrol(Air::DRY, 1.0).expect("a gas"));
    let start = GasState { pressure_pa: 1e5, temperature_k: 350.0, velocity_m_s: 0.0, y: [0.0; 2] };
    let (first_m3, steps) = (143e-6, 400);
    for line in table.lines() {
        let ratio = line.number("V1_over_V");
        let mut vessel = Contents::<1>::filled(&gas, first_m3, |_| start);
        for step in 1..=steps {
            let share = f64::from(step) / f64::from(steps);
            vessel.resize(&gas, first_m3 * (1.0 + share * (1.0 / ratio - 1.0)));
            vessel.settle(&gas);
        }
        let state = vessel.gas(&gas, 0);
        let tolerance = || Tolerance::relative(1e-3, "as the check data suggest");
        cite("GOODWIN-2025", "isentropic compression of air from 1 bar and 350 K, run for this table")
            .near(
                &format!("pressure at a volume ratio of {ratio}, Pa"),
                state.pressure_pa,
                line.number("p"),
                tolerance(),
            )
            .near(
                &format!("temperature at a volume ratio of {ratio}, K"),
                state.temperature_k,
                line.number("T"),
                tolerance(),
            );
    }
}

/// Torque with the valve held closed and held open by speed.
fn curves() -> Vec<(f64, Point, Point)> {
    let engine = demo();
    let model = Model::of(&engine).expect("a model");
    let lifts = [0.0, engine.valve.closed_drop.value];
    (0..18)
        .map(|i| {
            let rpm = 4000.0 + 500.0 * f64::from(i);
            let mut both = points(&model, rpm, &lifts, &Settings::default());
            let open = both.pop().expect("two points");
            (rpm, both.pop().expect("two points"), open)
        })
        .collect()
}

#[test]
fn practice_curves_with_the_valve_held_open_and_closed_cross_once_and_the_open_one_peaks_higher_and_later() {
    // The demo's pipe was chosen among three lengths: with one of the others the open valve won at 8000 rpm too, by 2 per
    // cent. That the curves cross once is therefore what this pipe does, not what any pipe must do.
    let curves = curves();
    for (rpm, closed, open) in &curves {
        println!("{rpm:6.0} closed {:6.2} open {:6.2} N m", closed.torque_n_m, open.torque_n_m);
    }
    let signs: Vec<bool> =
        curves.iter().map(|(_, closed, open)| open.torque_n_m > closed.torque_n_m).collect();
    let crossings = signs.windows(2).filter(|pair| pair[0] != pair[1]).count();
    let best = |of: fn(&(f64, Point, Point)) -> f64| {
        curves
            .iter()
            .map(|row| (row.0, of(row)))
            .fold((0.0, 0.0), |best, now| if now.1 > best.1 { now } else { best })
    };
    let (closed, open) = (best(|row| row.1.torque_n_m), best(|row| row.2.torque_n_m));
    let source = practice(
        "curves of an engine with its valve held open and held closed, in workshop manuals: they cross once, the open one \
         peaks later and higher, the gain of the valve is at low speed",
    );
    source
        .is("number of crossings of the torque curves, 4000 to 12 500 rpm", crossings, 1)
        .is("valve closed is better at the lowest speed", !signs[0], true)
        .is("torque with the valve open peaks later", open.0 > closed.0, true)
        .is("torque with the valve open peaks higher", open.1 > closed.1, true);
    let power = |of: fn(&(f64, Point, Point)) -> f64| curves.iter().map(of).fold(0.0, f64::max);
    source.is(
        "power with the valve open peaks higher",
        power(|row| row.2.power_w) > power(|row| row.1.power_w),
        true,
    );
}

#[test]
fn practice_closed_timing_leaves_the_open_peak_alone() {
    let mut engine = demo();
    let run = |engine: &Engine| {
        let model = Model::of(engine).expect("a model");
        points(&model, 11_500.0, &[engine.valve.closed_drop.value], &Settings::default())[0].torque_n_m
    };
    let before = run(&engine);
    engine.valve.closed_drop.value += 1.5e-3;
    let after = run(&engine);
    practice("the same open timing gives the same peak, whatever the valve closes to (workshop manual)")
        .near(
            "torque at 11 500 rpm with the valve open, closed edge 1.5 mm lower over before",
            after / before,
            1.0,
            Tolerance::absolute(1e-9, "the same engine to rounding"),
        );
}

#[test]
fn practice_leakage_above_the_blade_takes_the_gain_away() {
    let engine = demo();
    let model = Model::of(&engine).expect("a model");
    let torque = |lift_m: f64, leak_m2: f64| {
        let settings = Settings { leak_m2, ..Settings::default() };
        points(&model, 6000.0, &[lift_m], &settings)[0].torque_n_m
    };
    let open = torque(engine.valve.closed_drop.value, 0.0);
    let gains: Vec<f64> = [0.0, 10e-6, 30e-6, 100e-6].map(|leak_m2| torque(0.0, leak_m2) - open).to_vec();
    println!("gain at 6000 rpm by leak: {gains:?} N m");
    practice("a gap between roof and blade is worth a closure of its own (US 4,672,925): leakage takes the gain away")
        .is("gain of the closed valve at 6000 rpm falls with every larger gap", gains.is_sorted_by(|a, b| a > b), true)
        .is("and more than half of it is gone with a gap of 100 mm²", gains[3] < 0.5 * gains[0], true);
}

#[test]
fn practice_trapped_ratio_rises_as_the_edge_goes_down() {
    let engine = demo();
    let model = Model::of(&engine).expect("a model");
    let lifts = [0.0045, 0.003, 0.0015, 0.0];
    let ratios: Vec<f64> = points(&model, 8000.0, &lifts, &Settings::default())
        .iter()
        .map(|point| point.trapped_ratio)
        .collect();
    let source = practice("the trapped compression ratio rises as the exhaust's edge goes down");
    source.is("rises from open to closed in every step", ratios.is_sorted_by(|a, b| a < b), true);
    for (lift_m, ratio) in lifts.iter().zip(&ratios) {
        let exact = report(&engine, *lift_m).expect("ports").trapped_ratio;
        source.near(
            &format!("trapped ratio in the run at a lift of {:.1} mm beside the geometry's", lift_m * 1e3),
            *ratio,
            exact,
            Tolerance::relative(0.02, "the run sees the port close at the end of a step, up to 0.7° late"),
        );
    }
}

#[test]
fn converges_torque_with_shorter_cells() {
    let engine = demo();
    let model = Model::of(&engine).expect("a model");
    let lifts = [0.0, 0.00225, 0.0045];
    let default = Settings { tolerance: 1e-4, ..Settings::default() };
    let halved = Settings { cell_length_m: 0.5 * default.cell_length_m, ..default.clone() };
    for rpm in [4500.0, 6000.0, 9000.0, 10_500.0, 11_700.0, 12_100.0] {
        let (coarse, fine) = (points(&model, rpm, &lifts, &default), points(&model, rpm, &lifts, &halved));
        for (coarse, fine) in coarse.iter().zip(&fine) {
            let off = coarse.torque_n_m / fine.torque_n_m - 1.0;
            println!("{rpm} rpm, {:.2} mm: {:.3} %", coarse.lift_m * 1e3, 100.0 * off);
            assert!(off.abs() < 0.01, "{rpm} rpm, {} m: {off}", coarse.lift_m);
        }
    }
}
