//! One check a screen: what it is for, what to do, what was read, what it says.

use super::super::choices::Choices;
use super::super::icon;
use super::super::moving::still;
use super::super::page::{Shell, capital, glued, shell};
use super::super::refusal::Refusal;
use super::super::subject::Card;
use super::super::{App, work};
use super::{Bench, CHECK_PART, item, log};
use axum::extract::{Path, State};
use diagnosis::check::{Check, Checks, ItemKind, Judgement, PairJudgement, State as How, picture};
use diagnosis::session;
use maud::{Markup, html};
use quantity::Units;
use record::RecordError;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The screen of one check.
pub(super) async fn show_check(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path((id, key)): Path<(i64, String)>,
) -> Result<Markup, Refusal> {
    work(move || {
        let bench = Bench::open(&app, id)?;
        let check = bench.checks.get(&key).ok_or_else(Refusal::no_page)?;
        let base = bench.card.base();
        let here = format!("{base}/check/{key}");
        let frame = Shell { title: &check.title, here: Some(&here), base: Some(&base), class: "form bench" };
        Ok(shell(choices, &frame, &page(&bench, check, &base, choices.units)))
    })
    .await?
}

fn page(bench: &Bench, check: &Check, base: &str, units: Units) -> Markup {
    let judgement = session::judge(check, &bench.entries, units);
    let off = session::off(&bench.entries);
    let of_kind: Vec<&Check> = bench.checks.of(session::actuator(&bench.entries)).collect();
    let at = of_kind.iter().position(|one| one.key == check.key);
    html! {
        header.page-head {
            p.eyebrow {
                a href={ (base) "/checks" } { "Bench checks" }
                @if let Some(at) = at { ", " (at + 1) " of " (of_kind.len()) }
            }
            h1 { (check.title) }
            p.lead { (check.purpose) }
            p.muted { (minutes_text(&bench.checks, check, &off)) }
        }
        @if !check.cautions.is_empty() {
            div.caution { (icon::WARN) ul.plain-list { @for caution in &check.cautions { li { (caution) } } } }
        }
        (work_of(check))
        form.fields #fields method="post" action={ (base) "/entries" } data-save={ (base) "/field" }
            data-step={ (CHECK_PART) (check.key) } autocomplete="off" {
            button type="submit" hidden { "Save" }
            input type="hidden" name="back" value={ "/check/" (check.key) };
            section.panel.group aria-labelledby="read" {
                h2 #read { "What was found" }
                @for one in &check.items {
                    (item::row(bench, check, one, judgement.items.iter().find(|told| told.key == one.key), units))
                }
                @if check.key == session::SWEEP { (log::row(bench, units)) }
                div.field.verdict-row data-field=(all_of(check)) {
                    div.note aria-live="polite" { (verdict(check, &judgement)) }
                }
            }
            div.actions.stay {
                @if let Some(next) = next(&of_kind, at, bench, units) {
                    a.button.strong href={ (base) "/check/" (next.key) } { "Next: " (next.title) }
                } @else {
                    a.button.strong href={ (base) "/checks" } { "All checks" }
                }
                button.button.no-script type="submit" { "Save" }
                p.saved.only-script #saved role="status" { "Each entry is saved as it is left." }
            }
        }
        p.actions {
            @if let Some(before) = at.and_then(|at| at.checked_sub(1)).and_then(|at| of_kind.get(at)) {
                a.button href={ (base) "/check/" (before.key) } { "Back: " (before.title) }
            }
            a.button href={ (base) "/pictures?step=" (CHECK_PART) (check.key) } { "Take a photo" }
            a.button href={ (base) "/find" } { "Find the fault" }
        }
        p.muted.small { "This check: " (check.source) ". The maker's manual comes first where it says something else." }
    }
}

/// The next check that is not done.
fn next<'a>(of_kind: &[&'a Check], at: Option<usize>, bench: &Bench, units: Units) -> Option<&'a Check> {
    let from = at.map_or(0, |at| at + 1);
    let left = |check: &&&'a Check| !session::is_done(&session::judge(check, &bench.entries, units));
    of_kind.get(from..)?.iter().find(left).copied()
}

/// What is needed, disconnected, done and looked at.
fn work_of(check: &Check) -> Markup {
    html! {
        section.panel aria-labelledby="work" {
            h2 #work { "What to do" }
            @if let Some(scene) = picture(&check.key) { figure.scene { (still(&scene)) } }
            @if !check.tools.is_empty() { p { strong { "Needed: " } (check.tools.join("; ")) "." } }
            @if !check.disconnect.is_empty() {
                h3 { "First" }
                ul { @for line in &check.disconnect { li { (line) } } }
            }
            h3 { "Then" }
            ol { @for line in &check.steps { li { (line) } } }
            @if let Some(look) = &check.look { p { strong { "Where to look: " } (look) } }
        }
    }
}

/// Minutes and what comes off, in a sentence.
pub(super) fn minutes_text(checks: &Checks, check: &Check, off: &[String]) -> String {
    let (own, pieces) = checks.minutes(check, off);
    let names = |wanted_off: bool| -> Vec<&str> {
        let keys = check.take_off.iter().filter(|key| off.contains(key) == wanted_off);
        keys.filter_map(|key| checks.piece(key)).map(|piece| piece.name.as_str()).collect()
    };
    let mut text = format!("About {own:.0} min");
    if pieces > 0.0 {
        text.push_str(&format!(", and {pieces:.0} min for {} off and on", names(false).join(" and ")));
    } else if check.take_off.is_empty() {
        text.push_str(", nothing comes off");
    } else {
        text.push_str(&format!("; {} off already", names(true).join(" and ")));
    }
    let mut parts: Vec<&str> = check.parts.iter().map(String::as_str).collect();
    let pieces = check.take_off.iter().filter(|key| !off.contains(key)).filter_map(|key| checks.piece(key));
    parts.extend(pieces.flat_map(|piece| &piece.parts).map(String::as_str));
    if !parts.is_empty() {
        text.push_str(&format!(". Used up: {}", parts.join("; ")));
    }
    text.push('.');
    text
}

/// The row that speaks for the whole check.
fn all_of(check: &Check) -> String {
    format!("check.{}", check.key)
}

/// What the check came to.
fn verdict(check: &Check, judgement: &Judgement) -> Markup {
    let (class, sign, word) = match (judgement.state, judgement.passes) {
        (How::NotDone, _) => return html! { p.said { (capital(&judgement.text)) } },
        (How::Started, _) => ("open", icon::UNSURE, "Not finished"),
        (How::Asked, _) => ("warn", icon::UNSURE, "A question is open"),
        (How::Done, Some(true)) => ("good", icon::PASS, "Pass"),
        (How::Done, Some(false)) => ("bad", icon::FAIL, "Fail"),
        (How::Done, None) => ("warn", icon::UNSURE, "Cannot tell"),
    };
    html! {
        p class={ "said big " (class) } { (sign) strong { (word) } }
        @if judgement.state == How::Asked { p { "The odd reading above must be answered first." } }
        @else { p { (glued(&judgement.text)) } }
        @if let Some(means) = &judgement.means { p { (glued(means)) } }
        @for pair in &judgement.pairs { (pair_line(check, pair)) }
    }
}

fn pair_line(check: &Check, told: &PairJudgement) -> Markup {
    let asks = check.pairs.iter().find(|pair| pair.key == told.key).map_or("", |pair| pair.asks.as_str());
    html! {
        @if let Some(shown) = &told.shown {
            p.muted { (asks) ": " (glued(shown)) ". " (glued(&told.text)) }
        }
    }
}

/// What is said beside each item of a check, and of the check as a whole, after one of its entries was saved.
///
/// # Errors
/// Those of the record.
pub(in crate::web) fn notes(
    app: &App,
    card: &Card,
    key: &str,
    units: Units,
) -> Result<BTreeMap<String, (String, bool)>, RecordError> {
    let checks = super::checks(&app.record)?;
    let Some(check) = checks.get(key) else { return Ok(BTreeMap::new()) };
    let judgement = session::judge(check, &card.texts(), units);
    let mut notes: BTreeMap<String, (String, bool)> = judgement
        .items
        .iter()
        .filter_map(|told| Some((check.item(&told.key)?, told)))
        .map(|(one, told)| {
            let note = item::note(check, told, matches!(one.kind, ItemKind::Choice { .. })).into_string();
            (item::key(check, &one.key), (note, true))
        })
        .collect();
    if check.key == session::SWEEP {
        notes.insert(log::KEY.to_owned(), (log::note(&card.texts(), units).into_string(), true));
    }
    notes.insert(all_of(check), (verdict(check, &judgement).into_string(), true));
    Ok(notes)
}
