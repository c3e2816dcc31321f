//! Draws, sensitivity runs and fits a second. `cargo bench -p evidence --bench draws`.
//!
//! The model is a stand-in for a mechanism: twenty inputs, a few hundred nanoseconds of arithmetic.

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use evidence::Input;
use evidence::fit::{Parameter, Readings, fit};
use evidence::propagation::{Correlation, Method, monte_carlo_correlated, monte_carlo_many, what_if};
use evidence::sensitivity::{Design, indices_many};

fn main() {
    divan::main();
}

fn inputs() -> Vec<Input> {
    let input = |at: u32| {
        let u = 0.01 * f64::from(at + 1);
        if at.is_multiple_of(2) {
            Input::normal(format!("x{at}"), 1.0, u)
        } else {
            Input::within(format!("x{at}"), 1.0, u)
        }
    };
    (0..20).map(input).collect()
}

fn model(x: &[f64], out: &mut [f64]) -> bool {
    let sum: f64 = x.iter().sum();
    let product: f64 = x.iter().map(|x| 1.0 + 0.1 * x).product();
    for (at, out) in out.iter_mut().enumerate() {
        *out = sum.sin() + product * (at as f64 + 1.0).sqrt();
    }
    true
}

#[divan::bench(args = [1, 5])]
fn monte_carlo_100_000_draws(bencher: Bencher<'_, '_>, outputs: usize) {
    let inputs = inputs();
    bencher
        .counter(ItemsCount::new(100_000usize))
        .bench(|| monte_carlo_many(black_box(&inputs), outputs, 100_000, 1, model));
}

#[divan::bench]
fn monte_carlo_100_000_correlated_draws(bencher: Bencher<'_, '_>) {
    let inputs = inputs();
    let correlation = (1..20).try_fold(Correlation::none(20), |all, at| all.with(at - 1, at, 0.3));
    let correlation = correlation.expect("coefficients in range");
    bencher
        .counter(ItemsCount::new(100_000usize))
        .bench(|| monte_carlo_correlated(black_box(&inputs), Some(&correlation), 1, 100_000, 1, model));
}

/// Runs of the model: rows x 22, with 200 resamplings of the intervals.
#[divan::bench(args = [1024, 8192])]
fn sensitivity_of_twenty_inputs(bencher: Bencher<'_, '_>, rows: usize) {
    let inputs = inputs();
    bencher
        .counter(ItemsCount::new(rows * 22))
        .bench(|| indices_many(black_box(&inputs), 5, Design::new(rows, 1), model));
}

#[divan::bench]
fn what_if_of_twenty_inputs_by_10_000_draws(bencher: Bencher<'_, '_>) {
    let inputs = inputs();
    let method = Method::MonteCarlo { draws: 10_000, seed: 1 };
    let one = |x: &[f64]| {
        let mut out = [0.0];
        model(x, &mut out).then_some(out[0])
    };
    bencher.bench(|| what_if(black_box(&inputs), None, method, 0.95, one));
}

/// Slack, ratio, stiffness and offset of a drive from thirty readings.
#[divan::bench]
fn fit_of_four_parameters(bencher: Bencher<'_, '_>) {
    let drive = |p: &[f64], out: &mut [f64]| {
        for (at, out) in out.iter_mut().enumerate() {
            let angle = 0.07 * at as f64 - p[0];
            *out = p[3] + p[1] * angle.max(0.0) - p[2] * angle.max(0.0).powi(2);
        }
        true
    };
    let mut values = vec![0.0; 30];
    drive(&[0.21, 0.75, 0.02, 0.01], &mut values);
    for (at, value) in values.iter_mut().enumerate() {
        *value += 0.004 * (12.9898 * at as f64).sin();
    }
    let readings = Readings::with_u(values, vec![0.004; 30]);
    let parameters = [("slack", 0.1), ("ratio", 1.0), ("bend", 0.0), ("offset", 0.0)]
        .map(|(name, start)| Parameter::new(name, start).of_size(0.1));
    bencher.bench(|| fit(black_box(&parameters), &readings, drive));
}
