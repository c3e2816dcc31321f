//! Out and in again without loss; archives from strangers.

use crate::fixture::{picture, result};
use crate::{BuildId, EngineFilter, EngineId, Owner, Record, VisitId};
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

/// Stands in for the engine file: nothing while there is no bore.
fn compose(fields: &BTreeMap<String, String>) -> Option<String> {
    fields
        .contains_key("bore")
        .then(|| fields.iter().map(|(key, text)| format!("{key} = {text:?}\n")).collect())
}

fn exported(record: &Record, engines: &[EngineId]) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    record.export(engines, &compose, &mut bytes).unwrap();
    bytes.into_inner()
}

fn all_engines(record: &Record) -> Vec<EngineId> {
    record.engines(&EngineFilter::default()).unwrap().into_iter().map(|line| line.id).collect()
}

/// Engines with everything a record can hold: deleted things, histories, results, pictures.
fn full_record() -> (Record, Vec<EngineId>) {
    let record = Record::open_in_memory().unwrap();
    let mut engines = Vec::new();
    for number in 0..12 {
        let (engine, build, visit) =
            record.create_engine(&format!("Engine № {number}"), number == 0).unwrap();
        record.save_field(engine.into(), "note", "left side", None).unwrap();
        record.save_field(build.into(), "bore", "54", None).unwrap();
        record.save_field(build.into(), "bore", "54 mm", Some(1)).unwrap();
        record.save_field(visit.into(), "returns.slack", "0.5 mm", None).unwrap();
        engines.push(engine);
        if number == 3 {
            fill(&record, engine, build, visit);
        }
    }
    record.delete(engines[5].into()).unwrap();
    (record, engines)
}

fn fill(record: &Record, engine: EngineId, build: BuildId, visit: VisitId) {
    for number in 0..11 {
        record.save_result(visit, &result(&format!("bore = \"5{number} mm\"\n"))).unwrap();
        record.add_picture(visit, &picture(&format!("photo {number}"))).unwrap();
    }
    let pictures = record.pictures(visit).unwrap();
    record.set_on_sheet(pictures[2].id, true).unwrap();
    record.delete_picture(pictures[4].id).unwrap();
    let second = record.create_build(engine, "New piston", Some(build)).unwrap();
    let later = record.create_visit(second, "Later", Some(visit)).unwrap();
    record.delete(later.into()).unwrap();
}

#[test]
fn round_trips_everything_byte_for_byte() {
    let (record, engines) = full_record();
    let first = exported(&record, &engines);
    // Into a record that has other numbers already, and into the same one.
    let other = Record::open_in_memory().unwrap();
    other.create_engine("In the way", false).unwrap();
    for target in [&other, &record] {
        let added = target.import(Cursor::new(&first)).unwrap();
        assert_eq!(added.len(), engines.len());
        assert!(exported(target, &added) == first);
        target.check().unwrap();
    }
    // What was kept is there, not only the same bytes.
    let added = other.import(Cursor::new(&first)).unwrap();
    let engine = other.engine(added[3]).unwrap();
    assert_eq!(engine.line.name, "Engine № 3");
    assert_eq!(
        engine.builds.iter().map(|build| build.name.as_str()).collect::<Vec<_>>(),
        ["First build", "New piston"]
    );
    let visit = engine.builds[0].visits[0].id;
    let original = record.engine(engines[3]).unwrap();
    let original_visit = original.builds[0].visits[0].id;
    assert_eq!(engine.line.changed_ms, original.line.changed_ms);
    assert_eq!(other.fields(visit.into()).unwrap(), record.fields(original_visit.into()).unwrap());
    let build = engine.builds[0].id;
    assert_eq!(
        other.history(build.into(), "bore").unwrap(),
        record.history(original.builds[0].id.into(), "bore").unwrap()
    );
    let results = other.results(visit).unwrap();
    assert_eq!(other.result(results[0].id).unwrap().inputs_text, "bore = \"510 mm\"\n");
    let pictures = other.pictures(visit).unwrap();
    assert_eq!(pictures.len(), 10);
    assert!(pictures[2].on_sheet);
    assert_eq!(other.picture(pictures[9].id).unwrap().bytes, picture("photo 10").bytes);
    assert!(other.engine(added[5]).unwrap().line.deleted_ms.is_some());
}

#[test]
fn exact_an_export_is_open_files_in_order() {
    let (record, engines) = full_record();
    let bytes = exported(&record, &engines[2..4]);
    let mut zip = ZipArchive::new(Cursor::new(&bytes)).unwrap();
    let names: Vec<String> = (0..zip.len()).map(|at| zip.by_index(at).unwrap().name().to_string()).collect();
    assert!(names.is_sorted(), "{names:?}");
    for name in [
        "portwright.json",
        "engine-1/engine.json",
        "engine-1/fields.json",
        "engine-1/build-1/engine.toml",
        "engine-1/build-1/visit-1/fields.json",
        "engine-2/build-1/visit-1/engine.toml",
        "engine-2/build-1/visit-1/history.json",
        "engine-2/build-1/visit-1/results/11/report.json",
        "engine-2/build-1/visit-1/pictures/5.jpg",
        "engine-2/build-2/visit-1/visit.json",
    ] {
        assert!(names.iter().any(|known| known == name), "{name} in {names:?}");
    }
    let mut text = String::new();
    let mut file = zip.by_name("engine-2/build-1/visit-1/engine.toml").unwrap();
    std::io::Read::read_to_string(&mut file, &mut text).unwrap();
    assert_eq!(text, "bore = \"54 mm\"\nreturns.slack = \"0.5 mm\"\n");
    assert_eq!(exported(&record, &engines[2..4]), bytes, "the same again");
    let backwards: Vec<_> = engines[2..4].iter().rev().chain(&engines[2..3]).copied().collect();
    assert_eq!(exported(&record, &backwards), bytes, "in whatever order they are asked for");
}

#[test]
fn exact_a_file_is_written_whole_and_never_over_another() {
    let (record, engines) = full_record();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("engines.zip");
    record.export_to_file(&engines, &compose, &path).unwrap();
    assert!(std::fs::read(&path).unwrap() == exported(&record, &engines));
    let error = record.export_to_file(&engines, &compose, &path).unwrap_err();
    assert!(error.to_string().contains("name another"), "{error}");
    let missing = folder.path().join("other.zip");
    let error = record.export_to_file(&[EngineId(999)], &compose, &missing).unwrap_err();
    assert!(error.to_string().contains("no engine with the number 999"), "{error}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn round_trips_any_texts(
        name in any::<String>(),
        keys in prop::collection::vec("\\PC{1,30}", 1..6),
        texts in prop::collection::vec(prop_oneof![any::<String>(), Just(String::new()), Just("µ".repeat(50_000))], 1..6),
    ) {
        let record = Record::open_in_memory().unwrap();
        let (engine, build, visit) = record.create_engine(&name, false).unwrap();
        for owner in [Owner::Engine(engine), build.into(), visit.into()] {
            for key in &keys {
                for text in &texts {
                    let version = record.fields(owner).unwrap().get(key).map(|field| field.version);
                    record.save_field(owner, key, text, version).unwrap();
                }
            }
        }
        record.save_result(visit, &result(&texts[0])).unwrap();
        let mut photo = picture(&name);
        photo.step = keys[0].clone();
        record.add_picture(visit, &photo).unwrap();
        let first = exported(&record, &[engine]);
        let other = Record::open_in_memory().unwrap();
        let added = other.import(Cursor::new(&first)).unwrap();
        prop_assert!(exported(&other, &added) == first);
        let copy = &other.engine(added[0]).unwrap().builds[0];
        prop_assert_eq!(other.fields(copy.id.into()).unwrap(), record.fields(build.into()).unwrap());
    }
}

/// An archive with these files.
fn packed(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
        zip.start_file(*name, stored).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

const HEAD: (&str, &[u8]) = ("portwright.json", br#"{"format":"portwright-record","version":1}"#);
const ENGINE: &[u8] = br#"{"name":"E","invented":false,"created_ms":1,"changed_ms":1,"deleted_ms":null}"#;
const BUILD: &[u8] = br#"{"name":"B","created_ms":1,"changed_ms":1,"deleted_ms":null}"#;
const NONE: &[u8] = b"{}";

/// A sound archive of one engine with one build and one job card, and more files.
fn with(more: &[(&str, &[u8])]) -> Vec<u8> {
    let visit = "engine-1/build-1/visit-1";
    let own = ["engine-1/engine.json", "engine-1/build-1/build.json", "engine-1/build-1/visit-1/visit.json"];
    let mut files: BTreeMap<String, &[u8]> = BTreeMap::from([(HEAD.0.to_string(), HEAD.1)]);
    for (about, bytes) in own.iter().zip([ENGINE, BUILD, BUILD]) {
        files.insert(about.to_string(), bytes);
    }
    for folder in ["engine-1", "engine-1/build-1", visit] {
        files.insert(format!("{folder}/fields.json"), NONE);
        files.insert(format!("{folder}/history.json"), NONE);
    }
    files.extend(more.iter().map(|(name, bytes)| (name.to_string(), *bytes)));
    packed(&files.iter().map(|(name, bytes)| (name.as_str(), *bytes)).collect::<Vec<_>>())
}

/// Importing fails with a sentence that has this word, and adds nothing.
fn refused(bytes: &[u8], word: &str) {
    let record = Record::open_in_memory().unwrap();
    let error = record.import(Cursor::new(bytes)).expect_err(word);
    let sentence = error.to_string();
    assert!(sentence.contains(word), "{sentence}");
    assert!(sentence.starts_with("This file was not imported, and nothing was added"), "{sentence}");
    assert!(sentence.len() < 400 && sentence.ends_with('.') && !sentence.contains('\n'), "{sentence}");
    assert!(all_engines(&record).is_empty());
}

#[test]
fn exact_a_sound_archive_made_by_hand_is_taken() {
    let record = Record::open_in_memory().unwrap();
    assert_eq!(record.import(Cursor::new(with(&[]))).unwrap().len(), 1);
    let mut folders = ZipWriter::new_append(Cursor::new(with(&[]))).unwrap();
    folders.add_directory("engine-1/", SimpleFileOptions::default()).unwrap();
    let bytes = folders.finish().unwrap().into_inner();
    assert_eq!(record.import(Cursor::new(bytes)).unwrap().len(), 1);
    assert!(record.import(Cursor::new(packed(&[HEAD]))).unwrap().is_empty());
}

#[test]
fn refuses_what_is_no_archive() {
    let noise: Vec<u8> = (0..10_000_000_u32).map(|at| (at.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    refused(&noise, "no whole zip archive");
    refused(b"", "no whole zip archive");
    refused(b"PK\x03\x04", "no whole zip archive");
    refused(b"bore = \"54 mm\"", "choose a file that Portwright exported");
    refused(&packed(&[("letter.txt", b"Dear customer")]), "lacks portwright.json");
    refused(&packed(&[("portwright.json", br#"{"format":"else","version":1}"#)]), "does not say");
    let newer: (&str, &[u8]) = ("portwright.json", br#"{"format":"portwright-record","version":2}"#);
    refused(&packed(&[newer]), "use a newer Portwright");
}

#[test]
fn refuses_an_archive_cut_short_at_any_place() {
    let (record, engines) = full_record();
    let whole = exported(&record, &engines[3..4]);
    for part in 0..40 {
        refused(&whole[..whole.len() * part / 40], "zip");
    }
    refused(&whole[..whole.len() - 1], "zip");
}

#[test]
fn refuses_bytes_changed_on_the_way() {
    let (record, engines) = full_record();
    let whole = exported(&record, &engines[3..4]);
    let at = whole.windows(7).position(|bytes| bytes == b"photo 3").unwrap();
    let mut changed = whole.clone();
    changed[at] ^= 1;
    refused(&changed, "cannot be read");
}

#[test]
fn refuses_names_that_lead_elsewhere() {
    for name in [
        "../../etc/passwd",
        "/etc/passwd",
        "engine-1/../../evil",
        "engine-1/build-1/visit-1/pictures/../../../../1.jpg",
        "C:\\evil.json",
        "engine-1/evil.sh",
        "engine-1/build-1/visit-1/pictures/1.svg",
        "..//",
    ] {
        refused(&with(&[(name, b"x")]), "that no export has");
    }
}

#[test]
fn refuses_bombs() {
    // Compressed a thousandfold: the method itself is not taken. Its mark is set by hand, as no packer is at hand here.
    let mut deflated = with(&[]);
    for (mark, offset) in [(b"PK\x03\x04", 8), (b"PK\x01\x02", 10)] {
        let at = deflated.windows(4).position(|bytes| bytes == mark).unwrap();
        deflated[at + offset] = 8;
    }
    refused(&deflated, "without compression");
    // Files laid over each other: each is sound, together they are more than the archive is long.
    refused(&overlapping(), "larger than an export can hold");
    // Deep nesting.
    let deep = "[".repeat(5_000_000);
    refused(&with(&[("engine-1/fields.json", deep.as_bytes())]), "not as an export writes it");
}

/// Two hundred engines whose names all lead to the same stored file of 100 kB.
fn overlapping() -> Vec<u8> {
    let fields = format!(r#"{{"note":{{"text":"{}","version":1,"changed_ms":1}}}}"#, "x".repeat(100_000));
    let mut bytes = Vec::new();
    let mut directory = Vec::new();
    let mut entries = 0_u16;
    let mut list = |directory: &mut Vec<u8>, name: &str, (at, crc, length): (u32, u32, u32)| {
        entries += 1;
        directory.extend(b"PK\x01\x02\x14\x00\x0a\x00\x00\x00\x00\x00\x00\x00\x21\x00");
        directory.extend([crc, length, length].iter().flat_map(|number| number.to_le_bytes()));
        directory.extend((name.len() as u16).to_le_bytes());
        directory.extend([0; 12]);
        directory.extend(at.to_le_bytes());
        directory.extend(name.as_bytes());
    };
    let store = |bytes: &mut Vec<u8>, name: &str, content: &[u8]| {
        let (at, crc, length) = (bytes.len() as u32, crc(content), content.len() as u32);
        bytes.extend(b"PK\x03\x04\x0a\x00\x00\x00\x00\x00\x00\x00\x21\x00");
        bytes.extend([crc, length, length].iter().flat_map(|number| number.to_le_bytes()));
        bytes.extend((name.len() as u16).to_le_bytes());
        bytes.extend([0; 2]);
        bytes.extend(name.as_bytes());
        bytes.extend(content);
        (at, crc, length)
    };
    let head = store(&mut bytes, HEAD.0, HEAD.1);
    let about = store(&mut bytes, "engine-1/engine.json", ENGINE);
    let text = store(&mut bytes, "engine-1/fields.json", fields.as_bytes());
    let none = store(&mut bytes, "engine-1/history.json", NONE);
    list(&mut directory, HEAD.0, head);
    for number in 1..=200 {
        list(&mut directory, &format!("engine-{number}/engine.json"), about);
        list(&mut directory, &format!("engine-{number}/fields.json"), text);
        list(&mut directory, &format!("engine-{number}/history.json"), none);
    }
    let at = bytes.len() as u32;
    bytes.extend(&directory);
    bytes.extend(b"PK\x05\x06\x00\x00\x00\x00");
    bytes.extend(entries.to_le_bytes());
    bytes.extend(entries.to_le_bytes());
    bytes.extend((directory.len() as u32).to_le_bytes());
    bytes.extend(at.to_le_bytes());
    bytes.extend([0; 2]);
    bytes
}

/// Check sum of zip files (CRC-32, ISO 3309), bit by bit.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(
            sum ^ u32::from(*byte),
            |sum, _| if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 },
        )
    })
}

#[test]
fn refuses_parts_that_do_not_fit_together() {
    let visit = "engine-1/build-1/visit-1";
    let file = |name: &str| format!("{visit}/{name}");
    let field = |version: i64| format!(r#"{{"note":{{"text":"a","version":{version},"changed_ms":1}}}}"#);
    let past = |versions: [i64; 2]| {
        let [one, two] = versions;
        format!(
            r#"{{"note":[{{"version":{one},"text":"","changed_ms":1}},{{"version":{two},"text":"","changed_ms":1}}]}}"#
        )
    };
    let photo = |media_type: &str| {
        format!(
            r#"{{"step":"","caption":"","media_type":"{media_type}","width":1,"height":1,"made_ms":1,"deleted_ms":null,"on_sheet":true}}"#
        )
    };
    let made = br#"{"kind":"setting","made_ms":1,"program_version":"0"}"#;
    type Files = Vec<(String, Vec<u8>)>;
    let cases: Vec<(Files, &str)> = vec![
        (vec![(file("fields.json"), b"[]".to_vec())], "not as an export writes it"),
        (
            vec![(file("visit.json"), br#"{"name":"V","colour":"red"}"#.to_vec())],
            "not as an export writes it",
        ),
        (vec![(file("visit.json"), vec![0xFF; 9])], "not as an export writes it"),
        (vec![(file("fields.json"), field(0).into_bytes())], "they count from 1"),
        (vec![(file("history.json"), past([1, 2]).into_bytes())], "has a history but no text"),
        (
            vec![
                (file("fields.json"), field(2).into_bytes()),
                (file("history.json"), past([1, 2]).into_bytes()),
            ],
            "do not follow each other",
        ),
        (
            vec![
                (file("fields.json"), field(5).into_bytes()),
                (file("history.json"), past([0, 2]).into_bytes()),
            ],
            "they count from 1",
        ),
        (vec![(file("results/1/report.json"), b"{}".to_vec())], "belongs to nothing"),
        (vec![(file("results/1/result.json"), made.to_vec())], "results/1/inputs.toml is missing"),
        (
            vec![
                (file("results/1/result.json"), made.to_vec()),
                (file("results/1/inputs.toml"), vec![0xC3, 0x28]),
            ],
            "not text in UTF-8",
        ),
        (
            vec![
                (file("results/1/result.json"), made.to_vec()),
                (file("results/1/inputs.toml"), vec![]),
                (file("results/1/report.json"), b"{".to_vec()),
            ],
            "no JSON",
        ),
        (vec![(file("pictures/1.jpg"), vec![0xFF, 0xD8, 0xFF])], "belongs to nothing"),
        (vec![(file("pictures/1.json"), photo("image/jpeg").into_bytes())], "1.jpg is missing"),
        (
            vec![(file("pictures/1.json"), photo("text/html").into_bytes())],
            "kind of picture that is not taken",
        ),
        (
            vec![
                (file("pictures/1.json"), photo("image/jpeg").into_bytes()),
                (file("pictures/1.jpg"), b"<html>".to_vec()),
            ],
            "its bytes are no image/jpeg",
        ),
        (vec![("engine-2/build-1/build.json".to_string(), BUILD.to_vec())], "is not whole"),
        (vec![("engine-2/fields.json".to_string(), NONE.to_vec())], "is not whole"),
    ];
    for (files, word) in cases {
        let files: Vec<(&str, &[u8])> =
            files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
        refused(&with(&files), word);
    }
}

#[test]
fn refuses_or_takes_whole_whatever_is_changed() {
    use rand::{RngExt, SeedableRng};
    let sound = with(&[("engine-1/fields.json", br#"{"note":{"text":"a","version":1,"changed_ms":1}}"#)]);
    let mut random = rand_chacha::ChaCha8Rng::seed_from_u64(7);
    let record = Record::open_in_memory().unwrap();
    let (mut taken, mut turned_away) = (0, 0);
    for _ in 0..1_000 {
        let mut bytes = sound.clone();
        for _ in 0..random.random_range(1..4) {
            // Half of the hits go where the list of files stands.
            let from = if random.random_bool(0.5) { bytes.len() / 2 } else { 0 };
            let at = random.random_range(from..bytes.len());
            bytes[at] = random.random();
        }
        match record.import(Cursor::new(&bytes)) {
            Ok(engines) => {
                taken += engines.len();
                let first = exported(&record, &engines);
                let again = record.import(Cursor::new(&first)).unwrap();
                assert!(exported(&record, &again) == first);
                taken += again.len();
            }
            Err(_) => turned_away += 1,
        }
        assert_eq!(all_engines(&record).len(), taken, "something of a refused archive was kept");
    }
    assert!(taken > 50 && turned_away > 200, "{taken} taken, {turned_away} turned away");
}
