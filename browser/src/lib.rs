//! Journeys through the web app in a real browser.
//!
//! [`journey`] opens Chromium with the viewport of a phone or a desk, hands a [`Page`] to the steps, and fails
//! when a step fails or when the page wrote an error to its console. Nothing here sleeps: it waits for what a
//! user would wait for. Run by `cargo xtask browser`, which builds the program first.
#![allow(
    clippy::disallowed_methods,
    reason = "drives programs from outside: files, clock and sockets are its trade"
)]

mod access;
mod app;
mod chromium;
mod faults;
mod journey;
mod page;
mod paper;

pub use app::App;
pub use chromium::View;
pub use journey::journey;
pub use page::Page;
pub use paper::pages_of;
