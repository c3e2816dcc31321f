use super::*;
use proptest::prelude::*;

fn read(text: &str) -> Log {
    Log::read(text).unwrap_or_else(|problem| panic!("{problem}\n{text}"))
}

fn values(text: &str) -> Vec<f64> {
    read(text).values().map(|v| (v * 1e9).round() / 1e9).collect()
}

fn refusal(text: &str) -> String {
    Log::read(text).expect_err(text).to_string()
}

#[test]
fn exact_a_list_is_read_however_it_is_written() {
    let wanted = [520.0, 610.0, 700.0];
    for text in [
        "0.52 kΩ, 0.61, 0.70",
        "0.52 kΩ\n0.61\n0.70\n",
        "0,52 kΩ; 0,61; 0,70;",
        "0,52 kΩ, 0,61, 0,70",
        "0,52 kOhm\r\n0,61\r\n0,70\r\n",
        "520 Ω\t610\t700",
        "520Ω 610 700",
        "0.52 kΩ, 610 Ω, 0.70 kΩ",
        "resistance (kΩ)\n0.52\n0.61\n0.70",
        "R in ohms\n520\n610\n700",
        "\u{feff}\"kΩ\"\n\"0,52\"\n\"0,61\"\n\"0,70\"",
    ] {
        assert_eq!(values(text), wanted, "{text}");
    }
}

#[test]
fn exact_columns_may_stand_in_any_order() {
    for text in [
        "time (s),resistance (kΩ),travel (%)\n0,0.52,0\n0.1,0.61,10\n0.2,0.70,20",
        "travel %;time ms;R kΩ\n0;0;0,52\n10;100;0,61\n20;200;0,70",
        "Meter log\nmade 2024-05-01\n\nNo.\tValue\tUnit\tTime\tPosition %\n1\t0.52\tkOhm\t12:00:00.0\t0\n2\t610\tOhm\t12:00:00.1\t10\n3\t700\tOhm\t12:00:00.2\t20",
        "0.0 s; 0,52 kΩ; 0 %\n0,1 s; 0,61 kΩ; 10 %\n0,2 s; 0,70 kΩ; 20 %",
        "position_0_1 | t_s | ohms\n0 | 0 | 520\n0.1 | 0.1 | 610\n0.2 | 0.2 | 700",
    ] {
        let log = read(text);
        assert_eq!(values(text), [520.0, 610.0, 700.0], "{text}");
        assert!(log.timed && log.travelled, "{text}");
        let places: Vec<f64> = log.samples.iter().filter_map(|s| s.travel).collect();
        let times: Vec<f64> = log.samples.iter().filter_map(|s| s.time_s).collect();
        for (i, (x, t)) in places.iter().zip(&times).enumerate() {
            assert!(
                (x - 0.1 * i as f64).abs() < 1e-12 && (t - 0.1 * i as f64).abs() < 1e-9,
                "{text}: {x} {t}"
            );
        }
        assert_eq!(log.travel_dimension, Some(Dimension::Number));
    }
}

#[test]
fn exact_gaps_are_missing_and_ol_is_open() {
    let log = read("time (s),resistance (kΩ)\n0,0.52\n0.1,\n0.2,---\n0.3,OL\n0.4\n0.5,0.9");
    let readings: Vec<Reading> = log.samples.iter().map(|s| s.reading).collect();
    use Reading::{Missing, Open, Value};
    assert_eq!(readings, [Value(520.0), Missing, Missing, Open, Missing, Value(900.0)]);
    assert_eq!(log.gaps(), (3, 1));
    let volts = read("OL, 0.5 V, OL, 0.7");
    assert_eq!(volts.gaps(), (2, 0), "an overload says nothing of a voltage's contact");
}

#[test]
fn exact_a_single_reading_and_its_step() {
    let log = read("4.86 kΩ");
    assert_eq!((log.samples.len(), log.timed, log.travelled), (1, false, false));
    assert!((log.step - 10.0).abs() < 1e-9);
}

#[test]
fn exact_the_clock_may_pass_midnight() {
    let log = read("time,volts\n23:59:59.5,0.5\n0:00:00.5,0.6");
    assert_eq!(log.samples[1].time_s, Some(1.0));
}

#[test]
fn regress_refusals_name_the_line_and_the_mend() {
    assert_eq!(
        refusal("0.52, 0.61, 0.70"),
        "line 1, reading: \"0.52\" has no unit, and ohm and kilo-ohm differ a thousandfold: write it behind the first \
         reading or in the name of the column, such as \"0.52 kΩ\" or \"resistance (kΩ)\""
    );
    assert_eq!(
        refusal("time (s),resistance (kΩ)\n0,0.52\n0.1,banana"),
        "line 3, resistance (kΩ): \"banana\" is no reading: write a figure, leave the cell empty where one is missing, \
         or OL for an open circuit"
    );
    assert_eq!(
        refusal("0.0, 0.52\n0.1, 0.61\n0.2, 0.70"),
        "line 1: there are 2 columns without names: write them in the first line, such as \"time (s); resistance (kΩ)\""
    );
    assert_eq!(
        refusal("time (s),resistance (kΩ)\n0,0,52\n0,1,0,61"),
        "line 2: there are more cells than the 2 columns that have names: with a decimal comma, part the columns by \
         semicolons"
    );
    assert_eq!(
        refusal("time (s),resistance (kΩ)\n1,0.52\n0.5,0.61"),
        "line 3, time (s): the time goes back by 500.0 ms: keep one run of the logger, in its order"
    );
    assert_eq!(
        refusal("0.52 kΩ\n0.61 V"),
        "line 2, reading: \"0.61 V\" is a voltage among readings of resistance: log one quantity at a time"
    );
    assert_eq!(
        refusal("0.52 kΩ\n610 Ω\n0.7"),
        "line 3, reading: \"0.7\" has no unit, and the readings before it have different ones: write the unit behind it"
    );
    assert_eq!(refusal(" \n"), "the log is empty: write readings, such as 0.52 kΩ, 0.61, 0.70");
    assert_eq!(
        refusal("---, , ---"),
        "no reading was found in the log: write figures, such as 0.52 kΩ, 0.61, 0.70"
    );
    assert!(refusal("kΩ\n4,860\n4.9").starts_with("line 2, kΩ: \"4,860\" could mean thousands or decimals"));
}

#[test]
fn refuses_one_sample_more_than_a_million() {
    let text = format!("volts\n{}", "1.5\n".repeat(MOST_SAMPLES + 1));
    assert!(refusal(&text).starts_with("line 1000002: the log is longer than 1000000 samples"));
}

#[test]
fn exact_the_unit_meant_scales_readings_and_step() {
    let log = read("4.86 Ω, OL, ---").scaled(1e3);
    assert_eq!(log.values().collect::<Vec<_>>(), [4860.0]);
    assert!((log.step - 10.0).abs() < 1e-9);
    assert_eq!(log.clone().scaled(f64::NAN), log);
}

proptest! {
    #[test]
    fn refuses_or_reads_any_text(text in "[0-9a-zA-ZΩµ°%.,;:\t\n\r \"'|#+-]{0,200}") {
        if let Ok(log) = Log::read(&text) {
            prop_assert!(!log.samples.is_empty());
            prop_assert!(log.values().all(f64::is_finite));
        }
    }

    #[test]
    fn round_trips_a_table(
        rows in prop::collection::vec((0u32..10_000, prop::option::of(-9_999i32..100_000)), 1..60),
        comma: bool,
    ) {
        let mut text = String::from("travel (%);resistance (kΩ)\n");
        for (place, reading) in &rows {
            let reading = reading.map_or("---".to_owned(), |r| format!("{:.3}", f64::from(r) / 1000.0));
            let row = format!("{:.2};{reading}\n", f64::from(*place) / 100.0);
            text.push_str(&if comma { row.replace('.', ",") } else { row });
        }
        prop_assume!(rows.iter().any(|r| r.1.is_some()));
        let log = Log::read(&text).unwrap();
        prop_assert_eq!(log.samples.len(), rows.len());
        for (sample, (place, reading)) in log.samples.iter().zip(&rows) {
            prop_assert!((sample.travel.unwrap() - f64::from(*place) * 1e-4).abs() < 1e-12);
            match (sample.reading, reading) {
                (Reading::Value(value), Some(r)) => prop_assert!((value - f64::from(*r)).abs() < 1e-9),
                (got, wanted) => prop_assert!(got == Reading::Missing && wanted.is_none()),
            }
        }
    }
}
