//! Prints a page with every picture of an engine, to look at them:
//! `cargo run -p workshop --example pictures -- dark > pictures.html`. Words: `light`, `dark` or `paper`; `inch`;
//! `found`; `stdin` reads an engine file from standard input instead of the demo.

use drawing::{Theme, css, to_svg};
use engine::file::{DEMO, read};
use quantity::Units;
use std::io::Read;
use workshop::{Shown, answer};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let says = |word: &str| words.iter().any(|w| w == word);
    let units = if says("inch") { Units::Inch } else { Units::Metric };
    let theme = if says("paper") { Theme::Paper } else { Theme::Page };
    let ground = if says("dark") { "dark" } else { "light" };
    let which = if says("found") { Shown::Found } else { Shown::Proposed };
    let mut file = Vec::new();
    if says("stdin") {
        std::io::stdin().read_to_end(&mut file)?;
    } else {
        file.extend_from_slice(DEMO.as_bytes());
    }
    let reading = read(&file).map_err(|p| format!("{p:?}"))?;
    let full = reading.engine.servo.travel.value;
    let answer = answer(&reading, units);
    let mut scenes = Vec::new();
    for (part, crank_deg) in [(0.0, 60.0f64), (0.55, 120.0), (1.0, 170.0)] {
        let (servo, crank) = (full * part, crank_deg.to_radians());
        scenes.push(answer.gear_scene(which, servo));
        scenes.push(answer.port_scene(which, servo, crank));
    }
    scenes.push(answer.travel_scene(which, 0.55 * full));
    scenes.push(answer.area_scene(which, 0.55 * full, 126f64.to_radians()));
    scenes.push(answer.ends_scene());
    scenes.extend((0..20).filter_map(|step| answer.turn_scene(step)));
    println!(
        "<!doctype html><html lang=\"en\" data-theme=\"{ground}\"><meta charset=\"utf-8\"><title>Pictures</title>\
         <style>{}body{{margin:8px;background:var(--paper);color:var(--ink)}}\
         main{{display:grid;gap:12px;grid-template-columns:repeat(auto-fill,minmax(340px,1fr))}}</style><main>",
        css()
    );
    for scene in scenes {
        println!("<div>{}</div>", to_svg(&scene, theme));
    }
    println!("</main></html>");
    Ok(())
}
