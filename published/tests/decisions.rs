//! Decisions under uncertainty: guard bands, beliefs of other shapes, and how often a decision is wrong (JCGM 106).
#![allow(clippy::unwrap_used, reason = "a file of tests: falling over is how they fail")]

use evidence::conformity::{Belief, Limits, Production};
use evidence::distribution::coverage_factor;
use published::{Tolerance, cite};

fn digits(size: f64) -> Tolerance {
    Tolerance::absolute(size, "the reference is given to this many digits")
}

/// Production about the middle of ±1, measured with a quarter of its spread, decided at the limits themselves.
#[test]
fn published_share_of_wrong_acceptances() {
    let place = cite(
        "NCSLI-RP-19",
        "draft, false accept risk by share in tolerance, as quoted in a public test file",
    );
    for (inside, percent) in
        [(0.6, 4.83860), (0.7, 3.92234), (0.8, 2.85583), (0.9, 1.59995), (0.95, 0.87101), (0.99, 0.19992)]
    {
        let standard_deviation = 1.0 / coverage_factor(inside, f64::INFINITY).unwrap();
        let production = Production { mean: 0.0, standard_deviation };
        let limits = Limits::between(-1.0, 1.0);
        let risk = limits.risk(&limits, production, standard_deviation / 4.0).unwrap();
        place
            .near(
                &format!("wrong acceptances with {inside} in tolerance, %"),
                100.0 * risk.wrong_acceptance,
                percent,
                digits(1e-5),
            )
            .near(&format!("share in tolerance, {inside} meant"), risk.conforming, inside, digits(1e-12));
    }
}

#[test]
fn published_specific_risk() {
    let limits = Limits::between(9.0, 11.0);
    let outside = 1.0 - limits.probability(10.5, 0.4);
    cite(
        "NCSLI-RP-19",
        "draft, specific risk of N(10.5, 0.4) against 9 to 11, as quoted in a public test file",
    )
    .near("probability outside", outside, 0.10574, digits(5e-6));
}

/// A value measured right at the limit of acceptance, with the guard band r times U = 2u.
#[test]
fn published_risk_at_the_limit_of_acceptance() {
    let place = cite(
        "ILAC-G8",
        "4.2, table of guard bands: probability exact by the normal distribution; values from memory",
    );
    let limits = Limits::at_most(10.0);
    let u = 0.1;
    for (r, percent, size) in
        [(0.0, 50.0, 1e-9), (0.83, 4.85, 0.005), (1.0, 2.28, 0.005), (1.5, 0.135, 5e-4), (3.0, 1e-7, 1e-8)]
    {
        let accepted = limits.guarded(r * 2.0 * u).unwrap();
        let outside = Limits::at_least(10.0).probability(accepted.upper.unwrap(), u);
        place.near(&format!("risk with a guard band of {r} U, %"), 100.0 * outside, percent, digits(size));
    }
}

#[test]
fn published_beliefs_of_other_shapes() {
    let within = |k: f64, belief: Belief| Limits::between(-k, k).probability_of(0.0, 1.0, belief);
    let below = |k: f64, belief: Belief| Limits::at_most(k).probability_of(0.0, 1.0, belief);
    let root = 3f64.sqrt();
    let place = cite("JCGM-106", "9.5.2, rectangular belief: k = √3 (1 - 2p), as quoted in a public file");
    for (risk, k) in [(0.5, 0.0), (0.05, 1.558_846), (0.025, 1.645_448), (0.0, root)] {
        place.near(
            &format!("risk {risk} at k = {k}"),
            1.0 - below(k, Belief::Rectangular),
            risk,
            digits(1e-6),
        );
    }
    cite("JCGM-100", "4.3.7, factor of 95 % of a rectangular spread").near(
        "share within 1.6454 u",
        within(1.645_448, Belief::Rectangular),
        0.95,
        digits(1e-6),
    );
    let few = Belief::Student { degrees_of_freedom: 4.0 };
    cite("SCIPY-2020", "stats.t, version 1.17: belief after five readings")
        .near("risk 4.5 u from the limit", 1.0 - below(4.5, few), 5.411_275e-3, digits(1e-9))
        .near("risk 3.747 u from the limit", 1.0 - below(3.746_947_388, few), 0.01, digits(1e-9))
        .near(
            "the same taken as normal, 4.5 u",
            1.0 - below(4.5, Belief::Normal),
            3.397_673e-6,
            digits(1e-11),
        );
}
