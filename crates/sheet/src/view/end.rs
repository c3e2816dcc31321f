//! The error at one end of the travel.

use super::{Dict, IntoValue, Value, dict, probability, text};
use workshop::report::{EndError, ErrorBand};

/// One line of the table of both ends; what the steps would reach only where steps are printed.
pub(super) fn of(end: &EndError, may_work: bool) -> Dict {
    dict! {
        "end" => text(&end.end),
        "what" => text(&end.what),
        "accept" => text(&end.accept),
        "found" => band(end.found.as_ref()),
        "proposed" => band(end.proposed.as_ref().filter(|_| may_work)),
    }
}

fn band(band: Option<&ErrorBand>) -> Value {
    band.map_or(Value::None, |band| {
        dict! {
            "height" => text(&band.height.text),
            "crank" => text(&band.crank.text),
            "within" => text(&probability(band.within)),
            "verdict" => text(&band.verdict),
        }
        .into_value()
    })
}
