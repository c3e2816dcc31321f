//! What was stated and assumed, so that nobody must take the figures on trust.

use crate::form::label;
use crate::procedure::compare::Comparison;
use crate::procedure::words::figure_name;
use engine::model::{Engine, Limit};
use quantity::{Units, show};

/// A stated figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stated {
    /// What it is.
    pub what: String,
    /// The figure, or what was assumed.
    pub figure: String,
    /// Where it comes from; empty when that is said elsewhere.
    pub from: String,
}

/// What a setting must meet.
pub(super) fn limits(engine: &Engine, units: Units) -> Vec<Stated> {
    let limits = &engine.limits;
    let listed: [(&str, Option<&Limit>); 8] = [
        ("limits.flush", Some(&limits.flush)),
        ("limits.closed", Some(&limits.closed)),
        ("limits.opening_slack", Some(&limits.opening_slack)),
        ("limits.closing_slack", Some(&limits.closing_slack)),
        ("limits.seat_tension", Some(&limits.seat_tension)),
        ("limits.wire_tension", Some(&limits.wire_tension)),
        ("limits.torque_margin", Some(&limits.torque_margin)),
        ("limits.tooth_load", limits.tooth_load.as_ref()),
    ];
    let one = |(key, limit): (&str, Option<&Limit>)| {
        let limit = limit?;
        let figure = quantity::show_value(limit.value.value, limit.value.dimension, units);
        Some(Stated { what: label(key), figure, from: limit.from.clone() })
    };
    listed.into_iter().filter_map(one).collect()
}

/// How the next engine differs, and what is known of the sheath.
pub(super) fn parts(comparison: &Comparison, units: Units) -> Vec<Stated> {
    let Some(entry) = comparison.entries.first() else { return Vec::new() };
    let (parts, sheath) = (entry.run.parts(), entry.run.sheath());
    [
        ("parts.opening_length", &parts.opening_length),
        ("parts.closing_length", &parts.closing_length),
        ("parts.roof", &parts.roof),
        ("parts.index_line", &parts.index_line),
        ("parts.thread_play (opening)", &parts.thread_play),
        ("parts.home_slack", &parts.home_slack),
        ("sheath.free_length", &sheath.free_length),
        ("sheath.test_length", &sheath.test_length),
        ("sheath.test_weight", &sheath.test_weight),
        ("sheath.test_droop", &sheath.test_droop),
    ]
    .into_iter()
    .map(|(key, figure)| Stated {
        what: figure_name(key)
            .replace("Opening adjuster: play of its thread", "Adjusters: play of their threads"),
        figure: show(figure, units),
        from: String::new(),
    })
    .collect()
}

/// Figures of the engine that nobody measured.
pub(super) fn assumed(engine: &Engine) -> Vec<Stated> {
    let one = |a: &engine::model::Assumption| Stated {
        what: figure_name(&a.key),
        figure: a.text.clone(),
        from: a.cost.clone(),
    };
    engine.assumptions.iter().map(one).collect()
}

/// What the computation takes for granted, whatever the figures.
pub(super) fn notes() -> Vec<String> {
    [
        "Static balance of the valve pulley: no inertia, no vibration. Wires only pull; wire, sheath and mount give way as \
         springs in series; friction in sheaths and shaft is fully developed in the direction of travel.",
        "Figures that are stated as limits are drawn evenly between them, those stated as an expanded uncertainty (k = 2) \
         from a normal distribution. All ways meet the same drawn gears; only the hands differ.",
        "How hard hands pull and how far readings err are estimates made with care and without measurement. They stand in the \
         steps of each way and can be changed there.",
        "The margin of the sheath against bowing out is a lower bound: the wire inside holds the sheath straight wherever the \
         two touch.",
        "The maker's manual comes first. These figures follow from the measurements of this engine and are no better than \
         they are.",
    ]
    .map(str::to_owned)
    .to_vec()
}
