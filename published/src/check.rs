//! One check of one published figure.

use crate::{Tolerance, bib, record};
use record::{Record, rounded};
use std::fmt::Display;
use std::panic::Location;

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    origin: Origin,
    place: &'static str,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Origin {
    Cited(&'static str),
    Practice,
}

/// Names a source: `key` stands in `refs.bib`, `place` is the table, equation, page or example in it.
///
/// # Panics
/// When the key is unknown or the place is empty.
#[track_caller]
pub fn cite(key: &'static str, place: &'static str) -> Source {
    assert!(bib::find(key).is_some(), "{key} does not stand in published/refs.bib: add it there");
    assert!(!place.trim().is_empty(), "{key}: say the place in the source (table, equation, page)");
    Source { origin: Origin::Cited(key), place }
}

/// Names a fact that is common practice of the trade and has no source that could be cited.
///
/// # Panics
/// When the fact is empty.
#[track_caller]
pub fn practice(fact: &'static str) -> Source {
    assert!(!fact.trim().is_empty(), "say which fact of the trade is meant");
    Source { origin: Origin::Practice, place: fact }
}

impl Source {
    /// Holds `ours` against the published value `theirs`; both in the unit that `what` names ("pitch, mm").
    ///
    /// # Panics
    /// When they differ by more than the tolerance, when one is not a finite number, or when the
    /// tolerance has no reason.
    #[track_caller]
    pub fn near(&self, what: &str, ours: f64, theirs: f64, tolerance: Tolerance) -> Self {
        let width = tolerance.width(theirs);
        let difference = ours - theirs;
        let fault = tolerance.fault().or(self.fault_of(what));
        let missed = !(ours.is_finite() && theirs.is_finite() && difference.abs() <= width);
        if fault.is_some() || missed {
            self.fail(
                fault,
                &[
                    ("what", what.to_string()),
                    ("ours", ours.to_string()),
                    ("theirs", theirs.to_string()),
                    ("difference", difference.to_string()),
                    ("tolerance", format!("{width} ({})", tolerance.reason())),
                ],
            );
        }
        self.record(what, theirs.to_string(), rounded(ours, width), |row| {
            row.difference = rounded(difference, width);
            row.tolerance = record::tidy(width);
            row.reason = tolerance.reason().to_string();
        });
        *self
    }

    /// Holds that `ours` lies from `low` to `high`, both included; for sources that give a range.
    ///
    /// # Panics
    /// When it lies outside or is not a number.
    #[track_caller]
    pub fn between(&self, what: &str, ours: f64, low: f64, high: f64) -> Self {
        let fault = self.fault_of(what);
        if fault.is_some() || !(low <= ours && ours <= high) {
            self.fail(
                fault,
                &[
                    ("what", what.to_string()),
                    ("ours", ours.to_string()),
                    ("theirs", format!("{low} to {high}")),
                ],
            );
        }
        self.record(what, format!("{low} to {high}"), rounded(ours, high - low), |row| {
            row.tolerance = "the range".to_string();
            row.reason = "the source gives a range".to_string();
        });
        *self
    }

    /// Holds that `ours` is written exactly like `theirs`; for texts, whole numbers, yes and no.
    ///
    /// # Panics
    /// When the two texts differ.
    #[track_caller]
    pub fn is(&self, what: &str, ours: impl Display, theirs: impl Display) -> Self {
        let (ours, theirs) = (ours.to_string(), theirs.to_string());
        let fault = self.fault_of(what);
        if fault.is_some() || ours != theirs {
            self.fail(
                fault,
                &[("what", what.to_string()), ("ours", ours.clone()), ("theirs", theirs.clone())],
            );
        }
        self.record(what, theirs, ours, |row| row.tolerance = "equal".to_string());
        *self
    }

    fn fault_of(&self, what: &str) -> Option<&'static str> {
        what.trim().is_empty().then_some("say what is compared, with its unit")
    }

    fn key(&self) -> &'static str {
        match self.origin {
            Origin::Cited(key) => key,
            Origin::Practice => "common practice, no source",
        }
    }

    fn reference(&self) -> String {
        match self.origin {
            Origin::Cited(key) => bib::find(key).map(ToString::to_string).unwrap_or_default(),
            Origin::Practice => "common practice, no source".to_string(),
        }
    }

    #[track_caller]
    fn fail(&self, fault: Option<&str>, lines: &[(&str, String)]) -> ! {
        let headline = fault.unwrap_or("ours does not agree with the source");
        let mut text = format!("{headline}\n  source: {} ({})", self.key(), self.reference());
        text.push_str(&format!("\n  place: {}", self.place));
        for (name, value) in lines {
            text.push_str(&format!("\n  {name}: {value}"));
        }
        panic!("{text}");
    }

    #[track_caller]
    fn record(&self, what: &str, theirs: String, ours: String, fill: impl FnOnce(&mut Record)) {
        let mut row = Record {
            topic: record::topic_of(Location::caller().file()),
            key: self.key().to_string(),
            reference: self.reference(),
            place: self.place.to_string(),
            what: what.to_string(),
            theirs,
            ours,
            ..Record::default()
        };
        fill(&mut row);
        record::append(&row);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn message_of(check: impl FnOnce() + std::panic::UnwindSafe) -> String {
        let cause = std::panic::catch_unwind(check).expect_err("the check should have failed");
        cause.downcast_ref::<String>().cloned().unwrap_or_default()
    }

    #[test]
    fn refuses_unknown_key_and_empty_place() {
        assert!(message_of(|| drop_source(cite("NOBODY-1900", "page 1"))).contains("refs.bib"));
        assert!(message_of(|| drop_source(cite("ISO-261", " "))).contains("place"));
    }

    fn drop_source(_: Source) {}

    #[test]
    fn refuses_a_miss_and_prints_all_of_it() {
        let text = message_of(|| {
            cite("ISO-261", "table 2, M6").near(
                "pitch, mm",
                1.25,
                1.0,
                Tolerance::absolute(0.01, "printed to two decimals"),
            );
        });
        for part in [
            "ISO-261",
            "general purpose metric",
            "1998",
            "table 2, M6",
            "pitch, mm",
            "1.25",
            "0.25",
            "0.01",
            "printed to two decimals",
        ] {
            assert!(text.contains(part), "{part} is missing in:\n{text}");
        }
    }

    #[test]
    fn refuses_what_is_not_a_number() {
        let source = cite("ISO-261", "table 2");
        let tolerance = Tolerance::absolute(1.0, "wide");
        assert!(std::panic::catch_unwind(|| source.near("x, mm", f64::NAN, 1.0, tolerance)).is_err());
        assert!(std::panic::catch_unwind(|| source.between("x, mm", f64::NAN, 0.0, 1.0)).is_err());
    }

    #[test]
    fn refuses_a_tolerance_without_reason() {
        let text = message_of(|| {
            cite("ISO-261", "table 2").near("pitch, mm", 1.0, 1.0, Tolerance::relative(0.1, ""));
        });
        assert!(text.contains("needs a reason"), "{text}");
    }

    #[test]
    fn refuses_another_text() {
        assert!(message_of(|| drop_source(practice("two and two").is("sum", 5, 4))).contains("theirs: 4"));
    }

    #[test]
    fn exact_edge_of_the_tolerance_is_inside() {
        practice("harness").near("x", 1.5, 1.0, Tolerance::relative(0.5, "the edge itself"));
        practice("harness").between("x", 2.0, 1.0, 2.0).is("word", "a", "a");
    }
}
