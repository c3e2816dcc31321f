//! Pages on a workshop's record after years: 200 engines, 5,000 job cards, each a whole engine that was set.
//!
//! Without a socket: what is measured is the program's own share of a page. `cargo bench -p portwright`.

#![allow(clippy::disallowed_methods, reason = "keeps its record in a temporary folder")]

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use portwright::web::{App, router};
use record::{Change, Owner, Record};
use std::sync::{Arc, OnceLock};
use tempfile::TempDir;
use tokio::runtime::Runtime;
use tower::ServiceExt;

const PORT: u16 = 7373;

fn main() {
    divan::main();
}

struct Workshop {
    runtime: Runtime,
    pages: Router,
    folder: TempDir,
}

/// Built once: filling it takes longer than all measurements.
fn workshop() -> &'static Workshop {
    static WORKSHOP: OnceLock<Workshop> = OnceLock::new();
    WORKSHOP.get_or_init(|| filled().unwrap_or_else(|cause| panic!("the record cannot be filled: {cause}")))
}

fn filled() -> Result<Workshop, Box<dyn std::error::Error>> {
    let folder = tempfile::tempdir()?;
    let record = Record::open(&folder.path().join("bench.record"))?;
    let fields =
        engine::file::fields::fields_of(engine::file::DEMO).map_err(|problems| format!("{problems:?}"))?;
    let belongs_to_visit =
        |key: &str| ["found.", "gates.", "returns."].iter().any(|section| key.starts_with(section));
    let changes = |of_visit: bool| -> Vec<Change> {
        fields
            .iter()
            .filter(|(key, _)| belongs_to_visit(key) == of_visit)
            .map(|(key, text)| Change { key: key.clone(), text: text.clone(), based_on: None })
            .collect()
    };
    let (of_build, of_visit) = (changes(false), changes(true));
    for number in 1..=200 {
        let (_, build, first) = record.create_engine(&format!("Invented engine {number}"), true)?;
        record.save_fields(Owner::Build(build), &of_build)?;
        record.save_fields(Owner::Visit(first), &of_visit)?;
        for visit in 2..=25 {
            let visit = record.create_visit(build, &format!("Job card {visit}"), None)?;
            record.save_fields(Owner::Visit(visit), &of_visit)?;
        }
    }
    let runtime = Runtime::new()?;
    let pages = router(Arc::new(App::new(PORT, record)?));
    Ok(Workshop { runtime, pages, folder })
}

impl Workshop {
    fn get(&self, path: &str) -> usize {
        let request =
            Request::get(path).header(header::HOST, format!("127.0.0.1:{PORT}")).body(Body::empty());
        self.runtime.block_on(async {
            let Ok(request) = request else { panic!("{path} is no address") };
            let Ok(response) = self.pages.clone().oneshot(request).await;
            assert_eq!(response.status(), StatusCode::OK, "{path}");
            to_bytes(response.into_body(), 50_000_000).await.map_or(0, |bytes| bytes.len())
        })
    }
}

/// What a mechanic opens, one line a page.
#[divan::bench(args = [
    "/",
    "/engine/100",
    "/visit/2500",
    "/visit/2500/step/ports",
    "/visit/2500/step/as-found",
    "/visit/2500/setting",
    "/visit/2500/drawing?travel=40&crank=110",
    "/visit/2500/sheet",
    "/compare?a=visit-2499&b=visit-2500",
    "/visit/2500/pictures",
    "/help",
])]
fn page(bencher: divan::Bencher<'_, '_>, path: &str) {
    let workshop = workshop();
    bencher.bench(|| workshop.get(path));
}

/// A slider that moves: another place each time, so that nothing is remembered.
#[divan::bench]
fn drawing_at_a_new_place(bencher: divan::Bencher<'_, '_>) {
    let workshop = workshop();
    let moved = std::sync::atomic::AtomicU32::new(0);
    bencher.bench(|| {
        let step = moved.fetch_add(1, std::sync::atomic::Ordering::Relaxed) % 700;
        workshop.get(&format!("/visit/2500/drawing?travel={}.{}&crank=110", step / 10, step % 10))
    });
}

/// From a record on disk to an app that can answer.
#[divan::bench]
fn start(bencher: divan::Bencher<'_, '_>) {
    let path = workshop().folder.path().join("bench.record");
    bencher.bench(|| {
        let record = Record::open(&path).unwrap_or_else(|error| panic!("{error}"));
        App::new(PORT, record).map(|app| router(Arc::new(app))).unwrap_or_else(|error| panic!("{error}"))
    });
}
