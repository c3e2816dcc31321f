use super::*;

fn variable(name: &str, states: usize, parents: &[usize], table: &[f64]) -> Variable {
    let states = (0..states).map(|state| state.to_string()).collect();
    Variable { name: name.to_string(), states, parents: parents.to_vec(), table: table.to_vec() }
}

fn pair() -> Network {
    Network::new(vec![
        variable("cause", 2, &[], &[0.9, 0.1]),
        variable("sign", 2, &[0], &[1.0, 0.0, 0.2, 0.8]),
    ])
    .unwrap()
}

#[test]
fn exact_bayes_rule_of_two_variables() {
    let network = pair();
    assert_eq!(network.posterior(&[(1, 1)], 0).unwrap(), [0.0, 1.0]);
    let silent = network.posterior(&[(1, 0)], 0).unwrap();
    assert!((silent[1] - 0.02 / 0.92).abs() < 1e-15);
    assert!((network.probability(&[(1, 0)]).unwrap() - 0.92).abs() < 1e-15);
    assert_eq!(network.probability(&[]).unwrap(), 1.0);
    assert_eq!(network.joint(&[], &[]).unwrap(), [1.0]);
}

#[test]
fn exact_observed_targets_are_certain() {
    let network = pair();
    assert_eq!(network.posterior(&[(0, 1)], 0).unwrap(), [0.0, 1.0]);
    let joint = network.joint(&[(1, 0)], &[1, 0]).unwrap();
    assert!((joint[0] - 0.9 / 0.92).abs() < 1e-15 && (joint[1] - 0.02 / 0.92).abs() < 1e-15);
    assert_eq!(joint[2..], [0.0, 0.0]);
    assert_eq!(network.posterior(&[(1, 1), (1, 1)], 1).unwrap(), [0.0, 1.0], "said twice, the same");
}

#[test]
fn refuses_impossible_evidence_in_a_sentence() {
    let network = pair();
    let text = network.posterior(&[(0, 0), (1, 1)], 0).unwrap_err().to_string();
    assert_eq!(
        text,
        "what was observed cannot happen together by these tables: cause = 0, sign = 1; look at it again"
    );
    assert_eq!(network.probability(&[(0, 0), (1, 1)]).unwrap(), 0.0);
    let text = network.posterior(&[(1, 0), (1, 1)], 0).unwrap_err().to_string();
    assert_eq!(text, "'sign' was said to be '0' and also '1'; it can be only one of them");
}

#[test]
fn refuses_questions_about_what_is_not_there() {
    let network = pair();
    assert_eq!(
        network.posterior(&[], 2).unwrap_err().to_string(),
        "variable number 2 was asked about, but there are 2"
    );
    assert!(matches!(network.probability(&[(7, 0)]), Err(NetworkError::UnknownVariable { .. })));
    assert!(matches!(network.probability(&[(1, 2)]), Err(NetworkError::UnknownState { .. })));
    assert!(matches!(network.joint(&[], &[0, 0]), Err(NetworkError::TwiceAsked { .. })));
    assert!(network.posterior(&[(usize::MAX, usize::MAX)], usize::MAX).is_err());
}

#[test]
fn refuses_tables_that_are_none() {
    let refusal = |variables: Vec<Variable>| Network::new(variables).unwrap_err().to_string();
    let one = |states: usize, table: &[f64]| vec![variable("a", states, &[], table)];
    assert_eq!(
        refusal(one(2, &[0.5, 0.6])),
        "row 0 of the table of 'a' sums to 1.1; its probabilities must sum to 1"
    );
    assert_eq!(
        refusal(one(2, &[0.0, 0.0])),
        "row 0 of the table of 'a' sums to 0; its probabilities must sum to 1"
    );
    assert_eq!(
        refusal(one(2, &[f64::NAN, 1.0])),
        "row 0 of the table of 'a' holds NaN; a probability is from 0 to 1"
    );
    assert_eq!(
        refusal(one(2, &[1.5, -0.5])),
        "row 0 of the table of 'a' holds 1.5; a probability is from 0 to 1"
    );
    assert_eq!(
        refusal(one(2, &[f64::INFINITY, 0.0])),
        "row 0 of the table of 'a' holds inf; a probability is from 0 to 1"
    );
    assert_eq!(
        refusal(one(2, &[1.0])),
        "the table of 'a' has 1 figures; its states and those of its parents need 2"
    );
    assert_eq!(refusal(one(0, &[])), "'a' has no states; give it at least one");
    assert_eq!(refusal(vec![variable("", 1, &[], &[1.0])]), "variable number 0 has no name; give it one");
    let twice = vec![variable("a", 1, &[], &[1.0]), variable("a", 1, &[], &[1.0])];
    assert_eq!(refusal(twice), "there are two variables named 'a'; give each its own name");
}

#[test]
fn refuses_parents_that_cannot_be() {
    let refusal = |parents: &[usize]| {
        let child = variable("b", 1, parents, &[1.0, 1.0, 1.0, 1.0]);
        Network::new(vec![variable("a", 2, &[], &[0.5, 0.5]), child]).unwrap_err().to_string()
    };
    let own = "'b' has variable number 1 as a parent, but only the 1 variables listed before it may be";
    assert_eq!(refusal(&[1]), own);
    assert_eq!(refusal(&[0, 0]), "'b' has 'a' as a parent twice; name it once");
    assert!(refusal(&[usize::MAX]).starts_with("'b' has variable number 18446744073709551615 as a parent"));
}

#[test]
fn refuses_tables_beyond_memory_before_making_them() {
    let mut variables: Vec<Variable> =
        (0..40).map(|at| variable(&at.to_string(), 2, &[], &[0.5, 0.5])).collect();
    let targets: Vec<usize> = (0..40).collect();
    let network = Network::new(variables.clone()).unwrap();
    assert!(matches!(network.joint(&[], &targets), Err(NetworkError::TooLarge { .. })));
    variables.push(variable("child", 2, &targets, &[]));
    assert!(matches!(Network::new(variables), Err(NetworkError::TableTooLarge { .. })));
}

#[test]
fn refuses_a_question_whose_working_is_beyond_memory() {
    // A grid of yes-or-no variables, each pair of which has an observed child: all are joined to all.
    let mut variables: Vec<Variable> =
        (0..30).map(|at| variable(&at.to_string(), 2, &[], &[0.5, 0.5])).collect();
    let mut evidence = Vec::new();
    for one in 0..30 {
        for other in 0..one {
            evidence.push((variables.len(), 0));
            let table = [0.9, 0.1, 0.5, 0.5, 0.4, 0.6, 0.2, 0.8];
            variables.push(variable(&format!("{one} {other}"), 2, &[one, other], &table));
        }
    }
    let network = Network::new(variables).unwrap();
    let text = network.posterior(&evidence, 0).unwrap_err().to_string();
    assert_eq!(
        text,
        "the question needs a table of more than 33554432 figures; ask for less at once, or give variables fewer parents"
    );
}

#[test]
fn exact_long_evidence_does_not_run_out_of_digits() {
    // 400 signs, each of probability 1e-3 or less: together about 1e-1200, far below the smallest double.
    let mut variables = vec![variable("cause", 3, &[], &[0.98, 0.01, 0.01])];
    for at in 0..400 {
        let table = [0.999, 0.001, 0.9999, 0.0001, 0.9985, 0.0015];
        variables.push(variable(&format!("sign {at}"), 2, &[0], &table));
    }
    let network = Network::new(variables).unwrap();
    let evidence: Vec<(usize, usize)> = (1..=400).map(|at| (at, 1)).collect();
    let posterior = network.posterior(&evidence, 0).unwrap();
    let odds = 98.0 * (1.0f64 / 1.5).powi(400);
    assert!((posterior[0] / odds - 1.0).abs() < 1e-10, "{posterior:?}");
    assert!((posterior[2] - 1.0).abs() < 1e-12);
    assert_eq!(network.probability(&evidence).unwrap(), 0.0, "below the smallest double");
    let half = &evidence[..90];
    let wanted = 0.98 * 0.001f64.powi(90) + 0.01 * 0.0015f64.powi(90) + 0.01 * 0.0001f64.powi(90);
    assert!((network.probability(half).unwrap() / wanted - 1.0).abs() < 1e-10);
}

#[test]
fn exact_small_products_across_tables_keep_their_digits() {
    // Signs of three causes each, overlapping so that no table holds another: their product underflows unless scaled.
    let mut variables: Vec<Variable> =
        (0..6).map(|at| variable(&at.to_string(), 2, &[], &[0.5, 0.5])).collect();
    let mut evidence = Vec::new();
    for one in 0..6 {
        for other in 0..one {
            evidence.push((variables.len(), 1));
            let small = 1e-100;
            let (fit, odd) = ([1.0 - small, small], [1.0 - 2.0 * small, 2.0 * small]);
            let table = [fit, fit, fit, odd].concat();
            variables.push(variable(&format!("{one} {other}"), 2, &[one, other], &table));
        }
    }
    let network = Network::new(variables).unwrap();
    let posterior = network.posterior(&evidence, 0).unwrap();
    // Weight of a combination with k present causes: 2 to the number of pairs among them.
    let weight = |k: i32| 2f64.powi(k * (k - 1) / 2);
    let ways = [1.0, 5.0, 10.0, 10.0, 5.0, 1.0];
    let absent: f64 = (0..6).map(|k| ways[k as usize] * weight(k)).sum();
    let present: f64 = (0..6).map(|k| ways[k as usize] * weight(k + 1)).sum();
    assert!((posterior[1] - present / (absent + present)).abs() < 1e-12, "{posterior:?}");
}
