//! Exact inference: posteriors of textbook networks, noisy-OR tables, information of tests, order of repair.

use evidence::inquiry::{expected_cost, information_bits, order_by_cost};
use evidence::network::{Network, Variable, noisy_or};
use published::{Source, Tolerance, bif, cite};

/// Variables and the states they were seen in, by name.
type Seen<'a> = &'a [(&'a str, &'a str)];

fn read(text: &str) -> Network {
    Network::new(bif::read(text).expect("a network")).expect("tables that hold")
}

/// A yes-or-no variable: state 0 is yes, as textbooks list it; `yes` holds P(yes), row by row.
fn yes_no(name: &str, parents: &[usize], yes: &[f64]) -> Variable {
    Variable {
        name: name.to_string(),
        states: vec!["yes".to_string(), "no".to_string()],
        parents: parents.to_vec(),
        table: yes.iter().flat_map(|p| [*p, 1.0 - p]).collect(),
    }
}

/// Evidence and target by name; returns the probability of the target's state.
fn ask(network: &Network, evidence: Seen, target: &str, state: &str) -> f64 {
    let place = |name: &str, state: &str| {
        let variable = network.index(name).expect("a variable of the network");
        (variable, network.state(variable, state).expect("a state of the variable"))
    };
    let evidence: Vec<(usize, usize)> = evidence.iter().map(|(name, state)| place(name, state)).collect();
    let (variable, state) = place(target, state);
    network.posterior(&evidence, variable).expect("evidence that can be")[state]
}

fn probability(network: &Network, evidence: Seen) -> f64 {
    let place = |(name, state): &(&str, &str)| {
        let variable = network.index(name).expect("a variable of the network");
        (variable, network.state(variable, state).expect("a state of the variable"))
    };
    network.probability(&evidence.iter().map(place).collect::<Vec<_>>()).expect("evidence that can be")
}

fn seven() -> Tolerance {
    Tolerance::absolute(5.1e-8, "the figure carries seven decimals")
}

fn six() -> Tolerance {
    Tolerance::absolute(5.3e-7, "the figure carries six decimals, of two libraries that agree to 2e-8")
}

#[test]
fn published_burglary_network() {
    let network = Network::new(vec![
        yes_no("burglary", &[], &[0.001]),
        yes_no("earthquake", &[], &[0.002]),
        yes_no("alarm", &[0, 1], &[0.95, 0.94, 0.29, 0.001]),
        yes_no("john", &[2], &[0.90, 0.05]),
        yes_no("mary", &[2], &[0.70, 0.01]),
    ])
    .expect("a network");
    let called = [("john", "yes"), ("mary", "yes")];
    cite("RUSSELL-NORVIG", "chapter 14, burglary network; the text gives 0.284 for the first")
        .near("P(burglary | both call)", ask(&network, &called, "burglary", "yes"), 0.2841718, seven())
        .near("P(earthquake | both call)", ask(&network, &called, "earthquake", "yes"), 0.1760668, seven())
        .near("P(alarm | both call)", ask(&network, &called, "alarm", "yes"), 0.7606920, seven())
        .near(
            "P(both call)",
            probability(&network, &called),
            0.00208410024,
            Tolerance::absolute(1e-11, "the figure carries eleven decimals"),
        )
        .near("P(burglary | John calls)", ask(&network, &called[..1], "burglary", "yes"), 0.0162837, seven());
}

#[test]
fn published_sprinkler_network() {
    let network = Network::new(vec![
        yes_no("cloudy", &[], &[0.5]),
        yes_no("sprinkler", &[0], &[0.1, 0.5]),
        yes_no("rain", &[0], &[0.8, 0.2]),
        yes_no("wet", &[1, 2], &[0.99, 0.90, 0.90, 0.0]),
    ])
    .expect("a network");
    let both = [("wet", "yes"), ("rain", "yes")];
    cite(
        "RUSSELL-NORVIG",
        "chapter 14, sprinkler network: rain explains the wet grass away from the sprinkler",
    )
    .near("P(wet)", ask(&network, &[], "wet", "yes"), 0.6471, seven())
    .near("P(sprinkler | wet)", ask(&network, &both[..1], "sprinkler", "yes"), 0.4297636, seven())
    .near("P(rain | wet)", ask(&network, &both[..1], "rain", "yes"), 0.7079277, seven())
    .near("P(sprinkler | wet, rain)", ask(&network, &both, "sprinkler", "yes"), 0.1944990, seven());
}

fn hold(source: Source, network: &Network, evidence: Seen, wanted: &[(&str, &str, f64)]) {
    let seen: Vec<String> = evidence.iter().map(|(name, state)| format!("{name} {state}")).collect();
    for (target, state, theirs) in wanted {
        let what = format!("P({target} {state} | {})", seen.join(", "));
        source.near(&what, ask(network, evidence, target, state), *theirs, six());
    }
}

#[test]
fn published_asia_network() {
    let network = read(include_str!("../data/asia.bif"));
    let source = cite(
        "LAURITZEN-SPIEGELHALTER-1988",
        "network Asia, published/data/asia.bif; posteriors by PGMPY-2024 and PYAGRUM-2020",
    );
    let prior = [("tub", 0.0104), ("lung", 0.055), ("bronc", 0.45), ("either", 0.064828), ("xray", 0.110290)];
    for (name, theirs) in prior.into_iter().chain([("dysp", 0.435971)]) {
        source.near(&format!("P({name} yes)"), ask(&network, &[], name, "yes"), theirs, six());
    }
    hold(
        source,
        &network,
        &[("asia", "yes"), ("dysp", "yes")],
        &[
            ("tub", "yes", 0.087751),
            ("lung", "yes", 0.099525),
            ("bronc", "yes", 0.811402),
            ("xray", "yes", 0.219539),
            ("smoke", "yes", 0.625920),
        ],
    );
    hold(
        source,
        &network,
        &[("dysp", "yes"), ("xray", "yes")],
        &[
            ("tub", "yes", 0.113933),
            ("lung", "yes", 0.621253),
            ("bronc", "yes", 0.681869),
            ("smoke", "yes", 0.785610),
        ],
    );
    hold(
        source,
        &network,
        &[("xray", "no"), ("dysp", "yes"), ("smoke", "yes")],
        &[("tub", "yes", 0.000386), ("lung", "yes", 0.003712), ("bronc", "yes", 0.922003)],
    );
    let all = [("xray", "no"), ("dysp", "yes"), ("smoke", "yes")];
    source.near("P(xray no, dysp yes, smoke yes)", probability(&network, &all), 0.220885, six());
}

#[test]
fn published_earthquake_network() {
    let network = read(include_str!("../data/earthquake.bif"));
    hold(
        cite(
            "KORB-NICHOLSON-2010",
            "earthquake network, published/data/earthquake.bif; posteriors by PGMPY-2024 and PYAGRUM-2020",
        ),
        &network,
        &[("JohnCalls", "True"), ("MaryCalls", "True")],
        &[("Burglary", "True", 0.556522), ("Earthquake", "True", 0.351769), ("Alarm", "True", 0.953782)],
    );
}

#[test]
fn published_alarm_network() {
    let network = read(include_str!("../data/alarm.bif"));
    let source = cite(
        "BEINLICH-1989",
        "network ALARM, 37 variables, published/data/alarm.bif; posteriors by PGMPY-2024 and PYAGRUM-2020",
    );
    source.is("variables", network.variables().len(), 37);
    let seen = [("HRBP", "HIGH"), ("CO", "LOW"), ("BP", "LOW")];
    hold(
        source,
        &network,
        &seen,
        &[
            ("HYPOVOLEMIA", "TRUE", 0.554243),
            ("LVFAILURE", "TRUE", 0.250033),
            ("DISCONNECT", "TRUE", 0.095590),
            ("KINKEDTUBE", "TRUE", 0.040745),
            ("INTUBATION", "ESOPHAGEAL", 0.030477),
            ("ANAPHYLAXIS", "TRUE", 0.012899),
            ("ERRLOWOUTPUT", "TRUE", 0.003809),
            ("PULMEMBOLUS", "TRUE", 0.010054),
        ],
    );
    source.near("P(HRBP HIGH, CO LOW, BP LOW)", probability(&network, &seen), 0.0956019, seven());
}

#[test]
fn published_noisy_or_of_fever() {
    let table = noisy_or(0.0, &[0.4, 0.8, 0.9]);
    let theirs = [0.0, 0.9, 0.8, 0.98, 0.4, 0.94, 0.88, 0.988];
    for (row, theirs) in theirs.into_iter().enumerate() {
        let [cold, flu, malaria] = [row >> 2 & 1, row >> 1 & 1, row & 1];
        cite("RUSSELL-NORVIG", "chapter 14, noisy-OR table of fever: inhibitions 0.6, 0.2, 0.1").near(
            &format!("P(fever | cold {cold}, flu {flu}, malaria {malaria})"),
            table[2 * row + 1],
            theirs,
            Tolerance::absolute(1e-15, "exact products"),
        );
    }
}

#[test]
fn published_leaky_noisy_or_of_three_causes() {
    let cause = |name: &str, p: f64| Variable {
        name: name.to_string(),
        states: vec!["absent".to_string(), "present".to_string()],
        parents: vec![],
        table: vec![1.0 - p, p],
    };
    let sign = |name: &str, leak: f64, p: &[f64]| Variable {
        parents: vec![0, 1, 2],
        table: noisy_or(leak, p),
        ..cause(name, 0.0)
    };
    let network = Network::new(vec![
        cause("A", 0.05),
        cause("B", 0.02),
        cause("C", 0.10),
        sign("x", 0.01, &[0.9, 0.3, 0.05]),
        sign("y", 0.02, &[0.1, 0.95, 0.2]),
    ])
    .expect("a network");
    let (x, no_y, y) = (("x", "present"), ("y", "absent"), ("y", "present"));
    let cases: [(Seen, f64, [f64; 3]); 3] = [
        (&[x], 0.0649215865, [0.6947504510, 0.1052020117, 0.1651400879]),
        (&[x, no_y], 0.0510550094, [0.7485647276, 0.0063248761, 0.1469775148]),
        (&[x, y], 0.0138665771, [0.4966129892, 0.4692553060, 0.2320124193]),
    ];
    let ten = || Tolerance::absolute(5.1e-11, "the figure carries ten decimals");
    let source = cite("HENRION-1989", "leaky noisy-OR; three causes, two signs, worked out by enumeration");
    for (evidence, total, posteriors) in cases {
        let seen: Vec<String> = evidence.iter().map(|(name, state)| format!("{name} {state}")).collect();
        source.near(&format!("P({})", seen.join(", ")), probability(&network, evidence), total, ten());
        for (name, theirs) in ["A", "B", "C"].into_iter().zip(posteriors) {
            let what = format!("P({name} | {})", seen.join(", "));
            source.near(&what, ask(&network, evidence, name, "present"), theirs, ten());
        }
    }
}

#[test]
fn published_information_of_three_tests() {
    let prior = [0.5, 0.3, 0.2];
    let source = cite(
        "COVER-THOMAS",
        "chapter 2, mutual information; three faults of 0.5, 0.3, 0.2, worked out independently",
    );
    for (name, positive, theirs) in [
        ("positive for one fault", [0.95, 0.1, 0.1], 0.6204996),
        ("that says nothing", [0.5, 0.5, 0.5], 0.0),
        ("negative for one fault", [0.9, 0.9, 0.05], 0.4089888),
    ] {
        let joint: Vec<f64> =
            prior.iter().zip(positive).flat_map(|(p, yes)| [p * yes, p * (1.0 - yes)]).collect();
        source.near(&format!("test {name}, bit"), information_bits(&joint, 3, 2), theirs, seven());
    }
}

#[test]
fn published_order_of_repair() {
    let p = [0.4, 0.25, 0.2, 0.1, 0.05];
    let look = [10.0, 2.0, 8.0, 1.0, 20.0];
    let mend = [30.0, 60.0, 5.0, 10.0, 100.0];
    let order = order_by_cost(&p, &look);
    let exact = || Tolerance::absolute(1e-12, "sums of a few exact products");
    cite("HECKERMAN-1995", "expected cost of repair; five suspects, beside all 120 orders worked out")
        .is(
            "order, counted from 1",
            format!("{:?}", order.iter().map(|at| at + 1).collect::<Vec<_>>()),
            "[2, 4, 1, 3, 5]",
        )
        .near("expected cost", expected_cost(&order, &p, &look, &mend), 46.25, exact())
        .near("as they stand", expected_cost(&[0, 1, 2, 3, 4], &p, &look, &mend), 49.15, exact())
        .near("worst order", expected_cost(&[4, 2, 0, 3, 1], &p, &look, &mend), 69.95, exact());
}
