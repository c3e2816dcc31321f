//! The commands that work on the record, run as a user runs them on records of their own.
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "runs the program and reads what it wrote"
)]

use record::{Change, Record};
use serde_json::Value;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

struct Bench(tempfile::TempDir);

impl Bench {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    /// A bench with the demo engine and an engine that was only named in `record.sqlite`.
    fn with_record() -> Self {
        let bench = Self::new();
        let record = Record::open(&bench.0.path().join("record.sqlite")).unwrap();
        let (_, build, visit) = record.create_engine("Invented single", true).unwrap();
        for (key, text) in engine::file::fields::fields_of(engine::file::DEMO).unwrap() {
            let of_visit = ["found.", "gates.", "returns."].iter().any(|start| key.starts_with(start));
            let change = Change { key, text, based_on: None };
            let owner = if of_visit { visit.into() } else { build.into() };
            record.save_fields(owner, &[change]).unwrap();
        }
        record.create_engine("Empty one", false).unwrap();
        bench
    }

    fn path(&self, name: &str) -> std::path::PathBuf {
        self.0.path().join(name)
    }

    /// Runs with `record.sqlite` of this bench, and with a home of its own.
    fn run(&self, arguments: &[&str]) -> Ran {
        self.run_at(&[arguments, &["--record", "record.sqlite"]].concat())
    }

    fn run_at(&self, arguments: &[&str]) -> Ran {
        let mut command = Command::new(env!("CARGO_BIN_EXE_portwright"));
        command.args(arguments).current_dir(self.0.path());
        command.env("XDG_DATA_HOME", self.path("data")).env("HOME", self.path("home"));
        Ran(command.output().unwrap())
    }
}

struct Ran(Output);

impl Ran {
    fn code(&self) -> i32 {
        self.0.status.code().unwrap_or(-1)
    }

    fn out(&self) -> String {
        String::from_utf8_lossy(&self.0.stdout).into_owned()
    }

    fn err(&self) -> String {
        String::from_utf8_lossy(&self.0.stderr).into_owned()
    }

    fn done(self) -> Self {
        assert_eq!(self.code(), 0, "{}{}", self.out(), self.err());
        self
    }

    fn json(&self) -> Value {
        serde_json::from_slice(&self.0.stdout).unwrap_or_else(|error| panic!("{error}: {}", self.out()))
    }

    /// Refused with this code, in one line that holds these words.
    fn refused(&self, code: i32, words: &[&str]) {
        let told = self.err();
        assert_eq!(self.code(), code, "{told}");
        assert_eq!(told.lines().count(), 1, "{told}");
        for word in words {
            assert!(told.contains(word), "\"{word}\" is missing in: {told}");
        }
    }
}

fn names(at: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(at)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn regress_list_says_what_is_there_and_where_each_goes_on() {
    let bench = Bench::with_record();
    let listed = bench.run(&["list", "--json"]).done().json();
    let engines = listed["engines"].as_array().unwrap();
    assert_eq!(engines.len(), 2);
    let demo = engines.iter().find(|engine| engine["name"] == "Invented single").unwrap();
    assert_eq!(demo["number"], 1);
    assert_eq!(
        (&demo["invented"], &demo["builds"], &demo["job_cards"]),
        (&true.into(), &1.into(), &1.into())
    );
    assert_eq!(demo["latest_job_card"]["stage"]["readable"], true);
    let empty = engines.iter().find(|engine| engine["name"] == "Empty one").unwrap();
    assert_eq!(empty["latest_job_card"]["stage"]["step"], "crank");
    assert_eq!(empty["latest_job_card"]["stage"]["readable"], false);

    let text = bench.run(&["list"]).done().out();
    assert!(text.contains("2 engines") && text.contains("Invented single (invented)"), "{text}");
    assert!(text.contains("Crank and head"), "{text}");
    let detail = bench.run(&["list", "empty ONE"]).done().out();
    assert!(detail.contains("First build") && detail.contains("First job card (job card 2)"), "{detail}");
    assert!(!detail.contains("Invented single"), "{detail}");
    let detail = bench.run(&["list", "1", "--json"]).done().json();
    assert_eq!(detail["engines"][0]["in_detail"][0]["job_cards"][0]["name"], "First job card");
    bench.run(&["list", "Nothing"]).refused(2, &["\"Nothing\"", "portwright list"]);
}

#[test]
fn round_trips_export_import_export_byte_for_byte() {
    let bench = Bench::with_record();
    let written = bench.run(&["export", "-o", "all.zip", "--json"]).done().json();
    assert_eq!(written["engines"].as_array().unwrap().len(), 2);
    let added = bench.run_at(&["import", "all.zip", "--record", "other.sqlite", "--json"]).done().json();
    assert_eq!(added["added"][0]["name"], "Invented single");
    bench.run_at(&["export", "-o", "again.zip", "--record", "other.sqlite"]).done();
    assert_eq!(fs::read(bench.path("all.zip")).unwrap(), fs::read(bench.path("again.zip")).unwrap());
    let archive = fs::read(bench.path("all.zip")).unwrap();
    let holds = |word: &str| archive.windows(word.len()).any(|part| part == word.as_bytes());
    assert!(holds("engine-1/build-1/engine.toml") && holds("engine-1/build-1/visit-1/engine.toml"));
    assert!(!holds("engine-2/build-1/engine.toml"), "texts that make no engine yet give no engine file");

    bench.run(&["export", "Invented single", "-o", "one.zip"]).done();
    assert!(fs::metadata(bench.path("one.zip")).unwrap().len() < archive.len() as u64);
    bench.run(&["export", "-o", "all.zip"]).refused(1, &["all.zip", "already"]);
    assert_eq!(fs::read(bench.path("all.zip")).unwrap(), archive, "a file that is there stays");
    bench.run(&["export"]).refused(2, &["--output"]);
}

#[test]
fn refuses_archives_that_are_none_and_adds_nothing() {
    let bench = Bench::with_record();
    bench.run(&["export", "-o", "all.zip"]).done();
    let whole = fs::read(bench.path("all.zip")).unwrap();
    fs::write(bench.path("half.zip"), &whole[..whole.len() / 2]).unwrap();
    bench.run(&["import", "half.zip"]).refused(8, &["not imported", "zip"]);
    let told = bench.run(&["import", "half.zip", "--json"]);
    assert_eq!(told.code(), 8);
    assert_eq!(
        (&told.json()["error"]["kind"], &told.json()["error"]["exit_code"]),
        (&"not-usable".into(), &8.into())
    );
    bench.run(&["import", "none.zip"]).refused(1, &["none.zip"]);
    assert_eq!(bench.run(&["list", "--json"]).done().json()["engines"].as_array().unwrap().len(), 2);
    bench.run_at(&["import", "none.zip", "--record", "new.sqlite"]).refused(1, &["none.zip"]);
    assert!(!bench.path("new.sqlite").exists(), "a wrong name begins no record");
}

#[test]
fn round_trips_backup_and_restore_with_the_old_record_beside() {
    let bench = Bench::with_record();
    let told = bench.run(&["backup", "spare.sqlite", "--json"]).done().json();
    assert_eq!(told["bytes"].as_u64(), Some(fs::metadata(bench.path("spare.sqlite")).unwrap().len()));
    {
        let record = Record::open(&bench.path("record.sqlite")).unwrap();
        record.create_engine("After the backup", false).unwrap();
        // While the record is open a backup can be made, and the record cannot be replaced.
        bench.run(&["backup", "later.sqlite"]).done();
        bench
            .run(&["restore", "spare.sqlite"])
            .refused(7, &["open in the app", "Ctrl-C", "nothing was changed"]);
        assert_eq!(record.engines(&record::EngineFilter::default()).unwrap().len(), 3);
    }
    let told = bench.run(&["restore", "spare.sqlite", "--json"]).done().json();
    let count = |record: &str| {
        let listed = bench.run_at(&["list", "--json", "--record", record]).done().json();
        listed["engines"].as_array().unwrap().len()
    };
    assert_eq!(count("record.sqlite"), 2);
    assert_eq!(count(told["kept"].as_str().unwrap()), 3, "the old record is kept beside");
    assert_eq!(count("later.sqlite"), 3);
}

#[test]
fn refuses_what_is_no_backup_and_leaves_the_record_as_it_was() {
    let bench = Bench::with_record();
    let before = fs::read(bench.path("record.sqlite")).unwrap();
    fs::write(bench.path("notes.txt"), b"not a record at all").unwrap();
    let mut broken = before.clone();
    let middle = broken.len() / 2;
    broken.truncate(middle);
    fs::write(bench.path("cut.sqlite"), broken).unwrap();
    bench.run(&["restore", "notes.txt"]).refused(8, &["not a Portwright record"]);
    bench.run(&["restore", "cut.sqlite"]).refused(8, &["damaged"]);
    bench.run(&["restore", "none.sqlite"]).refused(1, &["none.sqlite"]);
    bench.run(&["restore", "record.sqlite"]).refused(1, &["is the record itself"]);
    bench.run(&["backup", "notes.txt"]).refused(8, &["notes.txt"]);
    bench.run(&["backup", "record.sqlite"]).refused(1, &["is the record itself"]);
    assert_eq!(fs::read(bench.path("record.sqlite")).unwrap(), before);
    assert_eq!(fs::read(bench.path("notes.txt")).unwrap(), b"not a record at all");
    bench.run_at(&["list", "--record", "notes.txt"]).refused(8, &["not a Portwright record"]);
}

#[test]
fn refuses_a_record_that_is_not_there_and_one_named_for_another_command() {
    let bench = Bench::new();
    for arguments in [&["list"][..], &["export", "-o", "a.zip"], &["backup", "a.sqlite"]] {
        bench.run(arguments).refused(1, &["There is no record at record.sqlite", "--record"]);
    }
    assert!(names(bench.0.path()).is_empty(), "nothing is begun by asking");
    bench.run(&["demo"]).refused(2, &["--record belongs to"]);
}

#[cfg(all(unix, not(target_os = "macos")))]
#[test]
fn regress_without_a_name_the_record_stands_in_the_data_folder() {
    let bench = Bench::with_record();
    bench.run(&["export", "-o", "all.zip"]).done();
    bench.run_at(&["import", "all.zip"]).done();
    assert_eq!(names(&bench.path("data")), ["portwright"]);
    assert!(names(&bench.path("data/portwright")).contains(&"record.sqlite".to_owned()));
    let listed = bench.run_at(&["list", "--json"]).done().json();
    assert_eq!(listed["engines"].as_array().unwrap().len(), 2);
}
