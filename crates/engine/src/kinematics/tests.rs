use super::*;
use proptest::prelude::*;

/// The moped-sized train used for worked figures: stroke 54.5 mm, rod 110 mm.
fn train(offset_m: f64) -> SliderCrank {
    SliderCrank::new(0.02725, 0.110, offset_m).unwrap()
}

/// Crank pin and piston pin placed by plain geometry, angle from the upright crank.
fn pin_height(r: f64, l: f64, e: f64, phi: f64) -> f64 {
    r * phi.cos() + (l * l - (r * phi.sin() - e).powi(2)).sqrt()
}

/// Piston pin above crank centre, mm, for crank 40, rod 100 and three offsets, by angle from the upright crank;
/// computed from the closed form with another program.
const PIN_HEIGHT_MM: [(f64, [(f64, f64); 7]); 3] = [
    (
        0.0,
        [
            (0.0, 140.0),
            (30.0, 132.620605863),
            (60.0, 113.808315196),
            (90.0, 91.651513899),
            (150.0, 63.338573560),
            (270.0, 91.651513899),
            (330.0, 132.620605863),
        ],
    ),
    (
        10.0,
        [
            (0.0, 139.498743711),
            (30.0, 134.139759862),
            (60.0, 116.916563719),
            (90.0, 95.393920142),
            (150.0, 64.857727559),
            (270.0, 86.602540378),
            (330.0, 130.034936293),
        ],
    ),
    (
        -10.0,
        [
            (0.0, 139.498743711),
            (30.0, 130.034936293),
            (60.0, 109.482845713),
            (90.0, 86.602540378),
            (150.0, 60.752903990),
            (270.0, 95.393920142),
            (330.0, 134.139759862),
        ],
    ),
];

#[test]
fn exact_pin_height_table() {
    for (offset_mm, rows) in PIN_HEIGHT_MM {
        let slider = SliderCrank::new(0.040, 0.100, offset_mm * 1e-3).unwrap();
        let top_mm = (140f64.powi(2) - offset_mm * offset_mm).sqrt();
        for (upright_deg, height_mm) in rows {
            let angle = upright_deg.to_radians() - slider.tdc_past_upright_rad();
            let ours_mm = top_mm - slider.drop_m(angle) * 1e3;
            assert!((ours_mm - height_mm).abs() < 1e-9, "{offset_mm} {upright_deg}: {ours_mm}");
        }
    }
}

#[test]
fn exact_dead_centres_and_time_ratio_with_a_large_offset() {
    // Crank 40, rod 100, offset 10: rod and crank in line at asin(10/140) and 180° + asin(10/60).
    let slider = SliderCrank::new(0.040, 0.100, 0.010).unwrap();
    assert!((slider.tdc_past_upright_rad().to_degrees() - 4.0960).abs() < 5e-5);
    let bdc_upright_deg = (slider.bdc_rad() + slider.tdc_past_upright_rad()).to_degrees();
    assert!((bdc_upright_deg - 189.5941).abs() < 5e-5);
    assert!((slider.stroke_m() * 1e3 - 80.48160).abs() < 5e-6);
    let ratio = slider.bdc_rad() / (TAU - slider.bdc_rad());
    assert!((ratio - 1.063014).abs() < 5e-7, "{ratio}");
}

#[test]
fn exact_offset_of_a_millimetre_and_a_half() {
    let slider = train(0.0015);
    assert!((slider.tdc_past_upright_rad().to_degrees() - 0.6262).abs() < 5e-5);
    assert!((slider.stroke_m() * 1e3 - 54.5054).abs() < 5e-5);
    // Edge 28.5193 mm below top dead centre: unsymmetric about true top dead centre, duration hardly changed.
    let opens = slider.angle_going_down_rad(0.0285193).unwrap();
    let closes = slider.angle_going_up_rad(0.0285193).unwrap();
    let phi = opens + slider.tdc_past_upright_rad();
    let drop = (0.13725f64.powi(2) - 0.0015f64.powi(2)).sqrt() - pin_height(0.02725, 0.110, 0.0015, phi);
    assert!((drop - 0.0285193).abs() < 1e-15);
    assert!((opens.to_degrees() - 85.660).abs() < 5e-4, "{}", opens.to_degrees());
    assert!((360.0 - closes.to_degrees() - 85.331).abs() < 5e-4, "{}", 360.0 - closes.to_degrees());
    assert!(((closes - opens).to_degrees() - 189.009).abs() < 5e-4);
}

#[test]
fn exact_roof_depths_of_durations() {
    let slider = train(0.0);
    for (duration_deg, drop_mm) in
        [(170.0, 33.027), (180.0, 30.679), (189.0, 28.519), (196.0, 26.819), (202.0, 25.352)]
    {
        let drop = slider.drop_of_duration_m(f64::to_radians(duration_deg)).unwrap();
        assert!((drop * 1e3 - drop_mm).abs() < 1e-3, "{duration_deg}: {drop}");
    }
}

#[test]
fn exact_derivatives_against_differences() {
    for offset in [0.0, 0.004, -0.004] {
        let slider = train(offset);
        for i in 0..72 {
            let angle = f64::from(i) * 5f64.to_radians();
            let h = 1e-4;
            let (a, b) = (slider.motion(angle - h), slider.motion(angle + h));
            let here = slider.motion(angle);
            assert!(((b.drop_m - a.drop_m) / (2.0 * h) - here.velocity_m).abs() < 1e-10);
            assert!(((b.velocity_m - a.velocity_m) / (2.0 * h) - here.acceleration_m).abs() < 1e-9);
            let jerk = slider.pose(angle).0.jerk_m();
            assert!(((b.acceleration_m - a.acceleration_m) / (2.0 * h) - jerk).abs() < 1e-8);
        }
    }
}

#[test]
fn exact_peak_acceleration_without_offset_is_at_top_dead_centre() {
    let (r, l) = (0.02725, 0.110);
    let peak = train(0.0).peak_acceleration_per_rad2_m();
    assert!(peak.angle_rad.abs() < 1e-6, "{peak:?}");
    assert!((peak.value - r * (1.0 + r / l)).abs() < 1e-15);
}

#[test]
fn exact_peak_acceleration_beats_a_fine_search() {
    for (l, e) in [(0.110, 0.003), (0.110, -0.003), (0.035, 0.002), (0.0280, 0.0)] {
        let slider = SliderCrank::new(0.02725, l, e).unwrap();
        let peak = slider.peak_acceleration_per_rad2_m();
        let fine = (0..200_000)
            .map(|i| slider.acceleration_per_rad2_m(f64::from(i) * TAU / 200_000.0).abs())
            .fold(0.0, f64::max);
        assert!(peak.value.abs() >= fine * (1.0 - 1e-14), "{l} {e}: {peak:?} {fine}");
        assert!((slider.acceleration_per_rad2_m(peak.angle_rad) - peak.value).abs() < 1e-12);
    }
}

#[test]
fn exact_mean_speed_is_two_strokes_a_turn() {
    let speed = 12_000.0 * TAU / 60.0;
    assert!((train(0.0).mean_speed_m_s(speed) - 2.0 * 0.0545 * 200.0).abs() < 1e-12);
}

#[test]
fn refuses_impossible_trains() {
    assert_eq!(
        SliderCrank::new(0.02725, 0.028, 0.0015).unwrap_err().to_string(),
        "The connecting rod of 28.00 mm is too short for a stroke of 54.50 mm with a pin offset of 1.50 mm: it must \
         be longer than 28.75 mm (half the stroke plus the offset). Check the rod length, centre to centre, and the \
         stroke."
    );
    assert!(SliderCrank::new(-0.02, 0.1, 0.0).is_err());
    assert!(SliderCrank::new(0.02, 0.0, 0.0).is_err());
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(SliderCrank::new(bad, 0.1, 0.0).is_err());
        assert!(SliderCrank::new(0.02, bad, 0.0).is_err());
        assert!(SliderCrank::new(0.02, 0.1, bad).is_err());
    }
    let slider = train(0.0);
    assert_eq!(slider.angle_going_down_rad(-1e-6), None);
    assert_eq!(slider.angle_going_up_rad(0.0546), None);
    assert_eq!(slider.angle_going_down_rad(f64::NAN), None);
    assert_eq!(slider.drop_of_duration_m(-0.1), None);
}

prop_compose! {
    fn trains()(r in 0.01f64..0.06, ratio in 1.5f64..3.0, share in -0.9f64..0.9) -> SliderCrank {
        let l = 2.0 * r * ratio / 1.5;
        SliderCrank::new(r, l, share * 0.5 * (l - r)).unwrap()
    }
}

proptest! {
    #[test]
    fn round_trips_angle_to_drop_and_back(slider in trains(), share in 0.0f64..=1.0) {
        let down = slider.bdc_rad() * share;
        let back = slider.angle_going_down_rad(slider.drop_m(down)).unwrap();
        // One digit of drop is worth the square root of a digit of angle at the dead centres.
        let loose = if !(0.01..=0.99).contains(&share) { 1e-7 } else { 1e-12 };
        prop_assert!((back - down).abs() < loose, "{down} {back}");
        let up = slider.bdc_rad() + (TAU - slider.bdc_rad()) * share;
        let back = slider.angle_going_up_rad(slider.drop_m(up)).unwrap();
        prop_assert!((back - up).abs() < loose, "{up} {back}");
    }

    #[test]
    fn round_trips_drop_to_angle_and_back(slider in trains(), share in 0.0f64..=1.0) {
        let drop = slider.stroke_m() * share;
        let down = slider.angle_going_down_rad(drop).unwrap();
        let up = slider.angle_going_up_rad(drop).unwrap();
        prop_assert!((slider.drop_m(down) - drop).abs() < 1e-15);
        prop_assert!((slider.drop_m(up) - drop).abs() < 1e-15);
        let duration = slider.duration_below_rad(drop).unwrap();
        prop_assert!((duration - (up - down)).abs() < 1e-14);
        prop_assert!((slider.time_below_rad(down, drop) - duration).abs() < 3e-15 + 1e-7 * f64::from(share > 0.99));
        prop_assert!((slider.drop_of_duration_m(duration).unwrap() - drop).abs() < 1e-15);
    }

    #[test]
    fn agrees_mirrored_offset_runs_backwards(r in 0.01f64..0.06, share in -0.4f64..0.4, angle in -7.0f64..7.0) {
        let l = 3.6 * r;
        let (a, b) = (SliderCrank::new(r, l, share * r).unwrap(), SliderCrank::new(r, l, -share * r).unwrap());
        prop_assert!((a.drop_m(angle) - b.drop_m(-angle)).abs() < 1e-15);
        prop_assert!((a.velocity_per_rad_m(angle) + b.velocity_per_rad_m(-angle)).abs() < 1e-14);
    }
}
