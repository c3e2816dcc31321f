//! The answer: causes by probability, why, and what to do next.

use serde::Serialize;

/// What the findings of a case come to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ranking {
    /// Every cause this kind of actuator can have, the likeliest first.
    pub causes: Vec<RankedCause>,
    /// Probability that none of the listed causes is at work.
    pub nothing: f64,
    /// The checks that are left, the one that tells most for its cost first.
    pub next: Vec<NextTest>,
    /// Why no further test is needed or helps; `None` while there is one worth doing.
    pub settled: Option<String>,
    /// The finding that fits badly with the others, if there is one: look at it again.
    pub conflict: Option<String>,
    /// Suspects that no check at all can tell apart, one sentence for each pair.
    pub alike: Vec<String>,
    /// What the answer takes for granted, one sentence each.
    pub assumptions: Vec<String>,
}

/// A cause with its probability. Two causes can be at work at once, so the probabilities can sum to more than 1.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RankedCause {
    /// Key of the cause.
    pub key: String,
    /// Name, as a heading.
    pub name: String,
    /// Probability that it is at work, alone or with one other.
    pub probability: f64,
    /// One sentence: how likely, because of what, against what.
    pub in_words: String,
    /// Findings that speak for it, the strongest first.
    pub because: Vec<Reason>,
    /// Findings that speak against it, the strongest first.
    pub against: Vec<Reason>,
    /// What is done about it.
    pub remedy: String,
    /// True for causes that only look like the valve.
    pub not_the_valve: bool,
    /// Where the figures behind it come from.
    pub sources: Vec<String>,
}

/// What one finding does to one cause.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reason {
    /// Key of the symptom or check.
    pub finding: String,
    /// The finding and what it does, such as "the sensor jumps (odds 14 times higher)".
    pub text: String,
    /// Base-2 logarithm of the odds with all findings over those without this one; positive speaks for the cause.
    pub weight_bits: f64,
}

/// A check that could be done next.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextTest {
    /// Key of the check.
    pub check: String,
    /// Its name, as a heading.
    pub title: String,
    /// How much its outcome tells about what is at fault, on the average, in bits.
    pub bits: f64,
    /// Minutes for the check itself.
    pub minutes: f64,
    /// Minutes for what must come off and is not off already.
    pub minutes_off: f64,
    /// What is used up.
    pub parts: Vec<String>,
    /// Bits for each minute of its cost; parts count as minutes.
    pub per_minute: f64,
    /// What each outcome would mean.
    pub outcomes: Vec<Foreseen>,
}

/// An outcome, foreseen.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Foreseen {
    /// Key of the outcome.
    pub outcome: String,
    /// What would be found.
    pub says: String,
    /// How likely that is.
    pub probability: f64,
    /// Names of causes that would fall below 1 % and to less than a fifth.
    pub rules_out: Vec<String>,
    /// Names of causes that would come to the top, or triple and exceed 10 %.
    pub points_to: Vec<String>,
}
