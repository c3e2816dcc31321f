//! What was made into a sweep is found in it, and nothing else.

use super::made::{Made, read};
use crate::sweep::{DefectKind, Limit, Limits, Outcome, Repeats, Subject, Sweep, event, track::Track};
use evidence::conformity::Verdict;

const TWO_PASSES: &str = include_str!("../data/two_passes_made.csv");
const WORN_TRACK: &str = include_str!("../data/worn_track_made.csv");

fn judged(log: &crate::sweep::Log) -> Sweep {
    Sweep::of(log, &Limits::default())
}

fn kinds(sweep: &Sweep) -> Vec<DefectKind> {
    sweep.defects.iter().filter(|d| d.repeats != Repeats::No).map(|d| d.kind).collect()
}

/// The file holds the truth in its last column: ten dropouts, nine of them at one place both ways, and sixty samples
/// on a worn patch. A test by single samples (Hampel on the residual) finds 10 of 10 and nothing else, and of the worn
/// patch nothing; residuals beyond five standard deviations find 53 of the 60. Folding gives the patch as one place in
/// bins of half a per cent: it holds 58 of the 60 samples, and 2 beside it that share its first bin.
#[test]
fn exact_ten_of_ten_dropouts_none_false_and_the_worn_patch() {
    let labels: Vec<u8> =
        TWO_PASSES.lines().skip(2).filter_map(|l| l.rsplit(',').next()?.trim().parse().ok()).collect();
    let log = read(TWO_PASSES);
    assert_eq!((labels.len(), log.samples.len()), (2000, 2000));
    let mut track = Track::of(&log, &Limits::default()).unwrap();
    event::find(&mut track);
    let away: Vec<usize> = (0..2000).filter(|&i| track.spots[i].away).collect();
    let dropouts: Vec<usize> = (0..2000).filter(|&i| labels[i] == 1).collect();
    assert_eq!(away, dropouts);

    let sweep = judged(&log);
    assert_eq!(sweep.outcome, Some(Outcome::Open));
    assert_eq!(kinds(&sweep), [DefectKind::DeadSpot, DefectKind::WornPatch]);
    let dead = &sweep.defects[0];
    assert!((dead.from - 0.5).abs() < 0.001 && (dead.to - 0.504_25).abs() < 0.001, "{dead:?}");
    assert!(dead.both_ways && (dead.shown, dead.passes, dead.samples) == (2, 2, 9));
    let patch = sweep.defects.iter().find(|d| d.kind == DefectKind::WornPatch).unwrap();
    let inside = |wanted: bool| {
        let in_patch = |i: &usize| (patch.from..=patch.to).contains(&track.spots[*i].x);
        (0..2000).filter(|i| (labels[*i] == 2) == wanted).filter(in_patch).count()
    };
    assert_eq!((inside(true), inside(false)), (58, 2));
    let once: Vec<_> = sweep.defects.iter().filter(|d| d.repeats == Repeats::No).collect();
    assert_eq!(once.len(), 1, "the tenth dropout stands alone");
    assert_eq!(once[0].verdict(), Some(Verdict::CannotTell));
}

#[test]
fn exact_a_worn_track_has_its_dead_spot_at_forty_per_cent() {
    let log = read(WORN_TRACK);
    let sweep = judged(&log);
    assert_eq!(sweep.outcome, Some(Outcome::Open));
    assert_eq!(kinds(&sweep), [DefectKind::DeadSpot]);
    let dead = &sweep.defects[0];
    assert!((dead.middle() - 0.40).abs() < 0.01, "{dead:?}");
    assert!((dead.from - 0.392).abs() < 0.005 && (dead.to - 0.408).abs() < 0.005, "{dead:?}");
    assert!(dead.both_ways && dead.shown >= 5);
}

#[test]
fn regress_the_finding_of_the_worn_track_in_words() {
    let sweep = judged(&read(WORN_TRACK));
    let finding = &sweep.findings[0];
    assert_eq!(
        finding.text,
        "Dead spot from 39.4 to 40.7 % of travel (either edge ± 0.4 %): the circuit is open; seen on 6 of 6 passes over the place, going up \
         and coming back."
    );
    assert_eq!((finding.subject, finding.verdict), (Subject::DeadSpot, Some(Verdict::Fail)));
    assert_eq!(finding.limit.as_deref(), Some("from about zero to the end value without jumps"));
    assert_eq!(finding.source.as_deref(), Some("common practice, no source"));
    assert_eq!(sweep.text, finding.text);
}

#[test]
fn practice_a_healthy_sweep_from_end_to_end_without_jumps_passes() {
    for seed in 1..20 {
        for noise in [0.0, 0.001, 0.005] {
            let made = Made { noise, seed, ..Made::default() };
            for log in [made.log(), made.log_without_travel()] {
                let sweep = judged(&log);
                assert_eq!(sweep.outcome, Some(Outcome::Clean), "seed {seed}, noise {noise}: {}", sweep.text);
                assert_eq!(kinds(&sweep), []);
            }
        }
    }
}

#[test]
fn practice_a_healthy_sensor_that_bends_gently_passes() {
    for passes in [2, 6] {
        let rows: Vec<_> = Made { passes, ..Made::default() }
            .rows()
            .into_iter()
            .map(|(t, x, v)| (t, x, v.map(|v| v + 0.06 * (std::f64::consts::PI * x).sin())))
            .collect();
        let sweep = judged(&read(&super::made::table(&rows, true)));
        assert_eq!(sweep.outcome, Some(Outcome::Clean), "{}", sweep.text);
    }
}

#[test]
fn exact_a_third_of_the_samples_may_be_missing() {
    for seed in 1..20 {
        let made = Made { dead: Some((0.394, 0.406)), missing: 0.3, noise: 0.005, seed, ..Made::default() };
        for log in [made.log(), made.log_without_travel()] {
            let sweep = judged(&log);
            assert_eq!(sweep.outcome, Some(Outcome::Open), "seed {seed}: {}", sweep.text);
            assert_eq!(kinds(&sweep), [DefectKind::DeadSpot], "seed {seed}");
            let dead =
                sweep.defects.iter().find(|d| d.kind == DefectKind::DeadSpot && d.repeats == Repeats::Yes);
            let middle = dead.unwrap().middle();
            assert!((middle - 0.40).abs() < 0.01, "seed {seed}: {middle}");
        }
        let healthy = judged(&Made { dead: None, ..made }.log());
        assert_eq!(healthy.outcome, Some(Outcome::Clean), "seed {seed}: {}", healthy.text);
    }
}

#[test]
fn exact_dead_spots_from_narrow_to_wide() {
    for width in [0.008, 0.02, 0.05, 0.12] {
        let made = Made { dead: Some((0.4 - width / 2.0, 0.4 + width / 2.0)), ..Made::default() };
        for log in [made.log(), made.log_without_travel()] {
            let sweep = judged(&log);
            assert_eq!(kinds(&sweep), [DefectKind::DeadSpot], "{width}: {:?}", sweep.defects);
            let dead = &sweep.defects[0];
            assert!((dead.middle() - 0.4).abs() < 0.01, "{width}: {dead:?}");
            assert!((dead.to - dead.from - width).abs() < 0.008, "{width}: {dead:?}");
        }
    }
}

#[test]
fn exact_a_flat_spot_is_a_jump_at_its_place() {
    let made = Made { flat: Some((0.57, 0.63)), ..Made::default() };
    for log in [made.log(), made.log_without_travel()] {
        let sweep = judged(&log);
        assert_eq!(sweep.outcome, Some(Outcome::Jumps), "{}", sweep.text);
        let worst = sweep.defects.iter().find(|d| d.verdict() == Some(Verdict::Fail)).unwrap();
        assert!((worst.middle() - 0.6).abs() < 0.01, "{:?}", sweep.defects);
        assert!((worst.to - worst.from - 0.06).abs() < 0.02, "{worst:?}");
    }
}

#[test]
fn exact_a_worn_patch_is_found_with_its_height() {
    for noise in [0.001, 0.003] {
        let made = Made { bulge: Some((-0.04, 0.7, 0.05)), noise, ..Made::default() };
        let sweep = judged(&made.log());
        assert_eq!(sweep.outcome, Some(Outcome::Jumps), "{}", sweep.text);
        assert_eq!(kinds(&sweep), [DefectKind::WornPatch]);
        let patch = &sweep.defects[0];
        assert!((patch.middle() - 0.7).abs() < 0.01, "{patch:?}");
        assert!((patch.size + 0.04).abs() < 0.006, "{patch:?}");
    }
}

#[test]
fn exact_play_between_up_and_back_is_no_defect() {
    let rows: Vec<_> = Made::default()
        .rows()
        .into_iter()
        .enumerate()
        .map(|(i, (t, x, v))| (t, (x + if (i / 300) % 2 == 0 { 0.01 } else { -0.01 }).clamp(0.0, 1.0), v))
        .collect();
    let sweep = judged(&read(&super::made::table(&rows, true)));
    assert_eq!(sweep.outcome, Some(Outcome::Clean), "{}", sweep.text);
    let play = sweep.findings.iter().find(|f| f.subject == Subject::Play).unwrap();
    assert!((play.figure.as_ref().unwrap().value - 0.02).abs() < 0.001, "{}", play.text);
}

#[test]
fn exact_one_disturbance_in_six_passes_is_no_fault_of_the_track() {
    let mut rows = Made::default().rows();
    rows[700].2 = Some(0.02);
    let sweep = judged(&read(&super::made::table(&rows, true)));
    assert_eq!(sweep.outcome, Some(Outcome::Clean), "{}", sweep.text);
    let told = sweep.findings.iter().find(|f| f.title == "Not repeated").unwrap();
    assert!(told.text.starts_with("One disturbance did not repeat: "), "{}", told.text);
}

#[test]
fn exact_linearity_of_a_made_bow_by_each_definition() {
    // A bow of 2 % over the travel: off the line through the ends by 2 %, off the best line by half of that.
    let rows: Vec<_> = Made { noise: 0.0, ..Made::default() }
        .rows()
        .into_iter()
        .map(|(t, x, v)| (t, x, v.map(|v| v + 4.0 * 0.08 * x * (1.0 - x))))
        .collect();
    let limits = Limits {
        expected: Some((0.5, 4.5)),
        linearity: Some(Limit::at_most(0.03, "made for the test")),
        ..Limits::default()
    };
    let sweep = Sweep::of(&read(&super::made::table(&rows, true)), &limits);
    let figure = |wanted| {
        let finding = sweep.findings.iter().find(|f| f.subject == wanted).unwrap();
        (finding.figure.as_ref().unwrap().value, finding.verdict)
    };
    let (absolute, verdict) = figure(Subject::AbsoluteLinearity);
    assert!((absolute - 0.02).abs() < 1e-3 && verdict == Some(Verdict::Pass), "{absolute}");
    let (terminal, _) = figure(Subject::TerminalLinearity);
    let (independent, _) = figure(Subject::IndependentLinearity);
    assert!((terminal - 0.02).abs() < 1e-3, "{terminal}");
    assert!((independent - 0.01).abs() < 1e-3, "{independent}");
    let (zero_based, _) = figure(Subject::ZeroBasedLinearity);
    assert!(independent <= zero_based && zero_based <= terminal);
}

#[test]
fn exact_loading_of_a_controller_input() {
    let limits = Limits { track_ohm: Some(5_000.0), load_ohm: Some(10_000.0), ..Limits::default() };
    let sweep = Sweep::of(&Made::default().log(), &limits);
    let loading = sweep.findings.iter().find(|f| f.subject == Subject::Loading).unwrap();
    let error = loading.figure.as_ref().unwrap().value;
    // K (1 - K) K alpha / (1 + K (1 - K) alpha) at its largest over a fine grid.
    let alpha = 0.5;
    let most = (0..=10_000)
        .map(|i| f64::from(i) * 1e-4)
        .map(|k| k * k * (1.0 - k) * alpha / (1.0 + k * (1.0 - k) * alpha))
        .fold(0.0, f64::max);
    assert!((error - most).abs() < 1e-6, "{error} {most}");
}
