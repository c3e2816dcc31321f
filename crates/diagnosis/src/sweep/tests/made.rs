//! Sweeps made with known faults. Nothing here was measured.

use crate::sweep::Log;
use std::fmt::Write;

/// A sweep to be made.
#[derive(Debug, Clone)]
pub(super) struct Made {
    /// Ways over the travel; every other one goes back.
    pub(super) passes: usize,
    /// Samples on each.
    pub(super) samples: usize,
    /// Standard deviation of a reading, a share of the range.
    pub(super) noise: f64,
    /// No contact from here to there.
    pub(super) dead: Option<(f64, f64)>,
    /// The output holds from here to there.
    pub(super) flat: Option<(f64, f64)>,
    /// Height of a bulge, its middle and its width.
    pub(super) bulge: Option<(f64, f64, f64)>,
    /// Share of samples that are missing.
    pub(super) missing: f64,
    /// Output at both ends, V.
    pub(super) ends: (f64, f64),
    pub(super) seed: u64,
}

impl Default for Made {
    fn default() -> Self {
        Self {
            passes: 6,
            samples: 300,
            noise: 0.001,
            dead: None,
            flat: None,
            bulge: None,
            missing: 0.0,
            ends: (0.5, 4.5),
            seed: 1,
        }
    }
}

/// A small generator with a seed (Marsaglia's xorshift): enough for made noise.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    pub(super) fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Nearly normal with unit spread: the sum of twelve shares.
    pub(super) fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }
}

impl Made {
    /// Rows of time (s), travel (0 to 1) and output (V); none is missing.
    pub(super) fn rows(&self) -> Vec<(f64, f64, Option<f64>)> {
        let mut dice = Dice::new(self.seed);
        let mut rows = Vec::new();
        for pass in 0..self.passes {
            let mut held = None;
            for i in 0..self.samples {
                // Never twice at the same places.
                let s = ((i as f64 + 0.4 * dice.share()) / (self.samples - 1) as f64).min(1.0);
                let x = if pass % 2 == 0 { s } else { 1.0 - s };
                let mut y = x + self.noise * dice.normal();
                if let Some((height, middle, width)) = self.bulge {
                    let at = (x - middle) / (0.5 * width);
                    y += if at.abs() < 1.0 {
                        height * (0.5 * std::f64::consts::PI * at).cos().powi(2)
                    } else {
                        0.0
                    };
                }
                if self.flat.is_some_and(|(a, b)| (a..b).contains(&x)) {
                    y = *held.get_or_insert(y);
                }
                let mut volts = self.ends.0 + (self.ends.1 - self.ends.0) * y;
                if self.dead.is_some_and(|(a, b)| (a..=b).contains(&x)) {
                    volts = 0.01;
                }
                let t = rows.len() as f64 * 0.01;
                rows.push((t, x, (dice.share() >= self.missing).then_some(volts)));
            }
        }
        rows
    }

    /// As a table with travel.
    pub(super) fn log(&self) -> Log {
        read(&table(&self.rows(), true))
    }

    /// As a table without travel.
    pub(super) fn log_without_travel(&self) -> Log {
        read(&table(&self.rows(), false))
    }
}

pub(super) fn read(text: &str) -> Log {
    Log::read(text).unwrap_or_else(|problem| panic!("{problem}"))
}

pub(super) fn table(rows: &[(f64, f64, Option<f64>)], travel: bool) -> String {
    let mut text = String::from(if travel {
        "time (s),travel (0 to 1),voltage (V)\n"
    } else {
        "time (s),voltage (V)\n"
    });
    for (t, x, volts) in rows {
        let volts = volts.map_or("---".to_owned(), |v| format!("{v:.4}"));
        let _ =
            if travel { writeln!(text, "{t:.3},{x:.5},{volts}") } else { writeln!(text, "{t:.3},{volts}") };
    }
    text
}
