//! The drawing.

use super::made::Made;
use crate::sweep::{Limits, Sweep};
use drawing::{Theme, to_svg};
use quantity::Units;

fn svg(made: &Made, travel: bool, theme: Theme) -> String {
    let log = if travel { made.log() } else { made.log_without_travel() };
    to_svg(&Sweep::of(&log, &Limits::default()).scene(Units::Metric), theme)
}

#[test]
fn exact_defects_are_marked_and_named() {
    let made = Made { dead: Some((0.39, 0.41)), bulge: Some((0.05, 0.7, 0.05)), ..Made::default() };
    for theme in [Theme::Page, Theme::Paper] {
        let svg = svg(&made, true, theme);
        for name in [
            "dead spot at 40 %",
            "worn patch at 70 %",
            "travel, %",
            "output voltage, V",
            "going up",
            "coming back",
        ] {
            assert!(svg.contains(&format!(">{name}<")), "{name}");
        }
    }
    let by_time = svg(&made, false, Theme::Page);
    assert!(by_time.contains(">time, s<") && by_time.contains(">dead spot at 40 %<"));
}

#[test]
fn exact_output_and_deviation_stand_under_the_finger() {
    let svg = svg(&Made::default(), true, Theme::Page);
    let data = svg.split("data-plot='").nth(1).and_then(|d| d.split('\'').next()).unwrap();
    let data: serde_json::Value = serde_json::from_str(data).unwrap();
    let names = |part: &serde_json::Value| {
        let series = part["series"].as_array().unwrap().clone();
        series
            .iter()
            .filter_map(|s| s["name"].as_str().filter(|n| !n.is_empty()).map(str::to_owned))
            .collect::<Vec<_>>()
    };
    assert_eq!(names(&data), ["going up", "coming back"]);
    assert_eq!(names(&data["below"]), ["off, up", "off, back"]);
}

#[test]
fn exact_a_sweep_is_said_as_data() {
    let sweep = Sweep::of(&Made { dead: Some((0.39, 0.41)), ..Made::default() }.log(), &Limits::default());
    let data = serde_json::to_value(&sweep).unwrap();
    assert_eq!(data["outcome"], "open");
    assert_eq!(data["defects"][0]["kind"], "dead-spot");
    assert_eq!(data["findings"][0]["verdict"], "fail");
}
