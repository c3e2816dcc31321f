//! The log of a sensor sweep: put in as text or as a file, judged and drawn.

use super::super::form::anchor;
use super::super::icon;
use super::super::moving::still;
use super::super::page::glued;
use super::Bench;
use diagnosis::session::{self, Entries, Verdict};
use diagnosis::sweep::{Finding, Sweep};
use maud::{Markup, html};
use quantity::Units;

/// Key under which the log is kept.
pub(super) const KEY: &str = "check.sensor-sweep.log";

/// The row in the form of the check.
pub(super) fn row(bench: &Bench, units: Units) -> Markup {
    let (id, saved) = (anchor(KEY), bench.card.text(KEY));
    html! {
        div.field.bare.sweep data-field=(KEY) {
            label for=(id) { "Log of the sweep" span.muted.small { " if you have one" } }
            p.small.muted {
                "Paste it, or choose the file of the meter: time with resistance or voltage, and travel if it is known; one \
                 reading a line. \u{201c}0.52 kΩ, 0.61, 0.70\u{201d} does too."
            }
            p.only-script {
                label for="sweep-file" { "File of the meter" }
                input #sweep-file type="file" accept=".csv,.txt,.tsv,text/*" data-reads=(id);
            }
            textarea id=(id) name={ "t:" (KEY) } rows="6" data-key=(KEY) data-saved=(saved) spellcheck="false"
                aria-describedby={ (id) "-note" } { "\n" (saved) }
            input type="hidden" name={ "v:" (KEY) } value=[bench.card.fields.get(KEY).map(|field| field.version)];
            div.note id={ (id) "-note" } aria-live="polite" { (note(&bench.entries, units)) }
        }
    }
}

/// What the log says.
pub(super) fn note(entries: &Entries, units: Units) -> Markup {
    match session::sweep(entries) {
        None => html! {},
        Some(Err(problem)) => html! { p.said.bad { (icon::WARN) span { (problem.to_string()) } } },
        Some(Ok(sweep)) => judged(&sweep, units),
    }
}

fn judged(sweep: &Sweep, units: Units) -> Markup {
    use diagnosis::sweep::Outcome;
    let (class, sign) = match sweep.outcome {
        Some(Outcome::Clean) => ("good", icon::PASS),
        Some(_) => ("bad", icon::FAIL),
        None => ("warn", icon::UNSURE),
    };
    html! {
        p class={ "said big " (class) } { (sign) span { (glued(&sweep.text)) } }
        @for question in &sweep.questions {
            p.said.warn { (icon::UNSURE) span { (glued(&question.text)) } }
            button.key-button type="button" data-confirms={ (KEY) ".sure" } { "The figures are right" }
        }
        figure.scene { (still(&sweep.scene(units))) }
        ul.plain-list.findings-list { @for finding in &sweep.findings { li { (line(finding)) } } }
    }
}

fn line(finding: &Finding) -> Markup {
    let pill = match finding.verdict {
        Some(Verdict::Pass) => html! { span.pill.good { (icon::PASS) "pass" } },
        Some(Verdict::Fail) => html! { span.pill.bad { (icon::FAIL) "fail" } },
        Some(Verdict::CannotTell) => html! { span.pill.warn { (icon::UNSURE) "cannot tell" } },
        None => html! {},
    };
    html! {
        strong { (finding.title) } " " (pill) " " (glued(&finding.text))
        @if let Some(limit) = &finding.limit {
            span.muted.small { " Accepted: " (glued(limit)) @if let Some(source) = &finding.source { " (" (source) ")" } "." }
        }
    }
}
