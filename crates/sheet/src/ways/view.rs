//! The comparison as the template reads it: texts, truth values, shares of bars, drawings; no markup.

use super::WaysContent;
use crate::view::{list, name, optional, text};
use drawing::{Scene, Theme, to_svg};
use typst::foundations::{Array, Bytes, Dict, IntoValue, Value, dict};
use workshop::power::ToldTorque;
use workshop::procedure::{
    LeafDemand, LeafDriver, LeafFigure, LeafShare, LeafStep, LeafWay, Stated, ToldCheck,
};

/// Longest engine name in the foot of a page, in characters.
const SHORT_NAME: usize = 60;

/// Builds the template's input.
pub(super) fn of(content: &WaysContent<'_>) -> Dict {
    let leaf = content.leaf;
    dict! {
        "head" => dict! {
            "title" => text("Ways of setting the exhaust valve, compared"),
            "engine" => name(&leaf.engine),
            "short" => text(&leaf.engine.chars().take(SHORT_NAME).collect::<String>()),
            "invented" => leaf.invented,
            "note" => optional(leaf.note.as_deref()),
            "date" => optional(content.date.as_deref()),
            "foot" => text("Portwright, ways of setting compared"),
        },
        "lead" => texts(&leaf.lead),
        "statements" => texts(&leaf.statements),
        "agreements" => texts(&leaf.agreements),
        "reading" => text(&leaf.reading),
        "columns" => list(&leaf.columns, |column| text(column)),
        "ways" => list(&leaf.ways, way),
        "torque" => content.torque.as_ref().map_or(Value::None, torque),
        "scale" => drawn(&content.scale),
        "close" => list(&leaf.close, |row| list(row, |share| close(share.as_ref()))),
        "close-says" => text(&leaf.close_says),
        "drivers-say" => text(&leaf.drivers_say),
        "left-out" => list(&leaf.left_out, |(name, why)| dict! { "name" => text(name), "why" => text(why) }),
        "checks" => list(&leaf.checks, check),
        "checks-say" => text(&leaf.checks_say),
        "limits" => list(&leaf.limits, stated),
        "parts" => list(&leaf.parts, stated),
        "assumed" => list(&leaf.assumed, stated),
        "notes" => texts(&leaf.notes),
        "basis" => text(&leaf.basis),
    }
}

fn texts(texts: &[String]) -> Array {
    list(texts, |one| text(one))
}

fn torque(told: &ToldTorque) -> Value {
    let figures = |one: &Option<[String; 2]>| match one {
        Some([middle, range]) => dict! { "middle" => text(middle), "range" => text(range) },
        None => dict! { "middle" => text("outside of the map"), "range" => text("") },
    };
    let row = |(way, all): &(String, Vec<_>)| dict! { "name" => name(way), "figures" => list(all, figures) };
    dict! { "heads" => texts(&told.heads), "rows" => list(&told.rows, row), "says" => text(&told.says) }
        .into_value()
}

fn way(way: &LeafWay) -> Dict {
    dict! {
        "letter" => text(&way.letter),
        "name" => name(&way.name),
        "claim" => text(&way.claim),
        "source" => text(&way.source),
        "steps" => list(&way.steps, step),
        "headline" => text(&way.headline),
        "reasons" => texts(&way.reasons),
        "meets-all" => text(&way.meets_all),
        "verdict" => text(way.verdict),
        "demands" => list(&way.demands, demand),
        "side-by-side" => list(&way.side_by_side, figure),
        "measures" => list(&way.measures, figure),
        "drivers" => list(&way.drivers, driver),
        "hill" => drawn(&way.hill),
        "edge" => way.edge.as_ref().map_or(Value::None, drawn),
    }
}

fn step(step: &LeafStep) -> Dict {
    dict! { "say" => text(&step.say), "stated" => text(&step.stated.join("; ")) }
}

fn figure(figure: &LeafFigure) -> Dict {
    dict! { "name" => text(figure.name), "middle" => text(&figure.middle), "range" => text(&figure.range) }
}

fn demand(demand: &LeafDemand) -> Dict {
    dict! {
        "name" => text(&demand.name),
        "limit" => text(&demand.limit),
        "holds" => text(&demand.holds),
        "verdict" => text(demand.verdict),
        "check" => demand.check.as_ref().map_or(Value::None, |shares| list(shares, |share| text(share)).into_value()),
    }
}

fn check(check: &ToldCheck) -> Dict {
    dict! {
        "name" => text(&check.name),
        "by" => text(&check.by),
        "error" => text(&check.error),
        "accept" => text(&check.accept),
        "source" => text(&check.source),
    }
}

fn driver(driver: &LeafDriver) -> Dict {
    dict! {
        "name" => text(&driver.name),
        "alone" => text(&driver.alone),
        "with-others" => optional(driver.with_others.as_deref()),
        "share" => if driver.share.is_finite() { driver.share.clamp(0.0, 1.0) } else { 0.0 },
    }
}

fn close(share: Option<&LeafShare>) -> Value {
    share.map_or(Value::None, |share| {
        dict! { "text" => text(&share.text), "agrees" => share.agrees }.into_value()
    })
}

fn stated(stated: &Stated) -> Dict {
    dict! { "what" => text(&stated.what), "figure" => text(&stated.figure), "from" => text(&stated.from) }
}

fn drawn(scene: &Scene) -> Value {
    dict! { "caption" => text(&scene.description), "svg" => Bytes::from_string(to_svg(scene, Theme::Paper)) }
        .into_value()
}
