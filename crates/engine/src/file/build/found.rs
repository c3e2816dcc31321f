//! Readings of a state, and the gates.

use crate::file::table::Table;
use crate::model::{Found, Gates, PistonTurn};

pub(super) fn found(table: &Table) -> Found {
    Found {
        date: table.text("date"),
        opening_play: table.figure("opening_play"),
        closing_play: table.figure("closing_play"),
        opening_gap: table.figure("opening_gap"),
        closing_gap: table.figure("closing_gap"),
        opening_thread: table.figure("opening_thread"),
        closing_thread: table.figure("closing_thread"),
        spring_length: table.figure("spring_length"),
        edge_above_flush: table.figure("edge_above_flush"),
        edge_above_closed: table.figure("edge_above_closed"),
        mark_at_full: table.figure("mark_at_full"),
        mark_at_closed: table.figure("mark_at_closed"),
        sensor_closed: table.figure("sensor_closed"),
        sensor_open: table.figure("sensor_open"),
        play_felt: table.text("play_felt"),
    }
}

pub(super) fn gates(table: &Table) -> Gates {
    let turn = |key: &str| {
        table.word(key).map(|word| if word == "clear" { PistonTurn::Clear } else { PistonTurn::Touches })
    };
    Gates {
        proud_closed: table.figure("proud_closed"),
        proud_open: table.figure("proud_open"),
        turn_closed: turn("turn_closed"),
        turn_open: turn("turn_open"),
    }
}
