//! A dynamometer sheet beside the computed curve.

use super::super::subject::Card;
use super::table::rpm;
use engine::model::Engine;
use gas::correction::{Day, Rule};
use maud::{Markup, html};
use quantity::Units;
use workshop::power::{Beside, MeasuredCurve, MeasuredProblem, Told, torque_text};

/// Where the job card keeps sheet and rule.
const SHEET: &str = "power.sheet";
const RULE: &str = "power.rule";

/// What was typed.
pub(super) struct Typed {
    text: String,
    version: Option<i64>,
    rule: Option<Rule>,
    rule_text: String,
    rule_version: Option<i64>,
    read: Result<MeasuredCurve, Vec<MeasuredProblem>>,
}

pub(super) fn read(card: &Card) -> Typed {
    let text = card.text(SHEET).to_owned();
    let version = |key: &str| card.fields.get(key).map(|field| field.version);
    let rule_text = card.text(RULE).to_owned();
    Typed {
        read: MeasuredCurve::read(&text),
        rule: Rule::ALL.into_iter().find(|rule| word(*rule) == rule_text),
        version: version(SHEET),
        rule_version: version(RULE),
        text,
        rule_text,
    }
}

/// Word of a rule in the record.
fn word(rule: Rule) -> &'static str {
    match rule {
        Rule::SaeJ1349 => "sae-j1349",
        Rule::Iso1585 => "iso-1585",
        Rule::SaeJ607 => "sae-j607",
        Rule::Din70020 => "din-70020",
    }
}

/// The sheet as it was on the day: one that says it was corrected is taken back, where the engine file gives the air.
fn on_the_day(typed: &Typed, engine: &Engine) -> Option<MeasuredCurve> {
    let curve = typed.read.as_ref().ok()?;
    let back = |rule: Rule| curve.as_on_the_day(rule, &Day::of(engine.gas.ambient.as_ref()?)).ok();
    Some(typed.rule.and_then(back).unwrap_or_else(|| curve.clone()))
}

/// Measured points beside the computed curve: speed rad/s, torque N m.
pub(super) fn points(typed: &Typed, engine: &Engine) -> Vec<(f64, f64)> {
    let points = on_the_day(typed, engine).unwrap_or_default().points;
    points.iter().map(|point| (point.speed_rad_s, point.torque_n_m)).collect()
}

pub(super) fn section(card: &Card, typed: &Typed, engine: &Engine, told: &Told, units: Units) -> Markup {
    html! {
        section.panel #measured aria-labelledby="measured-title" {
            h2 #measured-title { "A measured curve beside it" }
            form.fields #fields method="post" action={ (card.base()) "/entries" } data-save={ (card.base()) "/field" } data-step="plain" autocomplete="off" {
                input type="hidden" name="back" value="/power#measured";
                div.field data-field=(SHEET) {
                    label for="sheet" { "Speed and torque or power, one point a line" }
                    textarea #sheet name={ "t:" (SHEET) } rows="6" maxlength="20000" data-key=(SHEET) data-saved=(typed.text) placeholder="8000 rpm; 18.2 N·m" { "\n" (typed.text) }
                    input type="hidden" name={ "v:" (SHEET) } value=[typed.version];
                    div.note aria-live="polite" {}
                }
                div.field data-field=(RULE) {
                    label for="rule" { "The sheet's figures are" }
                    select #rule name={ "t:" (RULE) } data-key=(RULE) data-saved=(typed.rule_text) {
                        option value="" selected[typed.rule.is_none()] { "as measured on the day" }
                        @for rule in Rule::ALL {
                            option value=(word(rule)) selected[typed.rule == Some(rule)] { "corrected by " (rule.name()) }
                        }
                    }
                    input type="hidden" name={ "v:" (RULE) } value=[typed.rule_version];
                    div.note aria-live="polite" {}
                }
                div.actions {
                    button.button.strong type="submit" { "Lay it beside the map" }
                    p.saved.only-script #saved role="status" { "Saved as it is left." }
                }
            }
            @match &typed.read {
                Err(problems) => div role="alert" { ul { @for problem in problems.iter().take(20) { li { "Line " (problem.line) ": " (problem.text) } } } },
                Ok(curve) if curve.points.is_empty() => p.muted { "Nothing is entered. A CSV file can be pasted here: two columns, units in the heading or beside each figure." },
                Ok(_) => (compared(typed, engine, told, units)),
            }
        }
    }
}

/// Each measured point with what was computed there.
fn compared(typed: &Typed, engine: &Engine, told: &Told, units: Units) -> Markup {
    let beside = on_the_day(typed, engine).unwrap_or_default().beside(told);
    html! {
        table.wide {
            thead { tr { th scope="col" { "Speed" } th scope="col" { "Measured" } th scope="col" { "Computed" } th scope="col" { "Computed over measured" } } }
            tbody {
                @for point in &beside {
                    tr {
                        th scope="row" { (rpm(point.measured.speed_rad_s)) }
                        td data-label="Measured" { (torque_text(point.measured.torque_n_m, 1, units)) }
                        td data-label="Computed" { (point.computed_n_m.map_or_else(|| "outside of the map".to_owned(), |t| torque_text(t, 1, units))) }
                        td data-label="Over measured" { (point.ratio().map_or_else(|| "–".to_owned(), |ratio| format!("{ratio:.2}"))) }
                    }
                }
            }
        }
        @if let Some(mean) = Beside::mean_ratio(&beside) {
            p { "On the average the computed torque is " (format!("{mean:.2}")) " times the measured one. What a chain, a roller and the tyre take stands in that too: a curve measured at the wheel lies lower." }
        }
        @if let Some(rule) = typed.rule {
            @match engine.gas.ambient.as_ref().map(|day| rule.correct(&Day::of(day))) {
                Some(Ok(correction)) => {
                    p { "Taken back to the air of the day: divided by " (format!("{:.3}", correction.factor)) ", the factor of " (rule.name()) "." }
                    @for caution in &correction.cautions { p.muted.small { (caution) } }
                }
                Some(Err(why)) => p { (why) },
                None => p { "The engine file gives no air of the day: the sheet is shown as it is." },
            }
        }
    }
}
