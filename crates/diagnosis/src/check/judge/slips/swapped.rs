//! Two readings of one check that fit each other's limits and not their own: the ends changed places.

use super::slip;
use crate::check::judge::entry::Entries;
use crate::check::judge::item::Judged;
use crate::check::judgement::{ItemVerdict, SlipKind};
use crate::check::limits::TextLimits;
use crate::check::model::Check;
use quantity::{Measured, Units};

pub(super) fn ask(check: &Check, judged: &mut [Judged<'_>], entries: &Entries<'_>, units: Units) {
    for one in 0..check.items.len() {
        for other in one + 1..check.items.len() {
            let (Some(a), Some(b)) = (judged.get(one), judged.get(other)) else { continue };
            if [a, b].iter().any(|judged| entries.sure(&judged.item.key)) || !are_swapped(a, b) {
                continue;
            }
            let question = question(a, b, units);
            if let Some(judged) = judged.get_mut(one) {
                judged.ask(question);
            }
        }
    }
}

fn are_swapped(a: &Judged<'_>, b: &Judged<'_>) -> bool {
    let failed = |judged: &Judged<'_>| {
        // A question about a limit or a range explains more than this rule does, but not one about the unusual.
        judged.said.question.is_none()
            && matches!(judged.said.verdict, ItemVerdict::Fail | ItemVerdict::CannotTell)
    };
    let (Some(read_a), Some(read_b), Some(limits_a), Some(limits_b)) =
        (&a.measured, &b.measured, &a.limits, &b.limits)
    else {
        return false;
    };
    read_a.dimension == read_b.dimension
        && failed(a)
        && failed(b)
        && holds(limits_b, read_a)
        && holds(limits_a, read_b)
        && !holds(limits_a, read_a)
        && !holds(limits_b, read_b)
}

fn holds(limits: &TextLimits, read: &Measured) -> bool {
    limits.limits().probability(read.value, read.u) > 0.5
}

fn question(a: &Judged<'_>, b: &Judged<'_>, units: Units) -> crate::check::judgement::Slip {
    let shown = |judged: &Judged<'_>| {
        judged.measured.as_ref().map(|read| quantity::show(read, units)).unwrap_or_default()
    };
    let name = |judged: &Judged<'_>| judged.item.asks.trim_end_matches(['.', '?']).to_owned();
    slip(
        &a.item.key,
        SlipKind::SwappedEnds,
        format!(
            "{} for '{}' and {} for '{}' each fit the limits of the other.",
            shown(a),
            name(a),
            shown(b),
            name(b)
        ),
        "Likely the two readings changed places, or the leads were on the other end of the sensor."
            .to_owned(),
        b.measured.as_ref().and_then(|read| read.written.clone()),
    )
}
