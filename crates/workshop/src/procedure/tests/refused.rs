//! Files that are read, and files that are refused with line, key and mend.

use crate::procedure::{BUILT_IN, Procedures, Until};
use proptest::prelude::*;

const OWN: &str = r#"portwright = 1
[parts]
opening_length = "0 ± 0.4 mm (k=2)"
[[procedure]]
key = "my-way"
name = "My way"
claim = "It always worked."
source = "own practice"
[[procedure.step]]
say = "Closing side as it was."
servo = "park"
valve = "pin"
turn = "closing"
until = "left as found"
[[procedure.step]]
say = "Half a millimetre at the opening wire."
servo = "park"
valve = "pin"
turn = "opening"
until = "play"
at = "0.5 ± 0.1 mm"
"#;

fn refused(text: &str) -> Vec<String> {
    Procedures::with(text).unwrap_err().iter().map(ToString::to_string).collect()
}

/// The own file with one line replaced.
fn with_line(old: &str, new: &str) -> String {
    assert!(OWN.contains(old), "{old}");
    OWN.replacen(old, new, 1)
}

#[test]
fn exact_the_built_in_file_holds_what_it_should() {
    let procedures = Procedures::built_in();
    assert_eq!(procedures.procedures.len(), 13);
    for procedure in &procedures.procedures {
        assert!(
            procedure.source.starts_with("common practice, no source") || procedure.key == "port-under-load"
        );
    }
    // A user may start from a copy of it.
    assert_eq!(Procedures::with(BUILT_IN).unwrap(), procedures);
}

#[test]
fn exact_a_file_of_ones_own_adds_a_procedure_and_replaces_a_figure() {
    let procedures = Procedures::with(OWN).unwrap();
    assert_eq!(procedures.procedures.len(), 14);
    let own = procedures.find("my-way").unwrap();
    assert_eq!(own.steps[0].until, Until::Left);
    assert!((procedures.parts.opening_length.u - 0.2e-3).abs() < 1e-12);
    assert_eq!(procedures.parts.closing_length, Procedures::built_in().parts.closing_length);
    let again = OWN.replace("my-way", "fixed-gap");
    let replaced = Procedures::with(&again).unwrap();
    assert_eq!(replaced.procedures.len(), 13);
    assert_eq!(replaced.find("fixed-gap").unwrap().name, "My way");
}

#[test]
fn exact_the_file_in_the_documentation_is_read() {
    let page = include_str!("../../../../../docs/procedures.md");
    let file = page.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let procedures = Procedures::with(file).unwrap();
    let own = procedures.find("my-way").unwrap();
    assert_eq!(own.steps.len(), 2);
    // Its second step for both kinds of spring: on a shaft spring nothing would then set the closing adjuster.
    let (first, second) = file.rsplit_once("for = ").unwrap();
    let said = refused(&format!("{first}{}", second.split_once('\n').unwrap().1));
    assert!(said[0].contains("with a spring on the shaft no step sets the closing adjuster"), "{said:?}");
}

#[test]
fn refuses_a_figure_out_of_range_with_line_key_value_range_and_mend() {
    assert_eq!(
        refused(&with_line("0.5 ± 0.1 mm", "50 ± 1 mm")),
        [
            "line 21, procedure \"my-way\".step 2.at: 50.00 mm is not accepted; it must lie from 0.0 mm to 20.00 mm: check the figure and its unit"
        ]
    );
}

#[test]
fn refuses_unknown_words_and_names_the_nearest() {
    let said = refused(&with_line("until = \"play\"", "until = \"plai\""));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].starts_with(
        "line 20, procedure \"my-way\".step 2.until: 'plai' is not known here (did you mean play?)"
    ));
    let said = refused(&with_line("turn = \"opening\"", "trun = \"opening\""));
    assert!(said.iter().any(|line| line.contains("unknown key; did you mean turn?")), "{said:?}");
    assert!(said.iter().any(|line| line.contains(".turn: this is missing")), "{said:?}");
}

#[test]
fn refuses_a_unit_of_the_wrong_kind() {
    let said = refused(&with_line("0.5 ± 0.1 mm", "5 N"));
    assert!(said[0].starts_with("line 21, procedure \"my-way\".step 2.at: "), "{said:?}");
}

#[test]
fn refuses_steps_that_make_no_sense() {
    for (old, new, wanted) in [
        (
            "until = \"play\"\nat = \"0.5 ± 0.1 mm\"",
            "until = \"edge\"\nat = \"0 ± 0.1 mm\"",
            "write valve = \"free\"",
        ),
        ("until = \"play\"\nat = \"0.5 ± 0.1 mm\"", "until = \"coils touch\"", "write turn = \"closing\""),
        ("until = \"play\"\nat = \"0.5 ± 0.1 mm\"", "until = \"lifts\"\nat = \"1 mm\"", "take this line out"),
        (
            "valve = \"pin\"\nturn = \"opening\"",
            "valve = \"free\"\nturn = \"opening\"",
            "depends on where the valve is held",
        ),
        (
            "turn = \"opening\"",
            "turn = \"opening\"\ndatum = \"0 ± 1 mm\"",
            "only an edge is read against a listed figure",
        ),
        (
            "valve = \"pin\"\nturn = \"opening\"",
            "valve = \"pin\"\nvalve_off = \"1 mm\"\nturn = \"opening\"",
            "angle",
        ),
        ("turn = \"opening\"", "turn = \"closing\"", "no step sets the opening adjuster"),
        ("portwright = 1", "portwright = 2", "this version reads portwright = 1"),
        ("key = \"my-way\"", "key = \"My Way\"", "cannot be a key"),
        ("at = \"0.5 ± 0.1 mm\"", "at = 0.5", "a text in quotes is wanted here, not a number"),
        ("servo = \"park\"", "servo = park", "the value must stand in quotes; write servo = \"park\""),
    ] {
        let said = refused(&with_line(old, new));
        assert!(said.iter().any(|line| line.contains(wanted)), "{new}: {said:?}");
        assert!(said.iter().all(|line| line.starts_with("line ")), "{said:?}");
    }
}

#[test]
fn refuses_an_empty_file_and_a_huge_one() {
    assert!(refused("portwright = 1\n")[0].contains("begin one with [[procedure]]"));
    assert!(refused(&"#".repeat(1_000_001))[0].contains("larger than 1 MB"));
    assert!(!refused("\u{0}\u{1}[[[").is_empty());
}

#[test]
fn refuses_a_procedure_on_an_engine_that_lacks_its_readings() {
    let mut engine = super::demo();
    engine.found = engine::model::Found::default();
    engine.valve.mechanical_end = None;
    engine.gear.mark_radius = None;
    let procedures = Procedures::built_in();
    let (runs, left_out) =
        crate::procedure::Comparison::prepare(&engine, &procedures, crate::procedure::Scope::LikeEngines, 1);
    let why: Vec<String> =
        left_out.iter().map(|(procedure, why)| format!("{}: {why}", procedure.key)).collect();
    assert_eq!(runs.len() + left_out.len(), 13);
    assert_eq!(left_out.len(), 5, "{why:?}");
    assert!(
        why[0].starts_with("seat-at-end: it uses the valve's mechanical end, which is not given"),
        "{why:?}"
    );
    assert!(why[1].contains("found.opening_gap"), "{why:?}");
}

proptest! {
    #[test]
    fn refuses_or_reads_any_slip_of_the_pen_without_breaking(
        places in prop::collection::vec((0.0f64..1.0, prop::char::any()), 1..6)
    ) {
        let mut text: Vec<char> = BUILT_IN.chars().take(4_000).collect();
        for (place, sign) in places {
            let at = (place * text.len() as f64) as usize;
            text[at] = sign;
        }
        let text: String = text.into_iter().collect();
        if let Err(problems) = Procedures::with(&text) {
            prop_assert!(!problems.is_empty());
            for problem in problems {
                prop_assert!(!problem.message.is_empty() && !problem.message.contains('\n'));
            }
        }
    }
}
