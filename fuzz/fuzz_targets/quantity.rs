//! Any text in any dimension is read or refused, never a panic; what was read is a sane figure that can be shown.
#![no_main]

use libfuzzer_sys::fuzz_target;
use quantity::{Dimension, Units};

fuzz_target!(|text: &str| {
    for dimension in Dimension::ALL {
        match quantity::parse(text, dimension) {
            Ok(figure) => {
                assert!(figure.value.is_finite() && figure.u.is_finite() && figure.u >= 0.0);
                assert_eq!(figure.dimension, dimension);
                for units in [Units::Metric, Units::Inch] {
                    assert!(!quantity::show(&figure, units).is_empty());
                }
            }
            Err(refusal) => assert!(!refusal.to_string().is_empty()),
        }
    }
});
