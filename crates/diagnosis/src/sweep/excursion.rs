//! Leaps in a series of readings: those that come back (excursions) and those that do not (steps).

/// What leaps.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Leaps {
    /// First and last place of each excursion, both inside it.
    pub(super) excursions: Vec<(usize, usize)>,
    /// Places before a step: it lies between this one and the next.
    pub(super) steps: Vec<usize>,
}

/// Leaps looked ahead for the one that comes back.
const LOOK_AHEAD: usize = 12;

/// Finds leaps larger than `leap` between neighbours of `values` (all finite). `drift` is how far the values may move
/// from one place to the next without leaping.
///
/// An excursion comes back to where the series would have been, and stays level while it is away: a real contact that
/// opens rests at a rail. Two steps of opposite sign with a moving stretch between them are two steps.
pub(super) fn leaps(values: &[f64], leap: f64, drift: f64) -> Leaps {
    let sizes: Vec<(usize, f64)> = values
        .windows(2)
        .enumerate()
        .map(|(i, pair)| (i, pair[1] - pair[0]))
        .filter(|(_, size)| size.abs() > leap)
        .collect();
    let mut out = Leaps::default();
    let mut next = 0;
    while let Some(&(before, size)) = sizes.get(next) {
        let back = (next + 1..sizes.len().min(next + 1 + LOOK_AHEAD))
            .find(|&m| sizes.get(m).is_some_and(|&(last, _)| returns(values, (before, last), (size, leap, drift))));
        match back.and_then(|m| sizes.get(m).map(|&(last, _)| (m, last))) {
            Some((m, last)) => {
                out.excursions.push((before + 1, last));
                next = m + 1;
            }
            None => {
                out.steps.push(before);
                next += 1;
            }
        }
    }
    out
}

/// Whether the run behind `before` up to `last` is an excursion.
fn returns(values: &[f64], (before, last): (usize, usize), (size, leap, drift): (f64, f64, f64)) -> bool {
    let (Some(&from), Some(&to)) = (values.get(before), values.get(last + 1)) else { return false };
    let run = values.get(before + 1..=last).unwrap_or_default();
    let away = run.iter().all(|v| (v - from) * size.signum() > 0.4 * size.abs());
    let back = (to - from).abs() <= (0.35 * size.abs()).max(leap) + drift * run.len() as f64;
    let span = run.iter().fold(f64::MIN, |a, v| a.max(*v)) - run.iter().fold(f64::MAX, |a, v| a.min(*v));
    let level = run.len() <= 3 || span <= 0.3 * size.abs() + leap;
    away && back && level && run.len() * 3 <= values.len().max(9)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_one_that_returns_and_one_that_stays() {
        let values = [0.0, 0.1, 0.2, -0.5, -0.5, 0.3, 0.4, 0.9, 1.0, 1.1];
        assert_eq!(leaps(&values, 0.3, 0.1), Leaps { excursions: vec![(3, 4)], steps: vec![6] });
    }

    #[test]
    fn exact_an_excursion_that_leaps_while_it_is_away() {
        let values = [0.0, 0.0, -1.0, -0.6, -1.0, 0.0, 0.0, 0.0, 0.0];
        assert_eq!(leaps(&values, 0.3, 0.0).excursions, [(2, 4)]);
    }

    #[test]
    fn exact_a_step_up_and_down_again_with_travel_between_is_two_steps() {
        let mut values: Vec<f64> = (0..80).map(|i| f64::from(i) / 100.0).collect();
        values.extend((0..10).map(|i| 0.85 + f64::from(i) / 100.0));
        values.extend((0..10).rev().map(|i| 0.85 + f64::from(i) / 100.0));
        values.extend((0..80).rev().map(|i| f64::from(i) / 100.0));
        let found = leaps(&values, 0.04, 0.01);
        assert_eq!((found.excursions.len(), found.steps.len()), (0, 2));
    }

    #[test]
    fn exact_nothing_leaps_in_nothing() {
        assert_eq!(leaps(&[], 0.1, 0.0), Leaps::default());
        assert_eq!(leaps(&[1.0], 0.1, 0.0), Leaps::default());
    }
}
