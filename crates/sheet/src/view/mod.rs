//! The report as the template reads it: texts, truth values, lists; no numbers and no markup.

mod annex;
mod end;
mod readings;
mod stop;
mod work;

use crate::content::{Drawing, Place, SheetContent};
use crate::words::{printable, printable_name, probability, unsigned};
use typst::foundations::{Array, Bytes, Dict, IntoValue, Value, dict};
use workshop::report::{Caution, Outcome, Report, Row};

/// Builds the template's input.
pub(crate) fn of(content: &SheetContent<'_>) -> Dict {
    let report = content.report;
    let may_work = may_work(report);
    dict! {
        "head" => head(content),
        "stop" => stop::of(report),
        "may-work" => may_work,
        "matters" => text(if may_work { &report.matters } else { "" }),
        "ends" => list(&report.ends, |e| end::of(e, may_work)),
        "ends-drawing" => if may_work { drawing(content, Place::Ends) } else { Value::None },
        "gates" => list(&report.gates, work::gate),
        "steps" => if may_work { steps(content) } else { Array::new() },
        "returns" => if may_work { readings::returns(report) } else { Array::new() },
        "also-found" => if may_work { readings::also_found(report) } else { Array::new() },
        "as-found" => if may_work { readings::only_found(report) } else { list(&report.as_found, row) },
        "row" => if may_work { row_of_drawings(content) } else { Array::new() },
        "measurements" => list(&report.engine.measurements, row),
        "findings" => list(&report.findings, work::finding),
        "assumptions" => list(&report.assumptions, |a| dict! { "key" => text(&a.key), "text" => text(&a.text), "cost" => text(&a.cost) }),
        "notes" => list(&report.model_notes, |n| text(n)),
        "cautions" => cautions(&report.cautions),
        "deferral" => text(deferral(&report.cautions)),
        "annex" => annex::of(&content.annex),
    }
}

/// True when steps, and what they lead to, may be printed at all.
pub(crate) fn may_work(report: &Report) -> bool {
    !matches!(report.outcome, Outcome::Questions | Outcome::GateStops) && report.questions.is_empty()
}

fn steps(content: &SheetContent<'_>) -> Array {
    let steps = content.report.steps.iter().enumerate();
    steps.map(|(i, step)| work::step(step, drawing(content, Place::Turn(i))).into_value()).collect()
}

/// Longest engine name in the foot of a page, in characters.
const SHORT_NAME: usize = 60;

fn head(content: &SheetContent<'_>) -> Dict {
    let engine = &content.report.engine;
    dict! {
        "title" => text(content.title.as_deref().unwrap_or("Set-up sheet")),
        "engine" => name(&engine.name),
        "short" => text(&engine.name.chars().take(SHORT_NAME).collect::<String>()),
        "invented" => engine.invented,
        "note" => optional(engine.note.as_deref()),
        "date" => optional(content.date.as_deref()),
        "headline" => text(&content.report.headline),
    }
}

/// The caution that defers to the maker stands apart from the others, above the signature.
fn defers(caution: &Caution) -> bool {
    caution.title.to_lowercase().contains("manual")
}

fn cautions(cautions: &[Caution]) -> Array {
    let boxed = cautions.iter().filter(|c| !defers(c));
    boxed.map(|c| dict! { "title" => text(&c.title), "text" => text(&c.text) }.into_value()).collect()
}

const DEFERRAL: &str = "The maker's service manual, local rules and licensed practice go before every figure printed \
                        here. Where they differ, follow them.";

fn deferral(cautions: &[Caution]) -> &str {
    cautions.iter().find(|c| defers(c)).map_or(DEFERRAL, |c| &c.text)
}

/// The first drawing for a place; none when there is none.
fn drawing(content: &SheetContent<'_>, place: Place) -> Value {
    content.drawings.iter().find(|d| d.place == place).map_or(Value::None, shown)
}

fn row_of_drawings(content: &SheetContent<'_>) -> Array {
    content.drawings.iter().filter(|d| d.place == Place::Row).map(shown).collect()
}

fn shown(drawing: &Drawing) -> Value {
    dict! { "caption" => text(&drawing.caption), "svg" => Bytes::from_string(drawing.svg.clone()) }
        .into_value()
}

fn row(row: &Row) -> Dict {
    dict! { "label" => text(&row.label), "value" => text(&row.value) }
}

/// A list of parts, each turned into a value.
pub(crate) fn list<T, V: IntoValue>(parts: &[T], turn: impl Fn(&T) -> V) -> Array {
    parts.iter().map(|part| turn(part).into_value()).collect()
}

/// A text as a value.
pub(crate) fn text(text: &str) -> Value {
    Value::Str(printable(text).into())
}

/// A name as a value, shorter than other texts.
pub(crate) fn name(name: &str) -> Value {
    Value::Str(printable_name(name).into())
}

/// A text that may be missing or empty.
pub(crate) fn optional(text_or_none: Option<&str>) -> Value {
    text_or_none.filter(|t| !t.trim().is_empty()).map_or(Value::None, text)
}
