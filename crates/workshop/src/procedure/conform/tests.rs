use super::*;
use crate::procedure::tests::{demo, rigid, run, sure};
use crate::procedure::{Procedures, Scope};
use evidence::conformity::Production;
use quantity::{Dimension, Measured};

fn check(error: Measured, guard: f64) -> Check {
    Check { demand: Demand::Flush, by: "depth gauge".to_owned(), error, guard, source: "invented".to_owned() }
}

fn normal(u: f64) -> Measured {
    Measured { shape: Shape::Normal, ..Measured::within(0.0, u * 3f64.sqrt(), Dimension::Length) }
}

/// A rigid gear set by an edge that is read with a normal error: a production that spreads normally, for which
/// JCGM 106 9.5 has an integral.
#[test]
fn agrees_risks_over_draws_with_the_integral_over_a_normal_production() {
    let engine = rigid();
    let mut procedures = sure();
    let way = procedures.procedures.iter_mut().find(|way| way.key == "port-under-load").unwrap();
    let sd_m = 0.06e-3;
    for step in &mut way.steps {
        if let crate::procedure::Until::Edge(figure) = &mut step.until {
            *figure = normal(sd_m);
        }
        step.back = Measured::exact(step.back.value, Dimension::Angle);
    }
    let run = run(&engine, &procedures, "port-under-load", Scope::ThisEngine);
    let draws = run.draw(0..40_000);
    let limits = Limits::between(-run.case().limits.flush_m, run.case().limits.flush_m);
    let u = 0.025e-3;
    for guard in [0.0, 0.5, 1.0] {
        let found = decide(&draws, Demand::Flush, run.case(), &check(normal(u), guard));
        let production = Production { mean: 0.0, standard_deviation: sd_m };
        let exact = limits.risk(&limits.guarded(guard * 2.0 * u).unwrap(), production, u).unwrap();
        // Four standard errors of a share of 40,000 draws.
        let near = |a: f64, b: f64| (a - b).abs() <= 4.0 * (b * (1.0 - b) / 40_000.0).sqrt() + 1e-6;
        assert!(near(found.wrong_acceptance, exact.wrong_acceptance), "{guard}: {found:?} {exact:?}");
        assert!(near(found.wrong_rejection, exact.wrong_rejection), "{guard}: {found:?} {exact:?}");
        let sum = found.passes + found.fails + found.cannot_tell;
        assert!((sum - 1.0).abs() < 1e-12);
    }
}

#[test]
fn exact_a_guard_band_as_wide_as_the_limits_lets_nothing_pass() {
    let run = run(&demo(), &Procedures::built_in(), "port-under-load", Scope::ThisEngine);
    let draws = run.draw(0..500);
    let limit_m = run.case().limits.flush_m;
    let found = decide(&draws, Demand::Flush, run.case(), &check(normal(limit_m), 1.0));
    assert!(!found.can_pass && found.passes == 0.0);
    // Without error the reading is the truth.
    let exact =
        decide(&draws, Demand::Flush, run.case(), &check(Measured::exact(0.0, Dimension::Length), 1.0));
    assert_eq!((exact.wrong_acceptance, exact.wrong_rejection, exact.cannot_tell), (0.0, 0.0, 0.0));
}

#[test]
fn practice_a_guard_band_passes_fewer_wrong_ones_and_turns_down_more_right_ones() {
    let run = run(&demo(), &Procedures::built_in(), "high-and-pin", Scope::ThisEngine);
    let judged = judge(&run.draw(0..4_000), run.case(), &Procedures::built_in().checks);
    let flush = judged.iter().find(|one| one.demand == Demand::Flush).unwrap();
    let decision = flush.decision.unwrap();
    assert_eq!(flush.verdict, Verdict::CannotTell);
    assert!(decision.wrong_acceptance < decision.bare_wrong_acceptance);
    assert!(decision.wrong_rejection > decision.bare_wrong_rejection);
    assert!(decision.wrong_acceptance < 0.025 && decision.guard_band > 0.0);
}

#[test]
fn exact_verdicts() {
    assert_eq!([0.95, 0.5, 0.05].map(verdict), [Verdict::Pass, Verdict::CannotTell, Verdict::Fail]);
}
