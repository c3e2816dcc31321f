use super::*;
use crate::model::{EdgeDatum, PortEdge};
use crate::ports::report;
use crate::ports::sample::{engine, inlet, mm, port};
use proptest::prelude::*;
use quantity::{Dimension, Measured};

#[test]
fn exact_full_lift_gives_the_angles_written_in_the_file() {
    let timing = timing(&engine(), 6e-3).unwrap();
    assert!((timing.exhaust.duration_rad.to_degrees() - 189.0).abs() < 1e-9);
    assert!((timing.exhaust.opens_rad.to_degrees() - 85.5).abs() < 1e-9);
    assert!((timing.transfer.unwrap().duration_rad.to_degrees() - 130.0).abs() < 1e-9);
    // Half the difference of the durations.
    assert!((timing.blowdown_rad.unwrap().to_degrees() - 29.5).abs() < 1e-9);
    assert!((timing.effective_stroke_m * 1e3 - 28.519).abs() < 1e-3);
}

#[test]
fn exact_over_travel_changes_nothing() {
    let flush = timing(&engine(), 6e-3).unwrap();
    assert_eq!(timing(&engine(), 7.5e-3).unwrap(), flush);
}

#[test]
fn exact_closed_valve_lowers_the_roof_by_its_drop() {
    let (open, closed) = (timing(&engine(), 6e-3).unwrap(), timing(&engine(), 0.0).unwrap());
    let lowered = closed.effective_roof_depth_m - open.effective_roof_depth_m;
    assert!((lowered - 6e-3).abs() < 1e-15);
    assert!(closed.exhaust.duration_rad < open.exhaust.duration_rad);
}

#[test]
fn exact_uncovered_side_port_keeps_its_own_timing() {
    let mut engine = engine();
    engine.ports.push(port("side exhaust", PortGroup::ExhaustAuxiliary, 180.0, 10.0));
    let closed = timing(&engine, 0.0).unwrap();
    assert!((closed.exhaust.duration_rad.to_degrees() - 180.0).abs() < 1e-9);
    // Covered as well: one straight edge for both, 6 mm below the main roof.
    engine.valve.covers.push("side exhaust".to_owned());
    let closed = timing(&engine, 0.0).unwrap();
    assert!((closed.effective_roof_depth_m * 1e3 - (28.519 + 1.0 + 6.0)).abs() < 1e-3);
}

#[test]
fn exact_valve_that_moves_nothing() {
    let mut engine = engine();
    engine.valve.covers.clear();
    assert_eq!(timing(&engine, 0.0).unwrap(), timing(&engine, 5e-3).unwrap());
}

/// Applies a change to the sample and gives the sentence that refuses it.
fn refusal(change: impl FnOnce(&mut Engine)) -> String {
    let mut engine = engine();
    change(&mut engine);
    let light = timing(&engine, 0.0).unwrap_err();
    assert_eq!(report(&engine, 0.0).unwrap_err(), light);
    light.to_string()
}

#[test]
fn refuses_impossible_ports_in_the_mechanics_words() {
    let roof = |datum, at| PortEdge { datum, at };
    let cases = [
        (
            refusal(|e| e.ports[0].roof = roof(EdgeDatum::BelowDeck, mm(0.5))),
            "The roof of port \"main exhaust\" at 0.50 mm below the deck lies above the crown edge at top dead centre, \
             1.00 mm below the deck: the port would never close. Check the edge and the deck clearance.",
        ),
        (
            refusal(|e| {
                e.ports[0].roof = roof(EdgeDatum::BelowDeck, mm(56.0));
                e.ports[0].floor = roof(EdgeDatum::BelowDeck, mm(60.0));
            }),
            "The roof of port \"main exhaust\" at 56.00 mm below the deck lies below the crown edge at bottom dead \
             centre, 55.50 mm below the deck: the port would never open. Check the edge, the stroke and the deck \
             clearance.",
        ),
        (
            refusal(|e| e.ports[1].floor = roof(EdgeDatum::BelowDeck, mm(40.0))),
            "The roof of port \"main transfer\" at 42.57 mm below the deck is not above its floor at 40.00 mm: check \
             both edges and what each was measured from.",
        ),
        (
            refusal(|e| e.valve.closed_drop = mm(30.0)),
            "With the valve edge 59.52 mm below the deck no exhaust port opens: check how far the closed valve lies \
             below the port roof.",
        ),
        (
            refusal(|e| e.valve.covers = vec!["mane exhaust".to_owned()]),
            "The valve is said to cover port \"mane exhaust\", which is not among the ports: use the name of a port of \
             this engine.",
        ),
        (
            refusal(|e| {
                e.ports.remove(0);
                e.valve.covers.clear();
            }),
            "The engine has no exhaust port: give at least one port of the group exhaust-main.",
        ),
        (
            refusal(|e| e.ports[0].count = 0),
            "Port \"main exhaust\" is said to be there 0 times: give its count, 1 or more.",
        ),
    ];
    for (ours, expected) in cases {
        assert_eq!(ours, expected);
    }
}

#[test]
fn refuses_misfitting_inlets() {
    let text = |floor_mm: f64, skirt: Option<Measured>| {
        let mut engine = engine();
        engine.ports.push(inlet(floor_mm));
        engine.crank.skirt_length = skirt;
        report(&engine, 0.0).unwrap_err().to_string()
    };
    assert!(text(72.0, None).contains("give the skirt length"));
    assert!(text(72.0, Some(mm(75.0))).contains("would never open"));
    assert!(text(110.0, Some(mm(50.0))).contains("would never close"));
}

#[test]
fn refuses_figures_that_are_no_numbers() {
    // Every figure of the engine in turn is spoilt: an error or an answer, never a panic.
    let mut keys = Vec::new();
    engine().for_each_figure(&mut |key, _| keys.push(key.to_owned()));
    for spoilt in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 0.0, 1e300] {
        for key in &keys {
            let mut engine = engine();
            engine.ports.push(inlet(72.0));
            engine.for_each_figure(&mut |here, figure| {
                if here == key {
                    figure.value = spoilt;
                }
            });
            for lift_m in [0.0, 3e-3, 6e-3] {
                let (light, whole) = (timing(&engine, lift_m), report(&engine, lift_m));
                if let Ok(whole) = whole {
                    assert!(whole.exhaust.angle_area.m2_rad.is_finite(), "{key} {spoilt}");
                    assert!(whole.trapped_ratio.is_finite(), "{key} {spoilt}");
                    assert!(light.is_ok(), "{key} {spoilt}");
                }
            }
        }
    }
    for lift_m in [f64::NAN, f64::INFINITY] {
        assert!(timing(&engine(), lift_m).is_err());
        assert!(report(&engine(), lift_m).is_err());
    }
}

proptest! {
    #[test]
    fn agrees_with_the_report(lift_m in -1e-3f64..8e-3, offset_mm in -3f64..3.0) {
        let mut engine = engine();
        engine.crank.pin_offset = mm(offset_mm);
        let (light, whole) = (timing(&engine, lift_m).unwrap(), report(&engine, lift_m).unwrap());
        prop_assert_eq!(light.exhaust, whole.exhaust.opening);
        prop_assert_eq!(light.transfer, whole.transfer.map(|group| group.opening));
        prop_assert_eq!(light.blowdown_rad, whole.blowdown.map(|b| b.angle_rad));
        prop_assert!((light.effective_stroke_m - whole.effective_stroke_m).abs() < 1e-15);
        prop_assert_eq!(exhaust_angles(&engine, lift_m).unwrap(), light.exhaust);
    }

    #[test]
    fn round_trips_edge_written_in_any_datum(datum in 0usize..5, offset_mm in -3f64..3.0) {
        let datum = [
            EdgeDatum::BelowDeck, EdgeDatum::AboveCrownAtBdc, EdgeDatum::AfterTdc, EdgeDatum::BeforeBdc,
            EdgeDatum::Duration,
        ][datum];
        let mut engine = engine();
        engine.crank.pin_offset = mm(offset_mm);
        let before = timing(&engine, 2e-3).unwrap();
        let path = CrownPath::of(&engine.crank).unwrap();
        let depth_m = path.edge_depth_m("x", Edge::Roof, &engine.ports[0].roof).unwrap();
        let at = Measured::exact(path.as_given_from(datum, depth_m).unwrap(), Dimension::Length);
        engine.ports[0].roof = PortEdge { datum, at };
        let after = timing(&engine, 2e-3).unwrap();
        prop_assert!((after.exhaust.opens_rad - before.exhaust.opens_rad).abs() < 1e-12);
    }
}
