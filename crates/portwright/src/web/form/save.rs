//! Saving what was typed, however wrong: one field as it is left, or a whole form.

use super::{Part, Unsaved, after, page, step_named};
use crate::paper::today;
use crate::returns;
use crate::web::choices::Choices;
use crate::web::moment;
use crate::web::refusal::Refusal;
use crate::web::subject::{Card, Subject, base_of};
use crate::web::{App, work};
use axum::Json;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use engine::file::fields::{Field, confirmed};
use quantity::Units;
use record::{Change, Owner, RecordError, Saved, VisitId};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use workshop::form::Step;

/// One field as the page's script sends it.
#[derive(Deserialize)]
pub(in crate::web) struct Left {
    key: String,
    text: String,
    /// The version that was on the page; empty when there was none.
    version: String,
    step: String,
}

/// What became of it.
#[derive(Serialize)]
struct Told {
    version: i64,
    clash: Option<Clash>,
    /// For every field of the step: what is said beside it, and whether it applies.
    notes: BTreeMap<String, (String, bool)>,
}

#[derive(Serialize)]
struct Clash {
    text: String,
    when: String,
}

/// Saves one field as it is left.
pub(in crate::web) async fn save_one(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
    form: Result<Form<Left>, FormRejection>,
) -> Result<Response, Refusal> {
    let Form(left) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let Some(owner) = card.owner(&left.key) else {
            return Err(Refusal::not_taken(format!("No field is called '{}'.", left.key)));
        };
        let text = plain(&left.text);
        let saved = app.record.save_field(owner, &left.key, &text, left.version.parse().ok())?;
        let (version, clash) = match saved {
            Saved::Stored { version } | Saved::Same { version } => (version, None),
            Saved::Clash { text, version, changed_ms } => {
                (version, Some(Clash { text, when: moment::date_and_time(changed_ms) }))
            }
        };
        if clash.is_none() {
            follow_name(&app, &card, &left.key, &text)?;
        }
        let notes = Part::named(&left.step)?.notes(&app, &Card::open(&app, VisitId(id))?, choices.units)?;
        Ok(Json(Told { version, clash, notes }).into_response())
    })
    .await?
}

/// Saves a whole form; what cannot be saved because it was changed elsewhere is shown beside what stands there.
pub(in crate::web) async fn save_form(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path((id, step)): Path<(i64, String)>,
    form: Result<Form<Vec<(String, String)>>, FormRejection>,
) -> Result<Response, Refusal> {
    let Form(sent) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    let step = step_named(&step)?;
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let unsaved = save_all(&app, &card, &sent)?;
        let pressed = |name: &str| sent.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str());
        if let Some(key) = pressed("sure") {
            add_sure(&app, &Card::open(&app, VisitId(id))?, key)?;
        }
        if !unsaved.is_empty() {
            let page = page(choices, &Card::open(&app, VisitId(id))?, step, &unsaved);
            return Ok((StatusCode::CONFLICT, page).into_response());
        }
        Ok(Redirect::to(&match (pressed("go"), pressed("sure")) {
            (Some("next"), _) => match after(step) {
                Some(next) => format!("{}/step/{}", card.base(), next.slug()),
                None => card.base(),
            },
            (Some(_), _) => card.base(),
            (None, Some(key)) => format!("{}/step/{}#{}", card.base(), step.slug(), super::anchor(key)),
            (None, None) => format!("{}/step/{}", card.base(), step.slug()),
        })
        .into_response())
    })
    .await?
}

/// Saves the entries of a page that is no step, and goes back to it.
pub(in crate::web) async fn save_entries(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Result<Form<Vec<(String, String)>>, FormRejection>,
) -> Result<Response, Refusal> {
    let Form(sent) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let unsaved = save_all(&app, &card, &sent)?;
        if !unsaved.is_empty() {
            return Err(Refusal::changed_elsewhere(&card.base()));
        }
        let back = sent.iter().find(|(name, _)| name == "back").map_or("", |(_, page)| page.as_str());
        // Only ever to a page of the same job card.
        let plain_name =
            back.bytes().all(|letter| letter.is_ascii_alphanumeric() || b"-/#".contains(&letter));
        let page = if plain_name { back } else { "" };
        Ok(Redirect::to(&format!("{}{page}", card.base())).into_response())
    })
    .await?
}

/// Saves the fields of a form and gives those that were changed elsewhere meanwhile.
fn save_all(app: &App, card: &Card, sent: &[(String, String)]) -> Result<Unsaved, RecordError> {
    let value = |name: String| sent.iter().find(|(key, _)| *key == name).map(|(_, value)| value.as_str());
    let mut by_owner: BTreeMap<Owner, Vec<Change>> = BTreeMap::new();
    for (name, text) in sent {
        let Some((key, owner)) = name.strip_prefix("t:").and_then(|key| Some((key, card.owner(key)?))) else {
            continue;
        };
        if value(format!("theirs:{key}")).is_some() {
            continue;
        }
        let (key, text) = (key.to_owned(), plain(text));
        let based_on = value(format!("v:{key}")).and_then(|version| version.parse().ok());
        // An empty field that was never filled is not an entry.
        if !text.is_empty() || based_on.is_some() {
            by_owner.entry(owner).or_default().push(Change { key, text, based_on });
        }
    }
    let mut unsaved = Unsaved::new();
    for (owner, changes) in by_owner {
        let saved = app.record.save_fields(owner, &changes)?;
        for (change, saved) in changes.into_iter().zip(saved) {
            match saved {
                Saved::Clash { .. } if was_touched(app, owner, &change)? => {
                    unsaved.insert(change.key, change.text);
                }
                Saved::Stored { .. } => follow_name(app, card, &change.key, &change.text)?,
                Saved::Same { .. } | Saved::Clash { .. } => {}
            }
        }
    }
    Ok(unsaved)
}

/// True when the text is not the one that was on the page: only then someone wanted to change it.
fn was_touched(app: &App, owner: Owner, change: &Change) -> Result<bool, RecordError> {
    let history = app.record.history(owner, &change.key)?;
    let shown = history.into_iter().find(|past| Some(past.version) == change.based_on);
    Ok(shown.map(|past| past.text).unwrap_or_default() != change.text)
}

/// The engine is listed under the name that its build gives it.
fn follow_name(app: &App, card: &Card, key: &str, text: &str) -> Result<(), RecordError> {
    if key == "engine.name" && !text.trim().is_empty() {
        app.record.rename(card.place.engine.id.into(), text.trim())?;
    }
    Ok(())
}

/// A key whose odd figure is right.
#[derive(Deserialize)]
pub(in crate::web) struct Sure {
    key: String,
}

/// Notes that an odd figure was checked and is right.
pub(in crate::web) async fn confirm(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Result<Form<Sure>, FormRejection>,
) -> Result<Redirect, Refusal> {
    let Form(sure) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        add_sure(&app, &card, &sure.key)?;
        Ok(Redirect::to(&format!("{}/setting", card.base())))
    })
    .await?
}

fn add_sure(app: &App, card: &Card, key: &str) -> Result<(), RecordError> {
    if Field::named(key).is_none() {
        return Ok(());
    }
    put(app, card.place.build.id.into(), [("sure".to_owned(), confirmed(&card.file_texts(), key))])
}

/// Writes the readings of the proposed setting into the job card as its return values.
pub(in crate::web) async fn keep_returns(
    State(app): State<Arc<App>>,
    subject: Subject,
) -> Result<Redirect, Refusal> {
    work(move || {
        let visit = subject.place.visit.id;
        // Metric figures lose the least between writing and reading.
        let answer = subject.kept.answer(Units::Metric);
        let mut texts = returns::fields(&answer.report);
        texts.push(("returns.date".to_owned(), today()));
        put(&app, visit.into(), texts)?;
        Ok(Redirect::to(&format!("{}/step/{}", base_of(visit), Step::Returns.slug())))
    })
    .await?
}

/// Puts texts in place of those that stand there now.
pub(in crate::web) fn put(
    app: &App,
    owner: Owner,
    texts: impl IntoIterator<Item = (String, String)>,
) -> Result<(), RecordError> {
    let there = app.record.fields(owner)?;
    let changes: Vec<Change> = texts
        .into_iter()
        .map(|(key, text)| Change { based_on: there.get(&key).map(|field| field.version), key, text })
        .collect();
    app.record.save_fields(owner, &changes).map(|_| ())
}

/// Puts a whole set of fields in place of all those of a job card and its build.
pub(in crate::web) fn replace(
    app: &App,
    card: &Card,
    fields: &BTreeMap<String, String>,
) -> Result<(), RecordError> {
    let there = card.file_texts();
    let keys: BTreeSet<&String> = there.keys().chain(fields.keys()).collect();
    let mut by_owner: BTreeMap<Owner, Vec<(String, String)>> = BTreeMap::new();
    for key in keys {
        let text = fields.get(key).map_or("", String::as_str);
        if there.get(key).map_or("", String::as_str) != text {
            let Some(owner) = card.owner(key) else { continue };
            by_owner.entry(owner).or_default().push((key.clone(), text.to_owned()));
        }
    }
    for (owner, texts) in by_owner {
        put(app, owner, texts)?;
    }
    follow_name(app, card, "engine.name", fields.get("engine.name").map_or("", String::as_str))
}

/// Forms send CR LF; fields hold LF.
fn plain(text: &str) -> String {
    text.replace("\r\n", "\n")
}
