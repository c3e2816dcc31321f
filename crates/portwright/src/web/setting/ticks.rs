//! Which steps of a setting are done: ticked at the bike, kept with the job card.

use super::super::App;
use super::super::subject::Subject;
use maud::{Markup, html};
use record::{Field, RecordError};
use std::collections::BTreeMap;
use workshop::report::Step;

/// The ticks of a job card; none for a kept result, which is done with.
pub(super) struct Ticks(Option<Fields>);

struct Fields {
    base: String,
    fields: BTreeMap<String, Field>,
}

impl Ticks {
    /// Takes them from the record.
    pub(super) fn of(app: &App, subject: &Subject) -> Result<Self, RecordError> {
        if subject.result.is_some() {
            return Ok(Self(None));
        }
        let fields = app.record.fields(subject.place.visit.id.into())?;
        Ok(Self(Some(Fields { base: subject.base.clone(), fields })))
    }

    /// The form that saves them; the boxes stand elsewhere on the page.
    pub(super) fn form(&self) -> Markup {
        html! {
            @if let Some(ticks) = &self.0 {
                form #ticks method="post" action={ (ticks.base) "/entries" } data-save={ (ticks.base) "/field" } data-step="plain" {
                    input type="hidden" name="back" value="/setting#steps";
                    p.saved.only-script #saved role="status" { "Tick what is done: each tick is saved at once." }
                }
            }
        }
    }

    /// The box of one step.
    pub(super) fn tick(&self, step: &Step) -> Markup {
        let key = key_of(step);
        html! {
            @if let Some(ticks) = &self.0 {
                @let field = ticks.fields.get(&key);
                @let text = field.map_or("", |field| field.text.as_str());
                div.field.bare data-field=(key) {
                    label.check {
                        input type="checkbox" form="ticks" name={ "t:" (key) } value="yes" checked[text == "yes"]
                            data-key=(key) data-saved=(text);
                        "Done"
                        span.unseen { ": " (step.title) }
                    }
                    input type="hidden" form="ticks" name={ "v:" (key) } value=[field.map(|field| field.version)];
                    div.note aria-live="polite" {}
                }
            }
        }
    }
}

/// By the step's words, not its number: a step that comes between moves no tick.
fn key_of(step: &Step) -> String {
    let mut key = "done.".to_owned();
    for letter in step.title.chars().take(90) {
        let letter = letter.to_ascii_lowercase();
        if letter.is_ascii_alphanumeric() {
            key.push(letter);
        } else if !key.ends_with(['-', '.']) {
            key.push('-');
        }
    }
    key
}
