//! The unknowns from the readings, with how well they are known.

use super::chain::Chain;
use super::readings::{Readings, Row, ServoAt, Unknown};
use engine::model::Engine;
use evidence::fit::{self, Confusion, Doubt, Fit, FitError, Parameter};
use quantity::{Dimension, Measured};

/// A little slack to begin with where nothing tells any, m.
const START_SLACK_M: f64 = 0.5e-3;
/// Typical size of a slack and of a zero error, m.
const SIZE_M: f64 = 1e-3;

/// One unknown, found.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// What was sought.
    pub unknown: Unknown,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Its value, SI.
    pub value: f64,
    /// Standard uncertainty from the readings alone, SI.
    pub u_readings: f64,
    /// Standard uncertainty with what is not known exactly of the rest of the gear, SI.
    pub u: f64,
    /// What the engine file says of it; none where it says nothing.
    pub before: Option<Measured>,
}

/// Unknowns found from readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// One for each unknown, in their order.
    pub estimates: Vec<Estimate>,
    /// Correlation of each with each, the rest of the gear included.
    pub correlation: Vec<Vec<f64>>,
    /// What should have been read with the unknowns found, row by row, SI.
    pub predicted: Vec<f64>,
    /// Reading less that, SI.
    pub residuals: Vec<f64>,
    /// Standard uncertainty of each reading, its servo's place and gap included, SI.
    pub u_rows: Vec<f64>,
    /// Sum of the squares of residual over uncertainty.
    pub chi_squared: Option<f64>,
    /// Readings less unknowns.
    pub degrees_of_freedom: usize,
    /// Probability of so large a sum or a larger one, if model and uncertainties are right.
    pub chi_squared_above: Option<f64>,
    /// What makes the fit doubtful.
    pub doubts: Vec<Doubt>,
    /// Unknowns that the readings hardly tell apart.
    pub confusion: Option<Confusion>,
    /// Figures of the rest of the gear whose part in the uncertainty could not be found.
    pub not_followed: Vec<String>,
}

/// Why nothing was found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotFitted {
    /// The engine lacks what an unknown is about.
    #[error("{0} cannot be sought: this engine has no such part")]
    NoSuchPart(String),
    /// A mark was read, but its circle is not known.
    #[error("a mark was read, but the radius of its circle is not given; measure gear.mark_radius")]
    NoMarkRadius,
    /// The sensor was read, but not its ends.
    #[error(
        "the sensor was read, but its ends are not given; read servo.sensor_closed and servo.sensor_open"
    )]
    NoSensorEnds,
    /// The slack is neither sought nor told.
    #[error(
        "no reading tells the slack as found, and it is not sought; put \"slack\" among the unknowns, or read found.edge_above_flush"
    )]
    NoSlack,
    /// The readings cannot tell unknowns apart.
    #[error("the readings cannot tell {} apart; measure one of them by other means, leave it out, or take readings that part them: with another gap, both ways, over the whole travel", .0.names())]
    CannotTell(Confusion),
    /// The readings say nothing of an unknown.
    #[error(
        "the readings say nothing of '{0}': it could be anything; leave it out, or take readings that show it"
    )]
    NoEffect(String),
    /// The search found no end.
    #[error(
        "no values of the unknowns come near these readings; look for a wrong reading, or seek fewer unknowns"
    )]
    NotSettled,
    /// Any other reason of the search.
    #[error("{0}")]
    Search(FitError),
}

/// Finds the unknowns.
///
/// # Errors
/// [`NotFitted`], one sentence: a figure is missing, there are too few readings, or they cannot tell.
pub fn fit(engine: &Engine, readings: &Readings) -> Result<Fitted, NotFitted> {
    let chain = Chain::new(engine, readings);
    check(engine, readings, &chain)?;
    let mut parameters = parameters(engine, readings, &chain);
    let start: Vec<f64> = parameters.iter().map(|parameter| parameter.start).collect();
    // Errors of the servo's place and of the gap count through the slope of the model where they were read; they are
    // taken at the start, then once more where the first search ended.
    let mut u_rows = u_rows(&chain, readings, &start);
    let first = search(&chain, readings, &parameters, &u_rows)?;
    let found: Vec<f64> = first.estimates.iter().map(|estimate| estimate.value).collect();
    u_rows = self::u_rows(&chain, readings, &found);
    for (parameter, value) in parameters.iter_mut().zip(&found).filter(|(one, _)| one.known.is_none()) {
        parameter.start = *value;
    }
    let fit = search(&chain, readings, &parameters, &u_rows)?;
    Ok(described(engine, readings, &chain, &parameters, &fit, u_rows))
}

fn check(engine: &Engine, readings: &Readings, chain: &Chain<'_>) -> Result<(), NotFitted> {
    if let Some(unknown) = readings.unknown.iter().find(|unknown| !unknown.applies(engine)) {
        return Err(NotFitted::NoSuchPart(unknown.name()));
    }
    let marked = readings.rows.iter().any(|row| row.seen.kind() == super::SeenKind::Mark);
    if marked && engine.gear.mark_radius.is_none() {
        return Err(NotFitted::NoMarkRadius);
    }
    let sensed = readings.rows.iter().any(|row| matches!(row.servo, ServoAt::Sensor(_)));
    if sensed && (engine.servo.sensor_closed.is_none() || engine.servo.sensor_open.is_none()) {
        return Err(NotFitted::NoSensorEnds);
    }
    if !readings.unknown.contains(&Unknown::OpeningSlack) && chain.slack_as_found_m().is_none() {
        return Err(NotFitted::NoSlack);
    }
    Ok(())
}

fn parameters(engine: &Engine, readings: &Readings, chain: &Chain<'_>) -> Vec<Parameter> {
    readings
        .unknown
        .iter()
        .map(|unknown| match unknown {
            Unknown::Figure(_) => {
                let before = unknown.of(engine).unwrap_or_else(|| Measured::exact(1.0, Dimension::Number));
                let parameter = Parameter::new(unknown.name(), before.value);
                let known = readings.weigh_engine_file && before.u > 0.0;
                if known { parameter.known_within(before.u) } else { parameter }
            }
            Unknown::OpeningSlack => {
                let start_m = chain.slack_as_found_m().unwrap_or(START_SLACK_M);
                Parameter::new(unknown.name(), start_m).of_size(SIZE_M)
            }
            Unknown::MarkZero => Parameter::new(unknown.name(), 0.0).of_size(SIZE_M),
        })
        .collect()
}

fn search(
    chain: &Chain<'_>,
    readings: &Readings,
    parameters: &[Parameter],
    u_rows: &[f64],
) -> Result<Fit, NotFitted> {
    let values = readings.rows.iter().map(|row| row.seen.figure().value).collect();
    let read = fit::Readings::with_u(values, u_rows.to_vec());
    let model = |values: &[f64], out: &mut [f64]| chain.predict(values, out);
    fit::fit(parameters, &read, model).map_err(|error| match error {
        FitError::CannotTell { confusion } => NotFitted::CannotTell(confusion),
        FitError::NoEffect { name, .. } => {
            mistaken(parameters, u_rows, model).unwrap_or(NotFitted::NoEffect(name))
        }
        FitError::NotSettled { .. } => mistaken(parameters, u_rows, model).unwrap_or(NotFitted::NotSettled),
        other => NotFitted::Search(other),
    })
}

/// Why a search ran off: of readings that fit the start without any error, the same unknowns are sought. What these cannot
/// tell apart, no others taken at the same places can.
fn mistaken(
    parameters: &[Parameter],
    u_rows: &[f64],
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Option<NotFitted> {
    let start: Vec<f64> = parameters.iter().map(|one| one.start).collect();
    let mut values = vec![0.0; u_rows.len()];
    if !model(&start, &mut values) {
        return None;
    }
    match fit::fit(parameters, &fit::Readings::with_u(values, u_rows.to_vec()), model) {
        Ok(fit) => fit.confusion.map(NotFitted::CannotTell),
        Err(FitError::CannotTell { confusion }) => Some(NotFitted::CannotTell(confusion)),
        Err(_) => None,
    }
}

/// Standard uncertainty of each reading with the error of where the servo stood and of the gap.
fn u_rows(chain: &Chain<'_>, readings: &Readings, values: &[f64]) -> Vec<f64> {
    const STEP_RAD: f64 = 1e-3;
    const STEP_M: f64 = 2e-5;
    let posed = chain.posed(values);
    let one = |row: &Row| {
        let own = row.seen.figure().u;
        let gap_m = row.gap.as_ref().map(|gap| gap.value);
        let see = |servo_rad: f64, gap_m: Option<f64>| posed.see_at(&row.seen, servo_rad, row.way, gap_m);
        let slopes = posed.servo_rad(row).and_then(|at| {
            let by_servo = (see(at + STEP_RAD, gap_m)? - see(at - STEP_RAD, gap_m)?) / (2.0 * STEP_RAD);
            let by_gap = match gap_m {
                Some(gap) => (see(at, Some(gap + STEP_M))? - see(at, Some(gap - STEP_M))?) / (2.0 * STEP_M),
                None => 0.0,
            };
            Some((by_servo * posed.servo_u_rad(row), by_gap * row.gap.as_ref().map_or(0.0, |gap| gap.u)))
        });
        let (by_servo, by_gap) = slopes.unwrap_or((0.0, 0.0));
        (own.powi(2) + by_servo.powi(2) + by_gap.powi(2)).sqrt()
    };
    readings.rows.iter().map(one).collect()
}

fn described(
    engine: &Engine,
    readings: &Readings,
    chain: &Chain<'_>,
    parameters: &[Parameter],
    fit: &Fit,
    u_rows: Vec<f64>,
) -> Fitted {
    let found: Vec<f64> = fit.estimates.iter().map(|estimate| estimate.value).collect();
    let (shifts, not_followed) = shifts(chain, readings, parameters, &found, &u_rows);
    let count = found.len();
    let covariance = |i: usize, j: usize| {
        let own =
            if i == j { fit.estimates.get(i).map_or(0.0, |one| one.u.powi(2)) } else { fit.covariance(i, j) };
        own + shifts
            .iter()
            .map(|shift| shift.get(i).zip(shift.get(j)).map_or(0.0, |(a, b)| a * b))
            .sum::<f64>()
    };
    let u: Vec<f64> = (0..count).map(|i| covariance(i, i).max(0.0).sqrt()).collect();
    let correlated = |i: usize, j: usize| {
        if i == j { 1.0 } else { u.get(i).zip(u.get(j)).map_or(0.0, |(a, b)| covariance(i, j) / (a * b)) }
    };
    let mut predicted = vec![0.0; readings.rows.len()];
    chain.predict(&found, &mut predicted);
    let estimate = |((unknown, own), u): ((&Unknown, &fit::Estimate), &f64)| Estimate {
        unknown: *unknown,
        dimension: unknown.dimension(engine),
        value: own.value,
        u_readings: own.u,
        u: *u,
        before: unknown.of(engine),
    };
    Fitted {
        estimates: readings.unknown.iter().zip(&fit.estimates).zip(&u).map(estimate).collect(),
        correlation: (0..count).map(|i| (0..count).map(|j| correlated(i, j)).collect()).collect(),
        predicted,
        residuals: fit.residuals.values.clone(),
        u_rows,
        chi_squared: fit.residuals.chi_squared,
        degrees_of_freedom: fit.residuals.degrees_of_freedom,
        chi_squared_above: fit.residuals.chi_squared_above,
        doubts: fit.residuals.doubts(),
        confusion: fit.confusion.clone(),
        not_followed,
    }
}

/// How far every unknown moves when one other figure of the gear is off by its standard uncertainty, figure by figure;
/// and the figures for which the search found nothing.
fn shifts(
    chain: &Chain<'_>,
    readings: &Readings,
    parameters: &[Parameter],
    found: &[f64],
    u_rows: &[f64],
) -> (Vec<Vec<f64>>, Vec<String>) {
    let (mut shifts, mut lost) = (Vec::new(), Vec::new());
    let from: Vec<Parameter> = parameters
        .iter()
        .zip(found)
        .map(
            |(one, value)| {
                if one.known.is_some() { one.clone() } else { Parameter { start: *value, ..one.clone() } }
            },
        )
        .collect();
    for (key, u) in chain.others() {
        let moved = chain.with_moved(&key, u).and_then(|moved| search(&moved, readings, &from, u_rows).ok());
        match moved {
            Some(fit) => {
                shifts.push(fit.estimates.iter().zip(found).map(|(one, value)| one.value - value).collect());
            }
            None => lost.push(key),
        }
    }
    (shifts, lost)
}
