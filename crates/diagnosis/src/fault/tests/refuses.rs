//! What is refused, and in which words.

use super::*;
use proptest::prelude::*;

fn problem(text: &str) -> String {
    let problems = Tables::read(text).unwrap_err();
    problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

#[test]
fn refuses_files_with_line_key_and_mend() {
    let row = |lines: &str| {
        format!("[[cause]]\nkey = \"mud\"\nname = \"Mud\"\nremedy = \"Wash.\"\nsource = \"own\"\n{lines}")
    };
    assert_eq!(
        problem(&row("odds = 2e9")),
        "line 6, cause \"mud\".odds: it is 2e9; write a number from 0.000001 to 1000"
    );
    assert_eq!(
        problem(&row("odds.servoo = 0.1")),
        "line 6, cause \"mud\".odds.servoo: 'servoo' is no kind of actuator that is known; did you mean 'servo'?"
    );
    assert_eq!(
        problem(&row("odds = 0.1\nsymptoms = { ratle = 0.3 }")),
        "line 7, cause \"mud\".symptoms.ratle: 'ratle' is no symptom that is known; did you mean 'rattle'?"
    );
    assert_eq!(
        problem(&row("odds = 0.1\nconditions.spring = { weak = 0.8, strong = 0.4 }")),
        "line 7, cause \"mud\".conditions.spring.weak: the states together have 1.200; at most 1, the rest is 'right'"
    );
    assert_eq!(
        problem(&row("odds = 0.1\ncolour = \"brown\"")),
        "line 7, cause \"mud\".colour: 'colour' is no key that is known; known are: key, name, not-the-valve, odds, remedy, conditions, symptoms, source"
    );
    assert_eq!(
        problem("[[symptom]]\nkey = \"x\"\nname = \"X\"\nyes = \"x\"\nno = \"y\"\nleak = 0.1"),
        "line 1, symptom \"x\".source: no source is given; write source = \"...\" in the row, or once for all rows under [sources]"
    );
    assert_eq!(
        problem(
            "[[condition]]\nkey = \"spring\"\nname = \"spring\"\nstates = [\"right\", \"weak\"]\nsource = \"own\""
        ),
        "line 4, condition \"spring\".states: 'strong' is missing; other rows use it, so keep it and add yours"
    );
    let test = "[[test]]\ncheck = \"x\"\noutcomes = [\"a\", \"b\"]\nsays = [\"a\", \"b\"]\nsource = \"own\"\nreads.spring = { weak = [0, 1] }\n";
    assert_eq!(
        problem(&format!("{test}leak = [0.9, 0.2]")),
        "line 7, test \"x\".leak: the numbers sum to 1.1; they must sum to 1"
    );
    assert!(problem("[[cause]\nkey").starts_with("line 1: this line cannot be read as TOML"));
    assert!(problem("[cause]\nkey = \"x\"").ends_with("write it in double brackets: [[cause]]"));
}

#[test]
fn refuses_findings_that_cannot_be() {
    let refused = |kind, text| try_built_in(kind, text).unwrap_err();
    assert!(
        refused(Actuator::Servo, "ratle")
            .starts_with("'ratle' is no symptom that is known; known are: flat-low, ")
    );
    assert_eq!(
        refused(Actuator::Governor, "hunting"),
        "the symptom 'hunting' does not belong to a governor; remove the finding"
    );
    assert_eq!(
        refused(Actuator::Governor, "cable-slack=tight"),
        "the check 'cable-slack' does not belong to a governor; remove the finding"
    );
    assert_eq!(
        refused(Actuator::Servo, "free-turn=loose"),
        "'loose' is no outcome of the check 'free-turn'; it has: free, stiff, stuck"
    );
    assert!(
        refused(Actuator::Servo, "free-trun=free")
            .starts_with("'free-trun' is no check that is known; known are: ")
    );
    assert_eq!(
        refused(Actuator::Servo, "free-turn=free rattle free-turn=stiff"),
        "'free-turn' was found both ways: \"the valve moves freely\" and \"the valve moves stiffly\"; keep the finding that holds and remove the other"
    );
    assert!(refused(Actuator::Servo, "rattle -rattle").contains("found both ways"));
    assert_eq!(built_in(Actuator::Servo, "rattle rattle").causes, built_in(Actuator::Servo, "rattle").causes);
}

#[test]
fn refuses_findings_that_own_tables_make_impossible() {
    let own = "[[test]]\ncheck = \"free-turn\"\noutcomes = [\"free\", \"stiff\", \"stuck\"]\nsays = [\"a\", \"b\", \"it is stuck\"]\n\
        leak = [1, 0, 0]\nreads.valve-motion = { stiff = [1, 0, 0], stuck = [1, 0, 0] }\nsource = \"own\"";
    let tables = Tables::built_in().clone().with(Tables::read(own).unwrap());
    let error = find(&tables, Checks::built_in(), &case(Actuator::Servo, "free-turn=stuck")).unwrap_err();
    assert!(error.starts_with("by the tables these findings cannot come together: it is stuck;"), "{error}");
}

#[test]
fn practice_a_finding_that_fits_badly_is_named() {
    let text = "servo-silent motor-both-ways=both-ways watch-unhooked=runs-its-round supply-volts=good earth-drop=small \
        commanded-speeds=right fault-lamp=none sweep-under-power=clean";
    let ranking = built_in(Actuator::Servo, text);
    let conflict = ranking.conflict.unwrap();
    assert!(
        conflict.starts_with("One finding fits badly with the others: nothing moves at key-on."),
        "{conflict}"
    );
    assert_eq!(built_in(Actuator::Servo, "hunting sensor-sweep=jumps fault-lamp=shown").conflict, None);
}

#[test]
fn refuses_nothing_that_a_table_does_not_know_of_the_users_own_checks() {
    let mut checks = Checks::built_in().clone();
    let mut own = checks.get("free-turn").unwrap().clone();
    own.key = "own-check".to_owned();
    checks.checks.push(own);
    let ranking = find(Tables::built_in(), &checks, &case(Actuator::Servo, "own-check=stiff")).unwrap();
    assert!(
        ranking
            .assumptions
            .iter()
            .any(|text| text.contains("'own-check'") && text.contains("does not count"))
    );
    assert!((ranking.nothing - built_in(Actuator::Servo, "").nothing).abs() < 1e-15);
}

proptest! {
    #[test]
    fn refuses_without_panic_any_text(text in "[\\[\\]a-z.=\" {},0-9\n-]{0,200}") {
        let _ = Tables::read(&text);
    }
}
