//! Why a text is no quantity, in one sentence for the mechanic who wrote it.

use crate::Dimension;
use crate::instrument;
use thiserror::Error;

/// Why a text could not be read. Its `Display` is one sentence about the value; the caller puts the field's
/// name before it. Every `read` is a cleaned excerpt of what was written.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[allow(missing_docs, reason = "the sentences say what each case is")]
pub enum ParseError {
    #[error("nothing is written here; write {}, for example '{}'", .wanted.noun(), .wanted.example())]
    Empty { wanted: Dimension },

    #[error("the text is longer than {limit} signs; write only the figure, its unit and its ±, for example '{}'", .wanted.example())]
    TooLong { limit: usize, wanted: Dimension },

    #[error("'{read}' does not begin with a figure; write {} like '{}'", .wanted.noun(), .wanted.example())]
    NoFigure { read: String, wanted: Dimension },

    #[error("'{read}' is too large to reckon with; write the figure in a larger unit")]
    NotFinite { read: String },

    #[error("'{read}' divides by nothing; write the fraction like '3/8'")]
    DividedByZero { read: String },

    #[error(
        "'{whole},{decimals}' can be read as {whole}.{decimals} or as {whole}{decimals}; write '{whole}.{decimals}' or '{whole}{decimals}'"
    )]
    Thousands { whole: String, decimals: String },

    #[error(
        "'{read}' has more than one decimal sign; leave the thousands unmarked, and write one point or comma before the decimals ('{without}' if there are none)"
    )]
    SeveralSeparators { read: String, without: String },

    #[error(
        "'{read}' holds more than one figure; write one, without gaps between its digits, and a range as its middle ± half its width"
    )]
    SeveralFigures { read: String },

    #[error(
        "'{read}' has unequal limits; write the middle of them and ± half their distance, for example '{}'", .wanted.example()
    )]
    UnequalLimits { read: String, wanted: Dimension },

    #[error("'{read}' has no unit; it can be {}: write for example '{read} {}'", .wanted.usual_units(), .wanted.first_unit())]
    NoUnit { read: String, wanted: Dimension },

    #[error("'{unit}' is {}; here {} is wanted: {}", .is.noun(), .wanted.noun(), .wanted.usual_units())]
    WrongDimension { unit: String, is: Dimension, wanted: Dimension },

    #[error("'{unit}' is not known here as a unit of {}; did you mean '{nearest}'? It can be {}", .wanted.name(), .wanted.usual_units())]
    Mistyped { unit: String, nearest: String, wanted: Dimension },

    #[error("'{unit}' is not known here as a unit of {}; it can be {}", .wanted.name(), .wanted.usual_units())]
    UnknownUnit { unit: String, wanted: Dimension },

    #[error("'{unit}' stands behind a plain number, which has no unit; leave it out, or write %")]
    UnitOnNumber { unit: String },

    #[error(
        "nothing stands after ±; write how far off the figure can be, like '± 0.1 mm', '± 5 %' or '± (0.5 % + 2 digits)'"
    )]
    NoLimit,

    #[error(
        "'{read}' after ± is no limit of error; write it like '± 0.1 mm', '± 5 %' or '± (0.5 % + 2 digits)'"
    )]
    BadLimit { read: String },

    #[error("the limit '{read}' after ± is negative; write how far off the figure can be, without a sign")]
    NegativeLimit { read: String },

    #[error(
        "'{read}' gives per cent of a temperature, which depends on where its scale begins; write the limit in degrees, for example '± 2 °C'"
    )]
    ShareOfTemperature { read: String },

    #[error("'{read}' has ± more than once; write one ± with one limit")]
    SeveralLimits { read: String },

    #[error("'{read}' has a bracket without its partner; write for example '({})'", .wanted.example())]
    Bracket { read: String, wanted: Dimension },

    #[error(
        "'{read}' is no coverage factor; write k between 1 and 10 behind the limit, for example '± 0.1 mm (k=2)'"
    )]
    BadCoverage { read: String },

    #[error("k = {k} belongs behind a limit with ±; write for example '± 0.1 mm (k={k})', or leave it out")]
    CoverageWithoutLimit { k: f64 },

    #[error(
        "'{read}' says how sure it is in more than one way; keep one of ±, 'exact' and 'by' an instrument"
    )]
    TwoUncertainties { read: String },

    #[error("'{name}' is no instrument known here; {}", offer_instruments(*.wanted))]
    UnknownInstrument { name: String, wanted: Dimension },

    #[error("'{name}' does not measure {}; {}", .wanted.noun(), offer_instruments(*.wanted))]
    WrongInstrument { name: &'static str, wanted: Dimension },

    #[error("'{read}' is below absolute zero (−273.15 °C); check the sign and the unit")]
    BelowAbsoluteZero { read: String },
}

fn offer_instruments(wanted: Dimension) -> String {
    let names = instrument::names_for(wanted);
    match names.split_first() {
        None => "write its limit with ± instead".to_owned(),
        Some((first, [])) => format!("write 'by {first}', or its limit with ±"),
        Some((first, others)) => {
            format!("write 'by {first}' (or {}), or its limit with ±", others.join(", "))
        }
    }
}

#[cfg(test)]
mod tests;
