//! The arguments as they are typed.

use crate::procedures::MOST_DRAWS;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

const TEACH: &str = "\
Begin here:
  portwright                          start the app and open the address it prints
  portwright demo my-engine.toml      write the invented demo engine as a file to fill in
  portwright set my-engine.toml       what to turn, which way, how far, and what must be seen
  portwright sheet my-engine.toml     the same as a PDF for the bench
  portwright judge bench.toml         bench checks: pass, fail, or cannot tell
  portwright find bench.toml          which fault it is, and the check that tells most next
  portwright map my-engine.toml       torque by speed and lift, and what a wrong setting costs
  portwright list                     the engines in the record, and where each goes on
  portwright backup spare.sqlite      the whole record in one file, also while the app runs

Exit codes:
  0  done; a setting was found (a gate may still be open: the text says so)
  1  something else failed, such as an output that cannot be written
  2  wrong use, or an engine file with errors
  3  odd figures in the file: the questions must be answered first
  4  no setting meets every demand
  5  a gate forbids going on, such as a blade that stands proud of the bore
  6  a reading is missing, so no turns can be given; the steps say \"turn until\"
  7  the record is open in another program
  8  a record, backup or archive that is damaged, from a newer Portwright, or something else
  9  a bench check failed";

const SET_TEACH: &str = "\
Examples:
  portwright set my-engine.toml
  portwright set my-engine.toml --units inch
  portwright set my-engine.toml --returns after-setting.toml   keep the readings that bring it back
  portwright set my-engine.toml --json > answer.json
  portwright demo | portwright set -                           the demo engine, no file needed

The exit code says how far one may go: 0 setting found, 3 questions first, 4 demands in conflict,
5 a gate stops the path, 6 a reading is missing, 2 errors in the file.";

const PORTS_TEACH: &str = "\
Examples:
  portwright ports my-engine.toml
  portwright ports my-engine.toml --lift \"2.0 mm\"
  portwright ports my-engine.toml --speed \"11000 rpm\" --json";

const SHEET_TEACH: &str = "\
Examples:
  portwright sheet my-engine.toml                  writes my-engine-sheet.pdf into this folder
  portwright sheet my-engine.toml -o bench.pdf
  portwright sheet my-engine.toml -o bench.html --html
  portwright sheet my-engine.toml -o - > bench.pdf

The sheet is written whatever the outcome (it carries open questions and gates); the exit code is that of `set`.";

const DEMO_TEACH: &str = "\
Examples:
  portwright demo                     print it
  portwright demo my-engine.toml      write it, then replace its figures by yours
  portwright demo my-engine.toml --force
  portwright demo --readings my-readings.toml    invented readings of it, for `portwright fit`";

const JUDGE_TEACH: &str = "\
Examples:
  portwright judge bench.toml                        what was read in the bench checks, judged
  portwright judge bench.toml --checks own.toml      with checks of your own
  portwright judge --visit 3                         those of job card 3 in the record
  portwright judge --sweep meter.csv                 a logged sweep of the position sensor

The file holds what was found, one line an entry:
  bench.actuator = \"servo\"
  check.sensor-ends.end-to-end = \"4.24 kΩ\"
  check.free-turn.feel = \"stiff\"

The exit code is 9 when a check failed, 3 when an odd reading must be answered first.";

const FIND_TEACH: &str = "\
Examples:
  portwright find bench.toml                         causes by probability, and the next best check
  portwright find bench.toml --tables own.toml       with fault tables of your own
  portwright find --visit 3 --json

Beside checks the file holds what was noticed, what is off already, and what cannot be done:
  symptom.flat-top = \"yes\"
  symptom.hunting = \"no\"
  off.tank = \"yes\"
  skip.crankcase-hold = \"yes\"";

const PROCEDURES_TEACH: &str = "\
Examples:
  portwright procedures my-engine.toml
  portwright procedures my-engine.toml --own my-ways.toml --page show.html
  portwright procedures my-engine.toml --pdf show.pdf
  portwright procedures my-engine.toml --like --draws 100000 --json";

const RUN_TEACH: &str = "\
Examples:
  portwright run my-engine.toml --speed \"8000 rpm\" --travel open
  portwright run my-engine.toml --speed \"8000 rpm\" --travel \"4 mm\" --traces turn.csv
  portwright run my-engine.toml --speed \"6000 rpm\" --travel \"45°\" --json     servo travel, through the valve gear

The engine file must describe pipe, intake, carburettor, ignition and fuel; what is missing is named.";

const MAP_TEACH: &str = "\
Examples:
  portwright map my-engine.toml
  portwright map my-engine.toml --from \"4000 rpm\" --to \"12000 rpm\" --speeds 17 --csv map.csv
  portwright map my-engine.toml --json > map.json

All cores are used; Ctrl-C ends it.";
const FIT_TEACH: &str = "\
Examples:
  portwright demo my-engine.toml; portwright demo --readings my-readings.toml    something to try it with
  portwright fit my-engine.toml my-readings.toml
  portwright fit my-engine.toml my-readings.toml --json

The file of readings names what is sought and holds one [[reading]] for each place of the servo:
  unknown = [\"slack\", \"gear.opening.valve_radius\", \"gear.opening.friction\"]
  [[reading]]
  servo = \"40 ± 0.1°\"          from closed park; or sensor = \"2.10 kΩ\"
  way = \"rising\"               or falling
  valve = \"36.4 ± 0.3°\"        or mark, edge, pull
  gap = \"11.0 ± 0.05 mm\"       only when the opening adjuster was turned for it
The layout stands in docs/fitting.md.";

const LIST_TEACH: &str = "\
Examples:
  portwright list                     one line for each engine
  portwright list 3                   every build and job card of engine 3, and what to do next
  portwright list \"My engine\" --json
  portwright list --record bench.sqlite";

const EXPORT_TEACH: &str = "\
Examples:
  portwright export -o all.zip                 every engine
  portwright export 3 \"My engine\" -o two.zip
Files that are there already are left as they are: choose a new name.";

const IMPORT_TEACH: &str = "\
Examples:
  portwright import two.zip
  portwright import two.zip --record bench.sqlite
The engines are added as new ones; none that is there is changed. All come in, or none.";

const BACKUP_TEACH: &str = "\
Examples:
  portwright backup spare.sqlite      also while the app runs; an earlier backup of that name is replaced
  portwright backup /media/stick/portwright.sqlite";

const RESTORE_TEACH: &str = "\
Examples:
  portwright restore spare.sqlite
Stop the app first. Nothing is asked: the record that stands there is kept beside, with its name in the answer.";

/// From workshop measurements of a servo-driven exhaust valve to its setting.
///
/// Portwright reads an engine file (bore, stroke, ports, valve, cables, servo and what was measured), works out what
/// to turn on the two cable adjusters, and says how it is seen to be right, with the error at both ends in
/// millimetres and crank degrees. With no command it starts the app on this computer only.
#[derive(Debug, Parser)]
#[command(name = "portwright", version, after_long_help = TEACH, after_help = TEACH, max_term_width = 100)]
pub(crate) struct Arguments {
    /// What to do; nothing starts the app
    #[command(subcommand)]
    pub command: Option<Command>,
    /// Port of the app on 127.0.0.1; 0 takes any free one [7373 when not given]
    #[arg(long, value_name = "NUMBER")]
    pub port: Option<u16>,
    /// The record: the file that keeps engines and job cards [a file in the platform's data folder when not given]
    #[arg(long, global = true, value_name = "FILE")]
    pub record: Option<PathBuf>,
    /// Units that results are shown in
    #[arg(long, global = true, value_enum, default_value = "metric")]
    pub units: ShownIn,
    /// Answer as JSON (errors too)
    #[arg(long, global = true)]
    pub json: bool,
}

/// Units that results are shown in.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum ShownIn {
    /// Millimetres, newtons.
    Metric,
    /// Inches, pounds-force.
    Inch,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Write the engine file of the invented demo engine
    #[command(after_help = DEMO_TEACH)]
    Demo {
        /// File to write; nothing or - prints it
        #[arg(value_name = "FILE")]
        file: Option<PathBuf>,
        /// Replace the file when it is there already
        #[arg(long)]
        force: bool,
        /// Write invented readings of that engine to try `fit` with, in place of the engine file
        #[arg(long)]
        readings: bool,
    },
    /// Port timing and areas for several positions of the valve
    #[command(after_help = PORTS_TEACH)]
    Ports {
        /// Engine file; - reads it from the input
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// A further position: valve edge above its closed position, with its unit
        #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
        lift: Option<String>,
        /// Engine speed for time-areas and piston speed, with its unit
        #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
        speed: Option<String>,
    },
    /// The setting: what to turn, which way, how far, and what must be seen
    #[command(after_help = SET_TEACH)]
    Set {
        /// Engine file; - reads it from the input
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// Also write the engine file with the return values of this setting
        #[arg(long, value_name = "OUT")]
        returns: Option<PathBuf>,
    },
    /// The set-up sheet as PDF, or as a page that prints
    #[command(after_help = SHEET_TEACH)]
    Sheet {
        /// Engine file; - reads it from the input
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// File to write; - writes to the output
        #[arg(short, long, value_name = "OUT")]
        output: Option<PathBuf>,
        /// Write a page (HTML) that prints, not a PDF
        #[arg(long)]
        html: bool,
    },
    /// Bench checks: what was read, judged with its uncertainty
    #[command(after_help = JUDGE_TEACH)]
    Judge {
        /// File of what was found; - reads it from the input
        #[arg(value_name = "FILE", required_unless_present_any = ["visit", "sweep"])]
        file: Option<PathBuf>,
        /// Job card of the record, by its number
        #[arg(long, value_name = "NUMBER", conflicts_with = "file")]
        visit: Option<i64>,
        /// Log of a sensor sweep: list or CSV with time, resistance or voltage, and travel if known
        #[arg(long, value_name = "FILE")]
        sweep: Option<PathBuf>,
        /// File of checks of your own
        #[arg(long, value_name = "FILE")]
        checks: Option<PathBuf>,
    },
    /// Which fault it is: causes by probability, why, and the next best check
    #[command(after_help = FIND_TEACH)]
    Find {
        /// File of what was found; - reads it from the input
        #[arg(value_name = "FILE", required_unless_present_any = ["visit", "sweep"])]
        file: Option<PathBuf>,
        /// Job card of the record, by its number
        #[arg(long, value_name = "NUMBER", conflicts_with = "file")]
        visit: Option<i64>,
        /// Log of a sensor sweep: list or CSV with time, resistance or voltage, and travel if known
        #[arg(long, value_name = "FILE")]
        sweep: Option<PathBuf>,
        /// File of checks of your own
        #[arg(long, value_name = "FILE")]
        checks: Option<PathBuf>,
        /// File of fault tables of your own
        #[arg(long, value_name = "FILE")]
        tables: Option<PathBuf>,
    },
    /// What was not measured, from a few readings of how the valve follows the servo
    #[command(after_help = FIT_TEACH)]
    Fit {
        /// Engine file; - reads it from the input
        #[arg(value_name = "FILE")]
        engine: PathBuf,
        /// File of readings; - reads it from the input
        #[arg(value_name = "READINGS")]
        readings: PathBuf,
    },
    /// The ways of setting compared on this engine: which over-travels, which strains the cable, and why
    #[command(after_help = PROCEDURES_TEACH)]
    Procedures(Box<Ways>),
    /// The engine at one speed and valve position: torque, efficiencies, pressures along a turn
    #[command(after_help = RUN_TEACH)]
    Run(Box<RunArguments>),
    /// Torque by speed and lift, the best opening schedule, and what a wrong setting costs
    #[command(after_help = MAP_TEACH)]
    Map(Box<MapArguments>),
    /// The JSON Schema of the engine file, for editors
    Schema,
    /// The engines in the record; of engines that are named, every build and job card
    #[command(after_help = LIST_TEACH)]
    List {
        /// Numbers or names of engines; none lists all
        #[arg(value_name = "ENGINE")]
        engines: Vec<String>,
    },
    /// Write engines of the record as open files in one zip archive
    #[command(after_help = EXPORT_TEACH)]
    Export {
        /// Numbers or names of engines; none takes all
        #[arg(value_name = "ENGINE")]
        engines: Vec<String>,
        /// Archive to write
        #[arg(short, long, value_name = "FILE.zip")]
        output: PathBuf,
    },
    /// Add the engines of an archive to the record
    #[command(after_help = IMPORT_TEACH)]
    Import {
        /// Archive that export wrote
        #[arg(value_name = "FILE.zip")]
        file: PathBuf,
    },
    /// Copy the whole record into one file
    #[command(after_help = BACKUP_TEACH)]
    Backup {
        /// File to write
        #[arg(value_name = "FILE")]
        file: PathBuf,
    },
    /// Put a backup in the place of the record
    #[command(after_help = RESTORE_TEACH)]
    Restore {
        /// Backup to bring back
        #[arg(value_name = "FILE")]
        file: PathBuf,
    },
}

/// What a run takes where physics leaves a choice.
#[derive(Debug, Args)]
pub(crate) struct Closures {
    /// How the reed's petals follow the pressure: at-once or swinging [at-once]
    #[arg(long, value_name = "NAME", default_value = "", hide_default_value = true)]
    pub petals: String,
    /// What leaves the cylinder while it is scavenged: loop, displacement or mixing [loop]
    #[arg(long, value_name = "NAME", default_value = "", hide_default_value = true)]
    pub scavenging: String,
}

/// What `run` is told.
#[derive(Debug, Args)]
pub(crate) struct RunArguments {
    /// Engine file; - reads it from the input
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Engine speed, with its unit
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub speed: String,
    /// Where the valve stands: closed, open, a share such as "60 %", the edge above closed such as "4 mm", or a servo
    /// travel such as "45°"
    #[arg(long, value_name = "TRAVEL", default_value = "open", allow_hyphen_values = true)]
    pub travel: String,
    /// Throttle, such as "60 %" [that of the engine file when not given]
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub throttle: Option<String>,
    #[command(flatten)]
    pub closures: Closures,
    /// Also write pressures and flows along the turn
    #[arg(long, value_name = "OUT.csv")]
    pub traces: Option<PathBuf>,
}

/// What `map` is told.
#[derive(Debug, Args)]
pub(crate) struct MapArguments {
    /// Engine file; - reads it from the input
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Lowest speed, with its unit [that of a mean piston speed of 5 m/s]
    #[arg(long, value_name = "SPEED", default_value = "", hide_default_value = true)]
    pub from: String,
    /// Highest speed [that of a mean piston speed of 24 m/s]
    #[arg(long, value_name = "SPEED", default_value = "", hide_default_value = true)]
    pub to: String,
    /// Number of speeds [24]
    #[arg(long, value_name = "NUMBER", default_value = "", hide_default_value = true)]
    pub speeds: String,
    /// Number of lifts from closed to flush [8]
    #[arg(long, value_name = "NUMBER", default_value = "", hide_default_value = true)]
    pub lifts: String,
    /// Throttle, such as "60 %" [that of the engine file]
    #[arg(long, value_name = "SHARE", default_value = "", hide_default_value = true)]
    pub throttle: String,
    /// Leak past the blade whose cost is told by a second map; none leaves it out [20 mm²]
    #[arg(long, value_name = "AREA", default_value = "", hide_default_value = true)]
    pub leak: String,
    #[command(flatten)]
    pub closures: Closures,
    /// Also write every point
    #[arg(long, value_name = "OUT.csv")]
    pub csv: Option<PathBuf>,
}

/// What `procedures` is asked for.
#[derive(Debug, Args)]
pub(crate) struct Ways {
    /// Engine file; - reads it from the input
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// File of ways of your own
    #[arg(long, value_name = "FILE")]
    pub own: Option<PathBuf>,
    /// Draw engines like this one, not measured, in place of this one
    #[arg(long)]
    pub like: bool,
    /// Draws of each way [10000 when not given]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u64).range(100..=MOST_DRAWS))]
    pub draws: Option<u64>,
    /// Seed of the draws: the same seed gives the same figures [1 when not given]
    #[arg(long, value_name = "NUMBER")]
    pub seed: Option<u64>,
    /// Also write one page (HTML) to show to others
    #[arg(long, value_name = "OUT.html")]
    pub page: Option<PathBuf>,
    /// Also write it as a paper (PDF) to show to others; - writes to the output
    #[arg(long, value_name = "OUT.pdf")]
    pub pdf: Option<PathBuf>,
}
