use super::*;
use proptest::prelude::*;

fn read(entries: &[(&str, &str)]) -> Recording {
    Recording::read(&entries.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect())
}

fn stands(entries: &[(&str, &str)], phase: &str) -> Travel {
    let recording = read(entries);
    assert_eq!(recording.problems, []);
    match recording.phase(phase).unwrap().seen {
        Seen::Stands(travel) => travel,
        ref other => panic!("{other:?}"),
    }
}

#[test]
fn exact_per_cent_with_limits() {
    let travel = stands(&[("normal.opening", "35 ± 3 %")], "opening");
    assert!((travel.value - 0.35).abs() < 1e-12);
    assert!((travel.u - 0.03 / 3f64.sqrt()).abs() < 1e-12);
    let zero = stands(&[("normal.idle", "0 %")], "idle");
    assert_eq!(zero.value, 0.0);
    assert!((zero.u - 0.005 / 3f64.sqrt()).abs() < 1e-12);
}

#[test]
fn exact_length_from_closed_to_fully_open() {
    let entries = [("normal.open", "12 mm exact"), ("normal.opening", "4.2 ± 0.3 mm")];
    let travel = stands(&entries, "opening");
    assert!((travel.value - 0.35).abs() < 1e-12);
    assert!((travel.u - 0.025 / 3f64.sqrt()).abs() < 1e-12);
}

/// First-order propagation (JCGM 100:2008, 5.1.2) against the partial derivatives taken by differences.
#[test]
fn agrees_uncertainty_between_ends_with_differences() {
    let (x, c, o) = (2.1e3, 0.62e3, 4.83e3);
    let (ux, uc, uo) = (20.0, 15.0, 40.0);
    let f = |x: f64, c: f64, o: f64| (x - c) / (o - c);
    let h = 1e-3;
    let by_differences = ((f(x + h, c, o) - f(x - h, c, o)) / (2.0 * h) * ux)
        .hypot((f(x, c + h, o) - f(x, c - h, o)) / (2.0 * h) * uc)
        .hypot((f(x, c, o + h) - f(x, c, o - h)) / (2.0 * h) * uo);
    let entries = [
        ("normal.closed", "0.62 ± 0.03 kΩ (k=2)"),
        ("normal.open", "4.83 ± 0.08 kΩ (k=2)"),
        ("normal.middle", "2.10 ± 0.04 kΩ (k=2)"),
    ];
    let travel = stands(&entries, "middle");
    assert!((travel.value - f(x, c, o)).abs() < 1e-12);
    assert!((travel.u - by_differences).abs() < 1e-8, "{} against {by_differences}", travel.u);
}

#[test]
fn exact_a_sensor_that_falls_as_the_valve_opens() {
    let entries = [("normal.closed", "4.5 V"), ("normal.open", "0.5 V"), ("normal.opening", "3.5 V")];
    assert!((stands(&entries, "opening").value - 0.25).abs() < 1e-12);
}

#[test]
fn exact_words_for_moves_and_places() {
    let recording = read(&[
        ("normal.key-on", "Moves to the stop and back."),
        ("normal.start", "does not move"),
        ("normal.idle", "closed"),
        ("normal.opening", "opens"),
        ("normal.falling", "Closes"),
        ("normal.top", "fully  open"),
        ("normal.middle", "hums in E flat"),
        ("normal.key-off", "0 % then 100 % then half open"),
        ("unrelated", "7"),
        ("normal.low", "  "),
    ]);
    assert_eq!(recording.problems, []);
    let seen = |key: &str| recording.phase(key).unwrap().seen.clone();
    assert_eq!(seen("key-on"), Seen::Sweeps);
    assert_eq!(seen("start"), Seen::Still);
    assert_eq!(seen("opening"), Seen::Opens);
    assert_eq!(seen("falling"), Seen::Closes);
    assert_eq!(seen("middle"), Seen::Words);
    assert!(matches!(seen("idle"), Seen::Stands(Travel { value: 0.0, .. })));
    assert!(matches!(seen("top"), Seen::Stands(Travel { value: 1.0, .. })));
    let Seen::Passes(steps) = seen("key-off") else { panic!() };
    assert_eq!(steps.iter().map(|s| s.value).collect::<Vec<_>>(), [0.0, 1.0, 0.5]);
    assert!(recording.phase("low").is_none());
}

#[test]
fn refuses_what_is_no_travel_and_keeps_the_rest() {
    let cases = [
        ("35", "no unit that fits"),
        ("4.2 mm", "write also what is read when fully open"),
        ("2.1 kΩ", "write also what is read when closed and fully open"),
        ("350 %", "350 % of the travel"),
        ("12 furlongs", "no unit that fits"),
    ];
    for (text, message) in cases {
        let recording = read(&[("normal.opening", text), ("normal.idle", "0 %")]);
        assert_eq!(recording.problems.len(), 1, "{text}");
        assert_eq!(recording.problems[0].key, "normal.opening");
        assert!(recording.problems[0].message.contains(message), "{text}: {}", recording.problems[0].message);
        assert!(recording.phase("idle").is_some());
    }
    let mixed = read(&[("normal.open", "12 mm"), ("normal.opening", "20°")]);
    assert!(mixed.problems[0].message.contains("an angle, but the ends"), "{}", mixed.problems[0].message);
    let same = read(&[("normal.closed", "5 mm"), ("normal.open", "5 mm"), ("normal.idle", "5 mm")]);
    assert!(same.problems[0].message.contains("told apart"));
    let slip = read(&[("normal.open", "0.5 in"), ("normal.idle", "2.0 in")]);
    assert!(slip.problems[0].message.contains("400 % of the travel"));
    assert!(read(&[("normal.tolerance", "5")]).problems[0].message.contains("from 0.1 % to 50 %"));
    assert_eq!(read(&[("normal.tolerance", "4 %")]).tolerance, Some(0.04));
}

#[test]
fn exact_shown_travel() {
    let shown = |value, u| Travel { value, u }.shown();
    assert_eq!(shown(0.35, 0.0173), "35 ± 3 %");
    assert_eq!(shown(0.35, 0.0), "35 %");
    assert_eq!(shown(-0.001, 0.004), "-0.1 ± 0.8 %");
    assert_eq!(shown(-0.0001, 0.0029), "0.0 ± 0.6 %");
}

proptest! {
    /// Whatever is written, it is read without a panic into finite figures, and nothing that was written is lost.
    #[test]
    fn refuses_without_a_panic(
        text in ".{0,30}|[0-9 .,±%kΩmV°()=-]{0,20}",
        closed in "[0-9.]{0,4} ?(mm|kΩ|V|°|)",
        open in "[0-9.]{0,4} ?(mm|kΩ|V|°|)",
    ) {
        let recording = read(&[("normal.closed", &closed), ("normal.open", &open), ("normal.idle", &text)]);
        let kept = recording.phase("idle").is_some() || recording.problems.iter().any(|p| p.key == "normal.idle");
        prop_assert_eq!(kept, !text.trim().is_empty());
        if let Some(SeenPhase { seen: Seen::Stands(travel), .. }) = recording.phase("idle") {
            prop_assert!(travel.value.is_finite() && travel.u.is_finite() && travel.u >= 0.0);
        }
    }
}
