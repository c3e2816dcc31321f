//! Port timing, open time and mean open area against published figures.

use engine::kinematics::SliderCrank;
use engine::ports::{AngleArea, CrownPath, Opening, OutlineShape, PortOutline};
use published::{Tolerance, cite, practice};
use std::f64::consts::TAU;

/// Stroke 54.5 mm, rod 110 mm, crown edge level with the deck at top dead centre.
fn path() -> CrownPath {
    let slider = SliderCrank::new(0.02725, 0.110, 0.0).expect("a train that can be");
    CrownPath::new(slider, 0.0).expect("a deck clearance that can be")
}

fn roof_m(path: &CrownPath, duration_deg: f64) -> f64 {
    path.slider().drop_of_duration_m(duration_deg.to_radians()).expect("a duration within a turn")
}

/// Share of the height between roof and bottom dead centre that is uncovered half-way between opening and bottom
/// dead centre.
fn uncovered_half_way(duration_deg: f64) -> f64 {
    let path = path();
    let roof_m = roof_m(&path, duration_deg);
    let opens_rad = path.angle_going_down_rad(roof_m).expect("the crown passes the roof");
    let half_way_rad = 0.5 * (opens_rad + path.slider().bdc_rad());
    (path.depth_m(half_way_rad) - roof_m) / (path.lowest_m() - roof_m)
}

#[test]
fn published_mean_open_height() {
    cite("JENNINGS-1973", "mean port area: share of the height uncovered at the middle angle, as quoted")
        .near(
            "exhaust of 189 degrees",
            uncovered_half_way(189.0),
            0.70,
            Tolerance::absolute(0.05, "the source says about 70 per cent, for no particular rod"),
        )
        .near(
            "transfer of 130 degrees",
            uncovered_half_way(130.0),
            0.75,
            Tolerance::absolute(0.02, "the source says about 75 per cent, for no particular rod"),
        );
}

#[test]
fn exact_mean_open_height() {
    // From the closed form with another program.
    assert!((uncovered_half_way(189.0) - 0.734).abs() < 1e-3);
    assert!((uncovered_half_way(130.0) - 0.746).abs() < 1e-3);
}

#[test]
fn published_open_time() {
    // A port of unit area open for the whole angle: its time-area is the time it is open.
    let open_s = |angle_deg: f64, rpm: f64| {
        AngleArea { m2_rad: angle_deg.to_radians() }.time_area_m2_s(rpm * TAU / 60.0)
    };
    let printed = Tolerance::absolute(0.00005, "printed to 0.0001 s");
    // The last angle does not follow from the first two (half their difference is 24.5); only its conversion is held.
    cite("JENNINGS-1973", "piston acceleration and port open times at 7000 rpm, as quoted")
        .near("172 degrees, s", open_s(172.0, 7000.0), 0.0041, printed)
        .near("123 degrees, s", open_s(123.0, 7000.0), 0.0029, printed)
        .near("114 degrees, s", open_s(114.0, 7000.0), 0.0027, printed)
        .near("29 degrees, s", open_s(29.0, 7000.0), 0.0007, printed);
}

#[test]
fn practice_opening_before_bottom_dead_centre_and_duration() {
    let path = path();
    let depth_m = path
        .depth_of_m(engine::model::EdgeDatum::BeforeBdc, 94.5f64.to_radians())
        .expect("an angle the crown passes");
    let opening = Opening::by_crown(&path, depth_m).expect("the crown passes the roof");
    let exact = Tolerance::absolute(1e-9, "arithmetic of angles");
    practice("an exhaust opening 94.5° before bottom dead centre is open for 189°, without pin offset")
        .near("duration, degrees", opening.duration_rad.to_degrees(), 189.0, exact)
        .near("opening after top dead centre, degrees", opening.opens_rad.to_degrees(), 85.5, exact);
}

#[test]
fn practice_closed_and_open_valve() {
    // Bore 54, stroke 54.5, chamber 11 cm³: lowering the roof from 189° to 170°.
    let path = path();
    let (high_m, low_m) = (roof_m(&path, 189.0), roof_m(&path, 170.0));
    practice(
        "a roof lowered from 189° to 170° lengthens the effective stroke of a 54 x 54.5 engine by about 16 %",
    )
    .near(
        "effective stroke, ratio",
        low_m / high_m,
        1.158,
        Tolerance::absolute(0.0005, "four digits, from the closed form"),
    );
}

#[test]
fn exact_corners_cost_most_where_blowdown_happens() {
    // 38 x 20 mm with 4 mm corners against the plain rectangle: 1.8 % of the whole, 11.5 % of the first millimetre.
    let shape = |radius_m: f64| OutlineShape {
        roof_depth_m: 0.030,
        floor_depth_m: 0.050,
        width_m: 0.038,
        roof_radius_m: radius_m,
        floor_radius_m: radius_m,
        roof_tilt_rad: 0.0,
        duct_angle_rad: 0.0,
    };
    let port = |radius_m| PortOutline::new("exhaust", shape(radius_m)).expect("a port that can be");
    let (round, plain) = (port(0.004), port(0.0));
    let lost = |depth_m: f64| 1.0 - round.area_above_m2(depth_m) / plain.area_above_m2(depth_m);
    assert!((lost(0.050) - 0.018).abs() < 5e-4, "{}", lost(0.050));
    assert!((lost(0.031) - 0.115).abs() < 5e-4, "{}", lost(0.031));
}
