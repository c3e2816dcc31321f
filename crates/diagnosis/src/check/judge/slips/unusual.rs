//! A reading outside everything usual that no simple slip explains.

use super::{Band, Case};
use crate::check::judgement::{Slip, SlipKind};

pub(super) fn ask(case: &Case<'_>) -> Option<Slip> {
    let figure = case.figure()?;
    let usual = case.usual()?;
    if !case.is_odd() {
        return None;
    }
    let side = if figure.value < Band::of(&usual).low { "less" } else { "more" };
    Some(case.slip(
        SlipKind::Unusual,
        format!(
            "'{}' was read, {side} than is usual: {} ({}).",
            case.written(),
            usual.show(case.reading.dimension, case.units),
            case.reading.source
        ),
        "No simple slip explains it; check the figure, its unit and where it was measured.".to_owned(),
        None,
    ))
}
