//! What goes into a propagation: a value, its standard uncertainty and the shape of its spread.

use quantity::{Measured, Shape};

/// One input quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Name shown in budgets and errors.
    pub name: String,
    /// Best value, any unit.
    pub value: f64,
    /// Standard uncertainty in the same unit, finite and not negative; zero makes the input exact.
    pub u: f64,
    /// Shape of the spread; it matters to Monte Carlo only.
    pub shape: Shape,
    /// Degrees of freedom of `u`: infinite when it is taken as known, `n - 1` after `n` repeated readings.
    /// A normal input with finite degrees of freedom is drawn from the t distribution (JCGM 101, 6.4.9).
    pub degrees_of_freedom: f64,
}

impl Input {
    /// An input whose standard uncertainty is taken as known.
    pub fn new(name: impl Into<String>, value: f64, u: f64, shape: Shape) -> Self {
        Self { name: name.into(), value, u, shape, degrees_of_freedom: f64::INFINITY }
    }

    /// An input without uncertainty.
    pub fn exact(name: impl Into<String>, value: f64) -> Self {
        Self::new(name, value, 0.0, Shape::Rectangular)
    }

    /// An input between limits ± `half_width` (rectangular: u = half width / √3).
    pub fn within(name: impl Into<String>, value: f64, half_width: f64) -> Self {
        Self::new(name, value, half_width.abs() / 3f64.sqrt(), Shape::Rectangular)
    }

    /// An input with standard uncertainty `u` and a bell-shaped spread.
    pub fn normal(name: impl Into<String>, value: f64, u: f64) -> Self {
        Self::new(name, value, u.abs(), Shape::Normal)
    }

    /// A measured quantity, in its SI unit.
    pub fn measured(name: impl Into<String>, measured: &Measured) -> Self {
        Self::new(name, measured.value, measured.u, measured.shape)
    }

    /// The mean of repeated readings, u = s/√n with n - 1 degrees of freedom (JCGM 100, 4.2).
    ///
    /// `None` for fewer than two readings: one reading says nothing of its spread.
    pub fn repeated(name: impl Into<String>, readings: &[f64]) -> Option<Self> {
        if readings.len() < 2 {
            return None;
        }
        let count = readings.len() as f64;
        let mean = readings.iter().sum::<f64>() / count;
        let squares: f64 = readings.iter().map(|reading| (reading - mean).powi(2)).sum();
        let u = (squares / (count - 1.0) / count).sqrt();
        Some(Self { degrees_of_freedom: count - 1.0, ..Self::new(name, mean, u, Shape::Normal) })
    }

    /// The same input with stated degrees of freedom.
    #[must_use]
    pub fn with_degrees_of_freedom(self, degrees_of_freedom: f64) -> Self {
        Self { degrees_of_freedom, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_repeated_readings() {
        let input = Input::repeated("gap", &[1.0, 2.0, 3.0, 4.0]).unwrap();
        assert_eq!(input.value, 2.5);
        assert!((input.u - (5.0f64 / 3.0 / 4.0).sqrt()).abs() < 1e-15);
        assert_eq!(input.degrees_of_freedom, 3.0);
        assert!(Input::repeated("gap", &[1.0]).is_none());
    }
}
