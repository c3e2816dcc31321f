//! A limit of error as large as the figure itself: usually a slip in the unit or the decimal sign behind the ±.

use super::{Asked, Case};
use crate::file::spec::Kind;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    for table in case.tables.0 {
        for key in table.section.keys {
            // Where zero or a change of sign is usual, a limit larger than the figure is usual too.
            let Kind::Figure(figure) = key.holds else { continue };
            let positive = figure.usual.is_some_and(|usual| usual.least > 0.0);
            let (Some(measured), Some(_), true) = (table.figure(key.name), table.line_of(key.name), positive)
            else {
                continue;
            };
            if 2.0 * measured.u > measured.value.abs() {
                let read = measured.written.as_deref().unwrap_or("");
                asked.ask(
                    table,
                    key.name,
                    format!("'{read}' is known no better than to its own size."),
                    "Likely the unit or the decimal sign behind the ± is not what was meant.",
                );
            }
        }
    }
}
