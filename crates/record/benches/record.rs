//! A workshop's record after years: 200 engines, 5,000 job cards. How long a page waits for it.

use record::{BuildId, EngineFilter, EngineId, Record, VisitId};
use std::path::PathBuf;
use std::sync::OnceLock;
use tempfile::TempDir;

fn main() {
    divan::main();
}

/// One record for all measurements, filled past the program: one transaction instead of half a million saves.
fn filled() -> (PathBuf, Record) {
    static FILLED: OnceLock<(TempDir, PathBuf)> = OnceLock::new();
    let (_, path) = FILLED.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap_or_else(|cause| panic!("{cause}"));
        let path = folder.path().join("record.db");
        fill(&path).unwrap_or_else(|cause| panic!("{cause}"));
        (folder, path)
    });
    let record = Record::open(path).unwrap_or_else(|error| panic!("{error}"));
    (path.clone(), record)
}

/// 80 fields a build, 40 a job card, each with two earlier texts; a result of 20 kB a job card.
fn fill(path: &std::path::Path) -> rusqlite::Result<()> {
    drop(Record::open(path).unwrap_or_else(|error| panic!("{error}")));
    let mut rows = rusqlite::Connection::open(path)?;
    let rows = rows.transaction()?;
    rows.execute_batch(
        "CREATE TEMP TABLE n AS WITH RECURSIVE c(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM c WHERE n < 5000)
             SELECT n FROM c;
         CREATE TEMP TABLE k AS SELECT n FROM n WHERE n <= 80;
         INSERT INTO engine (name, invented, created_ms, changed_ms)
             SELECT 'Invented engine ' || n, 0, n, n + 5000 FROM n WHERE n <= 200;
         INSERT INTO build (engine_id, name, created_ms, changed_ms)
             SELECT 1 + n % 200, 'Build ' || n, n, n FROM n WHERE n <= 400;
         INSERT INTO visit (build_id, name, created_ms, changed_ms)
             SELECT 1 + n % 400, 'Job card ' || n, n, n FROM n;
         INSERT INTO field SELECT 'build', b.n, 'part.key_' || k.n, b.n || ' mm', 3, b.n FROM n b, k
             WHERE b.n <= 400 AND k.n <= 80;
         INSERT INTO field SELECT 'visit', v.n, 'found.key_' || k.n, v.n || ' mm', 3, v.n FROM n v, k
             WHERE k.n <= 40;
         INSERT INTO field_history SELECT owner_kind, owner_id, key, v, text, changed_ms
             FROM field, (SELECT 1 AS v UNION ALL SELECT 2 UNION ALL SELECT 3);
         INSERT INTO result (visit_id, kind, made_ms, program_version, inputs_text, report_json)
             SELECT n, 'setting', n, '0.1.0', printf('%.2000c', '#'), '\"' || printf('%.20000c', 'x') || '\"' FROM n;",
    )?;
    rows.commit()
}

#[divan::bench]
fn open_and_close(bencher: divan::Bencher<'_, '_>) {
    let (path, _kept_open) = filled();
    bencher.bench(|| Record::open(&path));
}

#[divan::bench]
fn list_of_engines(bencher: divan::Bencher<'_, '_>) {
    let (_, record) = filled();
    bencher.bench(|| record.engines(&EngineFilter::default()));
}

#[divan::bench]
fn one_engine_with_job_cards(bencher: divan::Bencher<'_, '_>) {
    let (_, record) = filled();
    bencher.bench(|| record.engine(divan::black_box(EngineId(100))));
}

#[divan::bench]
fn fields_of_a_build(bencher: divan::Bencher<'_, '_>) {
    let (_, record) = filled();
    bencher.bench(|| record.fields(divan::black_box(BuildId(100)).into()));
}

#[divan::bench]
fn save_field(bencher: divan::Bencher<'_, '_>) {
    let (_, record) = filled();
    let (mut version, mut text) = (None, 0_u32);
    bencher.bench_local(|| {
        text += 1;
        let saved = record.save_field(VisitId(2500).into(), "note", &text.to_string(), version);
        version = match saved {
            Ok(record::Saved::Stored { version } | record::Saved::Clash { version, .. }) => Some(version),
            other => panic!("{other:?}"),
        };
    });
}

#[divan::bench(sample_count = 10)]
fn backup(bencher: divan::Bencher<'_, '_>) {
    let (path, record) = filled();
    let to = path.with_extension("backup");
    bencher.bench(|| record.backup(&to).unwrap_or_else(|error| panic!("{error}")));
}
