//! What the gear says should have been read.

use super::readings::{Readings, Row, Seen, ServoAt, Unknown};
use crate::setting::case::Case;
use crate::setting::present::Sources;
use engine::model::Engine;
use gear::{Direction, Regime, Setting};

/// An engine with its readings, ready to be asked what should have been read for any value of the unknowns.
#[derive(Debug, Clone)]
pub(super) struct Chain<'a> {
    engine: Engine,
    readings: &'a Readings,
    sources: Sources,
    /// Gap at which the slack is told, m; none where no row turns the adjuster.
    gap_m: Option<f64>,
}

impl<'a> Chain<'a> {
    pub(super) fn new(engine: &Engine, readings: &'a Readings) -> Self {
        let mut engine = engine.clone();
        engine.for_each_figure(&mut |_, figure| figure.written = None);
        let sources = Sources::of(&engine.found, &Case::of(&engine));
        let as_found = engine.found.opening_gap.as_ref().map(|gap| gap.value);
        let first = readings.rows.iter().find_map(|row| Some(row.gap.as_ref()?.value));
        Self { engine, readings, sources, gap_m: first.map(|first| as_found.unwrap_or(first)) }
    }

    /// Slack of the opening cable that the readings of the state as found tell, m.
    pub(super) fn slack_as_found_m(&self) -> Option<f64> {
        let case = Case::of(&self.engine);
        let closing_m = self.closing_m(&self.engine, &case);
        self.sources.opening_slack_m(&self.engine.found, &case, closing_m)
    }

    fn closing_m(&self, engine: &Engine, case: &Case) -> f64 {
        self.sources.closing_slack_m(&engine.found, case).unwrap_or(0.0)
    }

    /// The same chain with one figure of the engine moved; none when the engine has no such figure.
    pub(super) fn with_moved(&self, wanted: &str, by: f64) -> Option<Self> {
        let mut moved = self.clone();
        let mut done = false;
        moved.engine.for_each_figure(&mut |key, figure| {
            if key == wanted {
                figure.value += by;
                done = true;
            }
        });
        done.then_some(moved)
    }

    /// Writes what should have been read, SI, row by row; false where the values make no gear.
    pub(super) fn predict(&self, values: &[f64], out: &mut [f64]) -> bool {
        let posed = self.posed(values);
        let rows = self.readings.rows.iter().zip(out);
        rows.map(|(row, slot)| posed.see(row).map(|value| *slot = value)).all(|done| done.is_some())
    }

    /// The gear with the unknowns at `values`.
    pub(super) fn posed(&self, values: &[f64]) -> Posed {
        let mut engine = self.engine.clone();
        let (mut slack_m, mut zero_m) = (None, 0.0);
        for (unknown, value) in self.readings.unknown.iter().zip(values) {
            match unknown {
                Unknown::Figure(wanted) => engine.for_each_figure(&mut |key, figure| {
                    if key == *wanted {
                        figure.value = *value;
                    }
                }),
                Unknown::OpeningSlack => slack_m = Some(*value),
                Unknown::MarkZero => zero_m = *value,
            }
        }
        let case = Case::of(&engine);
        let closing_m = self.closing_m(&engine, &case);
        let slack_m = slack_m
            .or_else(|| self.sources.opening_slack_m(&engine.found, &case, closing_m))
            .unwrap_or(f64::NAN);
        Posed {
            rising: Regime::new(&case.mechanism, Direction::Rising),
            falling: Regime::new(&case.mechanism, Direction::Falling),
            setting: Setting { opening_slack_m: slack_m, closing_slack_m: closing_m },
            gap_m: self.gap_m,
            zero_m,
            mark_radius_m: engine.gear.mark_radius.as_ref().map_or(f64::NAN, |radius| radius.value),
            sensor: sensor_ends(&engine),
            case,
        }
    }

    /// Figures of the engine that have a part in what is read and are not sought: key and standard uncertainty.
    pub(super) fn others(&self) -> Vec<(String, f64)> {
        let sought = |key: &str| self.readings.unknown.iter().any(|unknown| unknown.key() == key);
        let mut others = Vec::new();
        self.engine.clone().for_each_figure(&mut |key, figure| {
            let part = ["gear.", "valve.", "servo.", "found."].iter().any(|start| key.starts_with(start));
            if part && figure.u > 0.0 && !sought(key) {
                others.push((key.to_owned(), figure.u));
            }
        });
        others
    }
}

/// Sensor at closed park and at full travel, Ω.
fn sensor_ends(engine: &Engine) -> Option<(f64, f64)> {
    let (closed, open) = (engine.servo.sensor_closed.as_ref()?, engine.servo.sensor_open.as_ref()?);
    Some((closed.value, open.value))
}

/// The gear with its unknowns at some values.
pub(super) struct Posed {
    case: Case,
    rising: Regime,
    falling: Regime,
    setting: Setting,
    gap_m: Option<f64>,
    zero_m: f64,
    mark_radius_m: f64,
    sensor: Option<(f64, f64)>,
}

impl Posed {
    /// Where the servo stood, rad; the sensor counts as straight between its two ends.
    pub(super) fn servo_rad(&self, row: &Row) -> Option<f64> {
        match &row.servo {
            ServoAt::Travel(figure) => Some(figure.value),
            ServoAt::Sensor(figure) => {
                let (closed, open) = self.sensor?;
                Some((figure.value - closed) / (open - closed) * self.case.full_rad)
            }
        }
        .filter(|rad| rad.is_finite())
    }

    /// Standard uncertainty of that place, rad.
    pub(super) fn servo_u_rad(&self, row: &Row) -> f64 {
        match (&row.servo, self.sensor) {
            (ServoAt::Travel(figure), _) => figure.u,
            (ServoAt::Sensor(figure), Some((closed, open))) => {
                (figure.u / (open - closed) * self.case.full_rad).abs()
            }
            (ServoAt::Sensor(_), None) => 0.0,
        }
    }

    /// Full travel of the servo, rad.
    pub(super) fn full_rad(&self) -> f64 {
        self.case.full_rad
    }

    /// What should be seen in a row.
    pub(super) fn see(&self, row: &Row) -> Option<f64> {
        let gap_m = row.gap.as_ref().map(|gap| gap.value);
        self.see_at(&row.seen, self.servo_rad(row)?, row.way, gap_m)
    }

    /// What should be seen with the servo somewhere else.
    pub(super) fn see_at(
        &self,
        seen: &Seen,
        servo_rad: f64,
        way: Direction,
        gap_m: Option<f64>,
    ) -> Option<f64> {
        // A wider gap takes up slack: their sum stays, however the adjuster stands.
        let taken_m = gap_m.zip(self.gap_m).map_or(0.0, |(gap, as_found)| gap - as_found);
        let setting = Setting { opening_slack_m: self.setting.opening_slack_m - taken_m, ..self.setting };
        let regime = if way == Direction::Rising { &self.rising } else { &self.falling };
        let state = regime.solve(setting, servo_rad);
        let value = match seen {
            Seen::Mark(_) => self.mark_radius_m * state.valve_travel_rad + self.zero_m,
            Seen::Valve(_) => state.valve_travel_rad,
            Seen::Edge(_) => self.case.law.lift_m(state.valve_travel_rad),
            Seen::Pull(_) => state.opening_tension_valve_n,
        };
        value.is_finite().then_some(value)
    }
}
