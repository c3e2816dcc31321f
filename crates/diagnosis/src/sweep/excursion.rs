//! Leaps in a series of readings: those that come back (excursions) and those that do not (steps).

/// What leaps.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Leaps {
    /// First and last place of each excursion, both inside it.
    pub(super) excursions: Vec<(usize, usize)>,
    /// Places before a step: it lies between this one and the next.
    pub(super) steps: Vec<usize>,
}

/// Leaps of an output whose travel is not known, so that the way moved between samples is in it. `span` is its range.
pub(super) fn leaps_of_output(values: &[f64], span: f64) -> Leaps {
    let usual = usual_move(values);
    // A single reading beyond both its neighbours stands out clearer than a leap: the hand does not go back and forth
    // between three samples, and where it turns round it is off by one usual move.
    let alone = spikes(values, (0.05 * span).max(2.5 * usual));
    let kept: Vec<usize> = (0..values.len()).filter(|i| alone.binary_search(i).is_err()).collect();
    let rest: Vec<f64> = kept.iter().filter_map(|&i| values.get(i)).copied().collect();
    let found = leaps(&rest, (0.05 * span).max(4.0 * usual), usual);
    let number = |at: usize| kept.get(at).copied().unwrap_or(0);
    let mut excursions: Vec<(usize, usize)> = alone.iter().map(|&i| (i, i)).collect();
    excursions.extend(found.excursions.iter().map(|&(first, last)| (number(first), number(last))));
    excursions.sort_unstable();
    Leaps { excursions, steps: found.steps.iter().map(|&at| number(at)).collect() }
}

/// Median move between neighbours, while something moves.
pub(super) fn usual_move(values: &[f64]) -> f64 {
    let moves: Vec<f64> = values.windows(2).map(|w| (w[1] - w[0]).abs()).filter(|d| *d > 0.0).collect();
    evidence::robust::median(&moves).unwrap_or(0.0)
}

/// Single values that lie beyond both neighbours, and off the middle between them, by more than `least`.
fn spikes(values: &[f64], least: f64) -> Vec<usize> {
    let alone = |w: &[f64]| {
        let (before, after) = (w[1] - w[0], w[1] - w[2]);
        before * after > 0.0 && before.abs().min(after.abs()) > least
    };
    values.windows(3).enumerate().filter(|(_, w)| alone(w)).map(|(i, _)| i + 1).collect()
}

/// Leaps looked ahead for the one that comes back.
const LOOK_AHEAD: usize = 12;

/// Finds leaps larger than `leap` between neighbours of `values` (all finite). `drift` is how far the values may move
/// from one place to the next without leaping.
///
/// An excursion comes back to where the series would have been, and stays level while it is away: a real contact that
/// opens rests at a rail. Two steps of opposite sign with a moving stretch between them are two steps.
pub(super) fn leaps(values: &[f64], leap: f64, drift: f64) -> Leaps {
    let moves: Vec<f64> = values.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let sizes = abrupt(&moves, leap);
    let mut out = Leaps::default();
    let mut next = 0;
    while let Some(&(before, size)) = sizes.get(next) {
        let back = (next + 1..sizes.len().min(next + 1 + LOOK_AHEAD)).find(|&m| {
            sizes.get(m).is_some_and(|&(last, _)| returns(values, (before, last), (size, leap, drift)))
        });
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

/// Moves larger than `leap` that are also large against the moves next to them: a steep slope is no leap.
fn abrupt(moves: &[f64], leap: f64) -> Vec<(usize, f64)> {
    let mut found: Vec<usize> = (0..moves.len()).filter(|&i| moves[i].abs() > leap).collect();
    // Each round takes off the foot of a slope; a few rounds suffice, and noise that leaps everywhere must not cost more.
    for _ in 0..20 {
        let steep = |i: usize| {
            let beside = [i.checked_sub(1), Some(i + 1)].into_iter().flatten();
            let calm = beside.filter(|b| found.binary_search(b).is_err()).filter_map(|b| moves.get(b));
            calm.fold(0.0f64, |most, m| most.max(m.abs())) * 3.0 > moves[i].abs()
        };
        let kept: Vec<usize> = found.iter().copied().filter(|&i| !steep(i)).collect();
        if kept.len() == found.len() {
            break;
        }
        found = kept;
    }
    found.into_iter().map(|i| (i, moves[i])).collect()
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
