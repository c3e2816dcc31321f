//! What many draws say: quantiles, histograms, shares.

use super::draw::Draws;
use super::outcome::{ALL_MET, Measure, Signs};
use crate::setting::demand::Demand;
use serde::Serialize;

/// Where the draws of one measure lie, SI.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Quantiles {
    /// 2.5 % of the draws lie below.
    pub low: f64,
    /// A quarter lies below.
    pub quarter: f64,
    /// Half lies below.
    pub median: f64,
    /// A quarter lies above.
    pub three_quarters: f64,
    /// 2.5 % lie above.
    pub high: f64,
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub standard_deviation: f64,
}

impl Quantiles {
    const AT: [f64; 5] = [0.025, 0.25, 0.5, 0.75, 0.975];

    /// Of the values that are numbers; `None` for fewer than two.
    pub fn of(values: &[f64]) -> Option<Self> {
        let mut kept: Vec<f64> = values.iter().copied().filter(|value| value.is_finite()).collect();
        if kept.len() < 2 {
            return None;
        }
        let count = kept.len() as f64;
        // Summed about the first value, so that a small spread on a large value keeps its digits.
        let origin = kept[0];
        let mean = origin + kept.iter().map(|y| y - origin).sum::<f64>() / count;
        let squares: f64 = kept.iter().map(|y| (y - mean).powi(2)).sum();
        let last = kept.len() - 1;
        // Ranks from the upper end down: each pick leaves what is smaller to its left.
        let mut picked = [0.0; 5];
        let mut until = kept.len();
        for (slot, share) in picked.iter_mut().zip(Self::AT).rev() {
            let rank = ((share * count) as usize).min(last);
            let head = kept.get_mut(..until)?;
            if rank < head.len() {
                *slot = *head.select_nth_unstable_by(rank, f64::total_cmp).1;
                until = rank + 1;
            }
        }
        let [low, quarter, median, three_quarters, high] = picked;
        Some(Self {
            low,
            quarter,
            median,
            three_quarters,
            high,
            mean,
            standard_deviation: (squares / (count - 1.0)).sqrt(),
        })
    }
}

/// Counts in bins of equal width.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Histogram {
    /// Lower end of the first bin, SI.
    pub low: f64,
    /// Upper end of the last bin.
    pub high: f64,
    /// Draws in each bin.
    pub counts: Vec<u32>,
    /// Draws below the first bin.
    pub below: u32,
    /// Draws above the last.
    pub above: u32,
}

impl Histogram {
    /// Counts the values that are numbers; `bins` at least one, `high` above `low` (else one bin takes all).
    pub fn of(values: &[f64], low: f64, high: f64, bins: usize) -> Self {
        let bins = bins.clamp(1, 10_000);
        let mut counts = vec![0; bins];
        let (mut below, mut above) = (0, 0);
        for &value in values.iter().filter(|value| value.is_finite()) {
            let place = (value - low) / (high - low) * bins as f64;
            if place < 0.0 {
                below += 1;
            } else if place > bins as f64 {
                above += 1;
            } else if let Some(slot) = counts.get_mut((place as usize).min(bins - 1)) {
                // A value on the upper end belongs to the last bin.
                *slot += 1;
            }
        }
        Self { low, high, counts, below, above }
    }

    /// All draws counted.
    pub fn total(&self) -> u32 {
        self.below + self.above + self.counts.iter().sum::<u32>()
    }
}

/// What the draws of one procedure say.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Summary {
    /// All draws.
    pub draws: usize,
    /// Share on which a step could not be done.
    pub failed: f64,
    /// One for each of [`Measure::ALL`]; none when fewer than two draws gave a number.
    pub measures: Vec<Option<Quantiles>>,
    /// Share of all draws that meet each of `Demand::ALL`.
    pub demands: [f64; Demand::ALL.len()],
    /// Share of all draws that meet every demand.
    pub all_demands: f64,
    /// Share of all draws that show each of [`Signs::ALL`].
    pub signs: [f64; Signs::ALL.len()],
    /// Number of the draw whose edge at full travel lies in the middle.
    pub median_draw: Option<u64>,
}

impl Summary {
    /// From the draws.
    pub fn of(draws: &Draws) -> Self {
        let count = draws.count().max(1) as f64;
        let measures: Vec<_> =
            Measure::ALL.iter().map(|measure| Quantiles::of(draws.column(*measure))).collect();
        let share =
            |wanted: u8| draws.met().iter().filter(|met| **met & wanted == wanted).count() as f64 / count;
        let edge = measures.first().copied().flatten();
        let median_draw = edge.and_then(|edge| {
            let place = draws.column(Measure::EdgeAtFull).iter().position(|value| *value == edge.median)?;
            Some(draws.first() + place as u64)
        });
        Self {
            draws: draws.count(),
            failed: draws.failed() as f64 / count,
            measures,
            demands: std::array::from_fn(|at| share(1 << at)),
            all_demands: share(ALL_MET),
            signs: Signs::ALL.map(|sign| draws.share_showing(sign)),
            median_draw,
        }
    }

    /// Where one measure lies.
    pub fn quantiles(&self, measure: Measure) -> Option<Quantiles> {
        let at = Measure::ALL.iter().position(|of| *of == measure)?;
        self.measures.get(at).copied().flatten()
    }

    /// Share of all draws that meet one demand.
    pub fn demand(&self, demand: Demand) -> f64 {
        Demand::ALL.iter().position(|of| *of == demand).map_or(0.0, |at| self.demands[at])
    }

    /// Share of all draws that show one sign.
    pub fn sign(&self, sign: Signs) -> f64 {
        Signs::ALL.iter().position(|of| *of == sign).map_or(0.0, |at| self.signs[at])
    }
}
