use super::*;

#[test]
fn exact_built_in_file_reads_without_a_problem() {
    let logics = read(BUILT_IN).unwrap();
    let keys: Vec<&str> = logics.iter().map(|l| l.key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "drives-to-sensor",
            "runs-to-stop",
            "parks-closed",
            "parks-mid-way",
            "sweep-key-on",
            "sweep-start",
            "sweep-set-speed",
            "sweep-key-off",
            "governor",
            "diaphragm-vent",
            "diaphragm-no-vent"
        ]
    );
}

#[test]
fn exact_every_logic_has_every_phase_in_order() {
    let order = ["key-on", "start", "idle", "low", "opening", "middle", "top", "falling", "key-off"];
    for logic in logics() {
        let keys: Vec<&str> = logic.phases.iter().map(|p| p.key.as_str()).collect();
        assert_eq!(keys, order, "{}", logic.key);
    }
}

#[test]
fn practice_every_text_is_a_sentence_and_has_a_source() {
    let sources = ["common practice, no source", "estimate"];
    for logic in logics() {
        assert!(sources.contains(&logic.source.as_str()), "{}", logic.key);
        assert!(sources.contains(&logic.figures.as_str()), "{}", logic.key);
        assert!(logic.not_a_fault.len() >= 3, "{}", logic.key);
        let mut texts = vec![&logic.text, &logic.known_by];
        texts.extend(&logic.not_a_fault);
        for phase in &logic.phases {
            texts.extend([&phase.text, &phase.look]);
            texts.extend(&phase.not_a_fault);
        }
        for text in texts {
            assert!(text.ends_with('.') && text.trim() == text, "{}: {text}", logic.key);
        }
    }
}

#[test]
fn practice_travel_is_never_torn_between_phases() {
    for logic in logics() {
        for pair in logic.phases.windows(2) {
            let (before, after) = (pair[0].last_travel(), pair[1].points[0].1);
            let place = format!("{}: {} to {}", logic.key, pair[0].key, pair[1].key);
            assert!((before - after).abs() < 1e-9, "{place}: {before} and {after}");
        }
    }
}

/// What tells the logics apart must be in the figures, not only in the words.
#[test]
fn practice_each_logic_moves_where_its_name_says() {
    let sweeps = |key: &str| -> Vec<String> {
        let logic = logic(key).unwrap();
        let swept =
            logic.phases.iter().filter(|p| p.range() == (0.0, 1.0) && p.points[0].1 == p.last_travel());
        swept.map(|p| p.key.clone()).collect()
    };
    assert_eq!(sweeps("runs-to-stop"), ["key-on"]);
    assert_eq!(sweeps("sweep-key-on"), ["key-on"]);
    assert_eq!(sweeps("sweep-start"), ["start"]);
    assert_eq!(sweeps("sweep-set-speed"), ["low"]);
    assert_eq!(sweeps("sweep-key-off"), ["key-off"]);
    for quiet in ["drives-to-sensor", "parks-closed", "parks-mid-way", "governor", "diaphragm-vent"] {
        assert!(sweeps(quiet).is_empty(), "{quiet}");
    }
    let park = |key: &str| logic(key).unwrap().phase("key-off").unwrap().last_travel();
    assert_eq!(park("parks-closed"), 0.0);
    assert!((0.2..0.8).contains(&park("parks-mid-way")));
    for logic in logics() {
        assert_eq!(logic.phase("top").unwrap().last_travel(), 1.0, "{}", logic.key);
        let unpowered = logic.actuators.iter().all(|a| a != "servo");
        assert!(!unpowered || logic.phase("key-on").unwrap().range() == (0.0, 0.0), "{}", logic.key);
    }
}

#[test]
fn exact_travel_is_straight_between_points_and_held_outside() {
    let logic = logic("runs-to-stop").unwrap();
    for (now, travel) in [(-5.0, 0.0), (0.5, 0.0), (1.0, 0.5), (1.5, 1.0), (1.7, 1.0), (2.4, 0.5), (1e9, 0.0)]
    {
        assert!((logic.travel_at(now) - travel).abs() < 1e-12, "{now}");
    }
    assert_eq!(logic.travel_at(f64::NAN), 0.0);
    assert_eq!(logic.phase_at(4.0).unwrap().key, "start");
    assert_eq!(logic.phase_at(1e9).unwrap().key, "key-off");
    assert!((logic.length_s() - 32.0).abs() < 1e-9);
}

#[test]
fn exact_speed_runs_from_one_end_of_a_phase_to_the_other() {
    let logic = logic("governor").unwrap();
    let (start, phase) = logic.starts().find(|(_, p)| p.key == "top").unwrap();
    let middle = logic.moment(start + phase.length_s() / 2.0).unwrap();
    assert!((middle.speed - 0.9).abs() < 1e-12);
}

fn problems(from: &str, to: &str) -> String {
    let changed = BUILT_IN.replacen(from, to, 1);
    assert_ne!(changed, BUILT_IN, "{from}");
    let found = read(&changed).unwrap_err();
    found.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

#[test]
fn refuses_what_is_wrong_with_place_and_mend() {
    let point = "points = [[0, 0.08], [0.8, 0.08], [1.2, 0.0], [4, 0.0]]";
    let cases = [
        ("points = [[0, 0.0]]", "drives-to-sensor.key-on.points: The curve has 1 points"),
        ("points = [[1, 0.0], [2, 0.0]]", "begins at 1 s"),
        ("points = [[0, 0.0], [2, 0.0], [1, 0.0]]", "sort the points by time"),
        ("points = [[0, 0.0], [2, 35]]", "A travel of 35 is not between 0 (closed) and 1"),
        ("points = [[0, 0.0], [nan, 0]]", "longer than 0 s"),
        ("points = [[0, 0.0], [0, 0]]", "longer than 0 s"),
        ("points = [[0, 0.0], [1, nan]]", "is not between 0 (closed) and 1"),
    ];
    for (to, message) in cases {
        let said = problems(point, to);
        assert!(said.contains(message), "{to}: {said}");
    }
    assert!(problems("like = \"drives-to-sensor\"", "like = \"nobody\"").contains("\"nobody\""));
    assert!(problems("key = \"runs-to-stop\"", "key = \"drives-to-sensor\"").contains("Two logics"));
    assert!(problems("figures = \"estimate\"", "figures = \"\"").contains("source"));
    assert!(problems("speed = [0.0, 0.14]", "speed = [0.0, 1400]").contains("from 0 to 1"));
    assert!(problems("[\"servo\"]", "[\"solenoid\"]").contains("drives-to-sensor.actuators: \"solenoid\""));
    let unknown = problems("title = \"Start\"", "titel = \"Start\"");
    assert!(unknown.starts_with("line ") && unknown.contains("titel"), "{unknown}");
}

#[test]
fn agrees_with_the_page_in_docs() {
    let page = include_str!("../../../../../docs/normal.md");
    for logic in logics() {
        assert!(page.contains(&format!("| `{}` |", logic.key)), "docs/normal.md lacks {}", logic.key);
        for phase in &logic.phases {
            assert!(page.contains(&format!("`{}`", phase.key)), "docs/normal.md lacks {}", phase.key);
        }
    }
}
