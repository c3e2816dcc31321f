//! Questions to random small networks, beside enumeration of every combination.

use evidence::network::{Network, NetworkError, Variable};
use proptest::prelude::*;

/// Weights of one variable: states 1 to 4, which earlier ones are parents, and figures to make its table of.
#[derive(Debug, Clone)]
struct Recipe {
    states: usize,
    parents: Vec<bool>,
    weights: Vec<u8>,
}

fn recipe() -> impl Strategy<Value = Recipe> {
    (1usize..=4, prop::collection::vec(any::<bool>(), 6), prop::collection::vec(0u8..=9, 32))
        .prop_map(|(states, parents, weights)| Recipe { states, parents, weights })
}

/// Builds variables from recipes; at most three parents each. Weights give zeros often, so evidence can be impossible.
fn build(recipes: &[Recipe]) -> Vec<Variable> {
    let mut variables: Vec<Variable> = Vec::new();
    for (at, recipe) in recipes.iter().enumerate() {
        let parents: Vec<usize> = (0..at).filter(|&one| recipe.parents[one]).take(3).collect();
        let rows: usize = parents.iter().map(|&one| variables[one].states.len()).product();
        let mut weights = recipe.weights.iter().cycle().skip(at).map(|&weight| f64::from(weight / 3));
        let mut table = Vec::new();
        for row in 0..rows {
            let mut shares: Vec<f64> = weights.by_ref().take(recipe.states).collect();
            shares[row % recipe.states] += 0.25;
            let sum: f64 = shares.iter().sum();
            table.extend(shares.iter().map(|share| share / sum));
        }
        let states = (0..recipe.states).map(|state| format!("s{state}")).collect();
        variables.push(Variable { name: format!("v{at}"), states, parents, table });
    }
    variables
}

/// Probability of one full combination, straight from the tables.
fn weight(variables: &[Variable], states: &[usize]) -> f64 {
    let share = |(at, variable): (usize, &Variable)| {
        let row =
            variable.parents.iter().fold(0, |row, &one| row * variables[one].states.len() + states[one]);
        variable.table[row * variable.states.len() + states[at]]
    };
    variables.iter().enumerate().map(share).product()
}

/// The unnormalised joint of `targets` with `evidence`, by going through every combination.
fn enumerate(variables: &[Variable], evidence: &[(usize, usize)], targets: &[usize]) -> Vec<f64> {
    let size = |at: &usize| variables[*at].states.len();
    let mut out = vec![0.0; targets.iter().map(size).product()];
    let all: usize = variables.iter().map(|variable| variable.states.len()).product();
    for mut number in 0..all {
        let mut states = vec![0; variables.len()];
        for (at, variable) in variables.iter().enumerate() {
            states[at] = number % variable.states.len();
            number /= variable.states.len();
        }
        if evidence.iter().all(|&(at, state)| states[at] == state) {
            let place = targets.iter().fold(0, |place, at| place * size(at) + states[*at]);
            out[place] += weight(variables, &states);
        }
    }
    out
}

fn evidence_from(variables: &[Variable], picks: &[Option<u8>]) -> Vec<(usize, usize)> {
    let one = |(at, pick): (usize, &Option<u8>)| {
        pick.map(|pick| (at, usize::from(pick) % variables[at].states.len()))
    };
    picks.iter().take(variables.len()).enumerate().filter_map(one).collect()
}

/// The same network with its variables in another order that still has parents first.
fn reorder(variables: &[Variable], keys: &[u16]) -> (Vec<Variable>, Vec<usize>) {
    let (mut new_place, mut placed) = (vec![usize::MAX; variables.len()], Vec::new());
    while placed.len() < variables.len() {
        let ready = (0..variables.len())
            .filter(|at| new_place[*at] == usize::MAX)
            .filter(|at| variables[*at].parents.iter().all(|&one| new_place[one] != usize::MAX))
            .min_by_key(|at| keys[*at])
            .expect("a network without cycles");
        new_place[ready] = placed.len();
        let parents = variables[ready].parents.iter().map(|&one| new_place[one]).collect();
        placed.push(Variable { parents, ..variables[ready].clone() });
    }
    (placed, new_place)
}

fn near(ours: &[f64], theirs: &[f64]) -> bool {
    ours.len() == theirs.len() && ours.iter().zip(theirs).all(|(a, b)| (a - b).abs() < 1e-12)
}

/// A figure for a table, from likely ones to those that must be refused.
fn any_figure() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => Just(0.0), 4 => Just(1.0), 4 => Just(0.5),
        1 => Just(f64::NAN), 1 => Just(f64::INFINITY), 1 => Just(-0.5), 1 => Just(-0.0), 1 => Just(5e-324),
        1 => any::<f64>(),
    ]
}

fn any_variable() -> impl Strategy<Value = Variable> {
    let place = prop_oneof![6 => 0usize..4, 1 => any::<usize>()];
    let (names, states) = (prop::sample::select(vec!["a", "b", "c", "d", "e", "f", ""]), 0usize..4);
    let tables = prop::collection::vec(any_figure(), 0..10);
    (names, states, prop::collection::vec(place, 0..3), tables).prop_map(|(name, states, parents, table)| {
        let states = (0..states).map(|state| (state % 3).to_string()).collect();
        Variable { name: name.to_string(), states, parents, table }
    })
}

/// A sentence for people, not the name of a case.
fn is_sentence(error: &NetworkError) -> bool {
    let text = error.to_string();
    text.contains(' ') && !text.contains('{')
}

/// Posterior of the first variable by adding up logarithms of weights, which cannot run out of digits.
fn enumerate_logs(variables: &[Variable], evidence: &[(usize, usize)]) -> Vec<f64> {
    let first = variables[0].states.len();
    let all: usize = variables.iter().map(|variable| variable.states.len()).product();
    let mut logs = vec![Vec::new(); first];
    for mut number in 0..all {
        let mut states = vec![0; variables.len()];
        for (at, variable) in variables.iter().enumerate() {
            states[at] = number % variable.states.len();
            number /= variable.states.len();
        }
        if evidence.iter().all(|&(at, state)| states[at] == state) {
            let share = |(at, variable): (usize, &Variable)| {
                let row = |row, &one: &usize| row * variables[one].states.len() + states[one];
                let row = variable.parents.iter().fold(0, row);
                variable.table[row * variable.states.len() + states[at]].ln()
            };
            logs[states[0]].push(variables.iter().enumerate().map(share).sum::<f64>());
        }
    }
    let most = logs.iter().flatten().copied().fold(f64::NEG_INFINITY, f64::max);
    let sums: Vec<f64> = logs.iter().map(|logs| logs.iter().map(|log| (log - most).exp()).sum()).collect();
    let total: f64 = sums.iter().sum();
    sums.iter().map(|sum| sum / total).collect()
}

proptest! {
    #[test]
    fn refuses_or_answers_whatever_is_given(
        variables in prop::collection::vec(any_variable(), 0..5),
        evidence in prop::collection::vec((0usize..5, 0usize..4), 0..4),
        targets in prop::collection::vec(0usize..5, 0..3),
    ) {
        match Network::new(variables) {
            Err(error) => prop_assert!(is_sentence(&error), "{error}"),
            Ok(network) => {
                match network.joint(&evidence, &targets) {
                    Ok(joint) => {
                        prop_assert!((joint.iter().sum::<f64>() - 1.0).abs() < 1e-12);
                        prop_assert!(joint.iter().all(|share| (0.0..=1.0).contains(share)));
                    }
                    Err(error) => prop_assert!(is_sentence(&error), "{error}"),
                }
                if let Ok(probability) = network.probability(&evidence) {
                    prop_assert!((0.0..=1.0).contains(&probability));
                }
            }
        }
    }

    #[test]
    fn agrees_with_logarithms_however_small_the_shares(
        powers in prop::collection::vec((90i32..=150, 90i32..=150, 90i32..=150, 90i32..=150), 8),
        pairs in prop::collection::vec((0usize..4, 0usize..4), 8),
    ) {
        // Four causes and eight signs of two of them each; every sign was seen, with shares of 1e-90 to 1e-150.
        let named = |name: String, parents: Vec<usize>, table: Vec<f64>| {
            Variable { name, states: vec!["no".to_string(), "yes".to_string()], parents, table }
        };
        let mut variables: Vec<Variable> =
            (0..4).map(|at| named(format!("cause {at}"), vec![], vec![0.7, 0.3])).collect();
        for (at, (power, pair)) in powers.iter().zip(&pairs).enumerate() {
            let yes = [power.0, power.1, power.2, power.3].map(|power| 0.5 * 10f64.powi(-power));
            let parents = if pair.0 == pair.1 { vec![pair.0] } else { vec![pair.0, pair.1] };
            let rows = 1 << parents.len();
            let table = yes[..rows].iter().flat_map(|yes| [1.0 - yes, *yes]).collect();
            variables.push(named(format!("sign {at}"), parents, table));
        }
        let evidence: Vec<(usize, usize)> = (4..12).map(|at| (at, 1)).collect();
        let wanted = enumerate_logs(&variables, &evidence);
        let ours = Network::new(variables).unwrap().posterior(&evidence, 0).unwrap();
        prop_assert!(ours.iter().zip(&wanted).all(|(a, b)| (a - b).abs() < 1e-10), "{ours:?} {wanted:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn agrees_elimination_with_enumeration(
        recipes in prop::collection::vec(recipe(), 1..=6),
        picks in prop::collection::vec(prop::option::of(0u8..4), 6),
        asked in prop::collection::vec(0usize..6, 0..=3),
    ) {
        let variables = build(&recipes);
        let evidence = evidence_from(&variables, &picks);
        let mut targets = asked.iter().map(|at| at % variables.len()).collect::<Vec<_>>();
        let mut seen = Vec::new();
        targets.retain(|at| !seen.contains(at) && { seen.push(*at); true });
        let wanted = enumerate(&variables, &evidence, &targets);
        let total: f64 = wanted.iter().sum();
        let network = Network::new(variables).unwrap();
        prop_assert!((network.probability(&evidence).unwrap() - total).abs() < 1e-13);
        match network.joint(&evidence, &targets) {
            Ok(joint) => {
                prop_assert!((joint.iter().sum::<f64>() - 1.0).abs() < 1e-12);
                let wanted: Vec<f64> = wanted.iter().map(|share| share / total).collect();
                prop_assert!(near(&joint, &wanted), "{joint:?} {wanted:?}");
            }
            Err(NetworkError::Impossible { .. }) => prop_assert_eq!(total, 0.0),
            Err(other) => prop_assert!(false, "{}", other),
        }
    }

    #[test]
    fn agrees_whatever_the_order_of_variables(
        recipes in prop::collection::vec(recipe(), 2..=6),
        picks in prop::collection::vec(prop::option::of(0u8..4), 6),
        keys in prop::collection::vec(any::<u16>(), 6),
        target in 0usize..6,
    ) {
        let variables = build(&recipes);
        let target = target % variables.len();
        let evidence = evidence_from(&variables, &picks);
        let (other, place) = reorder(&variables, &keys);
        let moved: Vec<(usize, usize)> = evidence.iter().rev().map(|&(at, state)| (place[at], state)).collect();
        let first = Network::new(variables).unwrap().posterior(&evidence, target);
        let second = Network::new(other).unwrap().posterior(&moved, place[target]);
        match (first, second) {
            (Ok(first), Ok(second)) => prop_assert!(near(&first, &second), "{first:?} {second:?}"),
            (first, second) => prop_assert!(first.is_err() && second.is_err()),
        }
    }

    #[test]
    fn conserves_the_chain_rule(
        recipes in prop::collection::vec(recipe(), 2..=6),
        picks in prop::collection::vec(prop::option::of(0u8..4), 6),
    ) {
        let variables = build(&recipes);
        let evidence = evidence_from(&variables, &picks);
        let network = Network::new(variables).unwrap();
        if let Some((&(at, state), rest)) = evidence.split_first() {
            let whole = network.probability(&evidence).unwrap();
            let part = network.probability(rest).unwrap();
            if let Ok(given) = network.posterior(rest, at) {
                prop_assert!((whole - part * given[state]).abs() < 1e-13);
            }
        }
    }
}
