//! The map as a whole.

use super::*;
use proptest::prelude::*;

/// Torque of a made-up engine: closed is best below 4, open above.
fn made(speed: f64, lift: f64) -> f64 {
    10.0 - (lift - (speed - 2.0).clamp(0.0, 4.0)).powi(2)
}

fn grid(torque: impl Fn(f64, f64) -> Option<f64>) -> Grid {
    let speeds: Vec<f64> = (0..=8).map(f64::from).collect();
    let lifts: Vec<f64> = (0..=4).map(f64::from).collect();
    let rows = speeds.iter().map(|s| lifts.iter().map(|l| torque(*s, *l)).collect()).collect();
    Grid::new(speeds, lifts, rows).unwrap()
}

#[test]
fn exact_run_points_are_given_back() {
    let grid = grid(|s, l| Some(made(s, l)));
    for row in 0..9 {
        for lift in 0..5 {
            let (speed, lift) = (row as f64, f64::from(lift));
            assert!((grid.at_row(row, lift).unwrap() - made(speed, lift)).abs() < 1e-12);
            assert!((grid.at(speed, lift).unwrap() - made(speed, lift)).abs() < 1e-12);
        }
    }
    for (speed, lift) in [(-0.1, 1.0), (8.1, 1.0), (1.0, -0.1), (1.5, 4.1), (f64::NAN, 1.0), (1.0, f64::NAN)]
    {
        assert_eq!(grid.at(speed, lift), None, "{speed} {lift}");
    }
}

#[test]
fn exact_best_schedule_follows_the_ridge() {
    let grid = grid(|s, l| Some(made(s, l)));
    let schedule = best(&grid, f64::INFINITY).unwrap();
    assert_eq!(schedule.lifts_m, [0.0, 0.0, 0.0, 1.0, 2.0, 3.0, 4.0, 4.0, 4.0]);
    assert!((schedule.opening_speed_rad_s(0.0, 4.0).unwrap() - 2.08).abs() < 1e-12);
    assert!((schedule.full_open_speed_rad_s(0.0, 4.0).unwrap() - 5.92).abs() < 1e-12);
    assert!((schedule.lift_m(3.5) - 1.5).abs() < 1e-12);
    assert_eq!((schedule.lift_m(-1.0), schedule.lift_m(99.0)), (0.0, 4.0));
    // Half as steep: it opens before and ends after, evenly.
    let slow = best(&grid, 0.5).unwrap();
    for pair in slow.lifts_m.windows(2) {
        assert!(pair[1] >= pair[0] && pair[1] - pair[0] <= 0.5 + 1e-9);
    }
    assert!((slow.lifts_m[4] - 2.0).abs() < 0.06, "{:?}", slow.lifts_m);
}

#[test]
fn exact_cost_of_standing_low() {
    let grid = grid(|s, l| Some(made(s, l)));
    let schedule = best(&grid, f64::INFINITY).unwrap();
    let low = cost(&grid, &schedule, Wrong::Low(1.0));
    assert_eq!(low[1].lost_n_m, Some(0.0));
    assert!((low[7].lost_n_m.unwrap() - 1.0).abs() < 1e-12 && !low[7].held);
    let high = cost(&grid, &schedule, Wrong::High(1.0));
    assert!(high[7].held && high[7].lost_n_m == Some(0.0));
    assert!((high[0].lost_n_m.unwrap() - 1.0).abs() < 1e-12);
    let late = cost(&grid, &schedule, Wrong::Late(1.0));
    assert!((late[4].comes_m - 1.0).abs() < 1e-12 && (late[4].lost_n_m.unwrap() - 1.0).abs() < 1e-12);
    assert!((cost(&grid, &schedule, Wrong::StuckClosed)[8].lost_n_m.unwrap() - 16.0).abs() < 1e-12);
    assert!((cost(&grid, &schedule, Wrong::StuckOpen)[0].lost_n_m.unwrap() - 16.0).abs() < 1e-12);
}

#[test]
fn exact_closed_and_open_cross_in_the_middle() {
    let grid = grid(|s, l| Some(made(s, l)));
    let found = crossings(&grid, 0.0, 4.0, 0.0);
    assert!(found.len() == 1 && (found[0] - 4.0).abs() < 1e-12, "{found:?}");
    // Torque that sways by a hundredth about the same figure crosses nothing that is told.
    let sways = self::grid(|s, l| Some(10.0 + if l > 2.0 { 0.05 * (3.0 * s).sin() } else { 0.0 }));
    assert!(crossings(&sways, 0.0, 4.0, 0.01).is_empty() && crossings(&sways, 0.0, 4.0, 0.0).len() > 3);
    assert!(crossings(&grid, 1.0, 1.0, 0.0).is_empty());
}

#[test]
fn exact_holes_are_not_bridged() {
    let grid = grid(|s, l| (!(s == 3.0 && l == 2.0) && s != 6.0).then(|| made(s, l)));
    assert_eq!(grid.at_row(3, 1.5), None);
    assert!(grid.at_row(3, 0.5).is_some() && grid.at_row(3, 3.5).is_some() && grid.at_row(3, 1.0).is_some());
    assert_eq!(grid.at(5.5, 1.0), None);
    assert!(grid.at(4.5, 1.0).is_some());
    assert_eq!(grid.peak(6, 0.01), None);
    let schedule = best(&grid, f64::INFINITY).unwrap();
    assert_eq!(schedule.lifts_m[7], 4.0);
    assert_eq!(cost(&grid, &schedule, Wrong::Low(1.0))[6].lost_n_m, None);
    assert_eq!(best(&Grid::new(vec![0.0, 1.0], vec![0.0, 1.0], vec![vec![None; 2]; 2]).unwrap(), 1.0), None);
}

#[test]
fn exact_peak_says_how_flat_it_is() {
    let grid = grid(|s, l| Some(made(s, l)));
    let peak = grid.peak(4, 0.1).unwrap();
    assert_eq!((peak.lift_m, peak.torque_n_m), (2.0, 10.0));
    // One in ten of 10 N m is lost 1 m to both sides.
    assert!((peak.from_m - 1.0).abs() < 0.13 && (peak.to_m - 3.0).abs() < 0.13, "{peak:?}");
    let flat = Grid::new(vec![0.0, 1.0], vec![0.0, 1.0], vec![vec![Some(5.0); 2]; 2]).unwrap();
    let peak = flat.peak(0, 0.0).unwrap();
    assert_eq!((peak.lift_m, peak.from_m, peak.to_m), (0.0, 0.0, 1.0));
}

#[test]
fn refuses_what_is_no_map() {
    let rows = |n: usize, m: usize| vec![vec![Some(1.0); m]; n];
    for (speeds, lifts, torque) in [
        (vec![1.0], vec![0.0, 1.0], rows(1, 2)),
        (vec![1.0, 1.0], vec![0.0, 1.0], rows(2, 2)),
        (vec![1.0, 2.0], vec![0.0, f64::NAN], rows(2, 2)),
        (vec![1.0, 2.0], vec![0.0, 1.0], rows(2, 3)),
        (vec![1.0, 2.0], vec![0.0, 1.0], vec![vec![Some(f64::INFINITY), None]; 2]),
    ] {
        assert!(!Grid::new(speeds, lifts, torque).unwrap_err().to_string().is_empty());
    }
}

proptest! {
    #[test]
    fn conserves_no_curve_leaves_its_neighbours(
        torque in proptest::collection::vec(-50.0f64..50.0, 6),
        gaps in proptest::collection::vec(0.01f64..3.0, 5),
        share in 0.0f64..1.0,
    ) {
        let lifts: Vec<f64> = std::iter::once(0.0)
            .chain(gaps.iter().scan(0.0, |sum, gap| { *sum += gap; Some(*sum) }))
            .collect();
        let row: Vec<Option<f64>> = torque.iter().copied().map(Some).collect();
        let grid = Grid::new(vec![0.0, 1.0], lifts.clone(), vec![row.clone(), row]).unwrap();
        for at in 0..5 {
            let here = grid.at(0.3, lifts[at] + share * (lifts[at + 1] - lifts[at])).unwrap();
            let (low, high) = (torque[at].min(torque[at + 1]), torque[at].max(torque[at + 1]));
            prop_assert!(here >= low - 1e-9 && here <= high + 1e-9, "{} not in {}..{}", here, low, high);
        }
    }

    #[test]
    fn agrees_no_other_schedule_has_more_torque(
        torque in proptest::collection::vec(0.0f64..40.0, 20),
        tries in proptest::collection::vec(proptest::collection::vec(0usize..81, 5), 200),
    ) {
        let rows: Vec<Vec<Option<f64>>> =
            torque.chunks(4).map(|row| row.iter().copied().map(Some).collect()).collect();
        let speeds = vec![0.0, 1.0, 2.0, 3.5, 4.0];
        let grid = Grid::new(speeds.clone(), vec![0.0, 1.0, 2.0, 3.0], rows).unwrap();
        let steepest = 1.2;
        let weights = [0.5, 1.0, 1.25, 1.0, 0.25];
        let sum = |lifts: &[f64]| -> f64 {
            lifts.iter().enumerate().map(|(row, lift)| weights[row] * grid.at_row(row, *lift).unwrap()).sum()
        };
        let most = sum(&best(&grid, steepest).unwrap().lifts_m);
        for mut levels in tries {
            levels.sort_unstable();
            let lifts: Vec<f64> = levels.iter().map(|level| 3.0 * *level as f64 / 80.0).collect();
            let can = (1..5).all(|at| lifts[at] - lifts[at - 1] <= steepest * (speeds[at] - speeds[at - 1]));
            prop_assert!(!can || sum(&lifts) <= most + 1e-9);
        }
    }
}
