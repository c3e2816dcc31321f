//! What is shown of one engine's setting: the same answer for page, command line and sheet.
//!
//! Every text is finished and in the chosen units; every number also stands as a [`Figure`] in SI for `--json`.

mod figure;

pub use figure::Figure;

use engine::file::Question;
use engine::model::Assumption;
use serde::Serialize;

/// The whole answer.
#[derive(Debug, Clone, Serialize)]
pub struct Report {
    /// Which engine.
    pub engine: EngineSummary,
    /// How far one may go with it.
    pub outcome: Outcome,
    /// One sentence: what to do.
    pub headline: String,
    /// One sentence: what the setting moves and below which size it makes no difference.
    pub matters: String,
    /// Odd figures that want an answer before the steps are given.
    pub questions: Vec<Question>,
    /// Faults named from the present state.
    pub findings: Vec<Finding>,
    /// The error at the closed end, then at the fully open end.
    pub ends: Vec<EndError>,
    /// Gates before a first start.
    pub gates: Vec<Gate>,
    /// The steps in order; empty while questions are open or a gate stops the path.
    pub steps: Vec<Step>,
    /// Each demand on the setting and how the proposed setting meets it.
    pub demands: Vec<Demand>,
    /// Demands that no setting meets together.
    pub conflicts: Vec<Conflict>,
    /// The fixed-gap rule of thumb against the gap that follows from this engine's geometry.
    pub gap_rule: Option<GapRule>,
    /// Each step of the arithmetic, to be checked with a pocket calculator.
    pub arithmetic: Vec<Arithmetic>,
    /// Which measurement makes the band of the proposed edge at full travel, and what a better one would buy.
    pub budget: Vec<BudgetLine>,
    /// Which measurement to better, with what, and how far the band of that edge then shrinks; the best first.
    pub better: Vec<Better>,
    /// What makes the band of the exhaust's open duration with the valve flush.
    pub timing_budget: Vec<BudgetLine>,
    /// Readings that bring this setting back after a rebuild.
    pub returns: Vec<ReturnValue>,
    /// How far the present state is from the stored return values.
    pub drift: Vec<Drift>,
    /// Readings of the state before anything was touched.
    pub as_found: Vec<Row>,
    /// Port timing at the closed and the flush position.
    pub ports: PortsTable,
    /// Stated defaults.
    pub assumptions: Vec<Assumption>,
    /// What the computation assumes, whatever the figures.
    pub model_notes: Vec<String>,
    /// Cautions that stand where the work is described.
    pub cautions: Vec<Caution>,
}

/// Which engine the report is about.
#[derive(Debug, Clone, Serialize)]
pub struct EngineSummary {
    /// Its name.
    pub name: String,
    /// True for a made-up engine.
    pub invented: bool,
    /// The user's note.
    pub note: Option<String>,
    /// The measurements, as they were written.
    pub measurements: Vec<Row>,
}

/// One labelled figure or text.
#[derive(Debug, Clone, Serialize)]
pub struct Row {
    /// Label.
    pub label: String,
    /// Value with unit and uncertainty.
    pub value: String,
    /// Where it comes from or is measured from; empty when the label says it.
    pub from: String,
}

/// How far one may go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// A setting was found and the gates are passed.
    Ready,
    /// A setting was found; a gate is still to be checked before any start.
    GateOpen,
    /// A gate forbids going on.
    GateStops,
    /// Questions must be answered first.
    Questions,
    /// A reading is missing without which no turns can be given; the steps say "turn until".
    ReadingMissing,
    /// No setting meets every demand.
    Conflict,
}

/// A fault named from the present state.
#[derive(Debug, Clone, Serialize)]
pub struct Finding {
    /// Short name, e.g. "Over-travel".
    pub name: String,
    /// What shows it, with figures.
    pub text: String,
    /// How sure, 0 to 1, where it follows from measurements.
    pub probability: Option<f64>,
    /// True when the engine must not be run like this.
    pub serious: bool,
}

/// The error at one end of the travel, as found and as proposed.
#[derive(Debug, Clone, Serialize)]
pub struct EndError {
    /// "closed" or "fully open".
    pub end: String,
    /// What is measured: edge above closed position, or above flush (negative: below).
    pub what: String,
    /// As found, along the cylinder axis, m; none when no reading tells.
    pub found: Option<ErrorBand>,
    /// As proposed.
    pub proposed: Option<ErrorBand>,
    /// Acceptance band, low and high, m.
    pub accept_m: (f64, f64),
    /// Acceptance band in words with where it comes from.
    pub accept: String,
    /// Degrees of crank for one millimetre of edge height here.
    pub degrees_per_mm: f64,
}

/// An error with its band, in length and in crank angle.
#[derive(Debug, Clone, Serialize)]
pub struct ErrorBand {
    /// Along the cylinder axis.
    pub height: Figure,
    /// In crank degrees of exhaust opening (positive: opens earlier).
    pub crank: Figure,
    /// Lower end of the 95 % interval, m.
    pub low_m: f64,
    /// Upper end, m.
    pub high_m: f64,
    /// Probability that it lies inside the acceptance band.
    pub within: f64,
    /// "pass", "fail" or "cannot tell".
    pub verdict: String,
}

/// A gate before a first start.
#[derive(Debug, Clone, Serialize)]
pub struct Gate {
    /// What is asked.
    pub question: String,
    /// What was answered, or "not measured yet".
    pub answer: String,
    /// pass, open or stop.
    pub state: GateState,
    /// Why it matters and what to do.
    pub text: String,
}

/// State of a gate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum GateState {
    /// Checked and in order.
    Pass,
    /// Not checked yet.
    Open,
    /// Forbids going on.
    Stop,
}

/// One step of the work.
#[derive(Debug, Clone, Serialize)]
pub struct Step {
    /// Short title.
    pub title: String,
    /// What to do.
    pub action: String,
    /// How the adjuster is turned, when the step turns one.
    pub turn: Option<Turn>,
    /// What must be seen or felt afterwards.
    pub see: Vec<Seen>,
    /// Cautions for this step.
    pub cautions: Vec<String>,
}

/// A turn of one adjuster.
#[derive(Debug, Clone, Serialize)]
pub struct Turn {
    /// "opening" or "closing": the cable, named by its effect.
    pub cable: String,
    /// Turns, positive = screwed out (gap grows, slack is taken up).
    pub turns: Figure,
    /// Flats of a hexagon, one decimal, unsigned.
    pub flats: f64,
    /// "clockwise" or "anticlockwise".
    pub direction: String,
    /// True for clockwise, so that it can be drawn.
    pub clockwise: bool,
    /// From where that is seen.
    pub seen_from: String,
    /// "out of its bracket" or "into its bracket".
    pub effect: String,
    /// Whole sentence.
    pub text: String,
}

/// What must be seen or felt.
#[derive(Debug, Clone, Serialize)]
pub struct Seen {
    /// What to look at.
    pub what: String,
    /// The figure it must show, when there is one.
    pub figure: Option<Figure>,
    /// How to look.
    pub how: String,
}

/// One demand on the setting.
#[derive(Debug, Clone, Serialize)]
pub struct Demand {
    /// Key, e.g. "flush-at-full".
    pub key: String,
    /// In words.
    pub name: String,
    /// What is required, with source.
    pub required: String,
    /// What the proposed setting gives.
    pub reached: String,
    /// Probability of being met, 0 to 1.
    pub probability: f64,
    /// Met at the best values.
    pub met: bool,
}

/// Demands that cannot be met together.
#[derive(Debug, Clone, Serialize)]
pub struct Conflict {
    /// The demands' names.
    pub between: Vec<String>,
    /// By how much they miss each other.
    pub by: String,
    /// Which part would have to change and to what.
    pub change: String,
}

/// A fixed gap against the gap that follows from the geometry.
#[derive(Debug, Clone, Serialize)]
pub struct GapRule {
    /// The gap as found.
    pub found: Figure,
    /// The gap that brings the edge flush on this engine.
    pub target: Figure,
    /// Edge above flush with the gap as found.
    pub edge_at_found: Figure,
    /// One sentence for the reader.
    pub text: String,
}

/// One line of plain arithmetic.
#[derive(Debug, Clone, Serialize)]
pub struct Arithmetic {
    /// What is computed.
    pub what: String,
    /// The sum in figures, e.g. "2.0 mm ÷ 15.0 mm × 57.30".
    pub sum: String,
    /// The result.
    pub result: String,
    /// Why this step.
    pub why: String,
}

/// One line of an uncertainty budget.
#[derive(Debug, Clone, Serialize)]
pub struct BudgetLine {
    /// Key of the figure in the engine file.
    pub key: String,
    /// The figure as it stands.
    pub figure: String,
    /// Its share of the variance, 0 to 1.
    pub share: f64,
    /// What it adds to the result's standard uncertainty, in SI (edge: m; open duration: rad).
    pub contribution: f64,
    /// What knowing it exactly would make of the band.
    pub buys: String,
}

/// A measurement worth bettering.
#[derive(Debug, Clone, Serialize)]
pub struct Better {
    /// Key of the figure in the engine file, or what the hand does.
    pub key: String,
    /// The same in words.
    pub name: String,
    /// How it would be known better.
    pub with: String,
    /// Half the width of the band (about 95 %) of the edge at full travel now, m.
    pub band_now_m: f64,
    /// The same with this figure known better, m.
    pub band_m: f64,
    /// Both bands, as "±0.12 mm to ±0.08 mm".
    pub shrinks: String,
    /// All of it in a sentence.
    pub text: String,
}

/// A reading that brings the setting back.
#[derive(Debug, Clone, Serialize)]
pub struct ReturnValue {
    /// Key in the `[returns]` section.
    pub key: String,
    /// What is read.
    pub name: String,
    /// Predicted reading after the setting.
    pub figure: Figure,
}

/// Difference between the present state and the stored return values.
#[derive(Debug, Clone, Serialize)]
pub struct Drift {
    /// What is read.
    pub name: String,
    /// Stored.
    pub stored: Figure,
    /// Now.
    pub now: Figure,
    /// Now minus stored.
    pub difference: Figure,
    /// "no difference that the readings can show" or what it means and what to turn.
    pub text: String,
    /// True when the difference is larger than its expanded uncertainty.
    pub real: bool,
}

/// Port timing at two or three valve positions.
#[derive(Debug, Clone, Serialize)]
pub struct PortsTable {
    /// Column heads: what, then the positions.
    pub columns: Vec<String>,
    /// Rows: label and one text per position.
    pub rows: Vec<Vec<String>>,
}

/// A caution.
#[derive(Debug, Clone, Serialize)]
pub struct Caution {
    /// One or two words, e.g. "Pinch".
    pub title: String,
    /// What to do.
    pub text: String,
}
