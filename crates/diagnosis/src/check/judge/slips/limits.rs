//! Limits written the wrong way round.

use super::Case;
use crate::check::judgement::{Slip, SlipKind};

pub(super) fn ask(case: &Case<'_>) -> Option<Slip> {
    let in_force = case.in_force.filter(|in_force| in_force.limits.reversed)?;
    let shown = in_force.limits.show(case.reading.dimension, case.units);
    Some(case.slip(
        SlipKind::LimitsReversed,
        "The limit was written with its larger figure first.".to_owned(),
        format!("Likely meant: {shown}, unless one of the two has a wrong digit or unit."),
        None,
    ))
}
