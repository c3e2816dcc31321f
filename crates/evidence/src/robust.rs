//! Statistics that a few wild readings cannot spoil.

/// Median absolute deviation times this is the standard deviation of a normal spread.
pub const MAD_TO_SIGMA: f64 = 1.482_602_218_505_602;

/// Middle of the values, the mean of the two middle ones when their number is even. Values that are not finite are
/// left out; `None` when none is left.
pub fn median(values: &[f64]) -> Option<f64> {
    let mut kept: Vec<f64> = values.iter().copied().filter(|value| value.is_finite()).collect();
    middle_of(&mut kept)
}

/// Median absolute deviation from the median, in the unit of the values; times [`MAD_TO_SIGMA`] it estimates the
/// standard deviation. `None` as for [`median`].
pub fn mad(values: &[f64]) -> Option<f64> {
    let middle = median(values)?;
    let mut deviations: Vec<f64> =
        values.iter().filter(|value| value.is_finite()).map(|value| (value - middle).abs()).collect();
    middle_of(&mut deviations)
}

/// The median of finite values, which are left in another order.
fn middle_of(values: &mut [f64]) -> Option<f64> {
    let count = values.len();
    if count == 0 {
        return None;
    }
    let (below, upper, _) = values.select_nth_unstable_by(count / 2, f64::total_cmp);
    if count % 2 == 1 {
        return Some(*upper);
    }
    let lower = below.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    // Halves are added so that two large values do not overflow.
    Some(0.5 * lower + 0.5 * *upper)
}

/// Marks values that lie off their neighbours: farther than `n_sigma` estimated standard deviations from the median
/// of the window of `half_window` values either side (fewer near the ends), the value itself included.
///
/// A window whose values are equal but one has no spread, so that one is marked however little it is off: where the
/// values are rounded, use [`hampel_above`]. Values that are not finite are marked and count in no window. Work grows
/// with the number of values times the window.
pub fn hampel(values: &[f64], half_window: usize, n_sigma: f64) -> Vec<bool> {
    hampel_above(values, half_window, n_sigma, 0.0)
}

/// As [`hampel`], but the standard deviation is taken to be at least `floor` (in the unit of the values): for
/// rounded readings the step of the display.
pub fn hampel_above(values: &[f64], half_window: usize, n_sigma: f64, floor: f64) -> Vec<bool> {
    let (mut window, mut marks) = (Vec::new(), Vec::with_capacity(values.len()));
    for (at, &value) in values.iter().enumerate() {
        let end = at.saturating_add(half_window).saturating_add(1).min(values.len());
        window.clear();
        window.extend(values[at.saturating_sub(half_window)..end].iter().filter(|one| one.is_finite()));
        let off = middle_of(&mut window).is_none_or(|middle| {
            window.iter_mut().for_each(|one| *one = (*one - middle).abs());
            let sigma = MAD_TO_SIGMA * middle_of(&mut window).unwrap_or(0.0);
            (value - middle).abs() > n_sigma * sigma.max(floor)
        });
        marks.push(off || !value.is_finite());
    }
    marks
}

/// Most pairs of points whose slopes are listed; beyond, they are counted.
const MOST_LISTED: usize = 1 << 20;

/// Line through points `(x, y)` by the median of the slopes between all pairs (Theil 1950, Sen 1968), as slope and
/// intercept; the intercept is the median of y - slope x. Up to 29 % of the points may be wild.
///
/// Points that are not finite are left out. `None` when no two points differ in x. Work grows little faster than
/// the number of points: long logs are no trouble.
pub fn theil_sen(points: &[(f64, f64)]) -> Option<(f64, f64)> {
    let mut sorted: Vec<(f64, f64)> =
        points.iter().copied().filter(|(x, y)| x.is_finite() && y.is_finite()).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let count = sorted.len();
    let slope = if count.saturating_mul(count) / 2 <= MOST_LISTED {
        listed_slope(&sorted)?
    } else {
        counted_slope(&sorted)?
    };
    let mut rests: Vec<f64> = sorted.iter().map(|(x, y)| y - slope * x).collect();
    let intercept = middle_of(&mut rests)?;
    (slope.is_finite() && intercept.is_finite()).then_some((slope, intercept))
}

fn listed_slope(sorted: &[(f64, f64)]) -> Option<f64> {
    let mut slopes = Vec::new();
    for (at, &(x, y)) in sorted.iter().enumerate() {
        let later = sorted[at + 1..].iter().filter(|point| point.0 > x);
        slopes.extend(later.map(|point| (point.1 - y) / (point.0 - x)));
    }
    middle_of(&mut slopes)
}

/// The same median, found by bisection: how many slopes lie below a trial slope is the number of pairs that change
/// order when the points are sheared by it, which a merge sort counts.
fn counted_slope(sorted: &[(f64, f64)]) -> Option<f64> {
    let mut level = 0usize;
    for group in sorted.chunk_by(|a, b| a.0 == b.0) {
        level += group.len() * (group.len() - 1) / 2;
    }
    let pairs = sorted.len() * (sorted.len() - 1) / 2 - level;
    if pairs == 0 {
        return None;
    }
    let upper = ranked_slope(sorted, pairs / 2);
    if pairs % 2 == 1 {
        return Some(upper);
    }
    Some(0.5 * ranked_slope(sorted, pairs / 2 - 1) + 0.5 * upper)
}

/// The slope that has `rank` slopes below it, to round-off.
fn ranked_slope(sorted: &[(f64, f64)], rank: usize) -> f64 {
    let (mut low, mut high) = (-1.0, 1.0);
    while slopes_below(sorted, low) > rank && low > -1e300 {
        low *= 4.0;
    }
    while slopes_below(sorted, high) <= rank && high < 1e300 {
        high *= 4.0;
    }
    for _ in 0..200 {
        let middle = 0.5 * low + 0.5 * high;
        if middle <= low || middle >= high {
            break;
        }
        if slopes_below(sorted, middle) > rank {
            high = middle;
        } else {
            low = middle;
        }
    }
    low
}

/// Number of pairs with different x whose slope is below `slope`.
fn slopes_below(sorted: &[(f64, f64)], slope: f64) -> usize {
    // Points of equal x stand in order of y, so a pair of them never counts.
    let mut heights: Vec<f64> = sorted.iter().map(|(x, y)| y - slope * x).collect();
    let mut spare = heights.clone();
    inversions(&mut heights, &mut spare)
}

/// Sorts `values` and returns how many pairs stood the wrong way round.
fn inversions(values: &mut [f64], spare: &mut [f64]) -> usize {
    let count = values.len();
    if count < 2 {
        return 0;
    }
    let half = count / 2;
    let mut wrong = inversions(&mut values[..half], &mut spare[..half])
        + inversions(&mut values[half..], &mut spare[half..]);
    let (mut left, mut right) = (0, half);
    for place in spare.iter_mut() {
        let take_right = right < count && (left >= half || values[right] < values[left]);
        if take_right {
            wrong += half - left;
            *place = values[right];
            right += 1;
        } else {
            *place = values[left];
            left += 1;
        }
    }
    values.copy_from_slice(spare);
    wrong
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn exact_medians_and_deviations() {
        assert_eq!(median(&[3.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(median(&[4.0, 1.0, 3.0, 2.0]), Some(2.5));
        assert_eq!(median(&[f64::NAN, 5.0, f64::INFINITY]), Some(5.0));
        assert_eq!(median(&[f64::NAN]), None);
        assert_eq!(median(&[f64::MAX, f64::MAX]), Some(f64::MAX));
        assert_eq!(mad(&[1.0, 1.0, 2.0, 2.0, 4.0, 6.0, 9.0]), Some(1.0));
        assert_eq!(mad(&[]), None);
    }

    #[test]
    fn exact_mad_of_the_normal_is_its_quartile() {
        let quartile = 1.0 / MAD_TO_SIGMA;
        assert!((crate::distribution::normal_below(quartile) - 0.75).abs() < 1e-15);
    }

    #[test]
    fn exact_hampel_marks_the_one_that_is_off() {
        let mut values: Vec<f64> = (0..50).map(|at| f64::from(at) + 0.1 * f64::from(at % 3)).collect();
        values[20] = 400.0;
        values[30] = f64::NAN;
        let marks = hampel(&values, 5, 6.0);
        let marked: Vec<usize> = (0..50).filter(|&at| marks[at]).collect();
        assert_eq!(marked, [20, 30]);
        assert_eq!(hampel(&values, usize::MAX, 6.0).len(), 50);
        assert!(hampel(&[], 5, 3.0).is_empty());
    }

    #[test]
    fn exact_a_step_of_the_display_is_marked_only_without_a_floor() {
        let mut values = [4.86; 15];
        values[7] = 4.87;
        assert!(hampel(&values, 7, 6.0)[7]);
        assert!(!hampel_above(&values, 7, 3.0, 0.01).contains(&true));
    }

    #[test]
    fn exact_theil_sen_ignores_wild_points() {
        let mut points: Vec<(f64, f64)> =
            (0..40).map(|at| (f64::from(at), 2.0 * f64::from(at) - 3.0)).collect();
        points.iter_mut().step_by(4).for_each(|point| point.1 = 1e6);
        points.push((f64::NAN, 1.0));
        let (slope, intercept) = theil_sen(&points).unwrap();
        assert!((slope - 2.0).abs() < 1e-12 && (intercept + 3.0).abs() < 1e-12);
        assert_eq!(theil_sen(&[(1.0, 2.0), (1.0, 3.0)]), None);
        assert_eq!(theil_sen(&[]), None);
    }

    #[test]
    fn exact_long_logs_are_counted_not_listed() {
        let points: Vec<(f64, f64)> = (0..50_000)
            .map(|at| (f64::from(at), if at % 5 == 0 { -7.0 } else { 0.5 * f64::from(at) + 1.0 }))
            .collect();
        let (slope, intercept) = theil_sen(&points).unwrap();
        assert!((slope - 0.5).abs() < 1e-9 && (intercept - 1.0).abs() < 1e-4, "{slope} {intercept}");
    }

    proptest! {
        #[test]
        fn agrees_counted_slopes_with_listed_ones(
            points in prop::collection::vec((0i32..40, -1000i32..1000), 2..60),
        ) {
            let mut sorted: Vec<(f64, f64)> =
                points.iter().map(|&(x, y)| (f64::from(x) * 0.37, f64::from(y) * 0.01)).collect();
            sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
            match (listed_slope(&sorted), counted_slope(&sorted)) {
                (Some(a), Some(b)) => prop_assert!((a - b).abs() <= 1e-11 * a.abs().max(1.0), "{a} {b}"),
                (a, b) => prop_assert_eq!(a, b),
            }
        }

        #[test]
        fn refuses_or_answers_whatever_is_read(
            values in prop::collection::vec(any::<f64>(), 0..30),
            half_window in 0usize..40,
            n_sigma in any::<f64>(),
        ) {
            prop_assert_eq!(hampel(&values, half_window, n_sigma).len(), values.len());
            let points: Vec<(f64, f64)> = values.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect();
            if let Some((slope, intercept)) = theil_sen(&points) {
                prop_assert!(slope.is_finite() && intercept.is_finite());
            }
            let mut sorted: Vec<(f64, f64)> =
                points.into_iter().filter(|point| point.0.is_finite() && point.1.is_finite()).collect();
            sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
            if !sorted.is_empty() {
                counted_slope(&sorted);
            }
            prop_assert!(median(&values).is_none_or(f64::is_finite));
        }
    }
}
