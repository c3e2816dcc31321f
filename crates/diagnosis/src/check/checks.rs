//! All checks that are known: the built-in ones and the user's own.

use super::judge;
use super::judgement::Judgement;
use super::model::{Actuator, Check, TakeOff};
use super::read;
use quantity::Units;
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::OnceLock;
use userfile::Problem;

pub(super) const BUILT_IN: &str = include_str!("checks.toml");

/// Bench checks and what has to come off for them.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Checks {
    /// The checks, in the order in which they are offered.
    pub checks: Vec<Check>,
    /// Everything that can be in the way.
    pub take_off: Vec<TakeOff>,
}

impl Checks {
    /// The checks that come with Portwright.
    pub fn built_in() -> &'static Checks {
        static CHECKS: OnceLock<Checks> = OnceLock::new();
        // A test reads the text: a mistake in it is found there and never reaches a user.
        CHECKS.get_or_init(|| read::read(BUILT_IN, &[]).unwrap_or_default())
    }

    /// Reads a user's file. It may name the built-in pieces to take off as well as its own.
    ///
    /// # Errors
    /// Every problem of the file at once, in the order of its lines.
    pub fn read(text: &str) -> Result<Checks, Vec<Problem>> {
        read::read(text, &Self::built_in().take_off)
    }

    /// These checks with the user's own: one with a known key takes the place of that check, others follow.
    pub fn with(mut self, own: Checks) -> Checks {
        for check in own.checks {
            match self.checks.iter_mut().find(|known| known.key == check.key) {
                Some(known) => *known = check,
                None => self.checks.push(check),
            }
        }
        for piece in own.take_off {
            match self.take_off.iter_mut().find(|known| known.key == piece.key) {
                Some(known) => *known = piece,
                None => self.take_off.push(piece),
            }
        }
        self
    }

    /// The checks for one kind of actuator, in order.
    pub fn of(&self, kind: Actuator) -> impl Iterator<Item = &Check> {
        self.checks.iter().filter(move |check| check.actuators.contains(&kind))
    }

    /// The check with this key.
    pub fn get(&self, key: &str) -> Option<&Check> {
        self.checks.iter().find(|check| check.key == key)
    }

    /// The piece to take off with this key.
    pub fn piece(&self, key: &str) -> Option<&TakeOff> {
        self.take_off.iter().find(|piece| piece.key == key)
    }

    /// Minutes for a check: those of its own, and those for what must come off and is not `off` already.
    pub fn minutes(&self, check: &Check, off: &[String]) -> (f64, f64) {
        let pieces = check.take_off.iter().filter(|key| !off.contains(key));
        (check.minutes, pieces.filter_map(|key| self.piece(key)).map(|piece| piece.minutes).sum())
    }

    /// What the entries of a check come to; see [`Check::judge`].
    pub fn judge(check: &Check, entries: &BTreeMap<String, String>, units: Units) -> Judgement {
        check.judge(entries, units)
    }
}

impl Check {
    /// What the entries come to.
    ///
    /// Keys of entries: `<item>` the answer (key of an option, or a figure with its unit; `OL` for overload),
    /// `<item>.limit` the user's limit ("3.5 kΩ to 6.5 kΩ", "at most 15 N"), `<item>.limit-source` where it stands,
    /// `<item>.sure` = "yes" when an odd figure was confirmed, or the figure itself as it was entered (then a figure
    /// entered later is asked about again); for a pair `<pair>.limit` ("at most 20 %").
    /// Empty entries count as not given, unknown keys are left alone.
    pub fn judge(&self, entries: &BTreeMap<String, String>, units: Units) -> Judgement {
        judge::judge(self, entries, units)
    }
}
