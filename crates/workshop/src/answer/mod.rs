//! The whole answer about one engine: report and drawings, from one reading of its file.

mod arithmetic;
mod better;
mod budget;
mod demands;
mod ends;
mod findings;
mod gap_rule;
mod headline;
mod measurements;
mod returns;
mod scenes;
mod steps;
mod telling;

use crate::report::{EngineSummary, Outcome, PortsTable, Report};
use crate::setting::solution::Solution;
use crate::timing_table::{both_ends, timing_table};
use engine::file::Reading;
use engine::model::Engine;
use quantity::Units;
use telling::Telling;

pub use scenes::Shown;

/// The answer: the report, and what its drawings are made from.
#[derive(Debug, Clone)]
pub struct Answer {
    /// What is told.
    pub report: Report,
    /// The engine as read.
    pub engine: Engine,
    /// The units in which it is told and drawn.
    pub units: Units,
    solution: Solution,
}

/// Computes setting, bands and every text for one engine. Pure: the same reading gives the same answer.
pub fn answer(reading: &Reading, units: Units) -> Answer {
    let engine = reading.engine.clone();
    let solution = Solution::of(&engine);
    let report = report(&Telling::new(&engine, &solution, units), reading);
    Answer { report, engine, units, solution }
}

impl Answer {
    /// The engine with the readings that the proposed setting will show as its stored return values; `None` when no
    /// setting is proposed.
    pub fn engine_with_returns(&self) -> Option<Engine> {
        let proposal = self.solution.proposal.as_ref().ok()?;
        Some(returns::with_returns(&Telling::new(&self.engine, &self.solution, self.units), proposal))
    }

    /// The numbers behind the report.
    pub fn solution(&self) -> &Solution {
        &self.solution
    }
}

fn report(telling: &Telling<'_>, reading: &Reading) -> Report {
    let (engine, units) = (telling.engine, telling.units);
    let gates = crate::gates::gates(engine, units);
    let outcome = headline::outcome(telling, &reading.questions, &gates);
    let proposal = telling.solution.proposal.as_ref().ok();
    let may_work = !matches!(outcome, Outcome::GateStops | Outcome::Questions);
    Report {
        engine: EngineSummary {
            name: engine.name.clone(),
            invented: engine.invented,
            note: engine.note.clone(),
            measurements: measurements::measurements(telling),
        },
        outcome,
        headline: headline::headline(telling, outcome, reading.questions.len()),
        matters: ends::what_matters(telling),
        questions: reading.questions.clone(),
        findings: findings::findings(telling),
        ends: ends::ends(telling),
        gates,
        steps: proposal.filter(|_| may_work).map(|found| steps::steps(telling, found)).unwrap_or_default(),
        demands: demands::demands(telling),
        conflicts: demands::conflicts(telling),
        gap_rule: gap_rule::gap_rule(telling),
        arithmetic: proposal.map(|found| arithmetic::arithmetic(telling, found)).unwrap_or_default(),
        budget: budget::edge_budget(telling),
        better: better::better(telling),
        timing_budget: budget::timing_budget(telling),
        returns: proposal.map(|found| returns::returns(telling, found)).unwrap_or_default(),
        drift: returns::drift(telling),
        as_found: measurements::as_found(telling),
        ports: ports(telling),
        assumptions: engine.assumptions.clone(),
        model_notes: model_notes(telling),
        cautions: crate::cautions::all(),
    }
}

/// Timing at both ends, at the speed from which the valve is fully open; a row that says why where there is none.
fn ports(telling: &Telling<'_>) -> PortsTable {
    let engine = telling.engine;
    timing_table(engine, &both_ends(engine), engine.schedule.full_open_speed.value, telling.units)
        .unwrap_or_else(|error| PortsTable {
            columns: vec![String::new(), "closed".to_owned(), "flush".to_owned()],
            rows: vec![vec![error.to_string(), "no figure".to_owned(), "no figure".to_owned()]],
        })
}

fn model_notes(telling: &Telling<'_>) -> Vec<String> {
    let mut notes = vec![
        "Static balance of the valve pulley: no inertia, no vibration. Wires only pull; wire, sheath and mount give \
         way as springs in series; friction in sheaths and shaft is fully developed in the direction of travel."
            .to_owned(),
        "± is the expanded uncertainty for about 95 % (k = 2). The bands come from 4,000 random draws of every figure \
         within its stated limits, with a fixed seed, and include an adjuster set to half a flat."
            .to_owned(),
        "Degrees per length are local: taken at the edge's own height from this engine's crank geometry.".to_owned(),
        "Port areas are taken along the bore wall (arc) and square to the duct; the valve counts as a straight level \
         edge without leakage past it."
            .to_owned(),
    ];
    if telling.solution.spread.failed > 0.005 {
        notes.push(format!(
            "{:.1} % of the draws gave no working gear and were left out: some limits are wider than the geometry \
             allows. Measure those figures better.",
            telling.solution.spread.failed * 100.0
        ));
    }
    notes
}
