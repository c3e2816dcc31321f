//! What normal looks like: the sequence of a healthy valve, moving, and the engine's own record of it.

use super::super::choices::Choices;
use super::super::form::anchor;
use super::super::form::save::put;
use super::super::icon;
use super::super::moving::still;
use super::super::page::{Shell, shell};
use super::super::refusal::Refusal;
use super::super::subject::Card;
use super::super::{App, work};
use axum::extract::{Path, Query, State};
use axum::response::Redirect;
use diagnosis::normal::{
    Comparison, Logic, Phase, Recording, Sameness, compare, likely, logic, logics, position, strip_with,
};
use diagnosis::session::{self, Entries};
use maud::{Markup, html};
use record::VisitId;
use serde::Deserialize;
use std::sync::Arc;

/// Where the marker stands, as it comes in an address: a wrong one falls back instead of failing.
#[derive(Deserialize)]
pub(super) struct Asked {
    logic: Option<String>,
    now: Option<String>,
}

/// What is known of this engine.
struct Known {
    logic: &'static Logic,
    /// The readings of the engine when it was known to be good.
    good: Recording,
    /// Those of this visit.
    found: Recording,
    now_s: f64,
}

impl Known {
    fn of(card: &Card, asked: &Asked) -> Option<Self> {
        let entries = card.texts();
        let kind = session::actuator(&entries).key();
        let chosen =
            asked.logic.as_deref().or(entries.get("bench.logic").map(String::as_str)).unwrap_or_default();
        let of_kind = |logic: &&Logic| logic.actuators.iter().any(|one| one == kind);
        let logic = logic(chosen.trim()).filter(of_kind).or_else(|| logics().iter().find(of_kind))?;
        let now = asked.now.as_deref().and_then(|text| text.trim().parse::<f64>().ok());
        let now_s = now.filter(|now| now.is_finite()).unwrap_or(0.0).clamp(0.0, logic.length_s());
        Some(Self { logic, good: Recording::read(&good(&entries)), found: Recording::read(&entries), now_s })
    }
}

/// The readings of the known-good engine, under the keys that a recording has.
fn good(entries: &Entries) -> Entries {
    let kept = session::under(entries, "reference.");
    kept.into_iter().map(|(key, text)| (format!("normal.{key}"), text)).collect()
}

/// The page.
pub(super) async fn show_normal(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let known = Known::of(&card, &asked).ok_or_else(Refusal::no_page)?;
        let base = card.base();
        let here = format!("{base}/normal");
        let frame = Shell {
            title: "What normal looks like",
            here: Some(&here),
            base: Some(&base),
            class: "form bench",
        };
        Ok(shell(choices, &frame, &page(&card, &known, &base)))
    })
    .await?
}

/// The drawings alone, for the slider.
pub(super) async fn show_drawing(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        Ok(drawings(&Known::of(&card, &asked).ok_or_else(Refusal::no_page)?))
    })
    .await?
}

fn page(card: &Card, known: &Known, base: &str) -> Markup {
    let logic = known.logic;
    let comparison = (!known.good.phases.is_empty() && !known.found.phases.is_empty())
        .then(|| compare(logic, &known.good, &known.found));
    html! {
        header.page-head {
            h1 { "What normal looks like" }
            p.muted { a href=(base) { (card.place.engine.name) ", " (card.place.visit.name) } }
            p.lead { "Many a servo was bought because nobody knew what the valve should do. Look first, then judge." }
        }
        (choose(card, known, base))
        (moving(known, base))
        section.panel aria-labelledby="what" {
            h2 #what { (logic.title) }
            p { (logic.text) }
            p { strong { "Known by: " } (logic.known_by) }
            @if !logic.not_a_fault.is_empty() {
                h3 { "Looks like a fault and is none" }
                ul { @for one in &logic.not_a_fault { li { (one) } } }
            }
            p.muted.small { "Sequence: " (logic.source) ". Figures: " (logic.figures) ". Controllers differ: the manual of the engine comes first." }
        }
        @if let Some(comparison) = &comparison { (difference(comparison)) }
        (readings(card, known, base))
    }
}

fn choose(card: &Card, known: &Known, base: &str) -> Markup {
    let kind = session::actuator(&card.texts()).key();
    let ranked = likely(kind, &known.found);
    html! {
        form.panel.one-line method="post" action={ (base) "/entries" } {
            input type="hidden" name="back" value="/normal";
            input type="hidden" name="v:bench.logic" value=[card.fields.get("bench.logic").map(|field| field.version)];
            label for="logic" { "How this valve is controlled" }
            select #logic name="t:bench.logic" {
                @for (one, agreement) in &ranked {
                    option value=(one.key) selected[one.key == known.logic.key] {
                        (one.title)
                        @if !agreement.differs.is_empty() { " (" (agreement.differs.len()) " readings differ)" }
                    }
                }
            }
            button.button type="submit" { "Keep" }
            p.small.muted {
                "Not known? Write below what it does: the ways that fit come first. For a governor or a diaphragm change the kind on "
                a href={ (base) "/checks" } { "the list of checks" } "."
            }
        }
    }
}

fn moving(known: &Known, base: &str) -> Markup {
    let length = known.logic.length_s();
    html! {
        section.moving.panel aria-labelledby="moving-title" data-drawing={ (base) "/normal/drawing" } {
            div.title-row { h2 #moving-title { "From key on to key off" } p.muted.small { "Move it with the slider, or let it run" } }
            form.controls method="get" action={ (base) "/normal" } {
                input type="hidden" name="logic" value=(known.logic.key);
                div.slider {
                    label for="now" { "Time since key on" }
                    output for="now" data-decimals="1" data-unit=" s" { (format!("{:.1} s", known.now_s)) }
                    input type="range" id="now" name="now" min="0" max=(format!("{length:.1}")) step="0.1" value=(format!("{:.1}", known.now_s));
                    button.play type="button" data-play="now" data-sweep-ms=(format!("{:.0}", 1000.0 * length)) aria-pressed="false" title="Let it run" {
                        (icon::PLAY) span.unseen { "Let it run" }
                    }
                }
                button.button.no-script type="submit" { "Draw this moment" }
            }
            div.drawings { (drawings(known)) }
        }
    }
}

fn drawings(known: &Known) -> Markup {
    let own = (!known.good.phases.is_empty()).then_some(&known.good);
    let found = (!known.found.phases.is_empty()).then_some(&known.found);
    let phase = known.logic.phase_at(known.now_s);
    let travel = 100.0 * known.logic.travel_at(known.now_s);
    html! {
        p.told data-part="told" aria-live="polite" {
            @if let Some(phase) = phase { (phase.title) ": " } "valve " (format!("{travel:.0}")) " % open"
        }
        figure.scene data-part="position" { (still(&position(known.logic, known.now_s))) }
        figure.scene data-part="strip" { (still(&strip_with(known.logic, own, found, known.now_s))) }
    }
}

fn difference(comparison: &Comparison) -> Markup {
    html! {
        section.panel aria-labelledby="difference" {
            h2 #difference { "This visit against the known-good engine" }
            p { strong { (comparison.text) } }
            ul.compare-rows {
                @for phase in comparison.phases.iter().filter(|phase| phase.sameness != Sameness::NotRead) {
                    li { h3 { (phase.title) } p { (sameness(phase.sameness)) " " (phase.text) } }
                }
            }
            p.muted.small { "Tolerance: " (comparison.tolerance_source) }
        }
    }
}

fn sameness(sameness: Sameness) -> Markup {
    html! {
        @match sameness {
            Sameness::Same => { span.pill.good { (icon::PASS) "same" } },
            Sameness::Differs => { span.pill.bad { (icon::FAIL) "differs" } },
            Sameness::CannotTell | Sameness::NotRead => { span.pill.warn { (icon::UNSURE) "cannot tell" } },
        }
    }
}

fn readings(card: &Card, known: &Known, base: &str) -> Markup {
    html! {
        form.fields #fields method="post" action={ (base) "/entries" } data-save={ (base) "/field" } data-step="plain" autocomplete="off" {
            button type="submit" hidden { "Save" }
            input type="hidden" name="back" value="/normal";
            section.panel.group aria-labelledby="seen" {
                h2 #seen { "What this engine does" }
                p.muted { "In per cent of the travel, in mm, degrees, kΩ or volts, or in words: \u{201c}35 ± 3 %\u{201d}, \u{201c}moves to the stop and back\u{201d}." }
                @for problem in &known.found.problems { p.caution { (icon::WARN) (problem.message) } }
                (field(card, "closed", "Reading when closed", "0.62 kΩ"))
                (field(card, "open", "Reading when fully open", "4.86 kΩ"))
                @for phase in &known.logic.phases { (phase_field(card, phase)) }
            }
            div.actions.stay {
                button.button.no-script type="submit" { "Save" }
                p.saved.only-script #saved role="status" { "Each entry is saved as it is left." }
            }
        }
        form.panel method="post" action={ (base) "/normal/keep" } {
            p { "Is this engine known to be good as it is now? Then later visits are held against these readings." }
            button.button.strong type="submit" { "Keep as the known-good readings" }
        }
    }
}

fn phase_field(card: &Card, phase: &Phase) -> Markup {
    html! {
        div.phase {
            h3 { (phase.title) }
            p { (phase.text) }
            p.muted.small { (phase.look) }
            @for one in &phase.not_a_fault { p.small { strong { "Not a fault: " } (one) } }
            (field(card, &phase.key, "Seen on this engine", "35 ± 3 %"))
        }
    }
}

fn field(card: &Card, name: &str, label: &str, example: &str) -> Markup {
    let key = format!("normal.{name}");
    let id = anchor(&key);
    let saved = card.text(&key);
    html! {
        div.field.bare data-field=(key) {
            label for=(id) { (label) }
            input id=(id) type="text" name={ "t:" (key) } value=(saved) data-key=(key) data-saved=(saved) placeholder=(example) spellcheck="false";
            input type="hidden" name={ "v:" (key) } value=[card.fields.get(&key).map(|field| field.version)];
            div.note aria-live="polite" {}
        }
    }
}

/// Keeps the readings of this visit with the engine as those of a good one.
pub(super) async fn keep_good(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Result<Redirect, Refusal> {
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let found = session::under(&card.texts(), "normal.");
        let old = session::under(&card.texts(), "reference.");
        let gone = old.into_keys().filter(|key| !found.contains_key(key)).map(|key| (key, String::new()));
        let texts =
            found.clone().into_iter().chain(gone).map(|(key, text)| (format!("reference.{key}"), text));
        put(&app, card.place.engine.id.into(), texts)?;
        Ok(Redirect::to(&format!("{}/normal", card.base())))
    })
    .await?
}
