//! Two readings that must agree.

use super::entry::Entries;
use super::item::Judged;
use super::words;
use crate::check::judgement::{ItemVerdict, PairJudgement};
use crate::check::limits::TextLimits;
use crate::check::model::Pair;
use evidence::conformity::Verdict;
use quantity::{Dimension, Measured, Units};

pub(super) fn judge(
    pair: &Pair,
    judged: &[Judged<'_>],
    entries: &Entries<'_>,
    units: Units,
) -> PairJudgement {
    let nothing = PairJudgement {
        key: pair.key.clone(),
        shown: None,
        limit_shown: None,
        limit_source: None,
        verdict: ItemVerdict::NotGiven,
        outcome: None,
        probability: None,
        text: "Compared once both are read.".to_owned(),
    };
    let own = entries.of(&pair.key, "limit");
    let limits = match TextLimits::read(own.unwrap_or(&pair.limits), Dimension::Number) {
        Ok(TextLimits { lower: None, upper: Some(upper), .. }) if upper > 0.0 => upper,
        Ok(_) => {
            let text = "The limit for the difference must be one share, like 'at most 20 %'.".to_owned();
            return PairJudgement { verdict: ItemVerdict::Unreadable, text, ..nothing };
        }
        Err(error) => {
            let text = words::sentence(&format!("the limit cannot be read: {error}"));
            return PairJudgement { verdict: ItemVerdict::Unreadable, text, ..nothing };
        }
    };
    let source = match own {
        Some(_) => entries.of(&pair.key, "limit-source").unwrap_or("your own limit, no source given"),
        None => &pair.source,
    };
    let nothing = PairJudgement {
        limit_shown: Some(format!("at most {}", words::per_cent(limits))),
        limit_source: Some(source.to_owned()),
        ..nothing
    };
    let [Some(one), Some(other)] = pair.items.each_ref().map(|key| settled(key, judged)) else {
        return nothing;
    };
    let larger = one.value.abs().max(other.value.abs());
    if larger == 0.0 {
        return nothing;
    }
    let apart = (one.value - other.value).abs() / larger;
    let u = one.u.hypot(other.u) / larger;
    let told = evidence::conformity::Limits::between(-limits, limits).judge(apart, u);
    let (verdict, outcome) = match told.verdict {
        Verdict::Pass => (ItemVerdict::Pass, Some(&pair.within)),
        Verdict::Fail => (ItemVerdict::Fail, Some(&pair.apart)),
        Verdict::CannotTell => (ItemVerdict::CannotTell, None),
    };
    let shown = [one, other].map(|measured| quantity::show(measured, units));
    PairJudgement {
        shown: Some(words::per_cent(apart)),
        verdict,
        outcome: outcome.cloned(),
        probability: Some(told.probability),
        text: words::pair(&shown, apart, limits, source, told.verdict),
        ..nothing
    }
}

/// The reading of an item, unless a question about it is open.
fn settled<'a>(key: &str, judged: &'a [Judged<'_>]) -> Option<&'a Measured> {
    let judged = judged.iter().find(|judged| judged.item.key == key)?;
    judged.measured.as_ref().filter(|_| judged.said.question.is_none())
}
