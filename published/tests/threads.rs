//! Adjuster threads: the pitch that the engine file reads from a designation, and what a turn and a flat give.

use engine::model::Engine;
use gear::Adjuster;
use published::{Tolerance, cite};

/// The demo engine with `designation` as the thread of both adjusters.
fn engine_with(designation: &str) -> Engine {
    let text: String = engine::file::DEMO
        .lines()
        .map(|line| {
            let thread = line.trim_start().starts_with("thread =");
            if thread { format!("thread = \"{designation}\"\n") } else { format!("{line}\n") }
        })
        .collect();
    match engine::file::read(text.as_bytes()) {
        Ok(reading) => reading.engine,
        Err(problems) => panic!("{designation} was refused: {problems:?}"),
    }
}

#[test]
fn published_pitches_of_metric_threads() {
    let table = include_str!("../data/metric_threads.csv");
    let mut checked = 0;
    for line in table.lines().filter(|line| line.starts_with('M')) {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |at: usize| -> f64 { cells[at].parse().expect("a number") };
        let designation = format!("{} x {}", cells[0], cells[2]);
        let adjuster = Adjuster::of(&engine_with(&designation).gear.opening);
        let exact = || Tolerance::absolute(1e-12, "exact by definition");
        let rounded = || Tolerance::absolute(5.1e-5, "the table carries four decimals");
        cite("ISO-261", "general plan of pitches")
            .near(&format!("{designation}: pitch, mm"), adjuster.pitch_m * 1e3, number(2), exact())
            .near(
                &format!("{designation}: a turn, mm"),
                adjuster.slack_taken_up_m(1.0) * 1e3,
                number(5),
                exact(),
            )
            .near(
                &format!("{designation}: a quarter turn, mm"),
                adjuster.slack_taken_up_m(0.25) * 1e3,
                number(6),
                rounded(),
            )
            .near(
                &format!("{designation}: a flat, mm"),
                adjuster.slack_taken_up_m(1.0 / 6.0) * 1e3,
                number(7),
                rounded(),
            );
        if cells[1] == "coarse" {
            let by_size = Adjuster::of(&engine_with(cells[0]).gear.closing);
            cite("ISO-261", "general plan: the coarse pitch is meant when none is written").near(
                &format!("{}: coarse pitch, mm", cells[0]),
                by_size.pitch_m * 1e3,
                number(2),
                exact(),
            );
        }
        checked += 1;
    }
    assert_eq!(checked, 13, "the table has 13 threads");
}
