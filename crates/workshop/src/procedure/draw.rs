//! Draws by number: each draw has a stream of random figures of its own, so that no draw depends on another.

use super::outcome::{Measure, Outcome, Signs};
use crate::setting::demand::Demand;
use evidence::{Input, Shape};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

/// How an input is drawn.
#[derive(Debug, Clone, Copy)]
enum Spread {
    Exact(f64),
    Rectangular { value: f64, half_width: f64 },
    Normal { value: f64, u: f64 },
}

impl Spread {
    fn of(input: &Input) -> Self {
        let Input { value, u, .. } = *input;
        if u == 0.0 {
            return Self::Exact(value);
        }
        match input.shape {
            Shape::Rectangular => Self::Rectangular { value, half_width: u * 3f64.sqrt() },
            Shape::Normal => Self::Normal { value, u },
        }
    }

    fn draw(self, random: &mut ChaCha8Rng) -> f64 {
        match self {
            Self::Exact(value) => value,
            Self::Rectangular { value, half_width } => {
                value + half_width * (2.0 * random.random::<f64>() - 1.0)
            }
            Self::Normal { value, u } => {
                let unit: f64 = random.sample(StandardNormal);
                value + u * unit
            }
        }
    }
}

/// The random figures of a run. ChaCha is a counter: the number of the draw selects its stream, so that any draw is
/// reached without those before it. Gear and hands have keys of their own: all procedures of one seed meet the same
/// gears, and a procedure's hands do not change when another procedure is added.
#[derive(Debug, Clone)]
pub(super) struct Stream {
    parts: Vec<Spread>,
    hands: Vec<Spread>,
    parts_key: ChaCha8Rng,
    hands_key: ChaCha8Rng,
}

impl Stream {
    /// The first `parts` of the inputs belong to the gear, the others to the hands of the procedure called `key`.
    pub(super) fn new(inputs: &[Input], parts: usize, seed: u64, key: &str) -> Self {
        let spreads: Vec<Spread> = inputs.iter().map(Spread::of).collect();
        let (gear, hands) = spreads.split_at(parts.min(spreads.len()));
        Self {
            parts: gear.to_vec(),
            hands: hands.to_vec(),
            parts_key: ChaCha8Rng::seed_from_u64(seed),
            hands_key: ChaCha8Rng::seed_from_u64(seed ^ fnv1a(key)),
        }
    }

    /// Writes the inputs of draw `number`.
    pub(super) fn fill(&self, number: u64, values: &mut [f64]) {
        let (gear, hands) = values.split_at_mut(self.parts.len().min(values.len()));
        for (spreads, key, values) in
            [(&self.parts, &self.parts_key, gear), (&self.hands, &self.hands_key, hands)]
        {
            let mut random = key.clone();
            random.set_stream(number);
            for (value, spread) in values.iter_mut().zip(spreads) {
                *value = spread.draw(&mut random);
            }
        }
    }
}

/// FNV-1a hash of a text, 64 bits (G. Fowler, L. Noll, K. Vo; constants from memory): any fixed spreading would do.
fn fnv1a(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// The outcomes of a range of draws, in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Draws {
    first: u64,
    columns: [Vec<f64>; Measure::ALL.len()],
    margins: [Vec<f64>; Demand::ALL.len()],
    met: Vec<u8>,
    signs: Vec<Signs>,
    failed: usize,
}

impl Draws {
    pub(super) fn starting_at(first: u64, count: usize) -> Self {
        // A mistaken range must not ask for more memory than there is before the first draw.
        let room = count.min(1 << 20);
        Self {
            first,
            columns: std::array::from_fn(|_| Vec::with_capacity(room)),
            margins: std::array::from_fn(|_| Vec::with_capacity(room)),
            met: Vec::with_capacity(room),
            signs: Vec::with_capacity(room),
            failed: 0,
        }
    }

    pub(super) fn push(&mut self, outcome: Option<Outcome>) {
        let outcome = outcome.filter(|outcome| outcome.values.iter().all(|value| value.is_finite()));
        let (values, margins, met, signs) = match outcome {
            Some(outcome) => (outcome.values, outcome.margins, outcome.met, outcome.signs),
            None => {
                self.failed += 1;
                ([f64::NAN; Measure::ALL.len()], [f64::NAN; Demand::ALL.len()], 0, Signs::default())
            }
        };
        for (column, value) in self.columns.iter_mut().zip(values) {
            column.push(value);
        }
        for (column, margin) in self.margins.iter_mut().zip(margins) {
            column.push(margin);
        }
        self.met.push(met);
        self.signs.push(signs);
    }

    /// Puts pieces together in the order of their numbers, whatever order they come in.
    pub fn join(mut pieces: Vec<Self>) -> Self {
        pieces.sort_by_key(|piece| piece.first);
        let first = pieces.first().map_or(0, |piece| piece.first);
        let count = pieces.iter().map(Self::count).sum();
        let mut whole = Self::starting_at(first, count);
        for piece in pieces {
            for (column, values) in whole.columns.iter_mut().zip(piece.columns) {
                column.extend(values);
            }
            for (column, margins) in whole.margins.iter_mut().zip(piece.margins) {
                column.extend(margins);
            }
            whole.met.extend(piece.met);
            whole.signs.extend(piece.signs);
            whole.failed += piece.failed;
        }
        whole
    }

    /// Number of the first draw.
    pub fn first(&self) -> u64 {
        self.first
    }

    /// How many draws there are, those that failed included.
    pub fn count(&self) -> usize {
        self.met.len()
    }

    /// Draws on which a step could not be done; their values are not numbers, and they count as missing every demand.
    pub fn failed(&self) -> usize {
        self.failed
    }

    /// One measure of every draw, SI; not a number where the draw failed.
    pub fn column(&self, measure: Measure) -> &[f64] {
        Measure::ALL
            .iter()
            .zip(&self.columns)
            .find(|(of, _)| **of == measure)
            .map_or(&[], |(_, column)| column.as_slice())
    }

    /// What every draw has to spare of one demand, in the unit of [`Demand::dimension`]: negative when missed, not a
    /// number where the draw failed.
    pub fn margins(&self, demand: Demand) -> &[f64] {
        let place = Demand::ALL.iter().position(|of| *of == demand);
        place.and_then(|place| self.margins.get(place)).map_or(&[], Vec::as_slice)
    }

    /// For every draw, bit n set: demand n of `Demand::ALL` is met.
    pub fn met(&self) -> &[u8] {
        &self.met
    }

    /// Share of all draws that show a sign.
    pub fn share_showing(&self, sign: Signs) -> f64 {
        let shown = self.signs.iter().filter(|signs| signs.shows(sign)).count();
        shown as f64 / self.signs.len().max(1) as f64
    }
}
