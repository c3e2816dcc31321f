//! One question: what is asked and from where it is measured, where it is entered, how it was understood.

use super::{anchor, sketch};
use crate::web::icon;
use crate::web::page::{capital, glued};
use crate::web::subject::Card;
use engine::file::fields::FieldState;
use maud::{Markup, html};
use workshop::form::{Choice, FieldKind, FormField};

/// One row of a form.
pub(super) struct Row<'a> {
    /// What is asked.
    pub(super) field: &'a FormField,
    /// The job card it is asked for.
    pub(super) card: &'a Card,
    /// A text that was sent but not saved.
    pub(super) unsaved: Option<&'a String>,
}

/// The row.
pub(super) fn row(row: &Row<'_>) -> Markup {
    let Row { field, card, unsaved } = row;
    let id = anchor(&field.key);
    let version = card.fields.get(&field.key).map(|field| field.version);
    let text = unsaved.map_or(field.text.as_str(), String::as_str);
    html! {
        div.field data-field=(field.key) hidden[!field.applies] {
            div.ask {
                label for=(id) { (field.label) @if field.required { span.muted.small { " needed" } } }
                div.small.muted id={ (id) "-help" } {
                    p { (field.help) }
                    @if !field.from.is_empty() { p { "Measured from: " (field.from) "." } }
                    @if let Some(usual) = &field.usual { p { "Usual: " (glued(usual)) "." } }
                }
            }
            div.give {
                (input(field, text, &id))
                // The version that is on the page: what was changed elsewhere since is not written over.
                input type="hidden" name={ "v:" (field.key) } value=[version];
                (keys(field, &id))
                @if unsaved.is_some() { (clash(field)) }
                div.note id={ (id) "-note" } aria-live="polite" { (note(field)) }
            }
            @if field.illustration.is_some() { (sketch::place(&card.base(), &field.key)) }
        }
    }
}

fn input(field: &FormField, text: &str, id: &str) -> Markup {
    let name = format!("t:{}", field.key);
    let told = format!("{id}-help {id}-note");
    let wrong = (field.state == FieldState::Wrong).then_some("true");
    html! {
        @match &field.kind {
            FieldKind::Choice { options } => (select(&name, id, &told, text, field, options)),
            FieldKind::Flag => (select(&name, id, &told, text, field, &yes_or_no())),
            FieldKind::Points | FieldKind::Text { lines: true, .. } => {
                textarea id=(id) name=(name) rows="4" aria-describedby=(told) aria-invalid=[wrong]
                    data-key=(field.key) data-saved=(field.text) placeholder=(field.example) { "\n" (text) }
            },
            kind => {
                input id=(id) type="text" name=(name) value=(text) aria-describedby=(told) aria-invalid=[wrong]
                    inputmode=[matches!(kind, FieldKind::Number { .. }).then_some("numeric")]
                    data-key=(field.key) data-saved=(field.text) placeholder=(field.example)
                    spellcheck="false" autocapitalize="off" enterkeyhint="next";
            },
        }
    }
}

fn yes_or_no() -> [Choice; 2] {
    [("true", "yes"), ("false", "no")]
        .map(|(value, meaning)| Choice { value: value.to_owned(), meaning: meaning.to_owned() })
}

fn select(name: &str, id: &str, told: &str, text: &str, field: &FormField, options: &[Choice]) -> Markup {
    let known = text.is_empty() || options.iter().any(|option| option.value == text);
    html! {
        select id=(id) name=(name) aria-describedby=(told) data-key=(field.key) data-saved=(field.text) {
            option value="" selected[text.is_empty()] { "choose" }
            // What stands there and is none of the words is not lost by looking at it.
            @if !known { option value=(text) selected { (text) } }
            @for option in options {
                option value=(option.value) selected[option.value == text] { (worded(option)) }
            }
        }
    }
}

fn worded(option: &Choice) -> String {
    match option.value.as_str() {
        "true" | "false" => option.meaning.clone(),
        value => format!("{value}: {}", option.meaning),
    }
}

/// Large buttons that type for a hand in gloves.
fn keys(field: &FormField, id: &str) -> Markup {
    let offered: &[String] = match &field.kind {
        FieldKind::Names { offered } => offered,
        _ => &[],
    };
    html! {
        @if !field.unit_keys.is_empty() || !offered.is_empty() {
            div.keys.only-script role="group" aria-label={ "Type into " (field.label) } {
                @for key in &field.unit_keys {
                    button.key-button type="button" data-types=(id) data-insert=(key.insert) data-whole[key.replaces] { (key.label) }
                }
                @for name in offered {
                    button.key-button type="button" data-types=(id) data-insert=(name) data-listed { (name) }
                }
            }
        }
    }
}

/// Two texts of one field, without scripts: one's own stands in the field, the other here.
fn clash(field: &FormField) -> Markup {
    html! {
        div.clash {
            p { strong { "Changed elsewhere meanwhile." } " There it says " q { (field.text) } ". Yours stands in the field." }
            label.check {
                input type="checkbox" name={ "theirs:" (field.key) } value="yes";
                "Take theirs instead"
            }
        }
    }
}

/// How the text was understood, what is wrong with it, or what not knowing it costs.
pub(super) fn note(field: &FormField) -> Markup {
    let empty = matches!(field.state, FieldState::Empty | FieldState::NotKnown);
    html! {
        @if let Some(problem) = &field.problem {
            p class=(if field.state == FieldState::Empty { "said open" } else { "said bad" }) {
                (icon::WARN) span { (capital(&glued(problem))) "." }
            }
        } @else if let Some(unknown) = field.unknown.as_ref().filter(|_| empty) {
            p.said { span { (glued(unknown)) @if !unknown.ends_with('.') { "." } } }
        } @else if let Some(shown) = field.shown.as_ref() {
            @if empty { p.said { span { (capital(&glued(shown))) "." } } }
            @else { p.said.good { (icon::PASS) span { "Read as " (glued(shown)) } } }
        }
        @if let Some(question) = &field.question {
            p.said.warn { (icon::UNSURE) span { (capital(&glued(question))) } }
            button.button type="submit" name="sure" value=(field.key) { "It was checked and is right" }
        }
    }
}
