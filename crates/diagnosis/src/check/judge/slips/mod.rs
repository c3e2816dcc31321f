//! Slips of pen, unit and meter, each found by one rule and answered with a question. Nothing is mended here.

mod factor;
mod leads;
mod limits;
mod range;
mod sum;
mod swapped;
mod unusual;

use super::entry::{Entries, Entry};
use super::item::{InForce, Judged};
use crate::check::judgement::{Slip, SlipKind};
use crate::check::limits::TextLimits;
use crate::check::model::{Check, Item, Reading};
use evidence::conformity::Verdict;
use quantity::{Dimension, Measured, Units};
use userfile::excerpt;

/// What the rules for one reading look at.
pub(super) struct Case<'a> {
    pub(super) item: &'a Item,
    pub(super) reading: &'a Reading,
    pub(super) entry: &'a Entry,
    pub(super) in_force: Option<&'a InForce>,
    pub(super) text: &'a str,
    pub(super) units: Units,
}

/// The first question about a reading; the rules that explain most come first.
pub(super) fn first(case: &Case<'_>) -> Option<Slip> {
    let rules = [limits::ask, range::overload, factor::ask, leads::ask, range::coarse, unusual::ask];
    rules.into_iter().find_map(|rule| rule(case))
}

/// Questions that only several readings together raise.
pub(super) fn across(check: &Check, judged: &mut [Judged<'_>], entries: &Entries<'_>, units: Units) {
    swapped::ask(check, judged, entries, units);
    sum::ask(check, judged, entries, units);
}

impl Case<'_> {
    /// The reading as a figure.
    fn figure(&self) -> Option<&Measured> {
        match self.entry {
            Entry::Figure { measured, .. } => Some(measured),
            _ => None,
        }
    }

    /// The last digit that was written, SI.
    fn step(&self) -> f64 {
        match self.entry {
            Entry::Figure { step, .. } => *step,
            _ => 0.0,
        }
    }

    fn usual(&self) -> Option<TextLimits> {
        TextLimits::read(self.reading.usual.as_deref()?, self.reading.dimension).ok()
    }

    /// The figures that would raise no eyebrow: the usual range and the limits together. `None` when neither says.
    fn plausible(&self) -> Option<Band> {
        let limits = self.in_force.map(|in_force| Band::about(&in_force.limits));
        match (limits, self.usual().map(|usual| Band::of(&usual))) {
            (Some(limits), Some(usual)) => Some(limits.hull(usual)),
            (limits, usual) => limits.or(usual),
        }
    }

    /// True when the reading is odd enough to be asked about: outside the usual range, or where none is known,
    /// outside the limits. Where nothing at all may be read, nothing is not odd.
    fn is_odd(&self) -> bool {
        let (Some(figure), Some(plausible)) = (self.figure(), self.plausible()) else { return false };
        match (self.usual(), self.in_force) {
            (None, Some(in_force)) => {
                in_force.limits.limits().judge(figure.value, figure.u).verdict == Verdict::Fail
            }
            _ => !plausible.holds(figure.value) && figure.value.abs() > 0.5 * self.step(),
        }
    }

    /// What the reading was expected to be, in words.
    fn expected(&self) -> String {
        let dimension = self.reading.dimension;
        let limits = self.in_force.map(|in_force| {
            let whose = if in_force.own { "your" } else { "the" };
            let limits = &in_force.limits;
            let verb =
                if limits.lower.is_some() && limits.upper.is_some() { "limits are" } else { "limit is" };
            format!("{whose} {verb} {} ({})", in_force.limits.show(dimension, self.units), in_force.source)
        });
        let usual = || {
            Some(format!("usual is {} ({})", self.usual()?.show(dimension, self.units), self.reading.source))
        };
        limits.or_else(usual).unwrap_or_default()
    }

    fn slip(&self, kind: SlipKind, text: String, likely: String, likely_entry: Option<String>) -> Slip {
        slip(&self.item.key, kind, text, likely, likely_entry)
    }

    fn written(&self) -> String {
        excerpt(self.text)
    }

    fn is_resistance(&self) -> bool {
        self.reading.dimension == Dimension::Resistance
    }
}

/// A question about an item.
fn slip(key: &str, kind: SlipKind, text: String, likely: String, likely_entry: Option<String>) -> Slip {
    Slip {
        kind,
        text,
        likely,
        confirm: "Read it again and write it anew, or confirm it if it is right.".to_owned(),
        confirm_key: format!("{key}.sure"),
        likely_entry,
    }
}

/// A range of plausible figures, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Band {
    low: f64,
    high: f64,
}

impl Band {
    /// Exactly these limits; a missing one does not limit.
    fn of(limits: &TextLimits) -> Self {
        Self { low: limits.lower.unwrap_or(f64::NEG_INFINITY), high: limits.upper.unwrap_or(f64::INFINITY) }
    }

    /// A quarter beyond both limits; with only one, a twentieth or twenty times it on the other side. Common
    /// practice, no source: near enough for a true reading, too near for a wrong unit.
    fn about(limits: &TextLimits) -> Self {
        let (low, high) = match (limits.lower, limits.upper) {
            (Some(low), Some(high)) if low > 0.0 => (low / 1.25, high * 1.25),
            (Some(low), Some(high)) => (low - 0.25 * (high - low), high + 0.25 * (high - low)),
            (None, Some(high)) => (high / 20.0, high * 1.25),
            (Some(low), None) => (low / 1.25, low * 20.0),
            (None, None) => (f64::NEG_INFINITY, f64::INFINITY),
        };
        Self { low: low.min(high), high: high.max(low) }
    }

    fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    fn holds(self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}
