//! There and back: backup and restore.

use super::*;
use crate::EngineFilter;
use crate::fixture::{picture, place, texts};

fn names(record: &Record) -> Vec<String> {
    record.engines(&EngineFilter::default()).unwrap().into_iter().map(|line| line.name).collect()
}

#[test]
fn round_trips_a_backup_made_while_the_record_is_in_use() {
    let (folder, path) = place();
    let backup = folder.path().join("backup.db");
    let record = Record::open(&path).unwrap();
    let (_, build, visit) = record.create_engine("First", false).unwrap();
    record.save_field(build.into(), "bore", "54 mm", None).unwrap();
    let photo = record.add_picture(visit, &picture("flap")).unwrap();
    record.backup(&backup).unwrap();
    record.create_engine("Second", false).unwrap();
    assert!(!beside(&backup, "-wal").exists() && !beside(&backup, "-shm").exists());
    drop(record);

    let Restored { kept } = Record::restore(&backup, &path).unwrap();
    let restored = Record::open(&path).unwrap();
    assert_eq!(names(&restored), ["First"]);
    assert_eq!(texts(&restored, build), [("bore".to_string(), "54 mm".to_string())]);
    assert_eq!(restored.picture(photo).unwrap().bytes, picture("flap").bytes);
    let kept = kept.unwrap();
    assert_eq!(kept, beside(&path, ".before-restore"));
    assert_eq!(names(&Record::open(&kept).unwrap()), ["Second", "First"]);
    drop(restored);
    // A second time, what was kept first stays.
    let again = Record::restore(&backup, &path).unwrap();
    assert_eq!(again.kept.unwrap(), beside(&path, ".before-restore.2"));
    let leftovers: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|item| item.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.contains(".part-"))
        .collect();
    assert!(leftovers.is_empty(), "{leftovers:?}");
}

#[test]
fn round_trips_a_record_in_memory() {
    let (_folder, path) = place();
    let record = Record::open_in_memory().unwrap();
    record.create_engine("First", true).unwrap();
    record.backup(&path).unwrap();
    assert_eq!(names(&Record::open(&path).unwrap()), ["First"]);
}

#[test]
fn exact_a_newer_backup_replaces_an_older_one_and_nothing_else() {
    let (folder, path) = place();
    let record = Record::open(&path).unwrap();
    let backup = folder.path().join("backup.db");
    record.backup(&backup).unwrap();
    record.create_engine("First", true).unwrap();
    record.backup(&backup).unwrap();
    assert_eq!(names(&Record::open(&backup).unwrap()), ["First"]);
    let letter = folder.path().join("letter.txt");
    std::fs::write(&letter, "Dear customer").unwrap();
    let error = record.backup(&letter).unwrap_err();
    assert!(error.to_string().contains("is not a Portwright record"), "{error}");
    assert_eq!(std::fs::read_to_string(&letter).unwrap(), "Dear customer");
    let error = record.backup(&folder.path().join(".").join("record.db")).unwrap_err();
    assert!(error.to_string().contains("is the record itself"), "{error}");
    let error = record.backup(&folder.path().join("none").join("backup.db")).unwrap_err();
    assert!(error.to_string().contains("Check that the folder exists"), "{error}");
}

#[test]
fn refuses_a_backup_that_is_not_good_and_leaves_the_record() {
    let (folder, path) = place();
    let backup = folder.path().join("backup.db");
    let record = Record::open(&path).unwrap();
    let (_, build, _) = record.create_engine("First", false).unwrap();
    for number in 0..40 {
        record.save_field(build.into(), &format!("key_{number}"), &"x".repeat(9_000), None).unwrap();
    }
    record.backup(&backup).unwrap();
    drop(record);
    let good = std::fs::read(&backup).unwrap();
    let before = std::fs::read(&path).unwrap();
    let mut noisy = good.clone();
    noisy[5 * 4096..6 * 4096].fill(0xA5);
    let cases: [(&[u8], &str); 4] = [
        (&good[..good.len() / 3], "damaged (it is cut short)"),
        (&noisy, "is damaged"),
        (b"Dear customer", "is not a Portwright record"),
        (b"", "there is nothing in it"),
    ];
    for (bytes, word) in cases {
        std::fs::write(&backup, bytes).unwrap();
        let error = Record::restore(&backup, &path).unwrap_err();
        assert!(error.to_string().contains(word), "{error}");
        assert!(error.to_string().contains("backup.db"), "{error}");
        assert!(std::fs::read(&path).unwrap() == before);
    }
    let error = Record::restore(&path, &path).unwrap_err();
    assert!(error.to_string().contains("is the record itself"), "{error}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2, "nothing is left lying about");
}

#[test]
fn refuses_to_pull_the_record_from_under_a_program() {
    let (folder, path) = place();
    let backup = folder.path().join("backup.db");
    let record = Record::open(&path).unwrap();
    record.backup(&backup).unwrap();
    record.create_engine("First", false).unwrap();
    let error = Record::restore(&backup, &path).unwrap_err();
    assert!(matches!(error, RecordError::Locked { .. }), "{error}");
    assert_eq!(names(&record), ["First"]);
    record.create_engine("Second", false).unwrap();
    drop(record);
    assert_eq!(names(&Record::open(&path).unwrap()).len(), 2);
}

#[test]
fn round_trips_over_a_damaged_record_which_is_kept_with_its_log() {
    let (folder, path) = place();
    let backup = folder.path().join("backup.db");
    let record = Record::open(&path).unwrap();
    record.create_engine("First", false).unwrap();
    record.backup(&backup).unwrap();
    drop(record);
    std::fs::write(&path, b"noise").unwrap();
    std::fs::write(beside(&path, "-wal"), b"noise of the log").unwrap();
    let kept = Record::restore(&backup, &path).unwrap().kept.unwrap();
    assert_eq!(names(&Record::open(&path).unwrap()), ["First"]);
    assert_eq!(std::fs::read(&kept).unwrap(), b"noise");
    assert_eq!(std::fs::read(beside(&kept, "-wal")).unwrap(), b"noise of the log");
}

#[test]
fn round_trips_a_record_that_was_killed_with_its_log_beside() {
    let (folder, path) = place();
    let record = Record::open(&path).unwrap();
    record.create_engine("First", false).unwrap();
    // Copied as it lies on the disk, log included, while it is open.
    let crashed = folder.path().join("crashed.db");
    std::fs::copy(&path, &crashed).unwrap();
    std::fs::copy(beside(&path, "-wal"), beside(&crashed, "-wal")).unwrap();
    let fresh = folder.path().join("fresh.db");
    assert_eq!(Record::restore(&crashed, &fresh).unwrap().kept, None);
    assert_eq!(names(&Record::open(&fresh).unwrap()), ["First"]);
}
