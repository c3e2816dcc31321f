//! One value of one input, drawn from its spread.

use crate::Input;
use quantity::Shape;
use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal, StudentT};

/// How an input is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Spread {
    Exact(f64),
    Rectangular { value: f64, half_width: f64 },
    Normal { value: f64, u: f64 },
    Student { value: f64, u: f64, unit: StudentT<f64> },
}

impl Spread {
    /// As the input says: rectangular, normal, or Student's t about its value.
    pub(crate) fn of(input: &Input) -> Self {
        let Input { value, u, .. } = *input;
        if u == 0.0 {
            return Self::Exact(value);
        }
        match input.shape {
            Shape::Rectangular => Self::Rectangular { value, half_width: u * 3f64.sqrt() },
            Shape::Normal if input.degrees_of_freedom.is_finite() => {
                match StudentT::new(input.degrees_of_freedom) {
                    Ok(unit) => Self::Student { value, u, unit },
                    Err(_) => Self::Normal { value, u },
                }
            }
            Shape::Normal => Self::Normal { value, u },
        }
    }

    /// One value.
    pub(crate) fn draw(&self, random: &mut ChaCha8Rng) -> f64 {
        match self {
            Self::Exact(value) => *value,
            Self::Rectangular { value, half_width } => {
                value + half_width * (2.0 * random.random::<f64>() - 1.0)
            }
            Self::Normal { value, u } => {
                let unit: f64 = random.sample(StandardNormal);
                value + u * unit
            }
            Self::Student { value, u, unit } => value + u * unit.sample(random),
        }
    }
}
