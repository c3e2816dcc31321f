//! The results of many draws, and what they say.

use serde::Serialize;

/// An interval of results.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// Upper end less lower end.
    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}

/// The results of the draws that gave one, in order of size.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    sorted: Vec<f64>,
    mean: f64,
    standard_deviation: f64,
    failed: usize,
}

impl Sample {
    /// From the results that were drawn (all finite, two or more) and the number of draws that gave none.
    pub(super) fn of(mut results: Vec<f64>, failed: usize) -> Self {
        let count = results.len().max(1) as f64;
        // Summed about the first result, so that a small spread on a large value keeps its digits.
        let origin = results.first().copied().unwrap_or(0.0);
        let mean = origin + results.iter().map(|y| y - origin).sum::<f64>() / count;
        let squares: f64 = results.iter().map(|y| (y - mean).powi(2)).sum();
        let standard_deviation = (squares / (count - 1.0).max(1.0)).sqrt();
        results.sort_unstable_by(f64::total_cmp);
        Self { sorted: results, mean, standard_deviation, failed }
    }

    /// Mean of the results (JCGM 101, 7.6).
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// Standard deviation of the results: the standard uncertainty of the mean as best value.
    pub fn standard_deviation(&self) -> f64 {
        self.standard_deviation
    }

    /// Number of draws for which the model gave no result. They are left out of all figures: where they are more
    /// than a few, the figures hold only under the condition that there is a result, which must be said with them.
    pub fn failed(&self) -> usize {
        self.failed
    }

    /// All results in order of size.
    pub fn sorted(&self) -> &[f64] {
        &self.sorted
    }

    /// Share of the results that lie at or below `limit`.
    pub fn share_up_to(&self, limit: f64) -> f64 {
        self.sorted.partition_point(|y| *y <= limit) as f64 / self.sorted.len().max(1) as f64
    }

    /// Interval with equal probability left out on both sides (JCGM 101, 7.7.2).
    ///
    /// `coverage` above 0 and below 1; `None` outside, or when there are too few results for it.
    pub fn symmetric(&self, coverage: f64) -> Option<Interval> {
        let (inside, outside) = self.split(coverage)?;
        let first = outside.div_ceil(2);
        // Positions count from 1 in the standard: the interval runs from result r to result r + q.
        let low = *self.sorted.get(first.checked_sub(1)?)?;
        let high = *self.sorted.get(first + inside - 1)?;
        Some(Interval { low, high })
    }

    /// Shortest interval with the coverage (JCGM 101, 7.7.4).
    ///
    /// Its ends are noisy where the distribution is flat; its width is not. `None` as for [`Sample::symmetric`].
    pub fn shortest(&self, coverage: f64) -> Option<Interval> {
        let (inside, _) = self.split(coverage)?;
        self.sorted
            .iter()
            .zip(self.sorted.get(inside..)?)
            .map(|(low, high)| Interval { low: *low, high: *high })
            .min_by(|a, b| a.width().total_cmp(&b.width()))
    }

    /// Number q of results inside for a coverage, and the number outside.
    fn split(&self, coverage: f64) -> Option<(usize, usize)> {
        if !(coverage > 0.0 && coverage < 1.0) {
            return None;
        }
        let count = self.sorted.len();
        let inside = (coverage * count as f64 + 0.5).floor() as usize;
        (inside > 0 && inside < count).then(|| (inside, count - inside))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_intervals_of_a_hundred_even_steps() {
        let sample = Sample::of((1..=100).rev().map(f64::from).collect(), 3);
        assert_eq!(sample.mean(), 50.5);
        assert!((sample.standard_deviation() - (101.0 * 100.0 / 12.0f64).sqrt()).abs() < 1e-12);
        assert_eq!(sample.failed(), 3);
        // q = 90, r = 5: from the 5th to the 95th.
        assert_eq!(sample.symmetric(0.9), Some(Interval { low: 5.0, high: 95.0 }));
        assert_eq!(sample.shortest(0.9).map(|i| i.width()), Some(90.0));
        assert_eq!(sample.share_up_to(25.0), 0.25);
    }

    #[test]
    fn exact_shortest_leaves_out_the_long_tail() {
        let sample = Sample::of((0..100).map(|i| f64::from(i).exp2()).collect(), 0);
        let shortest = sample.shortest(0.8).unwrap();
        assert_eq!(shortest.low, 1.0);
        assert!(shortest.width() < sample.symmetric(0.8).unwrap().width());
    }

    #[test]
    fn refuses_coverage_that_the_sample_cannot_give() {
        let sample = Sample::of(vec![1.0, 2.0], 0);
        for coverage in [0.0, 1.0, -1.0, f64::NAN, 0.99] {
            assert_eq!(sample.symmetric(coverage), None);
            assert_eq!(sample.shortest(coverage), None);
        }
    }
}
