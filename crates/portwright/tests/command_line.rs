//! The command line as a user meets it: the program is run, its output and exit code are read.
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "tests: runs the program and reads what it wrote"
)]

use serde_json::Value;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A folder of its own that goes with the test.
struct Bench(PathBuf);

impl Bench {
    fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("portwright-cli-{}-{name}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        Self(folder)
    }

    fn file(&self, name: &str, bytes: &[u8]) -> String {
        let path = self.0.join(name);
        fs::write(&path, bytes).unwrap();
        path.display().to_string()
    }

    fn path(&self, name: &str) -> String {
        self.0.join(name).display().to_string()
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        self.run_with(arguments, b"")
    }

    fn run_with(&self, arguments: &[&str], input: &[u8]) -> Ran {
        let mut child = Command::new(env!("CARGO_BIN_EXE_portwright"))
            .args(arguments)
            .current_dir(&self.0)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stdin = child.stdin.take().unwrap();
        // The program stops reading once it knows enough: what is left over is not its concern.
        let _ = stdin.write_all(input);
        drop(stdin);
        Ran(child.wait_with_output().unwrap())
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
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

    fn json(&self) -> Value {
        serde_json::from_slice(&self.0.stdout).unwrap_or_else(|error| panic!("{error}: {}", self.out()))
    }

    /// Refused with this code, by sentences that hold these words, without a word of panic.
    fn refused(&self, code: i32, words: &[&str]) {
        let told = self.err();
        assert_eq!(self.code(), code, "{told}");
        assert!(!told.contains("panicked"), "{told}");
        for word in words {
            assert!(told.contains(word), "\"{word}\" is missing in: {told}");
        }
    }
}

fn demo() -> String {
    String::from_utf8(Bench::new("demo-text").run(&["demo"]).0.stdout).unwrap()
}

/// The demo with the value of one key in one section replaced.
fn demo_with(section: &str, key: &str, value: &str) -> String {
    let mut here = false;
    let mut changed = 0;
    let lines: Vec<String> = demo()
        .lines()
        .map(|line| {
            if line.starts_with('[') {
                here = line.split('#').next().unwrap_or_default().trim() == section;
            }
            if here && line.split('=').next().unwrap_or_default().trim() == key {
                changed += 1;
                return format!("{key} = {value}");
            }
            line.to_owned()
        })
        .collect();
    assert!(changed >= 1, "{section} {key} is not in the demo");
    lines.join("\n") + "\n"
}

#[test]
fn round_trips_the_demo_through_file_and_setting() {
    let bench = Bench::new("round-trip");
    let written = bench.run(&["demo", "e.toml"]);
    assert_eq!(written.code(), 0, "{}", written.err());
    assert_eq!(fs::read_to_string(bench.0.join("e.toml")).unwrap(), demo());
    bench.run(&["demo", "e.toml"]).refused(1, &["e.toml", "--force"]);
    assert_eq!(bench.run(&["demo", "e.toml", "--force"]).code(), 0);

    let set = bench.run(&["set", "e.toml", "--returns", "after.toml"]);
    assert_eq!(set.code(), 0, "{}", set.err());
    let text = set.out();
    for part in ["What to do", "Error at both ends", "Steps", "Return values", "Cautions", "invented"] {
        assert!(text.contains(part), "{part} is missing");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 100), "wider than 100 columns");
    let again = bench.run(&["set", "after.toml", "--json"]);
    assert_eq!(again.code(), 0, "{}", again.err());
    assert!(again.json()["drift"].as_array().is_some_and(|drift| !drift.is_empty()));
}

#[test]
fn agrees_between_text_and_json_and_between_file_and_input() {
    let bench = Bench::new("agree");
    let file = bench.file("e.toml", demo().as_bytes());
    let json = bench.run(&["set", &file, "--json"]).json();
    let text = bench.run(&["set", &file]).out().replace(['\n', ' '], "");
    for key in ["headline", "matters"] {
        let told = json[key].as_str().unwrap().replace(' ', "");
        assert!(text.contains(&told), "{key}: {told}");
    }
    assert_eq!(json["outcome"], "ready");
    assert!(json["ends"][1]["proposed"]["height"]["value"].is_number());
    assert_eq!(bench.run_with(&["set", "-", "--json"], demo().as_bytes()).json(), json);
    let inch = bench.run(&["set", &file, "--json", "--units", "inch"]).json();
    assert_ne!(inch["matters"], json["matters"]);
    let value = |report: &Value| report["ends"][1]["found"]["height"]["value"].as_f64().unwrap();
    assert_eq!(value(&inch), value(&json), "units change what is shown, not what is known");
}

#[test]
fn regress_ports_with_lift_and_speed() {
    let bench = Bench::new("ports");
    let file = bench.file("e.toml", demo().as_bytes());
    let text = bench.run(&["ports", &file, "--lift", "2.0 mm", "--speed", "11000 rpm"]);
    assert_eq!(text.code(), 0, "{}", text.err());
    assert!(text.out().contains("2.0 mm up") && text.out().contains("11000 rpm"), "{}", text.out());
    let json = bench.run(&["ports", &file, "--lift", "2.0 mm", "--json"]).json();
    assert_eq!(json["positions"].as_array().map(Vec::len), Some(3));
    assert_eq!(json["positions"][2]["lift_m"], 0.002);
    let opens =
        |at: usize| json["positions"][at]["ports"]["exhaust"]["opening"]["opens_rad"].as_f64().unwrap();
    assert!(opens(1) < opens(2) && opens(2) < opens(0), "a higher edge opens earlier");
    bench.run(&["ports", &file, "--lift", "2.0"]).refused(2, &["--lift", "mm"]);
    bench.run(&["ports", &file, "--lift", "-1 mm"]).refused(2, &["--lift", "0 mm to 60 mm"]);
    bench.run(&["ports", &file, "--speed", "0 rpm"]).refused(2, &["--speed", "30,000 rpm"]);
    bench.run(&["ports", &file, "--speed", "9000 mm"]).refused(2, &["--speed", "rpm"]);
}

#[test]
fn regress_sheets_are_written_whole() {
    let bench = Bench::new("sheet");
    let file = bench.file("e.toml", demo().as_bytes());
    let ran = bench.run(&["sheet", &file]);
    assert_eq!(ran.code(), 0, "{}", ran.err());
    assert!(fs::read(bench.0.join("e-sheet.pdf")).unwrap().starts_with(b"%PDF-"));
    let told = bench.run(&["sheet", &file, "-o", "a.html", "--html", "--json"]).json();
    assert_eq!(told["outcome"], "ready");
    let html = fs::read_to_string(bench.0.join("a.html")).unwrap();
    assert_eq!(told["bytes"].as_u64(), Some(html.len() as u64));
    assert!(html.contains("Set-up sheet") && html.contains("<svg") && html.contains("<style>"));
    assert!(!html.contains("<script") && !html.contains("<link"), "the file must stand alone");
    assert_eq!(bench.run(&["sheet", &file, "-o", "-", "--html"]).out(), html);
    let left: Vec<_> = fs::read_dir(&bench.0).unwrap().flatten().map(|entry| entry.file_name()).collect();
    assert!(left.iter().all(|name| !name.to_string_lossy().contains("part")), "{left:?}");
}

#[test]
fn regress_schema_and_help_teach() {
    let bench = Bench::new("teach");
    assert!(bench.run(&["schema"]).json()["properties"].is_object());
    let help = bench.run(&["--help"]);
    assert_eq!(help.code(), 0);
    for word in ["Exit codes", "portwright demo", "portwright set", "7373", "--json", "metric"] {
        assert!(help.out().contains(word), "{word}");
    }
    assert!(bench.run(&["set", "--help"]).out().contains("--returns after-setting.toml"));
    assert!(bench.run(&["--version"]).out().contains(env!("CARGO_PKG_VERSION")));
}

#[test]
fn refuses_bad_files_with_line_and_mend() {
    let bench = Bench::new("bad");
    let set = |name: &str, bytes: &[u8]| bench.run(&["set", &bench.file(name, bytes)]);
    set("empty.toml", b"").refused(2, &["empty.toml"]);
    set("unit.toml", demo_with("[crank]", "bore", "\"54 N\"").as_bytes())
        .refused(2, &["line", "crank.bore", "mm"]);
    set("bare.toml", demo_with("[crank]", "bore", "54").as_bytes()).refused(2, &["crank.bore", "mm", "in"]);
    set("negative.toml", demo_with("[crank]", "bore", "\"-54 mm\"").as_bytes())
        .refused(2, &["crank.bore", "54"]);
    let high = demo_with("[[port]]", "roof_below_deck", "\"-3 mm\"");
    set("deck.toml", high.as_bytes()).refused(2, &["line", "roof_below_deck"]);
    set("rod.toml", demo_with("[crank]", "rod_length", "\"20 mm\"").as_bytes()).refused(2, &["rod"]);
    set("latin.toml", b"name = \"caf\xe9\"").refused(2, &["latin.toml", "UTF-8"]);
    set("binary.toml", b"\0\x01\x02\xff").refused(2, &["binary.toml"]);
    let unknown = demo().replacen("rod_length", "rod_lenght", 1);
    set("slip.toml", unknown.as_bytes()).refused(2, &["rod_lenght", "rod_length"]);
    set("other.toml", b"[package]\nname = \"x\"\n").refused(2, &["other.toml"]);
}

#[test]
fn refuses_ten_megabytes_of_noise_from_file_and_input() {
    let bench = Bench::new("noise");
    let noise: Vec<u8> = (0..10_000_000u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 11) as u8).collect();
    bench.run(&["set", &bench.file("noise.toml", &noise)]).refused(2, &["noise.toml", "1 MB"]);
    bench.run_with(&["set", "-"], &noise).refused(2, &["standard input", "1 MB"]);
}

#[test]
fn refuses_what_cannot_be_read_or_written_and_leaves_nothing() {
    let bench = Bench::new("places");
    bench.run(&["set", "nowhere.toml"]).refused(1, &["no file nowhere.toml", "portwright demo"]);
    bench.run(&["set", "."]).refused(1, &["folder"]);
    let file = bench.file("e.toml", demo().as_bytes());
    let plain = bench.file("plain", b"not a folder");
    for arguments in [
        ["sheet", &file, "-o", &format!("{plain}/s.pdf")],
        ["sheet", &file, "-o", &bench.path("none/s.pdf")],
        ["set", &file, "--returns", &format!("{plain}/r.toml")],
    ] {
        let ran = bench.run(&arguments);
        ran.refused(1, &["was not written", "hoose"]);
        assert!(ran.out().is_empty(), "nothing may look like success: {}", ran.out());
    }
    bench.run(&["demo", &format!("{plain}/d.toml")]).refused(1, &["is a file, not a folder"]);
    bench.run(&["sheet", &file, "-o", &bench.path("")]).refused(1, &["folder"]);
    let left = fs::read_dir(&bench.0).unwrap().count();
    assert_eq!(left, 2, "only the two files that were put there may be left");
}

#[test]
fn refuses_wrong_use_in_one_sentence() {
    let bench = Bench::new("use");
    bench.run(&["tune"]).refused(2, &["tune", "--help"]);
    bench.run(&["set"]).refused(2, &["FILE"]);
    bench.run(&["set", "a.toml", "--units", "cubits"]).refused(2, &["cubits", "metric", "inch"]);
    bench.run(&["--port", "99999"]).refused(2, &["99999"]);
    bench.run(&["--port", "8000", "schema"]).refused(2, &["--port"]);
}

#[test]
fn regress_errors_are_json_when_json_is_asked_for() {
    let bench = Bench::new("json");
    let bad = bench.file("bad.toml", demo_with("[crank]", "bore", "\"-54 mm\"").as_bytes());
    let ran = bench.run(&["set", &bad, "--json"]);
    assert_eq!(ran.code(), 2);
    let error = &ran.json()["error"];
    assert_eq!((error["kind"].as_str(), error["exit_code"].as_u64()), (Some("engine-file"), Some(2)));
    assert!(error["problems"][0]["line"].is_u64() && error["problems"][0]["key"] == "crank.bore");
    assert!(error["problems"][0]["message"].is_string());
    assert_eq!(bench.run(&["tune", "--json"]).json()["error"]["kind"], "usage");
    assert_eq!(bench.run(&["set", "none.toml", "--json"]).json()["error"]["kind"], "unreadable");
    let out = bench.path("none/x.pdf");
    let good = bench.file("good.toml", demo().as_bytes());
    assert_eq!(bench.run(&["sheet", &good, "-o", &out, "--json"]).json()["error"]["kind"], "unwritable");
}

#[test]
fn regress_exit_codes_say_how_far_one_may_go() {
    let bench = Bench::new("codes");
    let code = |name: &str, text: &str, outcome: &str, expected: i32| {
        let ran = bench.run(&["set", &bench.file(name, text.as_bytes()), "--json"]);
        assert_eq!(ran.json()["outcome"], outcome, "{name}: {}", ran.out());
        assert_eq!(ran.code(), expected, "{name}");
    };
    code("ready.toml", &demo(), "ready", 0);
    code("open.toml", &demo_with("[gates]", "proud_open", "\"not known\""), "gate-open", 0);
    code("proud.toml", &demo_with("[gates]", "proud_open", "\"0.4 ± 0.1 mm\""), "gate-stops", 5);
    code("touch.toml", &demo_with("[gates]", "turn_open", "\"touches\""), "gate-stops", 5);
    code("odd.toml", &demo_with("[crank]", "bore", "\"154.0 mm\""), "questions", 3);
    code("pull.toml", &demo_with("[limits]", "wire_tension", "\"5 N\""), "conflict", 4);
}

#[test]
fn regress_the_app_prints_its_address_and_answers() {
    use std::io::{BufRead, BufReader, Read};
    let mut child = Command::new(env!("CARGO_BIN_EXE_portwright"))
        .args(["--port", "0", "--json", "--record", ":memory:"])
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
    let told: Value = serde_json::from_str(&line).unwrap();
    let port = told["port"].as_u64().unwrap();
    assert_eq!(told["address"], format!("http://127.0.0.1:{port}/"));
    let mut stream = std::net::TcpStream::connect(("127.0.0.1", port as u16)).unwrap();
    write!(stream, "GET /help HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(answer.starts_with("HTTP/1.1 200"), "{}", answer.lines().next().unwrap_or_default());
}

#[test]
fn agrees_demo_and_published_schema_file() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../schema/engine.schema.json");
    let published: Value = serde_json::from_str(&fs::read_to_string(folder).unwrap()).unwrap();
    assert_eq!(Bench::new("schema").run(&["schema"]).json(), published);
}

const FOUND: &str = "bench.actuator = 'servo'\nsymptom.hunting = 'yes'\ncheck.sensor-ends.end-to-end = '4.24 kΩ'\n\
                     check.sensor-sweep.swept = 'jumps'\n";

#[test]
fn practice_checks_are_judged_and_the_exit_code_says_how() {
    let bench = Bench::new("judge");
    let file = bench.file("bench.toml", FOUND.as_bytes());
    let ran = bench.run(&["judge", &file, "--json"]);
    assert_eq!(ran.code(), 9);
    let answer: Value = serde_json::from_slice(&ran.0.stdout).unwrap();
    let verdicts: Vec<&str> =
        answer["checks"].as_array().unwrap().iter().map(|one| one["verdict"].as_str().unwrap()).collect();
    assert_eq!(verdicts, ["pass", "fail"]);
    let odd = bench.file("odd.toml", "check.sensor-ends.end-to-end = '4.24 Ω'".as_bytes());
    assert_eq!(bench.run(&["judge", &odd]).0.status.code(), Some(3));
    let wrong = bench.file("wrong.toml", b"check.sensor-end.x = '1'");
    let ran = bench.run(&["judge", &wrong]);
    assert_eq!(ran.0.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&ran.0.stderr).contains("line 1, check.sensor-end.x: there is no check"));
    let log = bench.file("log.csv", b"time s;resistance\n0;0.1 kOhm\n");
    assert_ne!(bench.run(&["judge", "--sweep", &log]).0.status.code(), Some(101));
}

#[test]
fn practice_a_worn_sensor_is_found_and_another_kind_has_none() {
    let bench = Bench::new("find");
    let file = bench.file("bench.toml", FOUND.as_bytes());
    let ran = bench.run(&["find", &file, "--json"]);
    assert_eq!(ran.0.status.code(), Some(0), "{}", String::from_utf8_lossy(&ran.0.stderr));
    let answer: Value = serde_json::from_slice(&ran.0.stdout).unwrap();
    assert_eq!(answer["causes"][0]["key"], "sensor-worn");
    assert!(answer["next"].as_array().unwrap().iter().all(|next| next["check"] != "sensor-sweep"));
    let visit = bench.run(&["find", "--visit", "1", "--record", &bench.path("none.sqlite")]);
    assert_eq!(visit.0.status.code(), Some(1));
}

#[test]
fn agrees_the_ways_of_setting_repeat_to_the_last_bit_and_write_a_page() {
    let bench = Bench::new("ways");
    let file = bench.file("demo.toml", demo().as_bytes());
    let page = bench.path("show.html");
    let run = |more: &[&str]| {
        let mut words = vec!["procedures", file.as_str(), "--draws", "300", "--json"];
        words.extend(more);
        let ran = bench.run(&words);
        assert_eq!(ran.code(), 0, "{}", ran.err());
        ran.json()
    };
    assert_eq!(run(&["--page", &page]), run(&[]));
    assert_ne!(run(&["--seed", "2"]), run(&[]));
    let shown = fs::read_to_string(&page).unwrap();
    assert!(shown.starts_with("<!DOCTYPE html>") && shown.contains("seed 1"));
    let paper = bench.path("show.pdf");
    assert_eq!(run(&["--pdf", &paper]), run(&[]));
    assert!(fs::read(&paper).unwrap().starts_with(b"%PDF-"));
    let piped = bench.run(&["procedures", &file, "--draws", "300", "--pdf", "-"]);
    assert!(piped.out().starts_with("%PDF-") && piped.out().trim_end().ends_with("%%EOF"));
    let own = bench.file("own.toml", b"[[procedure]]\nkey = 3");
    bench.run(&["procedures", &file, "--own", &own]).refused(2, &["line 2"]);
}

#[test]
fn exact_one_point_is_run_and_its_traces_are_written() {
    let bench = Bench::new("run");
    let demo = bench.file("demo.toml", engine::file::DEMO.as_bytes());
    let ran = bench
        .run(&["run", &demo, "--speed", "9000 rpm", "--travel", "open", "--traces", "turn.csv", "--json"]);
    assert_eq!(ran.code(), 0, "{}", ran.err());
    let point = &ran.json()["point"];
    let (torque, power) = (point["torque_n_m"].as_f64().unwrap(), point["power_w"].as_f64().unwrap());
    assert!((power / (torque * 9000.0 * std::f64::consts::PI / 30.0) - 1.0).abs() < 1e-12);
    assert!(point["balance"]["mass"].as_f64().unwrap().abs() < 1e-9);
    let traces = fs::read_to_string(bench.path("turn.csv")).unwrap();
    assert!(traces.lines().count() > 300);
    let text = bench.run(&["run", &demo, "--speed", "9000 rpm", "--travel", "100 %"]).out();
    assert!(text.contains("Delivery ratio") && text.contains("Invented engine"), "{text}");
}

#[test]
fn agrees_a_point_says_which_closures_it_was_run_with() {
    let bench = Bench::new("run-closures");
    let demo = bench.file("demo.toml", engine::file::DEMO.as_bytes());
    let run = |more: &[&str]| {
        let ran = bench.run(&[&["run", &demo, "--speed", "9000 rpm", "--json"], more].concat());
        assert_eq!(ran.code(), 0, "{}", ran.err());
        ran.json()
    };
    let delivery = |told: &serde_json::Value| told["point"]["delivery_ratio"].as_f64().unwrap();
    let trapping = |told: &serde_json::Value| told["point"]["trapping_efficiency"].as_f64().unwrap();
    let says = |told: &serde_json::Value, words: &str| told["assumptions"].to_string().contains(words);
    let (usual, swinging) = (run(&[]), run(&["--petals", "swinging"]));
    assert!(delivery(&swinging) < delivery(&usual));
    assert!(says(&usual, "Reed petals (first frequency") && says(&swinging, "Reed petals swing"));
    let (upper, mixing) = (run(&["--scavenging", "displacement"]), run(&["--scavenging", "mixing"]));
    assert!(trapping(&upper) > trapping(&usual) && trapping(&usual) > trapping(&mixing));
    assert!(says(&upper, "upper bound") && says(&mixing, "mixed perfectly") && !says(&mixing, "good loop"));
}

#[test]
fn refuses_points_that_cannot_be_run() {
    let bench = Bench::new("run-refused");
    let demo = bench.file("demo.toml", engine::file::DEMO.as_bytes());
    for (arguments, words) in [
        (["--speed", "9000", "--travel", "open"], "--speed"),
        (["--speed", "9000 rpm", "--travel", "wide"], "--travel"),
        (["--speed", "9000 rpm", "--travel", "20 mm"], "above flush"),
        (["--speed", "9000 rpm", "--travel", "400°"], "servo"),
        (["--speed", "9000 rpm", "--petals", "soft"], "--petals: 'soft' is none; give at-once or swinging"),
        (["--speed", "9000 rpm", "--scavenging", "uniflow"], "loop or displacement or mixing"),
    ] {
        let ran = bench.run(&[&["run", &demo], &arguments[..]].concat());
        assert_eq!(ran.code(), 2, "{arguments:?}: {}", ran.err());
        assert!(ran.err().contains(words), "{}", ran.err());
    }
}

#[test]
fn exact_a_map_tells_and_writes_its_points() {
    let bench = Bench::new("map");
    let demo = bench.file("demo.toml", engine::file::DEMO.as_bytes());
    let few = ["--from", "8500 rpm", "--to", "9500 rpm", "--speeds", "2", "--lifts", "2", "--leak", "none"];
    let ran = bench.run(&[&["map", &demo, "--csv", "map.csv"], &few[..]].concat());
    assert_eq!(ran.code(), 0, "{}", ran.err());
    assert!(ran.out().contains("By speed") && ran.out().contains("What being wrong costs"), "{}", ran.out());
    assert_eq!(fs::read_to_string(bench.path("map.csv")).unwrap().lines().count(), 5);
    let refused = bench.run(&["map", &demo, "--lifts", "1"]);
    assert_eq!(refused.code(), 2);
    assert!(refused.err().contains("--lifts") && refused.err().contains("2 to 32"), "{}", refused.err());
}

#[test]
fn agrees_unknowns_between_text_and_json_and_refuses_what_cannot_be_told() {
    let bench = Bench::new("fit");
    let engine = bench.file("demo.toml", demo().as_bytes());
    let readings = bench.path("readings.toml");
    assert_eq!(bench.run(&["demo", "--readings", &readings]).code(), 0);
    let told = bench.run(&["fit", &engine, &readings, "--json"]).json();
    let text = bench.run(&["fit", &engine, &readings]);
    assert_eq!(text.code(), 0, "{}", text.err());
    for one in told["estimates"].as_array().unwrap() {
        assert!(text.out().contains(one["found"]["text"].as_str().unwrap()), "{}", text.out());
    }
    // The gear behind the invented readings has a larger valve pulley than its file says.
    let radius = &told["estimates"][1];
    assert_eq!(radius["key"], "gear.opening.valve_radius");
    let off = radius["found"]["value"].as_f64().unwrap() - 15.3e-3;
    assert!(off.abs() < 3.0 * radius["found"]["standard_uncertainty"].as_f64().unwrap(), "{radius}");
    let series = fs::read_to_string(&readings).unwrap().replace(
        "[\"slack\", \"gear.opening.valve_radius\", \"gear.opening.friction\"]",
        "[\"gear.opening.wire_stiffness\", \"gear.opening.sheath_stiffness\"]",
    );
    let series = bench.file("series.toml", series.as_bytes());
    let ran = bench.run(&["fit", &engine, &series]);
    let said = format!("{}{}", ran.out(), ran.err());
    assert!(said.contains("stiffness of the wire") && said.contains("stiffness of the sheath"), "{said}");
    let wrong = bench.file("wrong.toml", b"portwright = 1\nunknown = [\"slak\"]\n");
    bench.run(&["fit", &engine, &wrong]).refused(2, &["line 2", "slack"]);
    bench.run(&["fit", "-", "-"]).refused(2, &["Only one"]);
}
