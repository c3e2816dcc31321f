//! `portwright map`: torque by speed and lift, the best schedule, what a wrong setting costs.

use super::failure::Failure;
use super::input::Source;
use super::output::{self, Target};
use super::text::Text;
use crate::torque_map::{Standing, TorqueMap, Typed, Wanted, csv, run_here};
use quantity::{Dimension, Units, show_with};
use std::f64::consts::PI;
use std::io::{IsTerminal, Write};
use std::process::ExitCode;
use workshop::power::{self, Told, torque_text};

/// Make a map.
#[derive(Debug)]
pub(crate) struct MapJob {
    /// Engine file.
    pub source: Source,
    /// Which points, as typed: from, to, speeds, lifts, throttle, leak, petals, scavenging.
    pub typed: [String; 8],
    /// Where the points go as CSV.
    pub csv: Option<Target>,
    /// Units shown.
    pub units: Units,
    /// Answer as JSON.
    pub json: bool,
}

/// Makes it and tells what to read off it.
pub(crate) fn run(job: &MapJob) -> Result<ExitCode, Failure> {
    let kept = job.source.read()?;
    let engine = &kept.reading.engine;
    let [from, to, speeds, lifts, throttle, leak, petals, scavenging] = &job.typed;
    let typed = Typed { from, to, speeds, lifts, throttle, leak, petals, scavenging };
    let wanted = Wanted::typed(engine, &typed)
        .map_err(|problem| Failure::Usage(format!("--{}: {}.", problem.field, problem.text)))?;
    let place = job.csv.as_ref().map(Target::open).transpose()?;
    let map = run_here(&kept.text, engine, wanted, Meter::new(job.json).told()).map_err(Failure::Other)?;
    if let Some(place) = place {
        place.write(csv(&map).as_bytes())?;
    }
    let Some(grid) = map.grid() else {
        return Err(Failure::Other("Not enough points came to a steady cycle for a map.".to_owned()));
    };
    let answer = kept.answer(job.units);
    let leaky = map.leaky_grid();
    let steepest = power::steepest_m_per_rad_s(&grid, power::USUAL_FOLLOW_RPM);
    let told = power::told(&answer, &grid, map.wanted.leak_m2.zip(leaky.as_ref()), steepest);
    output::print(&if job.json {
        let told = serde_json::json!({ "engine": engine.name, "map": map, "told": told });
        format!("{told:#}\n")
    } else {
        as_text(&engine.name, engine.invented, &map, &told, job.units)
    })?;
    Ok(ExitCode::SUCCESS)
}

/// How far it is, on a terminal only.
struct Meter {
    shown: bool,
    last: usize,
}

impl Meter {
    fn new(json: bool) -> Self {
        Self { shown: !json && std::io::stderr().is_terminal(), last: usize::MAX }
    }

    fn told(mut self) -> impl FnMut(&Standing) {
        move |standing| {
            if self.shown && standing.done != self.last {
                self.last = standing.done;
                let end = if standing.ended { "\n" } else { "" };
                // A terminal that went away is no reason to stop.
                let _ = write!(std::io::stderr(), "\r{} of {} speeds{end}", standing.done, standing.all);
            }
        }
    }
}

fn as_text(name: &str, invented: bool, map: &TorqueMap, told: &Told, units: Units) -> String {
    let mut text = Text::default();
    text.title(&format!("{name}: torque by speed and lift"));
    if invented {
        text.paragraph(0, "Invented engine, invented figures.");
    }
    told.statements.iter().for_each(|statement| text.paragraph(0, statement));
    text.heading("By speed");
    let heads = ["Speed", "Closed", "Open", "Best lift", "Best torque", "This setting", "Its torque"]
        .map(str::to_owned);
    text.table(&heads, &rows(told, units));
    text.heading("What being wrong costs at most");
    for row in &told.costs {
        let worst = row.worst.map_or_else(
            || "nothing at any speed".to_owned(),
            |(lost, speed)| format!("{} at {:.0} rpm", torque_text(lost, 2, units), speed * 30.0 / PI),
        );
        text.item(0, "-", &format!("{}: {worst}", row.name));
    }
    text.heading("What this rests on");
    told.rests_on.iter().chain(&map.assumptions).for_each(|line| text.item(0, "-", line));
    let doubts = map.doubts();
    if !doubts.is_empty() {
        text.heading("Points outside of what was checked");
        doubts.iter().for_each(|(line, count)| text.item(0, "-", &format!("{line} ({count})")));
    }
    text.into()
}

fn rows(told: &Told, units: Units) -> Vec<Vec<String>> {
    let none = || "–".to_owned();
    let n_m = |torque_n_m: Option<f64>| torque_n_m.map_or_else(none, |t| torque_text(t, 2, units));
    let length = |m: f64| show_with(m, if units == Units::Metric { 1 } else { 3 }, Dimension::Length, units);
    told.speeds
        .iter()
        .map(|row| {
            vec![
                format!("{:.0} rpm", row.speed_rad_s * 30.0 / PI),
                n_m(row.closed_n_m),
                n_m(row.open_n_m),
                row.peak.map_or_else(none, |peak| length(peak.lift_m)),
                n_m(row.peak.map(|peak| peak.torque_n_m)),
                length(row.own.lift_m),
                n_m(row.own.torque_n_m),
            ]
        })
        .collect()
}
