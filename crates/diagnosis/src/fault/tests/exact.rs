//! Small tables of the tests' own, with answers worked out by hand.

use super::*;

/// Two causes, one condition each reads or spoils, one symptom, one test.
const SMALL: &str = r#"
[rules]
part-minutes = 10
handling-minutes = 5
second-fault = 1
cheap-minutes = 20
sure = 0.9
told = 0.02
source = "made"

[[condition]]
key = "motion"
name = "motion"
states = ["free", "stiff", "stuck"]
leak = { stiff = 0.1 }
source = "made"

[[symptom]]
key = "flat"
name = "Flat"
yes = "it is flat"
no = "it is not flat"
leak = 0.1
source = "made"

[[test]]
check = "free-turn"
outcomes = ["free", "stiff", "stuck"]
says = ["it is free", "it is stiff", "it is stuck"]
leak = [0.9, 0.1, 0]
reads.motion = { stiff = [0.2, 0.8, 0], stuck = [0, 0.1, 0.9] }
source = "made"

[[cause]]
key = "soot"
name = "Soot"
odds = 0.5
remedy = "Clean it."
conditions.motion = { stiff = 0.6, stuck = 0.2 }
symptoms = { flat = 0.7 }
source = "made"

[[cause]]
key = "rust"
name = "Rust"
odds = 0.25
remedy = "Oil it."
conditions.motion = { stiff = 0.3 }
symptoms = { flat = 0.4 }
source = "made"
"#;

fn small() -> Tables {
    Tables::read(SMALL).unwrap()
}

fn asked(text: &str) -> Ranking {
    find(&small(), Checks::built_in(), &case(Actuator::Servo, text)).unwrap()
}

fn near(ours: f64, wanted: f64) {
    assert!((ours - wanted).abs() < 1e-12, "{ours} against {wanted}");
}

#[test]
fn exact_prior_odds_by_hand() {
    // Weights 1, 0.5, 0.25 and 0.125 for the pair: sum 1.875.
    let ranking = asked("");
    near(ranking.nothing, 1.0 / 1.875);
    near(cause(&ranking, "soot").probability, 0.625 / 1.875);
    near(cause(&ranking, "rust").probability, 0.375 / 1.875);
}

#[test]
fn exact_a_symptom_by_hand() {
    // P(not flat): 0.9, 0.9 * 0.3 = 0.27, 0.9 * 0.6 = 0.54, 0.9 * 0.3 * 0.6 = 0.162.
    let ranking = asked("flat");
    let weights = [0.1, 0.5 * 0.73, 0.25 * 0.46, 0.125 * 0.838];
    let sum: f64 = weights.iter().sum();
    near(ranking.nothing, weights[0] / sum);
    near(cause(&ranking, "soot").probability, (weights[1] + weights[3]) / sum);
    let soot = cause(&ranking, "soot");
    let odds = |p: f64| p / (1.0 - p);
    near(soot.because[0].weight_bits, (odds(soot.probability) / odds(0.625 / 1.875)).log2());
    assert!(soot.against.is_empty());
}

#[test]
fn exact_a_check_by_hand() {
    // Motion at most free, at most stiff: nothing 0.9, 1; soot 0.9 * 0.2 = 0.18, 0.8; rust 0.9 * 0.7 = 0.63, 1;
    // both 0.9 * 0.2 * 0.7 = 0.126, 0.8. Outcome at most stiff, by state: 1, 1, 0.1; at most free: 0.9, 0.18, 0.
    let motion = [[0.9, 0.1, 0.0], [0.18, 0.62, 0.2], [0.63, 0.37, 0.0], [0.126, 0.674, 0.2]];
    let stiff: Vec<f64> = motion.iter().map(|m| m[0] * 0.1 + m[1] * 0.82 + m[2] * 0.1).collect();
    let weights = [stiff[0], 0.5 * stiff[1], 0.25 * stiff[2], 0.125 * stiff[3]];
    let sum: f64 = weights.iter().sum();
    let ranking = asked("free-turn=stiff");
    near(ranking.nothing, weights[0] / sum);
    near(cause(&ranking, "soot").probability, (weights[1] + weights[3]) / sum);
    near(cause(&ranking, "rust").probability, (weights[2] + weights[3]) / sum);
    // Stuck cannot be with soot away: the tables give it no other way.
    let stuck = asked("free-turn=stuck");
    near(stuck.nothing, 0.0);
    near(cause(&stuck, "soot").probability, 1.0);
    near(cause(&stuck, "rust").probability, 0.125 / 0.625);
}

#[test]
fn exact_worth_of_the_test_by_hand() {
    let ranking = asked("");
    let test = &ranking.next[0];
    let prior = [1.0 / 1.875, 0.5 / 1.875, 0.25 / 1.875, 0.125 / 1.875];
    let motion = [[0.9, 0.1, 0.0], [0.18, 0.62, 0.2], [0.63, 0.37, 0.0], [0.126, 0.674, 0.2]];
    let outcome =
        |m: &[f64; 3]| [m[0] * 0.9 + m[1] * 0.18, m[0] * 0.1 + m[1] * 0.82 + m[2] * 0.1, m[2] * 0.9];
    let rows: Vec<[f64; 3]> = motion.iter().map(outcome).collect();
    let entropy = |shares: &[f64]| -shares.iter().filter(|p| **p > 0.0).map(|p| p * p.log2()).sum::<f64>();
    let whole: Vec<f64> = (0..3).map(|o| rows.iter().zip(prior).map(|(row, p)| p * row[o]).sum()).collect();
    let left: f64 = rows.iter().zip(prior).map(|(row, p)| p * entropy(row)).sum();
    near(test.bits, entropy(&whole) - left);
    whole.iter().zip(&test.outcomes).for_each(|(p, foreseen)| near(foreseen.probability, *p));
    let (minutes, off) = Checks::built_in().minutes(Checks::built_in().get("free-turn").unwrap(), &[]);
    assert!(test.minutes == minutes && test.minutes_off == off && off > 0.0);
    near(test.per_minute, test.bits / (5.0 + minutes + off + 10.0 * test.parts.len() as f64));
    assert_eq!(test.outcomes[2].points_to, ["Soot"]);
    assert!(ranking.next.len() == 1 && ranking.settled.is_none());
}

#[test]
fn exact_after_the_last_test_the_answer_says_what_cannot_be_told() {
    let ranking = asked("free-turn=stiff");
    assert!(ranking.next.is_empty());
    let settled = ranking.settled.unwrap();
    assert!(settled.starts_with("No test is left that could tell soot ("), "{settled}");
}

#[test]
fn exact_own_rows_take_the_place_of_rows_with_their_key() {
    let own = Tables::read(
        "[[cause]]\nkey = \"carbon\"\nname = \"Carbon\"\nodds.servo = 0.5\nremedy = \"Clean it.\"\nsource = \"own count\"\n",
    )
    .unwrap();
    let tables = Tables::built_in().clone().with(own);
    assert_eq!(tables.causes.len(), Tables::built_in().causes.len());
    let ranking = find(&tables, Checks::built_in(), &case(Actuator::Servo, "")).unwrap();
    let before = cause(&built_in(Actuator::Servo, ""), "carbon").probability;
    let carbon = cause(&ranking, "carbon");
    assert!(carbon.probability > before + 0.1, "{} {before}", carbon.probability);
    assert_eq!(carbon.sources[0], "Carbon: own count");
    assert!(
        !find(&tables, Checks::built_in(), &case(Actuator::Governor, ""))
            .unwrap()
            .causes
            .iter()
            .any(|c| c.key == "carbon")
    );
}

#[test]
fn exact_causes_that_no_check_tells_apart_are_named() {
    let twin = "[[cause]]\nkey = \"twin\"\nname = \"Twin of soot\"\nodds = 0.5\nremedy = \"None.\"\nsource = \"made\"\n\
        conditions.motion = { stiff = 0.6, stuck = 0.2 }\n";
    let tables = Tables::read(&format!("{SMALL}{twin}")).unwrap();
    let ranking = find(&tables, Checks::built_in(), &case(Actuator::Servo, "free-turn=stuck")).unwrap();
    assert_eq!(
        ranking.alike,
        [
            "No check tells soot from twin of soot; what was noticed can: \"Flat\" is 73 % with the first and 10 % with the second."
        ]
    );
    assert!(ranking.settled.unwrap().starts_with("No test is left that could tell soot ("));
}

#[test]
fn exact_pieces_that_are_off_cost_nothing_more() {
    let mut case = case(Actuator::Servo, "");
    case.off = vec!["valve-cover".to_owned()];
    let (off, on) = (find(&small(), Checks::built_in(), &case).unwrap(), asked(""));
    assert_eq!(off.next[0].minutes_off, 0.0);
    assert_eq!(on.next[0].parts, ["Gasket of the valve cover"]);
    assert!(off.next[0].parts.is_empty() && off.next[0].per_minute > on.next[0].per_minute);
    case.skip = vec!["free-turn".to_owned()];
    assert!(find(&small(), Checks::built_in(), &case).unwrap().next.is_empty());
}

#[test]
fn round_trips_a_case_as_json() {
    let text = r#"{"actuator":"servo","findings":[{"kind":"symptom","key":"flat","seen":true},{"kind":"check","key":"free-turn","outcome":"free"}]}"#;
    let case: Case = serde_json::from_str(text).unwrap();
    assert_eq!(case.findings, findings("flat free-turn=free"));
    let again: Case = serde_json::from_str(&serde_json::to_string(&case).unwrap()).unwrap();
    assert_eq!(again, case);
    assert!(serde_json::to_string(&find(&small(), Checks::built_in(), &case).unwrap()).is_ok());
}

#[test]
fn exact_a_second_fault_is_rarer_by_its_rule() {
    let tables = Tables::read(&SMALL.replace("second-fault = 1", "second-fault = 0.2")).unwrap();
    let ranking = find(&tables, Checks::built_in(), &case(Actuator::Servo, "")).unwrap();
    near(ranking.nothing, 1.0 / 1.775);
    near(cause(&ranking, "soot").probability, 0.525 / 1.775);
}
