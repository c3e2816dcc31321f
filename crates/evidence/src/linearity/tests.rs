use super::*;
use proptest::prelude::*;

#[test]
fn exact_a_straight_sensor_deviates_nowhere() {
    let points: Vec<(f64, f64)> = (0..=8).map(|at| (f64::from(at) / 8.0, f64::from(at) / 8.0)).collect();
    for line in [absolute(&points), terminal_based(&points), zero_based(&points), independent(&points)] {
        let line = line.unwrap();
        assert!(line.deviation < 1e-15 && (line.slope - 1.0).abs() < 1e-15, "{line:?}");
        assert!((line.travel(0.375).unwrap() - 0.375).abs() < 1e-15);
    }
}

#[test]
fn exact_a_parabola_has_the_chebyshev_line() {
    // y = x² over 0 to 1: the best line is x - 1/8, off by 1/8 at 0, 1/2 and 1.
    let points: Vec<(f64, f64)> =
        (0..=100).map(|at| f64::from(at) / 100.0).map(|travel| (travel, travel * travel)).collect();
    let line = independent(&points).unwrap();
    assert!((line.slope - 1.0).abs() < 1e-12 && (line.intercept + 0.125).abs() < 1e-12, "{line:?}");
    assert!((line.deviation - 0.125).abs() < 1e-12);
    assert!((terminal_based(&points).unwrap().deviation - 0.25).abs() < 1e-12);
    // Through 0: above by s²/4 at s/2, below by 1 - s at 1; equal for s = 2 (√2 - 1), which the steps of 0.01 blur.
    let zero = zero_based(&points).unwrap();
    assert!((zero.slope - 2.0 * (2f64.sqrt() - 1.0)).abs() < 1e-4, "{zero:?}");
}

#[test]
fn exact_both_ways_of_a_sweep_count_at_the_same_travel() {
    let points = [(0.0, 0.0), (0.5, 0.52), (1.0, 1.0), (1.0, 1.0), (0.5, 0.48), (0.0, 0.0)];
    let line = independent(&points).unwrap();
    assert!((line.deviation - 0.02).abs() < 1e-15 && (line.slope - 1.0).abs() < 1e-12, "{line:?}");
}

#[test]
fn exact_parallel_sides_of_the_hull_do_not_end_the_search() {
    // One side above and one below have the same slope, and the strip is not yet lowest there.
    let raw = [(5, -90), (19, -14), (4, 0), (3, -91), (15, 70), (13, 0), (17, 71), (5, 7)];
    let points = raw.map(|(travel, output)| (f64::from(travel) / 30.0, f64::from(output) / 100.0));
    let line = independent(&points).unwrap();
    assert!((line.deviation - best_of_all(&points)).abs() < 1e-12, "{line:?}");
}

#[test]
fn refuses_readings_that_say_nothing() {
    let text = |points: &[(f64, f64)]| independent(points).unwrap_err().to_string();
    assert_eq!(
        text(&[(0.0, 0.0), (1.0, 1.0)]),
        "there are 2 readings; linearity needs at least 3, at different travel"
    );
    assert_eq!(
        text(&[(0.5, 0.1); 4]),
        "all readings are at the travel 0.5; linearity needs readings over the whole travel"
    );
    assert_eq!(
        text(&[(0.0, 0.1), (0.5, f64::NAN), (1.0, 0.9)]),
        "reading 2 has the travel 0.5 and the output NaN; both must be numbers"
    );
    for judge in [absolute, terminal_based, zero_based] {
        assert!(judge(&[(0.5, 0.1); 4]).is_err());
    }
}

#[test]
fn exact_travel_under_load_undoes_the_load() {
    for alpha in [0.0, 1e-9, 0.4, 5.0, 1e6] {
        for k in [0.0, 1e-6, 0.25, 0.67, 0.999, 1.0] {
            let output = k + loading_error(k, alpha);
            let back = travel_under_load(output, alpha);
            assert!((back - k).abs() < 1e-9, "alpha {alpha}, k {k}: {back}");
        }
    }
}

#[test]
fn refuses_loads_and_travels_that_cannot_be() {
    for (k, alpha) in [(-0.1, 0.1), (1.1, 0.1), (0.5, -0.1), (f64::NAN, 0.1), (0.5, f64::NAN)] {
        assert!(loading_error(k, alpha).is_nan() && travel_under_load(k, alpha).is_nan(), "{k} {alpha}");
    }
    assert!(greatest_loading_error(-1.0).1.is_nan());
    assert!(loading_error(0.5, f64::INFINITY).is_nan());
    assert!((loading_error(0.5, f64::MAX) + 0.5).abs() < 1e-15, "nearly a short circuit");
}

/// Smallest possible largest deviation over all lines through two points and midway to a third: by trying all.
fn best_of_all(points: &[(f64, f64)]) -> f64 {
    let mut best = f64::INFINITY;
    for a in points {
        for b in points.iter().filter(|b| b.0 > a.0) {
            let slope = (b.1 - a.1) / (b.0 - a.0);
            let heights = points.iter().map(|point| point.1 - slope * point.0);
            let high = heights.clone().fold(f64::NEG_INFINITY, f64::max);
            let low = heights.fold(f64::INFINITY, f64::min);
            best = best.min(0.5 * (high - low));
        }
    }
    best
}

/// The best slope through the first reading, by golden section on the convex deviation.
fn best_through_first(points: &[(f64, f64)], first: (f64, f64)) -> f64 {
    let deviation = |slope: f64| {
        points.iter().map(|p| (p.1 - first.1 - slope * (p.0 - first.0)).abs()).fold(0.0, f64::max)
    };
    let (mut low, mut high) = (-1e3, 1e3);
    for _ in 0..200 {
        let (a, b) = (low + 0.382 * (high - low), low + 0.618 * (high - low));
        if deviation(a) > deviation(b) { low = a } else { high = b }
    }
    deviation(0.5 * (low + high))
}

proptest! {
    #[test]
    fn agrees_best_lines_with_all_lines(raw in prop::collection::vec((0i32..30, -100i32..100), 3..25)) {
        let points: Vec<(f64, f64)> =
            raw.iter().map(|&(travel, output)| (f64::from(travel) / 30.0, f64::from(output) / 100.0)).collect();
        prop_assume!(points.iter().any(|point| point.0 != points[0].0));
        let line = independent(&points).unwrap();
        prop_assert!((line.deviation - best_of_all(&points)).abs() < 1e-12);
        let others = [absolute(&points).unwrap(), terminal_based(&points).unwrap(), zero_based(&points).unwrap()];
        prop_assert!(others.iter().all(|other| line.deviation <= other.deviation + 1e-12));
        let travel = points.iter().map(|point| point.0).fold(f64::INFINITY, f64::min);
        let zero = others[2];
        let best = best_through_first(&points, (travel, zero.output(travel)));
        prop_assert!((zero.deviation - best).abs() < 1e-9, "{} {best}", zero.deviation);
    }

    #[test]
    fn exact_greatest_loading_error_is_the_greatest(alpha in 0.0f64..20.0, k in 0.0f64..=1.0) {
        let (at, error) = greatest_loading_error(alpha);
        prop_assert!(error <= loading_error(k, alpha) + 1e-15);
        prop_assert!((2.0 / 3.0..=1.0).contains(&at));
    }

    #[test]
    fn refuses_or_answers_whatever_is_read(points in prop::collection::vec((any::<f64>(), any::<f64>()), 0..12)) {
        for judge in [absolute, terminal_based, zero_based, independent] {
            if let Err(error) = judge(&points) {
                prop_assert!(error.to_string().contains("reading"));
            }
        }
    }
}
