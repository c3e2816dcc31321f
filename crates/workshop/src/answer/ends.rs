//! The error at both ends of the travel, as found and as proposed, and what matters.

use super::telling::Telling;
use crate::report::{EndError, ErrorBand};
use crate::setting::spread::Band;
use quantity::Dimension;

/// A result inside the limits with at least this probability passes, outside with as much fails; between the two the
/// readings cannot tell (two-sided 95 %, as JCGM 106:2012 leaves to the user).
pub(super) const SURE: f64 = 0.95;

/// Closed end first, then fully open.
pub(super) fn ends(telling: &Telling<'_>) -> Vec<EndError> {
    let spread = &telling.solution.spread;
    let (engine, drop_m) = (telling.engine, telling.solution.case.drop_m);
    let closed_limit = &engine.limits.closed;
    let flush_limit = &engine.limits.flush;
    let at_closed = telling.degrees_per_mm(drop_m);
    let at_flush = telling.degrees_per_mm(0.0);
    let band = |band: &Option<Band>, slope: f64| band.as_ref().map(|band| error_band(telling, band, slope));
    vec![
        EndError {
            end: "closed".to_owned(),
            what: "edge above its closed position, below the opening speed".to_owned(),
            found: band(&spread.found_closed, at_closed),
            proposed: band(&spread.proposed_closed, at_closed),
            accept_m: (0.0, closed_limit.value.value),
            accept: format!("0 to {} ({})", telling.length(closed_limit.value.value), closed_limit.from),
            degrees_per_mm: at_closed,
        },
        EndError {
            end: "fully open".to_owned(),
            what: "edge above flush (minus: below flush) at full actuator travel".to_owned(),
            found: band(&spread.found_full, at_flush),
            proposed: band(&spread.proposed_full, at_flush),
            accept_m: (-flush_limit.value.value, flush_limit.value.value),
            accept: format!("±{} ({})", telling.length(flush_limit.value.value), flush_limit.from),
            degrees_per_mm: at_flush,
        },
    ]
}

fn error_band(telling: &Telling<'_>, band: &Band, degrees_per_mm: f64) -> ErrorBand {
    let rad_per_m = degrees_per_mm.to_radians() * 1e3;
    ErrorBand {
        height: telling.band(band),
        crank: telling.figure(band.best * rad_per_m, band.u * rad_per_m, Dimension::Angle),
        low_m: band.low,
        high_m: band.high,
        within: band.within,
        verdict: verdict(band.within).to_owned(),
    }
}

/// The verdict that a probability of lying within the limits allows.
pub(super) fn verdict(within: f64) -> &'static str {
    if within >= SURE {
        "pass"
    } else if within <= 1.0 - SURE {
        "fail"
    } else {
        "cannot tell"
    }
}

/// One sentence: what the setting moves, and below which size it makes no difference.
pub(super) fn what_matters(telling: &Telling<'_>) -> String {
    let spread = &telling.solution.spread;
    let Some(full) = &spread.proposed_full else {
        return "No setting can be given yet, so nothing is moved.".to_owned();
    };
    let noise_m = 2.0 * full.u;
    let noise = format!(
        "{} ({}° of crank)",
        telling.fine(noise_m),
        number(noise_m * 1e3 * telling.degrees_per_mm(0.0), 1)
    );
    let why = "because that is how well the edge can be read and set";
    match &spread.edge_move {
        Some(change) if change.best.abs() < noise_m => format!(
            "This setting moves the port's upper edge by {} at full travel, less than the {noise} to which it can be \
             read and set: it makes no difference.",
            telling.amount(change.best)
        ),
        Some(change) => format!(
            "This setting moves the port's upper edge {} by {} at full travel; below {noise} it makes no difference, \
             {why}.",
            if change.best < 0.0 { "down" } else { "up" },
            telling.figure(change.best.abs(), full.u, Dimension::Length).text
        ),
        None => format!(
            "How far this setting moves the port cannot be said without a reading of the present edge; below {noise} \
             it makes no difference, {why}."
        ),
    }
}

pub(super) fn number(value: f64, decimals: usize) -> String {
    format!("{value:.decimals$}").replace('-', "−")
}
