//! The guided path of one engine and its forms, as data.
//!
//! Everything follows from the fields as they stand (key to text, see [`engine::file::fields`]): the steps in the order
//! of the work with what is missing in each ([`path`]), one step's fields with words, ranges and what is wrong
//! ([`page`]), the drawing of what a field asks for ([`illustration`]). No step is ever closed: the order is a
//! proposal.

mod field;
mod illustration;
mod label;
mod page;
mod path;
mod ports;
mod standing;
mod step;

pub use field::{Choice, FieldKind, FormField, FormWhen, UnitKey, unit_keys_of};
pub use illustration::{Cable, Illustration, illustration, illustration_for};
pub(crate) use label::upper;
pub use label::{full_label, label};
pub use page::{FormGroup, FormItem, FormPage, OneOf, page};
pub use path::{Next, Path, StepState, StepStatus, path};
pub use ports::{Move, add_port, move_port, port_numbers, remove_port};
pub use step::Step;

#[cfg(test)]
mod tests;
