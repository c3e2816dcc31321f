//! A figure outside its usual range: sign, inches for millimetres and the other way, degrees for turns, a decimal
//! sign one or three places off.

use super::{Asked, Case};
use crate::file::spec::Kind;
use crate::file::unlikely;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    for table in case.tables.0 {
        for key in table.section.keys {
            let Kind::Figure(figure) = key.holds else { continue };
            let (Some(usual), Some(measured), Some(_)) =
                (figure.usual, table.figure(key.name), table.line_of(key.name))
            else {
                continue;
            };
            if usual.contains(measured.value) {
                continue;
            }
            let read = measured.written.as_deref().unwrap_or("");
            let text = format!("'{read}' was read; usual is {usual} (common practice, no source).");
            let likely = match unlikely::reading(&measured, Some(usual)) {
                Some(reading) => format!("Likely meant: {reading}."),
                None => {
                    "No simple slip explains it; check the figure, its unit and where it was measured from."
                        .to_owned()
                }
            };
            asked.ask(table, key.name, text, likely);
        }
    }
}
