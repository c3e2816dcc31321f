//! How long a sheet takes: `cargo bench -p sheet`.

#[path = "../tests/fixture/mod.rs"]
mod fixture;

use divan::Bencher;
use std::sync::atomic::{AtomicUsize, Ordering};

fn main() {
    divan::main();
}

/// A sheet of which nothing is remembered from the one before: each has another name.
#[divan::bench(sample_count = 20)]
fn fresh_sheet(bencher: Bencher<'_, '_>) {
    let made = AtomicUsize::new(0);
    bencher
        .with_inputs(|| {
            let number = made.fetch_add(1, Ordering::Relaxed);
            let mut report = fixture::report();
            report.engine.name = format!("Invented engine {number}");
            for row in report.engine.measurements.iter_mut().chain(report.as_found.iter_mut()) {
                row.value = format!("{number}.{} mm", row.value.len());
            }
            report
        })
        .bench_refs(|report| sheet::pdf(&fixture::content(report)));
}

/// The same sheet again, as when a page is loaded twice.
#[divan::bench(sample_count = 20)]
fn same_sheet_again() -> Result<Vec<u8>, sheet::SheetError> {
    sheet::pdf(&fixture::content(&fixture::report()))
}
