//! Correlation coefficients between inputs, and between results.

use super::PropagationError;

/// A symmetric matrix of correlation coefficients with ones on its diagonal.
#[derive(Debug, Clone, PartialEq)]
pub struct Correlation {
    size: usize,
    /// Row by row.
    entries: Vec<f64>,
}

impl Correlation {
    /// No correlation between `size` quantities.
    pub fn none(size: usize) -> Self {
        let entries = (0..size * size).map(|at| if at % (size + 1) == 0 { 1.0 } else { 0.0 }).collect();
        Self { size, entries }
    }

    /// The same with the coefficient between two quantities (positions from 0) set.
    ///
    /// # Errors
    /// When a position does not exist, both are the same, or the coefficient is not from -1 to 1.
    pub fn with(mut self, first: usize, second: usize, value: f64) -> Result<Self, PropagationError> {
        let known = first < self.size && second < self.size && first != second;
        if !known || !(-1.0..=1.0).contains(&value) {
            return Err(PropagationError::BadCorrelation { first, second, value });
        }
        self.set(first, second, value);
        Ok(self)
    }

    /// Correlation of the means of quantities that were read together, one row for each reading
    /// (JCGM 100, 5.2.3 with equation 17).
    ///
    /// A quantity that never changed is taken as uncorrelated. Rows must have one reading for each quantity.
    ///
    /// # Errors
    /// When rows differ in length.
    pub fn of_readings(rows: &[&[f64]]) -> Result<Self, PropagationError> {
        let size = rows.first().map_or(0, |row| row.len());
        if let Some(odd) = rows.iter().find(|row| row.len() != size) {
            return Err(PropagationError::WrongSize { given: odd.len(), wanted: size });
        }
        let count = rows.len() as f64;
        let means: Vec<f64> =
            (0..size).map(|at| rows.iter().filter_map(|row| row.get(at)).sum::<f64>() / count).collect();
        let product = |i: usize, j: usize| -> f64 {
            rows.iter()
                .map(|row| {
                    let off = |at: usize| row.get(at).zip(means.get(at)).map_or(0.0, |(x, mean)| x - mean);
                    off(i) * off(j)
                })
                .sum()
        };
        let mut out = Self::none(size);
        for i in 0..size {
            for j in 0..i {
                let scale = (product(i, i) * product(j, j)).sqrt();
                if scale > 0.0 {
                    out.set(i, j, (product(i, j) / scale).clamp(-1.0, 1.0));
                }
            }
        }
        Ok(out)
    }

    /// Number of quantities.
    pub fn size(&self) -> usize {
        self.size
    }

    /// Coefficient between two quantities, positions from 0; zero for a position that does not exist.
    pub fn between(&self, first: usize, second: usize) -> f64 {
        if first >= self.size || second >= self.size {
            return 0.0;
        }
        self.entries.get(first * self.size + second).copied().unwrap_or(0.0)
    }

    /// Whether no two quantities are correlated.
    pub fn is_none(&self) -> bool {
        (0..self.size).all(|i| (0..i).all(|j| self.between(i, j) == 0.0))
    }

    pub(crate) fn set(&mut self, first: usize, second: usize, value: f64) {
        for at in [first * self.size + second, second * self.size + first] {
            if let Some(entry) = self.entries.get_mut(at) {
                *entry = value;
            }
        }
    }

    /// Whether the coefficients can hold together: no combination of the quantities has a negative variance.
    pub(super) fn is_possible(&self) -> bool {
        self.root().is_some()
    }

    /// Lower triangle, row by row, whose product with its transpose is this matrix (Cholesky); `None` when the
    /// coefficients cannot hold together. A pivot that is nothing must have nothing beside it.
    pub(super) fn root(&self) -> Option<Vec<f64>> {
        const SLIP: f64 = 1e-9;
        let n = self.size;
        let mut rest = self.entries.clone();
        let at = |i: usize, j: usize| i * n + j;
        let mut root = vec![0.0; n * n];
        for k in 0..n {
            let pivot = rest[at(k, k)];
            if pivot < -SLIP {
                return None;
            }
            if pivot <= SLIP {
                // Rounding of the coefficients (two or three digits are usual) may leave a little here.
                if (k + 1..n).any(|i| rest[at(i, k)].abs() > SLIP.sqrt()) {
                    return None;
                }
                continue;
            }
            for i in k..n {
                root[at(i, k)] = rest[at(i, k)] / pivot.sqrt();
            }
            for i in k + 1..n {
                for j in k + 1..=i {
                    rest[at(i, j)] -= rest[at(i, k)] * rest[at(j, k)] / pivot;
                }
            }
        }
        Some(root)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_readings_that_move_together() {
        let rows: [&[f64]; 3] = [&[1.0, 2.0, 5.0], &[2.0, 4.0, 5.0], &[3.0, 6.0, 5.0]];
        let found = Correlation::of_readings(&rows).unwrap();
        assert!((found.between(0, 1) - 1.0).abs() < 1e-15);
        assert_eq!(found.between(0, 2), 0.0);
        assert!(found.is_possible());
    }

    #[test]
    fn refuses_coefficients_that_cannot_be() {
        assert!(Correlation::none(2).with(0, 1, 1.1).is_err());
        assert!(Correlation::none(2).with(0, 0, 0.5).is_err());
        assert!(Correlation::none(2).with(0, 2, 0.5).is_err());
        assert!(Correlation::of_readings(&[&[1.0], &[1.0, 2.0]]).is_err());
        let all_opposed = Correlation::none(3)
            .with(0, 1, -0.9)
            .unwrap()
            .with(0, 2, -0.9)
            .unwrap()
            .with(1, 2, -0.9)
            .unwrap();
        assert!(!all_opposed.is_possible());
    }
}
