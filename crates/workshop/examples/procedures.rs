//! The demo engine's procedures side by side: `cargo run -p workshop --example procedures [this] [draws]`.

use quantity::{Units, show_value};
use workshop::procedure::{Comparison, Measure, Procedures, Scope, Signs, drivers};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let scope = if arguments.iter().any(|a| a == "this") { Scope::ThisEngine } else { Scope::LikeEngines };
    let draws = arguments.iter().find_map(|a| a.parse().ok()).unwrap_or(20_000);
    let engine = match engine::file::read(engine::file::DEMO.as_bytes()) {
        Ok(reading) => reading.engine,
        Err(problems) => panic!("{problems:?}"),
    };
    let comparison = Comparison::of(&engine, &Procedures::built_in(), scope, 0..draws, 1);
    for entry in &comparison.entries {
        let summary = &entry.summary;
        println!(
            "{} {:.1} % meet all, failed {:.3}",
            entry.key(),
            100.0 * summary.all_demands,
            summary.failed
        );
        println!("  demands {:?}", summary.demands.map(|share| (share * 100.0).round()));
        println!("  signs {:?}", Signs::ALL.map(|sign| (summary.sign(sign) * 100.0).round()));
        for measure in Measure::ALL {
            if let Some(q) = summary.quantiles(measure) {
                let show = |si: f64| show_value(si, measure.dimension(), Units::Metric);
                println!("  {}: {} ({} to {})", measure.key(), show(q.median), show(q.low), show(q.high));
            }
        }
        for driver in drivers(&entry.run, Measure::EdgeAtFull).iter().take(5) {
            println!("    {:.0} % {}", 100.0 * driver.share, driver.name);
        }
    }
    for circle in comparison.circles() {
        let keys: Vec<_> = circle.iter().map(|at| comparison.entries[*at].key()).collect();
        println!("agree: {keys:?}");
    }
    for circle in comparison.circles_of_aim() {
        let keys: Vec<_> = circle.iter().map(|at| comparison.entries[*at].key()).collect();
        println!("same aim: {keys:?}");
    }
    for (procedure, why) in &comparison.left_out {
        println!("{}: {why}", procedure.key);
    }
}
