//! Walks every figure of an engine with its key, so that uncertainty can be propagated without naming each one.

use super::{Cable, Engine, Found, Port, ReturnSpring, ValveKind};
use quantity::Measured;

type Visit<'a> = &'a mut dyn FnMut(&str, &mut Measured);

impl Engine {
    /// Calls `visit` with the key (as in the engine file, dotted) and the figure, always in the same order.
    /// Limits are left out: they are chosen, not measured.
    pub fn for_each_figure(&mut self, visit: Visit<'_>) {
        self.visit_crank(visit);
        for port in &mut self.ports {
            visit_port(port, visit);
        }
        self.visit_valve(visit);
        self.visit_gear(visit);
        visit("schedule.opening_speed", &mut self.schedule.opening_speed);
        visit("schedule.full_open_speed", &mut self.schedule.full_open_speed);
        visit("schedule.park_travel", &mut self.schedule.park_travel);
        visit_found("found", &mut self.found, visit);
        if let Some(returns) = &mut self.returns {
            visit_found("returns", returns, visit);
        }
    }

    fn visit_crank(&mut self, visit: Visit<'_>) {
        visit("crank.bore", &mut self.crank.bore);
        visit("crank.stroke", &mut self.crank.stroke);
        visit("crank.rod_length", &mut self.crank.rod_length);
        visit("crank.pin_offset", &mut self.crank.pin_offset);
        visit("crank.deck_clearance", &mut self.crank.deck_clearance);
        visit_optional("crank.skirt_length", &mut self.crank.skirt_length, visit);
        visit("head.chamber_volume", &mut self.head.chamber_volume);
        visit_optional("head.squish_clearance", &mut self.head.squish_clearance, visit);
        visit_optional("head.squish_inner_diameter", &mut self.head.squish_inner_diameter, visit);
        visit_optional("crankcase.volume", &mut self.crankcase_volume, visit);
    }

    fn visit_valve(&mut self, visit: Visit<'_>) {
        visit("valve.closed_drop", &mut self.valve.closed_drop);
        visit_optional("valve.mechanical_end", &mut self.valve.mechanical_end, visit);
        match &mut self.valve.kind {
            ValveKind::Blade { slide_angle, arm, arm_start } => {
                visit("valve.slide_angle", slide_angle);
                visit("valve.arm", arm);
                visit("valve.arm_start", arm_start);
            }
            ValveKind::Flap { radius, start, ratio } | ValveKind::Drum { radius, start, ratio } => {
                visit("valve.radius", radius);
                visit("valve.start", start);
                visit("valve.ratio", ratio);
            }
            ValveKind::Table { points } => {
                for (at, point) in points.iter_mut().enumerate() {
                    visit(&format!("valve.points[{at}].travel"), &mut point.travel);
                    visit(&format!("valve.points[{at}].lift"), &mut point.lift);
                }
            }
        }
    }

    fn visit_gear(&mut self, visit: Visit<'_>) {
        visit_cable("gear.opening", &mut self.gear.opening, visit);
        visit_cable("gear.closing", &mut self.gear.closing, visit);
        match &mut self.gear.spring {
            ReturnSpring::Shaft { at_closed, rate } => {
                visit("gear.spring.at_closed", at_closed);
                visit("gear.spring.torsion_rate", rate);
            }
            ReturnSpring::ClosingAdjuster { rate, free_length, solid_length } => {
                visit("gear.spring.rate", rate);
                visit("gear.spring.free_length", free_length);
                visit("gear.spring.solid_length", solid_length);
            }
        }
        visit("gear.shaft_friction", &mut self.gear.shaft_friction);
        visit("gear.mount_stiffness", &mut self.gear.mount_stiffness);
        visit("gear.gas_torque", &mut self.gear.gas_torque);
        visit_optional("gear.mark_radius", &mut self.gear.mark_radius, visit);
        visit("servo.travel", &mut self.servo.travel);
        visit("servo.stall_torque", &mut self.servo.stall_torque);
        visit("servo.reduction", &mut self.servo.reduction);
        visit_optional("servo.last_gear_radius", &mut self.servo.last_gear_radius, visit);
        visit_optional("servo.sensor_closed", &mut self.servo.sensor_closed, visit);
        visit_optional("servo.sensor_open", &mut self.servo.sensor_open, visit);
    }
}

fn visit_optional(key: &str, figure: &mut Option<Measured>, visit: Visit<'_>) {
    if let Some(figure) = figure {
        visit(key, figure);
    }
}

fn visit_port(port: &mut Port, visit: Visit<'_>) {
    let name = port.name.clone();
    visit(&format!("port \"{name}\".width"), &mut port.width);
    visit(&format!("port \"{name}\".roof"), &mut port.roof.at);
    visit(&format!("port \"{name}\".floor"), &mut port.floor.at);
    visit(&format!("port \"{name}\".roof_radius"), &mut port.roof_radius);
    visit(&format!("port \"{name}\".floor_radius"), &mut port.floor_radius);
    visit(&format!("port \"{name}\".roof_tilt"), &mut port.roof_tilt);
    visit(&format!("port \"{name}\".duct_angle"), &mut port.duct_angle);
}

fn visit_cable(prefix: &str, cable: &mut Cable, visit: Visit<'_>) {
    visit(&format!("{prefix}.servo_radius"), &mut cable.servo_radius);
    visit(&format!("{prefix}.valve_radius"), &mut cable.valve_radius);
    visit(&format!("{prefix}.pitch"), &mut cable.thread.pitch);
    visit(&format!("{prefix}.wire_stiffness"), &mut cable.wire_stiffness);
    visit(&format!("{prefix}.sheath_stiffness"), &mut cable.sheath_stiffness);
    visit(&format!("{prefix}.bends"), &mut cable.bends);
    visit(&format!("{prefix}.friction"), &mut cable.friction);
}

fn visit_found(prefix: &str, found: &mut Found, visit: Visit<'_>) {
    let figures: [(&str, &mut Option<Measured>); 13] = [
        ("opening_play", &mut found.opening_play),
        ("closing_play", &mut found.closing_play),
        ("opening_gap", &mut found.opening_gap),
        ("closing_gap", &mut found.closing_gap),
        ("opening_thread", &mut found.opening_thread),
        ("closing_thread", &mut found.closing_thread),
        ("spring_length", &mut found.spring_length),
        ("edge_above_flush", &mut found.edge_above_flush),
        ("edge_above_closed", &mut found.edge_above_closed),
        ("mark_at_full", &mut found.mark_at_full),
        ("mark_at_closed", &mut found.mark_at_closed),
        ("sensor_closed", &mut found.sensor_closed),
        ("sensor_open", &mut found.sensor_open),
    ];
    for (name, figure) in figures {
        visit_optional(&format!("{prefix}.{name}"), figure, visit);
    }
}
