//! Propagation of uncertainty and conformity against JCGM 100, 101 and 106 and their companions.
#![allow(clippy::unwrap_used, reason = "a file of tests: falling over is how they fail")]

use evidence::propagation::{
    Budget, Correlation, Joint, Sample, first_order, first_order_many, monte_carlo, monte_carlo_many,
};
use evidence::{Input, conformity, conformity::Verdict, distribution};
use published::{Tolerance, cite, practice};
use quantity::{Dimension, Shape, parse};

/// A million draws, as the examples of JCGM 101 take.
const DRAWS: usize = 1_000_000;
const SEED: u64 = 20_080_101;

fn rounded(size: f64) -> Tolerance {
    Tolerance::absolute(size, "the reference is given to this many digits")
}

fn drawn(size: f64) -> Tolerance {
    Tolerance::absolute(
        size,
        "random error of a million draws, two to four standard errors; the seed is fixed",
    )
}

/// JCGM 100, H.1: calibration of an end gauge of 50 mm, all lengths in nm.
fn end_gauge() -> Budget {
    let inputs = [
        Input::normal("standard", 50_000_623.0, 25.0).with_degrees_of_freedom(18.0),
        Input::normal("comparison, repeated", 215.0, 5.8).with_degrees_of_freedom(24.0),
        Input::normal("comparator, random", 0.0, 3.9).with_degrees_of_freedom(5.0),
        Input::normal("comparator, systematic", 0.0, 6.7).with_degrees_of_freedom(8.0),
        Input::within("expansion of the standard", 11.5e-6, 2e-6),
        Input::within("difference of expansions", 0.0, 1e-6).with_degrees_of_freedom(50.0),
        Input::within("difference of temperatures", 0.0, 0.05).with_degrees_of_freedom(2.0),
        Input::normal("mean temperature of the bed", -0.1, 0.2),
        Input::normal("its cycle (arcsine of ±0.5)", 0.0, 0.5 / 2f64.sqrt()),
    ];
    let model = |x: &[f64]| {
        let comparison = x[1] + x[2] + x[3];
        Some(x[0] + comparison - x[0] * (x[5] * (x[7] + x[8]) + x[4] * x[6]))
    };
    first_order(&inputs, model).unwrap()
}

#[test]
fn published_end_gauge_to_first_order() {
    let budget = end_gauge();
    let part = |name: &str| budget.contributions.iter().find(|c| c.name == name).map_or(f64::NAN, |c| c.u);
    let h1 = cite("JCGM-100", "H.1, first-order terms, without the second order of H.1.7");
    h1.near("length of the gauge, nm", budget.value, 50_000_838.0, rounded(1e-6))
        .near("u of the length, nm", budget.u, 31.664, rounded(0.01))
        .near("part of the standard, nm", part("standard"), 25.0, rounded(1e-6))
        .near(
            "part of the expansions' difference, nm",
            part("difference of expansions"),
            2.887,
            rounded(0.001),
        )
        .near(
            "part of the temperatures' difference, nm",
            part("difference of temperatures"),
            16.599,
            rounded(0.001),
        )
        .near(
            "effective degrees of freedom",
            budget.degrees_of_freedom.unwrap_or(f64::NAN),
            16.752,
            rounded(0.01),
        );
    // The document multiplies rounded figures (2.92 x 32 = 93); 92.48 is what its own unrounded figures give.
    let expanded = budget.coverage_factor(0.99).unwrap_or(f64::NAN) * budget.u;
    h1.near("expanded uncertainty for 99 %, nm", expanded, 92.48, rounded(0.05)).near(
        "the same as printed, nm",
        expanded,
        93.0,
        Tolerance::absolute(1.0, "the printed value is a product of rounded figures"),
    );
}

/// JCGM 100, H.2: voltage in V, current in A, phase in rad, read together five times.
const READINGS: [[f64; 3]; 5] = [
    [5.007, 19.663e-3, 1.0456],
    [4.994, 19.639e-3, 1.0438],
    [5.005, 19.640e-3, 1.0468],
    [4.990, 19.685e-3, 1.0428],
    [4.999, 19.678e-3, 1.0433],
];

fn impedance(correlation: Option<&Correlation>) -> Joint {
    let column = |at: usize| READINGS.iter().map(|row| row[at]).collect::<Vec<f64>>();
    let inputs: Vec<Input> = ["voltage", "current", "phase"]
        .iter()
        .enumerate()
        .filter_map(|(at, name)| Input::repeated(*name, &column(at)))
        .collect();
    first_order_many(&inputs, correlation, 3, |x, out| {
        let size = x[0] / x[1];
        out.copy_from_slice(&[size * x[2].cos(), size * x[2].sin(), size]);
        true
    })
    .unwrap()
}

#[test]
fn published_impedance_with_correlated_readings() {
    let rows: Vec<&[f64]> = READINGS.iter().map(|row| row.as_slice()).collect();
    let correlation = Correlation::of_readings(&rows).unwrap();
    let h2 = cite("JCGM-100", "H.2, tables H.2 to H.4, figures unrounded");
    let four_digits =
        || Tolerance::absolute(5e-4, "rounding of the reference, and the step u instead of a tangent");
    h2.near("correlation of voltage and current", correlation.between(0, 1), -0.3553, four_digits())
        .near("correlation of voltage and phase", correlation.between(0, 2), 0.8576, four_digits())
        .near("correlation of current and phase", correlation.between(1, 2), -0.6451, four_digits());
    let joint = impedance(Some(&correlation));
    let theirs = [("R", 127.7322, 0.07107), ("X", 219.8465, 0.29558), ("Z", 254.2597, 0.23634)];
    for (budget, (name, value, u)) in joint.budgets.iter().zip(theirs) {
        h2.near(&format!("{name}, Ω"), budget.value, value, four_digits());
        h2.near(&format!("u of {name}, Ω"), budget.u, u, four_digits());
        // Four degrees of freedom and correlated: the Welch-Satterthwaite formula says nothing here.
        assert_eq!(budget.degrees_of_freedom, None);
    }
    h2.near("correlation of R and X", joint.correlation.between(0, 1), -0.5884, four_digits())
        .near("correlation of R and Z", joint.correlation.between(0, 2), -0.4853, four_digits())
        .near("correlation of X and Z", joint.correlation.between(1, 2), 0.9925, four_digits());
    let ignored = impedance(None).budgets.first().map_or(f64::NAN, |budget| budget.u);
    h2.near("u of R if the correlation were ignored, Ω", ignored, 0.1945, four_digits());
}

fn sum(x: &[f64]) -> Option<f64> {
    Some(x.iter().sum())
}

fn ends_95(sample: &Sample) -> (f64, f64) {
    sample.symmetric(0.95).map_or((f64::NAN, f64::NAN), |interval| (interval.low, interval.high))
}

#[test]
fn published_sum_of_four_normal_quantities() {
    let inputs: Vec<Input> = (0..4).map(|i| Input::normal(format!("X{i}"), 0.0, 1.0)).collect();
    let sample = monte_carlo(&inputs, DRAWS, SEED, sum).unwrap();
    let (low, high) = ends_95(&sample);
    cite("JCGM-101", "9.2.2, table 2")
        .near("u of the sum", sample.standard_deviation(), 2.0, drawn(0.01))
        .near("lower end of 95 %", low, -3.92, drawn(0.015))
        .near("upper end of 95 %", high, 3.92, drawn(0.015));
}

#[test]
fn published_sum_of_four_rectangular_quantities() {
    let inputs: Vec<Input> = (0..4).map(|i| Input::within(format!("X{i}"), 0.0, 3f64.sqrt())).collect();
    let sample = monte_carlo(&inputs, DRAWS, SEED, sum).unwrap();
    let (low, high) = ends_95(&sample);
    // Exact end by the distribution of a sum of four: 2 √3 (2 - (3/5)^(1/4)) = 3.8794.
    cite("JCGM-101", "9.2.3, table 3, and its exact value 3.88")
        .near("u of the sum", sample.standard_deviation(), 2.0, drawn(0.01))
        .near("lower end of 95 %", low, -3.8794, drawn(0.01))
        .near("upper end of 95 %", high, 3.8794, drawn(0.01));
    let budget = first_order(&inputs, sum).unwrap();
    let half = budget.coverage_factor(0.95).unwrap_or(f64::NAN) * budget.u;
    cite("JCGM-101", "9.2.3, table 3, first order").near("half width of 95 %", half, 3.92, rounded(0.005));
}

#[test]
fn published_sum_with_one_rectangular_quantity_in_command() {
    let half_widths = [1.0, 1.0, 1.0, 10.0].map(|times| times * 3f64.sqrt());
    let inputs: Vec<Input> = half_widths.iter().map(|half| Input::within("X", 0.0, *half)).collect();
    let sample = monte_carlo(&inputs, DRAWS, SEED, sum).unwrap();
    let (low, high) = ends_95(&sample);
    cite("JCGM-101", "9.2.4, table 4; the interval's exact end 17.016 by convolution")
        .near("u of the sum", sample.standard_deviation(), 10.149, drawn(0.02))
        .near("lower end of 95 %", low, -17.016, drawn(0.03))
        .near("upper end of 95 %", high, 17.016, drawn(0.03));
    let budget = first_order(&inputs, sum).unwrap();
    let half = budget.coverage_factor(0.95).unwrap_or(f64::NAN) * budget.u;
    cite("JCGM-101", "9.2.4, table 4, first order").near("half width of 95 %", half, 19.89, rounded(0.005));
}

#[test]
fn published_mass_calibration_that_first_order_halves() {
    let inputs = [
        Input::normal("reference mass, mg", 100_000.0, 0.05),
        Input::normal("added mass, mg", 1.234, 0.02),
        Input::within("density of air, kg/m³", 1.2, 0.1),
        Input::within("density of the weight, kg/m³", 8000.0, 1000.0),
        Input::within("density of the reference, kg/m³", 8000.0, 50.0),
    ];
    let model =
        |x: &[f64]| Some((x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100_000.0);
    let sample = monte_carlo(&inputs, DRAWS, SEED, model).unwrap();
    let shortest = sample.shortest(0.95).unwrap();
    let place = cite("JCGM-101", "9.3; figures of ten million draws");
    place
        .near("deviation of the mass, mg", sample.mean(), 1.2340, drawn(0.0003))
        .near("u of the deviation, mg", sample.standard_deviation(), 0.0755, drawn(0.0003))
        .near("width of the shortest 95 %, mg", shortest.width(), 1.3835 - 1.0845, drawn(0.001))
        .near(
            "lower end of the shortest 95 %, mg",
            shortest.low,
            1.0845,
            Tolerance::absolute(0.004, "the shortest interval's place is noisy where the density is flat"),
        );
    let budget = first_order(&inputs, model).unwrap();
    cite("JCGM-101", "9.3, table 6, first order").near(
        "u of the deviation, mg",
        budget.u,
        0.0539,
        rounded(0.00005),
    );
}

#[test]
fn published_comparison_loss_near_its_bound() {
    // Y = X1² + X2², both with u = 0.005; in units of 1e-6. Exact by the noncentral chi-squared distribution.
    let cases =
        [(0.0, 50.0, 50.0, 149.79), (0.010, 150.0, 111.80, 366.0), (0.050, 2550.0, 502.49, 3548.6 - 1593.6)];
    let place = cite("JCGM-101", "9.4.2, correlation 0; intervals exact by the chi-squared distribution");
    for (x1, mean, u, width) in cases {
        let inputs = [Input::normal("X1", x1, 0.005), Input::normal("X2", 0.0, 0.005)];
        let model = |x: &[f64]| Some(1e6 * (x[0] * x[0] + x[1] * x[1]));
        let sample = monte_carlo(&inputs, DRAWS, SEED, model).unwrap();
        let shortest = sample.shortest(0.95).unwrap();
        let of_mean =
            Tolerance::relative(0.003, "a million draws: the standard error is 0.001 of the mean or less");
        let of_width = Tolerance::relative(0.01, "a million draws: three standard errors of a 95 % quantile");
        place
            .near(&format!("mean at x1 = {x1}, 1e-6"), sample.mean(), mean, of_mean)
            .near(&format!("u at x1 = {x1}, 1e-6"), sample.standard_deviation(), u, of_mean)
            .near(
                &format!("width of the shortest 95 % at x1 = {x1}, 1e-6"),
                shortest.width(),
                width,
                of_width,
            );
        assert!(shortest.low >= 0.0, "a loss is never negative");
    }
}

#[test]
fn published_logarithm_of_a_wide_rectangular_quantity() {
    let inputs = [Input::within("X", 0.6, 0.5)];
    let model = |x: &[f64]| (x[0] > 0.0).then(|| x[0].ln());
    let sample = monte_carlo(&inputs, DRAWS, SEED, model).unwrap();
    let shortest = sample.shortest(0.95).unwrap();
    cite("NPL-DEM-ES-011", "table 9.2")
        .near("mean of ln X", sample.mean(), -0.665, drawn(0.002))
        .near("u of ln X", sample.standard_deviation(), 0.606, drawn(0.002))
        .near("lower end of the shortest 95 %", shortest.low, -1.895, drawn(0.006))
        .near("upper end of the shortest 95 %", shortest.high, 0.095, drawn(0.002));
    // The tangent gives 0.481; our step of one u sees some of the bend, and must lie between the two.
    let budget = first_order(&inputs, model).unwrap();
    cite("NPL-DEM-ES-011", "table 9.2, first order and Monte Carlo").between(
        "u of ln X to first order with the step u",
        budget.u,
        0.481,
        0.606,
    );
}

#[test]
fn published_thermal_expansion() {
    let inputs = [
        Input::normal("L0, m", 1.4999, 1e-4),
        Input::normal("L1, m", 1.5021, 2e-4),
        Input::normal("T0, K", 288.15, 0.02),
        Input::normal("T1, K", 373.10, 0.05),
    ];
    let model = |x: &[f64]| Some((x[1] - x[0]) / (x[0] * (x[3] - x[2])));
    let budget = first_order(&inputs, model).unwrap();
    cite("NIST-TN1900", "example E13")
        .near("coefficient of expansion, 1/K", budget.value, 1.7266e-5, rounded(5e-10))
        .near("its u, 1/K", budget.u, 1.76e-6, rounded(5e-9));
}

#[test]
fn published_breaking_force_of_a_steel_wire_rope() {
    let readings = [10006.0, 10007.0, 10005.0, 10008.0, 10003.0, 10005.0];
    let mut inputs: Vec<Input> = Input::repeated("readings, kN", &readings).into_iter().collect();
    for half_width in [6.8, 8.2, 8.7, 10.2] {
        inputs.push(Input::within("limits of the machine, kN", 0.0, half_width));
    }
    let budget = first_order(&inputs, sum).unwrap();
    let of_readings = budget.contributions.iter().find(|c| c.name.starts_with("readings"));
    cite("JCGM-GUM-5", "examples, 15")
        .near("breaking force, kN", budget.value, 10_005.667, rounded(0.001))
        .near("u of the readings, kN", of_readings.map_or(f64::NAN, |c| c.u), 0.7149, rounded(0.0001))
        .near("u combined, kN", budget.u, 9.912, rounded(0.001))
        .near("expanded uncertainty with 1.96, kN", 1.96 * budget.u, 19.43, rounded(0.005));
}

#[test]
fn published_effective_degrees_of_freedom() {
    let inputs =
        [Input::normal("few", 0.0, 0.57).with_degrees_of_freedom(9.0), Input::normal("many", 0.0, 0.25)];
    let budget = first_order(&inputs, sum).unwrap();
    cite("JCGM-100", "G.4.1, equation (G.2b), case quoted in a public test file").near(
        "effective degrees of freedom",
        budget.degrees_of_freedom.unwrap_or(f64::NAN),
        12.8,
        rounded(0.05),
    );
}

#[test]
fn published_factors_of_the_t_distribution() {
    let table = cite("JCGM-100", "table G.2");
    for (coverage, freedom, printed) in [
        (0.6827, 1.0, 1.84),
        (0.95, 1.0, 12.71),
        (0.9973, 5.0, 5.51),
        (0.90, 20.0, 1.72),
        (0.9545, f64::INFINITY, 2.00),
    ] {
        let ours = distribution::coverage_factor(coverage, freedom).unwrap_or(f64::NAN);
        table.near(&format!("t for {coverage}, {freedom} degrees of freedom"), ours, printed, rounded(0.005));
    }
    let computed = cite("SCIPY-2020", "stats.t.ppf, version 1.17, in data/student_t_factors.csv");
    let mut lines =
        include_str!("../data/student_t_factors.csv").lines().filter(|line| !line.starts_with('#'));
    let coverages: Vec<f64> = lines
        .next()
        .unwrap()
        .split(',')
        .skip(1)
        .map(|head| head.trim_start_matches("p=").parse().unwrap())
        .collect();
    for line in lines {
        let mut cells = line.split(',').map(|cell| cell.parse::<f64>().unwrap());
        let freedom = cells.next().unwrap();
        for (coverage, theirs) in coverages.iter().zip(cells) {
            let ours = distribution::coverage_factor(*coverage, freedom).unwrap_or(f64::NAN);
            computed.near(
                &format!("t for {coverage}, {freedom} degrees of freedom"),
                ours,
                theirs,
                rounded(6e-7),
            );
        }
    }
}

#[test]
fn published_probability_of_conformance() {
    let judge = |y, u, limits: conformity::Limits| limits.judge(y, u);
    cite(
        "JCGM-106",
        "8.3, example with a lower limit, inputs from memory; probability exact by the normal distribution",
    )
    .near(
        "container: y = 509.7, u = 8.6, at least 490",
        judge(509.7, 8.6, conformity::Limits::at_least(490.0)).probability,
        0.989_009_547,
        rounded(1e-9),
    );
    cite(
        "JCGM-106",
        "8.3, example with two limits, inputs from memory; probability exact by the normal distribution",
    )
    .near(
        "oil: y = 13.6, u = 1.8, from 12.5 to 16.3",
        judge(13.6, 1.8, conformity::Limits::between(12.5, 16.3)).probability,
        0.662_629_786,
        rounded(1e-9),
    );
}

#[test]
fn published_verdicts_with_guard_bands() {
    let source = cite("SCIPY-2020", "stats.norm.cdf, version 1.17, in data/conformity_cases.csv");
    for line in
        include_str!("../data/conformity_cases.csv").lines().filter(|line| !line.starts_with(['#', 'y']))
    {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |at: usize| cells[at].parse::<f64>().unwrap();
        let limits = conformity::Limits { lower: cells[2].parse().ok(), upper: cells[3].parse().ok() };
        let judged = limits.judge(number(0), number(1));
        source.near(&format!("probability of {line}"), judged.probability, number(5), rounded(1e-9));
        let theirs = match cells[6] {
            "pass" => Verdict::Pass,
            "fail" => Verdict::Fail,
            _ => Verdict::CannotTell,
        };
        assert_eq!(judged.verdict, theirs, "{line}");
        let end = |at: usize, missing: f64| cells[at].parse().unwrap_or(missing);
        let tolerance_width = end(3, f64::INFINITY) - end(2, f64::NEG_INFINITY);
        assert_eq!(
            judged.capable,
            2.0 * number(4) < tolerance_width,
            "{line}: nothing passes when 2U fills it"
        );
    }
}

#[test]
fn practice_limits_of_a_digital_multimeter() {
    let meter = practice(
        "a multimeter's limits are a share of the reading plus digits, without a stated factor: rectangular",
    );
    for (text, dimension, half_width, u) in [
        ("4860 Ω ± (0.9 % + 2 digits)", Dimension::Resistance, 45.74, 26.408),
        ("2.500 V ± (0.5 % + 2 digits)", Dimension::Voltage, 0.0145, 0.00837),
        ("2.3 Ω ± (0.9 % + 2 digits)", Dimension::Resistance, 0.2207, 0.1274),
    ] {
        let measured = parse(text, dimension).unwrap();
        assert_eq!(measured.shape, Shape::Rectangular);
        let last_digit = Tolerance::relative(5e-4, "the figure is given to four digits, or three");
        meter.near(&format!("half width of {text}"), measured.u * 3f64.sqrt(), half_width, last_digit).near(
            &format!("u of {text}"),
            measured.u,
            u,
            last_digit,
        );
    }
}

#[test]
fn agrees_several_results_with_one_at_a_time() {
    let inputs = [Input::normal("a", 1.0, 0.1), Input::within("b", 2.0, 0.2)];
    let both = monte_carlo_many(&inputs, 2, 1000, SEED, |x, out| {
        out.copy_from_slice(&[x[0] + x[1], x[0] * x[1]]);
        true
    })
    .unwrap();
    let one = monte_carlo(&inputs, 1000, SEED, |x| Some(x[0] * x[1])).unwrap();
    assert_eq!(both.get(1), Some(&one));
}
