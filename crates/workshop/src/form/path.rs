//! How far the work is: each step with what is missing, and what to do next.

use super::label::{full_label, lower};
use super::page::said_of_ports;
use super::standing::Standing;
use super::step::Step;
use engine::file::fields::Field;
use serde::Serialize;
use std::collections::BTreeMap;

/// The path of one engine as its fields stand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Path {
    /// The steps in the order of the work.
    pub steps: Vec<StepState>,
    /// Where to go on; `None` when nothing is left to enter.
    pub next: Option<Next>,
    /// The engine can be worked out: nothing is missing or wrong.
    pub readable: bool,
    /// Odd figures that want an answer.
    pub questions: usize,
}

/// One step and how far it is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StepState {
    /// Which.
    pub step: Step,
    /// Its name in addresses.
    pub slug: &'static str,
    /// Its title.
    pub title: &'static str,
    /// It belongs to the description of the engine (its build), not to a visit.
    pub describes: bool,
    /// How far it is.
    pub status: StepStatus,
    /// Needed figures that are not given yet.
    pub missing: usize,
    /// Texts that are wrong.
    pub wrong: usize,
    /// What to do next in it, one sentence.
    pub next: Option<Next>,
}

/// What to do next.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Next {
    /// In which step.
    pub step: Step,
    /// At which field.
    pub key: Option<String>,
    /// One sentence.
    pub text: String,
}

/// How far a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepStatus {
    /// Nothing is entered, or it cannot be begun yet.
    Empty,
    /// Something is entered and something needed is missing.
    Started,
    /// Something entered is wrong.
    Wrong,
    /// Everything needed is there.
    Complete,
}

/// The path: every step with its state, and where to go on.
pub fn path(fields: &BTreeMap<String, String>) -> Path {
    let standing = Standing::of(fields);
    let steps: Vec<StepState> = Step::ALL.into_iter().map(|step| state_of(step, &standing)).collect();
    let open = |step: &&StepState| {
        step.wrong > 0
            || step.missing > 0
            || (step.step == Step::Setting && step.status != StepStatus::Complete)
    };
    let next = steps.iter().find(open).and_then(|step| step.next.clone());
    Path {
        next: next.or_else(|| last_words(&standing)),
        steps,
        readable: standing.reading().is_some(),
        questions: standing.reading().map_or(0, |reading| reading.questions.len()),
    }
}

/// When nothing is missing: the setting, and after it the return values.
fn last_words(standing: &Standing<'_>) -> Option<Next> {
    standing.reading()?;
    let has_returns =
        standing.fields.keys().any(|key| key.starts_with("returns.") && !standing.is_blank(key));
    let (step, text) = if has_returns {
        (Step::Sheet, "Print the sheet and sign it.")
    } else {
        (Step::Setting, "Make the setting, see that it is right, then keep its return values.")
    };
    Some(Next { step, key: None, text: text.to_owned() })
}

/// How far one step is.
pub(super) fn state_of(step: Step, standing: &Standing<'_>) -> StepState {
    let (missing, wrong, mut next) = match step {
        Step::AsFound => found_missing(standing),
        Step::Gates => gates_missing(standing),
        _ => (0, 0, None),
    };
    let (mut missing, mut wrong) = (missing, wrong);
    let mut first_wrong = None;
    for problem in standing.read.problems.iter().filter(|problem| Step::of(&problem.key) == Some(step)) {
        let is_missing = Field::named(&problem.key).is_none() || !standing.gives(&problem.key);
        let text = if Field::named(&problem.key).is_some() {
            format!("{}: {}.", full_label(standing.fields, &problem.key), problem.message)
        } else {
            format!("{}.", super::label::upper(&said_of_ports(&problem.message)))
        };
        let key = Some(problem.key.clone());
        if is_missing {
            missing += 1;
            next.get_or_insert(Next { step, key, text });
        } else {
            wrong += 1;
            first_wrong.get_or_insert(Next { step, key, text });
        }
    }
    let next = first_wrong.or(next).or_else(|| waiting(step, standing));
    let status = status(step, standing, missing, wrong);
    StepState {
        step,
        slug: step.slug(),
        title: step.title(),
        describes: step.describes(),
        status,
        missing,
        wrong,
        next,
    }
}

fn status(step: Step, standing: &Standing<'_>, missing: usize, wrong: usize) -> StepStatus {
    if step.sections().is_empty() {
        // What is done in these leaves no field behind: they can be begun, or they cannot.
        return if standing.reading().is_some() { StepStatus::Complete } else { StepStatus::Empty };
    }
    let entered = standing.fields.iter().any(|(key, text)| {
        !text.trim().is_empty()
            && Field::named(key).is_some_and(|field| step.sections().contains(&field.section.path))
    });
    match (wrong > 0, missing > 0, entered) {
        (true, _, _) => StepStatus::Wrong,
        (false, _, false) => StepStatus::Empty,
        (false, true, true) => StepStatus::Started,
        (false, false, true) => StepStatus::Complete,
    }
}

/// Why a step without a form of its own cannot be begun.
fn waiting(step: Step, standing: &Standing<'_>) -> Option<Next> {
    if !step.sections().is_empty() || standing.reading().is_some() {
        return None;
    }
    let problem = standing.read.problems.first()?;
    let at = Step::of(&problem.key)?;
    let count = standing.read.problems.len();
    let figures = if count == 1 { "one entry is".to_owned() } else { format!("{count} entries are") };
    let text =
        format!("The setting can be worked out once the description is whole: {figures} missing or wrong.");
    Some(Next { step: at, key: Some(problem.key.clone()), text })
}

/// The readings without which no turns can be given.
fn found_missing(standing: &Standing<'_>) -> (usize, usize, Option<Next>) {
    let given = |key: &str| standing.gives(key);
    let on_adjuster = standing.text("gear.spring.kind").eq_ignore_ascii_case("closing adjuster");
    let opening = given("found.edge_above_flush") || given("found.opening_play");
    let closing_key = if on_adjuster { "found.spring_length" } else { "found.closing_play" };
    let closing = given(closing_key);
    let step = Step::AsFound;
    let next = if !opening {
        Some(Next {
            step,
            key: Some("found.edge_above_flush".to_owned()),
            text: "Read the valve edge against the port roof with the servo at full travel: best of all, because \
                   errors of pulleys and arm then cancel. Free play of the opening cable does it less well."
                .to_owned(),
        })
    } else if !closing {
        let text = format!(
            "Read the {}: without it no turns of the closing adjuster can be given.",
            lower(&super::label(closing_key))
        );
        Some(Next { step, key: Some(closing_key.to_owned()), text })
    } else {
        None
    };
    (usize::from(!opening) + usize::from(!closing), 0, next)
}

/// Gates that are not answered.
fn gates_missing(standing: &Standing<'_>) -> (usize, usize, Option<Next>) {
    let keys = ["gates.proud_closed", "gates.proud_open", "gates.turn_closed", "gates.turn_open"];
    let open: Vec<&str> = keys.into_iter().filter(|key| !standing.gives(key)).collect();
    let next = open.first().map(|key| Next {
        step: Step::Gates,
        key: Some((*key).to_owned()),
        text: format!("{}: not answered yet. No first start before it is.", super::label(key)),
    });
    (open.len(), 0, next)
}
