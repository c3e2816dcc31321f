//! Acceptance limits.

use crate::file::table::Table;
use crate::model::{Limit, Limits};

pub(super) fn limits(table: &Table) -> Option<Limits> {
    let limit = |key: &str| table.limit(key).map(|(value, from)| Limit { value, from });
    Some(Limits {
        flush: limit("flush")?,
        closed: limit("closed")?,
        opening_slack: limit("opening_slack")?,
        closing_slack: limit("closing_slack")?,
        seat_tension: limit("seat_tension")?,
        wire_tension: limit("wire_tension")?,
        torque_margin: limit("torque_margin")?,
        tooth_load: limit("tooth_load"),
        proud: limit("proud")?,
    })
}
