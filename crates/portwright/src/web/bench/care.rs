//! What is due on an engine: cleaning and checks by hours, distance, season, use and its own history.

use super::super::choices::Choices;
use super::super::form::anchor;
use super::super::icon;
use super::super::page::{Shell, glued, shell};
use super::super::refusal::Refusal;
use super::super::subject::Card;
use super::super::{App, work};
use axum::extract::{Path, State};
use diagnosis::care::{Day, Due, DueState, History, Now, Plan, Tasks, Visit, due};
use diagnosis::session;
use maud::{Markup, html};
use quantity::Units;
use record::{RecordError, VisitId};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What is due, and what could not be read.
struct Care {
    due: Vec<Due>,
    problems: Vec<String>,
}

/// Today where the program runs.
fn today() -> Day {
    let date = jiff::Zoned::now().date();
    // The calendar of the clock lies within that of the tasks.
    Day::of(i32::from(date.year()), date.month().unsigned_abs().into(), date.day().unsigned_abs().into())
        .unwrap_or_else(|| Day::from_epoch_days(0).unwrap_or_else(|| unreachable!("1970 is in the calendar")))
}

fn day_of(ms: i64) -> Day {
    Day::from_epoch_days(ms.div_euclid(86_400_000)).unwrap_or_else(today)
}

impl Care {
    fn of(app: &App, card: &Card, units: Units) -> Result<Self, RecordError> {
        let engine = app.record.engine(card.place.engine.id)?;
        let mut cards: Vec<(Day, BTreeMap<String, String>)> = Vec::new();
        // What the engine's page tells of the time before the record stands apart from all visits.
        let of_engine = texts(app.record.fields(card.place.engine.id.into())?);
        for visit in engine.builds.iter().flat_map(|build| &build.visits) {
            cards.push((day_of(visit.created_ms), texts(app.record.fields(visit.id.into())?)));
        }
        let first = cards.iter().map(|(day, _)| *day).min().unwrap_or_else(today);
        cards.push((first, of_engine.clone()));
        let visits = || cards.iter().map(|(day, entries)| Visit { day: *day, entries });
        let tasks = Tasks::built_in();
        let kind = session::actuator(&card.texts()).key();
        let plan = Plan::read(&of_engine, tasks, kind, units);
        let history = History::read(tasks, visits());
        let problems =
            plan.problems.iter().chain(&history.problems).map(|problem| problem.message.clone()).collect();
        Ok(Self { due: due(tasks, &plan, &history, &Now::of(today(), visits())), problems })
    }
}

fn texts(fields: BTreeMap<String, record::Field>) -> BTreeMap<String, String> {
    fields.into_iter().map(|(key, field)| (key, field.text)).collect()
}

/// What an engine's page reminds of.
///
/// # Errors
/// Those of the record.
pub(in crate::web) fn reminder(app: &App, card: &Card, units: Units) -> Result<Markup, RecordError> {
    let care = Care::of(app, card, units)?;
    // Before anything was noted every task is "never done": that is no reminder but the state of an empty book.
    let asked: Vec<&Due> =
        care.due.iter().filter(|due| matches!(due.state, DueState::Due | DueState::Soon)).collect();
    Ok(html! {
        @if !asked.is_empty() {
            section.panel aria-labelledby="due-title" {
                h2 #due-title { "Due on this engine" }
                ul.plain-list { @for due in asked.iter().take(4) { li { (pill(due.state)) " " strong { (due.title) } ". " (glued(&due.text)) } } }
                p.actions { a.button href={ (card.base()) "/care" } { "See all care" } }
            }
        }
    })
}

/// The page.
pub(super) async fn show_care(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
) -> Result<Markup, Refusal> {
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let care = Care::of(&app, &card, choices.units)?;
        let base = card.base();
        let here = format!("{base}/care");
        let frame = Shell { title: "Care", here: Some(&here), base: Some(&base), class: "form bench" };
        Ok(shell(choices, &frame, &page(&card, &care, &base)))
    })
    .await?
}

fn page(card: &Card, care: &Care, base: &str) -> Markup {
    html! {
        header.page-head {
            h1 { "Care" }
            p.muted { a href=(base) { (card.place.engine.name) ", " (card.place.visit.name) } }
            p.lead { "What is due by hours, distance, season and use, and by how this engine was found before. The maker's manual comes first: enter its intervals." }
        }
        @for problem in &care.problems { p.caution { (icon::WARN) (problem) } }
        form.fields #fields method="post" action={ (base) "/entries" } data-save={ (base) "/field" } data-step="plain" autocomplete="off" {
            button type="submit" hidden { "Save" }
            input type="hidden" name="back" value="/care";
            section.panel.group aria-labelledby="counters" {
                h2 #counters { "Now" }
                (field(card, "care.hours", "Engine hours on this visit", "42.5 h"))
                (field(card, "care.distance", "Distance on this visit", "3200 km"))
                (field(card, "care.use", "How it is used, with commas between: road, town, competition, dust, rich-oil", "road, dust"))
                (field(card, "care.oil", "Two-stroke oil: mineral-oil or synthetic-oil", "synthetic-oil"))
                (field(card, "care.season", "Season", "April to October"))
            }
            section.panel.group aria-labelledby="tasks" {
                h2 #tasks { "Tasks, the most urgent first" }
                p.muted { "The list is put in order again when the page is loaded." }
                @for due in &care.due { (task(card, due)) }
            }
            div.actions.stay {
                a.button.strong href={ (base) "/care" } { "Put in order again" }
                button.button.no-script type="submit" { "Save" }
                p.saved.only-script #saved role="status" { "Each entry is saved as it is left." }
            }
        }
    }
}

fn pill(state: DueState) -> Markup {
    let (class, word) = match state {
        DueState::Due => ("bad", "due"),
        DueState::NeverDone => ("open", "never noted"),
        DueState::Soon => ("warn", "soon"),
        DueState::CannotTell => ("warn", "cannot tell"),
        DueState::Later => ("good", "later"),
    };
    html! { span class={ "pill " (class) } { (word) } }
}

fn task(card: &Card, due: &Due) -> Markup {
    let key = format!("care.{}", due.task);
    html! {
        div.phase {
            div.title-row { h3 { (due.title) } (pill(due.state)) }
            p { (glued(&due.text)) }
            p.small.muted { (due.why) }
            (done(card, &key))
            details.ways {
                summary { "How, and how often" }
                p { (due.how) }
                p { "Every: " (glued(&due.interval)) " (" (due.figures) "). About " (format!("{:.0}", due.minutes)) " min. " (due.source) "." }
                @if let Some(learned) = due.learned.as_ref().filter(|learned| !learned.text.is_empty()) { p { (learned.text) } }
                (field(card, &format!("{key}.last"), "Done before this record began", "2023-05-12, 40 h, 3100 km, stiff"))
                (field(card, &format!("{key}.hours"), "Own interval in hours", "20 h"))
                (field(card, &format!("{key}.distance"), "Own interval in distance", "1500 km"))
                (field(card, &format!("{key}.months"), "Own interval in months", "12 months"))
                (field(card, &format!("{key}.source"), "Where it stands", "service manual, page 3-4"))
            }
        }
    }
}

/// Whether it was done on this visit, and how the part was found.
fn done(card: &Card, key: &str) -> Markup {
    let (id, saved) = (anchor(key), card.text(key));
    let ways = [
        ("", "not done on this visit"),
        ("clean", "done, found clean and free"),
        ("usual", "done, found as usual"),
        ("stiff", "done, found stiff or off"),
        ("stuck", "done, found stuck or parted"),
    ];
    let known = ways.iter().any(|(value, _)| *value == saved);
    html! {
        div.field.bare data-field=(key) {
            label for=(id) { "On this visit" }
            select id=(id) name={ "t:" (key) } data-key=(key) data-saved=(saved) {
                @if !known { option value=(saved) selected { (saved) } }
                @for (value, words) in ways { option value=(value) selected[value == saved] { (words) } }
            }
            (version(card, key))
            div.note aria-live="polite" {}
        }
    }
}

fn version(card: &Card, key: &str) -> Markup {
    html! { input type="hidden" name={ "v:" (key) } value=[card.fields.get(key).map(|field| field.version)]; }
}

fn field(card: &Card, key: &str, label: &str, example: &str) -> Markup {
    let (id, saved) = (anchor(key), card.text(key));
    html! {
        div.field.bare data-field=(key) {
            label for=(id) { (label) }
            input id=(id) type="text" name={ "t:" (key) } value=(saved) data-key=(key) data-saved=(saved) placeholder=(example) spellcheck="false";
            (version(card, key))
            div.note aria-live="polite" {}
        }
    }
}
