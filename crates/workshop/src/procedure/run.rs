//! One procedure on one engine, ready to be drawn.

use super::draw::{Draws, Stream};
use super::execute::{NotDone, carry_out, needs_known};
use super::figures::Figures;
use super::model::{Check, FreeSheath, Parts, Procedure, Procedures, Step};
use super::outcome::Outcome;
use crate::setting::case::Case;
use engine::model::Engine;
use evidence::Input;
use gear::{Setting, State};
use std::ops::Range;

/// Which engines are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Scope {
    /// The engine at hand: its figures as far as they were measured, its lengths as its readings show them.
    ThisEngine,
    /// Engines like it: on top of that they differ by what `[parts]` says, and no reading was taken of them.
    #[default]
    LikeEngines,
}

/// One procedure on one engine. Draw `n` depends on the seed and `n` alone, and of two runs with the same seed it has
/// the same gear: only the hands differ. So runs may be drawn in any pieces, on any number of threads, and compared
/// draw by draw.
#[derive(Debug, Clone)]
pub struct Run {
    procedure: Procedure,
    steps: Vec<Step>,
    figures: Figures,
    checks: Vec<Check>,
    inputs: Vec<Input>,
    stream: Stream,
}

impl Run {
    /// Prepares a procedure for an engine.
    ///
    /// # Errors
    /// [`NotDone`] when the engine lacks what the steps need, so that no draw could be carried out.
    pub fn new(
        engine: &Engine,
        procedures: &Procedures,
        procedure: &Procedure,
        scope: Scope,
        seed: u64,
    ) -> Result<Self, NotDone> {
        let mut figures = Figures::new(engine, &procedures.parts, &procedures.sheath, scope);
        let sprung = figures.case().spring_on_adjuster;
        let steps: Vec<Step> =
            procedure.steps.iter().filter(|step| step.spring.applies(sprung)).cloned().collect();
        if steps.is_empty() {
            return Err(NotDone::OtherSpring(if sprung { "on the adjuster" } else { "on the shaft" }));
        }
        let listed: Vec<&Step> = steps.iter().collect();
        NotDone::check(&listed, figures.case(), figures.best())?;
        figures.needs_known = needs_known(&listed);
        let mut inputs = Vec::new();
        let mut note = |name: super::figures::Name, figure: &quantity::Measured| {
            inputs.push(Input::measured(name.to_string(), figure));
            figure.value
        };
        let drawn = figures.draw(&mut note);
        let parts = inputs.len();
        let mut note = |name: super::figures::Name, figure: &quantity::Measured| {
            inputs.push(Input::measured(name.to_string(), figure));
            figure.value
        };
        carry_out(&listed, &drawn, &mut note)?;
        let stream = Stream::new(&inputs, parts, seed, &procedure.key);
        let checks = procedures.checks.clone();
        Ok(Self { procedure: procedure.clone(), steps, figures, checks, inputs, stream })
    }

    /// The procedure.
    pub fn procedure(&self) -> &Procedure {
        &self.procedure
    }

    /// The steps that this gear's return spring asks for.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// The engine at its best values.
    pub fn case(&self) -> &Case {
        self.figures.case()
    }

    /// The engine.
    pub fn engine(&self) -> &Engine {
        self.figures.engine()
    }

    /// How the next engine of the type differs.
    pub fn parts(&self) -> &Parts {
        self.figures.parts()
    }

    /// The longest stretch of sheath that nothing guides.
    pub fn sheath(&self) -> &FreeSheath {
        self.figures.sheath()
    }

    /// How well each demand can be checked.
    pub fn checks(&self) -> &[Check] {
        &self.checks
    }

    /// Everything that is drawn, with its spread, for propagation and sensitivity: the gear's figures first, then what
    /// the hand does and reads.
    pub fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    /// What comes of the procedure with the inputs at `values`, in the order of [`Run::inputs`].
    ///
    /// # Errors
    /// [`NotDone`] when these values make a gear on which a step cannot be done.
    pub fn outcome(&self, values: &[f64]) -> Result<Outcome, NotDone> {
        let mut next = values.iter();
        let mut take = |_, figure: &quantity::Measured| next.next().copied().unwrap_or(figure.value);
        let drawn = self.figures.draw(&mut take);
        let setting = carry_out(&self.listed(), &drawn, &mut take)?;
        Ok(Outcome::of(&drawn, setting))
    }

    /// What comes of it at best values, hands included.
    ///
    /// # Errors
    /// As [`Run::outcome`].
    pub fn best(&self) -> Result<Outcome, NotDone> {
        let values: Vec<f64> = self.inputs.iter().map(|input| input.value).collect();
        self.outcome(&values)
    }

    /// The inputs of draw `number`.
    pub fn values(&self, number: u64) -> Vec<f64> {
        let mut values = vec![0.0; self.inputs.len()];
        self.stream.fill(number, &mut values);
        values
    }

    /// Draws the numbers of `range`. Ranges drawn apart and joined are, bit for bit, the range drawn in one.
    pub fn draw(&self, range: Range<u64>) -> Draws {
        let mut draws = Draws::starting_at(range.start, range.end.saturating_sub(range.start) as usize);
        let steps = self.listed();
        let mut values = vec![0.0; self.inputs.len()];
        for number in range {
            self.stream.fill(number, &mut values);
            let mut next = values.iter();
            let mut take = |_, figure: &quantity::Measured| next.next().copied().unwrap_or(figure.value);
            let drawn = self.figures.draw(&mut take);
            draws.push(carry_out(&steps, &drawn, &mut take).map(|setting| Outcome::of(&drawn, setting)).ok());
        }
        draws
    }

    /// The gear of draw `number` with the servo at a share of its travel, 0 to 1, rising; none when that draw failed.
    pub fn at(&self, number: u64, share: f64) -> Option<Posed> {
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 1.0 };
        let values = self.values(number);
        let mut next = values.iter();
        let mut take = |_, figure: &quantity::Measured| next.next().copied().unwrap_or(figure.value);
        let drawn = self.figures.draw(&mut take);
        let setting = carry_out(&self.listed(), &drawn, &mut take).ok()?;
        let state = drawn.rising.solve(setting, share * drawn.case.full_rad);
        let best = self.figures.best();
        let gap_m = |sum_m: Option<f64>, slack_m: f64| sum_m.map_or(f64::NAN, |sum_m| sum_m - slack_m);
        Some(Posed {
            opening_gap_m: gap_m(best.opening_m, setting.opening_slack_m),
            closing_gap_m: gap_m(best.closing_m, setting.closing_slack_m),
            case: drawn.case,
            state,
            setting,
        })
    }

    fn listed(&self) -> Vec<&Step> {
        self.steps.iter().collect()
    }
}

/// A drawn gear at one place of its servo.
#[derive(Debug, Clone)]
pub struct Posed {
    /// The gear.
    pub case: Case,
    /// Where it stands.
    pub state: State,
    /// The slacks that the procedure left.
    pub setting: Setting,
    /// Gap between pulley and sheath end at the opening adjuster, for the lengths of the engine at hand, m; not a
    /// number when no reading tells it.
    pub opening_gap_m: f64,
    /// The same at the closing adjuster.
    pub closing_gap_m: f64,
}
