//! What brings the setting back, what it had to meet, how it is reckoned, and what makes its band.

use super::At;
use crate::web::icon;
use crate::web::page::{capital, glued, verdict};
use maud::{Markup, html};
use workshop::report::{BudgetLine, Demand, Drift, Report};

/// Return values, and how far the present state is from stored ones.
pub(super) fn returns(report: &Report, at: &At<'_>) -> Markup {
    html! {
        section.panel #returns aria-labelledby="returns-title" {
            h2 #returns-title { "Return values" }
            p { "Read these after the setting and keep them: they bring it back after a rebuild." }
            @if report.returns.is_empty() {
                p.muted { "There are none until a setting can be proposed." }
            } @else {
                table.pairs {
                    thead { tr { th scope="col" { "Reading" } th scope="col" { "Must be" } } }
                    tbody {
                        @for value in &report.returns {
                            tr { th scope="row" { (value.name) } td { (glued(&value.figure.text)) } }
                        }
                    }
                }
                @if !at.kept {
                    form.actions method="post" action={ (at.base) "/returns/keep" } {
                        button.button.strong type="submit" { "Keep these return values" }
                        a.button href={ (at.base) "/returns.toml" } { (icon::DOWN) "Engine file with return values" }
                    }
                    p.muted.small { "They are written into this job card; the next one is compared with them." }
                }
            }
            @if !report.drift.is_empty() {
                h3 { "Against the stored return values" }
                ul.plain-list { @for drift in &report.drift { (self::drift(drift)) } }
            }
        }
    }
}

fn drift(drift: &Drift) -> Markup {
    html! {
        li class=(if drift.real { "drift real" } else { "drift" }) {
            p { strong { (drift.name) } }
            p.figures-line {
                "stored " (drift.stored.text) ", now " (drift.now.text) ", difference " strong { (drift.difference.text) }
            }
            p.muted { (drift.text) }
        }
    }
}

/// Demands on the setting.
pub(super) fn demands(report: &Report) -> Markup {
    html! {
        section.panel aria-labelledby="demands-title" {
            h2 #demands-title { "What the setting must meet" }
            ul.plain-list.demands { @for demand in &report.demands { (self::demand(demand)) } }
        }
    }
}

fn demand(demand: &Demand) -> Markup {
    html! {
        li {
            p.demand-name {
                strong { (capital(&demand.name)) }
                (verdict(if demand.met { "met" } else { "not met" }))
            }
            p { span.muted { "Reached: " } (demand.reached) }
            p.muted { "Required: " (demand.required) }
        }
    }
}

/// The sums, to be checked with a pocket calculator.
pub(super) fn arithmetic(report: &Report) -> Markup {
    html! {
        section.panel #arithmetic aria-labelledby="arithmetic-title" {
            details.wide-open {
                summary { h2 #arithmetic-title { "Plain arithmetic" } }
                p { "Each step can be checked with a pocket calculator." }
                ol.sums {
                    @for line in &report.arithmetic {
                        li {
                            p { strong { (capital(&line.what)) } }
                            p.sum { span { (line.sum) } span.equals { "= " (line.result) } }
                            p.muted { (line.why) }
                        }
                    }
                }
            }
        }
    }
}

/// What makes the band of the proposed edge.
pub(super) fn budget(report: &Report) -> Markup {
    html! {
        section.panel aria-labelledby="budget-title" {
            details.wide-open {
                summary { h2 #budget-title { "What makes the band" } }
                p { "Share of each figure in the uncertainty of the edge at full travel. The longest bar is the one worth measuring better." }
                ul.plain-list.budget { @for line in &report.budget { (budget_line(line)) } }
            }
        }
    }
}

/// Which measurement to better.
pub(super) fn better(report: &Report) -> Markup {
    html! {
        @if !report.better.is_empty() {
            section.panel aria-labelledby="better-title" {
                h2 #better-title { "Which measurement to better" }
                p { "Each by itself; the first shrinks the band of the edge at full travel most." }
                ol.better {
                    @for line in &report.better {
                        li {
                            strong { (line.name) } ", " (line.with) ": the band goes from " (glued(&line.shrinks))
                        }
                    }
                }
            }
        }
    }
}

fn budget_line(line: &BudgetLine) -> Markup {
    let share = (line.share * 100.0).clamp(0.0, 100.0).round();
    html! {
        li {
            p.budget-name { code { (line.key) } span { (format!("{share:.0} %")) } }
            div.bar aria-hidden="true" { div class={ "fill share-" (format!("{share:.0}")) } {} }
            p.muted { (glued(&line.figure)) "; " (glued(&line.buys)) }
        }
    }
}
