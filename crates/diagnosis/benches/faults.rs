//! Time of one ranking with its next tests. `cargo bench -p diagnosis`.

use diagnosis::check::{Actuator, Checks};
use diagnosis::fault::{Case, Finding, Tables, find};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

/// Findings by name, the likely and the worst.
const FINDINGS: [(&str, &str); 4] = [
    ("none", ""),
    // What a session usually holds: one thing is wrong, the rest is right.
    (
        "twelve",
        "hunting fault-lamp-lit comes-and-goes -servo-silent sensor-ends=within sensor-sweep=jumps earth-drop=small \
         supply-volts=good watch-unhooked=runs-its-round motor-both-ways=both-ways cable-slack=right free-turn=free",
    ),
    // Everything electrical is wrong in its own way.
    (
        "twelve-odd",
        "hunting fault-lamp-lit comes-and-goes -servo-silent sensor-ends=out sensor-sweep=jumps earth-drop=high \
         supply-volts=low watch-unhooked=stops-short motor-both-ways=slow fault-lamp=shown commanded-speeds=late",
    ),
    (
        "twenty-five-odd",
        "hunting fault-lamp-lit comes-and-goes -servo-silent -rattle flat-top sensor-ends=out sensor-sweep=jumps \
         sweep-under-power=jumps earth-drop=high supply-volts=low watch-unhooked=stops-short motor-both-ways=slow \
         actuator-by-hand=notchy fault-lamp=shown commanded-speeds=late wound-by-hand=little valve-leakage=leaks \
         edge-open=short edge-closed=open cable-slack=tight free-turn=stiff linkage-play=play plug-colour=pale \
         ignition-timing=off",
    ),
];

fn case(text: &str) -> Case {
    let finding = |word: &str| match word.split_once('=') {
        Some((key, outcome)) => Finding::Check { key: key.to_owned(), outcome: outcome.to_owned() },
        None => {
            Finding::Symptom { key: word.trim_start_matches('-').to_owned(), seen: !word.starts_with('-') }
        }
    };
    Case {
        actuator: Actuator::Servo,
        findings: text.split_whitespace().map(finding).collect(),
        off: vec![],
        skip: vec![],
    }
}

#[divan::bench(args = FINDINGS.map(|(name, _)| name))]
fn find_next(bencher: Bencher<'_, '_>, name: &str) {
    let text = FINDINGS.iter().find(|(own, _)| *own == name).map_or("", |(_, text)| text);
    let case = case(text);
    let (tables, checks) = (Tables::built_in(), Checks::built_in());
    assert!(find(tables, checks, &case).is_ok());
    bencher.bench_local(|| find(tables, checks, black_box(&case)));
}
