//! Propagation beyond first order and independence: JCGM 100 H.1 to H.3, JCGM 101 clause 9, NIST TN 1900.
#![allow(clippy::unwrap_used, reason = "a file of tests: falling over is how they fail")]

use evidence::fit::{Parameter, Readings, fit};
use evidence::propagation::{
    Agreement, Correlation, Evaluation, Kind, Method, agreement, evaluate, second_order, what_if,
};
use evidence::{Input, propagation::monte_carlo_correlated};
use published::{Tolerance, cite};
use std::f64::consts::PI;

/// A million draws, as the examples of JCGM 101 take.
const DRAWN: Method = Method::MonteCarlo { draws: 1_000_000, seed: 20_080_101 };

fn rounded(size: f64) -> Tolerance {
    Tolerance::absolute(size, "the reference is given to this many digits")
}

fn drawn(size: f64) -> Tolerance {
    Tolerance::absolute(
        size,
        "random error of a million draws, two to four standard errors; the seed is fixed",
    )
}

#[test]
fn published_end_gauge_with_second_order_terms() {
    let inputs = [
        Input::normal("standard", 50_000_623.0, 25.0),
        Input::normal("comparison, repeated", 215.0, 5.8),
        Input::normal("comparator, random", 0.0, 3.9),
        Input::normal("comparator, systematic", 0.0, 6.7),
        Input::within("expansion of the standard", 11.5e-6, 2e-6),
        Input::within("difference of expansions", 0.0, 1e-6),
        Input::within("difference of temperatures", 0.0, 0.05),
        Input::normal("mean temperature of the bed", -0.1, 0.2),
        Input::normal("its cycle (arcsine of ±0.5)", 0.0, 0.5 / 2f64.sqrt()),
    ];
    let length = |x: &[f64]| Some(x[0] + x[1] + x[2] + x[3] - x[0] * (x[5] * (x[7] + x[8]) + x[4] * x[6]));
    let found = second_order(&inputs, length).unwrap();
    let place = cite("JCGM-100", "H.1.7, second-order terms of 11.73 and 1.67 nm");
    place
        .near("u of the length, first order, nm", found.u_first, 31.664, rounded(0.001))
        .near("u of the length with second-order terms, nm", found.u, 33.807, rounded(0.002))
        .near("the same as printed, nm", found.u, 34.0, rounded(0.5));
    // Half of its temperature difference would be the better measurement after the standard itself.
    let list = what_if(&inputs, None, Method::FirstOrder, 0.95, length).unwrap();
    let order: Vec<&str> = list.iter().take(2).map(|line| line.name.as_str()).collect();
    assert_eq!(order, ["standard", "difference of temperatures"]);
    // √(31.664² - 25² x 3/4) / 31.664
    cite("JCGM-100", "H.1, table H.1: u of 31.664 nm with a part of 25 nm halved, by hand").near(
        "share of the band that goes with half the uncertainty of the standard",
        list[0].shrink_halved(),
        1.0 - (31.663_879f64.powi(2) - 0.75 * 625.0).sqrt() / 31.663_879,
        rounded(1e-6),
    );
}

#[test]
fn published_impedance_from_results_of_each_reading() {
    // Voltage in V, current in A, phase in rad, read together five times; results of each row, then their means.
    let rows = [
        [5.007, 19.663e-3, 1.0456],
        [4.994, 19.639e-3, 1.0438],
        [5.005, 19.640e-3, 1.0468],
        [4.990, 19.685e-3, 1.0428],
        [4.999, 19.678e-3, 1.0433f64],
    ];
    let results: Vec<[f64; 3]> =
        rows.iter().map(|[v, i, phase]| [v / i * phase.cos(), v / i * phase.sin(), v / i]).collect();
    let place = cite("JCGM-100", "H.2.4, approach 2, figures unrounded");
    let theirs =
        [("R", 127.731_630, 0.071_274), ("X", 219.846_895, 0.295_489), ("Z", 254.260_050, 0.236_248)];
    for (at, (name, value, u)) in theirs.iter().enumerate() {
        let column: Vec<f64> = results.iter().map(|row| row[at]).collect();
        let input = Input::repeated(*name, &column).unwrap();
        place.near(&format!("{name}, Ω"), input.value, *value, rounded(1e-6));
        place.near(&format!("u of {name}, Ω"), input.u, *u, rounded(1e-6));
    }
    let slices: Vec<&[f64]> = results.iter().map(|row| row.as_slice()).collect();
    let correlation = Correlation::of_readings(&slices).unwrap();
    for (name, i, j, r) in
        [("R and X", 0, 1, -0.588_277), ("R and Z", 0, 2, -0.485_065), ("X and Z", 1, 2, 0.992_508)]
    {
        place.near(&format!("correlation of {name}"), correlation.between(i, j), r, rounded(1e-6));
    }
}

/// JCGM 100, H.3: readings of a thermometer (°C) and its corrections.
const THERMOMETER: [(f64, f64); 11] = [
    (21.521, -0.171),
    (22.012, -0.169),
    (22.512, -0.166),
    (23.003, -0.159),
    (23.507, -0.164),
    (23.999, -0.165),
    (24.513, -0.156),
    (25.002, -0.157),
    (25.503, -0.159),
    (26.010, -0.161),
    (26.511, -0.160),
];

#[test]
fn published_calibration_line_of_a_thermometer() {
    let readings = Readings::of_unknown_spread(THERMOMETER.iter().map(|(_, b)| *b).collect());
    let parameters = [Parameter::new("correction at 20 °C", -0.1), Parameter::new("slope", 0.001)];
    let found = fit(&parameters, &readings, |p, out| {
        for ((t, _), out) in THERMOMETER.iter().zip(out) {
            *out = p[0] + p[1] * (t - 20.0);
        }
        true
    })
    .unwrap();
    let place = cite("JCGM-100", "H.3, table H.6 and equations (H.13) and (H.14), figures unrounded");
    let deviation = found.residuals.standard_deviation.unwrap();
    place
        .near("correction at 20 °C, °C", found.estimates[0].value, -0.171_203_8, rounded(1e-7))
        .near("its u, °C", found.estimates[0].u, 0.002_877_60, rounded(1e-8))
        .near("slope", found.estimates[1].value, 0.002_182_698, rounded(1e-9))
        .near("its u", found.estimates[1].u, 0.000_667_939, rounded(1e-9))
        .near("correlation of the two", found.correlation.between(0, 1), -0.930_430, rounded(1e-6))
        .near("standard deviation of a reading, °C", deviation, 0.003_497_564, rounded(1e-9));
    // What the line says at 30 °C: the parameters go on with their correlation.
    let at_30 = |x: &[f64]| Some(x[0] + 10.0 * x[1]);
    let inputs = found.inputs();
    let first = evaluate(&inputs, Some(&found.correlation), Method::FirstOrder, at_30).unwrap();
    place.near("correction at 30 °C, °C", first.value, -0.149_376_8, rounded(1e-7)).near(
        "its u, °C",
        first.u,
        0.004_138_6,
        rounded(1e-7),
    );
    // Nine degrees of freedom by the multivariate t distribution: u is √(9/7) times as large.
    let by_draws = evaluate(&inputs, Some(&found.correlation), DRAWN, at_30).unwrap();
    cite("JCGM-101", "6.4.9: standard deviation of a t variable, for the line of JCGM 100, H.3").near(
        "u of the correction at 30 °C, °C",
        by_draws.u,
        0.004_138_6 * (9.0f64 / 7.0).sqrt(),
        Tolerance::relative(0.005, "random error of a million draws of a t variable"),
    );
}

#[test]
fn published_comparison_loss_with_correlation() {
    // Y = X1² + X2², both with u = 0.005 and correlation 0.9; in units of 1e-6.
    let together = Correlation::none(2).with(0, 1, 0.9).unwrap();
    let place = cite("JCGM-101", "9.4.3, correlation 0.9; u exact: √(4 x1² u² + 4 u⁴ (1 + r²))");
    for (x1, mean, u) in [(0.0, 50.0, 67.268), (0.010, 150.0, 120.520), (0.050, 2550.0, 504.505)] {
        let inputs = [Input::normal("X1", x1, 0.005), Input::normal("X2", 0.0, 0.005)];
        let model = |x: &[f64]| Some(1e6 * (x[0] * x[0] + x[1] * x[1]));
        let found = evaluate(&inputs, Some(&together), DRAWN, model).unwrap();
        let size = Tolerance::relative(0.005, "a million draws: the standard error is 0.0015 or less");
        place.near(&format!("mean at x1 = {x1}, 1e-6"), found.value, mean, size).near(
            &format!("u at x1 = {x1}, 1e-6"),
            found.u,
            u,
            size,
        );
    }
}

#[test]
fn published_end_gauge_by_draws() {
    // Shapes of table 10: t, rectangular, normal, arcsine, and limits that are themselves not sharp.
    let few = |name: &str, value: f64, u: f64, freedom: f64| {
        Input::normal(name, value, u).with_degrees_of_freedom(freedom)
    };
    let unit = |name: &str| Input::within(name, 0.5, 0.5);
    let inputs = [
        few("standard", 50_000_623.0, 25.0, 18.0),
        few("comparison, repeated", 215.0, 6.0, 24.0),
        few("comparator, random", 0.0, 4.0, 5.0),
        few("comparator, systematic", 0.0, 7.0, 8.0),
        Input::within("expansion of the standard", 11.5e-6, 2e-6),
        Input::normal("mean temperature of the bed", -0.1, 0.2),
        unit("phase of its cycle"),
        unit("limits of the expansions"),
        unit("place between them"),
        unit("limits of the temperatures"),
        unit("place between these"),
    ];
    // Limits ±a, each uncertain by ±d (JCGM 101, 6.4.3).
    let blurred = |a: f64, d: f64, limit: f64, place: f64| {
        let low = -a - d + 2.0 * d * limit;
        low - 2.0 * low * place
    };
    let length = |x: &[f64]| {
        let cycle = 0.5 * (PI * x[6]).cos();
        let expansions = blurred(1e-6, 1e-7, x[7], x[8]);
        let temperatures = blurred(0.05, 0.025, x[9], x[10]);
        Some(x[0] * (1.0 - expansions * (x[5] + cycle) - x[4] * temperatures) - 5e7 + x[1] + x[2] + x[3])
    };
    let found = evaluate(&inputs, None, DRAWN, length).unwrap();
    let interval = found.interval(0.99, Kind::Shortest).unwrap();
    let place = cite("JCGM-101", "9.5, table 11 (838, 36, 745 to 932), figures of five million draws");
    place
        .near("deviation of the length, nm", found.value, 838.0, drawn(0.15))
        .near("u of the deviation, nm", found.u, 35.805, drawn(0.12))
        .near("u as printed, nm", found.u, 36.0, rounded(0.5))
        .near("width of the shortest 99 %, nm", interval.width(), 931.82 - 744.63, drawn(1.0))
        .near("lower end of the shortest 99 %, nm", interval.low, 744.63, drawn(1.5))
        .near("upper end of the shortest 99 %, nm", interval.high, 931.82, drawn(1.5));
}

/// First order held against draws, with the digits that the standard takes.
fn both(
    inputs: &[Input],
    digits: u8,
    model: impl Fn(&[f64]) -> Option<f64> + Copy,
) -> (Agreement, Evaluation) {
    let first = evaluate(inputs, None, Method::FirstOrder, model).unwrap();
    let found = evaluate(inputs, None, DRAWN, model).unwrap();
    (agreement(&first, &found, 0.95, Kind::Symmetric, digits).unwrap(), found)
}

#[test]
fn published_validation_of_first_order_by_draws() {
    let place =
        cite("JCGM-101", "9.2.2 to 9.2.4 and 9.3, tables 2 to 6: is first order validated? from memory");
    let sum = |x: &[f64]| Some(x.iter().sum());
    let root = 3f64.sqrt();
    let normal = [1.0; 4].map(|u| Input::normal("X", 0.0, u));
    let equal = [1.0; 4].map(|times| Input::within("X", 0.0, times * root));
    let one = [1.0, 1.0, 1.0, 10.0].map(|times| Input::within("X", 0.0, times * root));
    for (name, inputs, validated, tolerance) in [
        ("four normal quantities", &normal, true, 0.05),
        ("four rectangular quantities", &equal, true, 0.05),
        ("one rectangular quantity in command", &one, false, 0.5),
    ] {
        let (found, _) = both(inputs, 2, sum);
        place.is(&format!("{name}: first order validated"), found.agrees, validated);
        place.near(&format!("{name}: tolerance"), found.tolerance, tolerance, rounded(1e-9));
    }
    let mass = [
        Input::normal("reference mass, mg", 100_000.0, 0.05),
        Input::normal("added mass, mg", 1.234, 0.02),
        Input::within("density of air, kg/m³", 1.2, 0.1),
        Input::within("density of the weight, kg/m³", 8000.0, 1000.0),
        Input::within("density of the reference, kg/m³", 8000.0, 50.0),
    ];
    let model =
        |x: &[f64]| Some((x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100_000.0);
    let (found, _) = both(&mass, 1, model);
    place.is("mass calibration: first order validated", found.agrees, false);
    place.near("mass calibration: tolerance, mg", found.tolerance, 0.005, rounded(1e-9));
    cite("JCGM-101", "9.3, table 6, with second-order terms").near(
        "u of the deviation, mg",
        second_order(&mass, model).unwrap().u,
        0.0750,
        rounded(0.00005),
    );
}

#[test]
fn published_falling_ball_viscometer() {
    let inputs = [
        Input::normal("viscosity of the calibration liquid, mPa s", 4.63, 0.0463),
        Input::normal("time in the liquid, s", 61.0, 6.1),
        Input::normal("time in the calibration liquid, s", 36.6, 5.49),
        Input::normal("density of the ball, kg/m³", 2217.0, 0.5),
        Input::normal("density of the liquid, kg/m³", 1180.0, 0.5),
        Input::normal("density of the calibration liquid, kg/m³", 810.0, 0.5),
    ];
    let model = |x: &[f64]| Some(x[0] * (x[3] - x[4]) / (x[3] - x[5]) * x[1] / x[2]);
    let first = evaluate(&inputs, None, Method::FirstOrder, model).unwrap();
    let found = evaluate(&inputs, None, DRAWN, model).unwrap();
    let interval = found.interval(0.95, Kind::Symmetric).unwrap();
    cite("NIST-TN1900", "example E3")
        .near("viscosity, first order, mPa s", first.value, 5.69, rounded(0.005))
        .near("viscosity, mean of the draws, mPa s", found.value, 5.82, rounded(0.01))
        .near("its u, mPa s", found.u, 1.11, rounded(0.01))
        .near("lower end of 95 %, mPa s", interval.low, 4.05, rounded(0.015))
        .near("upper end of 95 %, mPa s", interval.high, 8.39, rounded(0.02));
}

#[test]
fn agrees_draws_of_several_results_with_one_at_a_time() {
    let inputs = [Input::normal("a", 1.0, 0.1), Input::within("b", 2.0, 0.2)];
    let together = Correlation::none(2).with(0, 1, 0.5).unwrap();
    let both = monte_carlo_correlated(&inputs, Some(&together), 2, 1000, 3, |x, out| {
        out.copy_from_slice(&[x[0] + x[1], x[0] * x[1]]);
        true
    })
    .unwrap();
    let method = Method::MonteCarlo { draws: 1000, seed: 3 };
    let one = evaluate(&inputs, Some(&together), method, |x| Some(x[0] * x[1])).unwrap();
    assert_eq!(both.get(1), one.sample.as_ref());
}
