//! Setting procedures compared on one engine: the draws are shared out to threads, the answer is kept at hand.

use engine::model::Engine;
use sha2::{Digest, Sha256};
use std::collections::VecDeque;
use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use workshop::procedure::{
    Comparison, Design, Draws, Entry, Indices, Measure, Problem, Procedures, Run, Scope,
};

/// Draws of each procedure for a page: the share that meets every demand is then good to about one in a hundred.
pub(crate) const USUAL_DRAWS: u64 = 10_000;
/// Most draws of each procedure that are taken on.
pub(crate) const MOST_DRAWS: u64 = 1_000_000;
/// Seed when none is asked for: the same page shows the same figures.
pub(crate) const USUAL_SEED: u64 = 1;
/// Draws that a thread takes at a time.
const PIECE: u64 = 500;
/// Most rows of the two tables from which it is worked out what drives the spread, one for twenty draws: with the usual
/// draws shares are then good to about one in
/// twenty.
const MOST_ROWS: u64 = 2_000;
/// Comparisons kept at hand.
const ROOM: usize = 6;

/// What is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wanted {
    /// Which engines.
    pub scope: Scope,
    /// How many draws of each procedure.
    pub draws: u64,
    /// Seed of the draws.
    pub seed: u64,
}

/// The procedures that are known: the built-in ones with the user's own laid over them.
///
/// # Errors
/// What is wrong in the user's file.
pub(crate) fn known(own: Option<&str>) -> Result<Procedures, Vec<Problem>> {
    match own.filter(|text| !text.trim().is_empty()) {
        Some(text) => Procedures::with(text),
        None => Ok(Procedures::built_in()),
    }
}

/// Compares them, and works out what drives the spread of each one's edge. Takes as many threads as the machine has; the
/// figures do not depend on how many.
pub(crate) fn compare(engine: &Engine, procedures: &Procedures, wanted: Wanted) -> Comparison {
    let (runs, left_out) = Comparison::prepare(engine, procedures, wanted.scope, wanted.seed);
    let entries = runs.into_iter().map(|run| drawn(run, wanted)).collect();
    Comparison::rank(wanted.scope, entries, left_out)
}

fn drawn(run: Run, wanted: Wanted) -> Entry {
    let pieces = shared_out(wanted.draws.div_ceil(PIECE), |piece| {
        run.draw(piece * PIECE..((piece + 1) * PIECE).min(wanted.draws))
    });
    let influences = influences(&run, wanted.draws, wanted.seed);
    let mut entry = Entry::of(run, &Draws::join(pieces));
    entry.influences = influences;
    entry
}

/// What drives the spread of the edge at full travel, variance-based; none where it does not vary.
fn influences(run: &Run, draws: u64, seed: u64) -> Option<Indices> {
    let rows = (draws / 20).clamp(32, MOST_ROWS) as usize;
    let design = Design { resamples: 0, ..Design::new(rows, seed) };
    let plan = run.influence_plan(design).ok()?;
    let blocks = shared_out(plan.blocks() as u64, |block| {
        run.influence_block(&plan, block as usize, Measure::EdgeAtFull)
    });
    plan.indices(&blocks).ok()?.pop()
}

/// Does the pieces 0 to `count` on as many threads as there are; a thread that is free takes the next one. They come
/// back in no particular order.
fn shared_out<T: Send>(count: u64, work: impl Fn(u64) -> T + Sync) -> Vec<T> {
    let threads = thread::available_parallelism().map_or(1, NonZeroUsize::get);
    let next = AtomicU64::new(0);
    let done = Mutex::new(Vec::new());
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                let mut own = Vec::new();
                loop {
                    let piece = next.fetch_add(1, Ordering::Relaxed);
                    if piece >= count {
                        break;
                    }
                    own.push(work(piece));
                }
                done.lock().unwrap_or_else(PoisonError::into_inner).append(&mut own);
            });
        }
    });
    done.into_inner().unwrap_or_else(PoisonError::into_inner)
}

/// Comparisons at hand, found again by what they were made from.
#[derive(Default)]
pub(crate) struct Compared {
    kept: Mutex<VecDeque<([u8; 32], Arc<Comparison>)>>,
}

impl Compared {
    /// The comparison for an engine file and the user's own procedures.
    pub(crate) fn of(
        &self,
        file: &str,
        own: &str,
        wanted: Wanted,
        make: impl FnOnce() -> Comparison,
    ) -> Arc<Comparison> {
        let mut hash = Sha256::new();
        for text in [file, own] {
            hash.update(text.len().to_le_bytes());
            hash.update(text);
        }
        hash.update(format!("{:?} {} {}", wanted.scope, wanted.draws, wanted.seed));
        let mark: [u8; 32] = hash.finalize().into();
        let found = |kept: &VecDeque<([u8; 32], Arc<Comparison>)>| {
            kept.iter().find(|(other, _)| *other == mark).map(|(_, comparison)| Arc::clone(comparison))
        };
        if let Some(comparison) = found(&self.kept.lock().unwrap_or_else(PoisonError::into_inner)) {
            return comparison;
        }
        // Drawn outside the lock: another page need not wait for it.
        let comparison = Arc::new(make());
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        kept.push_back((mark, Arc::clone(&comparison)));
        if kept.len() > ROOM {
            kept.pop_front();
        }
        comparison
    }
}
