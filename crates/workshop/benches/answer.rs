//! One whole answer to the demo engine, and its parts: how long a page waits for its figures.

use quantity::Units;
use workshop::setting::case::Case;
use workshop::setting::demand::Reached;

fn main() {
    divan::main();
}

fn demo() -> engine::file::Reading {
    engine::file::read(engine::file::DEMO.as_bytes()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

#[divan::bench]
fn answer(bencher: divan::Bencher<'_, '_>) {
    let reading = demo();
    bencher.bench(|| workshop::answer(divan::black_box(&reading), Units::Metric));
}

#[divan::bench]
fn gear_scene_as_svg(bencher: divan::Bencher<'_, '_>) {
    let answer = workshop::answer(&demo(), Units::Metric);
    bencher.bench(|| {
        let scene = answer.gear_scene(workshop::Shown::Proposed, divan::black_box(0.7));
        drawing::to_svg(&scene, drawing::Theme::Page)
    });
}

#[divan::bench]
fn demands_of_one_setting(bencher: divan::Bencher<'_, '_>) {
    let case = Case::of(&demo().engine);
    let setting = gear::Setting { opening_slack_m: 2e-3, closing_slack_m: -15e-3 };
    bencher.bench(|| Reached::of(&case, divan::black_box(setting)));
}
