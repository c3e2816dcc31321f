//! The sections of the file, one function each.

use super::{Page, figure_text, quoted};
use crate::model::{
    Cable, EdgeDatum, Engine, Found, Gates, Limit, Limits, PistonTurn, Port, PortEdge, PortGroup,
    ReturnSpring, ThreadHand, Valve, ValveKind, WidthMeasure,
};
use quantity::Measured;

pub(super) fn engine(engine: &Engine, page: &mut Page) {
    page.section("[engine]", "engine");
    page.words("name", &engine.name);
    if engine.invented {
        page.line("invented", "true");
    }
    page.optional_words("note", engine.note.as_ref());
    page.line("cylinders", &engine.cylinders.to_string());
    crank(engine, page);
    for port in &engine.ports {
        write_port(port, page);
    }
    valve(&engine.valve, page);
    gear(engine, page);
    servo(engine, page);
    limits(&engine.limits, page);
    if engine.found != Found::default() {
        found("found", &engine.found, page);
    }
    gates(&engine.gates, page);
    if let Some(returns) = &engine.returns {
        found("returns", returns, page);
    }
    super::gas::gas(&engine.gas, page);
}

fn crank(engine: &Engine, page: &mut Page) {
    let (crank, head) = (&engine.crank, &engine.head);
    page.section("[crank]", "crank");
    page.figure("bore", &crank.bore);
    page.figure("stroke", &crank.stroke);
    page.figure("rod_length", &crank.rod_length);
    page.figure("pin_offset", &crank.pin_offset);
    page.figure("deck_clearance", &crank.deck_clearance);
    page.optional_figure("skirt_length", crank.skirt_length.as_ref());
    page.section("[head]", "head");
    page.figure("chamber_volume", &head.chamber_volume);
    page.optional_figure("squish_clearance", head.squish_clearance.as_ref());
    page.optional_figure("squish_inner_diameter", head.squish_inner_diameter.as_ref());
    if let Some(volume) = &engine.crankcase_volume {
        page.section("[crankcase]", "crankcase");
        page.figure("volume", volume);
    }
}

fn write_port(port: &Port, page: &mut Page) {
    page.section("[[port]]", &format!("port \"{}\"", port.name));
    page.words("name", &port.name);
    page.words("group", group_word(port.group));
    if port.count != 1 {
        page.line("count", &port.count.to_string());
    }
    match port.width_measure {
        WidthMeasure::Chord => page.figure("width", &port.width),
        WidthMeasure::Arc => page.figure("width_arc", &port.width),
    }
    page.figure(roof_key(port.roof.datum), &port.roof.at);
    if !page.is_assumed("floor") {
        floor(&port.floor, page);
    }
    if port.roof_radius == port.floor_radius {
        page.figure("corner_radius", &port.roof_radius);
    } else {
        page.figure("roof_radius", &port.roof_radius);
        page.figure("floor_radius", &port.floor_radius);
    }
    page.figure("roof_tilt", &port.roof_tilt);
    page.figure("duct_angle", &port.duct_angle);
}

fn group_word(group: PortGroup) -> &'static str {
    match group {
        PortGroup::ExhaustMain => "exhaust main",
        PortGroup::ExhaustAuxiliary => "exhaust auxiliary",
        PortGroup::Transfer => "transfer",
        PortGroup::Boost => "boost",
        PortGroup::Inlet => "inlet",
    }
}

fn roof_key(datum: EdgeDatum) -> &'static str {
    match datum {
        EdgeDatum::BelowDeck => "roof_below_deck",
        EdgeDatum::AboveCrownAtBdc => "roof_above_crown_at_bdc",
        EdgeDatum::AfterTdc => "opens_after_tdc",
        EdgeDatum::BeforeBdc => "opens_before_bdc",
        EdgeDatum::Duration => "duration",
    }
}

fn floor(floor: &PortEdge, page: &mut Page) {
    match floor.datum {
        EdgeDatum::BelowDeck => page.figure("floor_below_deck", &floor.at),
        EdgeDatum::AboveCrownAtBdc => page.figure("floor_above_crown_at_bdc", &floor.at),
        EdgeDatum::AfterTdc => page.figure("floor_after_tdc", &floor.at),
        EdgeDatum::BeforeBdc => page.figure("floor_before_bdc", &floor.at),
        // The file has no key for a floor by duration, because nobody measures one: half of what the duration
        // leaves of a turn is the same edge as an angle.
        EdgeDatum::Duration => {
            let half = |angle: f64| angle / 2.0;
            let at = Measured {
                value: half(floor.at.value),
                u: half(floor.at.u),
                written: None,
                ..floor.at.clone()
            };
            page.figure("floor_before_bdc", &at);
        }
    }
}

fn valve(valve: &Valve, page: &mut Page) {
    page.section("[valve]", "valve");
    match &valve.kind {
        ValveKind::Blade { slide_angle, arm, arm_start } => {
            page.words("kind", "blade");
            page.figure("slide_angle", slide_angle);
            page.figure("arm", arm);
            page.figure("arm_start", arm_start);
        }
        ValveKind::Flap { radius, start, ratio } => turning("flap", [radius, start, ratio], page),
        ValveKind::Drum { radius, start, ratio } => turning("drum", [radius, start, ratio], page),
        ValveKind::Table { points } => {
            page.words("kind", "table");
            let points: Vec<String> = points
                .iter()
                .map(|point| {
                    let (travel, lift) = (figure_text(&point.travel), figure_text(&point.lift));
                    format!("    {{ travel = {}, lift = {} }},\n", quoted(&travel), quoted(&lift))
                })
                .collect();
            page.line("points", &format!("[\n{}]", points.concat()));
        }
    }
    page.figure("closed_drop", &valve.closed_drop);
    let covers: Vec<String> = valve.covers.iter().map(|name| quoted(name)).collect();
    page.line("covers", &format!("[{}]", covers.join(", ")));
    page.optional_figure("mechanical_end", valve.mechanical_end.as_ref());
}

fn turning(kind: &str, [radius, start, ratio]: [&Measured; 3], page: &mut Page) {
    page.words("kind", kind);
    page.figure("radius", radius);
    page.figure("start", start);
    page.figure("ratio", ratio);
}

fn gear(engine: &Engine, page: &mut Page) {
    let gear = &engine.gear;
    page.section("[gear]", "gear");
    page.words("opens", if gear.opens_clockwise { "clockwise" } else { "anticlockwise" });
    page.words("seen_from", &gear.seen_from);
    page.words("adjuster_seen_from", &gear.adjuster_seen_from);
    page.figure("shaft_friction", &gear.shaft_friction);
    page.figure("mount_stiffness", &gear.mount_stiffness);
    page.figure("gas_torque", &gear.gas_torque);
    page.optional_figure("mark_radius", gear.mark_radius.as_ref());
    cable("gear.opening", &gear.opening, page);
    cable("gear.closing", &gear.closing, page);
    page.section("[gear.spring]", "gear.spring");
    match &gear.spring {
        ReturnSpring::Shaft { at_closed, rate } => {
            page.words("kind", "shaft");
            page.figure("at_closed", at_closed);
            page.figure("torsion_rate", rate);
        }
        ReturnSpring::ClosingAdjuster { rate, free_length, solid_length } => {
            page.words("kind", "closing adjuster");
            page.figure("rate", rate);
            page.figure("free_length", free_length);
            page.figure("solid_length", solid_length);
        }
    }
}

fn cable(path: &str, cable: &Cable, page: &mut Page) {
    page.section(&format!("[{path}]"), path);
    page.figure("servo_radius", &cable.servo_radius);
    page.figure("valve_radius", &cable.valve_radius);
    match &cable.thread.designation {
        Some(designation) => page.words("thread", designation),
        None => page.figure("pitch", &cable.thread.pitch),
    }
    page.words("hand", if cable.thread.hand == ThreadHand::Left { "left" } else { "right" });
    page.figure("wire_stiffness", &cable.wire_stiffness);
    page.figure("sheath_stiffness", &cable.sheath_stiffness);
    page.figure("bends", &cable.bends);
    page.figure("friction", &cable.friction);
}

fn servo(engine: &Engine, page: &mut Page) {
    let (servo, schedule) = (&engine.servo, &engine.schedule);
    page.section("[servo]", "servo");
    page.figure("travel", &servo.travel);
    page.figure("stall_torque", &servo.stall_torque);
    page.figure("reduction", &servo.reduction);
    page.optional_figure("last_gear_radius", servo.last_gear_radius.as_ref());
    page.optional_figure("sensor_closed", servo.sensor_closed.as_ref());
    page.optional_figure("sensor_open", servo.sensor_open.as_ref());
    page.line("works_oil_pump", &servo.works_oil_pump.to_string());
    page.section("[schedule]", "schedule");
    page.figure("opening_speed", &schedule.opening_speed);
    page.figure("full_open_speed", &schedule.full_open_speed);
    page.figure("park_travel", &schedule.park_travel);
}

fn limits(limits: &Limits, page: &mut Page) {
    page.section("[limits]", "limits");
    limit("flush", &limits.flush, page);
    limit("closed", &limits.closed, page);
    limit("opening_slack", &limits.opening_slack, page);
    limit("closing_slack", &limits.closing_slack, page);
    limit("seat_tension", &limits.seat_tension, page);
    limit("wire_tension", &limits.wire_tension, page);
    limit("torque_margin", &limits.torque_margin, page);
    if let Some(tooth_load) = &limits.tooth_load {
        limit("tooth_load", tooth_load, page);
    }
    limit("proud", &limits.proud, page);
}

fn limit(key: &str, limit: &Limit, page: &mut Page) {
    let value = quoted(&figure_text(&limit.value));
    page.line(key, &format!("{{ value = {value}, from = {} }}", quoted(&limit.from)));
}

fn found(path: &str, found: &Found, page: &mut Page) {
    page.section(&format!("[{path}]"), path);
    page.optional_words("date", found.date.as_ref());
    page.optional_figure("opening_play", found.opening_play.as_ref());
    page.optional_figure("closing_play", found.closing_play.as_ref());
    page.optional_figure("opening_gap", found.opening_gap.as_ref());
    page.optional_figure("closing_gap", found.closing_gap.as_ref());
    page.optional_figure("opening_thread", found.opening_thread.as_ref());
    page.optional_figure("closing_thread", found.closing_thread.as_ref());
    page.optional_figure("spring_length", found.spring_length.as_ref());
    page.optional_figure("edge_above_flush", found.edge_above_flush.as_ref());
    page.optional_figure("edge_above_closed", found.edge_above_closed.as_ref());
    page.optional_figure("mark_at_full", found.mark_at_full.as_ref());
    page.optional_figure("mark_at_closed", found.mark_at_closed.as_ref());
    page.optional_figure("sensor_closed", found.sensor_closed.as_ref());
    page.optional_figure("sensor_open", found.sensor_open.as_ref());
    page.optional_words("play_felt", found.play_felt.as_ref());
}

fn gates(gates: &Gates, page: &mut Page) {
    if *gates == Gates::default() {
        return;
    }
    page.section("[gates]", "gates");
    page.optional_figure("proud_closed", gates.proud_closed.as_ref());
    page.optional_figure("proud_open", gates.proud_open.as_ref());
    for (key, turn) in [("turn_closed", gates.turn_closed), ("turn_open", gates.turn_open)] {
        if let Some(turn) = turn {
            page.words(key, if turn == PistonTurn::Clear { "clear" } else { "touches" });
        }
    }
}
