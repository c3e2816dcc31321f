//! A map as it is kept: every point without its traces, which are run again when they are looked at.

use super::Wanted;
use gas::cycle::{NotConverged, Point, Traces};
use gas::map::Grid;
use serde::{Deserialize, Serialize};

/// What a point came to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Cell {
    /// A steady cycle.
    Point(Box<Point>),
    /// None, with the sentence that says why.
    Failed(String),
}

impl Cell {
    pub(super) fn of(outcome: Result<Point, NotConverged>) -> Self {
        match outcome {
            Ok(point) => Self::Point(Box::new(Point { traces: Traces::default(), ..point })),
            Err(why) => Self::Failed(why.to_string()),
        }
    }

    /// The point, where there is one.
    pub(crate) fn point(&self) -> Option<&Point> {
        match self {
            Self::Point(point) => Some(point),
            Self::Failed(_) => None,
        }
    }
}

/// A map, whole or as far as it came.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct TorqueMap {
    /// Its points.
    pub wanted: Wanted,
    /// By speed, then by lift; none where a speed was not run yet.
    pub rows: Vec<Option<Vec<Cell>>>,
    /// The same with the leak past the blade; empty without one.
    pub leaky: Vec<Option<Vec<Cell>>>,
    /// What was assumed for figures that the engine file does not give.
    pub assumptions: Vec<String>,
}

impl TorqueMap {
    /// A map of which nothing is run yet.
    pub(super) fn empty(wanted: Wanted, assumptions: Vec<String>) -> Self {
        let rows = vec![None; wanted.speeds_rad_s.len()];
        let leaky = if wanted.leak_m2.is_some() { rows.clone() } else { Vec::new() };
        Self { wanted, rows, leaky, assumptions }
    }

    /// Whether every speed was run.
    pub(crate) fn whole(&self) -> bool {
        self.rows.iter().chain(&self.leaky).all(Option::is_some)
    }

    /// Torque by speed and lift; none where too little was run to read between.
    pub(crate) fn grid(&self) -> Option<Grid> {
        self.of(&self.rows)
    }

    /// The same with the leak.
    pub(crate) fn leaky_grid(&self) -> Option<Grid> {
        self.of(&self.leaky)
    }

    fn of(&self, rows: &[Option<Vec<Cell>>]) -> Option<Grid> {
        rows.iter().flatten().next()?;
        let lifts = self.wanted.lifts_m.len();
        let torque = |row: &Option<Vec<Cell>>| match row {
            Some(cells) => cells.iter().map(|cell| cell.point().map(|point| point.torque_n_m)).collect(),
            None => vec![None; lifts],
        };
        let torque = rows.iter().map(torque).collect();
        Grid::new(self.wanted.speeds_rad_s.clone(), self.wanted.lifts_m.clone(), torque).ok()
    }

    /// Every sentence about points that failed or lie outside of what was checked, each once, with how many points say
    /// so.
    pub(crate) fn doubts(&self) -> Vec<(String, usize)> {
        let mut doubts: Vec<(String, usize)> = Vec::new();
        let mut add = |text: &str| match doubts.iter_mut().find(|(known, _)| known == text) {
            Some((_, count)) => *count += 1,
            None => doubts.push((text.to_owned(), 1)),
        };
        for cell in self.rows.iter().flatten().flatten() {
            match cell {
                Cell::Failed(why) => add(why),
                Cell::Point(point) => point.warnings.iter().for_each(|warning| add(warning)),
            }
        }
        doubts
    }
}
