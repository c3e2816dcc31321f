//! Which figure makes the band of a result, and what measuring it better would buy.

use super::telling::Telling;
use crate::report::BudgetLine;
use crate::setting::spread::Share;
use crate::timing_table::duration_shares;
use engine::model::Engine;
use quantity::{Dimension, Units, show_with};

/// So many lines are shown; the rest together is small.
const LINES: usize = 8;

/// For the proposed edge at full travel, the largest shares first.
pub(super) fn edge_budget(telling: &Telling<'_>) -> Vec<BudgetLine> {
    lines(telling, &telling.solution.spread.budget, "the edge's band", Dimension::Length)
}

/// For the exhaust's open duration with the valve flush.
pub(super) fn timing_budget(telling: &Telling<'_>) -> Vec<BudgetLine> {
    let shares = duration_shares(telling.engine, telling.solution.case.drop_m);
    lines(telling, &shares, "the band of the exhaust's open duration", Dimension::Angle)
}

fn lines(telling: &Telling<'_>, shares: &[Share], what: &str, dimension: Dimension) -> Vec<BudgetLine> {
    let variance: f64 = shares.iter().map(|share| share.contribution.powi(2)).sum();
    if variance <= 0.0 {
        return Vec::new();
    }
    let mut engine = telling.engine.clone();
    let decimals = match (dimension, telling.units) {
        (Dimension::Length, Units::Inch) => 4,
        (Dimension::Length, Units::Metric) => 3,
        _ => 2,
    };
    let band = |variance: f64| show_with(2.0 * variance.max(0.0).sqrt(), decimals, dimension, telling.units);
    shares
        .iter()
        .take(LINES)
        .map(|share| BudgetLine {
            key: share.key.clone(),
            figure: figure_text(telling, &mut engine, &share.key),
            share: share.contribution.powi(2) / variance,
            contribution: share.contribution,
            buys: format!(
                "known exactly, {what} would shrink from ±{} to ±{}",
                band(variance),
                band(variance - share.contribution.powi(2))
            ),
        })
        .filter(|line| line.share >= 0.005)
        .collect()
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
