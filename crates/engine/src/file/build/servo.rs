//! The servo and its schedule.

use super::{Notes, Worked};
use crate::file::table::Table;
use crate::model::{Schedule, Servo};
use quantity::{Dimension, Measured, Units};

pub(super) fn servo(table: &Table, notes: &mut Notes<'_>) -> Option<Servo> {
    let stall_torque = stall_torque(table, notes);
    Some(Servo {
        travel: table.figure("travel")?,
        stall_torque: stall_torque?,
        reduction: table.figure("reduction")?,
        last_gear_radius: table.figure("last_gear_radius"),
        sensor_closed: table.figure("sensor_closed"),
        sensor_open: table.figure("sensor_open"),
        works_oil_pump: table.flag("works_oil_pump")?,
    })
}

/// At the pulley: given there, or motor x reduction x efficiency (spreads combined, JCGM 100:2008, 5.1.6).
fn stall_torque(table: &Table, notes: &mut Notes<'_>) -> Option<Measured> {
    if table.gives("motor_stall_torque") && !table.gives("stall_torque") {
        if table.line_of("reduction").is_none() {
            notes.refuse(table, "reduction", "motor_stall_torque is at the motor's shaft, so the reduction must be known; give it, or give stall_torque at the pulley");
            return None;
        }
        let factors =
            [table.figure("motor_stall_torque")?, table.figure("reduction")?, table.figure("efficiency")?];
        let value: f64 = factors.iter().map(|factor| factor.value).product();
        let relative: f64 = factors.iter().map(|factor| (factor.u / factor.value).powi(2)).sum();
        return Some(Measured::normal(value, value * relative.sqrt(), Dimension::Torque));
    }
    let worked = Worked {
        figure: Measured::within(1.5, 1.0, Dimension::Torque),
        rule: "at the pulley, common practice, no source",
        cost: "measuring it makes the torque margin worth reading",
    };
    notes.figure_or(table, "stall_torque", Some(worked))
}

pub(super) fn schedule(table: &Table, notes: &mut Notes<'_>) -> Option<Schedule> {
    let schedule = Schedule {
        opening_speed: table.figure("opening_speed")?,
        full_open_speed: table.figure("full_open_speed")?,
        park_travel: table.figure("park_travel")?,
    };
    if schedule.full_open_speed.value <= schedule.opening_speed.value {
        let shown = |speed: &Measured| quantity::show_value(speed.value, Dimension::Speed, Units::Metric);
        let key = if table.gives("full_open_speed") { "full_open_speed" } else { "opening_speed" };
        notes.refuse(
            table,
            key,
            format!(
                "full opening at {} is not above the opening speed of {}; check which is which",
                shown(&schedule.full_open_speed),
                shown(&schedule.opening_speed)
            ),
        );
    }
    Some(schedule)
}
