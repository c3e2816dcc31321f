use super::*;
use crate::scene::{Arrow, Draw, Hatch, Transform, Turn};
use crate::{Dimension, DimensionLabel, at};
use proptest::prelude::*;

/// One of everything, from eight numbers.
fn everything(n: &[f64; 8]) -> Scene {
    let style = Style::Valve;
    let (p, q) = (at(n[0], n[1]), at(n[2], n[3]));
    let mut scene = Scene::new(n[4], n[5], "A <title> & \"more\"", "It's a \u{1} test");
    scene.data.push(("plot".into(), "{\"a\":\"it's <b>\"}".into()));
    scene.line(p, q, style);
    scene.polyline(vec![p, q, at(n[6], n[7]), p], Style::WireClosing);
    let path = Path::rounded(&[(p, n[4]), (q, n[5]), (at(n[6], n[7]), n[0])]);
    scene.area(path.clone(), style);
    scene.trace(Path::from(p).arc_to(q, n[6], true).long_arc_to(p, n[7], false), style);
    scene.cut_metal(path.clone(), n[3]);
    scene.items.push(Item::Hatch(Hatch { path, spacing: n[2], angle_rad: n[1], style }));
    scene.circle(p, n[2], style);
    scene.dot(p, n[3], style);
    scene.items.push(Item::Arc { centre: p, radius: n[2], start_rad: n[3], sweep_rad: n[4], style });
    scene.rect(p, n[2], n[3], n[4], style);
    scene.text(Text::new(p, "a < b & c", n[5], style).turned(n[6]).halo().strong());
    scene.arrow(p, q, style);
    scene.items.push(Item::Arrow(Arrow { from: q, to: q, style }));
    scene.items.push(Item::Turn(Turn { centre: p, radius: n[7], start_rad: n[0], sweep_rad: n[1], style }));
    let label = DimensionLabel::Auto;
    scene.items.push(Item::Dimension(Dimension {
        from: p,
        to: q,
        offset: n[4],
        text: "1".into(),
        size: 3.0,
        label,
        style,
    }));
    let mut group = Group { id: Some("x\"y".into()), ..Group::with_class("moves") };
    group.transform = Some(Transform { shift: p, turn_rad: n[6] });
    group.line(p, q, style);
    scene.group(group);
    scene
}

const PLAIN: [f64; 8] = [10.0, 20.0, 30.0, 25.0, 100.0, 75.0, 15.0, 40.0];

#[test]
fn exact_numbers_have_three_decimals_at_most() {
    assert_eq!(number(1.0), "1");
    assert_eq!(number(-0.0001), "0");
    assert_eq!(number(12.34567), "12.346");
    assert_eq!(number(100.0), "100");
    assert_eq!(number(-2.50), "-2.5");
}

#[test]
fn exact_document_is_well_formed_and_says_what_it_is() {
    for theme in [Theme::Page, Theme::Paper] {
        let svg = to_svg(&everything(&PLAIN), theme);
        let doc = roxmltree::Document::parse(&svg).unwrap();
        let root = doc.root_element();
        assert_eq!(root.attribute("viewBox"), Some("0 0 100 75"));
        assert_eq!(root.attribute("role"), Some("img"));
        assert_eq!(root.attribute("data-plot"), Some("{\"a\":\"it's <b>\"}"));
        let child = |name: &str| {
            root.children().find(|c| c.has_tag_name(name)).and_then(|c| c.text().map(str::to_owned))
        };
        assert_eq!(child("title").as_deref(), Some("A <title> & \"more\""));
        assert!(child("desc").unwrap().starts_with("It's a"));
    }
}

#[test]
fn exact_paper_has_no_classes_and_page_has_no_colours() {
    let page = to_svg(&everything(&PLAIN), Theme::Page);
    assert!(!page.contains("stroke=") && !page.contains("fill=") && !page.contains("\"#"), "{page}");
    let paper = to_svg(&everything(&PLAIN), Theme::Paper);
    assert!(!paper.contains("class="));
    for grey in paper.split("\"#").skip(1) {
        let hex: Vec<char> = grey.chars().take(6).collect();
        assert!(hex[..2] == hex[2..4] && hex[..2] == hex[4..6], "a colour on paper: {hex:?}");
    }
}

#[test]
fn exact_paper_dashes_tell_the_cables_apart() {
    let mut scene = Scene::new(10.0, 10.0, "t", "d");
    scene.line(at(0.0, 1.0), at(9.0, 1.0), Style::WireOpening);
    scene.line(at(0.0, 2.0), at(9.0, 2.0), Style::WireClosing);
    let svg = to_svg(&scene, Theme::Paper);
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let dashes: Vec<_> = doc
        .descendants()
        .filter(|n| n.has_tag_name("line"))
        .map(|n| n.attribute("stroke-dasharray").is_some())
        .collect();
    assert_eq!(dashes, [false, true]);
}

#[test]
fn exact_whole_circle_as_arc_has_two_pieces() {
    let mut scene = Scene::new(10.0, 10.0, "t", "d");
    let (centre, style) = (at(5.0, 5.0), Style::Outline);
    scene.items.push(Item::Arc {
        centre,
        radius: 2.0,
        start_rad: 0.0,
        sweep_rad: std::f64::consts::TAU,
        style,
    });
    let svg = to_svg(&scene, Theme::Page);
    assert!(svg.contains("M7 5A2 2 0 0 1 3 5A2 2 0 0 1 7 5"), "{svg}");
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => -200.0..200.0f64,
        1 => any::<f64>(),
        1 => prop::sample::select(vec![f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, f64::MAX, 1e-320]),
    ]
}

proptest! {
    #[test]
    fn refuses_no_number_and_stays_well_formed(n in prop::array::uniform8(any_number())) {
        for theme in [Theme::Page, Theme::Paper] {
            let svg = to_svg(&everything(&n), theme);
            prop_assert!(!svg.contains("NaN") && !svg.contains("inf"), "{}", svg);
            prop_assert!(roxmltree::Document::parse(&svg).is_ok(), "{}", svg);
        }
    }

    #[test]
    fn refuses_no_text(title in any::<String>(), text in any::<String>(), name in any::<String>()) {
        let mut scene = Scene::new(10.0, 10.0, &title, &text);
        scene.data.push((name, text.clone()));
        scene.text(Text::new(at(1.0, 1.0), &text, 3.0, Style::Label));
        for theme in [Theme::Page, Theme::Paper] {
            let svg = to_svg(&scene, theme);
            prop_assert!(roxmltree::Document::parse(&svg).is_ok(), "{}", svg);
        }
    }
}
