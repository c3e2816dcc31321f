//! The drawing of what a field asks for, with the figures that are known.

use crate::web::choices::Choices;
use crate::web::moving::still;
use crate::web::page::{Shell, shell};
use crate::web::refusal::Refusal;
use crate::web::subject::Card;
use crate::web::{App, work};
use axum::extract::{Path, Query, State};
use maud::{Markup, html};
use record::VisitId;
use serde::Deserialize;
use std::sync::Arc;
use workshop::form::{Step, full_label, illustration_for};

/// Which drawing is asked for.
#[derive(Deserialize)]
pub(in crate::web) struct Asked {
    key: String,
    /// Present when the drawing alone is wanted, to be put into the form.
    bare: Option<String>,
}

/// The drawing alone, or on a page of its own where no script can put it into the form.
pub(in crate::web) async fn show_sketch(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path(id): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let card = Card::open(&app, VisitId(id))?;
        let texts = card.file_texts();
        let scene = illustration_for(&asked.key, &texts, choices.units).ok_or_else(Refusal::no_page)?;
        if asked.bare.is_some() {
            return Ok(still(&scene));
        }
        let base = card.base();
        let label = full_label(&texts, &asked.key);
        let step = Step::of(&asked.key).ok_or_else(Refusal::no_page)?;
        let frame = Shell { title: &label, here: None, base: Some(&base), class: "narrow" };
        Ok(shell(
            choices,
            &frame,
            &html! {
                header.page-head { h1 { (label) } }
                figure.panel.scene { (still(&scene)) }
                p.actions {
                    a.button.strong href={ (base) "/step/" (step.slug()) "#" (super::anchor(&asked.key)) } { "Back to the form" }
                }
            },
        ))
    })
    .await?
}

/// The place of a drawing in the form: open where there is room, else opened as its field is entered.
pub(super) fn place(base: &str, key: &str) -> Markup {
    let address = format!("{base}/sketch?key={key}");
    html! {
        details.sketch.only-script data-sketch={ (address) "&bare=1" } {
            summary { "Drawing" }
            div.sketch-room {}
        }
        a.no-script href=(address) { "See a drawing of what is asked" }
    }
}
