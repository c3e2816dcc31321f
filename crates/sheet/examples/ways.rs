//! Writes the comparison of the built-in ways on the invented demo engine as PDF to the standard output:
//! `cargo run -p sheet --example ways > ways.pdf`.

use quantity::Units;
use sheet::{Paper, WaysContent, ways_pdf};
use std::io::Write;
use workshop::procedure::{Comparison, Procedures, Scope};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let reading =
        engine::file::read(engine::file::DEMO.as_bytes()).map_err(|problems| format!("{problems:?}"))?;
    let comparison = Comparison::of(&reading.engine, &Procedures::built_in(), Scope::ThisEngine, 0..2_000, 1);
    let leaf = comparison.leaf(&reading.engine, Units::Metric, 1);
    let content = WaysContent {
        leaf: &leaf,
        torque: None,
        scale: comparison.hill_scale_scene(Units::Metric),
        paper: Paper::A4,
        date: Some("14 May 2026".to_owned()),
    };
    std::io::stdout().write_all(&ways_pdf(&content)?)?;
    Ok(())
}
