//! What is on the sheet, read back out of the PDF.

#![allow(clippy::unwrap_used, reason = "a test may fail by it")]

mod fixture;

use lopdf::{Document, Object};
use sheet::{Annex, Checked, Drawing, Paper, Photo, PhotoFormat, Place, SheetContent, SheetError};
use std::sync::LazyLock;
use workshop::report::{GateState, Outcome, Report};

/// Sets a sheet and reads it back.
fn read(content: &SheetContent<'_>) -> Document {
    let bytes = sheet::pdf(content).unwrap();
    assert!(bytes.starts_with(b"%PDF-"));
    Document::load_mem(&bytes).unwrap()
}

/// The text of all pages, without any white space, so that line breaks do not matter.
fn text(document: &Document) -> String {
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    packed(&document.extract_text(&pages).unwrap())
}

fn packed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace() && *c != '\u{200b}').collect()
}

fn holds(document: &Document, wanted: &str) -> bool {
    text(document).contains(&packed(wanted))
}

fn assert_holds(document: &Document, wanted: &[&str]) {
    let all = text(document);
    for one in wanted {
        assert!(all.contains(&packed(one)), "{one:?} is not in {all}");
    }
}

/// The made-up report's sheet, read back once for all tests that only look at it.
static MADE_UP: LazyLock<Document> = LazyLock::new(|| read(&fixture::content(&fixture::report())));

#[test]
fn exact_the_demo_engine_takes_two_pages() {
    let document = read(&SheetContent::of(&fixture::DEMO, Some("14 May 2026".to_owned())));
    assert_eq!(document.get_pages().len(), 2);
    let report = &fixture::DEMO.report;
    let turn = report.steps.iter().find_map(|step| step.turn.as_ref()).unwrap();
    assert_holds(
        &document,
        &[&report.engine.name, &report.headline, &turn.text, "valve edge above closed, mm"],
    );
}

#[test]
fn exact_every_part_of_the_report_can_be_read() {
    let report = fixture::report();
    assert_holds(
        &MADE_UP,
        &[
            "Invented 125 single",
            "Invented demo engine",
            "14 May 2026",
            &report.headline,
            &report.matters,
            "+1.18 ± 0.16 mm",
            "+2.31 ± 0.31°",
            "−0.20 to +0.20 mm",
            "2.35 ± 0.12 turns",
            "anticlockwise",
            "4.86 ± 0.05 kΩ",
            "As set",
            "Over-travel",
            "crank.pin_offset: piston pin offset 0 ± 0.5 mm; measuring it takes 0.05°",
            "carbon monoxide",
            "The maker's service manual",
            "Signature",
            "page 1 of 2",
            "M6 × 1.0, right hand",
        ],
    );
}

#[test]
fn exact_a_turn_is_told_by_its_direction_not_by_a_sign() {
    assert!(holds(&MADE_UP, "3.00 ± 0.10 turns clockwise"), "{}", text(&MADE_UP));
    assert!(!holds(&MADE_UP, "−3.00 ± 0.10 turns"));
}

#[test]
fn exact_text_inside_drawings_is_set() {
    let report = fixture::report();
    let mut content = fixture::content(&report);
    content.drawings = vec![fixture::drawing(Place::Row, "One", 90, 40)];
    assert!(holds(&read(&content), "edge 10.2 mm, 4.86 kΩ"));
}

#[test]
fn exact_a_long_engine_takes_two_pages() {
    let report = fixture::report();
    assert_eq!(MADE_UP.get_pages().len(), 2);
    let mut content = fixture::content(&report);
    content.paper = Paper::Letter;
    assert!(read(&content).get_pages().len() <= 3);
}

#[test]
fn exact_paper_size_is_kept() {
    let report = fixture::report();
    let mut content = fixture::content(&report);
    content.paper = Paper::Letter;
    for (document, width, height) in [(&*MADE_UP, 595.28, 841.89), (&read(&content), 612.0, 792.0)] {
        for page in document.get_pages().values() {
            let media = document.get_dictionary(*page).unwrap().get(b"MediaBox").unwrap().as_array().unwrap();
            let size: Vec<f32> = media.iter().map(number).collect();
            assert!((size[2] - width).abs() < 0.1 && (size[3] - height).abs() < 0.1, "{size:?}");
        }
    }
}

fn number(object: &Object) -> f32 {
    object.as_float().unwrap_or(f32::NAN)
}

#[test]
fn exact_open_questions_print_no_steps() {
    let mut report = fixture::report();
    fixture::stop(&mut report);
    let document = read(&fixture::content(&report));
    assert_holds(
        &document,
        &["Answer these questions first", "27.6 mm, ten times smaller", "ports.exhaust.upper"],
    );
    assert_no_steps(&document, &report);
}

#[test]
fn exact_a_stopping_gate_prints_no_steps() {
    let mut report = fixture::report();
    report.outcome = Outcome::GateStops;
    report.gates[0].state = GateState::Stop;
    report.gates[0].text = "The edge stands out of the bore: do not turn the engine over.".to_owned();
    let document = read(&fixture::content(&report));
    assert_holds(&document, &["Stop: a gate forbids going on", "do not turn the engine over"]);
    assert_no_steps(&document, &report);
}

#[test]
fn exact_a_question_prints_no_steps_whatever_the_outcome_says() {
    let mut report = fixture::report();
    fixture::stop(&mut report);
    report.outcome = Outcome::Ready;
    let document = read(&fixture::content(&report));
    assert_holds(&document, &["Answer these questions first"]);
    assert_no_steps(&document, &report);
}

fn assert_no_steps(document: &Document, report: &Report) {
    assert!(!report.steps.is_empty());
    for closed in ["Steps, in this order", "After these steps", "Return values", "Drawings", &report.matters]
    {
        assert!(!holds(document, closed), "{closed:?} was printed");
    }
    for step in &report.steps {
        assert!(!holds(document, &step.title), "{:?} was printed", step.title);
    }
}

#[test]
fn exact_a_conflict_says_what_would_have_to_change() {
    let mut report = fixture::report();
    report.outcome = Outcome::Conflict;
    report.conflicts = vec![fixture::conflict()];
    let wanted =
        ["No setting meets every demand", "1.4 mm of wire travel", "17.5 mm radius in place of 15.0 mm"];
    assert_holds(&read(&fixture::content(&report)), &wanted);
}

/// Texts that mean something to the typesetter, to a PDF reader or to a terminal, or are merely unkind.
const HOSTILE: &[&str] = &[
    "#panic(\"x\")",
    "#set page(width: 1pt)",
    "$ sum_(i=0)^n $ *bold* _it_ `raw` <label> @ref = head",
    "] ) } \\ \" ' ``` // comment /* open",
    "#import \"@preview/x:1.0.0\": *",
    "\u{202e}mm 2.01\u{202c} \u{0} \u{7} \u{1b}[31m",
    "محرك ثنائي الأشواط מנוע",
    "🛵🔧👨‍👩‍👧‍👦 ünïcödé 摩托车",
    "%PDF-1.7 endobj endstream (\\) <</Type/Page>>",
    "</text><script>alert(1)</script>&amp;",
];

/// Puts texts into fields of every part of the report, each text in turn.
fn spoil(report: &mut Report, texts: &[String]) {
    let mut texts = texts.iter().cloned().cycle();
    let mut spoil = |field: &mut String| *field = texts.next().unwrap();
    spoil(&mut report.engine.name);
    spoil(&mut report.headline);
    spoil(&mut report.matters);
    spoil(&mut report.ends[0].accept);
    spoil(&mut report.gates[0].question);
    spoil(&mut report.gates[3].text);
    spoil(&mut report.steps[0].title);
    spoil(&mut report.steps[1].action);
    spoil(&mut report.steps[3].see[0].what);
    spoil(&mut report.returns[0].name);
    spoil(&mut report.engine.measurements[0].label);
    spoil(&mut report.engine.measurements[1].value);
    spoil(&mut report.findings[0].name);
    spoil(&mut report.assumptions[0].text);
    spoil(&mut report.model_notes[0]);
    spoil(&mut report.cautions[0].text);
    if let Some(turn) = report.steps[2].turn.as_mut() {
        spoil(&mut turn.turns.text);
        spoil(&mut turn.text);
        spoil(&mut turn.direction);
    }
    let mut note = String::new();
    spoil(&mut note);
    report.engine.note = Some(note);
}

#[test]
fn refuses_to_read_any_text_as_markup() {
    let texts: Vec<String> = HOSTILE.iter().map(|&hostile| hostile.to_owned()).collect();
    for first in [0, 5] {
        let mut report = fixture::report();
        let mut turned = texts.clone();
        turned.rotate_left(first);
        spoil(&mut report, &turned);
        let document = read(&fixture::content(&report));
        assert!(document.get_pages().len() <= 3);
        let plain = texts.iter().filter(|text| text.chars().all(|c| c.is_ascii() && !c.is_ascii_control()));
        assert_holds(&document, &plain.map(String::as_str).collect::<Vec<_>>());
        assert!(holds(&document, "mm 2.01 [31m"), "characters that reorder or control were kept");
    }
}

#[test]
fn refuses_to_break_on_long_texts() {
    let mut report = fixture::report();
    let long = ["y".repeat(2_000), "word ".repeat(400), "ف".repeat(2_000), "\n".repeat(2_000)];
    spoil(&mut report, &long);
    let document = read(&fixture::content(&report));
    assert!(document.get_pages().len() <= 8);
    assert_holds(&document, &["Signature", "… (cut)"]);
}

#[test]
fn refuses_nothing_when_the_report_is_empty() {
    let mut report = fixture::report();
    report.engine.measurements.clear();
    report.gates.clear();
    report.steps.clear();
    report.ends.clear();
    report.returns.clear();
    report.as_found.clear();
    report.findings.clear();
    report.assumptions.clear();
    report.model_notes.clear();
    report.cautions.clear();
    report.engine.name.clear();
    let content = SheetContent {
        report: &report,
        drawings: Vec::new(),
        paper: Paper::A4,
        date: None,
        title: None,
        annex: Annex::default(),
    };
    let document = read(&content);
    assert_eq!(document.get_pages().len(), 1);
    assert_holds(&document, &["Date", "Signature"]);
}

/// A photo that the typesetter can unpack: PNG, 1 x 1 pixel.
const DOT: &[u8] = include_bytes!("fixture/dot.png");

#[test]
fn exact_notes_checks_and_photos_follow_on_a_leaf_of_their_own() {
    let report = fixture::report();
    let mut content = fixture::content(&report);
    let alone = read(&content).get_pages().len();
    content.annex = Annex {
        notes: "Blade was sticky.\n\nNew gasket fitted.".to_owned(),
        checks: vec![Checked {
            title: "Position sensor, end to end".to_owned(),
            read: "4.24 kΩ".to_owned(),
            says: "The track is whole.".to_owned(),
            verdict: "pass".to_owned(),
        }],
        photos: vec![Photo {
            caption: "As found: blade".to_owned(),
            bytes: DOT.to_vec(),
            format: PhotoFormat::Png,
        }],
    };
    let document = read(&content);
    assert_eq!(document.get_pages().len(), alone + 1);
    assert_holds(
        &document,
        &["Blade was sticky.", "New gasket fitted.", "4.24 kΩ", "The track is whole.", "As found: blade"],
    );
}

#[test]
fn refuses_a_photo_that_is_none() {
    let report = fixture::report();
    let mut content = fixture::content(&report);
    let photo = Photo { caption: "Port".to_owned(), bytes: vec![1, 2, 3], format: PhotoFormat::Jpeg };
    content.annex.photos.push(photo);
    assert!(matches!(sheet::pdf(&content).unwrap_err(), SheetError::Typesetting { .. }));
}

#[test]
fn refuses_what_is_no_drawing() {
    let report = fixture::report();
    for svg in
        ["", "not a drawing", "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><g></svg>"]
    {
        let mut content = fixture::content(&report);
        content.drawings =
            vec![Drawing { place: Place::Row, caption: "Port".to_owned(), svg: svg.to_owned() }];
        let error = sheet::pdf(&content).unwrap_err();
        assert!(matches!(error, SheetError::Drawing { .. } | SheetError::Typesetting { .. }), "{error}");
    }
}

#[test]
fn exact_same_content_gives_the_same_bytes() {
    let report = fixture::report();
    let first = sheet::pdf(&fixture::content(&report)).unwrap();
    let mut other = fixture::report();
    spoil(&mut other, &["something else".to_owned()]);
    let between = sheet::pdf(&fixture::content(&other)).unwrap();
    let again = sheet::pdf(&fixture::content(&report)).unwrap();
    assert!(first == again, "the same content gave different bytes");
    assert!(first != between);
}
