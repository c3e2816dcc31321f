//! What the typed arguments mean: every text is read, every default chosen.

use super::arguments::{Arguments, Command, ShownIn};
use super::bench_job::{BenchJob, Found};
use super::failure::Failure;
use super::fit::FitJob;
use super::input::Source;
use super::map::MapJob;
use super::output::Target;
use super::procedures::ProceduresJob;
use super::record_job::{Deed, RecordJob};
use super::run::{Held, RunJob};
use crate::procedures::{USUAL_DRAWS, USUAL_SEED, Wanted};
use crate::torque_map::Choice;
use quantity::{Dimension, Measured, Units};
use std::path::{Path, PathBuf};
use workshop::procedure::Scope;

/// Port of the app when none is asked for.
const USUAL_PORT: u16 = 7373;

/// A job, ready to be done.
#[derive(Debug)]
pub(crate) enum Job {
    /// Start the app.
    App(AppJob),
    /// Write the demo engine.
    Demo(DemoJob),
    /// Show port timing and areas.
    Ports(PortsJob),
    /// Give the setting.
    Set(SetJob),
    /// Make the sheet.
    Sheet(SheetJob),
    /// Judge bench checks.
    Judge(BenchJob),
    /// Find the fault.
    Find(BenchJob),
    /// Find what was not measured.
    Fit(FitJob),
    /// Compare the ways of setting.
    Procedures(ProceduresJob),
    /// Run the engine at one point.
    Run(RunJob),
    /// Make a torque map.
    Map(MapJob),
    /// Print the schema.
    Schema,
    /// Do something with the record.
    Record(RecordJob),
}

/// Start the app.
#[derive(Debug)]
pub(crate) struct AppJob {
    /// Port to listen on; 0 = any free.
    pub port: u16,
    /// The record named with --record; `record_place::find` says where it stands when none is.
    pub record: Option<PathBuf>,
    /// Print the address as JSON.
    pub json: bool,
}

/// Write the demo engine.
#[derive(Debug)]
pub(crate) struct DemoJob {
    /// Where to.
    pub target: Target,
    /// Replace an existing file.
    pub force: bool,
    /// Its readings for `fit` in place of the engine file.
    pub readings: bool,
    /// Say as JSON what was written.
    pub json: bool,
}

/// Show port timing and areas.
#[derive(Debug)]
pub(crate) struct PortsJob {
    /// Engine file.
    pub source: Source,
    /// A further valve position.
    pub lift: Option<Measured>,
    /// Engine speed.
    pub speed: Option<Measured>,
    /// Units shown.
    pub units: Units,
    /// Answer as JSON.
    pub json: bool,
}

/// Give the setting.
#[derive(Debug)]
pub(crate) struct SetJob {
    /// Engine file.
    pub source: Source,
    /// Where the engine file with return values goes.
    pub returns: Option<Target>,
    /// Units shown.
    pub units: Units,
    /// Answer as JSON.
    pub json: bool,
}

/// Make the sheet.
#[derive(Debug)]
pub(crate) struct SheetJob {
    /// Engine file.
    pub source: Source,
    /// Where to.
    pub target: Target,
    /// HTML instead of PDF.
    pub html: bool,
    /// Units shown.
    pub units: Units,
    /// Say as JSON what was written.
    pub json: bool,
}

/// Resolves the typed arguments.
pub(crate) fn resolve(arguments: Arguments) -> Result<Job, Failure> {
    let json = arguments.json;
    let units = match arguments.units {
        ShownIn::Metric => Units::Metric,
        ShownIn::Inch => Units::Inch,
    };
    let Some(command) = arguments.command else {
        return Ok(Job::App(AppJob {
            port: arguments.port.unwrap_or(USUAL_PORT),
            record: arguments.record,
            json,
        }));
    };
    if arguments.port.is_some() {
        return Err(Failure::Usage(
            "--port belongs to the app, which starts when no command is given.".to_owned(),
        ));
    }
    let command = match on_record(command) {
        Ok(deed) => return Ok(Job::Record(RecordJob { record: arguments.record, json, deed })),
        Err(command) => command,
    };
    let command = match on_bench(command, arguments.record.as_ref(), units, json) {
        Ok(job) => return Ok(job),
        Err(command) => command,
    };
    if arguments.record.is_some() {
        return Err(Failure::Usage(
            "--record belongs to the app and to list, export, import, backup and restore; this command reads an engine \
             file."
                .to_owned(),
        ));
    }
    Ok(match command {
        Command::Demo { file, force, readings } => {
            let target = file.map_or(Target::Output, Target::of);
            Job::Demo(DemoJob { target, force, readings, json })
        }
        Command::Ports { file, lift, speed } => Job::Ports(PortsJob {
            source: Source::of(file),
            lift: lift.map(|text| lift_of(&text)).transpose()?,
            speed: speed.map(|text| speed_of(&text)).transpose()?,
            units,
            json,
        }),
        Command::Set { file, returns } => {
            Job::Set(SetJob { source: Source::of(file), returns: returns.map(Target::of), units, json })
        }
        Command::Sheet { file, output, html } => {
            let target = Target::of(output.unwrap_or_else(|| usual_sheet_name(&file, html)));
            Job::Sheet(SheetJob { source: Source::of(file), target, html, units, json })
        }
        Command::Fit { engine, readings } => {
            Job::Fit(FitJob { engine: Source::of(engine), readings: Source::of(readings), units, json })
        }
        Command::Procedures(asked) => Job::Procedures(ProceduresJob {
            source: Source::of(asked.file),
            own: asked.own.map(Source::of),
            wanted: Wanted {
                scope: if asked.like { Scope::LikeEngines } else { Scope::ThisEngine },
                draws: asked.draws.unwrap_or(USUAL_DRAWS),
                seed: asked.seed.unwrap_or(USUAL_SEED),
            },
            page: asked.page.map(Target::of),
            pdf: asked.pdf.map(Target::of),
            units,
            json,
        }),
        Command::Run(asked) => Job::Run(RunJob {
            source: Source::of(asked.file),
            speed: speed_of(&asked.speed)?,
            held: held_of(&asked.travel)?,
            throttle: asked.throttle.map(|text| throttle_of(&text)).transpose()?,
            petals: chosen(&asked.closures.petals)?,
            scavenging: chosen(&asked.closures.scavenging)?,
            traces: asked.traces.map(Target::of),
            units,
            json,
        }),
        Command::Map(map) => Job::Map(MapJob {
            source: Source::of(map.file),
            typed: [
                map.from,
                map.to,
                map.speeds,
                map.lifts,
                map.throttle,
                map.leak,
                map.closures.petals,
                map.closures.scavenging,
            ],
            csv: map.csv.map(Target::of),
            units,
            json,
        }),
        _ => Job::Schema,
    })
}

/// What a command does with what was found on the bench; another command comes back.
fn on_bench(command: Command, record: Option<&PathBuf>, units: Units, json: bool) -> Result<Job, Command> {
    let found = |file: Option<PathBuf>, visit: Option<i64>, swept: bool| match (visit, file) {
        (Some(visit), _) => Found::Visit { visit, record: record.cloned() },
        (None, Some(file)) => Found::File(Source::of(file)),
        (None, None) if swept => Found::Nothing,
        (None, None) => Found::File(Source::Input),
    };
    Ok(match command {
        Command::Judge { file, visit, sweep, checks } => Job::Judge(BenchJob {
            found: found(file, visit, sweep.is_some()),
            sweep: sweep.map(Source::of),
            checks: checks.map(Source::of),
            tables: None,
            units,
            json,
        }),
        Command::Find { file, visit, sweep, checks, tables } => Job::Find(BenchJob {
            found: found(file, visit, sweep.is_some()),
            sweep: sweep.map(Source::of),
            checks: checks.map(Source::of),
            tables: tables.map(Source::of),
            units,
            json,
        }),
        other => return Err(other),
    })
}

/// What a command does with the record; a command without a record comes back.
fn on_record(command: Command) -> Result<Deed, Command> {
    Ok(match command {
        Command::List { engines } => Deed::List { engines },
        Command::Export { engines, output } => Deed::Export { engines, output },
        Command::Import { file } => Deed::Import { file },
        Command::Backup { file } => Deed::Backup { file },
        Command::Restore { file } => Deed::Restore { file },
        other => return Err(other),
    })
}

/// Largest lift that is looked at, m: no port is higher.
const HIGHEST_LIFT_M: f64 = 0.06;

fn lift_of(text: &str) -> Result<Measured, Failure> {
    let lift = figure("--lift", text, Dimension::Length)?;
    if (0.0..=HIGHEST_LIFT_M).contains(&lift.value) {
        return Ok(lift);
    }
    let told =
        format!("--lift: {text} is no lift of a valve edge above its closed position. Give 0 mm to 60 mm.");
    Err(Failure::Usage(told))
}

fn speed_of(text: &str) -> Result<Measured, Failure> {
    let speed = figure("--speed", text, Dimension::Speed)?;
    // 30,000 rpm in rad/s.
    if speed.value > 0.0 && speed.value <= 1000.0 * std::f64::consts::PI {
        return Ok(speed);
    }
    let told =
        format!("--speed: {text} is no speed of a running engine. Give more than 0 and at most 30,000 rpm.");
    Err(Failure::Usage(told))
}

/// Where the valve is held: a word, a share, a length or an angle.
fn held_of(text: &str) -> Result<Held, Failure> {
    let read = |dimension| quantity::parse(text, dimension).map(|measured| measured.value);
    let told = |why: &str| Failure::Usage(format!("--travel: {text} {why}"));
    match text.trim() {
        "closed" => return Ok(Held::Closed),
        "open" => return Ok(Held::Open),
        _ => {}
    }
    if let Ok(lift_m) = read(Dimension::Length) {
        let within = (0.0..=HIGHEST_LIFT_M).contains(&lift_m);
        return if within {
            Ok(Held::Lift(lift_m))
        } else {
            Err(told("is no lift of a valve edge. Give 0 mm to 60 mm."))
        };
    }
    if let Ok(servo_rad) = read(Dimension::Angle) {
        let within = servo_rad >= 0.0;
        return if within {
            Ok(Held::Servo(servo_rad))
        } else {
            Err(told("is behind closed park. Give 0° or more."))
        };
    }
    match read(Dimension::Number) {
        Ok(share) if text.contains('%') && (0.0..=1.0).contains(&share) => Ok(Held::Share(share)),
        _ => Err(told(
            "is no valve position. Give closed, open, a share such as '60 %', an edge such as '4 mm', or a servo travel such as '45°'.",
        )),
    }
}

fn chosen<C: Choice>(text: &str) -> Result<C, Failure> {
    C::read(text).map_err(|problem| Failure::Usage(format!("--{}: {}.", problem.field, problem.text)))
}

fn throttle_of(text: &str) -> Result<f64, Failure> {
    let share = figure("--throttle", text, Dimension::Number)?.value;
    if (0.05..=1.0).contains(&share) {
        return Ok(share);
    }
    Err(Failure::Usage(format!("--throttle: {text} must be 5 % to 100 % of the way to wide open.")))
}

fn figure(option: &str, text: &str, dimension: Dimension) -> Result<Measured, Failure> {
    quantity::parse(text, dimension).map_err(|error| Failure::Usage(format!("{option}: {error}")))
}

/// The sheet of `bench/my-engine.toml` is `my-engine-sheet.pdf` in the present folder.
fn usual_sheet_name(file: &Path, html: bool) -> PathBuf {
    let stem = file
        .file_stem()
        .filter(|stem| *stem != "-")
        .map_or_else(|| "engine".into(), |stem| stem.to_string_lossy());
    PathBuf::from(format!("{stem}-sheet.{}", if html { "html" } else { "pdf" }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::{CommandFactory, Parser};

    fn job(words: &[&str]) -> Result<Job, Failure> {
        let typed = Arguments::try_parse_from(std::iter::once(&"portwright").chain(words)).unwrap();
        resolve(typed)
    }

    #[test]
    fn regress_the_arguments_are_well_formed() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn regress_defaults() {
        assert!(matches!(job(&[]), Ok(Job::App(AppJob { port: 7373, record: None, json: false }))));
        let Ok(Job::Sheet(sheet)) = job(&["sheet", "bench/k.toml"]) else { panic!("no sheet job") };
        assert_eq!(sheet.target, Target::File("k-sheet.pdf".into()));
        let Ok(Job::Sheet(sheet)) = job(&["sheet", "-", "--html", "--units", "inch"]) else {
            panic!("no sheet job")
        };
        assert_eq!((sheet.target, sheet.units), (Target::File("engine-sheet.html".into()), Units::Inch));
    }

    #[test]
    fn refuses_a_port_with_a_command_and_a_lift_without_unit() {
        assert!(matches!(job(&["--port", "80", "schema"]), Err(Failure::Usage(_))));
        let Err(Failure::Usage(told)) = job(&["ports", "a.toml", "--lift", "2.0"]) else {
            panic!("must be refused")
        };
        assert!(told.starts_with("--lift: ") && told.contains("mm"), "{told}");
    }
}
