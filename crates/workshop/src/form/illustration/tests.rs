use super::*;
use crate::form::Step;
use drawing::{Anchor, Item, Scene, Style, Theme, text_width_mm, to_svg};
use engine::file::DEMO;
use engine::file::fields::fields_of;
use engine::file::spec::spec;
use proptest::prelude::*;
use std::collections::BTreeSet;

type Fields = BTreeMap<String, String>;

fn demo() -> Fields {
    fields_of(DEMO).unwrap()
}

/// The demo with each kind of valve, and nothing at all.
fn all_kinds() -> [Fields; 4] {
    let of = |kind: &str| {
        let mut fields = demo();
        fields.insert("valve.kind".into(), kind.into());
        fields
    };
    [demo(), Fields::new(), of("flap"), of("drum")]
}

fn keys() -> Vec<String> {
    let sections = spec().sections.iter();
    sections
        .flat_map(|section| {
            let place = section.repeated.then_some(1);
            section.keys.iter().map(move |key| Field { section, place, key, source: false }.to_string())
        })
        .collect()
}

/// Every text of a scene: text, left and right end, baseline, height of letters.
fn texts(items: &[Item]) -> Vec<(String, f64, f64, f64, f64)> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Text(text) => {
                // The width is an estimate on the wide side.
                let width = 0.94 * text_width_mm(&text.text, text.size);
                let left = match text.anchor {
                    Anchor::Start => text.at.x,
                    Anchor::Middle => text.at.x - width / 2.0,
                    Anchor::End => text.at.x - width,
                };
                all.push((text.text.clone(), left, left + width, text.at.y, text.size));
            }
            Item::Group(group) => all.extend(texts(&group.items)),
            _ => {}
        }
    }
    all
}

fn check(key: &str, scene: &Scene) {
    assert_eq!(scene.width_mm, 100.0);
    assert!(!scene.title.is_empty() && scene.description.ends_with('.'), "{key}");
    for (text, left, right, y, size) in texts(&scene.items) {
        assert!(!text.is_empty() && size >= 2.8, "{key}: {text}");
        assert!(left > -0.2 && right < 100.8, "{key}: '{text}' from {left:.1} to {right:.1}");
        assert!(y > 0.7 * size && y < scene.height_mm, "{key}: '{text}' at {y:.1} of {}", scene.height_mm);
    }
}

#[test]
fn exact_every_text_is_on_its_sheet_and_large_enough_to_read() {
    for fields in all_kinds() {
        for units in [Units::Metric, Units::Inch] {
            for key in keys() {
                if let Some(scene) = illustration_for(&key, &fields, units) {
                    check(&key, &scene);
                }
            }
        }
    }
}

#[test]
fn exact_texts_of_one_drawing_do_not_cover_each_other() {
    let mut covered = BTreeSet::new();
    for fields in all_kinds() {
        for key in keys() {
            let Some(scene) = illustration_for(&key, &fields, Units::Metric) else { continue };
            let all = texts(&scene.items);
            for (i, a) in all.iter().enumerate() {
                for b in &all[i + 1..] {
                    let apart = a.2 < b.1 + 0.3 || b.2 < a.1 + 0.3 || (a.3 - b.3).abs() > 2.6;
                    if !apart {
                        covered.insert(format!("{key}: '{}' and '{}'", a.0, b.0));
                    }
                }
            }
        }
    }
    assert_eq!(covered, BTreeSet::new());
}

/// Sections whose lengths and angles have a drawing: limits are no measurements, and the gas's way has none yet.
fn drawn(section: &&engine::file::spec::Section) -> bool {
    let gas = Step::Ducts.sections().contains(&section.path);
    !gas && !matches!(section.path, "limits" | "schedule")
}

#[test]
fn exact_every_measured_length_and_angle_of_the_valve_gear_has_a_drawing() {
    use engine::file::spec::Kind;
    use quantity::Dimension::{Angle, Length};
    for section in spec().sections.iter().filter(drawn) {
        for key in section.keys {
            let Kind::Figure(figure) = key.holds else { continue };
            let place = section.repeated.then_some(1);
            let name = Field { section, place, key, source: false }.to_string();
            if matches!(figure.dimension, Length | Angle) {
                assert!(Illustration::of(&name).is_some(), "{name}");
            }
        }
    }
}

#[test]
fn exact_the_asked_figure_is_written_or_asked_for() {
    let said = |fields: &Fields, key: &str| {
        let scene = illustration_for(key, fields, Units::Metric).unwrap();
        texts(&scene.items).into_iter().map(|text| text.0).collect::<BTreeSet<_>>()
    };
    assert!(said(&demo(), "crank.bore").contains("bore 54 mm"));
    assert!(said(&Fields::new(), "crank.bore").contains("bore = ?"));
    assert!(said(&demo(), "port.1.roof_below_deck").contains("roof 29.02 mm"));
    assert!(said(&demo(), "port.2.width").contains("chord 24 mm"));
    assert!(said(&demo(), "found.opening_gap").contains("gap 12 mm"));
    assert!(said(&demo(), "returns.opening_gap").contains("gap = ?"));
    assert!(said(&demo(), "gates.proud_open").contains("valve fully open −0.7 mm"));
}

#[test]
fn exact_directions_follow_the_gear() {
    let sweep = |opens: &str| {
        let mut fields = demo();
        fields.insert("gear.opens".into(), opens.into());
        let scene = illustration(Illustration::OpeningDirection, &fields, None, Units::Metric);
        scene.items.iter().find_map(|item| match item {
            Item::Turn(turn) if turn.style == Style::Label => Some(turn.sweep_rad),
            _ => None,
        })
    };
    assert!(sweep("clockwise").unwrap() > 0.0);
    assert!(sweep("anticlockwise").unwrap() < 0.0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn refuses_no_text_and_draws_closed_svg(
        text in prop_oneof![any::<String>(), (-500.0..500.0f64).prop_map(|x| format!("{x} mm")), (-500.0..500.0f64).prop_map(|x| format!("{x}°"))],
    ) {
        let fields: Fields = keys().into_iter().map(|key| (key, text.clone())).collect();
        for key in keys() {
            if let Some(scene) = illustration_for(&key, &fields, Units::Metric) {
                let svg = to_svg(&scene, Theme::Paper);
                prop_assert!(roxmltree::Document::parse(&svg).is_ok(), "{}", key);
            }
        }
    }
}
