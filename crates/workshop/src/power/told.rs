//! The map told: what to read off it, in sentences and rows.

use super::costs::{CostRow, costs, own_schedule};
use super::setting_curve::{SettingPoint, setting_curve, turned};
use super::{SAME, Turned, torque_text};
use crate::Answer;
use gas::map::{Grid, Peak, Schedule, best, crossings};
use quantity::{Dimension, Units};
use serde::Serialize;

/// Share of the torque by which closed and open must differ on both sides of a crossing that is told.
const TELLING: f64 = 0.01;

/// Turns of the opening adjuster whose worth is told.
const TURNS: [f64; 4] = [-1.0, -0.5, 0.5, 1.0];

/// What one speed gives, SI.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToldSpeed {
    /// Engine speed, rad/s.
    pub speed_rad_s: f64,
    /// Torque with the valve closed, N m.
    pub closed_n_m: Option<f64>,
    /// Torque with the edge at the highest lift of the map, N m.
    pub open_n_m: Option<f64>,
    /// Lift with the most torque, and those around it that lose no more than [`SAME`] of it.
    pub peak: Option<Peak>,
    /// Lift of the best schedule, m.
    pub best_m: Option<f64>,
    /// With the setting that is looked at.
    pub own: SettingPoint,
}

/// Everything that is told of a map for one engine; numbers SI, sentences in the chosen units.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// What to read off it, most important first.
    pub statements: Vec<String>,
    /// By speed.
    pub speeds: Vec<ToldSpeed>,
    /// The best schedule that never closes again with rising speed; none where nothing settled.
    pub best: Option<Schedule>,
    /// The engine's own schedule with the valve set as proposed.
    pub own: Schedule,
    /// Speeds at which closed and open give the same torque, rad/s.
    pub crossings_rad_s: Vec<f64>,
    /// The opening adjuster turned; empty where no setting is known.
    pub turned: Vec<Turned>,
    /// What being wrong costs.
    pub costs: Vec<CostRow>,
    /// What it rests on.
    pub rests_on: Vec<String>,
}

impl ToldSpeed {
    /// Share of the best torque at this speed that the setting's lift gives away; none where either is missing.
    pub fn given_away(&self) -> Option<f64> {
        Some(1.0 - self.own.torque_n_m? / self.peak?.torque_n_m)
    }
}

/// Reads the map for one engine. `steepest_m_per_rad_s` is how fast the actuator can follow, in m of lift for each rad/s
/// of engine speed (infinite for one that follows at once); `leaky` a map with a leak past the blade, in m², if one was
/// run.
pub fn told(answer: &Answer, grid: &Grid, leaky: Option<(f64, &Grid)>, steepest_m_per_rad_s: f64) -> Told {
    let (low, high) = grid.lift_range_m();
    let setting = answer.solution().proposed().or(answer.solution().present);
    let best = best(grid, steepest_m_per_rad_s);
    let none = gear::Setting { opening_slack_m: 0.0, closing_slack_m: 0.0 };
    let own_curve = setting_curve(answer, grid, setting.unwrap_or(none));
    let one = |(row, own): (usize, SettingPoint)| ToldSpeed {
        speed_rad_s: own.speed_rad_s,
        closed_n_m: grid.at_row(row, low),
        open_n_m: grid.at_row(row, high),
        peak: grid.peak(row, SAME),
        best_m: best.as_ref().map(|schedule| schedule.lift_m(own.speed_rad_s)),
        own,
    };
    let speeds: Vec<ToldSpeed> = own_curve.into_iter().enumerate().map(one).collect();
    let mut told = Told {
        statements: Vec::new(),
        speeds,
        own: own_schedule(answer, grid),
        crossings_rad_s: crossings(grid, low, high, TELLING),
        turned: setting.map_or_else(Vec::new, |s| TURNS.map(|t| turned(answer, grid, s, t)).to_vec()),
        costs: costs(answer, grid, leaky),
        best,
        rests_on: rests_on(setting.is_some()),
    };
    told.statements = statements(&told, answer, (low, high));
    told
}

fn statements(told: &Told, answer: &Answer, lifts: (f64, f64)) -> Vec<String> {
    let words = Words(answer.units);
    [
        crossing(told, &words),
        peaks(told, &words),
        schedule(told, answer, lifts, &words),
        half_turn(told, &words),
        dearest(told, &words),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Figures in the chosen units.
struct Words(Units);

impl Words {
    fn rpm(&self, speed_rad_s: f64) -> String {
        let rpm = speed_rad_s * 30.0 / std::f64::consts::PI;
        format!("{} rpm", (rpm / 50.0).round() * 50.0)
    }

    fn torque(&self, n_m: f64) -> String {
        torque_text(n_m, 1, self.0)
    }

    /// Torque with two decimals, for differences.
    fn small(&self, n_m: f64) -> String {
        torque_text(n_m, 2, self.0)
    }

    fn power(&self, w: f64) -> String {
        quantity::show_with(w, 1, Dimension::Power, self.0)
    }
}

fn crossing(told: &Told, words: &Words) -> Option<String> {
    match told.crossings_rad_s[..] {
        [one] => Some(format!(
            "Below {0} the closed valve gives more torque, above {0} the open one.",
            words.rpm(one)
        )),
        [] => {
            let ahead = told.speeds.iter().find_map(|s| Some(s.closed_n_m? - s.open_n_m?))?;
            let word = if ahead > 0.0 { "closed" } else { "open" };
            Some(format!("At every speed of this map the {word} valve gives more torque."))
        }
        _ => {
            let at: Vec<String> = told.crossings_rad_s.iter().map(|s| words.rpm(*s)).collect();
            Some(format!(
                "The torque with the valve closed and with it open is the same at {}.",
                at.join(", ")
            ))
        }
    }
}

fn peaks(told: &Told, words: &Words) -> Option<String> {
    let most = |torque: fn(&ToldSpeed) -> Option<f64>| {
        let power = |s: &ToldSpeed| Some((torque(s)? * s.speed_rad_s, s.speed_rad_s));
        told.speeds.iter().filter_map(power).max_by(|a, b| a.0.total_cmp(&b.0))
    };
    let (closed, open) = (most(|s| s.closed_n_m)?, most(|s| s.open_n_m)?);
    Some(format!(
        "Held closed, power is greatest near {} with {}; held open, near {} with {}.",
        words.rpm(closed.1),
        words.power(closed.0),
        words.rpm(open.1),
        words.power(open.0)
    ))
}

fn schedule(told: &Told, answer: &Answer, (low, high): (f64, f64), words: &Words) -> Option<String> {
    let best = told.best.as_ref()?;
    let opening = best.opening_speed_rad_s(low, high);
    let full = best.full_open_speed_rad_s(low, high);
    let said = match (opening, full) {
        (Some(opening), Some(full)) => format!(
            "The best schedule of this map begins to open at {} and is fully open at {}",
            words.rpm(opening),
            words.rpm(full)
        ),
        (Some(opening), None) => format!(
            "The best schedule of this map begins to open at {} and is not fully open at its highest speed",
            words.rpm(opening)
        ),
        (None, _) => {
            "The best schedule of this map holds the valve where it is at its lowest speed".to_string()
        }
    };
    let schedule = &answer.engine.schedule;
    Some(format!(
        "{said}; this engine's controller opens from {} to {}.",
        words.rpm(schedule.opening_speed.value),
        words.rpm(schedule.full_open_speed.value)
    ))
}

fn half_turn(told: &Told, words: &Words) -> Option<String> {
    let greatest = |turns: f64| {
        let turned = told.turned.iter().find(|turned| turned.turns == turns)?;
        let gains = turned.gains_n_m.iter().zip(&turned.points);
        let known = gains.filter_map(|(gain, point)| Some((gain.as_ref().copied()?, point.speed_rad_s)));
        known.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
    };
    let (out, back) = (greatest(0.5)?, greatest(-0.5)?);
    let say = |(gain, speed): (f64, f64)| {
        if gain == 0.0 {
            return "changes nothing at any speed".to_string();
        }
        let word = if gain > 0.0 { "adds" } else { "takes" };
        format!("{word} at most {} (at {})", words.small(gain.abs()), words.rpm(speed))
    };
    Some(format!(
        "From the proposed setting, half a turn out on the opening adjuster {}; half a turn in {}.",
        say(out),
        say(back)
    ))
}

fn dearest(told: &Told, words: &Words) -> Option<String> {
    let worst = |row: &CostRow| Some((row.worst?, row.name.clone()));
    let ((lost, speed), name) = told.costs.iter().filter_map(worst).max_by(|a, b| a.0.0.total_cmp(&b.0.0))?;
    Some(format!(
        "The dearest of the faults below: {name}, {} less at {}.",
        words.torque(lost),
        words.rpm(speed)
    ))
}

fn rests_on(known: bool) -> Vec<String> {
    let mut out = vec![
        "The torque is computed by one-dimensional gas dynamics from the figures of the engine file; no measured curve of \
         this engine stands behind it. It may be off by a fifth and more, mostly by discharge coefficients, scavenging \
         and burning. Differences between two valve positions are surer."
            .to_string(),
        "Torque within 0.5 % of the best counts as the same.".to_string(),
        "The controller is taken to send the servo to park below its opening speed, to full travel from its full-open speed \
         on, and straight between (no source)."
            .to_string(),
        "A valve that stands above flush is taken as flush: what an edge inside the duct does to the flow is not computed. \
         Its cost is the strain that the setting page shows."
            .to_string(),
    ];
    if !known {
        out.push(
            "No setting is known for this job card: the curve of the setting is drawn for wires without slack."
                .to_string(),
        );
    }
    out
}
