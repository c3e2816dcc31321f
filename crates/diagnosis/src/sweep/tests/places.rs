//! What must not change the places.

use super::made::{Made, read, table};
use crate::sweep::{Limits, Log, Repeats, Sweep};
use proptest::prelude::*;

type Row = (f64, f64, Option<f64>);

/// Kinds and outcome; of everything that repeats its two edges with their expanded uncertainty, as they are told.
type Told = (String, Vec<(f64, f64, f64)>);

fn told(log: &Log) -> Told {
    let sweep = Sweep::of(log, &Limits::default());
    let found: Vec<_> = sweep.defects.iter().filter(|d| d.repeats != Repeats::No).collect();
    let kinds: Vec<_> = found.iter().map(|d| d.kind.name()).collect();
    let places = found.iter().map(|d| (d.from, d.to, 2.0 * d.edge_u)).collect();
    (format!("{:?} {kinds:?}", sweep.outcome), places)
}

/// The same defects, their edges apart by no more than `within` and no more than the results say they may be off: what
/// is found twice must be found within what is said of it.
fn same(a: &Told, b: &Told, within: impl Fn(f64) -> f64) -> bool {
    let near = |((from, to, u), (other_from, other_to, other_u)): (&(f64, f64, f64), &(f64, f64, f64))| {
        let within = within(u + other_u);
        (from - other_from).abs() <= within && (to - other_to).abs() <= within
    };
    a.0 == b.0 && a.1.len() == b.1.len() && a.1.iter().zip(&b.1).all(near)
}

/// The rows as a table says them: what is compared must be the same figures, not figures that were rounded apart.
fn said(rows: Vec<Row>) -> Vec<Row> {
    let to = |value: f64, parts: f64| (value * parts).round() / parts;
    rows.into_iter().map(|(t, x, v)| (to(t, 1e3), to(x, 1e5), v.map(|v| to(v, 1e4)))).collect()
}

fn backwards(rows: &[Row]) -> Vec<Row> {
    let end = rows.last().map_or(0.0, |r| r.0);
    rows.iter().rev().map(|r| (end - r.0, r.1, r.2)).collect()
}

/// The same sweep with time in ms, travel in degrees and the output in mV, columns in another order.
fn in_other_units(rows: &[Row]) -> String {
    let mut text = String::from("output mV;angle °;time ms\n");
    for (t, x, v) in rows {
        let v = v.map_or(String::new(), |v| format!("{:.1}", v * 1e3));
        text.push_str(&format!("{v};{:.4};{:.0}\n", x * 180.0, t * 1e3));
    }
    text
}

fn sweeps() -> impl Strategy<Value = Made> {
    let place = 0.1..0.8;
    (any::<u32>(), place, 0.01..0.08, 0.0..0.004, 0..3, 0.0..0.3).prop_map(
        |(seed, at, width, noise, what, missing)| {
            let made = Made { seed: seed.into(), noise, missing, passes: 4, samples: 200, ..Made::default() };
            match what {
                0 => Made { dead: Some((at, at + width)), ..made },
                1 => Made { bulge: Some((0.05, at + 0.05, width + 0.02)), ..made },
                _ => made,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn exact_units_change_nothing(made in sweeps()) {
        // Travel that starts and ends at its own ends, as an angle knows no others.
        let mut rows = said(made.rows());
        rows[0].1 = 0.0;
        rows[made.samples - 1].1 = 1.0;
        let a = told(&read(&table(&rows, true)));
        let b = told(&read(&in_other_units(&rows)));
        prop_assert!(same(&a, &b, |_| 1e-4), "{a:?} {b:?}");
    }

    #[test]
    fn exact_reading_the_sweep_backwards_finds_the_same_places(made in sweeps()) {
        let rows = said(made.rows());
        for travel in [true, false] {
            let a = told(&read(&table(&rows, travel)));
            let b = told(&read(&table(&backwards(&rows), travel)));
            prop_assert!(same(&a, &b, |said| said), "{travel} {a:?} {b:?}");
        }
    }

    #[test]
    fn exact_turning_the_sensor_round_mirrors_the_places(made in sweeps()) {
        let rows = said(made.rows());
        let mirrored: Vec<Row> = rows.iter().map(|r| (r.0, 1.0 - r.1, r.2)).collect();
        let a = told(&read(&table(&rows, true)));
        let mut b = told(&read(&table(&mirrored, true)));
        b.1 = b.1.iter().rev().map(|(from, to, u)| (1.0 - to, 1.0 - from, *u)).collect();
        prop_assert!(same(&a, &b, |said| said), "{a:?} {b:?}");
    }

    #[test]
    fn refuses_nothing_that_was_read(
        cells in prop::collection::vec(prop_oneof![
            Just("OL".to_owned()), Just("---".to_owned()), (-10i32..600).prop_map(|v| format!("{}", f64::from(v) / 100.0))
        ], 1..60),
        travel: bool,
    ) {
        let mut text = String::from(if travel { "travel %;kΩ\n" } else { "No.;kΩ\n" });
        for (i, cell) in cells.iter().enumerate() {
            text.push_str(&format!("{};{cell}\n", (i * 37) % 101));
        }
        if let Ok(log) = Log::read(&text) {
            let sweep = Sweep::of(&log, &Limits::default());
            prop_assert!(!sweep.text.is_empty() && !sweep.findings.is_empty());
            for finding in &sweep.findings {
                prop_assert!(finding.figure.as_ref().is_none_or(|f| f.value.is_finite() && f.u.is_finite()));
            }
            let drawn = drawing::to_svg(&sweep.scene(quantity::Units::Metric), drawing::Theme::Page);
            prop_assert!(!drawn.contains("NaN"));
        }
    }
}
