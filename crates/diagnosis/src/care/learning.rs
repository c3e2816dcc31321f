//! The engine's own history shortens or lengthens an interval, by one simple rule.
//!
//! Two times one after the other found stiff, or once found stuck: a fifth shorter. Two times one after the other found
//! clean: a quarter longer (which takes one shortening back). After a change the count begins anew. A finding counts
//! only when it says something of the interval: clean when at least half of the interval of that time had run, stiff or
//! stuck when no more than one and a half of it had; where that is not known it counts. The whole change stays between
//! half and one and a half times. Rule and figures: estimate.

use super::history::{Done, Found};
use serde::Serialize;

/// One shortening.
pub const SHORTEN: f64 = 0.8;
/// One lengthening.
pub const LENGTHEN: f64 = 1.25;
/// Least of all changes together.
pub const LEAST: f64 = 0.5;
/// Most of all changes together.
pub const MOST: f64 = 1.5;
/// Part of the interval that must have run for "clean" to count, and that may have run for "stiff" to count.
const CLEAN_FROM: f64 = 0.5;
const STIFF_UP_TO: f64 = 1.5;

/// What the history has changed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Learned {
    /// Factor on the interval, from [`LEAST`] to [`MOST`]; 1 when nothing was learned.
    pub factor: f64,
    /// Why, in a sentence; empty when nothing was learned.
    pub text: String,
}

/// Goes through the times a task was done, the earliest first. `part(before, after, factor)` tells which part of the
/// interval, changed by `factor`, had run between two of them; none when it cannot be told.
pub(super) fn learn(done: &[&Done], part: impl Fn(&Done, &Done, f64) -> Option<f64>) -> Learned {
    let mut factor = 1.0;
    let (mut stiff, mut clean) = (0, 0);
    let mut last_change = "";
    for (i, now) in done.iter().enumerate() {
        let ran = i.checked_sub(1).and_then(|before| part(done[before], now, factor));
        match now.found {
            Some(Found::Stiff | Found::Stuck) if ran.is_none_or(|r| r <= STIFF_UP_TO) => {
                stiff += if now.found == Some(Found::Stuck) { 2 } else { 1 };
                clean = 0;
            }
            Some(Found::Clean) if ran.is_none_or(|r| r >= CLEAN_FROM) => (stiff, clean) = (0, clean + 1),
            Some(Found::Usual) => (stiff, clean) = (0, 0),
            // Not noted, or it says nothing of the interval: the count goes on as if it had not been.
            _ => {}
        }
        if stiff >= 2 {
            (factor, stiff) = (factor * SHORTEN, 0);
            last_change =
                if now.found == Some(Found::Stuck) { "found stuck" } else { "found stiff twice running" };
        } else if clean >= 2 {
            (factor, clean) = (factor * LENGTHEN, 0);
            last_change = "found clean twice running";
        }
        factor = factor.clamp(LEAST, MOST);
    }
    let text = if (factor - 1.0_f64).abs() < 1e-9 {
        String::new()
    } else {
        let which = if factor < 1.0 { "Shortened" } else { "Lengthened" };
        format!("{which} to {:.0} % by this engine's own history (last: {last_change}).", 100.0 * factor)
    };
    Learned { factor, text }
}

#[cfg(test)]
mod tests {
    use super::super::Day;
    use super::*;
    use proptest::prelude::*;

    fn history(found: &[Option<Found>]) -> Vec<Done> {
        let first = Day::of(2020, 1, 1).unwrap();
        let done = found.iter().enumerate().map(|(i, found)| Done {
            task: "clean-valve".into(),
            day: first.plus_months(12 * i as u32),
            hours: None,
            km: None,
            found: *found,
            written: String::new(),
        });
        done.collect()
    }

    fn factor(found: &[Option<Found>], part: f64) -> f64 {
        let done = history(found);
        learn(&done.iter().collect::<Vec<_>>(), |_, _, _| Some(part)).factor
    }

    const CLEAN: Option<Found> = Some(Found::Clean);
    const STIFF: Option<Found> = Some(Found::Stiff);
    const USUAL: Option<Found> = Some(Found::Usual);

    #[test]
    fn exact_two_running_change_and_one_does_not() {
        assert_eq!(factor(&[], 1.0), 1.0);
        assert_eq!(factor(&[STIFF], 1.0), 1.0);
        assert_eq!(factor(&[STIFF, STIFF], 1.0), 0.8);
        assert_eq!(factor(&[STIFF, STIFF, STIFF], 1.0), 0.8);
        assert!((factor(&[STIFF; 4], 1.0) - 0.64).abs() < 1e-12);
        assert_eq!(factor(&[CLEAN, CLEAN], 1.0), 1.25);
        assert_eq!(factor(&[STIFF, USUAL, STIFF], 1.0), 1.0);
        assert_eq!(factor(&[STIFF, None, STIFF], 1.0), 0.8);
        assert_eq!(factor(&[CLEAN, STIFF, CLEAN], 1.0), 1.0);
        assert_eq!(factor(&[Some(Found::Stuck)], 1.0), 0.8);
        assert!((factor(&[STIFF, STIFF, CLEAN, CLEAN], 1.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn exact_findings_at_the_wrong_time_do_not_count() {
        assert_eq!(factor(&[CLEAN, CLEAN, CLEAN], 0.3), 1.0, "cleaned too early to say that it could wait");
        assert_eq!(factor(&[STIFF, STIFF, STIFF], 2.0), 1.0, "cleaned too late to blame the interval");
        assert_eq!(factor(&[CLEAN, CLEAN], 2.0), 1.25);
        assert_eq!(factor(&[STIFF, STIFF], 0.3), 0.8);
    }

    #[test]
    fn exact_the_change_is_told() {
        let done = history(&[STIFF, STIFF]);
        let learned = learn(&done.iter().collect::<Vec<_>>(), |_, _, _| None);
        assert_eq!(
            learned.text,
            "Shortened to 80 % by this engine's own history (last: found stiff twice running)."
        );
    }

    proptest! {
        #[test]
        fn exact_never_beyond_its_bounds(findings in prop::collection::vec(0u8..5, 0..60), part in 0.0f64..3.0) {
            let findings: Vec<_> = findings
                .into_iter()
                .map(|f| [None, CLEAN, USUAL, STIFF, Some(Found::Stuck)][f as usize])
                .collect();
            let factor = factor(&findings, part);
            prop_assert!((LEAST..=MOST).contains(&factor));
        }
    }
}
