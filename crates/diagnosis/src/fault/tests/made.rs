//! The six engines of the trade, made (no recording stands behind them): each is asked the test that comes first until
//! the ranking says that no more is needed. What an engine shows was written down before the tests were asked.

use super::*;

/// What an engine shows where it is not healthy.
struct Engine {
    complaint: &'static str,
    shows: &'static [(&'static str, &'static str)],
}

/// The checks that were done until the verdict, and the ranking then.
fn walk(engine: &Engine) -> (Vec<String>, Ranking) {
    let mut case = case(Actuator::Servo, engine.complaint);
    let mut done = Vec::new();
    loop {
        let ranking = find(Tables::built_in(), Checks::built_in(), &case).unwrap();
        if ranking.settled.is_some() || done.len() > 25 {
            return (done, ranking);
        }
        let next = &ranking.next[0];
        let shown = engine.shows.iter().find(|(check, _)| *check == next.check);
        let outcome = shown.map_or(next.outcomes[0].outcome.as_str(), |(_, outcome)| *outcome);
        case.findings.push(Finding::Check { key: next.check.clone(), outcome: outcome.to_owned() });
        let check = Checks::built_in().get(&next.check).unwrap();
        case.off.extend(check.take_off.iter().cloned());
        let first = &ranking.causes[0];
        done.push(format!("{} {:.2}, {}={outcome}", first.key, first.probability, next.check));
    }
}

/// Asserts the cause that stands first, and the most tests that lead there.
fn leads_to(engine: &Engine, key: &str, most: usize) {
    let (done, ranking) = walk(engine);
    let first = &ranking.causes[0];
    assert_eq!(first.key, key, "{done:?} {:#?}", &ranking.causes[..3]);
    assert!(first.probability >= 0.9, "{} after {done:?}", first.probability);
    assert!(done.len() <= most, "{} tests: {done:?}", done.len());
}

#[test]
fn practice_made_healthy_engine_is_found_healthy() {
    let complaint =
        "after-long-storage -flat-low -flat-top -no-step -dip-mid -hunting -fault-lamp-lit -servo-silent";
    let (done, ranking) = walk(&Engine { complaint, shows: &[] });
    assert!(ranking.nothing > 0.9 && done.len() <= 12, "{} after {done:?}", ranking.nothing);
    assert!(ranking.settled.unwrap().contains("nothing wrong"));
}

#[test]
fn practice_made_carbon() {
    let engine = Engine {
        complaint: "flat-top no-step after-long-storage -fault-lamp-lit",
        shows: &[("free-turn", "stiff"), ("edge-open", "short"), ("wound-by-hand", "little")],
    };
    leads_to(&engine, "carbon", 5);
}

#[test]
fn practice_made_worn_sensor_with_a_dead_spot() {
    let engine = Engine {
        complaint: "hunting comes-and-goes fault-lamp-lit -after-top-end-work",
        shows: &[
            ("sensor-sweep", "jumps"),
            ("sweep-under-power", "jumps"),
            ("watch-unhooked", "stops-short"),
            ("fault-lamp", "shown"),
        ],
    };
    leads_to(&engine, "sensor-worn", 4);
}

#[test]
fn practice_made_broken_teeth() {
    let engine = Engine {
        complaint: "no-step flat-top fault-lamp-lit comes-and-goes -servo-silent",
        shows: &[
            ("actuator-by-hand", "slips"),
            ("motor-both-ways", "runs-without-turning"),
            ("watch-unhooked", "stops-short"),
            ("fault-lamp", "shown"),
            ("commanded-speeds", "none"),
        ],
    };
    leads_to(&engine, "broken-teeth", 4);
}

#[test]
fn practice_made_cable_too_tight() {
    let engine = Engine {
        complaint: "hunting fault-lamp-lit after-top-end-work -servo-silent -rattle",
        shows: &[
            ("cable-slack", "tight"),
            ("edge-open", "over"),
            ("fault-lamp", "shown"),
            ("sensor-zero", "shifted"),
        ],
    };
    leads_to(&engine, "cable-too-tight", 2);
}

#[test]
fn practice_made_jetting_that_looks_like_the_valve() {
    let engine = Engine {
        complaint: "dip-mid flat-low thirsty follows-the-weather -fault-lamp-lit -hunting",
        shows: &[("plug-colour", "sooty")],
    };
    leads_to(&engine, "jetting-rich", 2);
}

#[test]
fn practice_a_valve_that_moves_freely_speaks_for_the_sensor() {
    let ranking = built_in(Actuator::Servo, "hunting flat-top free-turn=free sensor-sweep=jumps");
    let first = &ranking.causes[0];
    assert_eq!(first.key, "sensor-worn");
    let reasons: Vec<&str> = first.because.iter().map(|reason| reason.finding.as_str()).collect();
    assert!(reasons.contains(&"sensor-sweep") && reasons.contains(&"free-turn"), "{reasons:?}");
    assert!(first.in_words.contains("because the sensor jumps"), "{}", first.in_words);
}
