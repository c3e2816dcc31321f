//! Properties that hold for every figure and every text.

use crate::{Dimension, Measured, Units, display_unit, parse, show, show_value, show_with};
use proptest::prelude::*;

fn dimension() -> impl Strategy<Value = Dimension> {
    prop::sample::select(Dimension::ALL.to_vec())
}

fn units() -> impl Strategy<Value = Units> {
    prop::sample::select(vec![Units::Metric, Units::Inch])
}

/// A figure of workshop size, sign included, in the display unit of the dimension.
fn figure() -> impl Strategy<Value = f64> {
    (1.0f64..10.0, -4i32..7, any::<bool>())
        .prop_map(|(digits, power, minus)| digits * 10f64.powi(power) * if minus { -1.0 } else { 1.0 })
}

/// Temperatures below absolute zero do not exist.
fn possible(si: f64, dimension: Dimension) -> bool {
    dimension != Dimension::Temperature || si > 0.0
}

proptest! {
    #[test]
    fn round_trips_what_is_shown(dimension in dimension(), units in units(), figure in figure(), share in 1e-4f64..0.5) {
        let unit = display_unit(dimension, units);
        let value = unit.to_si(figure);
        prop_assume!(possible(value, dimension));
        let u = share * figure.abs() / unit.per_si;
        let text = show(&Measured::normal(value, u, dimension), units);
        let again = parse(&text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"));
        // What is shown after ± is 2u to at least two digits, and the value is rounded to its last digit:
        // it is off by at most half of a tenth of 2u, and after a carry in the rounding by at most twice that.
        prop_assert!((again.value - value).abs() <= 0.2 * u, "{text} is {} off for u = {u}", again.value - value);
        let limits = again.u * 3f64.sqrt();
        prop_assert!((limits - 2.0 * u).abs() <= 0.1 * u, "{text}: {limits} for 2u = {}", 2.0 * u);
    }

    #[test]
    fn round_trips_with_enough_decimals(dimension in dimension(), units in units(), figure in figure()) {
        let value = display_unit(dimension, units).to_si(figure);
        prop_assume!(possible(value, dimension));
        let text = show_with(value, 12, dimension, units);
        let again = parse(&text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"));
        let scale = value.abs().max(1e-6 * display_unit(dimension, units).to_si(1.0).abs());
        prop_assert!((again.value - value).abs() <= 1e-8 * scale, "{text}: {} for {value}", again.value);
    }

    #[test]
    fn round_trips_values_within_their_last_digit(dimension in dimension(), units in units(), figure in figure()) {
        let value = display_unit(dimension, units).to_si(figure);
        prop_assume!(possible(value, dimension));
        let text = show_value(value, dimension, units);
        let again = parse(&text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"));
        // A bare figure is read as good to half its last digit: u times root three is that half.
        prop_assert!((again.value - value).abs() <= again.u * 3f64.sqrt() * (1.0 + 1e-6), "{text} for {value}");
    }

    #[test]
    fn round_trips_written_digits(dimension in dimension(), whole in 0u32..100_000, decimals in 0u32..1000, comma in any::<bool>()) {
        let unit = display_unit(dimension, Units::Metric);
        let sign = if comma { ',' } else { '.' };
        let text = format!("{whole}{sign}{decimals:04} {}", unit.symbol);
        let value: f64 = format!("{whole}.{decimals:04}").parse().unwrap();
        let ours = unit.from_si(parse(&text, dimension).unwrap().value);
        prop_assert!((ours - value).abs() <= 1e-9 * value.abs().max(1.0), "{text}: {ours}");
    }

    #[test]
    fn refuses_or_reads_any_text_without_falling_over(text in any::<String>(), dimension in dimension()) {
        check_reading(&text, dimension)?;
    }

    #[test]
    fn refuses_or_reads_any_heap_of_its_own_signs(
        text in "[-+±0-9.,/ ()%=kminNΩ°\"e×xby\u{a0}\u{2212}]{0,40}",
        dimension in dimension(),
    ) {
        check_reading(&text, dimension)?;
    }

    #[test]
    fn refuses_or_reads_any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300), dimension in dimension()) {
        check_reading(&String::from_utf8_lossy(&bytes), dimension)?;
    }

    #[test]
    fn exact_any_figure_can_be_shown(value in any::<f64>(), u in any::<f64>(), dimension in dimension(), units in units()) {
        for text in [show(&Measured::normal(value, u, dimension), units), show_value(value, dimension, units)] {
            prop_assert!(!text.is_empty() && text.chars().count() < 60, "{text}");
        }
    }
}

/// Whatever was read is finite and can be shown; whatever was refused has a sentence.
fn check_reading(text: &str, dimension: Dimension) -> Result<(), TestCaseError> {
    match parse(text, dimension) {
        Ok(measured) => {
            prop_assert!(measured.value.is_finite() && measured.u.is_finite() && measured.u >= 0.0);
            prop_assert!(!show(&measured, Units::Inch).is_empty());
        }
        Err(error) => {
            let sentence = error.to_string();
            prop_assert!(sentence.len() > 20 && sentence.len() < 600 && !sentence.contains(char::is_control));
        }
    }
    Ok(())
}
