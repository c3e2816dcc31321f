//! Verdicts in a mechanic's words.

use super::item::InForce;
use crate::check::judgement::{ItemJudgement, ItemVerdict, PairJudgement, Slip, State};
use crate::check::model::{Check, Outcome};
use evidence::conformity::{Conformity, Verdict};
use quantity::{Dimension, Measured, Units};

/// A clause made a sentence: capital in front, full stop behind.
pub(super) fn sentence(clause: &str) -> String {
    let mut letters = clause.trim().chars();
    let first = letters.next().map(|c| c.to_uppercase().collect::<String>()).unwrap_or_default();
    let rest = letters.as_str();
    let stop = if rest.ends_with(['.', '!', '?']) { "" } else { "." };
    format!("{first}{rest}{stop}")
}

/// A share in per cent.
pub(super) fn per_cent(share: f64) -> String {
    let percent = 100.0 * share;
    if percent > 0.0 && percent < 1.0 { format!("{percent:.1} %") } else { format!("{percent:.0} %") }
}

/// A probability in per cent, never rounded to certainty.
fn chance(probability: f64) -> String {
    match 100.0 * probability {
        p if p < 1.0 => "less than 1 %".to_owned(),
        p if p > 99.0 => "more than 99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// What stands in place of a verdict while a question is open.
pub(super) fn asked(question: &Slip) -> String {
    format!("{} {} {}", question.text, question.likely, question.confirm)
}

/// A figure that has nothing to be judged by.
pub(super) fn no_limit(shown: &str, optional: bool) -> String {
    let mend = "No honest general limit exists for it: put in the limit from your manual";
    if optional {
        format!("{shown} is kept, not judged. {mend}, or let the other answers decide.")
    } else {
        format!("{shown} is kept, not judged. {mend}.")
    }
}

/// The verdict on a figure.
pub(super) fn verdict(
    measured: &Measured,
    by: Option<&str>,
    in_force: &InForce,
    judged: &Conformity,
    units: Units,
) -> String {
    let shown = quantity::show(measured, units);
    let limits = in_force.limits.show(measured.dimension, units);
    let source = &in_force.source;
    let word = match judged.verdict {
        Verdict::Pass => "Pass",
        Verdict::Fail => "Fail",
        Verdict::CannotTell => "Cannot tell",
    };
    let mut text = format!("{word}: {shown}. Limit: {limits} ({source}).");
    if judged.verdict == Verdict::CannotTell {
        text.push_str(&format!(
            " The limit lies within the error of the reading; the chance that it is kept is {}. {}",
            chance(judged.probability),
            better(measured, judged, units)
        ));
    }
    if let Some(by) = by {
        text.push_str(&format!(" Taken as read by {by}."));
    }
    text
}

/// Which measurement would tell.
fn better(measured: &Measured, judged: &Conformity, units: Units) -> String {
    if !judged.capable {
        return "The reading is too coarse for these limits, whatever it shows: use a finer instrument or range."
            .to_owned();
    }
    let wanted = 2.0 * judged.u_to_tell;
    // Closer to a limit than a fiftieth of the present error there is no sense in a better instrument.
    if wanted < 0.04 * measured.u {
        return "It lies on the limit: no better reading will settle it; decide by the other answers."
            .to_owned();
    }
    let shown = difference(round_down(wanted), measured, units);
    format!("A reading good to ± {shown} would tell.")
}

/// Two significant digits, never more than the figure.
fn round_down(si: f64) -> f64 {
    let scale = 10f64.powf(1.0 - si.abs().log10().floor());
    let rounded = (si * scale).floor() / scale;
    if rounded.is_finite() { rounded } else { si }
}

/// A figure without uncertainty and without idle zeros.
pub(super) fn plain(si: f64, dimension: Dimension, units: Units) -> String {
    quantity::show(&Measured::exact(si, dimension), units)
}

/// A difference in display units: temperatures lose their zero.
fn difference(si: f64, measured: &Measured, units: Units) -> String {
    if measured.dimension == Dimension::Temperature {
        let unit = quantity::display_unit(measured.dimension, units);
        return format!("{:.1} {}", si * unit.per_si, unit.symbol);
    }
    plain(si, measured.dimension, units)
}

/// The verdict on a pair.
pub(super) fn pair(shown: &[String; 2], apart: f64, limit: f64, source: &str, verdict: Verdict) -> String {
    let [one, other] = shown;
    let (apart, limit) = (per_cent(apart), per_cent(limit));
    match verdict {
        Verdict::Pass => {
            format!("Pass: {one} and {other} are {apart} apart, at most {limit} wanted ({source}).")
        }
        Verdict::Fail => format!("Fail: {one} and {other} are {apart} apart, more than {limit} ({source})."),
        Verdict::CannotTell => format!(
            "Cannot tell: {one} and {other} are {apart} apart, and their errors reach across the {limit} allowed ({source})."
        ),
    }
}

/// What a whole check came to.
pub(super) fn whole(
    check: &Check,
    items: &[ItemJudgement],
    pairs: &[PairJudgement],
    state: State,
    outcome: Option<&Outcome>,
) -> String {
    let said = |wanted: ItemVerdict| {
        let of_items = items.iter().filter(move |item| item.verdict == wanted).map(|item| item.text.clone());
        of_items.chain(pairs.iter().filter(move |pair| pair.verdict == wanted).map(|pair| pair.text.clone()))
    };
    match (state, outcome) {
        (State::NotDone, _) => "Not done.".to_owned(),
        (State::Asked, _) => said(ItemVerdict::Asked)
            .next()
            .unwrap_or_else(|| "A figure is odd; answer its question first.".to_owned()),
        (State::Started, _) => match said(ItemVerdict::Unreadable).next() {
            Some(text) => text,
            None if asks_limit(check, items) => said(ItemVerdict::NoLimit).next().unwrap_or_default(),
            None => format!("Begun; still to do: {}.", missing(check, items)),
        },
        (State::Done, Some(outcome)) => {
            let word = if outcome.passes { "Pass" } else { "Fail" };
            let untold: Vec<String> = said(ItemVerdict::CannotTell).map(|text| format!(" {text}")).collect();
            format!("{word}: {}{}{}", outcome.says, kept(check, items), untold.concat())
        }
        (State::Done, None) => {
            said(ItemVerdict::CannotTell).next().unwrap_or_else(|| "Cannot tell.".to_owned())
        }
    }
}

/// Whether all that is missing is a limit.
fn asks_limit(check: &Check, items: &[ItemJudgement]) -> bool {
    let mut lacking =
        check.items.iter().zip(items).filter(|(item, said)| super::lacks(item, said)).peekable();
    lacking.peek().is_some() && lacking.all(|(_, said)| said.verdict == ItemVerdict::NoLimit)
}

/// What was read and could not be judged.
fn kept(check: &Check, items: &[ItemJudgement]) -> String {
    let said = check.items.iter().zip(items).filter(|(_, said)| said.verdict == ItemVerdict::NoLimit);
    let asks: Vec<String> =
        said.map(|(item, _)| format!("'{}'", item.asks.trim_end_matches(['.', '?']))).collect();
    match asks.as_slice() {
        [] => String::new(),
        [one] => format!(" Judged without {one}: there is no limit for it."),
        several => format!(" Judged without {}: there is no limit for them.", several.join(" and ")),
    }
}

fn missing(check: &Check, items: &[ItemJudgement]) -> String {
    let lacking = check.items.iter().zip(items).filter(|(item, said)| super::lacks(item, said));
    let asks: Vec<&str> = lacking.map(|(item, _)| item.asks.trim_end_matches(['.', '?'])).collect();
    if asks.is_empty() { "an answer that can be judged".to_owned() } else { asks.join("; ") }
}
