//! One item against its limits.

use super::entry::{self, Entries, Entry};
use super::{slips, words};
use crate::check::judgement::{ItemJudgement, ItemVerdict, Slip};
use crate::check::limits::TextLimits;
use crate::check::model::{Check, Choice, Item, ItemKind, Reading};
use evidence::conformity::{Conformity, Verdict};
use quantity::{Measured, Units};
use userfile::excerpt;

/// An item with what was read of it, for the rules that look at several.
pub(super) struct Judged<'a> {
    pub(super) item: &'a Item,
    pub(super) measured: Option<Measured>,
    pub(super) limits: Option<TextLimits>,
    pub(super) said: ItemJudgement,
}

impl Judged<'_> {
    /// Puts a question to the item; its verdict waits for the answer.
    pub(super) fn ask(&mut self, question: Slip) {
        self.said.verdict = ItemVerdict::Asked;
        self.said.outcome = None;
        self.said.text = words::asked(&question);
        self.said.question = Some(question);
    }
}

/// Limits in force and where they come from.
pub(super) struct InForce {
    pub(super) limits: TextLimits,
    pub(super) source: String,
    pub(super) own: bool,
}

impl<'a> Judged<'a> {
    pub(super) fn of(check: &Check, item: &'a Item, entries: &Entries<'_>, units: Units) -> Self {
        let mut judged = Self { item, measured: None, limits: None, said: not_given(item) };
        match &item.kind {
            ItemKind::Choice { options } => judged.said = choose(check, item, options, entries),
            ItemKind::Reading(reading) => judged.read(reading, entries, units),
        }
        judged
    }

    fn read(&mut self, reading: &Reading, entries: &Entries<'_>, units: Units) {
        let key = self.item.key.as_str();
        let in_force = match in_force(key, reading, entries) {
            Ok(in_force) => in_force,
            Err(text) => {
                // A limit that cannot be read matters as soon as there is a figure to judge.
                if entries.text(key).is_some() {
                    self.refuse(text);
                }
                return;
            }
        };
        if let Some(in_force) = &in_force {
            self.limits = Some(in_force.limits);
            self.said.limit_shown = Some(in_force.limits.show(reading.dimension, units));
            self.said.limit_source = Some(in_force.source.clone());
        }
        let Some(text) = entries.text(key) else { return };
        let entry = match entry::read(text, reading.dimension, reading.by.as_deref()) {
            Ok(entry) => entry,
            Err(error) => return self.refuse(words::sentence(&error.to_string())),
        };
        if let Some(missing) = side_without_outcome(reading, in_force.as_ref()) {
            return self.refuse(missing);
        }
        self.show(&entry, units);
        if !entries.sure(key) {
            let case = slips::Case {
                item: self.item,
                reading,
                entry: &entry,
                in_force: in_force.as_ref(),
                text,
                units,
            };
            if let Some(question) = slips::first(&case) {
                self.ask(question);
                return;
            }
        }
        self.judge(reading, &entry, in_force.as_ref(), units);
    }

    fn show(&mut self, entry: &Entry, units: Units) {
        if let Entry::Figure { measured, .. } = entry {
            self.said.shown = Some(quantity::show(measured, units));
            self.measured = Some(measured.clone());
        } else {
            self.said.shown = Some("overload (OL)".to_owned());
        }
    }

    fn refuse(&mut self, text: String) {
        self.said.verdict = ItemVerdict::Unreadable;
        self.said.text = text;
    }

    fn judge(&mut self, reading: &Reading, entry: &Entry, in_force: Option<&InForce>, units: Units) {
        let Entry::Figure { measured, by, .. } = entry else {
            return match &reading.overload {
                Some(outcome) => {
                    self.said.verdict = ItemVerdict::Fail;
                    self.said.outcome = Some(outcome.clone());
                    self.said.text = "Overload: open circuit between the two points.".to_owned();
                }
                None => self
                    .refuse("The meter shows overload; switch to a higher range and read again.".to_owned()),
            };
        };
        let Some(in_force) = in_force else {
            self.said.verdict = ItemVerdict::NoLimit;
            self.said.text =
                words::no_limit(self.said.shown.as_deref().unwrap_or_default(), self.item.optional);
            return;
        };
        let judged = in_force.limits.limits().judge(measured.value, measured.u);
        self.said.probability = Some(judged.probability);
        self.said.text = words::verdict(measured, *by, in_force, &judged, units);
        (self.said.verdict, self.said.outcome) = outcome(reading, &in_force.limits, measured, &judged);
    }
}

fn not_given(item: &Item) -> ItemJudgement {
    ItemJudgement {
        key: item.key.clone(),
        shown: None,
        limit_shown: None,
        limit_source: None,
        verdict: ItemVerdict::NotGiven,
        outcome: None,
        probability: None,
        text: if item.optional { "Not read; may be left out." } else { "Not done yet." }.to_owned(),
        question: None,
    }
}

fn choose(check: &Check, item: &Item, options: &[Choice], entries: &Entries<'_>) -> ItemJudgement {
    let said = not_given(item);
    let Some(text) = entries.text(&item.key) else { return said };
    match options.iter().find(|option| option.key == text) {
        Some(option) => ItemJudgement {
            shown: Some(option.text.clone()),
            verdict: if check.outcome(&option.outcome).is_some_and(|outcome| outcome.passes) {
                ItemVerdict::Pass
            } else {
                ItemVerdict::Fail
            },
            outcome: Some(option.outcome.clone()),
            text: option.text.clone(),
            ..said
        },
        None => {
            let keys: Vec<&str> = options.iter().map(|option| option.key.as_str()).collect();
            let text = format!("'{}' is no answer here; choose one of {}.", excerpt(text), keys.join(", "));
            ItemJudgement { verdict: ItemVerdict::Unreadable, text, ..said }
        }
    }
}

/// The user's limit before the built-in one.
fn in_force(key: &str, reading: &Reading, entries: &Entries<'_>) -> Result<Option<InForce>, String> {
    if let Some(text) = entries.of(key, "limit") {
        let limits = TextLimits::read(text, reading.dimension)
            .map_err(|error| words::sentence(&format!("the limit cannot be read: {error}")))?;
        let source = entries.of(key, "limit-source").unwrap_or("your own limit, no source given").to_owned();
        return Ok(Some(InForce { limits, source, own: true }));
    }
    let built_in = reading.limits.as_ref().and_then(|text| TextLimits::read(text, reading.dimension).ok());
    Ok(built_in.map(|limits| InForce { limits, source: reading.source.clone(), own: false }))
}

/// The sentence about a limit on a side for which the check knows no outcome.
fn side_without_outcome(reading: &Reading, in_force: Option<&InForce>) -> Option<String> {
    let limits = &in_force?.limits;
    let (side, mend) = if limits.lower.is_some() && reading.below.is_none() {
        ("lower", "at most")
    } else if limits.upper.is_some() && reading.above.is_none() {
        ("upper", "at least")
    } else {
        return None;
    };
    Some(format!("The limit cannot be used: this reading has no {side} limit; write it with '{mend}'."))
}

fn outcome(
    reading: &Reading,
    limits: &TextLimits,
    measured: &Measured,
    judged: &Conformity,
) -> (ItemVerdict, Option<String>) {
    match judged.verdict {
        Verdict::Pass => (ItemVerdict::Pass, Some(reading.within.clone())),
        Verdict::CannotTell => (ItemVerdict::CannotTell, None),
        Verdict::Fail if limits.lower.is_some_and(|lower| measured.value < lower) => {
            (ItemVerdict::Fail, reading.below.clone())
        }
        Verdict::Fail => (ItemVerdict::Fail, reading.above.clone()),
    }
}
