//! The program is killed in the middle of its work, two hundred times; what was acknowledged is there afterwards.
//!
//! SIGKILL ends a process between any two instructions, so this holds the order of writes and the tidying up at the
//! next start. It cannot show what a power cut does to bytes that the disk has promised but not written; for that the
//! record asks SQLite for `synchronous = FULL`.
#![cfg(unix)]
// Test code throughout; the lint spares only what stands inside a test function.
#![allow(clippy::unwrap_used)]

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use record::{Change, EngineFilter, NewPicture, NewResult, Owner, PictureId, Record, ResultId, VisitId};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

/// The writing child is this test program itself, told by this variable where to write.
const CHILD: &str = "RECORD_KILL_TEST_PATH";
const KILLS: u32 = 200;
/// A new file now and then, so that the making of it is cut short too.
const KILLS_PER_FILE: u32 = 20;

/// One acknowledged save: kind, owner or number, key, version, text.
#[derive(Debug, PartialEq)]
enum Acknowledged {
    Engine(String),
    Field(VisitId, String, i64, String),
    Picture(PictureId, String),
    Result(ResultId, String),
}

#[test]
#[ignore = "the writing child of the test below; it never ends by itself"]
fn child_writes_until_it_is_killed() {
    let Some(path) = std::env::var_os(CHILD) else { return };
    let record = Record::open(Path::new(&path)).unwrap();
    let round = format!("round {}", std::process::id());
    let (_, _, visit) = record.create_engine(&round, true).unwrap();
    say(&format!("engine\t{round}"));
    let mut versions: BTreeMap<String, i64> = BTreeMap::new();
    for number in 0_u64.. {
        match number % 10 {
            7 => {
                let text = format!("photo {number}");
                let id = record.add_picture(visit, &photo(&text)).unwrap();
                say(&format!("picture\t{id}\t{text}"));
            }
            8 => {
                let text = format!("bore = \"{number} mm\"");
                let id = record.save_result(visit, &result(&text)).unwrap();
                say(&format!("result\t{id}\t{text}"));
            }
            _ => save_three(&record, visit, number, &mut versions),
        }
    }
}

/// Saves three fields at once and acknowledges each.
fn save_three(record: &Record, visit: VisitId, number: u64, versions: &mut BTreeMap<String, i64>) {
    let changes: Vec<Change> = (0..3)
        .map(|at| {
            let key = format!("key.{}", (number + at) % 7);
            let text = format!("{number} at {at} {}", "µ".repeat((number * 37 % 400) as usize));
            Change { based_on: versions.get(&key).copied(), key, text }
        })
        .collect();
    for (change, saved) in changes.iter().zip(record.save_fields(visit.into(), &changes).unwrap()) {
        let record::Saved::Stored { version } = saved else { panic!("{saved:?}") };
        versions.insert(change.key.clone(), version);
        say(&format!("field\t{visit}\t{}\t{version}\t{}", change.key, change.text));
    }
}

fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "acknowledged\t{line}\tend").unwrap();
    out.flush().unwrap();
}

fn photo(text: &str) -> NewPicture {
    let mut bytes = vec![0xFF, 0xD8, 0xFF, 0xE0];
    bytes.extend(text.bytes().cycle().take(60_000));
    NewPicture {
        step: "found".to_string(),
        caption: text.to_string(),
        media_type: "image/jpeg".to_string(),
        bytes,
        width: 640,
        height: 480,
    }
}

fn result(text: &str) -> NewResult {
    NewResult {
        kind: "setting".to_string(),
        program_version: "0.1.0".to_string(),
        inputs_text: text.to_string(),
        report_json: "{}".to_string(),
    }
}

#[test]
fn conserves_every_acknowledged_save_over_two_hundred_kills() {
    let folder = tempfile::tempdir().unwrap();
    let mut random = ChaCha8Rng::seed_from_u64(20_260_101);
    let (mut saves, mut quiet) = (0, 0);
    for kill in 0..KILLS {
        let path = folder.path().join(format!("record-{}.db", kill / KILLS_PER_FILE));
        // A third is killed while starting, the rest at work.
        let longest = if kill % 3 == 0 { 25_000 } else { 200_000 };
        let acknowledged = write_and_kill(&path, Duration::from_micros(random.random_range(0..longest)));
        saves += acknowledged.len();
        quiet += u32::from(acknowledged.is_empty());
        hold(&path, &acknowledged, kill);
    }
    println!("{KILLS} kills, {saves} saves acknowledged, {quiet} kills before the first of them");
    // Otherwise the kills missed the work, and the test would show nothing.
    assert!(saves > 2_000, "only {saves} saves were acknowledged");
    assert!((1..KILLS / 2).contains(&quiet), "{quiet} of {KILLS} kills came before the first save");
}

/// Starts a writer, kills it after `wait`, and gives what it acknowledged.
fn write_and_kill(path: &Path, wait: Duration) -> Vec<Acknowledged> {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--ignored", "--exact", "child_writes_until_it_is_killed", "--nocapture", "--test-threads=1"])
        .env(CHILD, path)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let out = BufReader::new(child.stdout.take().unwrap());
    let reader = std::thread::spawn(move || {
        // The last line may be cut off; a line without its end acknowledges nothing.
        out.split(b'\n').map_while(Result::ok).filter_map(|line| parse(&line)).collect::<Vec<_>>()
    });
    std::thread::sleep(wait);
    child.kill().unwrap();
    let output = child.wait_with_output().unwrap();
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(!errors.contains("panicked"), "the writer failed by itself: {errors}");
    reader.join().unwrap()
}

fn parse(line: &[u8]) -> Option<Acknowledged> {
    let line = std::str::from_utf8(line).ok()?.split("acknowledged\t").nth(1)?.strip_suffix("\tend")?;
    let words: Vec<&str> = line.split('\t').collect();
    Some(match words.as_slice() {
        ["engine", name] => Acknowledged::Engine(name.to_string()),
        ["field", visit, key, version, text] => Acknowledged::Field(
            VisitId(visit.parse().ok()?),
            key.to_string(),
            version.parse().ok()?,
            text.to_string(),
        ),
        ["picture", id, text] => Acknowledged::Picture(PictureId(id.parse().ok()?), text.to_string()),
        ["result", id, text] => Acknowledged::Result(ResultId(id.parse().ok()?), text.to_string()),
        _ => return None,
    })
}

/// The record opens, is sound, and holds what was acknowledged.
fn hold(path: &Path, acknowledged: &[Acknowledged], kill: u32) {
    let record = Record::open(path).unwrap_or_else(|error| panic!("after kill {kill}: {error}"));
    record.check().unwrap_or_else(|error| panic!("after kill {kill}: {error}"));
    let engines = record.engines(&EngineFilter::default()).unwrap();
    let mut latest: BTreeMap<(Owner, &str), i64> = BTreeMap::new();
    for one in acknowledged {
        match one {
            Acknowledged::Engine(name) => {
                assert!(engines.iter().any(|line| &line.name == name), "kill {kill}: {one:?}");
            }
            Acknowledged::Field(visit, key, version, text) => {
                let history = record.history((*visit).into(), key).unwrap();
                let kept = history.iter().find(|past| past.version == *version);
                assert_eq!(kept.map(|past| &past.text), Some(text), "kill {kill}: {key} version {version}");
                latest.insert(((*visit).into(), key), *version);
            }
            Acknowledged::Picture(id, text) => {
                assert_eq!(record.picture(*id).unwrap().bytes, photo(text).bytes, "kill {kill}");
            }
            Acknowledged::Result(id, text) => {
                assert_eq!(&record.result(*id).unwrap().inputs_text, text, "kill {kill}");
            }
        }
    }
    // The present text is never older than the last one acknowledged.
    for ((owner, key), version) in latest {
        assert!(record.fields(owner).unwrap()[key].version >= version, "kill {kill}: {key}");
    }
}
