use super::valve_body::ValveBody;
use super::*;
use drawing::{Item, Scene, Theme, polygon_area, text_width_mm, to_svg};
use engine::file::{DEMO, read};
use engine::model::{Engine, PortGroup};
use engine::ports::{OutlineShape, PortOutline};
use engine::valve_law::ValveLaw;
use proptest::prelude::*;

fn demo() -> Engine {
    read(DEMO.as_bytes()).unwrap_or_else(|problems| panic!("{problems:?}")).engine
}

fn pose(engine: &Engine, part: f64) -> GearPose {
    let valve_travel_rad = 1.1 * part;
    GearPose {
        servo_travel_rad: engine.servo.travel.value * part,
        valve_travel_rad,
        flush_travel_rad: Some(1.1),
        lift_m: ValveLaw::of(&engine.valve).lift_m(valve_travel_rad),
        opening_slack_m: 0.8e-3 * (1.0 - part),
        closing_slack_m: 1.2e-3,
        opening_gap_m: 10.0e-3,
        closing_gap_m: 14.0e-3,
        spring_length_m: Some(0.018),
    }
}

/// Exhaust port of 40 mm along the wall, roof 28 mm and floor 54 mm below the deck, with two transfers.
fn shapes() -> Vec<PortShape> {
    let shape = |group, width_m, roof_depth_m, covered| PortShape {
        group,
        centre_m: 0.0,
        width_m,
        roof_depth_m,
        floor_depth_m: 0.054,
        roof_radius_m: 0.005,
        floor_radius_m: 0.006,
        roof_tilt_rad: 0.0,
        covered,
    };
    let mut shapes = vec![
        shape(PortGroup::ExhaustMain, 0.040, 0.028, true),
        shape(PortGroup::Transfer, 0.024, 0.041, false),
        shape(PortGroup::Transfer, 0.024, 0.041, false),
    ];
    PortShape::spread(&mut shapes);
    shapes
}

fn port_view<'a>(
    engine: &'a Engine,
    shapes: &'a [PortShape],
    lift_m: f64,
    crown_depth_m: f64,
) -> PortView<'a> {
    PortView {
        ports: shapes,
        valve: &engine.valve,
        valve_travel_rad: 0.5,
        lift_m,
        flush_tolerance_m: 1e-4,
        crown_depth_m,
        crank_rad: 2.0,
        opens_rad: Some(1.5),
        duration_rad: Some(3.2),
        units: Units::Metric,
    }
}

/// Every item with those in groups.
fn flat(items: &[Item]) -> Vec<&Item> {
    items
        .iter()
        .flat_map(|item| if let Item::Group(g) = item { flat(&g.items) } else { vec![item] })
        .collect()
}

fn texts(scene: &Scene) -> Vec<&Text> {
    flat(&scene.items)
        .into_iter()
        .filter_map(|i| if let Item::Text(t) = i { Some(t) } else { None })
        .collect()
}

fn areas(scene: &Scene, style: Style) -> Vec<Vec<Point>> {
    flat(&scene.items)
        .into_iter()
        .filter_map(|i| match i {
            Item::Area { path, style: s } if *s == style => path.polygons(0.01).into_iter().next(),
            _ => None,
        })
        .filter(|polygon| polygon.len() > 2)
        .collect()
}

fn lines(scene: &Scene, style: Style) -> Vec<(Point, Point)> {
    flat(&scene.items)
        .into_iter()
        .filter_map(|i| match i {
            Item::Line { from, to, style: s } if *s == style => Some((*from, *to)),
            _ => None,
        })
        .collect()
}

/// All texts on the sheet and none over another.
fn check_texts(scene: &Scene) {
    let boxes: Vec<_> = texts(scene)
        .into_iter()
        .map(|t| {
            assert!(t.size >= 2.6, "{} is {} mm high", t.text, t.size);
            let width = text_width_mm(&t.text, t.size);
            let left = match t.anchor {
                Anchor::Start => t.at.x,
                Anchor::Middle => t.at.x - width / 2.0,
                Anchor::End => t.at.x - width,
            };
            (left, left + width, t.at.y - 0.72 * t.size, t.at.y, &t.text)
        })
        .collect();
    for (i, a) in boxes.iter().enumerate() {
        assert!(a.0 > -0.5 && a.1 < scene.width_mm + 0.5, "{} leaves the sheet: {} to {}", a.4, a.0, a.1);
        assert!(a.2 > -0.5 && a.3 < scene.height_mm + 0.5, "{} leaves the sheet", a.4);
        for b in &boxes[i + 1..] {
            assert!(a.1 < b.0 || b.1 < a.0 || a.3 < b.2 || b.3 < a.2, "'{}' stands on '{}'", a.4, b.4);
        }
    }
}

fn check_svg(scene: &Scene) {
    for theme in [Theme::Page, Theme::Paper] {
        let svg = to_svg(scene, theme);
        let doc = roxmltree::Document::parse(&svg).unwrap();
        assert!(!svg.contains("NaN") && !svg.contains("inf\"") && !svg.contains("\"inf"));
        let root = doc.root_element();
        assert_eq!(root.attribute("role"), Some("img"));
        assert!(
            root.children().any(|c| c.has_tag_name("title"))
                && root.children().any(|c| c.has_tag_name("desc"))
        );
    }
}

#[test]
fn practice_texts_of_the_gear_can_be_read_everywhere_in_its_travel() {
    for clockwise in [true, false] {
        for units in [Units::Metric, Units::Inch] {
            let mut engine = demo();
            engine.gear.opens_clockwise = clockwise;
            for part in [0.0, 0.25, 0.5, 1.0] {
                let scene = valve_gear(&engine, &pose(&engine, part), units);
                check_texts(&scene);
                check_svg(&scene);
            }
        }
    }
}

#[test]
fn practice_the_drawing_names_cables_and_says_from_where_it_is_seen() {
    let engine = demo();
    let scene = valve_gear(&engine, &pose(&engine, 0.0), Units::Metric);
    let all: Vec<&str> = texts(&scene).iter().map(|t| t.text.as_str()).collect();
    assert!(all.contains(&"opening cable") && all.contains(&"closing cable"));
    assert!(all.contains(&"slack 0.80 mm") && all.contains(&"slack 1.20 mm"));
    let words = all.join(" ");
    for word in engine.gear.seen_from.split_whitespace() {
        assert!(words.contains(word), "{word} is missing");
    }
}

#[test]
fn practice_a_closing_wire_on_its_spring_is_not_called_taut_before_the_coils_touch() {
    let engine = demo();
    let state = |spring_mm: f64| {
        let slack = GearPose { closing_slack_m: 0.0, opening_slack_m: 1e-3, ..pose(&engine, 0.0) };
        let scene =
            valve_gear(&engine, &GearPose { spring_length_m: Some(spring_mm / 1e3), ..slack }, Units::Metric);
        texts(&scene).iter().any(|t| t.text.starts_with("taut"))
    };
    assert!(!state(15.0));
    assert!(state(12.0), "12 mm is the demo's solid length");
}

#[test]
fn exact_only_moving_parts_move() {
    let engine = demo();
    let still = |part: f64| -> Vec<Item> {
        let mut pose = pose(&engine, part);
        pose.spring_length_m = Some(0.018);
        let scene = valve_gear(&engine, &pose, Units::Metric);
        let items = scene.items.into_iter();
        items.filter(|i| matches!(i, Item::Rect { .. } | Item::Group(_)) && !moving(i)).collect()
    };
    assert!(!still(0.0).is_empty());
    assert_eq!(still(0.0), still(1.0));
}

fn moving(item: &Item) -> bool {
    let Item::Group(g) = item else { return false };
    ["valve-body", "valve-pulley", "servo", "arm"].iter().any(|c| g.class.as_deref() == Some(c))
}

#[test]
fn exact_opening_turns_as_the_arrow_says() {
    for (clockwise, sign) in [(true, 1.0), (false, -1.0)] {
        let mut engine = demo();
        engine.gear.opens_clockwise = clockwise;
        // The witness mark is the first heavy line; its direction from the shaft turns with the pulley.
        let mark = |part: f64| {
            let scene = valve_gear(&engine, &pose(&engine, part), Units::Metric);
            let (from, to) = lines(&scene, Style::Mark)[0];
            (to.y - from.y).atan2(to.x - from.x)
        };
        let whole = std::f64::consts::TAU;
        // Within half a turn either way.
        let turned = (mark(0.5) - mark(0.25) + whole / 2.0).rem_euclid(whole) - whole / 2.0;
        assert!((turned - sign * 1.1 * 0.25).abs() < 1e-9, "{turned}");
    }
}

#[test]
fn exact_valve_edge_rises_by_the_lift_to_scale() {
    let engine = demo();
    let drop_mm = 1e3 * engine.valve.closed_drop.value;
    let shapes = shapes();
    let edge_below_flush = |lift_m: f64| {
        let scene = port(&port_view(&engine, &shapes, lift_m, 0.05));
        let valve = &areas(&scene, Style::Valve);
        // The last valve area is the section; its lowest point is the edge.
        let low = valve[valve.len() - 1].iter().map(|p| p.y).fold(f64::MIN, f64::max);
        let flush = lines(&scene, Style::Target)[0].0.y;
        let deck = 7.0;
        (low - flush) / (flush - deck) * 28.0
    };
    for lift_mm in [0.0, 1.0, 2.5] {
        let below = edge_below_flush(lift_mm / 1e3);
        assert!((below - (drop_mm - lift_mm)).abs() < 1e-6, "{lift_mm}: {below}");
    }
}

/// The open part drawn is the open area that is computed.
#[test]
fn agrees_open_area_with_that_of_the_port_outline() {
    let engine = demo();
    let shapes = shapes();
    let outline = PortOutline::new(
        "exhaust",
        OutlineShape {
            roof_depth_m: 0.028,
            floor_depth_m: 0.054,
            width_m: 0.040,
            roof_radius_m: 0.005,
            floor_radius_m: 0.006,
            roof_tilt_rad: 0.0,
            duct_angle_rad: 0.0,
        },
    )
    .unwrap();
    let drop = engine.valve.closed_drop.value;
    for (lift_m, crown_m) in [(0.0, 0.045), (0.5 * drop, 0.04), (drop, 0.0541), (drop + 1e-3, 0.036)] {
        let scene = port(&port_view(&engine, &shapes, lift_m, crown_m));
        let flush = lines(&scene, Style::Target)[0].0.y;
        let scale = (flush - 7.0) / 28.0;
        let drawn = polygon_area(&areas(&scene, Style::OpenArea)[0]) / (scale * scale);
        let exact = 1e6 * outline.open_area_m2(crown_m, 0.028 + drop - lift_m);
        // Arcs are drawn as chords: the area lost is less than their sag times the length of all arcs.
        let lost = super::port_shape::SAG_MM * std::f64::consts::PI * (5.0 + 6.0);
        assert!((drawn - exact).abs() < lost, "lift {lift_m}, crown {crown_m}: {drawn} against {exact}");
    }
}

#[test]
fn practice_texts_of_the_port_can_be_read_at_every_crank_angle() {
    let engine = demo();
    let shapes = shapes();
    for crown_mm in [0.5, 8.0, 16.0, 27.0, 33.0, 45.0, 55.0] {
        for lift_mm in [0.0, 2.0, 5.5] {
            let scene = port(&port_view(&engine, &shapes, lift_mm / 1e3, crown_mm / 1e3));
            check_texts(&scene);
            check_svg(&scene);
        }
    }
}

#[test]
fn exact_flap_edge_follows_its_law() {
    use engine::model::ValveKind;
    use quantity::Measured;
    let length = |v| Measured::exact(v, Dimension::Length);
    let start = Measured::exact(-0.3, Dimension::Angle);
    let ratio = Measured::exact(0.8, Dimension::Number);
    let flap = ValveKind::Flap { radius: length(0.03), start: start.clone(), ratio: ratio.clone() };
    let drum = ValveKind::Drum { radius: length(0.03), start, ratio };
    for kind in [flap, drum] {
        for travel in [0.0f64, 0.4, 0.9] {
            let lift_mm = 30.0 * ((0.8 * travel - 0.3).sin() - (-0.3f64).sin());
            let body = ValveBody::of(&kind, travel, lift_mm, 20.0);
            assert!((body.edge.y + lift_mm).abs() < 1e-9, "{travel}: {:?}", body.edge);
        }
    }
}

/// Angle through which the arrow of a turn goes round the adjuster, clockwise positive, rad.
fn wound(scene: &Scene) -> f64 {
    let points = scene
        .items
        .iter()
        .find_map(|i| if let Item::Polyline { points, .. } = i { Some(points) } else { None });
    let angle = |p: &Point| (p.y - 20.0).atan2(p.x - 20.0);
    let steps = points.unwrap().windows(2).map(|w| angle(&w[1]) - angle(&w[0]));
    let whole = std::f64::consts::TAU;
    steps.map(|step| (step + whole / 2.0).rem_euclid(whole) - whole / 2.0).sum()
}

#[test]
fn exact_adjuster_arrow_goes_the_way_of_the_words() {
    let reading = read(DEMO.as_bytes()).unwrap_or_else(|problems| panic!("{problems:?}"));
    let answer = crate::answer(&reading, Units::Metric);
    let turns: Vec<_> = answer.report.steps.iter().filter_map(|step| step.turn.clone()).collect();
    assert!(!turns.is_empty());
    for mut turn in turns {
        for (flats, clockwise) in [(2.0, true), (2.0, false), (9.2, true), (9.2, false)] {
            (turn.flats, turn.clockwise) = (flats, clockwise);
            let scene = adjuster_turn(&turn);
            check_texts(&scene);
            check_svg(&scene);
            let wanted = flats / 6.0 * std::f64::consts::TAU * if clockwise { 1.0 } else { -1.0 };
            // The straight arrow head, 2 mm of a radius of at least 11.5 mm, ends the turn.
            assert!((wound(&scene) - wanted).abs() < 2.0 / 11.5, "{} against {wanted}", wound(&scene));
        }
    }
}

fn ends() -> EndPicture {
    let reading = |value_m, band_m| Reading { value_m, band_m };
    EndPicture {
        open: EndError {
            low_m: -1e-4,
            high_m: 1e-4,
            found: Some(reading(4e-4, 6e-5)),
            proposed: Some(reading(0.0, 5e-5)),
            earlier_rad_per_m: 40.0,
        },
        closed: EndError {
            low_m: 0.0,
            high_m: 1e-4,
            found: None,
            proposed: Some(reading(-2e-5, 3e-5)),
            earlier_rad_per_m: 45.0,
        },
        units: Units::Metric,
    }
}

#[test]
fn exact_errors_stand_on_one_scale() {
    let scene = error_ends(&ends());
    check_texts(&scene);
    check_svg(&scene);
    let zero = lines(&scene, Style::Target)[0].0.x;
    let circles: Vec<f64> = scene
        .items
        .iter()
        .filter_map(|i| if let Item::Circle { centre, .. } = i { Some(centre.x) } else { None })
        .collect();
    let bands: Vec<(f64, f64)> = scene
        .items
        .iter()
        .filter_map(|i| match i {
            Item::Rect { corner, width, style: Style::LimitBand, .. } => Some((corner.x, corner.x + width)),
            _ => None,
        })
        .collect();
    let per_mm = (bands[0].1 - zero) / 0.1;
    assert!((circles[0] - zero - 0.4 * per_mm).abs() < 1e-9, "as found stands four limits above flush");
    assert!((circles[1] - zero).abs() < 1e-9);
    assert!((bands[1].0 - zero).abs() < 1e-9 && circles[2] < zero, "below closed is left of zero");
}

#[test]
fn practice_texts_of_the_curves_stay_on_the_sheet() {
    let rising: Vec<(f64, f64)> = (0..=60).map(|i| (f64::from(i) * 0.02, f64::from(i) * 8e-5)).collect();
    let falling: Vec<(f64, f64)> = rising.iter().map(|p| (p.0, p.1 + 2e-4)).collect();
    for units in [Units::Metric, Units::Inch] {
        let scene = travel_curve(&TravelCurves {
            proposed_rising: &rising,
            proposed_falling: &falling,
            found_rising: &[],
            found_falling: &[],
            full_travel_rad: 1.2,
            flush_m: 4.5e-3,
            flush_tolerance_m: 1e-4,
            now: Some((0.6, 2.4e-3)),
            units,
        });
        check_texts(&scene);
        check_svg(&scene);
    }
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => -0.1..0.1f64,
        1 => any::<f64>(),
        1 => prop::sample::select(vec![f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, 1e9, -1e9]),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn refuses_no_number(n in prop::array::uniform16(any_number())) {
        let mut engine = demo();
        for (m, v) in [
            (&mut engine.servo.travel, n[9]),
            (&mut engine.gear.opening.valve_radius, n[10]),
            (&mut engine.gear.closing.servo_radius, n[11]),
            (&mut engine.valve.closed_drop, n[12]),
        ] {
            m.value = v;
        }
        let pose = GearPose {
            servo_travel_rad: n[0],
            valve_travel_rad: n[1],
            flush_travel_rad: Some(n[2]),
            lift_m: n[3],
            opening_slack_m: n[4],
            closing_slack_m: n[5],
            opening_gap_m: n[6],
            closing_gap_m: n[7],
            spring_length_m: Some(n[8]),
        };
        check_svg(&valve_gear(&engine, &pose, Units::Metric));
        let mut shapes = shapes();
        shapes[0].roof_depth_m = n[13];
        shapes[0].width_m = n[14];
        shapes[1].roof_tilt_rad = n[15];
        PortShape::spread(&mut shapes);
        check_svg(&port(&port_view(&engine, &shapes, n[3], n[4])));
        let mut ends = ends();
        ends.open.found = Some(Reading { value_m: n[0], band_m: n[1] });
        ends.open.low_m = n[2];
        ends.closed.earlier_rad_per_m = n[3];
        check_svg(&error_ends(&ends));
        let points = [(n[0], n[1]), (n[2], n[3]), (n[4], n[5])];
        check_svg(&travel_curve(&TravelCurves {
            proposed_rising: &points,
            proposed_falling: &[],
            found_rising: &points,
            found_falling: &points,
            full_travel_rad: n[6],
            flush_m: n[7],
            flush_tolerance_m: n[8],
            now: Some((n[9], n[10])),
            units: Units::Inch,
        }));
        check_svg(&port_area(&PortAreas {
            exhaust_closed: &points,
            exhaust_flush: &[],
            exhaust_now: &points,
            transfers: &points,
            crank_rad: Some(n[11]),
            units: Units::Metric,
        }));
    }
}
