//! `portwright run`: the engine at one speed and one valve position, run to a steady cycle.

use super::failure::Failure;
use super::input::Source;
use super::output::{self, Target};
use super::text::Text;
use crate::shelf::Kept;
use crate::torque_map::{Petals, Scavenging, traces_csv};
use gas::cycle::{Flow, Model, Point, Settings};
use quantity::{Dimension, Measured, Units, show_value, show_with};
use std::process::ExitCode;
use workshop::Shown;
use workshop::power::torque_text;

/// Where the valve stands.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Held {
    /// Closed.
    Closed,
    /// Flush with the port's roof.
    Open,
    /// Share of the way from closed to flush.
    Share(f64),
    /// Edge above closed, m.
    Lift(f64),
    /// Servo travel, rad, through the valve gear as proposed.
    Servo(f64),
}

/// Run one point.
#[derive(Debug)]
pub(crate) struct RunJob {
    /// Engine file.
    pub source: Source,
    /// Engine speed.
    pub speed: Measured,
    /// Where the valve stands.
    pub held: Held,
    /// Throttle, 0 to 1.
    pub throttle: Option<f64>,
    /// How the reed's petals follow.
    pub petals: Petals,
    /// What leaves the cylinder while it is scavenged.
    pub scavenging: Scavenging,
    /// Where the traces go.
    pub traces: Option<Target>,
    /// Units shown.
    pub units: Units,
    /// Answer as JSON.
    pub json: bool,
}

/// Runs it and tells what came of it.
pub(crate) fn run(job: &RunJob) -> Result<ExitCode, Failure> {
    let kept = job.source.read()?;
    let model = Model::of(&kept.reading.engine).map_err(|why| Failure::Other(why.to_string()))?;
    let lift_m = lift_of(&kept, job)?;
    let settings = Settings {
        throttle: job.throttle,
        reed: job.petals.into(),
        scavenging: job.scavenging.into(),
        ..Settings::default()
    };
    let place = job.traces.as_ref().map(Target::open).transpose()?;
    let mut on = |_| Flow::Continue;
    let run = model
        .run(job.speed.value, &[lift_m], &settings, None, &mut on)
        .map_err(|why| Failure::Other(why.to_string()))?;
    let point = match run.points.into_iter().next() {
        Some(Ok(point)) => point,
        Some(Err(why)) => return Err(Failure::Other(why.to_string())),
        None => return Err(Failure::Other("The run gave no point.".to_owned())),
    };
    if let Some(place) = place {
        place.write(traces_csv(&point.traces).as_bytes())?;
    }
    let assumptions = model.assumptions(&settings);
    output::print(&if job.json {
        let told = serde_json::json!({ "engine": kept.reading.engine.name, "point": point, "assumptions": assumptions });
        format!("{told:#}\n")
    } else {
        as_text(&kept, &assumptions, &point, job.units)
    })?;
    Ok(ExitCode::SUCCESS)
}

fn lift_of(kept: &Kept, job: &RunJob) -> Result<f64, Failure> {
    let flush_m = kept.reading.engine.valve.closed_drop.value;
    let lift_m = match job.held {
        Held::Closed => 0.0,
        Held::Open => flush_m,
        Held::Share(share) => share * flush_m,
        Held::Lift(lift_m) => lift_m,
        Held::Servo(servo_rad) => {
            let answer = kept.answer(job.units);
            if servo_rad > answer.engine.servo.travel.value {
                let most = show_value(answer.engine.servo.travel.value, Dimension::Angle, job.units);
                return Err(Failure::Usage(format!(
                    "--travel: the servo of this engine turns {most} at most."
                )));
            }
            answer.lift_m(Shown::Proposed, servo_rad).clamp(0.0, flush_m)
        }
    };
    if lift_m <= flush_m + 1e-9 {
        return Ok(lift_m);
    }
    let (asked, most) =
        (show_value(lift_m, Dimension::Length, job.units), show_value(flush_m, Dimension::Length, job.units));
    Err(Failure::Usage(format!(
        "--travel: an edge {asked} above closed stands above flush ({most}); what an edge in the duct does is not computed. \
         Give {most} or less."
    )))
}

fn as_text(kept: &Kept, assumptions: &[String], point: &Point, units: Units) -> String {
    let mut text = Text::default();
    let engine = &kept.reading.engine;
    text.title(&format!("{}: one point", engine.name));
    if engine.invented {
        text.paragraph(0, "Invented engine, invented figures.");
    }
    text.rows(rows(point, units));
    for (heading, lines) in
        [("Outside of what was checked", point.warnings.as_slice()), ("Assumed", assumptions)]
    {
        if !lines.is_empty() {
            text.heading(heading);
            lines.iter().for_each(|line| text.item(0, "-", line));
        }
    }
    text.gap();
    text.paragraph(
        0,
        "Computed by one-dimensional gas dynamics from the engine file; no measured curve of this engine stands behind it, and \
         the torque may be off by a fifth and more.",
    );
    text.into()
}

fn rows(point: &Point, units: Units) -> Vec<(&'static str, String)> {
    let percent = |share: f64| format!("{:.1} %", 100.0 * share);
    let bar = |pa: f64| format!("{:.2} bar", pa * 1e-5);
    let fuel = point
        .bsfc_kg_j
        .map_or_else(|| "none: it gives no work".to_owned(), |kg_j| format!("{:.0} g/kWh", kg_j * 3.6e9));
    vec![
        ("Engine speed", show_with(point.speed_rad_s, 0, Dimension::Speed, units)),
        ("Edge above closed", show_value(point.lift_m, Dimension::Length, units)),
        ("Torque", torque_text(point.torque_n_m, 2, units)),
        ("Power", show_with(point.power_w, 2, Dimension::Power, units)),
        ("Indicated mean effective pressure", bar(point.imep_pa)),
        ("Pumping", bar(point.pmep_pa)),
        ("Friction", bar(point.fmep_pa)),
        ("Brake mean effective pressure", bar(point.bmep_pa)),
        ("Delivery ratio", format!("{:.3}", point.delivery_ratio)),
        ("Trapping efficiency", percent(point.trapping_efficiency)),
        ("Scavenging efficiency", percent(point.scavenging_efficiency)),
        ("Charging efficiency", percent(point.charging_efficiency)),
        ("Compression ratio, trapped", format!("{:.2}", point.trapped_ratio)),
        (
            "Peak pressure",
            format!(
                "{:.1} bar, {:.0}° after top dead centre",
                point.peak_pa * 1e-5,
                point.peak_rad.to_degrees()
            ),
        ),
        ("Fuel over work", fuel),
        ("Mean exhaust temperature", show_with(point.exhaust_k, 0, Dimension::Temperature, units)),
        ("Turns to the steady cycle", point.cycles.to_string()),
        ("Left over in the mass balance", format!("{:.1e}", point.balance.mass)),
        ("Left over in the energy balance", format!("{:.1e}", point.balance.energy)),
    ]
}
