//! Time of exact questions to a network shaped like fault finding, and beside enumeration. `cargo bench -p evidence`.
//!
//! One variable of 600 states has 22 children of 3 or 4 states; each of these is read by a few signs, some of which
//! have four such parents.

use divan::{Bencher, black_box};
use evidence::network::{Network, Variable, noisy_max};

fn main() {
    divan::main();
    print_ratio();
}

/// Prints elimination and enumeration of one question to the same small network, the best of several runs.
fn print_ratio() {
    let variables = shaped(12, 4);
    let evidence = [(variables.len() - 1, 1)];
    let network = Network::new(variables.clone()).expect("a network");
    let ours = network.posterior(&evidence, 0).expect("an answer");
    let slow = enumerate(&variables, &evidence);
    let worst = ours.iter().zip(&slow).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    let fast_us = best_us(50, || network.posterior(black_box(&evidence), 0).expect("an answer"));
    let slow_us = best_us(5, || enumerate(black_box(&variables), &evidence));
    println!(
        "12 x 4 children: elimination {fast_us:.1} us, enumeration {slow_us:.0} us: {:.0} times; they differ by {worst:.1e}",
        slow_us / fast_us
    );
}

#[allow(clippy::disallowed_methods, reason = "a benchmark reads the clock")]
fn best_us(runs: usize, ask: impl Fn() -> Vec<f64>) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..runs {
        let start = std::time::Instant::now();
        black_box(ask());
        best = best.min(start.elapsed().as_secs_f64() * 1e6);
    }
    best
}

/// A root of `states` states, `children` of three or four, one sign for each and one for every four of them.
fn shaped(states: usize, children: usize) -> Vec<Variable> {
    let uneven = |seed: usize, count: usize| {
        let weights: Vec<f64> = (0..count).map(|at| 1.0 + ((seed * 7 + at * 13) % 11) as f64).collect();
        let sum: f64 = weights.iter().sum();
        weights.into_iter().map(move |weight| weight / sum).collect::<Vec<f64>>()
    };
    let named = |name: String, count: usize, parents: Vec<usize>, table: Vec<f64>| Variable {
        name,
        states: (0..count).map(|state| state.to_string()).collect(),
        parents,
        table,
    };
    let mut variables = vec![named("root".to_string(), states, vec![], uneven(3, states))];
    for child in 0..children {
        let count = 3 + child % 2;
        let table = (0..states).flat_map(|state| uneven(state + child, count)).collect();
        variables.push(named(format!("child {child}"), count, vec![0], table));
    }
    let mut sign = |parents: Vec<usize>| {
        let effects: Vec<Vec<Vec<f64>>> = parents
            .iter()
            .map(|&one| (0..variables[one].states.len()).map(|state| uneven(state + one, 3)).collect())
            .collect();
        let table = noisy_max(&[0.98, 0.01, 0.01], &effects);
        variables.push(named(format!("sign of {parents:?}"), 3, parents, table));
    };
    (1..=children).for_each(|child| sign(vec![child]));
    (1..=children.saturating_sub(3)).step_by(4).for_each(|first| sign((first..first + 4).collect()));
    variables
}

/// Posterior of the first variable by going through every combination of the others.
fn enumerate(variables: &[Variable], evidence: &[(usize, usize)]) -> Vec<f64> {
    let mut out = vec![0.0; variables[0].states.len()];
    let mut states = vec![0; variables.len()];
    descend(variables, evidence, 0, 1.0, &mut states, &mut out);
    let sum: f64 = out.iter().sum();
    out.into_iter().map(|share| share / sum).collect()
}

fn descend(
    variables: &[Variable],
    evidence: &[(usize, usize)],
    at: usize,
    weight: f64,
    states: &mut [usize],
    out: &mut [f64],
) {
    let Some(variable) = variables.get(at) else {
        out[states[0]] += weight;
        return;
    };
    let row = variable.parents.iter().fold(0, |row, &one| row * variables[one].states.len() + states[one]);
    for state in 0..variable.states.len() {
        if evidence.iter().any(|&(seen, own)| seen == at && own != state) {
            continue;
        }
        states[at] = state;
        let share = variable.table[row * variable.states.len() + state];
        descend(variables, evidence, at + 1, weight * share, states, out);
    }
}

/// What was seen: how many signs are in, with those of four parents last.
#[divan::bench(args = [3, 12, 22, 27])]
fn posterior_of_600(bencher: Bencher, seen: usize) {
    let variables = shaped(600, 22);
    let first = variables.len() - seen;
    let evidence: Vec<(usize, usize)> = (first..variables.len()).map(|at| (at, at % 3)).collect();
    let network = Network::new(variables).expect("a network");
    bencher.bench_local(|| network.posterior(black_box(&evidence), 0).expect("an answer"));
}

/// The root together with a sign of four parents not yet seen: what the choice of the next test asks.
#[divan::bench(args = [0, 12, 26])]
fn joint_of_600_and_a_sign(bencher: Bencher, seen: usize) {
    let variables = shaped(600, 22);
    let last = variables.len() - 1;
    let evidence: Vec<(usize, usize)> = (last - seen..last).map(|at| (at, at % 3)).collect();
    let network = Network::new(variables).expect("a network");
    bencher.bench_local(|| network.joint(black_box(&evidence), &[0, last]).expect("an answer"));
}
