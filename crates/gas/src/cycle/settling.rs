//! When a lane has come to its steady cycle.
//!
//! After each turn a lane is compared with itself one, two and three turns before. The measure of a comparison is the greatest
//! of: relative change of the indicated work (both sides of the piston), relative change of the delivery ratio, root
//! mean square relative change of pressure, and of temperature, over all cells and vessels, and of the burned share. What
//! is still to come is estimated from what three turns add up to and from how fast that shrinks, so that a slow drift is not
//! taken for rest; all of these must be below the tolerance, and the change of the turn before it.

use serde::{Deserialize, Serialize};

/// How much one turn differs from an earlier one, each relative.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Change {
    /// Indicated work, both sides of the piston, over the greater of itself and a tenth of ambient pressure times swept
    /// volume.
    pub work: f64,
    /// Delivery ratio, over the greater of itself and 0.05.
    pub delivery: f64,
    /// Root mean square over cells and vessels of pressure, temperature (both relative) and burned share.
    pub state: f64,
}

impl Change {
    /// The greatest of the three, the state counted by [`Self::STATE_WEIGHT`].
    pub fn greatest(&self) -> f64 {
        self.work.max(self.delivery).max(Self::STATE_WEIGHT * self.state)
    }

    /// Weight of the state beside work and delivery: what is left of a start's temperatures is carried through the pipe as
    /// a whole for some ten turns, and moves the torque by much less than its own change.
    pub const STATE_WEIGHT: f64 = 1.0 / 3.0;
}

/// One turn as it is remembered.
#[derive(Debug, Clone, Default)]
pub(crate) struct Turn {
    pub(crate) work_j: f64,
    pub(crate) work_floor_j: f64,
    pub(crate) delivery: f64,
    /// Pressure Pa, temperature K and burned share of every cell and vessel at the end.
    pub(crate) state: Vec<[f64; 3]>,
    /// What is still to come down the pipe, see [`super::carry`].
    pub(crate) coming: f64,
}

impl Turn {
    fn change_from(&self, before: &Self) -> Change {
        let relative = |now: f64, then: f64, floor: f64| (now - then).abs() / now.abs().max(floor);
        let mut squares = [0.0; 3];
        for (now, then) in self.state.iter().zip(&before.state) {
            squares[0] += (now[0] / then[0] - 1.0).powi(2);
            squares[1] += (now[1] / then[1] - 1.0).powi(2);
            squares[2] += (now[2] - then[2]).powi(2);
        }
        let most = squares.iter().fold(0.0f64, |most, sum| most.max(*sum));
        Change {
            work: relative(self.work_j, before.work_j, self.work_floor_j),
            delivery: relative(self.delivery, before.delivery, 0.05),
            state: (most / self.state.len().max(1) as f64).sqrt(),
        }
    }
}

/// Turns that are compared with the newest one.
const REACH: usize = 2;

/// What is known of a lane's way to the steady cycle.
#[derive(Debug, Clone, Default)]
pub(crate) struct Settling {
    /// The last turns, the newest last; [`REACH`] at most.
    turns: Vec<Turn>,
    /// Measures against the turn before and the one before that; newest last.
    measures: [Vec<f64>; REACH],
    /// Against the turn before, by part.
    pub(crate) last: Change,
}

/// What a further turn tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Verdict {
    Moving,
    Settled,
    /// Every second turn is like the one two before, but neighbours differ.
    Alternating,
}

/// Turns of unrest with a period of two before it is called that.
const ALTERNATIONS: usize = 10;
/// A drift is never taken to die away more slowly than this from turn to turn.
const SLOWEST: f64 = 0.9;

impl Settling {
    /// Takes the newest turn.
    pub(crate) fn take(&mut self, turn: Turn, tolerance: f64) -> Verdict {
        for (back, measures) in (1..).zip(&mut self.measures) {
            if let Some(before) = self.turns.len().checked_sub(back).and_then(|at| self.turns.get(at)) {
                let change = turn.change_from(before);
                measures.push(change.greatest());
                if back == 1 {
                    self.last = change;
                }
            }
        }
        self.turns.push(turn);
        if self.turns.len() > REACH {
            self.turns.remove(0);
        }
        self.verdict(tolerance)
    }

    /// The gas was moved on after the newest turn: the next one begins with this state.
    pub(crate) fn put(&mut self, state: Vec<[f64; 3]>) {
        if let Some(turn) = self.turns.last_mut() {
            turn.state = state;
        }
    }

    fn verdict(&self, tolerance: f64) -> Verdict {
        let [one, two] = &self.measures;
        let ([.., before, now], [.., stride], Some(last)) = (&one[..], &two[..], self.turns.last()) else {
            return Verdict::Moving;
        };
        let shrinking = (now / before.max(f64::MIN_POSITIVE)).min(SLOWEST);
        let to_come = now * shrinking / (1.0 - shrinking);
        let still = [*now, 0.5 * before, *stride, to_come, Change::STATE_WEIGHT * last.coming];
        if still.iter().all(|change| *change < tolerance) {
            return Verdict::Settled;
        }
        let unrest = two.len() >= ALTERNATIONS
            && two[two.len() - ALTERNATIONS..].iter().all(|stride| *stride < tolerance)
            && one[one.len() - ALTERNATIONS..].iter().all(|step| *step > 2.0 * tolerance);
        if unrest { Verdict::Alternating } else { Verdict::Moving }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn follow(works: impl Iterator<Item = f64>) -> Vec<Verdict> {
        let mut settling = Settling::default();
        works
            .map(|work_j| {
                let turn = Turn {
                    work_j,
                    work_floor_j: 1.0,
                    delivery: 1.0,
                    state: vec![[1e5, 300.0, 0.0]],
                    coming: 0.0,
                };
                settling.take(turn, 1e-3)
            })
            .collect()
    }

    #[test]
    fn exact_slow_drift_is_not_rest() {
        // Each turn changes by less than the tolerance, but ten times that is still to come.
        let drift = follow((0..12).map(|k| 10.0 * (1.0 + 0.009 * 0.9f64.powi(k))));
        assert!(drift.iter().all(|verdict| *verdict == Verdict::Moving), "{drift:?}");
        let quick = follow((0..12).map(|k| 10.0 * (1.0 + 0.3 * 0.4f64.powi(k))));
        assert!(quick.contains(&Verdict::Settled));
    }

    #[test]
    fn exact_alternation_is_named() {
        let verdicts = follow((0..20).map(|k| if k % 2 == 0 { 10.0 } else { 11.0 }));
        assert!(verdicts.contains(&Verdict::Alternating));
        assert!(!verdicts.contains(&Verdict::Settled));
    }
}
