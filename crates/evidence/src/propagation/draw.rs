//! One set of values of the inputs, drawn from their spreads.

use super::{Correlation, PropagationError};
use crate::Input;
use crate::distribution::normal_below;
use quantity::Shape;
use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use rand_distr::{ChiSquared, Distribution, StandardNormal, StudentT};
use std::f64::consts::PI;

/// How an input is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Spread {
    Exact(f64),
    Rectangular { value: f64, half_width: f64 },
    Normal { value: f64, u: f64 },
    Student { value: f64, u: f64, degrees_of_freedom: f64, unit: StudentT<f64> },
}

impl Spread {
    /// As the input says: rectangular, normal, or Student's t about its value.
    pub(crate) fn of(input: &Input) -> Self {
        let Input { value, u, degrees_of_freedom, .. } = *input;
        if u == 0.0 {
            return Self::Exact(value);
        }
        match input.shape {
            Shape::Rectangular => Self::Rectangular { value, half_width: u * 3f64.sqrt() },
            Shape::Normal if degrees_of_freedom.is_finite() => match StudentT::new(degrees_of_freedom) {
                Ok(unit) => Self::Student { value, u, degrees_of_freedom, unit },
                Err(_) => Self::Normal { value, u },
            },
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
            Self::Student { value, u, unit, .. } => value + u * unit.sample(random),
        }
    }

    /// The value that belongs to a standard normal `z`; `few` widens it for few degrees of freedom.
    fn at(&self, z: f64, few: f64) -> f64 {
        match self {
            Self::Exact(value) => *value,
            Self::Rectangular { value, half_width } => value + half_width * (2.0 * normal_below(z) - 1.0),
            Self::Normal { value, u } => value + u * z,
            Self::Student { value, u, .. } => value + u * z * few,
        }
    }
}

/// Draws all inputs together.
pub(super) struct Drawer {
    spreads: Vec<Spread>,
    joint: Option<Joint>,
}

/// What correlated inputs need.
struct Joint {
    /// Lower triangle whose product with its transpose is the correlation of the normal variables behind the inputs.
    root: Vec<f64>,
    /// Positions of correlated inputs with few degrees of freedom, and the chi-squared variable they share.
    few: Option<(Vec<usize>, f64, ChiSquared<f64>)>,
}

impl Drawer {
    /// Correlated inputs are drawn from normal variables turned into each input's shape, with the correlation of
    /// these chosen so that the inputs get theirs (exact for normal and rectangular shapes: Cario and Nelson 1997).
    /// Correlated inputs with few degrees of freedom are taken as readings of one occasion: they share a chi-squared
    /// variable and so have a multivariate t distribution (JCGM 102:2011, 5.3.2).
    pub(super) fn new(inputs: &[Input], correlation: Option<&Correlation>) -> Result<Self, PropagationError> {
        let spreads: Vec<Spread> = inputs.iter().map(Spread::of).collect();
        let Some(correlation) = correlation.filter(|correlation| !correlation.is_none()) else {
            return Ok(Self { spreads, joint: None });
        };
        if correlation.size() != inputs.len() {
            return Err(PropagationError::WrongSize { given: correlation.size(), wanted: inputs.len() });
        }
        let mut behind = Correlation::none(inputs.len());
        let mut few: Option<(Vec<usize>, f64)> = None;
        for (i, first) in spreads.iter().enumerate() {
            for (j, second) in spreads.iter().enumerate().take(i) {
                let value = correlation.between(i, j);
                if value == 0.0 {
                    continue;
                }
                let odd = || {
                    let name = |at: usize| inputs.get(at).map(|i| i.name.clone()).unwrap_or_default();
                    PropagationError::CannotCorrelate { first: name(i), second: name(j), value }
                };
                behind.set(i, j, behind_of(first, second, value).ok_or_else(odd)?);
                if let (Spread::Student { degrees_of_freedom, .. }, Spread::Student { .. }) = (first, second)
                {
                    let (group, shared) = few.get_or_insert((Vec::new(), *degrees_of_freedom));
                    if shared != degrees_of_freedom {
                        return Err(odd());
                    }
                    group.extend([i, j]);
                }
            }
        }
        let few = few.and_then(|(group, freedom)| Some((group, freedom, ChiSquared::new(freedom).ok()?)));
        let root = behind.root().ok_or(PropagationError::Impossible)?;
        Ok(Self { spreads, joint: Some(Joint { root, few }) })
    }

    /// One value for each input.
    pub(super) fn draw(&self, random: &mut ChaCha8Rng, values: &mut [f64]) {
        let Some(joint) = &self.joint else {
            for (value, spread) in values.iter_mut().zip(&self.spreads) {
                *value = spread.draw(random);
            }
            return;
        };
        let n = self.spreads.len();
        let units: Vec<f64> = (0..n).map(|_| random.sample(StandardNormal)).collect();
        let shared =
            joint.few.as_ref().map_or(1.0, |(_, freedom, unit)| (freedom / unit.sample(random)).sqrt());
        for (i, (value, spread)) in values.iter_mut().zip(&self.spreads).enumerate() {
            let row = joint.root.get(i * n..i * n + i + 1).unwrap_or_default();
            let z: f64 = row.iter().zip(&units).map(|(a, b)| a * b).sum();
            *value = match spread {
                Spread::Student { degrees_of_freedom, .. } => {
                    let together = joint.few.as_ref().is_some_and(|(group, ..)| group.contains(&i));
                    let mut own = || ChiSquared::new(*degrees_of_freedom).map(|unit| unit.sample(random));
                    let few = if together {
                        shared
                    } else {
                        own().map_or(1.0, |c| (degrees_of_freedom / c).sqrt())
                    };
                    spread.at(z, few)
                }
                _ => spread.at(z, 1.0),
            };
        }
    }
}

/// Correlation that two normal variables need so that the inputs made of them have the correlation `value`; `None`
/// where there is none, or it is not known.
fn behind_of(first: &Spread, second: &Spread, value: f64) -> Option<f64> {
    use Spread::{Exact, Normal, Rectangular, Student};
    let needed = match (first, second) {
        (Exact(_), _) | (_, Exact(_)) => 0.0,
        (Normal { .. }, Normal { .. }) => value,
        (Rectangular { .. }, Rectangular { .. }) => 2.0 * (PI * value / 6.0).sin(),
        (Normal { .. }, Rectangular { .. }) | (Rectangular { .. }, Normal { .. }) => {
            value * (PI / 3.0).sqrt()
        }
        (Student { degrees_of_freedom: a, .. }, Student { degrees_of_freedom: b, .. }) if a == b => value,
        (Student { .. }, _) | (_, Student { .. }) => return None,
    };
    (needed.abs() <= 1.0).then_some(needed)
}
