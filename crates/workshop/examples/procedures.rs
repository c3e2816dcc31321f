//! The demo engine's procedures side by side, as figures or as a page with pictures:
//! `cargo run -p workshop --example procedures -- page > procedures.html`. Words: `this` (the engine at hand alone), `page`;
//! a number of draws.

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
    if arguments.iter().any(|a| a == "page") {
        return page(&comparison);
    }
    for line in comparison.statements(Units::Metric) {
        println!("* {line}");
    }
    for entry in &comparison.entries {
        let verdict = comparison.verdict(entry, Units::Metric);
        println!("\n{}\n  {}\n  {}", verdict.name, verdict.headline, verdict.reasons.join("\n  "));
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
}

/// A page with every picture, to look at them.
fn page(comparison: &Comparison) {
    let svg = |scene: &drawing::Scene| drawing::to_svg(scene, drawing::Theme::Page);
    println!(
        "<!doctype html><html lang=\"en\" data-theme=\"light\"><meta charset=\"utf-8\"><title>Procedures</title>\
         <style>{}body{{margin:8px;background:var(--paper);color:var(--ink)}}\
         main{{display:grid;gap:12px;grid-template-columns:repeat(auto-fill,minmax(340px,1fr))}}</style><main>",
        drawing::css()
    );
    println!("<div>{}</div>", svg(&comparison.edge_scene(Units::Metric)));
    for scene in comparison.entries.iter().filter_map(|entry| entry.median_scene(Units::Metric)) {
        println!("<div>{}</div>", svg(&scene));
    }
    println!("</main></html>");
}
