//! The ways compared, read back out of the PDF.

#![allow(clippy::unwrap_used, reason = "a test may fail by it")]

use lopdf::{Document, Object};
use quantity::Units;
use sheet::{Paper, WaysContent, ways_pdf};
use std::sync::LazyLock;
use workshop::power::ToldTorque;
use workshop::procedure::{Comparison, Leaf, Procedures, Scope};

struct Set {
    leaf: Leaf,
    bytes: Vec<u8>,
}

fn comparison(procedures: &Procedures) -> (engine::model::Engine, Comparison) {
    let engine = engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine;
    let comparison = Comparison::of(&engine, procedures, Scope::ThisEngine, 0..300, 7);
    (engine, comparison)
}

fn set(procedures: &Procedures) -> Set {
    let (engine, comparison) = comparison(procedures);
    let leaf = comparison.leaf(&engine, Units::Metric, 7);
    let scale = comparison.hill_scale_scene(Units::Metric);
    let content = WaysContent {
        leaf: &leaf,
        torque: None,
        scale,
        paper: Paper::A4,
        date: Some("14 May 2026".to_owned()),
    };
    let bytes = ways_pdf(&content).unwrap();
    Set { leaf, bytes }
}

/// Torque of two ways, one of which stands outside of the map at the top.
fn torque() -> ToldTorque {
    let reached = |middle: &str, range: &str| Some([middle.to_owned(), range.to_owned()]);
    ToldTorque {
        heads: ["Low, 5000 rpm", "Middle, 8000 rpm", "Top, 11500 rpm"].map(str::to_owned).to_vec(),
        rows: vec![
            ("Reading at the port".to_owned(), vec![reached("11.38 N·m", "11.30 N·m to 11.40 N·m"); 3]),
            (
                "By <eye> #strong[x]".to_owned(),
                vec![reached("9.81 N·m", "9.02 N·m to 10.44 N·m"), None, None],
            ),
        ],
        says: "Computed for the edges that each way leaves.".to_owned(),
    }
}

#[test]
fn exact_torque_by_way_can_be_read() {
    let (engine, comparison) = comparison(&Procedures::built_in());
    let leaf = comparison.leaf(&engine, Units::Metric, 7);
    let scale = comparison.hill_scale_scene(Units::Metric);
    let content = WaysContent { leaf: &leaf, torque: Some(torque()), scale, paper: Paper::A4, date: None };
    let all = text(&ways_pdf(&content).unwrap());
    let told = torque();
    let mut wanted =
        vec!["What each gives in torque".to_owned(), told.says.clone(), "outside of the map".to_owned()];
    wanted.extend(told.heads.clone());
    for (name, figures) in &told.rows {
        wanted.push(name.clone());
        wanted.extend(figures.iter().flatten().flatten().cloned());
    }
    for words in wanted {
        assert!(all.contains(&packed(&words)), "{words}");
    }
    assert!(!text(&BUILT_IN.bytes).contains(&packed("What each gives in torque")));
}

static BUILT_IN: LazyLock<Set> = LazyLock::new(|| set(&Procedures::built_in()));

fn text(bytes: &[u8]) -> String {
    let document = Document::load_mem(bytes).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    packed(&document.extract_text(&pages).unwrap())
}

fn packed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace() && *c != '\u{200b}').collect()
}

#[test]
fn exact_everything_that_is_told_can_be_read() {
    let (all, leaf) = (text(&BUILT_IN.bytes), &BUILT_IN.leaf);
    let mut wanted: Vec<&str> = vec![&leaf.engine, "14 May 2026", "seed 7", &leaf.reading, &leaf.close_says];
    wanted.extend(leaf.lead.iter().chain(&leaf.statements).chain(&leaf.agreements).map(String::as_str));
    wanted.extend(leaf.notes.iter().map(String::as_str));
    wanted.extend(leaf.limits.iter().chain(&leaf.parts).flat_map(|one| [one.what.as_str(), &one.figure]));
    for way in &leaf.ways {
        wanted.extend([way.name.as_str(), &way.claim, &way.headline]);
        wanted.extend(way.reasons.iter().map(String::as_str));
        wanted.extend(
            way.steps.iter().flat_map(|step| {
                [step.say.as_str()].into_iter().chain(step.stated.iter().map(String::as_str))
            }),
        );
        wanted.extend(way.measures.iter().flat_map(|one| [one.name, &one.middle, &one.range]));
        wanted.extend(way.drivers.iter().flat_map(|driver| [driver.name.as_str(), &driver.alone]));
    }
    for one in wanted {
        assert!(all.contains(&packed(one)), "{one:?} is not in the paper");
    }
}

#[test]
fn exact_it_is_a4_and_the_same_content_gives_the_same_bytes() {
    let document = Document::load_mem(&BUILT_IN.bytes).unwrap();
    for page in document.get_pages().into_values() {
        let page = document.get_dictionary(page).unwrap();
        let size: Vec<f32> = page
            .get(b"MediaBox")
            .and_then(Object::as_array)
            .unwrap()
            .iter()
            .map(|n| n.as_float().unwrap())
            .collect();
        assert!((size[2] - 595.28).abs() < 0.1 && (size[3] - 841.89).abs() < 0.1, "{size:?}");
    }
    assert!(set(&Procedures::built_in()).bytes == BUILT_IN.bytes);
}

#[test]
fn refuses_no_text_and_no_number_of_ways() {
    let mut wild = Procedures::built_in();
    wild.procedures.truncate(2);
    let way = &mut wild.procedures[0];
    way.name = "#panic() $x$ \u{202e}turned".repeat(20);
    way.claim = "] #image(\"/etc/passwd\") ".repeat(50);
    way.steps = std::iter::repeat_n(way.steps[0].clone(), 40).collect();
    assert!(text(&set(&wild).bytes).contains("#panic()$x$turned"));
    let none = Procedures { procedures: Vec::new(), ..Procedures::built_in() };
    assert!(text(&set(&none).bytes).contains("Waysofsetting"));
}
