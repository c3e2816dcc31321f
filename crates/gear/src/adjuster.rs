//! Adjusters: turns and flats against slack.

use engine::model::{Cable, ThreadHand};
use serde::{Deserialize, Serialize};

/// An adjuster at the valve end of a cable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adjuster {
    /// Axial travel for one turn, m, above zero.
    pub pitch_m: f64,
    /// Hand of the thread.
    pub hand: ThreadHand,
}

/// A turn of an adjuster.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Turn {
    /// Turns, out of the bracket positive: slack is taken up (and the spring on a closing adjuster pressed together).
    pub turns_out: f64,
    /// The same in flats of a hexagon, six to the turn.
    pub flats_out: f64,
    /// True when the adjuster must turn clockwise, seen from its own head.
    pub clockwise_from_head: bool,
}

impl Adjuster {
    /// The adjuster of a cable.
    pub fn of(cable: &Cable) -> Self {
        Self { pitch_m: cable.thread.pitch.value, hand: cable.thread.hand }
    }

    /// Slack in m that turning out by `turns_out` takes up; negative when turning in gives slack.
    pub fn slack_taken_up_m(&self, turns_out: f64) -> f64 {
        self.pitch_m * turns_out
    }

    /// The turn that brings the slack from `found_m` to `wanted_m` (both as in [`crate::Setting`], m).
    pub fn turn_between(&self, found_m: f64, wanted_m: f64) -> Turn {
        let turns_out = (found_m - wanted_m) / self.pitch_m;
        let out = turns_out > 0.0;
        Turn {
            turns_out,
            flats_out: 6.0 * turns_out,
            clockwise_from_head: out == (self.hand == ThreadHand::Left),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_one_flat_of_a_one_millimetre_thread() {
        let adjuster = Adjuster { pitch_m: 1e-3, hand: ThreadHand::Right };
        let turn = adjuster.turn_between(1.5e-3, 1.5e-3 - 1e-3 / 6.0);
        assert!((turn.flats_out - 1.0).abs() < 1e-12);
        assert!(!turn.clockwise_from_head, "a right-hand thread comes out anticlockwise");
    }

    #[test]
    fn round_trips_slack_through_turns() {
        let adjuster = Adjuster { pitch_m: 0.75e-3, hand: ThreadHand::Left };
        let turn = adjuster.turn_between(0.2e-3, 1.1e-3);
        assert!(turn.turns_out < 0.0 && !turn.clockwise_from_head, "left hand: in is anticlockwise");
        assert!((0.2e-3 - adjuster.slack_taken_up_m(turn.turns_out) - 1.1e-3).abs() < 1e-18);
    }
}
