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
/// A finding fits badly with the others when it is less likely than this among them ...
const MISFIT: f64 = 0.03;
/// ... and so many times less likely than with nothing else known.
const MISFIT_TIMES: f64 = 3.0;

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

/// A sentence on the finding that fits the others least, when it fits badly.
///
/// `totals_without` are the probabilities of all findings but one, in the order of the findings.
pub(super) fn conflict(
    weighed: &Weighed<'_>,
    totals_without: &[f64],
) -> Result<Option<String>, NetworkError> {
    let count = weighed.findings.seen.len();
    if count < 2 {
        return Ok(None);
    }
    let among = |at: usize| weighed.total() / totals_without[at];
    let Some(odd) = (0..count).min_by(|&a, &b| among(a).total_cmp(&among(b))) else { return Ok(None) };
    if among(odd) >= MISFIT || among(odd) * MISFIT_TIMES >= weighed.alone(odd)? {
        return Ok(None);
    }
    Ok(Some(format!(
        "One finding fits badly with the others: {}. With the others as they are, about one engine in {:.0} shows it. Look at it again first.",
        weighed.findings.clauses[odd],
        (1.0 / among(odd)).min(1e6)
    )))
}
