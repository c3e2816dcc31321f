//! Any text is a log or a sentence, never a panic; what was read is judged and drawn with finite figures only.
#![no_main]

use diagnosis::sweep::{Limits, Log, Sweep};
use libfuzzer_sys::fuzz_target;
use quantity::Units;

fuzz_target!(|text: &str| {
    match Log::read(text) {
        Ok(log) => {
            assert!(!log.samples.is_empty() && log.values().all(f64::is_finite));
            for even_speed in [false, true] {
                let sweep = Sweep::of(&log, &Limits { even_speed, ..Limits::default() });
                assert!(!sweep.text.is_empty() && !sweep.findings.is_empty());
                for defect in &sweep.defects {
                    assert!(defect.from.is_finite() && defect.to.is_finite() && defect.size.is_finite());
                }
                let drawn = drawing::to_svg(&sweep.scene(Units::Metric), drawing::Theme::Page);
                assert!(!drawn.contains("NaN") && !drawn.contains("inf,"));
            }
        }
        Err(problem) => assert!(!problem.to_string().is_empty()),
    }
});
