use super::*;
use crate::kinematics::SliderCrank;
use crate::ports::{Opening, OutlineShape};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

fn path(offset_m: f64) -> CrownPath {
    CrownPath::new(SliderCrank::new(0.02725, 0.110, offset_m).unwrap(), 0.0).unwrap()
}

fn shape(roof_m: f64, floor_m: f64, width_m: f64, radius_m: f64) -> OutlineShape {
    OutlineShape {
        roof_depth_m: roof_m,
        floor_depth_m: floor_m,
        width_m,
        roof_radius_m: radius_m,
        floor_radius_m: radius_m,
        roof_tilt_rad: 0.0,
        duct_angle_rad: 0.0,
    }
}

fn port(shape: OutlineShape) -> PortOutline {
    PortOutline::new("main exhaust", shape).unwrap()
}

/// ∫ A dθ by the trapezium rule in many steps, over the open area itself.
fn trapezium(from_rad: f64, to_rad: f64, steps: u32, area: impl Fn(f64) -> f64) -> f64 {
    let step = (to_rad - from_rad) / f64::from(steps);
    let inside: f64 = (1..steps).map(|i| area(from_rad + f64::from(i) * step)).sum();
    (inside + 0.5 * (area(from_rad) + area(to_rad))) * step
}

#[test]
fn exact_exhaust_and_blowdown_of_a_rectangular_port() {
    // Bore 54, stroke 54.5, rod 110, 40 mm along the wall, 189° exhaust, 130° transfer, 11 500 rpm; computed from
    // the closed form of the piston place with another program.
    let path = path(0.0);
    let drop = |duration_deg: f64| path.slider().drop_of_duration_m(duration_deg.to_radians()).unwrap();
    let exhaust = port(shape(drop(189.0), 0.0545, 0.040, 0.0));
    let speed = 11_500.0 * TAU / 60.0;
    let swept = PI / 4.0 * 0.054f64.powi(2) * 0.0545;

    let whole = AngleArea::by_crown(&path, &exhaust, 0.0);
    assert!((whole.mm2_deg() - 128_450.0).abs() < 1.0, "{}", whole.mm2_deg());
    assert!((whole.time_area_m2_s(speed) * 1e6 - 1.8616).abs() < 1e-4);
    assert!((whole.specific_s_per_m(speed, swept) - 0.014915).abs() < 1e-6);

    let transfer_opens = path.angle_going_down_rad(drop(130.0)).unwrap();
    let blowdown = AngleArea::by_crown_until(&path, &exhaust, 0.0, transfer_opens);
    assert!((blowdown.mm2_deg() - 7_993.2).abs() < 0.1, "{}", blowdown.mm2_deg());
    assert!((blowdown.time_area_m2_s(speed) * 1e6 - 0.11584).abs() < 1e-5);
    assert!((blowdown.specific_s_per_m(speed, swept) - 9.281e-4).abs() < 1e-7);
}

#[test]
fn exact_rectangular_port_to_twelve_digits() {
    // Width w, floor at bottom dead centre: A = w·(drop - roof). With a rod of 10 m the series
    // drop = r·(1 - cos θ) + (r²/2l)·sin²θ + (r⁴/8l³)·sin⁴θ leaves out less than one part in 1e13, and its integral
    // from the opening o to bottom dead centre is elementary.
    let (r, l, roof, w) = (0.025f64, 10.0f64, 0.028, 0.040);
    let path = CrownPath::new(SliderCrank::new(r, l, 0.0).unwrap(), 0.0).unwrap();
    let ours = AngleArea::by_crown(&path, &port(shape(roof, 0.050, w, 0.0)), 0.0).m2_rad;
    let opens = path.angle_going_down_rad(roof).unwrap();
    let rest = PI - opens;
    let plain = (r - roof) * rest + r * opens.sin();
    let second = r.powi(2) / (2.0 * l) * (rest / 2.0 + (2.0 * opens).sin() / 4.0);
    let fourth = r.powi(4) / (8.0 * l.powi(3))
        * (3.0 * rest / 8.0 + (2.0 * opens).sin() / 4.0 - (4.0 * opens).sin() / 32.0);
    let exact = 2.0 * w * (plain + second + fourth);
    assert!((ours / exact - 1.0).abs() < 1e-12, "{}", ours / exact - 1.0);
}

#[test]
fn agrees_with_a_dense_trapezium_over_the_open_area() {
    for offset_m in [0.0, 0.002, -0.004] {
        for (tilt, radius_m, edge_m) in
            [(0.0, 0.005, 0f64), (0.05, 0.003, 0.0), (0.05, 0.003, 0.0312), (0.0, 0.0, 0.033)]
        {
            let path = path(offset_m);
            let outline = port(OutlineShape { roof_tilt_rad: tilt, ..shape(0.029, 0.052, 0.038, radius_m) });
            let from = path.angle_going_down_rad(edge_m.max(0.029)).unwrap();
            let to = path.angle_going_up_rad(edge_m.max(0.029)).unwrap();
            let dense = trapezium(from, to, 100_000, |a| outline.open_area_m2(path.depth_m(a), edge_m));
            let ours = AngleArea::by_crown(&path, &outline, edge_m).m2_rad;
            assert!((ours / dense - 1.0).abs() < 1e-9, "{offset_m} {tilt} {edge_m}: {ours} {dense}");

            let until = path.angle_going_down_rad(0.040).unwrap();
            let dense = trapezium(from, until, 100_000, |a| outline.open_area_m2(path.depth_m(a), edge_m));
            let ours = AngleArea::by_crown_until(&path, &outline, edge_m, until).m2_rad;
            assert!((ours / dense - 1.0).abs() < 1e-9, "{offset_m} {tilt} {edge_m}: {ours} {dense}");
        }
    }
}

#[test]
fn agrees_inlet_with_a_dense_trapezium() {
    let path = path(0.0015);
    for (roof_m, skirt_m) in [(0.055, 0.050), (0.045, 0.050)] {
        let outline = port(shape(roof_m, 0.072, 0.034, 0.006));
        let opening = Opening::by_skirt(&path, 0.072, skirt_m).unwrap();
        let dense = trapezium(opening.opens_rad, opening.closes_rad + TAU, 100_000, |a| {
            outline.area_below_skirt_m2(path.depth_m(a) + skirt_m)
        });
        let ours = AngleArea::by_skirt(&path, &outline, skirt_m).m2_rad;
        assert!((ours / dense - 1.0).abs() < 1e-9, "{roof_m}: {ours} {dense}");
    }
}

#[test]
fn exact_nothing_when_the_window_ends_before_the_opening() {
    let path = path(0.0);
    let outline = port(shape(0.029, 0.052, 0.038, 0.004));
    let opens = path.angle_going_down_rad(0.029).unwrap();
    assert_eq!(AngleArea::by_crown_until(&path, &outline, 0.0, opens - 0.1).m2_rad, 0.0);
    assert_eq!(AngleArea::by_crown(&path, &outline, 0.053).m2_rad, 0.0);
    assert_eq!(AngleArea::by_crown(&path, &outline, 0.100).m2_rad, 0.0);
}

/// The same integral with every piece halved until nothing changes.
fn fine(path: &CrownPath, outline: &PortOutline, edge_m: f64) -> f64 {
    let mut cuts: Vec<f64> = outline.bends_m().to_vec();
    cuts.push(edge_m);
    cuts.push(path.lowest_m());
    let end = outline.floor_depth_m().min(path.lowest_m());
    let start = edge_m.max(outline.roof_depth_m());
    cuts.retain(|depth_m| (start..=end).contains(depth_m));
    cuts.sort_by(f64::total_cmp);
    let angles: Vec<f64> = cuts.iter().map(|d| path.angle_going_down_rad(*d).unwrap()).collect();
    let integrand = |a: f64| {
        let m = path.slider().motion(a);
        outline.width_at_m(path.highest_m() + m.drop_m)
            * m.velocity_m
            * path.slider().time_below_rad(a, m.drop_m)
    };
    angles
        .windows(2)
        .flat_map(|ends| {
            // Pieces that shrink towards both ends, each by eight-fold parts of the rule.
            (0..64).map(|i| {
                let t = |k: i32| {
                    let s = f64::from(k) / 64.0;
                    s * s * s * (10.0 - 15.0 * s + 6.0 * s * s)
                };
                let (from, to) =
                    (ends[0] + (ends[1] - ends[0]) * t(i), ends[0] + (ends[1] - ends[0]) * t(i + 1));
                integrate(&[from, 0.5 * (from + to), to], integrand)
            })
        })
        .sum()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn converges_to_nine_digits_for_any_port(
        roof_m in 0.020f64..0.040, height in 0.2f64..1.2, width_m in 0.015f64..0.045,
        upper in 0.0f64..=1.0, lower in 0.0f64..=1.0, tilt in 0.0f64..0.1, lift in 0.0f64..=1.0,
        offset_m in -0.004f64..0.004,
    ) {
        let path = path(offset_m);
        let height_m = 0.0545 * height * 0.4;
        let most = (width_m / 2.0).min(height_m * 0.3);
        let outline = port(OutlineShape {
            roof_radius_m: most * upper,
            floor_radius_m: most * lower,
            roof_tilt_rad: tilt.min((0.3 * height_m / width_m).atan()),
            ..shape(roof_m, roof_m + height_m, width_m, 0.0)
        });
        let edge_m = roof_m + 0.9 * height_m * lift * lift;
        let ours = AngleArea::by_crown(&path, &outline, edge_m).m2_rad;
        let fine = fine(&path, &outline, edge_m);
        prop_assert!((ours - fine).abs() <= 1e-9 * fine.abs(), "{ours} {fine}");
    }

    #[test]
    fn conserves_order_more_lift_more_angle_area(a in 0.0f64..0.015, b in 0.0f64..0.015) {
        let path = path(0.001);
        let outline = port(shape(0.029, 0.052, 0.038, 0.006));
        let at = |drop_m: f64| AngleArea::by_crown(&path, &outline, 0.029 + drop_m).m2_rad;
        prop_assert!(at(a.max(b)) <= at(a.min(b)) * (1.0 + 1e-9));
    }
}
