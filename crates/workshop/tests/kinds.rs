//! Other valves and another return spring than the demo's.

mod engines;

use engine::model::{ReturnSpring, TravelPoint, ValveKind};
use engines::{answer_to, demo};
use proptest::prelude::*;
use quantity::{Dimension, Measured};
use workshop::report::Outcome;

fn length(mm: f64) -> Measured {
    Measured::within(mm * 1e-3, 0.02e-3, Dimension::Length)
}

fn angle(deg: f64) -> Measured {
    Measured::within(deg.to_radians(), 0.3f64.to_radians(), Dimension::Angle)
}

/// Every kind of valve that lifts the demo's 4.5 mm within the demo's pulley travel.
fn valves() -> Vec<ValveKind> {
    let ratio = || Measured::exact(0.5, Dimension::Number);
    let points = [(0.0, 0.0), (20.0, 1.1), (40.0, 2.7), (60.0, 4.1), (80.0, 5.2)];
    vec![
        ValveKind::Flap { radius: length(9.0), start: angle(-20.0), ratio: ratio() },
        ValveKind::Drum { radius: length(8.5), start: angle(-15.0), ratio: ratio() },
        ValveKind::Table {
            points: points.map(|(deg, mm)| TravelPoint { travel: angle(deg), lift: length(mm) }).to_vec(),
        },
    ]
}

#[test]
fn exact_every_kind_of_valve_gets_flush() {
    for kind in valves() {
        let mut engine = demo().engine;
        engine.valve.kind = kind;
        engine.found.mark_at_full = None;
        let answer = answer_to(engine);
        assert_eq!(answer.report.outcome, Outcome::Ready, "{:?}", answer.report.conflicts);
        let proposal = answer.solution().proposal.as_ref().unwrap();
        assert!(proposal.reached.edge_above_flush_m.abs() < 1e-9, "{proposal:?}");
        assert!(!answer.report.arithmetic.is_empty());
    }
}

#[test]
fn exact_a_spring_on_the_shaft_leaves_the_closing_wire_its_slack() {
    let mut engine = demo().engine;
    engine.gear.spring = ReturnSpring::Shaft {
        at_closed: Measured::within(0.25, 0.02, Dimension::Torque),
        rate: Measured::within(0.10, 0.01, Dimension::TorsionRate),
    };
    engine.found.spring_length = None;
    engine.found.closing_play = Some(length(0.1));
    let answer = answer_to(engine);
    let report = &answer.report;
    assert_eq!(report.outcome, Outcome::Ready, "{:?}", report.conflicts);
    let proposal = answer.solution().proposal.as_ref().unwrap();
    let wanted = answer.solution().case.limits.closing_slack_m;
    assert!(proposal.reached.closing_free_m >= wanted, "{proposal:?}");
    // As little slack as keeps the demand: no more than the guard above the limit.
    assert!(proposal.reached.closing_free_m < wanted + 0.8e-3, "{proposal:?}");
    let closing = report.steps.iter().find(|step| step.title == "Closing cable").unwrap();
    assert!(closing.see.iter().any(|seen| seen.what.starts_with("Free play along the closing wire")));
}

#[test]
fn exact_a_taut_closing_wire_is_named() {
    let mut engine = demo().engine;
    engine.gear.spring = ReturnSpring::Shaft {
        at_closed: Measured::within(0.25, 0.02, Dimension::Torque),
        rate: Measured::within(0.10, 0.01, Dimension::TorsionRate),
    };
    engine.found.spring_length = None;
    engine.found.closing_play = Some(length(0.0));
    let report = answer_to(engine).report;
    assert!(
        report.findings.iter().any(|finding| finding.name == "Taut closing cable"),
        "{:?}",
        report.findings
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the engine: a proposal is flush and keeps every demand, and where there is none it is said why.
    #[test]
    fn conserves_every_demand_or_says_which_conflict(
        servo_deg in 60.0..110.0f64,
        radius_mm in 10.0..20.0f64,
        rate in 0.5..4.0f64,
        friction in 0.0..0.3f64,
        arm_mm in 4.2..6.0f64,
        edge_mm in -0.8..0.6f64,
    ) {
        let mut engine = demo().engine;
        engine.servo.travel.value = servo_deg.to_radians();
        engine.gear.opening.servo_radius.value = radius_mm * 1e-3;
        engine.gear.opening.friction.value = friction;
        engine.gear.closing.friction.value = friction;
        if let ReturnSpring::ClosingAdjuster { rate: spring, .. } = &mut engine.gear.spring {
            spring.value = rate * 1e3;
        }
        if let ValveKind::Blade { arm, .. } = &mut engine.valve.kind {
            arm.value = arm_mm * 1e-3;
        }
        engine.found.edge_above_flush = Some(length(edge_mm));
        let answer = answer_to(engine);
        let solution = answer.solution();
        match &solution.proposal {
            Ok(proposal) => {
                prop_assert!(proposal.reached.edge_above_flush_m.abs() < 1e-9);
                for demand in workshop::setting::demand::Demand::ALL {
                    prop_assert!(proposal.reached.meets(demand, &solution.case), "{demand:?} {proposal:?}");
                }
            }
            Err(_) => {
                prop_assert!(!answer.report.conflicts.is_empty());
                prop_assert!(answer.report.steps.is_empty());
            }
        }
    }
}
