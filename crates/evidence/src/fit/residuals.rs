//! What the residuals say of the model and of the readings.

use crate::distribution::chi_squared_above;
use libm::lgamma;
use serde::Serialize;
use std::fmt;

/// Below this probability a finding counts as a doubt: common practice in statistics.
const DOUBTFUL: f64 = 0.01;

/// Studentised residuals above this are doubted; 3.5 is common practice.
const WILD: f64 = 3.5;

/// Readings less what the fitted model says, and what follows from them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Residuals {
    /// Reading less model, in the readings' order and unit.
    pub values: Vec<f64>,
    /// Sum of their squares.
    pub sum_of_squares: f64,
    /// Readings (and parameters known beforehand) less fitted parameters.
    pub degrees_of_freedom: usize,
    /// √(sum of squares / degrees of freedom) for readings of unknown, equal uncertainty.
    pub standard_deviation: Option<f64>,
    /// Sum of squares in units of the stated uncertainties, what is known beforehand included.
    pub chi_squared: Option<f64>,
    /// Probability of so large a chi-squared or a larger one, if model and uncertainties are right.
    pub chi_squared_above: Option<f64>,
    /// Runs of signs in the readings' order; `None` where all have one sign.
    pub runs: Option<Runs>,
    /// The reading that lies farthest off, and its distance in units of that distance's own standard deviation.
    pub farthest: Option<Farthest>,
}

/// Runs of residuals of one sign (Wald and Wolfowitz 1940).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Runs {
    /// Number of runs.
    pub count: usize,
    /// Number expected of signs in random order.
    pub expected: f64,
    /// Probability of so few runs or fewer, by chance: small means that the model misses a shape in the readings.
    pub so_few: f64,
}

/// The reading that lies farthest from the model.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Farthest {
    /// Its position, from 0.
    pub at: usize,
    /// Its residual over that residual's standard deviation (internally studentised), sign included.
    pub studentised: f64,
}

/// Something in the residuals that makes the fit doubtful.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Doubt {
    /// Readings scatter more than their uncertainties allow.
    TooLarge {
        /// Probability of so much scatter.
        probability: f64,
    },
    /// Readings scatter less than their uncertainties say.
    TooSmall {
        /// Probability of so little scatter.
        probability: f64,
    },
    /// The residuals keep their sign too long.
    TooFewRuns {
        /// Probability of so few runs.
        probability: f64,
    },
    /// One reading lies far off.
    Wild {
        /// Its position, from 0.
        at: usize,
        /// How many of its standard deviations it is off, sign included.
        studentised: f64,
    },
}

impl fmt::Display for Doubt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { .. } => f.write_str(
                "the readings scatter about the model more than their uncertainties allow: the model leaves something out, or the readings are worse than stated",
            ),
            Self::TooSmall { .. } => f.write_str(
                "the readings lie nearer to the model than their uncertainties would let them: they are better than stated, or not independent",
            ),
            Self::TooFewRuns { .. } => f.write_str(
                "the readings lie above the model for a stretch and below it for another: the model misses a shape in them",
            ),
            Self::Wild { at, studentised } => write!(
                f,
                "reading {} lies {:.1} of its standard deviations off the model; look at it again",
                at + 1,
                studentised.abs()
            ),
        }
    }
}

impl Residuals {
    /// What makes the fit doubtful, at the level of one in a hundred.
    pub fn doubts(&self) -> Vec<Doubt> {
        let mut doubts = Vec::new();
        if let Some(probability) = self.chi_squared_above {
            if probability < DOUBTFUL {
                doubts.push(Doubt::TooLarge { probability });
            }
            if 1.0 - probability < DOUBTFUL {
                doubts.push(Doubt::TooSmall { probability: 1.0 - probability });
            }
        }
        if let Some(runs) = self.runs.filter(|runs| runs.so_few < DOUBTFUL) {
            doubts.push(Doubt::TooFewRuns { probability: runs.so_few });
        }
        if let Some(Farthest { at, studentised }) = self.farthest.filter(|far| far.studentised.abs() > WILD) {
            doubts.push(Doubt::Wild { at, studentised });
        }
        doubts
    }

    /// `weighted`: the same in units of the readings' uncertainties, with what is known beforehand at the end;
    /// `leverage`: how far each reading pulls the model after itself, 0 to 1.
    pub(super) fn of(
        values: Vec<f64>,
        weighted: &[f64],
        leverage: &[f64],
        parameters: usize,
        known_spread: bool,
    ) -> Self {
        let sum_of_squares = values.iter().map(|r| r * r).sum::<f64>();
        let degrees_of_freedom = weighted.len().saturating_sub(parameters);
        let freedom = degrees_of_freedom as f64;
        let chi_squared = weighted.iter().map(|r| r * r).sum::<f64>();
        let scale = if known_spread { 1.0 } else { (chi_squared / freedom).sqrt() };
        let studentised = |at: usize| {
            let rest = 1.0 - leverage.get(at).copied().unwrap_or(0.0);
            // A reading that the model must pass through has no residual to judge.
            let deviation = scale * rest.max(0.0).sqrt();
            weighted.get(at).filter(|_| rest > 1e-9 && deviation > 0.0).map(|r| -r / deviation)
        };
        let farthest = (0..values.len())
            .filter_map(|at| studentised(at).map(|studentised| Farthest { at, studentised }))
            .filter(|far| far.studentised.is_finite())
            .max_by(|a, b| a.studentised.abs().total_cmp(&b.studentised.abs()));
        Self {
            runs: Runs::of(&values),
            values,
            sum_of_squares,
            degrees_of_freedom,
            standard_deviation: (!known_spread).then(|| (sum_of_squares / freedom).sqrt()),
            chi_squared: known_spread.then_some(chi_squared),
            chi_squared_above: if known_spread { chi_squared_above(chi_squared, freedom) } else { None },
            farthest,
        }
    }
}

impl Runs {
    /// Of the signs of the values, zeros left out; `None` unless both signs occur.
    pub fn of(values: &[f64]) -> Option<Self> {
        let signs: Vec<bool> = values.iter().filter(|r| **r != 0.0).map(|r| *r > 0.0).collect();
        let above = signs.iter().filter(|sign| **sign).count();
        let below = signs.len() - above;
        if above == 0 || below == 0 {
            return None;
        }
        let count = 1 + signs.windows(2).filter(|pair| pair.first() != pair.last()).count();
        let (m, n) = (above as f64, below as f64);
        let so_few = (2..=count).map(|runs| chance(runs, m, n)).sum::<f64>().min(1.0);
        Some(Self { count, expected: 1.0 + 2.0 * m * n / (m + n), so_few })
    }
}

/// Probability of exactly so many runs of `m` and `n` signs in random order.
fn chance(runs: usize, m: f64, n: f64) -> f64 {
    let half = (runs / 2) as f64;
    // By logarithms: the counts themselves leave the range of the arithmetic beyond some thousand readings.
    let share = |above: f64, below: f64| {
        (ln_choose(m - 1.0, above - 1.0) + ln_choose(n - 1.0, below - 1.0) - ln_choose(m + n, m)).exp()
    };
    if runs.is_multiple_of(2) {
        2.0 * share(half, half)
    } else {
        share(half + 1.0, half) + share(half, half + 1.0)
    }
}

/// Logarithm of the number of ways to choose `k` of `n`; minus infinity where there is none.
fn ln_choose(n: f64, k: f64) -> f64 {
    if k < 0.0 || k > n {
        return f64::NEG_INFINITY;
    }
    lgamma(n + 1.0) - lgamma(k + 1.0) - lgamma(n - k + 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// All orders of three and four signs, counted one by one.
    #[test]
    fn exact_runs_by_enumeration() {
        let (mut counts, mut all) = ([0usize; 9], 0);
        for pattern in 0u32..128 {
            if pattern.count_ones() == 3 {
                let signs: Vec<f64> =
                    (0..7).map(|bit| if pattern >> bit & 1 == 1 { 1.0 } else { -1.0 }).collect();
                counts[Runs::of(&signs).unwrap().count] += 1;
                all += 1;
            }
        }
        assert_eq!(all, 35);
        let mut below = 0;
        for (runs, count) in counts.iter().enumerate().skip(2) {
            assert!((chance(runs, 3.0, 4.0) - *count as f64 / 35.0).abs() < 1e-13, "{runs}");
            below += count;
            if *count > 0 {
                let signs: Vec<f64> = signs_with(runs);
                let found = Runs::of(&signs).unwrap();
                assert_eq!(found.count, runs);
                assert!((found.so_few - below as f64 / 35.0).abs() < 1e-13);
            }
        }
    }

    /// Three above and four below in the given number of runs.
    fn signs_with(runs: usize) -> Vec<f64> {
        (0u32..128)
            .filter(|pattern| pattern.count_ones() == 3)
            .map(|pattern| (0..7).map(|bit| if pattern >> bit & 1 == 1 { 1.0 } else { -1.0 }).collect())
            .find(|signs: &Vec<f64>| Runs::of(signs).unwrap().count == runs)
            .unwrap()
    }

    #[test]
    fn exact_many_readings_stay_in_range() {
        let signs: Vec<f64> = (0..6000).map(|at| if at < 3000 { 1.0 } else { -1.0 }).collect();
        let found = Runs::of(&signs).unwrap();
        assert_eq!((found.count, found.expected), (2, 3001.0));
        assert!(found.so_few < 1e-100);
        let alternating: Vec<f64> = (0..6000).map(|at| if at % 2 == 0 { 1.0 } else { -1.0 }).collect();
        assert!((Runs::of(&alternating).unwrap().so_few - 1.0).abs() < 1e-6);
        assert_eq!(Runs::of(&[1.0, 2.0, 0.0]), None);
        assert_eq!(Runs::of(&[]), None);
    }
}
