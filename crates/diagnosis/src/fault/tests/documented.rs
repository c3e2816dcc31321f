//! `docs/faults.md`: its examples read, and what it says about them holds.

use super::*;

const PAGE: &str = include_str!("../../../../../docs/faults.md");

fn blocks() -> Vec<&'static str> {
    let after = PAGE.split("```toml\n").skip(1);
    after.map(|block| block.split("```").next().unwrap_or("")).collect()
}

/// The percentage as the page writes it.
fn percent(probability: f64) -> String {
    format!("{:.0} %", 100.0 * probability)
}

#[test]
fn exact_the_page_tells_what_its_example_does() {
    let own = Tables::read(blocks()[0]).unwrap();
    assert_eq!(own.causes.len(), 2);
    let tables = Tables::built_in().clone().with(own);
    let asked =
        |tables: &Tables, text: &str| find(tables, Checks::built_in(), &case(Actuator::Servo, text)).unwrap();
    let (before, after) = (asked(Tables::built_in(), ""), asked(&tables, ""));
    let said = format!(
        "carbon on a servo rises from {} to {}.",
        percent(cause(&before, "carbon").probability),
        percent(cause(&after, "carbon").probability)
    );
    assert!(PAGE.contains(&said), "{said}");
    let found = asked(&tables, "follows-the-weather earth-drop=high");
    assert_eq!(found.causes[0].key, "earth-poor");
    assert_eq!(found.causes[1].key, "water-in-plug");
    assert_eq!(cause(&found, "water-in-plug").sources[0], "Water in the plug of the servo: own experience");
}

#[test]
fn exact_the_page_tells_how_a_check_of_ones_own_counts() {
    let tables = Tables::built_in().clone().with(Tables::read(blocks()[1]).unwrap());
    let found = find(&tables, Checks::built_in(), &case(Actuator::Servo, "own-sniff-test=burnt")).unwrap();
    let before = built_in(Actuator::Servo, "");
    assert!(cause(&found, "motor-worn").probability > 3.0 * cause(&before, "motor-worn").probability);
}

#[test]
fn exact_the_page_gives_the_figures_of_the_rules() {
    let rules = &Tables::built_in().rules;
    assert!(PAGE.contains(&format!("has at least {}", percent(rules.sure))));
}
