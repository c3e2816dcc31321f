//! Ports: added, removed and brought back, moved up and down.

use super::save::put;
use crate::web::refusal::Refusal;
use crate::web::subject::Card;
use crate::web::{App, work};
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::response::Redirect;
use engine::file::fields::Field;
use maud::{Markup, html};
use record::{RecordError, VisitId};
use serde::Deserialize;
use std::collections::BTreeSet;
use std::sync::Arc;
use workshop::form::{Move, Step, add_port, move_port, port_numbers, remove_port};

/// Groups of ports that can be added.
const GROUPS: [(&str, &str); 5] = [
    ("exhaust main", "Exhaust port"),
    ("exhaust auxiliary", "Further exhaust port"),
    ("transfer", "Transfer port"),
    ("boost", "Boost port"),
    ("inlet", "Inlet port"),
];

/// What is to be done with the ports.
#[derive(Deserialize)]
pub(in crate::web) struct Wish {
    /// `add transfer`, `remove 2`, `up 2`, `down 2`, `restore 2`.
    act: String,
}

/// Changes the ports.
pub(in crate::web) async fn change_ports(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    form: Result<Form<Wish>, FormRejection>,
) -> Result<Redirect, Refusal> {
    let Form(wish) = form.map_err(|error| Refusal::bad_form(&error.body_text()))?;
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let texts = card.file_texts();
        let (act, with) = wish.act.split_once(' ').unwrap_or((&wish.act, ""));
        let place = with.parse::<u32>().ok();
        let (changes, at) = match (act, place) {
            ("add", _) if GROUPS.iter().any(|(group, _)| *group == with) => {
                let (place, changes) = add_port(&texts, with);
                (changes, Some(place))
            }
            ("remove", Some(place)) => (remove_port(&texts, place), None),
            ("up", Some(place)) => (move_port(&texts, place, Move::Up), Some(place)),
            ("down", Some(place)) => (move_port(&texts, place, Move::Down), Some(place)),
            ("restore", Some(place)) => (former(&app, &card, place)?, Some(place)),
            _ => return Err(Refusal::not_taken("Ports can be added, removed, moved and brought back only.")),
        };
        put(&app, card.place.build.id.into(), changes)?;
        let at = at.map_or_else(|| "#removed".to_owned(), |place| format!("#group-port-{place}"));
        Ok(Redirect::to(&format!("{}/step/{}{at}", card.base(), Step::Ports.slug())))
    })
    .await?
}

/// The texts that a removed port had; also that of `valve.covers`, if it was changed by the removal.
fn former(app: &App, card: &Card, place: u32) -> Result<Vec<(String, String)>, RecordError> {
    let owner = card.place.build.id.into();
    let prefix = format!("port.{place}.");
    let removed_ms = card
        .fields
        .iter()
        .filter(|(key, _)| key.starts_with(&prefix))
        .map(|(_, field)| field.changed_ms)
        .max();
    let mut texts = Vec::new();
    for (key, field) in &card.fields {
        let of_port = key.starts_with(&prefix) && field.text.is_empty();
        let with_it = matches!(key.as_str(), "valve.covers" | "sure");
        if !(of_port || with_it) || Some(field.changed_ms) != removed_ms {
            continue;
        }
        let history = app.record.history(owner, key)?;
        let before = history.into_iter().filter(|past| past.version < field.version);
        texts.extend(before.max_by_key(|past| past.version).map(|past| (key.clone(), past.text)));
    }
    Ok(texts)
}

/// Buttons of one port. They belong to the form of the ports, not to that of the fields around them.
pub(super) fn ordering(place: u32, ports: usize) -> Markup {
    html! {
        div.actions.ordering {
            @if ports > 1 {
                button.button type="submit" form="ports" name="act" value={ "up " (place) } { "Up" }
                button.button type="submit" form="ports" name="act" value={ "down " (place) } { "Down" }
            }
            button.button type="submit" form="ports" name="act" value={ "remove " (place) } { "Remove" }
        }
    }
}

/// Ports that can be added.
pub(super) fn adding(card: &Card) -> Markup {
    html! {
        section.panel aria-labelledby="add-title" {
            h2 #add-title { "Add a port" }
            form.actions #ports method="post" action={ (card.base()) "/ports" } {
                @for (group, label) in GROUPS {
                    button.button type="submit" name="act" value={ "add " (group) } { (label) }
                }
            }
        }
    }
}

/// Ports that were removed, each with the way back.
pub(super) fn removed(card: &Card) -> Markup {
    let texts = card.file_texts();
    let there = port_numbers(&texts);
    let gone: BTreeSet<u32> = card
        .fields
        .keys()
        .filter_map(|key| Field::named(key).filter(|field| field.section.path == "port")?.place)
        .filter(|place| !there.contains(place))
        .collect();
    html! {
        @if !gone.is_empty() {
            section.panel #removed aria-labelledby="removed-title" {
                h2 #removed-title { "Removed ports" }
                form.actions method="post" action={ (card.base()) "/ports" } {
                    @for place in gone {
                        button.button type="submit" name="act" value={ "restore " (place) } { "Bring back port " (place) }
                    }
                }
            }
        }
    }
}
