//! Tests of the ranking as a whole.

mod agrees;
mod covers;
mod documented;
mod exact;
mod made;
mod refuses;
mod typical;

use super::*;
use crate::check::{Actuator, Checks};

/// "key" for a symptom that was noticed, "-key" for one that is not there, "check=outcome" for a check.
fn findings(text: &str) -> Vec<Finding> {
    let finding = |word: &str| match word.split_once('=') {
        Some((key, outcome)) => Finding::Check { key: key.to_owned(), outcome: outcome.to_owned() },
        None => {
            let key = word.trim_start_matches('-');
            Finding::Symptom { key: key.to_owned(), seen: !word.starts_with('-') }
        }
    };
    text.split_whitespace().map(finding).collect()
}

fn case(actuator: Actuator, text: &str) -> Case {
    Case { actuator, findings: findings(text), off: vec![], skip: vec![] }
}

fn try_built_in(actuator: Actuator, text: &str) -> Result<Ranking, String> {
    find(Tables::built_in(), Checks::built_in(), &case(actuator, text))
}

fn built_in(actuator: Actuator, text: &str) -> Ranking {
    try_built_in(actuator, text).unwrap()
}

fn cause<'r>(ranking: &'r Ranking, key: &str) -> &'r RankedCause {
    ranking.causes.iter().find(|cause| cause.key == key).unwrap()
}
