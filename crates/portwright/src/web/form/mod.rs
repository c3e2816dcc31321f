//! The form of one step: one question a row, saved as it is left.

mod field;
pub(super) mod ports;
pub(in crate::web) mod save;
pub(super) mod sketch;

use super::choices::Choices;
use super::icon;
use super::page::{Shell, capital, shell};
use super::refusal::Refusal;
use super::subject::Card;
use super::{App, bench, work};
use axum::extract::{Path, State};
use field::Row;
use maud::{Markup, html};
use quantity::Units;
use record::{RecordError, VisitId};
use std::collections::BTreeMap;
use std::sync::Arc;
use workshop::form::{FormField, FormGroup, FormItem, FormPage, OneOf, Step};

/// Id of a field's input, for links that lead to it.
pub(super) fn anchor(key: &str) -> String {
    format!("field-{}", key.replace('.', "-"))
}

/// Texts that were sent but not saved, because the record held another by then.
pub(super) type Unsaved = BTreeMap<String, String>;

/// The form of a step.
pub(super) async fn show_form(
    State(app): State<Arc<App>>,
    choices: Choices,
    Path((id, step)): Path<(i64, String)>,
) -> Result<Markup, Refusal> {
    let step = step_named(&step)?;
    work(move || Ok(page(choices, &Card::open(&app, VisitId(id))?, step, &Unsaved::new()))).await?
}

/// A step that has a form.
fn step_named(slug: &str) -> Result<Step, Refusal> {
    Step::from_slug(slug).filter(|step| !step.sections().is_empty()).ok_or_else(Refusal::no_page)
}

/// The steps that have a form, in their order.
fn steps() -> impl Iterator<Item = Step> {
    Step::ALL.into_iter().filter(|step| !step.sections().is_empty())
}

/// The step after this one.
fn after(step: Step) -> Option<Step> {
    steps().find(|next| *next > step)
}

/// What a field stands on: a step of the path, or another page of the job card.
enum Part {
    Step(Step),
    /// A bench check, by its key.
    Check(String),
    /// Nothing is said beside its entries.
    Plain,
}

impl Part {
    /// As pages name it.
    fn named(name: &str) -> Result<Self, Refusal> {
        if let Some(check) = name.strip_prefix(bench::CHECK_PART) {
            return Ok(Self::Check(check.to_owned()));
        }
        if name == "plain" { Ok(Self::Plain) } else { step_named(name).map(Self::Step) }
    }

    /// What is said beside each of its fields, and whether the field applies.
    fn notes(
        &self,
        app: &App,
        card: &Card,
        units: Units,
    ) -> Result<BTreeMap<String, (String, bool)>, RecordError> {
        match self {
            Self::Step(step) => Ok(notes(card, *step, units)),
            Self::Check(key) => bench::notes(app, card, key, units),
            Self::Plain => Ok(BTreeMap::new()),
        }
    }
}

fn page(choices: Choices, card: &Card, step: Step, unsaved: &Unsaved) -> Markup {
    let texts = card.file_texts();
    let form = workshop::form::page(step, &texts, choices.units);
    let base = card.base();
    let here = format!("{base}/step/{}", step.slug());
    let title = format!("{}: {}", form.title, card.place.engine.name);
    let frame = Shell { title: &title, here: Some(&here), base: Some(&base), class: "form" };
    let row = |field: &FormField| field::row(&Row { field, card, unsaved: unsaved.get(&field.key) });
    shell(
        choices,
        &frame,
        &html! {
            header.page-head {
                p.eyebrow { a href=(base) { (card.place.engine.name) } ", " (of_what(card, step)) }
                h1 { (form.title) }
                p.lead { (form.text) }
            }
            (places(&base, step))
            @if !unsaved.is_empty() {
                p.caution role="alert" {
                    (icon::WARN) "Some entries were changed elsewhere since this page was opened. Both texts stand below: choose, then save."
                }
            }
            @for problem in &form.problems { p.caution { (icon::WARN) (capital(problem)) "." } }
            form.fields #fields method="post" action=(here) data-save={ (base) "/field" } data-step=(step.slug()) autocomplete="off" {
                // Enter in a field saves and stays; the first button of a form is the one it presses.
                button type="submit" hidden { "Save" }
                @for group in &form.groups { (group_of(group, &row, &form)) }
                div.actions.stay {
                    @if let Some(next) = after(step) {
                        button.button.strong type="submit" name="go" value="next" { "Save, then " (next.title()) }
                    } @else {
                        button.button.strong type="submit" name="go" value="path" { "Save, then to the path" }
                    }
                    button.button.no-script type="submit" { "Save" }
                    p.saved.only-script #saved role="status" { "Each entry is saved as it is left." }
                }
            }
            @if form.repeats { (ports::adding(card)) (ports::removed(card)) }
        },
    )
}

fn of_what(card: &Card, step: Step) -> &str {
    if step.describes() { &card.place.build.name } else { &card.place.visit.name }
}

/// The other steps: the order is a proposal.
fn places(base: &str, step: Step) -> Markup {
    html! {
        nav.places aria-label="Steps" {
            @for other in steps() {
                a href={ (base) "/step/" (other.slug()) } aria-current=[(other == step).then_some("page")] { (other.title()) }
            }
        }
    }
}

fn group_of(group: &FormGroup, row: &dyn Fn(&FormField) -> Markup, form: &FormPage) -> Markup {
    let id = format!("group-{}", group.key.replace('.', "-"));
    html! {
        section.panel.group aria-labelledby=(id) {
            div.title-row {
                h2 id=(id) { (group.title) }
                @if let Some(place) = group.place.filter(|_| form.repeats) { (ports::ordering(place, form.groups.len())) }
            }
            @if !group.text.is_empty() { p.muted { (group.text) } }
            @for item in &group.items {
                @match item {
                    FormItem::Field(field) => (row(field)),
                    FormItem::OneOf(one) => (one_of(one, row)),
                }
            }
        }
    }
}

/// One thing that can be measured in several ways.
fn one_of(one: &OneOf, row: &dyn Fn(&FormField) -> Markup) -> Markup {
    let others = one.ways.iter().enumerate().filter(|(at, _)| *at != one.shown);
    // A second way with a text is a clash of two figures: it must be seen.
    let second = one.ways.iter().filter(|way| !way.text.trim().is_empty()).count() > 1;
    html! {
        fieldset.one-of {
            legend { (one.label) @if one.required { span.muted.small { " needed, in one of its ways" } } }
            @if let Some(way) = one.ways.get(one.shown) { (row(way)) }
            @if one.ways.len() > 1 {
                details.ways open[second] {
                    summary { "Measured another way" }
                    @for (_, way) in others { (row(way)) }
                }
            }
        }
    }
}

/// What is said beside each field of a step, and whether the field applies, after one of them was saved.
fn notes(card: &Card, step: Step, units: Units) -> BTreeMap<String, (String, bool)> {
    let form = workshop::form::page(step, &card.file_texts(), units);
    let fields = form.groups.iter().flat_map(|group| &group.items).flat_map(|item| match item {
        FormItem::Field(field) => vec![field.as_ref()],
        FormItem::OneOf(one) => one.ways.iter().collect(),
    });
    fields.map(|field| (field.key.clone(), (field::note(field).into_string(), field.applies))).collect()
}
