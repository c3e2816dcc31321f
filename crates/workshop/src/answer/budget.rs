//! Which figure makes the band of the proposed edge, and what measuring it better would buy.

use super::telling::Telling;
use crate::report::BudgetLine;
use crate::setting::spread::Share;
use engine::model::Engine;

/// So many lines are shown; the rest together is small.
const LINES: usize = 8;

/// The largest shares first.
pub(super) fn budget(telling: &Telling<'_>) -> Vec<BudgetLine> {
    let shares = &telling.solution.spread.budget;
    let variance: f64 = shares.iter().map(|share| share.contribution_m.powi(2)).sum();
    if variance <= 0.0 {
        return Vec::new();
    }
    let mut engine = telling.engine.clone();
    shares
        .iter()
        .take(LINES)
        .map(|share| line(telling, &mut engine, share, variance))
        .filter(|line| line.share >= 0.005)
        .collect()
}

fn line(telling: &Telling<'_>, engine: &mut Engine, share: &Share, variance: f64) -> BudgetLine {
    let part = share.contribution_m.powi(2) / variance;
    let now_m = 2.0 * variance.sqrt();
    let without_m = 2.0 * (variance - share.contribution_m.powi(2)).max(0.0).sqrt();
    BudgetLine {
        key: share.key.clone(),
        figure: figure_text(telling, engine, &share.key),
        share: part,
        contribution_m: share.contribution_m,
        buys: format!(
            "known exactly, the edge's band would shrink from ±{} to ±{}",
            telling.fine(now_m),
            telling.fine(without_m)
        ),
    }
}

fn figure_text(telling: &Telling<'_>, engine: &mut Engine, key: &str) -> String {
    let mut text = String::from("within half a flat of the nut");
    engine.for_each_figure(&mut |name, figure| {
        if name == key {
            text = quantity::show(figure, telling.units);
        }
    });
    text
}
