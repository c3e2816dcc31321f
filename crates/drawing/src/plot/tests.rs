use super::*;
use crate::{Item, Theme, to_svg};
use proptest::prelude::*;

fn plot() -> Plot {
    let x = Axis::new("servo travel", "°").range(0.0, 120.0);
    let mut plot = Plot::new("t", "d", x, Axis::new("lift", "mm").range(0.0, 8.0));
    let points = (0..=120).map(|i| (f64::from(i), f64::from(i) / 15.0)).collect();
    plot.series.push(Series { name: "rising".into(), style: Style::Curve1, points });
    plot
}

fn texts(scene: &Scene) -> Vec<&Text> {
    scene.items.iter().filter_map(|i| if let Item::Text(t) = i { Some(t) } else { None }).collect()
}

#[test]
fn exact_curve_runs_from_corner_to_corner() {
    let plot = plot();
    let frame = Frame::of(&plot);
    let runs = curve::runs(&frame, &plot.series[0].points);
    assert_eq!(runs.len(), 1);
    let (a, b) = (runs[0][0], runs[0][120]);
    assert!((a.x - frame.left).abs() < 1e-9 && (a.y - frame.bottom).abs() < 1e-9);
    assert!((b.x - frame.right).abs() < 1e-9 && (b.y - frame.top).abs() < 1e-9);
}

#[test]
fn practice_every_text_stays_on_the_sheet() {
    let mut plot = plot();
    plot.x = Axis::new("engine speed", "rpm").range(0.0, 10_000.0);
    plot.y = Axis::new("a long heading of the upright axis", "mm").range(-1000.0, 1000.0);
    let scene = plot.scene();
    for text in texts(&scene) {
        let width = crate::text_width_mm(&text.text, text.size);
        let start = match text.anchor {
            crate::Anchor::Start => text.at.x,
            crate::Anchor::Middle => text.at.x - width / 2.0,
            crate::Anchor::End => text.at.x - width,
        };
        assert!(start >= -0.2 && start + width <= scene.width_mm + 0.2, "{text:?} leaves the sheet");
        assert!(text.at.y > 0.0 && text.at.y < scene.height_mm);
        assert!(text.size >= 2.6);
    }
    assert!(texts(&scene).iter().any(|t| t.text == "10000"), "the last tick has its label");
}

#[test]
fn exact_clipping_leaves_and_enters_at_the_edge() {
    let mut plot = plot();
    plot.series[0].points = vec![(0.0, -8.0), (60.0, 24.0), (120.0, -8.0)];
    let frame = Frame::of(&plot);
    let runs = curve::runs(&frame, &plot.series[0].points);
    assert_eq!(runs.len(), 2, "out over the top and back in");
    for p in runs.iter().flatten() {
        assert!(p.y >= frame.top - 1e-9 && p.y <= frame.bottom + 1e-9);
    }
    assert!((runs[0][0].x - frame.x_mm(15.0)).abs() < 1e-9);
}

#[test]
fn exact_gaps_break_the_curve() {
    let mut plot = plot();
    plot.series[0].points[50].1 = f64::NAN;
    assert_eq!(curve::runs(&Frame::of(&plot), &plot.series[0].points).len(), 2);
}

#[test]
fn exact_thinning_keeps_extremes_and_ends() {
    let mut points: Vec<(f64, f64)> = (0..20_000).map(|i| (f64::from(i), f64::from(i % 7))).collect();
    points[12_345].1 = 99.0;
    points[3_333].1 = -99.0;
    let thin = curve::thinned(&points, 600);
    assert!(thin.len() <= 1_202, "{}", thin.len());
    for kept in [points[12_345], points[3_333], points[0], points[19_999]] {
        assert!(thin.contains(&kept));
    }
    assert!(thin.windows(2).all(|w| w[0].0 < w[1].0));
    assert_eq!(curve::thinned(&points[..5_000], 600).len(), 5_000);
}

#[test]
fn practice_names_do_not_cover_curves_or_each_other() {
    let mut plot = plot();
    let points = (0..=120).map(|i| (f64::from(i), 8.0 - f64::from(i) / 15.0)).collect();
    plot.series.push(Series { name: "falling, as found".into(), style: Style::Curve2, points });
    plot.lines.push(Line { along: Along::Y, at: 6.0, label: "flush".into(), style: Style::Target });
    let scene = plot.scene();
    let boxes: Vec<(Point, Point)> = texts(&scene)
        .iter()
        .filter(|t| t.halo)
        .map(|t| {
            let half = crate::text_width_mm(&t.text, t.size) / 2.0;
            (at(t.at.x - half, t.at.y - 0.7 * t.size), at(t.at.x + half, t.at.y))
        })
        .collect();
    assert_eq!(boxes.len(), 3);
    let frame = Frame::of(&plot);
    for (i, a) in boxes.iter().enumerate() {
        for b in &boxes[i + 1..] {
            assert!(a.1.x < b.0.x || b.1.x < a.0.x || a.1.y < b.0.y || b.1.y < a.0.y, "labels overlap");
        }
        for p in plot.series.iter().flat_map(|s| curve::runs(&frame, &s.points)).flatten() {
            assert!(!(p.x > a.0.x && p.x < a.1.x && p.y > a.0.y && p.y < a.1.y), "a name covers a curve");
        }
    }
}

#[test]
fn exact_data_gives_rectangle_and_points() {
    let plot = plot();
    let frame = Frame::of(&plot);
    let svg = to_svg(&plot.scene(), Theme::Page);
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let json: serde_json::Value =
        serde_json::from_str(doc.root_element().attribute("data-plot").unwrap()).unwrap();
    assert!((json["rect"][0].as_f64().unwrap() - frame.left).abs() < 1e-3);
    assert!((json["rect"][3].as_f64().unwrap() - frame.height()).abs() < 2e-3);
    assert_eq!(json["x"]["unit"], "°");
    assert_eq!(json["series"][0]["points"].as_array().unwrap().len(), 121);
    assert_eq!(json["series"][0]["points"][120][1], 8);
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::MIN_POSITIVE),
        Just(f64::MAX),
        -100.0..100.0f64
    ]
}

proptest! {
    #[test]
    fn refuses_no_number_and_writes_none_that_is_not_finite(
        points in prop::collection::vec((any_number(), any_number()), 0..60),
        range in prop::option::of((any_number(), any_number())),
        at in any_number(), low in any_number(), high in any_number(), size in any_number(), cursor in any_number()
    ) {
        let mut plot = plot();
        plot.x.range = range;
        plot.y.range = None;
        plot.width_mm = size;
        plot.cursor = Some(cursor);
        plot.markers.push(Marker { x: at, y: low, label: "m".into(), style: Style::Now });
        plot.lines.push(Line { along: Along::Y, at, label: "l".into(), style: Style::Target });
        plot.bands.push(Band { along: Along::X, low, high, style: Style::LimitBand });
        plot.series.push(Series { name: "any".into(), style: Style::Curve2, points });
        for theme in [Theme::Page, Theme::Paper] {
            let svg = to_svg(&plot.scene(), theme);
            prop_assert!(!svg.contains("NaN") && !svg.contains("inf"), "{}", svg);
            let doc = roxmltree::Document::parse(&svg).unwrap();
            let json = doc.root_element().attribute("data-plot").unwrap();
            prop_assert!(serde_json::from_str::<serde_json::Value>(json).is_ok(), "{}", json);
        }
    }
}

#[test]
fn exact_patches_lie_under_the_grid_and_stay_inside() {
    let mut plot =
        Plot::new("map", "", Axis::new("x", "").range(0.0, 10.0), Axis::new("y", "").range(0.0, 5.0));
    plot.patches.push(Patch { x: (2.0, 40.0), y: (-3.0, 1.0), style: Style::Shade3 });
    let scene = plot.scene();
    let frame = Frame::of(&plot);
    let Some(Item::Rect { corner, width, height, style: Style::Shade3, .. }) = scene.items.first() else {
        panic!("{:?}", scene.items.first())
    };
    assert!((corner.x - frame.x_mm(2.0)).abs() < 1e-9 && (corner.y - frame.y_mm(1.0)).abs() < 1e-9);
    assert!((corner.x + width - frame.right).abs() < 1e-9 && (corner.y + height - frame.bottom).abs() < 1e-9);
}
