//! Logs that tell little, and limits.

use super::made::{Made, read, table};
use crate::sweep::{Limit, Limits, Outcome, PlacedBy, Subject, Sweep};
use evidence::conformity::Verdict;

fn judged(text: &str) -> Sweep {
    Sweep::of(&read(text), &Limits::default())
}

#[test]
fn regress_a_log_that_is_too_short_says_so() {
    let sweep = judged("0.52 kΩ, 0.61");
    assert_eq!(sweep.outcome, None);
    assert_eq!(
        sweep.text,
        "Cannot tell. The log is too short: 2 readings (0 missing). Sweep slowly from end to end and back, at least \
         three times, with 20 readings or more each way."
    );
}

#[test]
fn exact_an_open_circuit_and_an_output_that_stays() {
    assert_eq!(judged("OL, OL, OL, 0.5 kΩ, OL, OL").outcome, Some(Outcome::Open));
    let still = judged("1.00 kΩ, 1.00, 1.00, 1.00, 1.00, 1.00");
    assert_eq!(still.outcome, None);
    assert!(still.text.contains("was the sensor moved?"), "{}", still.text);
    let turned = judged("travel %;kΩ\n0;1.00\n20;1.00\n40;1.00\n60;1.00\n80;1.00\n100;1.00");
    assert_eq!(turned.outcome, Some(Outcome::Open));
}

#[test]
fn exact_a_coarse_list_cannot_rule_a_dead_spot_out_but_finds_one_it_shows() {
    let healthy = judged("0.05 kΩ, 0.48, 0.97, 1.44, 1.95, 2.41, 2.90, 3.38, 3.85, 4.30, 4.80");
    assert_eq!((healthy.outcome, healthy.placed_by), (None, PlacedBy::Output));
    assert!(healthy.text.contains("cannot rule one out"), "{}", healthy.text);
    assert!(healthy.findings.iter().all(|f| !f.text.contains("a second")), "a list knows no time");
    let dead = judged(
        "0.05 kΩ, 0.48, 0.97, 1.44, OL, 2.41, 2.90, 3.38, 3.85, 4.30, 4.80, 4.30, 3.85, 3.38, 2.90, 2.41, OL, 1.44, \
         0.97, 0.48, 0.05",
    );
    assert_eq!(dead.outcome, Some(Outcome::Open), "{}", dead.text);
    assert!((dead.defects[0].middle() - 0.4).abs() < 0.02, "{:?}", dead.defects);
    let single = judged("0.05 kΩ, 0.48, 0.97, 1.44, 0.02, 2.41, 2.90, 3.38, 3.85, 4.30, 4.80");
    assert_eq!(single.outcome, None);
    assert!((single.defects[0].middle() - 0.4).abs() < 0.03, "{:?}", single.defects);
}

#[test]
fn exact_half_a_sweep_is_not_a_sweep() {
    let rows: Vec<_> = Made::default().rows().into_iter().filter(|r| r.1 < 0.6).collect();
    let sweep = judged(&table(&rows, true));
    assert_eq!(sweep.outcome, None, "{}", sweep.text);
    let log = sweep.findings.iter().find(|f| f.subject == Subject::Log).unwrap();
    assert_eq!(log.verdict, Some(Verdict::CannotTell));
}

#[test]
fn exact_ends_are_judged_with_their_uncertainty() {
    let limits = Limits {
        lowest: Some(Limit::between(0.4, 0.6, "made for the test")),
        highest: Some(Limit::between(4.5, 4.7, "made for the test")),
        range: Some(Limit::between(4.1, 4.3, "made for the test")),
        ..Limits::default()
    };
    let sweep = Sweep::of(&Made::default().log(), &limits);
    let verdict = |wanted| sweep.findings.iter().find(|f| f.subject == wanted).and_then(|f| f.verdict);
    assert_eq!(verdict(Subject::Lowest), Some(Verdict::Pass));
    assert_eq!(verdict(Subject::Highest), Some(Verdict::CannotTell), "it lies on the limit");
    assert_eq!(verdict(Subject::Range), Some(Verdict::Fail));
    assert_eq!(sweep.outcome, Some(Outcome::Clean), "the ends are another check's matter");
}

#[test]
fn practice_ohm_for_kilo_ohm_is_asked_about_and_never_corrected() {
    let text = "0.04 Ω, 0.42, 0.85, 1.27, 1.70, 2.12, 2.54, 2.97, 3.39, 3.82, 4.24";
    let limits = Limits {
        highest: Some(Limit::between(3500.0, 6500.0, "common practice, no source")),
        ..Limits::default()
    };
    let log = read(text);
    let asked = Sweep::of(&log, &limits);
    assert_eq!(asked.outcome, None);
    let question = &asked.questions[0];
    assert_eq!(question.factor, 1000.0);
    assert!(
        question.text.starts_with("The highest reading is 4.24 Ω, about a thousand times below"),
        "{}",
        question.text
    );
    let meant = Sweep::of(&log.clone().scaled(question.factor), &limits);
    assert!(meant.questions.is_empty());
    let highest = meant.findings.iter().find(|f| f.subject == Subject::Highest).unwrap();
    assert_eq!(highest.verdict, Some(Verdict::Pass), "4.24 kΩ passes");
    let sure = Sweep::of(&log, &Limits { sure: true, ..limits });
    assert!(sure.questions.is_empty());
    let highest = sure.findings.iter().find(|f| f.subject == Subject::Highest).unwrap();
    assert_eq!(highest.verdict, Some(Verdict::Fail));
}

#[test]
fn exact_time_stands_for_travel_at_even_speed() {
    let made = Made { bulge: Some((0.04, 0.7, 0.05)), ..Made::default() };
    let log = made.log_without_travel();
    let by_output = Sweep::of(&log, &Limits::default());
    assert_eq!(by_output.placed_by, PlacedBy::Output);
    let by_time = Sweep::of(&log, &Limits { even_speed: true, ..Limits::default() });
    assert_eq!(
        (by_time.placed_by, by_time.outcome),
        (PlacedBy::Time, Some(Outcome::Jumps)),
        "{}",
        by_time.text
    );
    assert!((by_time.defects[0].middle() - 0.7).abs() < 0.015, "{:?}", by_time.defects);
}

#[test]
fn exact_how_fast_one_may_sweep_follows_from_width_and_rate() {
    // 40 samples on each pass of a second: three of them cover 7.7 % of the travel.
    let made = Made { passes: 1, samples: 40, ..Made::default() };
    let limits = Limits { width_to_see: 0.02, ..Limits::default() };
    let sweep = Sweep::of(&made.log(), &limits);
    let sampling = sweep.findings.iter().find(|f| f.subject == Subject::Sampling).unwrap();
    assert_eq!(sampling.verdict, Some(Verdict::CannotTell));
    assert!(
        sampling.text.contains("to see 2 % in one pass, move at no more than 66.7 % a second"),
        "{}",
        sampling.text
    );
}

#[test]
fn exact_a_long_log_is_judged_and_drawn_small() {
    let made = Made { passes: 10, samples: 20_000, dead: Some((0.3, 0.301)), ..Made::default() };
    let sweep = Sweep::of(&made.log(), &Limits::default());
    assert_eq!(sweep.outcome, Some(Outcome::Open), "{}", sweep.text);
    assert!((sweep.defects[0].from - 0.3).abs() < 1e-4 && (sweep.defects[0].to - 0.301).abs() < 1e-4);
    let drawn = drawing::to_svg(&sweep.scene(quantity::Units::Metric), drawing::Theme::Page);
    assert!(drawn.len() < 200_000, "{}", drawn.len());
}
