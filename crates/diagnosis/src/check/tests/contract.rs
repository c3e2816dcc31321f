//! The keys that other rooms build on.

use super::check;
use crate::check::{Actuator, Checks};

#[rustfmt::skip]
const CONTRACT: [(&str, &str, &[&str]); 31] = [
    ("free-turn", "all", &["free", "stiff", "stuck"]),
    ("edge-open", "all", &["flush", "short", "over"]),
    ("edge-closed", "all", &["closed", "open"]),
    ("valve-leakage", "all", &["tight", "leaks"]),
    ("linkage-play", "all", &["none", "play", "parted"]),
    ("cable-look", "servo", &["sound", "kinked", "frayed"]),
    ("cable-drag", "servo", &["smooth", "drags", "parted"]),
    ("cable-slack", "servo", &["right", "slack", "tight"]),
    ("spring-pull", "all", &["right", "weak", "strong"]),
    ("actuator-by-hand", "servo", &["smooth", "notchy", "slips"]),
    ("motor-both-ways", "servo", &["both-ways", "slow", "runs-without-turning", "dead"]),
    ("sensor-ends", "servo", &["within", "out", "open"]),
    ("sensor-sweep", "servo", &["clean", "jumps", "open"]),
    ("sweep-under-power", "servo", &["clean", "jumps", "flat"]),
    ("sensor-zero", "servo", &["right", "shifted"]),
    ("supply-volts", "servo", &["good", "low"]),
    ("earth-drop", "servo", &["small", "high", "open"]),
    ("watch-unhooked", "servo", &["runs-its-round", "stops-short", "still"]),
    ("wound-by-hand", "all", &["answers", "little", "none"]),
    ("commanded-speeds", "servo", &["right", "early", "late", "none"]),
    ("fault-lamp", "servo", &["none", "shown"]),
    ("governor-free", "governor", &["free", "sticky", "stuck"]),
    ("governor-speed", "governor", &["right", "early", "late"]),
    ("diaphragm-hold", "diaphragm", &["holds", "leaks"]),
    ("feed-pipe", "diaphragm", &["clear", "leaks", "blocked"]),
    ("opening-pressure", "diaphragm", &["right", "late", "none"]),
    ("plug-colour", "all", &["usual", "pale", "sooty"]),
    ("reed-look", "all", &["seal", "gap", "chipped"]),
    ("crankcase-hold", "all", &["holds", "leaks"]),
    ("ignition-timing", "all", &["right", "off"]),
    ("pipe-look", "all", &["sound", "leaks", "blocked"]),
];

#[test]
fn exact_every_check_of_the_contract_has_exactly_its_outcomes() {
    for (key, kinds, outcomes) in CONTRACT {
        let check = check(key);
        let ours: Vec<&str> = check.outcomes.iter().map(|outcome| outcome.key.as_str()).collect();
        assert_eq!(ours, outcomes, "{key}");
        let wanted: Vec<Actuator> =
            Actuator::ALL.into_iter().filter(|kind| kinds == "all" || kind.key() == kinds).collect();
        assert_eq!(check.actuators, wanted, "{key}");
    }
    assert_eq!(Checks::built_in().checks.len(), CONTRACT.len());
}
