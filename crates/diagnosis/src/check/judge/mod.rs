//! From entries to a verdict.

mod entry;
mod item;
mod pair;
mod slips;
mod words;

use super::judgement::{ItemJudgement, ItemVerdict, Judgement, PairJudgement, State};
use super::model::{Check, Item, ItemKind};
use entry::Entries;
use item::Judged;
use quantity::Units;
use std::collections::BTreeMap;

/// What the entries of a check come to.
pub(super) fn judge(check: &Check, entries: &BTreeMap<String, String>, units: Units) -> Judgement {
    let entries = Entries(entries);
    let mut judged: Vec<Judged<'_>> =
        check.items.iter().map(|item| Judged::of(check, item, &entries, units)).collect();
    slips::across(check, &mut judged, &entries, units);
    let pairs: Vec<PairJudgement> =
        check.pairs.iter().map(|pair| pair::judge(pair, &judged, &entries, units)).collect();
    let items: Vec<ItemJudgement> = judged.into_iter().map(|judged| judged.said).collect();
    Whole { check, items, pairs }.judgement()
}

/// The judged parts of a check.
struct Whole<'a> {
    check: &'a Check,
    items: Vec<ItemJudgement>,
    pairs: Vec<PairJudgement>,
}

impl Whole<'_> {
    fn judgement(self) -> Judgement {
        let worst = self.worst();
        let state = self.state(worst);
        let told = match state {
            State::Done if self.untold() && worst.is_none_or(|at| self.passes(at)) => None,
            State::Done => worst,
            _ => None,
        };
        let outcome = told.and_then(|at| self.check.outcomes.get(at));
        Judgement {
            state,
            outcome: outcome.map(|outcome| outcome.key.clone()),
            passes: outcome.map(|outcome| outcome.passes),
            cannot_tell: state == State::Done && outcome.is_none(),
            text: words::whole(self.check, &self.items, &self.pairs, state, outcome),
            means: outcome.map(|outcome| outcome.means.clone()),
            items: self.items,
            pairs: self.pairs,
        }
    }

    fn verdicts(&self) -> impl Iterator<Item = (ItemVerdict, Option<&String>)> {
        let items = self.items.iter().map(|item| (item.verdict, item.outcome.as_ref()));
        items.chain(self.pairs.iter().map(|pair| (pair.verdict, pair.outcome.as_ref())))
    }

    /// Place of the worst outcome that any part leads to, counted from the best.
    fn worst(&self) -> Option<usize> {
        let place = |key: &String| self.check.outcomes.iter().position(|outcome| outcome.key == *key);
        self.verdicts().filter_map(|(_, outcome)| outcome.and_then(place)).max()
    }

    fn passes(&self, at: usize) -> bool {
        self.check.outcomes.get(at).is_some_and(|outcome| outcome.passes)
    }

    /// Whether a reading could not be told. A pair that cannot only adds to what the answers say.
    fn untold(&self) -> bool {
        self.items.iter().any(|item| item.verdict == ItemVerdict::CannotTell)
    }

    fn state(&self, worst: Option<usize>) -> State {
        use ItemVerdict::{Asked, NotGiven, Unreadable};
        let has = |wanted: ItemVerdict| self.verdicts().any(|(verdict, _)| verdict == wanted);
        if self.items.iter().all(|item| item.verdict == NotGiven) {
            return State::NotDone;
        }
        if has(Asked) {
            return State::Asked;
        }
        if has(Unreadable) {
            return State::Started;
        }
        // The worst outcome cannot be bettered by what is still missing.
        let settled = worst.is_some_and(|at| at + 1 == self.check.outcomes.len());
        let missing = self.check.items.iter().zip(&self.items).any(|(item, said)| lacks(item, said));
        let judged = worst.is_some() || self.untold();
        if settled || (!missing && judged) { State::Done } else { State::Started }
    }
}

/// Whether a check still waits for this item.
fn lacks(item: &Item, said: &ItemJudgement) -> bool {
    let unlimited = matches!(item.kind, ItemKind::Reading(_)) && said.verdict == ItemVerdict::NoLimit;
    !item.optional && (said.verdict == ItemVerdict::NotGiven || unlimited)
}
