//! How well a demand can be checked once the work is done.

use super::figure::{Range, figure};
use crate::procedure::model::Check;
use crate::setting::demand::Demand;
use quantity::Dimension;
use std::collections::BTreeSet;
use userfile::Fields;

/// The checks of a file laid over those of the base, by their demands.
pub(super) fn all(root: &Fields<'_, '_>, base: &[Check]) -> Vec<Check> {
    let mut seen = BTreeSet::new();
    let own: Vec<Check> =
        root.tables("check", 40).iter().filter_map(|fields| one(fields, &mut seen)).collect();
    let mut checks = base.to_vec();
    for new in own {
        match checks.iter_mut().find(|old| old.demand == new.demand) {
            Some(old) => *old = new,
            None => checks.push(new),
        }
    }
    checks
}

fn one(fields: &Fields<'_, '_>, seen: &mut BTreeSet<&'static str>) -> Option<Check> {
    fields.refuse_unknown(&["demand", "by", "error", "guard", "source"]);
    let words: Vec<(&str, Demand)> = Demand::ALL.iter().map(|demand| (demand.key(), *demand)).collect();
    let demand = fields.word("demand", &words, None);
    let (by, source) = (fields.text("by"), fields.text("source"));
    let guard = if fields.gives("guard") {
        figure(fields, "guard", Range::of(Dimension::Number, 0.0, 10.0)).map(|guard| guard.value)
    } else {
        Some(1.0)
    };
    let demand = demand?;
    if !seen.insert(demand.key()) {
        fields.refuse("demand", format!("\"{}\" has a check already; keep one of the two", demand.key()));
        return None;
    }
    let error = figure(fields, "error", range(demand.dimension()))?;
    Some(Check { demand, by: by?, error, guard: guard?, source: source? })
}

/// An error of reading lies about zero.
fn range(dimension: Dimension) -> Range {
    let most = match dimension {
        Dimension::Length => 20e-3,
        Dimension::Angle => 1.0,
        Dimension::Force => 1e3,
        _ => 100.0,
    };
    Range::of(dimension, -most, most)
}
