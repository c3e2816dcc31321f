//! Writes a sheet as PDF to the standard output.
//!
//! `cargo run -p sheet --example sample > demo.pdf` for the invented demo engine; with the words `made-up`, `stopped`,
//! `letter` for a longer report of made-up figures, for one with open questions, and for letter paper.

use sheet::{Paper, SheetContent};
use std::io::Write;

#[path = "../tests/fixture/mod.rs"]
mod fixture;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let said = |word: &str| words.iter().any(|w| w == word);
    let mut report = fixture::report();
    if said("stopped") {
        fixture::stop(&mut report);
    }
    let mut content = if said("made-up") || said("stopped") {
        fixture::content(&report)
    } else {
        SheetContent::of(&fixture::DEMO, Some("14 May 2026".to_owned()))
    };
    if said("letter") {
        content.paper = Paper::Letter;
    }
    std::io::stdout().write_all(&sheet::pdf(&content)?)?;
    Ok(())
}
