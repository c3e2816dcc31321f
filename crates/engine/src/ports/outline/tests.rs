use super::*;
use proptest::prelude::*;

const MM: f64 = 1e-3;
const MM2: f64 = 1e-6;

fn rounded(radius_mm: f64) -> OutlineShape {
    OutlineShape {
        roof_depth_m: 30.0 * MM,
        floor_depth_m: 50.0 * MM,
        width_m: 38.0 * MM,
        roof_radius_m: radius_mm * MM,
        floor_radius_m: radius_mm * MM,
        roof_tilt_rad: 0.0,
        duct_angle_rad: 0.0,
    }
}

fn outline(shape: OutlineShape) -> PortOutline {
    PortOutline::new("main exhaust", shape).unwrap()
}

/// Area above a depth by adding up thin strips of the outline, drawn from its lines and circles alone.
fn strips_m2(shape: &OutlineShape, depth_m: f64) -> f64 {
    let (r, q, w) = (shape.roof_radius_m, shape.floor_radius_m, shape.width_m);
    let tilt = shape.roof_tilt_rad.abs();
    let (from_m, to_m) = (shape.roof_depth_m, depth_m.min(shape.floor_depth_m));
    let columns = 40_000;
    let column_m = w / f64::from(columns);
    (0..columns)
        .map(|i| {
            let x = (f64::from(i) + 0.5) * column_m;
            // Upper end of the column: left round, tilted line tangent to it, right round.
            let line_start = r + r * tilt.sin();
            let line_end = w - r + r * tilt.sin();
            let lowering = (w - 2.0 * r) * tilt.tan();
            let top = if x < line_start {
                r - (r * r - (x - r).powi(2)).max(0.0).sqrt()
            } else if x < line_end {
                r * (1.0 - tilt.cos()) + (x - line_start) * tilt.tan()
            } else {
                lowering + r - (r * r - (x - (w - r)).powi(2)).max(0.0).sqrt()
            };
            let side = (q - x).max(x - (w - q)).max(0.0);
            let bottom = shape.floor_depth_m - (q - (q * q - side * side).max(0.0).sqrt());
            (to_m.min(bottom) - (from_m + top)).max(0.0) * column_m
        })
        .sum::<f64>()
        * shape.duct_angle_rad.cos()
}

#[test]
fn exact_area_of_a_rounded_rectangle() {
    // w·h - (4 - π)·r²: 38 x 20 mm with 4 mm corners.
    let area = outline(rounded(4.0)).area_m2();
    assert!((area / MM2 - (760.0 - (4.0 - PI) * 16.0)).abs() < 1e-9);
    assert!((area / MM2 - 746.27).abs() < 0.005);
}

#[test]
fn exact_partly_open_rounded_rectangle() {
    let port = outline(rounded(4.0));
    for (open_mm, area_mm2) in [(1.0, 33.63), (2.0, 69.83), (4.0, 145.13), (10.0, 373.13), (20.0, 746.27)] {
        let ours = port.open_area_m2((30.0 + open_mm) * MM, 0.0) / MM2;
        assert!((ours - area_mm2).abs() < 0.005, "{open_mm}: {ours}");
    }
    // The whole corner: rectangle less two corner pieces of (1 - π/4)·r².
    let ours = port.open_area_m2(34.0 * MM, 0.0) / MM2;
    assert!((ours - (38.0 * 4.0 - 2.0 * (1.0 - PI / 4.0) * 16.0)).abs() < 1e-9);
}

#[test]
fn exact_circle_when_all_corners_meet() {
    let shape = OutlineShape { floor_depth_m: 68.0 * MM, ..rounded(19.0) };
    let port = outline(shape);
    assert!((port.area_m2() / MM2 - PI * 361.0).abs() < 1e-9);
    // Half a circle, and a segment of a third of the radius: r²·(acos(2/3) - 2/3·√(1 - 4/9)).
    assert!((port.area_above_m2(49.0 * MM) / MM2 - PI * 361.0 / 2.0).abs() < 1e-9);
    let third = 2f64 / 3.0;
    let segment = 361.0 * (third.acos() - third * (1.0 - third * third).sqrt());
    assert!((port.area_above_m2((30.0 + 19.0 / 3.0) * MM) / MM2 - segment).abs() < 1e-9);
}

#[test]
fn exact_tilted_roof_without_corners_is_a_trapezium() {
    let tilt = 0.1f64;
    let port = outline(OutlineShape { roof_tilt_rad: tilt, ..rounded(0.0) });
    let lost = 0.5 * 38.0 * 38.0 * tilt.tan();
    assert!((port.area_m2() / MM2 - (760.0 - lost)).abs() < 1e-9);
    // 2 mm uncovered: a triangle.
    let triangle = 0.5 * 2.0 * 2.0 / tilt.tan();
    assert!((port.area_above_m2(32.0 * MM) / MM2 - triangle).abs() < 1e-9);
}

#[test]
fn exact_chord_and_arc() {
    for (chord_mm, arc_mm) in [(30.0, 31.81), (38.0, 42.15), (40.0, 45.05)] {
        let arc = arc_of_chord_m(chord_mm * MM, 54.0 * MM).unwrap();
        assert!((arc / MM - arc_mm).abs() < 0.005, "{chord_mm}: {arc}");
    }
    assert_eq!(arc_of_chord_m(54.1 * MM, 54.0 * MM), None);
}

#[test]
fn exact_duct_angle_scales_the_area_by_its_cosine() {
    let port = outline(OutlineShape { duct_angle_rad: PI / 6.0, ..rounded(4.0) });
    let square = outline(rounded(4.0));
    assert!((port.area_m2() - square.area_m2() * 3f64.sqrt() / 2.0).abs() < 1e-15);
}

#[test]
fn exact_valve_edge_takes_the_area_above_it() {
    let port = outline(rounded(4.0));
    let open = port.open_area_m2(46.0 * MM, 36.0 * MM);
    assert!((open / MM2 - 380.0).abs() < 1e-9);
    assert_eq!(port.open_area_m2(35.0 * MM, 36.0 * MM), 0.0);
    // An edge above the port's own roof takes nothing.
    assert_eq!(port.open_area_m2(46.0 * MM, 20.0 * MM), port.area_above_m2(46.0 * MM));
    assert!(
        (port.area_below_skirt_m2(45.0 * MM) - (port.area_m2() - port.area_above_m2(45.0 * MM))).abs()
            < 1e-18
    );
}

#[test]
fn refuses_impossible_outlines() {
    let text = |shape| PortOutline::new("main exhaust", shape).unwrap_err().to_string();
    assert_eq!(
        text(OutlineShape { floor_depth_m: 29.0 * MM, ..rounded(4.0) }),
        "The roof of port \"main exhaust\" at 30.00 mm below the deck is not above its floor at 29.00 mm: check both \
         edges and what each was measured from."
    );
    assert_eq!(
        text(OutlineShape { roof_radius_m: 20.0 * MM, ..rounded(4.0) }),
        "The roof corner radius of port \"main exhaust\", 20.00 mm, must lie between 0 mm and half the width along the \
         bore wall, 19.00 mm: check radius and width."
    );
    assert_eq!(
        text(OutlineShape { roof_radius_m: 17.0 * MM, ..rounded(4.0) }),
        "The corner radii of port \"main exhaust\", 17.00 mm and 4.00 mm, with the roof tilt need a height of \
         21.00 mm, but the port is 20.00 mm high: check radii, tilt and edges."
    );
    for shape in [
        OutlineShape { width_m: 0.0, ..rounded(0.0) },
        OutlineShape { width_m: f64::NAN, ..rounded(0.0) },
        OutlineShape { roof_tilt_rad: 1.5, ..rounded(0.0) },
        OutlineShape { duct_angle_rad: -1.6, ..rounded(0.0) },
        OutlineShape { floor_radius_m: -MM, ..rounded(0.0) },
        OutlineShape { roof_depth_m: f64::INFINITY, ..rounded(0.0) },
    ] {
        assert!(PortOutline::new("p", shape).is_err(), "{shape:?}");
    }
}

prop_compose! {
    fn shapes()(
        width_m in 0.01f64..0.045, height_m in 0.008f64..0.03, upper in 0.0f64..=1.0, lower in 0.0f64..=1.0,
        tilt in -0.25f64..0.25, duct in -1.0f64..1.0,
    ) -> OutlineShape {
        let most = (width_m / 2.0).min(height_m / 2.0) * 0.999;
        let roof_radius_m = most * upper;
        let room = height_m - roof_radius_m;
        let fits = (room * 0.5 / (width_m - 2.0 * roof_radius_m).max(1e-9)).atan();
        OutlineShape {
            roof_depth_m: 0.03,
            floor_depth_m: 0.03 + height_m,
            width_m,
            roof_radius_m,
            floor_radius_m: (most * lower).min(room * 0.499),
            roof_tilt_rad: tilt.clamp(-fits, fits),
            duct_angle_rad: duct,
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn agrees_closed_form_with_strips(shape in shapes(), share in 0.0f64..=1.0) {
        let port = outline(shape);
        let depth_m = shape.roof_depth_m + share * (shape.floor_depth_m - shape.roof_depth_m);
        // The strips' own error: a column at a round end.
        prop_assert!((port.area_above_m2(depth_m) - strips_m2(&shape, depth_m)).abs() < 2e-10);
    }

    #[test]
    fn agrees_width_is_the_slope_of_the_area(shape in shapes(), share in 0.001f64..=0.999) {
        let port = outline(shape);
        let depth_m = shape.roof_depth_m + share * (shape.floor_depth_m - shape.roof_depth_m);
        let h = 1e-7;
        if port.bends_m().iter().all(|bend_m| (bend_m - depth_m).abs() > 2e-5) {
            let slope_m = (port.area_above_m2(depth_m + h) - port.area_above_m2(depth_m - h)) / (2.0 * h);
            prop_assert!((slope_m - port.width_at_m(depth_m)).abs() < 1e-6, "{slope_m} {}", port.width_at_m(depth_m));
        }
    }

    #[test]
    fn conserves_the_whole_when_fully_open(shape in shapes()) {
        let port = outline(shape);
        prop_assert_eq!(port.open_area_m2(1.0, 0.0), port.area_m2());
        let bends = port.bends_m();
        prop_assert!(bends.windows(2).all(|pair| pair[0] <= pair[1] + 1e-12), "{bends:?}");
    }

    #[test]
    fn conserves_order_area_grows_with_crown_depth_and_raised_edge(
        shape in shapes(), a in 0.0f64..=1.0, b in 0.0f64..=1.0, edge in 0.0f64..=1.0,
    ) {
        let port = outline(shape);
        let at = |share: f64| shape.roof_depth_m + share * (shape.floor_depth_m - shape.roof_depth_m);
        let (low, high) = (a.min(b), a.max(b));
        prop_assert!(port.open_area_m2(at(low), at(edge)) <= port.open_area_m2(at(high), at(edge)) + 1e-17);
        prop_assert!(port.open_area_m2(at(edge), at(high)) <= port.open_area_m2(at(edge), at(low)) + 1e-17);
    }
}
