//! Journeys of a mechanic through the app, on phone and desktop. One binary, because linking the browser's
//! protocol takes longer than the journeys.
#![allow(clippy::disallowed_methods, reason = "drives programs from outside")]

mod bench;
mod engine_file;
mod first_page;
mod harness;
mod job_cards;
mod moving;
mod photo;
mod pictures;
mod power;
mod procedures;
mod record;
mod sheet;

/// Width and colours in which every page is held to the rules of accessibility. Dark is looked at once: colours do not
/// depend on the width, nor the layout on the colours.
const LOOKS: [(browser::View, &str); 3] =
    [(browser::View::Phone, "light"), (browser::View::Desktop, "light"), (browser::View::Desktop, "dark")];

/// The setting of the demo engine: its job card is the first in a new record.
const DEMO: &str = "/visit/1/setting";
