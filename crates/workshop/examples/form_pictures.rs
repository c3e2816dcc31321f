//! Prints a page with the drawing of every field, to look at them:
//! `cargo run -p workshop --example form_pictures -- dark > form.html`. Words: `light`, `dark` or `paper`; `inch`;
//! `empty` draws without any field; `flap`, `drum` change the valve.

use drawing::{Theme, css, to_svg};
use engine::file::fields::fields_of;
use quantity::Units;
use std::collections::BTreeMap;
use workshop::form::{FormItem, Step, illustration_for, page};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let says = |word: &str| words.iter().any(|w| w == word);
    let units = if says("inch") { Units::Inch } else { Units::Metric };
    let theme = if says("paper") { Theme::Paper } else { Theme::Page };
    let ground = if says("dark") { "dark" } else { "light" };
    let demo = fields_of(engine::file::DEMO).map_err(|problems| format!("{problems:?}"))?;
    let mut fields =
        if says("empty") { BTreeMap::from([("port.1.name".into(), "exhaust".into())]) } else { demo };
    for kind in ["flap", "drum"].into_iter().filter(|kind| says(kind)) {
        fields.insert("valve.kind".to_owned(), kind.to_owned());
    }
    println!(
        "<!doctype html><html lang=\"en\" data-theme=\"{ground}\"><meta charset=\"utf-8\"><title>Form pictures</title>\
         <style>{}body{{margin:8px;background:var(--paper);color:var(--ink);font:12px sans-serif}}\
         main{{display:grid;gap:10px;grid-template-columns:repeat(4,1fr)}}div{{border:1px solid #888}}</style><main>",
        css()
    );
    for step in Step::ALL {
        for group in
            page(step, &fields, units).groups.into_iter().filter(|group| group.place.unwrap_or(1) == 1)
        {
            let keys = group.items.into_iter().flat_map(|item| match item {
                FormItem::Field(field) => vec![field.key],
                FormItem::OneOf(one) => one.ways.into_iter().map(|way| way.key).collect(),
            });
            for key in keys {
                if let Some(scene) = illustration_for(&key, &fields, units) {
                    println!("<div>{key}{}</div>", to_svg(&scene, theme));
                }
            }
        }
    }
    println!("</main></html>");
    Ok(())
}
