//! The demo engine from its file to the answer.

use quantity::Units;
use workshop::report::{Outcome, Report};

fn demo() -> Report {
    let reading = engine::file::read(engine::file::DEMO.as_bytes()).unwrap();
    workshop::answer(&reading, Units::Metric).report
}

#[test]
fn regress_demo_prints() {
    println!("{}", serde_json::to_string_pretty(&demo()).unwrap());
    assert_eq!(demo().outcome, Outcome::Ready);
}
