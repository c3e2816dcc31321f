//! Pressures along one turn at a chosen speed and lift, run when they are looked at.

use super::super::choices::Choices;
use super::super::refusal::Refusal;
use super::super::subject::Subject;
use super::super::take::{download, file_stem};
use super::super::{App, work};
use super::show::figure;
use super::{Asked, Found, latest};
use crate::torque_map::traces_csv;
use axum::extract::{Query, State};
use axum::response::Response;
use drawing::Style;
use gas::cycle::{Flow, Model, Point};
use gas::map::Grid;
use maud::{Markup, html};
use quantity::{Dimension, Units, show_with};
use std::f64::consts::PI;
use std::sync::Arc;
use workshop::power::{Held, exchange_scene, exhaust_scene, torque_text};

/// Speed and lift that are looked at.
struct Place {
    speed_rad_s: f64,
    lift_m: f64,
    flush_m: f64,
}

impl Place {
    fn of(asked: &Asked, found: &Found) -> Self {
        let speeds = &found.map.wanted.speeds_rad_s;
        let rpm = |speed: Option<&f64>, other: f64| speed.map_or(other, |s| s * 30.0 / PI);
        let (low, high) = (rpm(speeds.first(), 2000.0), rpm(speeds.last(), 12_000.0));
        let speed_rpm = Asked::number(asked.speed.as_ref(), 0.5 * (low + high), (low, high));
        let flush_m = found.map.wanted.lifts_m.last().copied().unwrap_or_default();
        let share = Asked::number(asked.lift.as_ref(), 50.0, (0.0, 100.0)) / 100.0;
        Self { speed_rad_s: speed_rpm * PI / 30.0, lift_m: share * flush_m, flush_m }
    }
}

/// The section with its sliders. The traces come when the sliders are moved or the button is pressed: each takes a
/// moment to run.
pub(super) fn section(subject: &Subject, found: &Found, grid: &Grid, units: Units, asked: &Asked) -> Markup {
    let place = Place::of(asked, found);
    let base = &subject.base;
    let rpm = |speed: Option<&f64>| speed.map_or(0.0, |s| (s * 30.0 / PI).round());
    let speeds = grid.speeds_rad_s();
    html! {
        section.moving.panel #traces aria-labelledby="traces-title" data-drawing={ (base) "/power/traces" } {
            div.title-row {
                h2 #traces-title { "Pressures along a turn" }
                p.muted.small { "Run again for each place of the sliders" }
            }
            form.controls method="get" action={ (base) "/power#traces" } {
                div.slider {
                    label for="speed" { "Engine speed" }
                    output for="speed" data-decimals="0" data-unit=" rpm" { (format!("{:.0} rpm", place.speed_rad_s * 30.0 / PI)) }
                    input type="range" id="speed" name="speed" min=(rpm(speeds.first())) max=(rpm(speeds.last())) step="50" value=(format!("{:.0}", place.speed_rad_s * 30.0 / PI));
                }
                div.slider {
                    label for="lift" { "Lift, of flush" }
                    output for="lift" data-decimals="0" data-unit=" %" { (format!("{:.0} %", 100.0 * place.lift_m / place.flush_m)) }
                    input type="range" id="lift" name="lift" min="0" max="100" step="5" value=(format!("{:.0}", 100.0 * place.lift_m / place.flush_m));
                }
                button.button.no-script type="submit" { "Draw this place" }
            }
            div.drawings { (drawings(subject, found, &place, units)) }
            p.actions { a.button.plain href={ (base) "/power/traces.csv?speed=" (format!("{:.0}", place.speed_rad_s * 30.0 / PI)) "&lift=" (format!("{:.0}", 100.0 * place.lift_m / place.flush_m)) } { "These traces as CSV" } }
        }
    }
}

/// Closed, the lift that is looked at, and flush, run side by side.
fn run(subject: &Subject, found: &Found, place: &Place) -> Result<[Point; 3], String> {
    let model = Model::of(&subject.kept.reading.engine).map_err(|why| why.to_string())?;
    let lifts = [0.0, place.lift_m, place.flush_m];
    // As the map was run: the same throttle.
    let settings = found.map.wanted.settings();
    let mut on = |_| Flow::Continue;
    let run =
        model.run(place.speed_rad_s, &lifts, &settings, None, &mut on).map_err(|why| why.to_string())?;
    let points = run.points.into_iter().collect::<Result<Vec<Point>, _>>().map_err(|why| why.to_string())?;
    points.try_into().map_err(|_| "The run gave no point.".to_owned())
}

fn drawings(subject: &Subject, found: &Found, place: &Place, units: Units) -> Markup {
    let engine = &subject.kept.reading.engine;
    match run(subject, found, place) {
        Ok([closed, chosen, open]) => {
            let held = [
                Held { name: "closed", style: Style::Curve2, point: &closed },
                Held { name: "flush", style: Style::Curve4, point: &open },
                Held { name: "this lift", style: Style::Proposed, point: &chosen },
            ];
            html! {
                p.told data-part="told" aria-live="polite" { (told(place, &held, units)) }
                div.part data-part="exhaust" { (figure(&exhaust_scene(engine, &held, place.lift_m, units))) }
                div.part data-part="exchange" { (figure(&exchange_scene(engine, &chosen, units))) }
            }
        }
        Err(why) => html! {
            p.told data-part="told" aria-live="polite" { (why) }
            div.part data-part="exhaust" {}
            div.part data-part="exchange" {}
        },
    }
}

fn told(place: &Place, held: &[Held<'_>], units: Units) -> String {
    let lift = show_with(place.lift_m, if units == Units::Metric { 1 } else { 3 }, Dimension::Length, units);
    let figures: Vec<String> = held
        .iter()
        .map(|held| {
            let point = held.point;
            format!(
                "{}: {}, delivery ratio {:.2}, trapping {:.0} %",
                held.name,
                torque_text(point.torque_n_m, 1, units),
                point.delivery_ratio,
                100.0 * point.trapping_efficiency
            )
        })
        .collect();
    format!(
        "At {}, this lift {lift} above closed: {}.",
        super::table::rpm(place.speed_rad_s),
        figures.join("; ")
    )
}

/// The drawings alone, for the script that moves the sliders.
pub(super) async fn show_fragment(
    State(app): State<Arc<App>>,
    choices: Choices,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Markup, Refusal> {
    work(move || match latest(&app, &subject)? {
        Some(found) => Ok(drawings(&subject, &found, &Place::of(&asked, &found), choices.units)),
        None => Err(Refusal::no_page()),
    })
    .await?
}

/// The traces of the lift that is looked at.
pub(super) async fn take_csv(
    State(app): State<Arc<App>>,
    subject: Subject,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    work(move || {
        let found = latest(&app, &subject)?.ok_or_else(Refusal::no_page)?;
        let place = Place::of(&asked, &found);
        let [_, chosen, _] = run(&subject, &found, &place).map_err(Refusal::not_taken)?;
        let name = format!("{}-traces.csv", file_stem(&subject.kept.reading.engine.name));
        Ok(download("text/csv; charset=utf-8", &name, traces_csv(&chosen.traces).into_bytes()))
    })
    .await?
}
