//! The app and its record file: made on the first start, found again, refused in one sentence when it is none.
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "tests: runs the program and reads what it wrote"
)]

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// The app on a record; it is killed without a word when this is dropped.
struct App {
    child: Child,
    port: u16,
}

impl App {
    fn start(record: &Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_portwright"))
            .args(["--port", "0", "--json", "--record"])
            .arg(record)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let told: serde_json::Value = serde_json::from_str(&line).unwrap();
        Self { child, port: u16::try_from(told["port"].as_u64().unwrap()).unwrap() }
    }

    fn ask(&self, method: &str, path: &str, body: &str) -> String {
        let (port, length) = (self.port, body.len());
        let mut stream = TcpStream::connect(("127.0.0.1", port)).unwrap();
        let request = format!(
            "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {length}\r\n\r\n{body}"
        );
        stream.write_all(request.as_bytes()).unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        answer
    }
}

impl Drop for App {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn round_trips_a_saved_field_through_a_kill() {
    let folder = tempfile::tempdir().unwrap();
    let record = folder.path().join("shop.sqlite");
    let app = App::start(&record);
    assert!(app.ask("GET", "/", "").contains("Invented 125"), "a new record holds the demo engine");
    let sent = "key=crank.bore&text=55.5+mm&version=1&step=crank";
    assert!(app.ask("POST", "/visit/1/field", sent).starts_with("HTTP/1.1 200"));
    assert!(app.ask("POST", "/engine/1/delete", "").starts_with("HTTP/1.1 303"));
    assert!(app.ask("GET", "/?units=inch", "").starts_with("HTTP/1.1 200"));
    drop(app);
    let again = App::start(&record);
    let list = again.ask("GET", "/", "");
    assert!(
        list.contains("/engine/1/undelete") && !list.contains("href=\"/engine/1\""),
        "deleted stays deleted"
    );
    assert!(list.contains("?units=inch\" aria-current=\"true\""), "the units are remembered");
    assert!(again.ask("GET", "/visit/1/file", "").contains("bore = \"55.5 mm\""));
}

#[test]
fn refuses_a_file_that_is_no_record_and_leaves_it() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("letter.txt");
    let letter = "Dear customer, your engine is ready.\n".repeat(300);
    fs::write(&file, &letter).unwrap();
    let ran = Command::new(env!("CARGO_BIN_EXE_portwright"))
        .args(["--port", "0", "--record"])
        .arg(&file)
        .output()
        .unwrap();
    assert_eq!(ran.status.code(), Some(1));
    let said = String::from_utf8(ran.stderr).unwrap();
    assert!(said.contains("is not a Portwright record") && said.lines().count() == 1, "{said}");
    assert!(ran.stdout.is_empty());
    assert_eq!(fs::read_to_string(&file).unwrap(), letter);
}
