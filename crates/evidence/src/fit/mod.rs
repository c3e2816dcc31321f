//! Unknowns from readings: least squares with the uncertainty of what is found, and refusal of what cannot be.
//!
//! [`fit`] searches the values for which a model comes nearest to the readings (Levenberg-Marquardt). What it gives
//! is checked: the search must have settled at a minimum; the readings must see every parameter, alone and in every
//! combination (singular values); a parameter must be known well enough to be of use, where that is stated; and the
//! residuals are looked at for scatter, shape and wild readings. A fit that fails the first three is refused with a
//! reason, the last gives [`Doubt`]s.

mod confusion;
mod error;
mod minimise;
mod problem;
mod residuals;
mod svd;
#[cfg(test)]
mod tests;

pub use confusion::{Confusion, Part};
pub use error::FitError;
pub use residuals::{Doubt, Farthest, Residuals, Runs};

use crate::Input;
use crate::propagation::Correlation;
use minimise::{Found, minimise};
use problem::Problem;
use serde::Serialize;
use svd::{Svd, dot, norm};

/// A combination whose singular value is below this share of the largest is not seen by the readings: derivatives
/// are good to 1e-10 or better, and no useful measurement comes near.
const UNSEEN: f64 = 1e-8;

/// How strongly the first steps of a search are damped, tried in this order.
const DAMPINGS: [f64; 3] = [1e-3, 1.0, 1e3];

/// Correlation from which two parameters are reported as hard to tell apart.
const CLOSE: f64 = 0.99;

/// A quantity to be found.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameter {
    /// Name shown in results and errors.
    pub name: String,
    /// Where the search starts; the best value known beforehand where `known` is given.
    pub start: f64,
    /// Typical size, above zero: it sets the steps of derivatives where the value is near zero.
    pub size: f64,
    /// Standard uncertainty with which `start` is known beforehand, above zero; then `start` counts as a reading.
    pub known: Option<f64>,
    /// Largest standard uncertainty at which the parameter is of use; the fit is refused above it.
    pub worth: Option<f64>,
}

impl Parameter {
    /// A parameter of which nothing is known but where to start; its typical size is that of the start (1 for 0).
    pub fn new(name: impl Into<String>, start: f64) -> Self {
        let size = if start == 0.0 { 1.0 } else { start.abs() };
        Self { name: name.into(), start, size, known: None, worth: None }
    }

    /// The same with a typical size.
    #[must_use]
    pub fn of_size(self, size: f64) -> Self {
        Self { size, ..self }
    }

    /// The same, known beforehand with standard uncertainty `u`.
    #[must_use]
    pub fn known_within(self, u: f64) -> Self {
        Self { known: Some(u), ..self }
    }

    /// The same, of use only up to a standard uncertainty.
    #[must_use]
    pub fn of_use_within(self, u: f64) -> Self {
        Self { worth: Some(u), ..self }
    }
}

/// What was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    values: Vec<f64>,
    u: Option<Vec<f64>>,
}

impl Readings {
    /// Readings whose uncertainty is the same for all, and estimated from how they scatter about the model.
    /// Their order matters to the runs of signs: give them in the order of what was varied.
    pub fn of_unknown_spread(values: Vec<f64>) -> Self {
        Self { values, u: None }
    }

    /// Readings with a standard uncertainty each, independent of each other.
    pub fn with_u(values: Vec<f64>, u: Vec<f64>) -> Self {
        Self { values, u: Some(u) }
    }

    fn u_of(&self, at: usize) -> f64 {
        self.u.as_ref().and_then(|u| u.get(at)).copied().unwrap_or(1.0)
    }
}

/// A parameter found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Estimate {
    /// Name of the parameter.
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// Parameters found from readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// One for each parameter, in order.
    pub estimates: Vec<Estimate>,
    /// Correlation of the parameters.
    pub correlation: Correlation,
    /// Degrees of freedom of the uncertainties: infinite for readings of stated uncertainty.
    pub degrees_of_freedom: f64,
    /// What is left.
    pub residuals: Residuals,
    /// Singular values of the Jacobian with its columns scaled to unit length, the largest first: the smallest is
    /// near 1 when every parameter leaves its own mark on the readings, and near 0 when some are mistaken for others.
    pub singular_values: Vec<f64>,
    /// The combination seen least, where two parameters are correlated by 0.99 or more: a warning.
    pub confusion: Option<Confusion>,
    /// Runs of the model that it took.
    pub evaluations: usize,
}

impl Fit {
    /// Value of a parameter by name.
    pub fn value(&self, name: &str) -> Option<f64> {
        self.estimates.iter().find(|estimate| estimate.name == name).map(|estimate| estimate.value)
    }

    /// Covariance of two parameters (positions from 0); zero for a position that does not exist.
    pub fn covariance(&self, first: usize, second: usize) -> f64 {
        let u = |at: usize| self.estimates.get(at).map_or(0.0, |estimate| estimate.u);
        self.correlation.between(first, second) * u(first) * u(second)
    }

    /// The parameters as inputs of a propagation; give [`Fit::correlation`] along with them.
    pub fn inputs(&self) -> Vec<Input> {
        let input = |e: &Estimate| {
            Input::normal(e.name.clone(), e.value, e.u).with_degrees_of_freedom(self.degrees_of_freedom)
        };
        self.estimates.iter().map(input).collect()
    }

    /// Largest singular value over the smallest.
    pub fn condition(&self) -> f64 {
        match (self.singular_values.first(), self.singular_values.last()) {
            (Some(most), Some(least)) => most / least,
            _ => 1.0,
        }
    }
}

/// Finds the parameters for which the model comes nearest to the readings.
///
/// The model gets the parameters' values in order, writes one figure for each reading into its second argument and
/// gives true, or false where it has none; the search then stays away from there.
///
/// # Errors
/// [`FitError`], one sentence each: figures that cannot be, too few readings, a search that does not settle,
/// parameters that leave no mark on the readings or cannot be told apart, or that come out too uncertain to be of use.
pub fn fit(
    parameters: &[Parameter],
    readings: &Readings,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Fit, FitError> {
    let start: Vec<f64> = parameters.iter().map(|parameter| parameter.start).collect();
    fit_from(&[start], parameters, readings, model)
}

/// As [`fit`], from several places to start (one value for each parameter); the nearest fit of them is given.
///
/// Useful where a search from one place can end in a valley that is not the lowest.
///
/// # Errors
/// As [`fit`]: the reason of the nearest search where none gave a fit.
pub fn fit_from(
    starts: &[Vec<f64>],
    parameters: &[Parameter],
    readings: &Readings,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Fit, FitError> {
    check(parameters, readings)?;
    let problem = Problem::new(parameters, readings, model);
    let mut best: Option<(f64, Result<Fit, FitError>)> = None;
    for start in starts.iter().filter(|start| start.len() == parameters.len()) {
        let Some((left, outcome)) = search(&problem, start, parameters, readings) else { continue };
        let better = match &best {
            // A fit goes before a reason why there is none; among equals the nearer one.
            Some((least, known)) if known.is_ok() == outcome.is_ok() => left < *least,
            Some((_, known)) => known.is_err(),
            None => true,
        };
        if better {
            best = Some((left, outcome));
        }
    }
    best.map_or(Err(FitError::NoStart), |(_, outcome)| outcome)
}

/// Length of the residuals and what was found from one start; a search that ran off is tried again with shorter first
/// steps. `None` where the model gives nothing at the start.
fn search<M: Fn(&[f64], &mut [f64]) -> bool>(
    problem: &Problem<'_, M>,
    start: &[f64],
    parameters: &[Parameter],
    readings: &Readings,
) -> Option<(f64, Result<Fit, FitError>)> {
    let mut first = None;
    for damping in DAMPINGS {
        let found = minimise(problem, start, damping)?;
        let left = norm(&found.residuals);
        let outcome = describe(problem, &found, parameters, readings);
        if !matches!(outcome, Err(FitError::NoEffect { .. } | FitError::NotSettled { .. })) {
            return Some((left, outcome));
        }
        first = first.or(Some((left, outcome)));
    }
    first
}

fn check(parameters: &[Parameter], readings: &Readings) -> Result<(), FitError> {
    let count = readings.values.len();
    if let Some(u) = readings.u.as_ref().filter(|u| u.len() != count) {
        return Err(FitError::WrongSize { given: u.len(), wanted: count });
    }
    for (at, value) in readings.values.iter().enumerate() {
        let u = readings.u_of(at);
        let within = (value / u).abs() <= problem::FARTHEST;
        if !(value.is_finite() && u.is_finite() && u > 0.0 && within) {
            return Err(FitError::BadReading { at: at + 1, value: *value, u });
        }
    }
    for parameter in parameters {
        parameter.check()?;
        if parameter.known.is_some() && readings.u.is_none() {
            return Err(FitError::KnownWithoutSpread { name: parameter.name.clone() });
        }
    }
    let known = parameters.iter().filter(|parameter| parameter.known.is_some()).count();
    // Without stated uncertainties one reading more is needed, to see how they scatter.
    let needed = (parameters.len() + usize::from(readings.u.is_none())).saturating_sub(known);
    if parameters.is_empty() || count < needed.max(1) {
        return Err(FitError::TooFewReadings { readings: count, parameters: parameters.len(), needed });
    }
    Ok(())
}

impl Parameter {
    fn check(&self) -> Result<(), FitError> {
        let bad =
            |what, value, rule| Err(FitError::BadParameter { name: self.name.clone(), what, value, rule });
        let positive = |value: f64| value.is_finite() && value > 0.0;
        if !self.start.is_finite() {
            return bad("the start", self.start, "");
        }
        if !positive(self.size) {
            return bad("the typical size", self.size, " above zero");
        }
        if let Some(u) = self.known.filter(|u| !positive(*u)) {
            return bad("a known uncertainty of", u, " above zero");
        }
        if let Some(worth) = self.worth.filter(|worth| !positive(*worth)) {
            return bad("a useful uncertainty of", worth, " above zero");
        }
        Ok(())
    }
}

/// What a search found, if it may be believed.
fn describe<M: Fn(&[f64], &mut [f64]) -> bool>(
    problem: &Problem<'_, M>,
    found: &Found,
    parameters: &[Parameter],
    readings: &Readings,
) -> Result<Fit, FitError> {
    let names: Vec<&str> = parameters.iter().map(|parameter| parameter.name.as_str()).collect();
    let lengths: Vec<f64> = found.jacobian.iter().map(|column| norm(column)).collect();
    let svd = seen(found, parameters, &names, &lengths)?;
    if !found.settled {
        return Err(FitError::NotSettled { evaluations: problem.evaluations() });
    }
    let residuals = residuals_of(found, &svd, readings, parameters.len());
    let (unit, degrees_of_freedom) = match residuals.standard_deviation {
        Some(deviation) => (deviation, residuals.degrees_of_freedom as f64),
        None => (1.0, f64::INFINITY),
    };
    let (u, correlation) = spread(&svd, &lengths, unit);
    // A mark so faint that its uncertainty is beyond all numbers is none.
    let endless = found.values.iter().zip(&u).position(|(value, u)| !(value.is_finite() && u.is_finite()));
    if let Some((name, value)) = endless.and_then(|at| names.get(at).zip(found.values.get(at))) {
        return Err(FitError::NoEffect { name: (*name).to_string(), value: *value });
    }
    let confusion = || Confusion::of(&svd, &lengths, &names, &u, Some(unit));
    for ((parameter, value), u) in parameters.iter().zip(&found.values).zip(&u) {
        if let Some(worth) = parameter.worth.filter(|worth| u > worth) {
            let (name, value, u, confusion) = (parameter.name.clone(), *value, *u, confusion());
            return Err(FitError::TooUncertain { name, value, u, worth, confusion });
        }
    }
    let close = (0..names.len()).any(|i| (0..i).any(|j| correlation.between(i, j).abs() >= CLOSE));
    let estimate = |((name, value), u): ((&&str, &f64), &f64)| Estimate {
        name: (*name).to_string(),
        value: *value,
        u: *u,
    };
    Ok(Fit {
        confusion: close.then(confusion),
        estimates: names.iter().zip(&found.values).zip(&u).map(estimate).collect(),
        correlation,
        degrees_of_freedom,
        residuals,
        singular_values: svd.s,
        evaluations: problem.evaluations(),
    })
}

/// Singular values of the Jacobian with columns of unit length, when the readings see every parameter alone and in
/// every combination.
fn seen(found: &Found, parameters: &[Parameter], names: &[&str], lengths: &[f64]) -> Result<Svd, FitError> {
    let size = |(parameter, value): (&Parameter, &f64)| value.abs().max(0.1 * parameter.size);
    let sizes: Vec<f64> = parameters.iter().zip(&found.values).map(size).collect();
    // A parameter whose change by its own size moves the readings by rounding only leaves no mark on them.
    let marks: Vec<f64> = lengths.iter().zip(&sizes).map(|(length, size)| length * size).collect();
    let most = marks.iter().copied().fold(0.0, f64::max);
    if let Some(at) = marks.iter().position(|mark| *mark <= 1e-12 * most || *mark == 0.0) {
        let value = found.values.get(at).copied().unwrap_or(f64::NAN);
        return Err(FitError::NoEffect { name: names.get(at).copied().unwrap_or("").to_string(), value });
    }
    let unit = |(column, length): (&Vec<f64>, &f64)| column.iter().map(|x| x / length).collect();
    let svd = Svd::of(&found.jacobian.iter().zip(lengths).map(unit).collect::<Vec<_>>());
    let (largest, least) = (svd.s.first().copied().unwrap_or(0.0), svd.s.last().copied().unwrap_or(0.0));
    if least <= UNSEEN * largest {
        return Err(FitError::CannotTell { confusion: Confusion::of(&svd, lengths, names, &sizes, None) });
    }
    Ok(svd)
}

fn residuals_of(found: &Found, svd: &Svd, readings: &Readings, parameters: usize) -> Residuals {
    let weighted = found.residuals.as_slice();
    let own = readings.values.iter().zip(weighted).enumerate();
    let values = own.map(|(at, (_, r))| -r * readings.u_of(at)).collect();
    let pull = |at: usize| svd.u.iter().filter_map(|column| column.get(at)).map(|x| x * x).sum();
    let leverage: Vec<f64> = (0..weighted.len()).map(pull).collect();
    Residuals::of(values, weighted, &leverage, parameters, readings.u.is_some())
}

/// Standard uncertainties and correlation: the inverse of JᵀJ times the variance of a reading.
fn spread(svd: &Svd, lengths: &[f64], unit: f64) -> (Vec<f64>, Correlation) {
    let rows: Vec<Vec<f64>> = (0..lengths.len())
        .map(|at| svd.v.iter().zip(&svd.s).filter_map(|(v, s)| v.get(at).map(|v| v / s)).collect())
        .collect();
    let mut correlation = Correlation::none(lengths.len());
    for (i, row) in rows.iter().enumerate() {
        for (j, other) in rows.iter().enumerate().take(i) {
            let value = dot(row, other) / (norm(row) * norm(other));
            correlation.set(i, j, value.clamp(-1.0, 1.0));
        }
    }
    let u = rows.iter().zip(lengths).map(|(row, length)| unit * norm(row) / length).collect();
    (u, correlation)
}
