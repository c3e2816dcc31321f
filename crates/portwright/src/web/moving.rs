//! The drawing that moves: valve gear and port at a chosen actuator travel and crank angle.

use super::choices::Choices;
use super::icon;
use super::refusal::Refusal;
use super::subject::Subject;
use super::work;
use axum::extract::Query;
use drawing::{Scene, Theme, to_svg};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use workshop::{Answer, Shown};

/// Crank angle shown first, degrees after top dead centre: the exhaust port is part open.
const FIRST_CRANK_DEG: f64 = 105.0;

/// The position asked for, as it stands in an address. Texts, so that a wrong one falls back instead of failing.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Asked {
    which: Option<String>,
    travel: Option<String>,
    crank: Option<String>,
}

/// A position that can be drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct View {
    which: Shown,
    travel_deg: f64,
    crank_deg: f64,
    full_deg: f64,
}

impl View {
    /// The position asked for, within what the gear can do; full travel and a part-open port when nothing is asked.
    pub(super) fn of(asked: &Asked, answer: &Answer) -> Self {
        let full_deg = answer.engine.servo.travel.value.to_degrees();
        let number = |text: &Option<String>, usual: f64, high: f64| {
            let asked = text.as_deref().and_then(|text| text.trim().parse::<f64>().ok());
            asked.filter(|value| value.is_finite()).unwrap_or(usual).clamp(0.0, high)
        };
        let found = asked.which.as_deref() == Some("found");
        Self {
            which: if found { Shown::Found } else { Shown::Proposed },
            travel_deg: number(&asked.travel, full_deg, full_deg),
            crank_deg: number(&asked.crank, FIRST_CRANK_DEG, 360.0),
            full_deg,
        }
    }
}

/// The drawings alone, for the script that moves the sliders.
pub(super) async fn show_fragment(
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || {
        let answer = subject.kept.answer(choices.units);
        drawings(&answer, View::of(&asked, &answer))
    })
    .await
}

/// The whole section with its controls.
pub(super) fn section(base: &str, answer: &Answer, view: View) -> Markup {
    html! {
        section.moving.panel #moving aria-labelledby="moving-title" data-drawing={ (base) "/drawing" } {
            div.title-row {
                h2 #moving-title { "Valve gear and port" }
                p.muted.small { "Drawn to scale; move it with the sliders" }
            }
            form.controls method="get" action={ (base) "/setting#moving" } {
                (which_switch(view.which))
                (slider(&Slider {
                    name: "travel", label: "Actuator travel", high: view.full_deg, step: 0.1, value: view.travel_deg,
                    play: "Sweep the actuator",
                }))
                (slider(&Slider {
                    name: "crank", label: "Crank after top dead centre", high: 360.0, step: 1.0, value: view.crank_deg,
                    play: "Turn the crank",
                }))
                button.button.no-script type="submit" { "Draw this position" }
            }
            div.drawings { (drawings(answer, view)) }
        }
    }
}

fn which_switch(which: Shown) -> Markup {
    html! {
        fieldset.segments {
            legend.unseen { "Which state is drawn" }
            @for (value, label, shown) in [("proposed", "As proposed", Shown::Proposed), ("found", "As found", Shown::Found)] {
                label {
                    input type="radio" name="which" value=(value) checked[which == shown];
                    span { (label) }
                }
            }
        }
    }
}

struct Slider {
    name: &'static str,
    label: &'static str,
    high: f64,
    step: f64,
    value: f64,
    play: &'static str,
}

fn slider(slider: &Slider) -> Markup {
    let decimals = usize::from(slider.step < 1.0);
    let value = format!("{:.decimals$}", slider.value);
    html! {
        div.slider {
            label for=(slider.name) { (slider.label) }
            output for=(slider.name) data-decimals=(decimals) { (value) "°" }
            input type="range" id=(slider.name) name=(slider.name) min="0" max=(format!("{:.decimals$}", slider.high))
                step=(slider.step) value=(value);
            button.play type="button" data-play=(slider.name) aria-pressed="false" title=(slider.play) {
                (icon::PLAY) span.unseen { (slider.play) }
            }
        }
    }
}

/// What changes with the position. Each part carries a name, so that the script swaps like for like.
fn drawings(answer: &Answer, view: View) -> Markup {
    let (travel, crank) = (view.travel_deg.to_radians(), view.crank_deg.to_radians());
    let gear = answer.gear_scene(view.which, travel);
    let port = answer.port_scene(view.which, travel, crank);
    html! {
        p.told data-part="told" aria-live="polite" { (answer.position_text(view.which, travel, crank)) }
        div.pair {
            (figure("gear", &gear))
            (figure("port", &port))
        }
        (figure("travel", &answer.travel_scene(view.which, travel)))
        (figure("area", &answer.area_scene(view.which, travel, crank)))
    }
}

fn figure(part: &str, scene: &Scene) -> Markup {
    html! {
        figure class={ "scene scene-" (part) } data-part=(part) {
            figcaption { (scene.title) }
            (PreEscaped(to_svg(scene, Theme::Page)))
            @if matches!(part, "travel" | "area") { p.read.only-script aria-live="off" {} }
        }
    }
}

/// A drawing that does not move.
pub(super) fn still(scene: &Scene) -> Markup {
    PreEscaped(to_svg(scene, Theme::Page))
}
