//! A figure copied unchanged beside a changed one. Gap and exposed thread of one adjuster move together, turn for
//! turn; so between two records of one gear they must change by the same amount.

use super::{Asked, Case, mm, written};
use crate::file::table::Table;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    if let (Some(found), Some(returns)) = (case.tables.get("found"), case.tables.get("returns")) {
        for (gap, thread) in [("opening_gap", "opening_thread"), ("closing_gap", "closing_thread")] {
            compare(found, returns, gap, thread, asked);
        }
    }
    for path in ["found", "returns"] {
        if let Some(table) = case.tables.get(path) {
            ask_twins(table, asked);
        }
    }
}

fn compare(found: &Table, returns: &Table, gap: &str, thread: &str, asked: &mut Asked<'_>) {
    let figures = (found.figure(gap), returns.figure(gap), found.figure(thread), returns.figure(thread));
    let (Some(gap_now), Some(gap_then), Some(thread_now), Some(thread_then)) = figures else { return };
    let gap_change = gap_now.value - gap_then.value;
    let thread_change = thread_now.value - thread_then.value;
    let spread = [&gap_now, &gap_then, &thread_now, &thread_then]
        .iter()
        .map(|figure| figure.u.powi(2))
        .sum::<f64>()
        .sqrt();
    if (gap_change - thread_change).abs() <= 2.0 * spread {
        return;
    }
    let copied = [gap, thread].into_iter().find(|key| written(found, key) == written(returns, key));
    match copied {
        Some(copied) => {
            let changed = if copied == gap { thread } else { gap };
            asked.ask(
                found,
                copied,
                format!(
                    "{} stands in [found] and in [returns], but {changed} changed from {} to {}, and both belong to one adjuster.",
                    written(found, copied),
                    written(returns, changed),
                    written(found, changed)
                ),
                format!("Likely {copied} was copied from the earlier record and not read again."),
            );
        }
        None => asked.ask(
            found,
            gap,
            format!(
                "Since [returns] {gap} changed by {} and {thread} by {}, but both belong to one adjuster and move together.",
                mm(gap_change),
                mm(thread_change)
            ),
            "Likely one of the four readings is wrong, or the cable was changed in between.",
        ),
    }
}

/// Both cables with the same gap, thread and play to the last letter: two of a kind is chance, three is a copy.
fn ask_twins(table: &Table, asked: &mut Asked<'_>) {
    let pairs = [
        ("opening_gap", "closing_gap"),
        ("opening_thread", "closing_thread"),
        ("opening_play", "closing_play"),
    ];
    let same = pairs
        .iter()
        .all(|(opening, closing)| table.gives(opening) && written(table, opening) == written(table, closing));
    if same {
        asked.ask(
            table,
            "closing_gap",
            "Gap, thread and play of the closing cable are those of the opening cable to the last digit.",
            "Likely they were copied from the opening cable and not read.",
        );
    }
}
