//! From findings to the ranking.

use super::alike;
use super::applied::Applied;
use super::case::{Case, Findings};
use super::model::Tables;
use super::next;
use super::ranking::{RankedCause, Ranking, Reason};
use super::settled;
use super::weighed::{Weighed, normalised};
use super::words;
use crate::check::Checks;

/// A finding that changes the odds of a cause by less (bits) is no reason.
const REASON_BITS: f64 = 0.3;
/// Odds are not followed beyond this probability from 0 or 1.
const NEARLY: f64 = 1e-12;

/// Ranks the causes of `case` and the checks that are left.
///
/// `tables` and `checks` hold the built-in rows, and the user's in their place. Exact: every hypothesis (nothing, each
/// cause, each pair) is weighed.
///
/// # Errors
/// One sentence for the mechanic: a finding that no table knows or this kind of actuator cannot have, the same thing
/// found both ways, findings that the tables make impossible together, or tables too large to reckon with.
pub fn find(tables: &Tables, checks: &Checks, case: &Case) -> Result<Ranking, String> {
    let applied = Applied::of(tables, case.actuator);
    let findings = Findings::of(case, tables, &applied, checks)?;
    let large = |error: evidence::network::NetworkError| error.to_string();
    let weighed = Weighed::of(&applied, &findings).map_err(large)?;
    let posterior = weighed.posterior().ok_or_else(|| impossible(&findings))?;
    let without: Vec<Vec<f64>> =
        (0..findings.seen.len()).map(|at| weighed.without(at)).collect::<Result<_, _>>().map_err(large)?;
    let totals: Vec<f64> = without.iter().map(|weights| weights.iter().sum()).collect();
    let tests = next::candidates(&weighed, &posterior, tables, checks, case).map_err(large)?;
    let settled = settled::verdict(&weighed, &posterior, tables, &tests);
    Ok(Ranking {
        causes: causes(&weighed, tables, &posterior, &without),
        nothing: posterior[0],
        settled,
        conflict: settled::conflict(&weighed, &totals).map_err(large)?,
        alike: alike::pairs(&applied, tables, &applied.marginals(&posterior)),
        assumptions: assumptions(&applied, &findings, tables, checks, case),
        next: tests.into_iter().map(|candidate| candidate.test).collect(),
    })
}

fn impossible(findings: &Findings) -> String {
    format!(
        "by the tables these findings cannot come together: {}; look at them again, or give the tables a small chance of error",
        words::list(&findings.clauses)
    )
}

fn causes(
    weighed: &Weighed<'_>,
    tables: &Tables,
    posterior: &[f64],
    without: &[Vec<f64>],
) -> Vec<RankedCause> {
    let applied = weighed.applied;
    let probabilities = applied.marginals(posterior);
    let left: Vec<Option<Vec<f64>>> =
        without.iter().map(|weights| normalised(weights).map(|shares| applied.marginals(&shares))).collect();
    let mut ranked: Vec<RankedCause> = (0..applied.causes.len())
        .map(|cause| ranked(weighed, tables, cause, probabilities[cause], &left))
        .collect();
    ranked.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    ranked
}

fn ranked(
    weighed: &Weighed<'_>,
    tables: &Tables,
    cause: usize,
    probability: f64,
    left: &[Option<Vec<f64>>],
) -> RankedCause {
    let row = &tables.causes[weighed.applied.causes[cause]];
    let findings = weighed.findings;
    let mut weights: Vec<(usize, f64)> = left
        .iter()
        .enumerate()
        .filter_map(|(at, left)| Some((at, log_odds(probability) - log_odds(left.as_ref()?[cause]))))
        .filter(|(_, bits)| bits.abs() >= REASON_BITS)
        .collect();
    weights.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let (for_it, against_it): (Vec<_>, Vec<_>) = weights.into_iter().partition(|(_, bits)| *bits > 0.0);
    let reasons = |weights: &[(usize, f64)]| -> Vec<Reason> {
        let reason =
            |&(at, bits): &(usize, f64)| words::reason(&findings.keys[at], &findings.clauses[at], bits);
        weights.iter().map(reason).collect()
    };
    let clauses = |weights: &[(usize, f64)]| -> Vec<&str> {
        weights.iter().map(|(at, _)| findings.clauses[*at].as_str()).collect()
    };
    RankedCause {
        key: row.key.clone(),
        name: row.name.clone(),
        probability,
        in_words: words::sentence(probability, &clauses(&for_it), &clauses(&against_it)),
        because: reasons(&for_it),
        against: reasons(&against_it),
        remedy: row.remedy.clone(),
        not_the_valve: row.not_the_valve,
        sources: sources(weighed, tables, cause),
    }
}

fn log_odds(probability: f64) -> f64 {
    let held = probability.clamp(NEARLY, 1.0 - NEARLY);
    (held / (1.0 - held)).log2()
}

/// Sources of the cause's own row, and of every finding that counts.
fn sources(weighed: &Weighed<'_>, tables: &Tables, cause: usize) -> Vec<String> {
    use super::case::Seen;
    let row = &tables.causes[weighed.applied.causes[cause]];
    let mut sources = vec![format!("{}: {}", row.name, row.source)];
    for seen in &weighed.findings.seen {
        let line = match *seen {
            Seen::Sign(sign, _) => {
                let symptom = &tables.symptoms[weighed.applied.signs[sign].row];
                format!("symptom {}: {}", symptom.key, symptom.source)
            }
            Seen::Probe(probe, _) => {
                let test = &tables.tests[weighed.applied.probes[probe].row];
                format!("check {}: {}", test.check, test.source)
            }
        };
        sources.push(line);
    }
    sources
}

fn assumptions(
    applied: &Applied,
    findings: &Findings,
    tables: &Tables,
    checks: &Checks,
    case: &Case,
) -> Vec<String> {
    let mut said = vec![
        format!(
            "At most two causes are at work at once; a second one is {} times as frequent as its odds say. The probabilities can sum to more than 100 %.",
            tables.rules.second_fault
        ),
        format!(
            "Before anything was looked at, nothing is wrong with {}.",
            words::percent(applied.prior[0])
        ),
        "A part that two causes spoil is as bad as the worse of them makes it.".to_owned(),
        "Findings are taken as independent of each other once cause and state of the parts are known.".to_owned(),
        "The figures are estimates from common practice, not counts; every one stands in a table with its source and can be changed."
            .to_owned(),
        format!(
            "Every test costs {} minutes besides its own, a part that is used up counts as {} minutes; up to {} minutes a test is cheap.",
            tables.rules.handling_minutes, tables.rules.part_minutes, tables.rules.cheap_minutes
        ),
    ];
    said.extend(findings.left_out.iter().cloned());
    for key in case.off.iter().filter(|key| checks.piece(key).is_none()) {
        said.push(format!("'{key}' is no piece to take off that is known, so it makes no difference."));
    }
    for key in case.skip.iter().filter(|key| checks.get(key).is_none()) {
        said.push(format!("'{key}' is no check that is known, so leaving it out makes no difference."));
    }
    said
}
