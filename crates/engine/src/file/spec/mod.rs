//! The engine file as one table: sections, keys, what each holds, what is accepted, what is usual, and what
//! stands in for a missing one. The reader, the suggestions, the schema and the reference pages come from it.

mod cable;
mod crank;
mod engine;
mod found;
mod gas;
mod gear;
mod key;
mod limits;
mod port;
mod range;
mod servo;
mod valve;

pub use key::{Figure, Key, Kind, Need, When, Word};
pub use port::usual_duration;
pub use range::{Range, degrees};

use serde::Serialize;

/// Version of the file's layout: the value of the key `portwright`.
pub const VERSION: u32 = 1;

/// The whole file.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Spec {
    /// Version of the layout.
    pub version: u32,
    /// The sections in the order in which a file is best written; the first holds the keys above all sections.
    pub sections: &'static [Section],
}

impl Spec {
    /// The section with this path, e.g. `gear.opening`.
    pub fn section(&self, path: &str) -> Option<&'static Section> {
        self.sections.iter().find(|section| section.path == path)
    }
}

/// One section of the file.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Section {
    /// Path as between the brackets; empty for the keys above all sections.
    pub path: &'static str,
    /// Written with double brackets, once for each.
    pub repeated: bool,
    /// A file without it is refused; else its keys are taken as left out.
    pub required: bool,
    /// What it describes, a sentence or two.
    pub doc: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
    /// Keys of which exactly one is to be given.
    pub groups: &'static [Group],
}

impl Section {
    /// The key with this name.
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// Left out as a whole it says nothing: no defaults stand in, and none of its keys is missing.
    pub fn stays_out(&self) -> bool {
        matches!(self.path, "found" | "gates" | "returns") || gas::PATHS.contains(&self.path)
    }

    /// As it is written in the file: `[crank]`, `[[port]]`.
    pub fn heading(&self) -> String {
        if self.repeated { format!("[[{}]]", self.path) } else { format!("[{}]", self.path) }
    }
}

/// Keys of which exactly one is to be given.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Group {
    /// Name, as in [`Need::OneOf`].
    pub name: &'static str,
    /// What the group says, e.g. "the roof".
    pub what: &'static str,
    /// What happens when none is given: [`Need::Required`] or [`Need::Worked`].
    pub need: Need,
}

/// Lift of a measured point of a valve.
pub(super) const LIFT: Figure =
    Figure { dimension: quantity::Dimension::Length, accepted: range::mm(0.0, 60.0), usual: None };

/// The table.
pub fn spec() -> &'static Spec {
    &SPEC
}

static SPEC: Spec = Spec {
    version: VERSION,
    sections: &[
        engine::TOP,
        engine::ENGINE,
        crank::CRANK,
        crank::HEAD,
        crank::CRANKCASE,
        port::PORT,
        valve::VALVE,
        gear::GEAR,
        cable::OPENING,
        cable::CLOSING,
        gear::SPRING,
        servo::SERVO,
        servo::SCHEDULE,
        limits::LIMITS,
        found::FOUND,
        found::GATES,
        found::RETURNS,
        gas::PIPE,
        gas::INTAKE,
        gas::REED,
        gas::CARBURETTOR,
        gas::TRANSFER_DUCT,
        gas::IGNITION,
        gas::FUEL,
        gas::AMBIENT,
    ],
};
