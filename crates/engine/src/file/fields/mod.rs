//! An engine file as a set of fields: key to text, exactly as typed, however wrong or unfinished.
//!
//! A key is that of the file, dotted: `crank.bore`, `gear.opening.thread`; ports by their number, `port.1.width`
//! (numbers may have gaps: they order the ports, the file closes the gaps); the source of a limit apart,
//! `limits.flush.from`. Lists are one text: names between commas, points of a valve one a line like
//! `20° = 1.1 mm`. A blank text is a field that is not given.
//!
//! [`fields_of`] takes a file apart, [`compose`] writes one, [`read_fields`] reads all fields and names what is
//! wrong by field, [`read_field`] reads one alone, as it is left.

mod check;
mod compose;
mod field;
mod list;
mod page;
mod reading;
mod take_apart;

pub use check::{FieldCheck, FieldState, read_field};
pub use compose::{Composed, compose};
pub use field::{Field, field_key, sections_of};
pub use list::{join_names, split_names};
pub use reading::{FieldsReading, confirmed, read_fields};
pub use take_apart::fields_of;

#[cfg(test)]
mod tests;
