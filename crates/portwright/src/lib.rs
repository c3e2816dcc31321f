//! The Portwright program: a command line and a local web app, both thin.
//!
//! Each command and each page calls one function of `workshop` and shows what it gives; no number is computed here.

// The program is where files, clocks and sockets are touched; the core crates stay pure.
#![allow(clippy::disallowed_methods)]

mod card_key;
pub mod cli;
mod job_card;
mod paper;
mod procedures;
mod record_place;
mod returns;
mod shelf;
mod torque_map;
pub mod web;

pub use shelf::Kept;
