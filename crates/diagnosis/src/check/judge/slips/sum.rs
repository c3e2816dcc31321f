//! Two parts and their whole that do not fit each other. From a wiper to both ends of its track the readings are
//! together the whole track and twice the contact: never less than the whole, and neither of them more than it by
//! more than the contact.

use super::slip;
use crate::check::judge::entry::Entries;
use crate::check::judge::item::Judged;
use crate::check::judgement::{Slip, SlipKind};
use crate::check::model::{Check, Sum};
use quantity::{Measured, Units};

/// A part that is more than the whole by this share means other pins, not contact. Estimate.
const MOST_CONTACT: f64 = 0.2;

pub(super) fn ask(check: &Check, judged: &mut [Judged<'_>], entries: &Entries<'_>, units: Units) {
    for sum in &check.sums {
        let keys = sum.parts.iter().chain([&sum.whole]);
        if keys.clone().any(|key| entries.sure(key)) {
            continue;
        }
        let Some(question) = question(sum, judged, units) else { continue };
        if let Some(whole) = judged.iter_mut().find(|judged| judged.item.key == sum.whole) {
            whole.ask(question);
        }
    }
}

fn question(sum: &Sum, judged: &[Judged<'_>], units: Units) -> Option<Slip> {
    let find = |key: &String| -> Option<&Measured> {
        let judged = judged.iter().find(|judged| judged.item.key == *key)?;
        judged.measured.as_ref().filter(|_| judged.said.question.is_none())
    };
    let [Some(one), Some(other)] = sum.parts.each_ref().map(find) else { return None };
    let whole = find(&sum.whole)?;
    let missing = whole.value - one.value - other.value;
    let u = one.u.hypot(other.u).hypot(whole.u);
    let larger = if one.value > other.value { one } else { other };
    let over = larger.value - whole.value * (1.0 + MOST_CONTACT);
    let shown = |measured: &Measured| quantity::show(measured, units);
    let (text, likely) = if over > 2.0 * larger.u.hypot(whole.u) {
        (
            format!("A part reads {}, more than the whole with {}.", shown(larger), shown(whole)),
            "Likely the pins are mixed up: the pair with the largest reading is the two ends, and does not change when the pulley turns.",
        )
    } else if missing > 2.0 * u {
        (
            format!(
                "{} and {} together are less than the whole with {}.",
                shown(one),
                shown(other),
                shown(whole)
            ),
            "Likely one of the three has a wrong unit, or the pulley was moved between the readings.",
        )
    } else {
        return None;
    };
    Some(slip(&sum.whole, SlipKind::PinsMixed, text, likely.to_owned(), None))
}
