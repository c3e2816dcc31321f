//! A valve that cannot reach flush even with no slack at all, or shoots far past it.

use super::{Asked, Case, degrees, mm};
use crate::valve_law::ValveLaw;

/// Over-travel beyond this share of the whole lift, with no slack, is odd: common practice, no source.
const MOST_PAST: f64 = 0.6;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let Some(table) = case.tables.get("valve") else { return };
    if asked.has_asked(&["valve.", "servo.travel", "gear.opening."]) {
        return;
    }
    let engine = case.engine;
    let opening = &engine.gear.opening;
    let travel_rad = engine.servo.travel.value * opening.servo_radius.value / opening.valve_radius.value;
    let law = ValveLaw::of(&engine.valve);
    let lift = law.lift(travel_rad);
    let drop = &engine.valve.closed_drop;
    let key = ["arm", "radius", "points"].into_iter().find(|key| table.gives(key)).unwrap_or("kind");
    if lift.lift_m < drop.value - 2.0 * drop.u {
        asked.ask(
            table,
            key,
            format!(
                "With no slack at all {} of servo travel lift the valve by {}, but flush needs {}.",
                degrees(engine.servo.travel.value),
                mm(lift.lift_m),
                mm(drop.value)
            ),
            "Likely one of arm or radius, its starting angle, servo travel, pulley radii or closed edge is not what was meant; no setting can mend it.",
        );
    } else if lift.lift_m > drop.value * (1.0 + MOST_PAST) {
        asked.ask(
            table,
            key,
            format!(
                "With no slack {} of servo travel lift the valve by {}, far past flush at {}.",
                degrees(engine.servo.travel.value),
                mm(lift.lift_m),
                mm(drop.value)
            ),
            "Likely one of arm or radius, its starting angle, servo travel, pulley radii or closed edge is not what was meant.",
        );
    } else if lift.beyond {
        asked.ask(
            table,
            key,
            format!(
                "The valve's arm reaches its dead centre at {} of pulley travel, before the servo's {}.",
                degrees(law.usable_travel_rad()),
                degrees(travel_rad)
            ),
            "Likely the starting angle has the wrong sign or was counted from another line.",
        );
    }
}
