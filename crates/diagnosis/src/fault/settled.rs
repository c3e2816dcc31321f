//! Whether more tests help, and whether findings go together.

use super::model::Tables;
use super::next::Candidate;
use super::weighed::Weighed;
use super::words::{inside, list, percent};
use evidence::network::NetworkError;

/// An outcome less likely than this does not keep a verdict open.
const WORTH_WAITING: f64 = 0.05;
/// A verdict is overturned when it falls below this probability.
const OVERTURNED: f64 = 0.5;
/// A suspect above this probability is named.
const SUSPECT: f64 = 0.1;
/// Findings go badly together when they are that many bits rarer together than each by itself.
const CONFLICT_BITS: f64 = 4.0;

/// A suspect: its name inside a sentence, its probability, and its position (`None` for nothing at all).
struct Suspect {
    name: String,
    probability: f64,
    cause: Option<usize>,
}

/// Why no further test is needed or helps; `None` while there is one worth doing.
pub(super) fn verdict(
    weighed: &Weighed<'_>,
    posterior: &[f64],
    tables: &Tables,
    tests: &[Candidate],
) -> Option<String> {
    let suspects = suspects(weighed, posterior, tables);
    let sure: Vec<&Suspect> =
        suspects.iter().filter(|suspect| suspect.probability >= tables.rules.sure).collect();
    let tells = |test: &&Candidate| test.test.bits >= tables.rules.told_bits;
    let more = tests.iter().any(|test| tells(&test));
    if !sure.is_empty() {
        let cheap = tests.iter().filter(tells).filter(|test| test.cost <= tables.rules.cheap_minutes);
        let mut overturning = cheap.filter(|test| sure.iter().any(|suspect| overturns(test, suspect)));
        return overturning.next().is_none().then(|| sure_sentence(&sure, &suspects, tests.is_empty()));
    }
    (!more).then(|| open_sentence(&suspects, tests.is_empty()))
}

/// Those above [`SUSPECT`], the likeliest first.
fn suspects(weighed: &Weighed<'_>, posterior: &[f64], tables: &Tables) -> Vec<Suspect> {
    let mut all = vec![Suspect { name: "nothing wrong".to_owned(), probability: posterior[0], cause: None }];
    for (cause, probability) in weighed.applied.marginals(posterior).into_iter().enumerate() {
        let name = inside(&tables.causes[weighed.applied.causes[cause]].name);
        all.push(Suspect { name, probability, cause: Some(cause) });
    }
    all.retain(|suspect| suspect.probability > SUSPECT);
    all.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    all
}

fn overturns(test: &Candidate, suspect: &Suspect) -> bool {
    test.after.iter().any(|after| {
        let left = suspect.cause.map_or(after.nothing, |cause| after.causes[cause]);
        after.probability >= WORTH_WAITING && left < OVERTURNED
    })
}

fn sure_sentence(sure: &[&Suspect], suspects: &[Suspect], no_test: bool) -> String {
    let names: Vec<String> =
        sure.iter().map(|suspect| format!("{} ({})", suspect.name, percent(suspect.probability))).collect();
    let why = if no_test { "no test is left" } else { "no cheap test that is left could overturn it" };
    let also: Vec<String> = suspects[sure.len()..]
        .iter()
        .map(|suspect| format!("{} ({})", suspect.name, percent(suspect.probability)))
        .collect();
    let also =
        if also.is_empty() { String::new() } else { format!(" Not ruled out beside it: {}.", list(&also)) };
    format!("Settled: {}; {why}.{also}", list(&names))
}

fn open_sentence(suspects: &[Suspect], no_test: bool) -> String {
    let named = |suspect: &Suspect| format!("{} ({})", suspect.name, percent(suspect.probability));
    match suspects {
        [] if no_test => "No test is left, and no cause stands out.".to_owned(),
        [] => "The tests that are left tell nothing more, and no cause stands out.".to_owned(),
        [one] if no_test => format!("No test is left; most likely: {}.", named(one)),
        [one] => format!("The tests that are left tell nothing more; most likely: {}.", named(one)),
        [first, others @ ..] => {
            let others: Vec<String> = others.iter().map(named).collect();
            let start = if no_test { "No test is left that could" } else { "The tests that are left cannot" };
            format!("{start} tell {} from {}.", named(first), list(&others))
        }
    }
}

/// A sentence when the findings are much rarer together than each by itself, with the one that fits least.
///
/// The measure is log2 of the product of their probabilities over that of all together (F. V. Jensen, B. Chamberlain,
/// T. Nordahl, F. Jensen 1990, Analysis in HUGIN of data conflict; from memory).
pub(super) fn conflict(weighed: &Weighed<'_>, totals_without: &[f64]) -> Result<Option<String>, NetworkError> {
    let count = weighed.findings.seen.len();
    if count < 2 {
        return Ok(None);
    }
    let mut alone = Vec::with_capacity(count);
    for at in 0..count {
        alone.push(weighed.alone(at)?.log2());
    }
    let sum: f64 = alone.iter().sum();
    let bits = sum - weighed.total().log2();
    if !(bits > CONFLICT_BITS) {
        return Ok(None);
    }
    let rest = |at: usize| sum - alone[at] - totals_without[at].log2();
    let Some(odd) = (0..count).min_by(|&a, &b| rest(a).total_cmp(&rest(b))) else { return Ok(None) };
    Ok(Some(format!(
        "The findings go badly together: by the tables they are {:.0} times rarer together than if they had nothing to do with each other. Look again at this one first: {}.",
        bits.min(20.0).exp2(),
        weighed.findings.clauses[odd]
    )))
}
