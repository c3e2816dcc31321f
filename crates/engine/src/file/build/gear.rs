//! Cables, spring and pulleys.

use super::{Notes, Tables, Worked};
use crate::file::table::Table;
use crate::file::{thread, wire};
use crate::model::{Cable, Gear, ReturnSpring, Thread, ThreadHand};
use quantity::{Dimension, Measured};

pub(super) fn gear(tables: &Tables<'_>, notes: &mut Notes<'_>) -> Option<Gear> {
    let opening = tables.get("gear.opening").and_then(|table| cable(table, notes));
    let closing = tables.get("gear.closing").and_then(|table| cable(table, notes));
    let spring = tables.get("gear.spring").and_then(|table| spring(table, notes));
    let table = tables.get("gear")?;
    Some(Gear {
        opening: opening?,
        closing: closing?,
        spring: spring?,
        shaft_friction: table.figure("shaft_friction")?,
        mount_stiffness: table.figure("mount_stiffness")?,
        gas_torque: table.figure("gas_torque")?,
        opens_clockwise: table.word("opens")? == "clockwise",
        seen_from: table.text("seen_from")?,
        adjuster_seen_from: table.text("adjuster_seen_from")?,
        mark_radius: table.figure("mark_radius"),
    })
}

fn cable(table: &Table, notes: &mut Notes<'_>) -> Option<Cable> {
    let thread = thread_of(table, notes);
    let wire_stiffness = wire_stiffness(table, notes);
    Some(Cable {
        servo_radius: table.figure("servo_radius")?,
        valve_radius: table.figure("valve_radius")?,
        thread: thread?,
        wire_stiffness: wire_stiffness?,
        sheath_stiffness: table.figure("sheath_stiffness")?,
        bends: table.figure("bends")?,
        friction: table.figure("friction")?,
    })
}

fn thread_of(table: &Table, notes: &mut Notes<'_>) -> Option<Thread> {
    let hand = if table.word("hand")? == "left" { ThreadHand::Left } else { ThreadHand::Right };
    if !table.gives("thread") {
        return Some(Thread { designation: None, pitch: table.figure("pitch")?, hand });
    }
    let designation = table.text("thread")?;
    match thread::read(&designation) {
        Ok(read) => {
            if read.coarse_assumed {
                notes.assume(
                    table,
                    "pitch",
                    format!(
                        "taken as {} mm, exact: the coarse pitch of {designation} (ISO 261)",
                        read.pitch_m * 1e3
                    ),
                    "reading the pitch makes sure of the number of turns; a fine thread needs a third more",
                );
            }
            let pitch = Measured::exact(read.pitch_m, Dimension::Length);
            Some(Thread { designation: Some(designation), pitch, hand })
        }
        Err(message) => {
            notes.refuse(table, "thread", message);
            None
        }
    }
}

fn wire_stiffness(table: &Table, notes: &mut Notes<'_>) -> Option<Measured> {
    if table.gives("wire_diameter") && !table.gives("wire_stiffness") {
        let (diameter, length) = (table.figure("wire_diameter")?, table.figure("wire_length")?);
        return wire::stiffness(&diameter, &length, table.word("wire_construction")?);
    }
    let worked = Worked {
        figure: Measured::within(100e3, 60e3, Dimension::Stiffness),
        rule: "common practice, no source",
        cost: "pulling on it with a spring scale, or giving wire_diameter, wire_length and wire_construction, narrows the band at full opening",
    };
    notes.figure_or(table, "wire_stiffness", Some(worked))
}

fn spring(table: &Table, notes: &mut Notes<'_>) -> Option<ReturnSpring> {
    if table.word("kind")? == "shaft" {
        return Some(ReturnSpring::Shaft {
            at_closed: table.figure("at_closed")?,
            rate: table.figure("torsion_rate")?,
        });
    }
    let free = table.figure("free_length");
    let solid = free.as_ref().map(|free| Worked {
        figure: super::share_of(free, 0.4, 0.1, Dimension::Length),
        rule: "0.4 x free length ± 0.1 x free length, common practice, no source",
        cost: "wire diameter x number of coils says how near the closing cable is to being taut",
    });
    let solid_length = notes.figure_or(table, "solid_length", solid)?;
    let free_length = free?;
    if solid_length.value >= free_length.value {
        notes.refuse(
            table,
            "solid_length",
            format!(
                "a solid length of {} is not less than the free length of {}; solid is with all coils touching, free with no load, so check both",
                super::crank::mm(&solid_length),
                super::crank::mm(&free_length)
            ),
        );
        return None;
    }
    Some(ReturnSpring::ClosingAdjuster { rate: table.figure("rate")?, free_length, solid_length })
}
