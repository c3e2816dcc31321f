//! Any text and any entry: read or refused, never a fall.

use super::example;
use crate::check::{Checks, ItemKind, ItemVerdict, State};
use proptest::prelude::*;
use quantity::Units;
use std::collections::BTreeMap;

fn pieces() -> impl Strategy<Value = String> {
    prop::sample::select(vec![
        "[[check]]",
        "[check]",
        "[[check.item]]",
        "= ",
        "\"",
        "[",
        "]",
        "{",
        "}",
        "\n",
        "true",
        "-1",
        "1e999",
        "0x10",
        "2020-01-01",
        "key",
        "options",
        "dimension = \"length\"",
        "limits = \"1 to\"",
        "\u{0}",
        "µ",
        "nan",
        "inf",
        "#",
    ])
    .prop_map(str::to_owned)
}

fn answer() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>(),
        "[-+±0-9.,/ ()%kMΩVANmsdegturnsinOL1≤<>to]{0,24}",
        prop::sample::select(vec![
            "OL",
            "1",
            "4.24 Ω",
            "4.24 kΩ",
            "0 V",
            "1e308 kΩ",
            "5 mm",
            "free",
            "at most 5 N",
            "3 to 5 kΩ",
            "6 to 4 kΩ",
            "yes"
        ])
        .prop_map(str::to_owned),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn refuses_or_reads_a_mutilated_file(at in 0.0f64..1.0, gone in 0usize..80, piece in pieces()) {
        let text = example();
        let place = |at: f64| {
            let mut place = (at * text.len() as f64) as usize;
            while !text.is_char_boundary(place) { place -= 1; }
            place
        };
        let from = place(at);
        let to = place(((from + gone) as f64 / text.len() as f64).min(1.0)).max(from);
        let changed = format!("{}{piece}{}", &text[..from], &text[to..]);
        if let Err(problems) = Checks::read(&changed) {
            prop_assert!(!problems.is_empty());
            for problem in problems {
                prop_assert!(problem.message.chars().count() > 10 && problem.message.len() < 900, "{problem}");
                prop_assert!(!problem.to_string().contains(|c: char| c.is_control()), "{problem:?}");
            }
        }
    }

    #[test]
    fn refuses_or_reads_any_text(text in any::<String>()) {
        let _ = Checks::read(&text);
    }

    #[test]
    fn refuses_or_judges_any_entries(
        which in any::<prop::sample::Index>(),
        answers in prop::collection::vec(answer(), 12),
        limits in prop::collection::vec(prop::option::of(answer()), 12),
        inch in any::<bool>(),
    ) {
        let checks = &Checks::built_in().checks;
        let check = which.get(checks);
        let mut entries = BTreeMap::new();
        for ((item, answer), limit) in check.items.iter().zip(&answers).zip(&limits) {
            entries.insert(item.key.clone(), answer.clone());
            if let Some(limit) = limit {
                entries.insert(format!("{}.limit", item.key), limit.clone());
            }
        }
        let judged = check.judge(&entries, if inch { Units::Inch } else { Units::Metric });
        prop_assert_eq!(judged.items.len(), check.items.len());
        prop_assert_eq!(judged.outcome.is_some(), judged.passes.is_some());
        prop_assert!(judged.outcome.is_none() || judged.state == State::Done);
        prop_assert!(!judged.text.is_empty());
        for (item, said) in check.items.iter().zip(&judged.items) {
            prop_assert!(!said.text.is_empty());
            prop_assert_eq!(said.question.is_some(), said.verdict == ItemVerdict::Asked);
            prop_assert!(said.probability.is_none_or(|p| (0.0..=1.0 + 1e-12).contains(&p)));
            if let ItemKind::Choice { .. } = item.kind { prop_assert!(said.question.is_none()); }
        }
    }

    #[test]
    fn exact_no_reading_passes_that_lies_outside(ohm in 100.0f64..20_000.0, half in 0.0f64..500.0) {
        let text = format!("{ohm} Ω ± {half} Ω");
        let entries = BTreeMap::from([("end-to-end".to_owned(), text), ("end-to-end.sure".to_owned(), "yes".to_owned())]);
        let check = Checks::built_in().get("sensor-ends").expect("the check");
        let judged = check.judge(&entries, Units::Metric);
        let reach = 2.0 * half / 3f64.sqrt();
        let inside = ohm - reach >= 3500.0 && ohm + reach <= 6500.0;
        let outside = ohm + reach < 3500.0 || ohm - reach > 6500.0;
        prop_assert_eq!(judged.passes, if inside { Some(true) } else if outside { Some(false) } else { None });
        prop_assert_eq!(judged.cannot_tell, !inside && !outside);
    }
}
