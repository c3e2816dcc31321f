//! The page.

use super::super::icon;
use super::super::moving::still;
use super::super::page::glued;
use super::super::results::banner;
use super::super::subject::{Card, Subject};
use super::running::Sent;
use super::{Asked, Found, Room, measured, running, table, traces};
use crate::torque_map::{Choice, Petals, Scavenging, TorqueMap};
use gas::cycle::ModelError;
use gas::map::Grid;
use maud::{Markup, html};
use quantity::{Dimension, Measured, Units, show, show_with};
use std::f64::consts::PI;
use std::sync::Arc;
use workshop::Answer;
use workshop::power::{self, Told};

pub(super) fn page(subject: &Subject, card: &Card, room: &Room, units: Units, asked: &Asked) -> Markup {
    let base = &subject.base;
    html! {
        header.page-head {
            h1 { "Torque and power" }
            p.muted { a href=(base) { (subject.place.engine.name) ", " (subject.place.visit.name) } }
            p.lead { "What the valve does to the engine, computed by gas dynamics from the figures of the engine file: torque at every speed and lift, the best opening schedule, and what being wrong costs." }
        }
        (banner(subject))
        @match (&room.lacking, &room.found) {
            (Some(why), None) => (lacking(why, base)),
            (_, None) => (first(base, room)),
            (_, Some(found)) => (shown(subject, card, room, found, units, asked)),
        }
    }
}

fn lacking(why: &ModelError, base: &str) -> Markup {
    html! {
        section.panel.headline aria-labelledby="lacking" {
            h2 #lacking { "Not enough is known of this engine" }
            p { "The setting and the sheet need none of it. For torque, the gas's way through the engine must be described too." }
            @match why {
                ModelError::Missing(all) => {
                    ul { @for missing in &all.0 { li { strong { (missing.key) } ": " (missing.add) } } }
                }
                other => p { (other) },
            }
            p.actions { a.button.strong href={ (base) "/step/ducts" } { "Describe pipe, intake and mixture" } }
        }
    }
}

fn first(base: &str, room: &Room) -> Markup {
    html! {
        section.panel.headline #map aria-labelledby="map-title" {
            h2 #map-title { "No map has been made yet" }
            @match &room.running {
                Some(standing) => (in_work(base, standing)),
                None => (form(base, room, "Make the map")),
            }
        }
    }
}

/// A map in the making: bar and stop.
fn in_work(base: &str, standing: &crate::torque_map::Standing) -> Markup {
    html! {
        div #progress data-progress={ (base) "/power/progress" } aria-live="polite" { (running::progress(standing)) }
        form method="post" action={ (base) "/power/stop" } {
            p.actions {
                button.button type="submit" { "Stop" }
                a.button.no-script href={ (base) "/power" } { "See how far it is" }
            }
        }
        p.muted.small { "Other pages can be used meanwhile. What was run when it is stopped is kept, and can be gone on with." }
    }
}

fn form(base: &str, room: &Room, button: &str) -> Markup {
    let Room { wanted, refused, .. } = room;
    let rpm = |speed: Option<&f64>| speed.map_or_else(String::new, |s| format!("{:.0} rpm", s * 30.0 / PI));
    let (from, to) = (rpm(wanted.speeds_rad_s.first()), rpm(wanted.speeds_rad_s.last()));
    let (speeds, lifts) = (wanted.speeds_rad_s.len().to_string(), wanted.lifts_m.len().to_string());
    let nothing = Sent::default();
    let typed = refused.as_ref().map_or(&nothing, |refused| &refused.sent);
    let fields = [
        ("from", "From speed", from.as_str(), &typed.from),
        ("to", "To speed", to.as_str(), &typed.to),
        ("speeds", "Number of speeds", speeds.as_str(), &typed.speeds),
        ("lifts", "Number of lifts, closed to flush", lifts.as_str(), &typed.lifts),
        ("throttle", "Throttle", "file's", &typed.throttle),
        ("leak", "Leak past the blade whose cost is told", "20 mm²", &typed.leak),
    ];
    let wrong = refused.as_ref().map(|refused| refused.field);
    let label = |name: &str| match name {
        "petals" => "Reed petals",
        "scavenging" => "Scavenging",
        name => fields.iter().find(|field| field.0 == name).map_or("", |field| field.1),
    };
    html! {
        form method="post" action={ (base) "/power/start" } {
            @if let Some(refused) = refused {
                p.caution #map-refused role="alert" { (icon::WARN) (label(refused.field)) ": " (refused.text) "." }
            }
            details.more open[refused.is_some()] {
                summary { "Which points, and how they are run" }
                div.field-row {
                    @for (name, label, usual, text) in fields {
                        @let bad = wrong == Some(name);
                        div.field {
                            label for=(name) { (label) }
                            input id=(name) type="text" name=(name) value=[Some(text).filter(|text| !text.is_empty())] placeholder=(usual) autocomplete="off" inputmode="text" aria-invalid=[bad.then_some("true")] aria-describedby=[bad.then_some("map-refused")] autofocus[bad];
                        }
                    }
                    (choice::<Petals>(label("petals"), &typed.petals, wrong))
                    (choice::<Scavenging>(label("scavenging"), &typed.scavenging, wrong))
                }
                p.muted.small { "Empty fields take what stands in them in grey. 'none' for the leak leaves its second map out. Where petals that swing alternate from turn to turn there is no figure." }
            }
            p.actions { button.button.strong type="submit" { (button) } }
        }
    }
}

/// A closure to be chosen.
fn choice<C: Choice>(label: &str, typed: &str, wrong: Option<&str>) -> Markup {
    let bad = wrong == Some(C::FIELD);
    html! {
        div.field {
            label for=(C::FIELD) { (label) }
            select id=(C::FIELD) name=(C::FIELD) aria-invalid=[bad.then_some("true")] aria-describedby=[bad.then_some("map-refused")] autofocus[bad] {
                @for (_, name, words) in C::ALL { option value=(name) selected[*name == typed] { (words) } }
            }
        }
    }
}

fn shown(subject: &Subject, card: &Card, room: &Room, found: &Found, units: Units, asked: &Asked) -> Markup {
    let base = &subject.base;
    let Some(grid) = found.map.grid() else {
        return html! {
            section.panel #map { p { "Not enough points were run for a map." } (again(base, room, found)) }
        };
    };
    let answer = subject.kept.answer(units);
    let told = tell(&answer, &grid, &found.map, asked);
    let sheet = measured::read(card);
    let points = measured::points(&sheet, &subject.kept.reading.engine);
    html! {
        @if found.stale {
            p.caution { (icon::WARN) "Entries were changed since this map was made. It shows the engine as it was then; run it again for the engine as it is." }
        }
        @if subject.kept.reading.engine.invented { p.invented { "Invented engine, invented figures" } }
        section.panel.headline aria-labelledby="in-short" {
            h2.eyebrow #in-short { "In short" }
            @for statement in &told.statements { p { (glued(statement)) } }
        }
        section.panel #map aria-labelledby="map-title" {
            h2 #map-title { "Torque and power by speed" }
            div.pair {
                (figure(&power::torque_scene(&told, &points, units)))
                (figure(&power::power_scene(&told, &points, units)))
            }
            (figure(&power::map_scene(&grid, &told, units)))
            p.muted.small { "Dark shades: much torque. Under finger or pointer the curves tell their figures." }
            (again(base, room, found))
        }
        (schedule(&told, &grid, base, units, asked))
        (half_turn(&told, units))
        (table::costs(&told, units))
        (traces::section(subject, found, &grid, units, asked))
        (table::points(&found.map, units))
        (measured::section(card, &sheet, &subject.kept.reading.engine, &told, units))
        (honesty(&told, &found.map))
        p.actions {
            a.button href={ (base) "/power.csv" } { (icon::DOWN) "Map as CSV" }
            a.button.plain href={ (base) "/power.json" } { "All figures as JSON" }
            @if let Some(id) = found.kept.filter(|_| subject.result.is_none()) {
                a.button.plain href={ "/result/" (id) "/power" } { "This map, kept with its entries" }
            }
        }
    }
}

fn tell(answer: &Arc<Answer>, grid: &Grid, map: &TorqueMap, asked: &Asked) -> Told {
    let steepest = power::steepest_m_per_rad_s(grid, asked.follow_rpm());
    let leaky = map.leaky_grid();
    power::told(answer, grid, map.wanted.leak_m2.zip(leaky.as_ref()), steepest)
}

pub(super) fn figure(scene: &drawing::Scene) -> Markup {
    html! {
        figure.scene {
            figcaption { (scene.title) }
            (still(scene))
            p.read.only-script aria-live="off" {}
        }
    }
}

fn again(base: &str, room: &Room, found: &Found) -> Markup {
    // A kept result stands as it is.
    let open = base.starts_with("/visit/") && room.lacking.is_none();
    html! {
        @if let Some(standing) = &room.running {
            (in_work(base, standing))
        } @else if open {
            @if !found.map.whole() && !found.stale {
                form method="post" action={ (base) "/power/start" } {
                    input type="hidden" name="go_on" value="yes";
                    p.actions { button.button.strong type="submit" { "Go on with this map" } }
                }
            }
            (form(base, room, "Run it again"))
        }
    }
}

fn schedule(told: &Told, grid: &Grid, base: &str, units: Units, asked: &Asked) -> Markup {
    let length = |m: f64| show_with(m, if units == Units::Metric { 1 } else { 3 }, Dimension::Length, units);
    let percent = |share: f64| format!("{:.1} %", 100.0 * share);
    html! {
        section.panel #schedule aria-labelledby="schedule-title" {
            h2 #schedule-title { "Best lift by speed" }
            form.one-line method="get" action={ (base) "/power#schedule" } {
                label for="follow" { "The valve needs at least this much speed from closed to open, rpm" }
                input #follow type="text" name="follow" inputmode="numeric" value=(format!("{:.0}", asked.follow_rpm()));
                button.button type="submit" { "Show" }
            }
            details.more {
            summary { "By speed" }
            table.wide {
                thead { tr {
                    th scope="col" { "Speed" } th scope="col" { "Best lift" } th scope="col" { "As good within " (percent(power::SAME)) }
                    th scope="col" { "Schedule" } th scope="col" { "This setting" } th scope="col" { "Given away" }
                } }
                tbody {
                    @for row in &told.speeds {
                        tr {
                            th scope="row" { (table::rpm(row.speed_rad_s)) }
                            @match &row.peak {
                                Some(peak) => {
                                    td data-label="Best lift" { (length(peak.lift_m)) }
                                    td data-label="As good" { (range(length(peak.from_m), length(peak.to_m))) }
                                }
                                None => { td data-label="Best lift" { "no figure" } td data-label="As good" { "–" } }
                            }
                            td data-label="Schedule" { (row.best_m.map_or_else(|| "–".to_owned(), length)) }
                            td data-label="This setting" { (show(&Measured::normal(row.own.lift_m, row.own.lift_u_m, Dimension::Length), units)) }
                            td data-label="Given away" { (row.given_away().map_or_else(|| "–".to_owned(), percent)) }
                        }
                    }
                }
            }
            }
            p.muted.small { "Flush is " (length(grid.lift_range_m().1)) " above closed. 'Given away' is what the lift of this setting loses against the best one at that speed." }
        }
    }
}

/// One figure where both ends are shown alike.
fn range(from: String, to: String) -> String {
    if from == to { from } else { format!("{from} to {to}") }
}

fn half_turn(told: &Told, units: Units) -> Markup {
    html! {
        @if !told.turned.is_empty() {
            section.panel #turn aria-labelledby="turn-title" {
                h2 #turn-title { "What turning the opening adjuster does" }
                (figure(&power::turned_scene(&told.turned, units)))
                (table::turned(told, units))
            }
        }
    }
}

fn honesty(told: &Told, map: &TorqueMap) -> Markup {
    html! {
        section.panel #honest aria-labelledby="honest-title" {
            h2 #honest-title { "What this rests on" }
            ul { @for text in &told.rests_on { li { (glued(text)) } } }
            @let doubts = map.doubts();
            @if !doubts.is_empty() {
                h3 { "Points outside of what was checked" }
                ul { @for (text, count) in doubts.iter().take(40) { li { (glued(text)) @if *count > 1 { " (" (count) " points)" } } } }
                @if doubts.len() > 40 { p.muted { "and " (doubts.len() - 40) " more; the JSON holds all." } }
            }
            @if !map.assumptions.is_empty() {
                h3 { "Assumed for what the engine file does not give" }
                ul { @for text in &map.assumptions { li { (glued(text)) } } }
            }
            p { "Equations, sources and checks stand in " code { "docs/model.md" } " and " code { "docs/validation.md" } "." }
        }
    }
}
