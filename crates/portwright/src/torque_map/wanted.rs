//! Which points a map is made of.

use super::choice::{Choice, Petals, Scavenging};
use engine::model::Engine;
use gas::cycle::Settings;
use quantity::{Dimension, parse};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// Speeds and lifts when nothing else is asked for.
const USUAL: (usize, usize) = (24, 8);
/// Most of each that are taken on.
const MOST: (usize, usize) = (96, 32);
/// Mean piston speed at the ends of the usual range, m/s: below, such engines hardly run; above, few last
/// (common practice, no source).
const PISTON_M_S: (f64, f64) = (5.0, 24.0);
/// Leak past the blade whose cost is told, m²: a slit of 0.5 mm along 40 mm.
const LEAK_M2: f64 = 20e-6;

/// The points of a map.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Wanted {
    /// Speeds, rad/s, rising.
    pub speeds_rad_s: Vec<f64>,
    /// Valve edge above closed, m, rising, from closed to flush.
    pub lifts_m: Vec<f64>,
    /// Throttle, 0 to 1; none takes that of the engine file.
    pub throttle: Option<f64>,
    /// Leak past the blade, m², whose cost is to be told by a second map; none for no such map.
    pub leak_m2: Option<f64>,
    /// How the reed's petals follow.
    #[serde(default)]
    pub petals: Petals,
    /// What leaves the cylinder while it is scavenged.
    #[serde(default)]
    pub scavenging: Scavenging,
}

/// What cannot be a map: option or field, and a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct WantedProblem {
    /// Name of the field.
    pub field: &'static str,
    /// What is wrong and how to mend it.
    pub text: String,
}

/// What was typed; empty texts take what is usual.
#[derive(Debug, Clone, Default)]
pub(crate) struct Typed<'a> {
    pub from: &'a str,
    pub to: &'a str,
    pub speeds: &'a str,
    pub lifts: &'a str,
    pub throttle: &'a str,
    pub leak: &'a str,
    pub petals: &'a str,
    pub scavenging: &'a str,
}

impl Wanted {
    /// The usual map of an engine: 24 speeds between mean piston speeds of 5 and 24 m/s, 8 lifts from closed to flush, a
    /// leak of 20 mm² beside it.
    pub(crate) fn usual(engine: &Engine) -> Self {
        let (from, to) = usual_range(engine);
        Self::spread(engine, (from, to), USUAL, None, Some(LEAK_M2))
    }

    fn spread(
        engine: &Engine,
        (from, to): (f64, f64),
        (speeds, lifts): (usize, usize),
        throttle: Option<f64>,
        leak_m2: Option<f64>,
    ) -> Self {
        let even = |low: f64, high: f64, many: usize| -> Vec<f64> {
            (0..many).map(|at| low + (high - low) * at as f64 / (many - 1) as f64).collect()
        };
        let flush_m = engine.valve.closed_drop.value;
        Self {
            speeds_rad_s: even(from, to, speeds),
            lifts_m: even(0.0, flush_m, lifts),
            throttle,
            leak_m2,
            petals: Petals::default(),
            scavenging: Scavenging::default(),
        }
    }

    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read, with its range and the way to mend it.
    pub(crate) fn typed(engine: &Engine, typed: &Typed<'_>) -> Result<Self, WantedProblem> {
        let usual = usual_range(engine);
        let from = speed("from", typed.from, usual.0)?;
        let to = speed("to", typed.to, usual.1)?;
        if to - from < 100.0 * PI / 30.0 {
            let rpm = |speed: f64| format!("{:.0} rpm", speed * 30.0 / PI);
            let text = format!(
                "the highest speed, {}, must be 100 rpm or more above the lowest, {}; raise it",
                rpm(to),
                rpm(from)
            );
            return Err(WantedProblem { field: "to", text });
        }
        let speeds = count("speeds", typed.speeds, USUAL.0, MOST.0)?;
        let lifts = count("lifts", typed.lifts, USUAL.1, MOST.1)?;
        let throttle = share("throttle", typed.throttle)?;
        let leak_m2 = match typed.leak.trim() {
            "" => Some(LEAK_M2),
            "none" | "0" => None,
            text => Some(area("leak", text)?),
        };
        let (petals, scavenging) = (Petals::read(typed.petals)?, Scavenging::read(typed.scavenging)?);
        let spread = Self::spread(engine, (from, to), (speeds, lifts), throttle, leak_m2);
        Ok(Self { petals, scavenging, ..spread })
    }

    /// How the points are run.
    pub(crate) fn settings(&self) -> Settings {
        Settings {
            throttle: self.throttle,
            reed: self.petals.into(),
            scavenging: self.scavenging.into(),
            ..Settings::default()
        }
    }
}

fn usual_range(engine: &Engine) -> (f64, f64) {
    let at = |piston_m_s: f64| piston_m_s * PI / engine.crank.stroke.value;
    // Whole hundreds of rpm read better.
    let tidy = |speed: f64| (speed * 30.0 / PI / 100.0).round() * 100.0 * PI / 30.0;
    (tidy(at(PISTON_M_S.0)), tidy(at(PISTON_M_S.1)))
}

fn speed(field: &'static str, text: &str, usual: f64) -> Result<f64, WantedProblem> {
    if text.trim().is_empty() {
        return Ok(usual);
    }
    let speed = parse(text, Dimension::Speed)
        .map_err(|error| WantedProblem { field, text: error.to_string() })?
        .value;
    if (1000.0..=25_000.0).contains(&(speed * 30.0 / PI)) {
        return Ok(speed);
    }
    Err(WantedProblem { field, text: format!("{text} is outside of 1000 rpm to 25000 rpm") })
}

fn count(field: &'static str, text: &str, usual: usize, most: usize) -> Result<usize, WantedProblem> {
    if text.trim().is_empty() {
        return Ok(usual);
    }
    match text.trim().parse() {
        Ok(count) if (2..=most).contains(&count) => Ok(count),
        _ => Err(WantedProblem { field, text: format!("'{text}' must be a whole number from 2 to {most}") }),
    }
}

fn share(field: &'static str, text: &str) -> Result<Option<f64>, WantedProblem> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let share = parse(text, Dimension::Number)
        .map_err(|error| WantedProblem { field, text: error.to_string() })?
        .value;
    if (0.05..=1.0).contains(&share) {
        return Ok(Some(share));
    }
    Err(WantedProblem { field, text: format!("{text} must be 5 % to 100 % of the way to wide open") })
}

fn area(field: &'static str, text: &str) -> Result<f64, WantedProblem> {
    let area =
        parse(text, Dimension::Area).map_err(|error| WantedProblem { field, text: error.to_string() })?.value;
    if (1e-6..=2e-4).contains(&area) {
        return Ok(area);
    }
    Err(WantedProblem { field, text: format!("{text} is outside of 1 mm² to 200 mm²") })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Engine {
        engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine
    }

    #[test]
    fn exact_usual_map_reaches_from_closed_to_flush() {
        let engine = demo();
        let wanted = Wanted::usual(&engine);
        assert_eq!((wanted.speeds_rad_s.len(), wanted.lifts_m.len()), USUAL);
        assert_eq!(wanted.lifts_m[0], 0.0);
        assert!((wanted.lifts_m[7] - engine.valve.closed_drop.value).abs() < 1e-15);
        let rpm = wanted.speeds_rad_s[0] * 30.0 / PI;
        assert!((rpm / 100.0 - (rpm / 100.0).round()).abs() < 1e-9);
        let none = Wanted::typed(&engine, &Typed::default()).unwrap();
        assert_eq!(none, wanted);
    }

    #[test]
    fn refuses_what_is_no_map_by_field() {
        let engine = demo();
        for (typed, field) in [
            (Typed { from: "8000", ..Typed::default() }, "from"),
            (Typed { from: "500 rpm", ..Typed::default() }, "from"),
            (Typed { from: "8000 rpm", to: "8010 rpm", ..Typed::default() }, "to"),
            (Typed { speeds: "1", ..Typed::default() }, "speeds"),
            (Typed { lifts: "many", ..Typed::default() }, "lifts"),
            (Typed { throttle: "3", ..Typed::default() }, "throttle"),
            (Typed { leak: "3 mm", ..Typed::default() }, "leak"),
            (Typed { leak: "3 cm²", ..Typed::default() }, "leak"),
            (Typed { petals: "soft", ..Typed::default() }, "petals"),
            (Typed { scavenging: "uniflow", ..Typed::default() }, "scavenging"),
        ] {
            let problem = Wanted::typed(&engine, &typed).unwrap_err();
            assert_eq!(problem.field, field, "{problem:?}");
            assert!(!problem.text.is_empty());
        }
        let asked = Typed {
            from: "5000 rpm",
            to: "9000 rpm",
            speeds: "5",
            lifts: "3",
            throttle: "60 %",
            leak: "none",
            petals: "swinging",
            scavenging: "mixing",
        };
        let wanted = Wanted::typed(&engine, &asked).unwrap();
        assert_eq!(
            (wanted.speeds_rad_s.len(), wanted.lifts_m.len(), wanted.throttle, wanted.leak_m2),
            (5, 3, Some(0.6), None)
        );
        let settings = wanted.settings();
        assert_eq!(settings.reed, gas::cycle::ReedChoice::Swinging);
        assert_eq!(settings.scavenging, gas::cycle::ScavengingChoice::PerfectMixing);
    }
}
