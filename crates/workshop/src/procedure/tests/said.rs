//! What is said of the demo engine, and the pictures.

use super::demo;
use crate::procedure::{Comparison, Procedures, Scope};
use quantity::Units;

fn comparison(scope: Scope) -> Comparison {
    Comparison::of(&demo(), &Procedures::built_in(), scope, 0..2_000, 1)
}

#[test]
fn practice_the_demo_says_who_over_travels_and_who_strains_the_cable_and_why() {
    for scope in [Scope::LikeEngines, Scope::ThisEngine] {
        let said = comparison(scope).statements(Units::Metric);
        let find = |part: &str| {
            said.iter().find(|line| line.contains(part)).unwrap_or_else(|| panic!("{part} in {said:#?}"))
        };
        let over = find("over-travels most");
        assert!(
            over.starts_with("\"Seat at the end\"") && over.contains("mechanical end lies 19."),
            "{over}"
        );
        assert!(find("strains the cable most").starts_with("\"Seat at the end\""));
        assert!(find("meets every demand most often").starts_with("\"Read at the port, under load\""));
        find("agree within the band");
    }
}

#[test]
fn practice_every_verdict_has_figures_and_ends_as_a_sentence() {
    let comparison = comparison(Scope::LikeEngines);
    for entry in &comparison.entries {
        let verdict = comparison.verdict(entry, Units::Metric);
        for line in verdict.reasons.iter().chain([&verdict.headline]) {
            assert!(line.ends_with('.') && !line.contains("NaN") && !line.contains("  "), "{line}");
        }
        assert!(verdict.headline.contains(" mm "), "{}", verdict.headline);
        let missed = entry.summary.all_demands < 0.9;
        assert!(!missed || !verdict.reasons.is_empty(), "{} misses demands and nothing is said", verdict.key);
    }
}

#[test]
fn exact_the_edge_scene_draws_one_hill_for_each_procedure() {
    let comparison = comparison(Scope::LikeEngines);
    let scene = comparison.edge_scene(Units::Metric);
    let hills = scene
        .items
        .iter()
        .filter(|item| matches!(item, drawing::Item::Area { style: drawing::Style::Uncertainty, .. }))
        .count();
    assert_eq!(hills, 13);
    let svg = drawing::to_svg(&scene, drawing::Theme::Page);
    roxmltree::Document::parse(&svg).unwrap();
    for entry in &comparison.entries {
        let scene = entry.median_scene(Units::Metric).unwrap();
        roxmltree::Document::parse(&drawing::to_svg(&scene, drawing::Theme::Paper)).unwrap();
    }
}

#[test]
fn exact_the_median_draw_has_the_median_edge() {
    let comparison = comparison(Scope::LikeEngines);
    for entry in &comparison.entries {
        let full = entry.run.at(entry.summary.median_draw.unwrap(), 1.0).unwrap();
        let edge_m = full.case.law.lift_m(full.state.valve_travel_rad) - full.case.drop_m;
        let edge = entry.summary.quantiles(crate::procedure::Measure::EdgeAtFull).unwrap();
        assert_eq!(edge_m, edge.median, "{}", entry.key());
    }
}

#[test]
fn round_trips_what_is_told_through_json() {
    let comparison = comparison(Scope::LikeEngines);
    let told = comparison.told(Units::Metric);
    assert_eq!(told.procedures.len(), 13);
    let json = serde_json::to_value(&told).unwrap();
    assert_eq!(json["draws"], 2_000);
    for (place, procedure) in told.procedures.iter().enumerate() {
        let written = &json["procedures"][place];
        assert_eq!(written["key"], procedure.key.as_str());
        assert_eq!(
            written["measures"]["edge-at-full"]["median"].as_f64(),
            procedure.measures["edge-at-full"].map(|q| q.median)
        );
        assert!(!procedure.steps.is_empty() && !procedure.drivers.is_empty());
    }
}

#[test]
fn practice_a_drawing_moves_with_its_servo() {
    let comparison = comparison(Scope::LikeEngines);
    let entry = &comparison.entries[0];
    let lift_m = |share: f64| {
        let posed = entry.run.at(entry.summary.median_draw.unwrap(), share).unwrap();
        posed.case.law.lift_m(posed.state.valve_travel_rad)
    };
    assert_eq!(lift_m(0.0), 0.0);
    assert!(lift_m(0.5) > 0.0 && lift_m(0.5) < lift_m(1.0));
    assert_ne!(entry.median_scene_at(0.5, Units::Metric), entry.median_scene(Units::Metric));
}
