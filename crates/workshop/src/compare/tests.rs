use super::*;
use engine::file::DEMO;
use engine::file::fields::fields_of;

type Fields = BTreeMap<String, String>;

fn demo() -> Fields {
    fields_of(DEMO).unwrap()
}

fn with(changes: &[(&str, &str)]) -> Fields {
    let mut fields = demo();
    fields.extend(changes.iter().map(|(key, text)| ((*key).to_owned(), (*text).to_owned())));
    fields
}

fn row<'a>(comparison: &'a Comparison, key: &str) -> &'a Change {
    comparison.rows.iter().find(|row| row.key == key).unwrap()
}

#[test]
fn exact_same_fields_have_no_rows() {
    let comparison = compare(&demo(), &demo(), Units::Metric);
    assert!(comparison.rows.is_empty());
    assert_eq!(comparison.unchanged, demo().len());
    assert!(comparison.ends.iter().all(|end| end.real == Some(false)));
}

#[test]
fn exact_difference_has_the_spread_of_both() {
    let b = with(&[
        ("found.opening_gap", "12.5 ± 0.1 mm"),
        ("crank.stroke", "2.14567 in exact"),
        ("crank.bore", "5.4 cm"),
        ("engine.note", "after the top end"),
        ("limits.flush", "0.15 mm"),
        ("found.date", ""),
        ("done.2", "yes"),
    ]);
    let comparison = compare(&demo(), &b, Units::Metric);
    let gap = row(&comparison, "found.opening_gap");
    let difference = gap.difference.as_ref().unwrap();
    assert!((difference.value - 0.5e-3).abs() < 1e-12);
    // Two limits of 0.1 mm: u = 0.1 mm / √3 each, √2 of it together, doubled for 95 %.
    assert!((difference.standard_uncertainty - 0.1e-3 * (2.0f64 / 3.0).sqrt()).abs() < 1e-12);
    assert_eq!((gap.real, gap.text.as_str()), (Some(true), "larger"));
    assert_eq!(gap.label, "As found: gap at the opening adjuster");
    assert_eq!(row(&comparison, "crank.bore").real, Some(false));
    assert_eq!(row(&comparison, "limits.flush").real, Some(true));
    assert_eq!(row(&comparison, "engine.note").real, None);
    assert_eq!(row(&comparison, "found.date").text, "only in the earlier one");
    assert_eq!(comparison.rows.last().unwrap().key, "done.2");
}

#[test]
fn exact_ports_are_matched_by_name() {
    let mut b = Fields::new();
    for (key, text) in demo() {
        let key = match key.split_once('.').and_then(|(port, rest)| (port == "port").then_some(rest)) {
            Some(rest) => {
                let (number, rest) = rest.split_once('.').unwrap();
                format!("port.{}.{rest}", 7 - number.parse::<u32>().unwrap())
            }
            None => key,
        };
        b.insert(key, text);
    }
    assert!(compare(&demo(), &b, Units::Metric).rows.is_empty());
    b.insert("port.3.name".into(), "rear boost".into());
    let comparison = compare(&demo(), &b, Units::Metric);
    let labels: Vec<&str> = comparison.rows.iter().map(|row| row.label.as_str()).collect();
    assert!(labels.contains(&"Port \"boost\": width, along the wall"), "{labels:?}");
    assert!(labels.contains(&"Port \"rear boost\": width, along the wall"));
}

#[test]
fn exact_changed_edge_is_told_in_words_with_what_to_turn() {
    let a = with(&[("found.edge_above_flush", "0.02 ± 0.05 mm"), ("returns.opening_gap", "11.0 ± 0.1 mm")]);
    let comparison = compare(&a, &demo(), Units::Metric);
    let full = &comparison.ends[1];
    assert_eq!((full.end.as_str(), full.real), ("fully open", Some(true)));
    let difference = full.difference.as_ref().unwrap();
    assert!((difference.value - 0.42e-3).abs() < 0.03e-3, "{difference:?}");
    assert!(full.crank.as_ref().unwrap().value > 0.0, "a higher edge opens earlier");
    assert!(full.text.contains("higher") && full.text.contains("earlier"), "{}", full.text);
    let gap = comparison.drift.iter().find(|drift| drift.name.contains("opening adjuster")).unwrap();
    assert!(gap.real, "the gap stands 1 mm off the return value of the earlier visit");
    assert!(!comparison.turns.is_empty());
    assert!(comparison.words.iter().any(|line| line.contains("off the return values of the earlier one")));
}

#[test]
fn refuses_to_work_out_what_is_not_whole_but_compares_its_entries() {
    let b = with(&[("crank.bore", "")]);
    let comparison = compare(&demo(), &b, Units::Inch);
    assert_eq!(comparison.rows.len(), 1);
    assert!(comparison.ends.is_empty() && comparison.turns.is_empty());
    assert!(
        comparison.words[1].starts_with("The later one cannot be worked out yet"),
        "{:?}",
        comparison.words
    );
    assert!(compare(&Fields::new(), &Fields::new(), Units::Metric).rows.is_empty());
}
