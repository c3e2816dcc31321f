//! Variance-based sensitivity indices of functions for which they are known.
#![allow(clippy::unwrap_used, reason = "a file of tests: falling over is how they fail")]

use evidence::Input;
use evidence::sensitivity::{Design, FirstOrder, indices};
use published::{Tolerance, cite};
use std::f64::consts::PI;

const ROWS: usize = 65_536;
const SEED: u64 = 1990;

fn drawn(size: f64) -> Tolerance {
    Tolerance::absolute(size, "random error of 65 536 rows, two to four standard errors; the seed is fixed")
}

#[test]
fn published_indices_of_the_ishigami_function() {
    let (a, b) = (7.0, 0.1);
    let model = |x: &[f64]| Some(x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin());
    let inputs = ["x1", "x2", "x3"].map(|name| Input::within(name, 0.0, PI));
    // Parts of the variance in closed form: of x1 alone, x2 alone, and x1 with x3.
    let alone = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2);
    let second = a * a / 8.0;
    let together = b * b * PI.powi(8) * (1.0 / 18.0 - 1.0 / 50.0);
    let variance = alone + second + together;
    let place =
        cite("ISHIGAMI-HOMMA-1990", "the test function with a = 7, b = 0.1; indices exact by integration");
    for first_order in [FirstOrder::Saltelli2010, FirstOrder::Jansen1999] {
        let found = indices(&inputs, Design { first_order, ..Design::new(ROWS, SEED) }, model).unwrap();
        let exact = [
            (alone / variance, (alone + together) / variance),
            (second / variance, second / variance),
            (0.0, together / variance),
        ];
        place.near(
            "variance",
            found.variance,
            variance,
            Tolerance::relative(0.01, "random error of the rows"),
        );
        for (influence, (first, total)) in found.influences.iter().zip(exact) {
            let label = format!("{} by {first_order:?}", influence.name);
            place
                .near(
                    &format!("first-order index of {label}"),
                    influence.first_order.value,
                    first,
                    drawn(0.012),
                )
                .near(&format!("total index of {label}"), influence.total.value, total, drawn(0.008));
            for (index, exact) in [(influence.first_order, first), (influence.total, total)] {
                assert!(index.low < index.high && index.high - index.low < 0.06);
                assert!(index.low - 0.01 < exact && exact < index.high + 0.01);
            }
        }
        // As printed to four digits in the literature: 0.3139, 0.4424, 0; 0.5576, 0.4424, 0.2437.
        let printed = [(0.3139, 0.5576), (0.4424, 0.4424), (0.0, 0.2437)];
        for ((first, total), (theirs_first, theirs_total)) in exact.iter().zip(printed) {
            let digits = Tolerance::absolute(5e-5, "printed to four digits, from memory");
            place.near("first-order index in closed form", *first, theirs_first, digits);
            place.near("total index in closed form", *total, theirs_total, digits);
        }
    }
}

#[test]
fn published_indices_of_the_product_function() {
    // Factors (|4x - 2| + a) / (1 + a); parts of the variance 1 / (3 (1 + a)²).
    let weights = [0.0, 0.5, 3.0, 9.0, 99.0, 99.0];
    let parts = weights.map(|a: f64| 1.0 / (3.0 * (1.0 + a).powi(2)));
    let variance = parts.iter().map(|part| 1.0 + part).product::<f64>() - 1.0;
    let inputs: Vec<Input> = (1..=6).map(|at| Input::within(format!("x{at}"), 0.5, 0.5)).collect();
    let model = |x: &[f64]| {
        Some(x.iter().zip(weights).map(|(x, a)| ((4.0 * x - 2.0).abs() + a) / (1.0 + a)).product())
    };
    let found = indices(&inputs, Design::new(ROWS, SEED), model).unwrap();
    let place =
        cite("SALTELLI-2010", "Sobol's product function; indices exact from the product of its parts");
    for (influence, part) in found.influences.iter().zip(parts) {
        let name = &influence.name;
        place
            .near(
                &format!("first-order index of {name}"),
                influence.first_order.value,
                part / variance,
                drawn(0.012),
            )
            .near(
                &format!("total index of {name}"),
                influence.total.value,
                part * (1.0 + variance) / (1.0 + part) / variance,
                drawn(0.01),
            );
    }
}
