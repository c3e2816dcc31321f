//! Files that cannot be used: one sentence each, and the file as it was. Then several threads at once.

use super::*;
use crate::fixture::{picture, place};
use crate::{EngineFilter, Saved};
use std::time::Instant;

/// A closed record with some hundred pages in it.
fn closed_record(path: &Path) {
    let record = Record::open(path).unwrap();
    let (_, build, visit) = record.create_engine("Invented single", true).unwrap();
    for number in 0..40 {
        record.save_field(build.into(), &format!("key_{number}"), &"x".repeat(9_000), None).unwrap();
    }
    record.add_picture(visit, &picture("flap")).unwrap();
}

fn bytes_of(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap()
}

/// Opening and using the file fails with a sentence that has this word, and leaves its bytes alone.
fn refused(path: &Path, word: &str) -> RecordError {
    let before = bytes_of(path);
    let error = Record::open(path)
        .and_then(|record| record.check().and_then(|()| record.set_choice("units", "inch")))
        .expect_err(word);
    let sentence = error.to_string();
    assert!(sentence.contains(word) && sentence.ends_with('.'), "{sentence}");
    assert!(sentence.contains(&path.display().to_string()), "{sentence}");
    assert!(bytes_of(path) == before, "the file was changed: {sentence}");
    error
}

#[test]
fn refuses_other_files_and_leaves_them_as_they_are() {
    let (folder, path) = place();
    for (bytes, why) in [
        (b"Dear customer, ...".as_slice(), "it begins differently"),
        (b"S", "it begins differently"),
        (b"SQLite format 3\0", "cut short"),
        (&[0; 4096], "it begins differently"),
    ] {
        std::fs::write(&path, bytes).unwrap();
        refused(&path, why);
    }
    let error = Record::open(folder.path()).unwrap_err();
    assert!(error.to_string().contains("it is a folder"), "{error}");
    let error = Record::open(&folder.path().join("none").join("record.db")).unwrap_err();
    assert!(error.to_string().contains("Check that the folder exists"), "{error}");
}

#[test]
fn refuses_databases_of_other_programs_and_does_not_even_tidy_their_logs() {
    for (mark, journal) in [(0, "DELETE"), (77, "DELETE"), (0, "WAL"), (77, "WAL")] {
        let (_folder, path) = place();
        let other = Connection::open(&path).unwrap();
        other.pragma_update_and_check(None, "journal_mode", journal, |_| Ok(())).unwrap();
        other.pragma_update(None, "application_id", mark).unwrap();
        other.execute_batch("CREATE TABLE engine (a); INSERT INTO engine VALUES (1)").unwrap();
        // As if that program had been killed: its log stays behind.
        let crashed = path.with_extension("crashed");
        let log = |path: &Path| file::beside(path, "-wal");
        std::fs::copy(&path, &crashed).unwrap();
        if journal == "WAL" {
            std::fs::copy(log(&path), log(&crashed)).unwrap();
        }
        refused(&crashed, "it is a database of another program");
        if journal == "WAL" {
            assert_eq!(bytes_of(&log(&crashed)), bytes_of(&log(&path)));
        }
    }
}

#[test]
fn refuses_a_record_of_a_newer_program() {
    let (_folder, path) = place();
    closed_record(&path);
    let newer = Connection::open(&path).unwrap();
    newer.pragma_update(None, "user_version", 99).unwrap();
    newer.pragma_update_and_check(None, "journal_mode", "DELETE", |_| Ok(())).unwrap();
    drop(newer);
    let error = refused(&path, "layout 99");
    assert!(error.to_string().contains("use the newer program"), "{error}");
}

#[test]
fn refuses_a_damaged_record() {
    let (_folder, path) = place();
    closed_record(&path);
    let whole = bytes_of(&path);
    let page = 4096;
    std::fs::write(&path, &whole[..whole.len() / 2]).unwrap();
    refused(&path, "cut short");
    // Noise over the whole file but the head, over one page in the middle, over the list of tables.
    for (from, to) in [(page, whole.len()), (3 * page, 4 * page), (100, page)] {
        let mut broken = whole.clone();
        for (at, byte) in broken[from..to].iter_mut().enumerate() {
            *byte = (at * 31 % 251) as u8;
        }
        std::fs::write(&path, &broken).unwrap();
        let error = refused(&path, "");
        assert!(matches!(error, RecordError::Damaged { .. }), "{from}..{to}: {error}");
        assert!(error.to_string().contains("bring back the last backup"), "{error}");
    }
    // Tables that are not there, and a trigger that a stranger put in.
    for change in [
        "DROP TABLE setting",
        "CREATE TRIGGER engine_grab AFTER INSERT ON field BEGIN DELETE FROM field; END",
        "ALTER TABLE picture DROP COLUMN caption",
    ] {
        std::fs::write(&path, &whole).unwrap();
        let rows = Connection::open(&path).unwrap();
        rows.execute_batch(&format!("{change}; PRAGMA journal_mode = DELETE")).unwrap();
        drop(rows);
        assert!(matches!(refused(&path, "not as a record has it"), RecordError::Damaged { .. }));
    }
}

#[test]
fn refuses_a_record_that_may_not_be_written() {
    let (_folder, path) = place();
    closed_record(&path);
    let mut rights = std::fs::metadata(&path).unwrap().permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(&path, rights).unwrap();
    refused(&path, "may be read but not written");
}

#[test]
fn refuses_a_locked_record_after_a_while() {
    let (_folder, path) = place();
    closed_record(&path);
    let ours = Record::open(&path).unwrap();
    ours.writer().busy_timeout(Duration::from_millis(50)).unwrap();
    let other = Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let began = Instant::now();
    let error = ours.set_choice("units", "inch").unwrap_err();
    assert!(matches!(error, RecordError::Locked { .. }), "{error}");
    assert!(error.to_string().contains("in use by another program"), "{error}");
    assert!(began.elapsed() >= Duration::from_millis(40), "it was waited for");
    // Reading goes on all the while, and writing does as soon as the other is done.
    assert_eq!(ours.choice("units").unwrap(), None);
    other.execute_batch("COMMIT").unwrap();
    ours.set_choice("units", "inch").unwrap();
    drop((ours, other));
    // Held for itself alone by another program, it cannot even be opened.
    let alone = Connection::open(&path).unwrap();
    alone.pragma_update_and_check(None, "locking_mode", "EXCLUSIVE", |_| Ok(())).unwrap();
    alone.execute_batch("BEGIN EXCLUSIVE").unwrap();
    let before = bytes_of(&path);
    let error = Record::open_waiting(&path, Duration::from_millis(50)).unwrap_err();
    assert!(matches!(error, RecordError::Locked { .. }), "{error}");
    assert!(bytes_of(&path) == before);
}

#[test]
fn refuses_to_half_save_on_a_full_disk() {
    let (_folder, path) = place();
    closed_record(&path);
    let record = Record::open(&path).unwrap();
    let pages: i64 = record.writer().query_row("PRAGMA page_count", [], |row| row.get(0)).unwrap();
    let room = record
        .writer()
        .query_row(&format!("PRAGMA max_page_count = {pages}"), [], |row| row.get::<_, i64>(0));
    assert_eq!(room.unwrap(), pages);
    let engine = record.engines(&EngineFilter::default()).unwrap()[0].id;
    let before = record.fields(engine.into()).unwrap();
    let error = record.save_field(engine.into(), "note", &"x".repeat(500_000), None).unwrap_err();
    assert!(matches!(error, RecordError::Full { .. }), "{error}");
    assert!(error.to_string().contains("free some space"), "{error}");
    assert_eq!(record.fields(engine.into()).unwrap(), before);
    record.check().unwrap();
    // With room again, it goes on.
    record.writer().query_row("PRAGMA max_page_count = 100000", [], |_| Ok(())).unwrap();
    let saved = record.save_field(engine.into(), "note", &"x".repeat(500_000), None).unwrap();
    assert_eq!(saved, Saved::Stored { version: 1 });
}

#[test]
fn exact_an_empty_file_becomes_a_record() {
    let (_folder, path) = place();
    std::fs::write(&path, b"").unwrap();
    let record = Record::open(&path).unwrap();
    assert!(record.engines(&EngineFilter::default()).unwrap().is_empty());
    assert_eq!(record.path(), Some(path.as_path()));
    let mode: String = record.writer().query_row("PRAGMA journal_mode", [], |row| row.get(0)).unwrap();
    let full: i64 = record.writer().query_row("PRAGMA synchronous", [], |row| row.get(0)).unwrap();
    assert_eq!((mode.as_str(), full), ("wal", 2));
}

#[test]
fn exact_two_handles_on_one_file_see_each_other_and_clash_in_the_open() {
    let (_folder, path) = place();
    let (one, other) = (Record::open(&path).unwrap(), Record::open(&path).unwrap());
    let (_, build, _) = one.create_engine("Invented single", true).unwrap();
    one.save_field(build.into(), "bore", "54 mm", None).unwrap();
    assert_eq!(other.fields(build.into()).unwrap()["bore"].text, "54 mm");
    assert_eq!(
        other.save_field(build.into(), "bore", "55 mm", Some(1)).unwrap(),
        Saved::Stored { version: 2 }
    );
    let clash = one.save_field(build.into(), "bore", "56 mm", Some(1)).unwrap();
    assert!(matches!(clash, Saved::Clash { ref text, version: 2, .. } if text == "55 mm"), "{clash:?}");
    assert_eq!(one.history(build.into(), "bore").unwrap().len(), 2);
}

#[test]
fn conserves_every_save_of_many_writers_while_others_read() {
    const WRITERS: usize = 4;
    const SAVES: usize = 50;
    let (_folder, path) = place();
    let records = [Record::open(&path).unwrap(), Record::open(&path).unwrap()];
    let (_, build, _) = records[0].create_engine("Invented single", true).unwrap();
    let stop = std::sync::atomic::AtomicBool::new(false);
    let done = std::sync::atomic::Ordering::Relaxed;
    std::thread::scope(|scope| {
        let readers: Vec<_> = (0..2)
            .map(|reader| {
                let (record, stop) = (&records[reader], &stop);
                scope.spawn(move || {
                    let (mut seen, mut reads) = (0, 0_u32);
                    while !stop.load(done) {
                        let fields = record.fields(build.into()).unwrap();
                        // "a" and "b" are saved in one transaction: never is one seen without the other.
                        let of = |key: &str| fields.get(key).map(|field| field.text.clone());
                        assert_eq!(of("pair.a"), of("pair.b"));
                        assert!(fields.len() >= seen, "a field vanished");
                        seen = fields.len();
                        reads += 1;
                    }
                    reads
                })
            })
            .collect();
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| {
                let record = &records[writer % 2];
                scope.spawn(move || {
                    for number in 0..SAVES {
                        write_pair(record, build, writer * SAVES + number);
                        let key = format!("key.{writer}.{number}");
                        let saved = record.save_field(build.into(), &key, &key, None).unwrap();
                        assert_eq!(saved, Saved::Stored { version: 1 });
                    }
                })
            })
            .collect();
        writers.into_iter().for_each(|writer| writer.join().unwrap());
        stop.store(true, done);
        for reader in readers {
            assert!(reader.join().unwrap() > 0, "readers were never let in");
        }
    });
    let fields = records[0].fields(build.into()).unwrap();
    assert_eq!(fields.len(), WRITERS * SAVES + 2);
    // Nothing typed was lost: each text that was not a clash is in the history.
    let history = records[0].history(build.into(), "pair.a").unwrap();
    assert_eq!(history.len() as i64, fields["pair.a"].version);
    records[0].check().unwrap();
}

fn write_pair(record: &Record, build: crate::BuildId, text: usize) {
    let seen = record.fields(build.into()).unwrap().get("pair.a").map(|field| field.version);
    let change = |key: &str| crate::Change { key: key.to_string(), text: text.to_string(), based_on: seen };
    let saved = record.save_fields(build.into(), &[change("pair.a"), change("pair.b")]).unwrap();
    assert_eq!(
        matches!(saved[0], Saved::Stored { .. }),
        matches!(saved[1], Saved::Stored { .. }),
        "{saved:?}"
    );
}

#[test]
fn exact_a_panic_in_one_thread_does_not_stop_the_others() {
    let record = Record::open_in_memory().unwrap();
    let result = std::thread::scope(|scope| {
        scope
            .spawn(|| {
                record.write(|rows| -> Outcome<()> {
                    rows.execute("INSERT INTO setting VALUES ('units', 'inch')", [])?;
                    panic!("as if by a fault")
                })
            })
            .join()
    });
    assert!(result.is_err());
    assert_eq!(record.choice("units").unwrap(), None);
    record.set_choice("units", "metric").unwrap();
}
