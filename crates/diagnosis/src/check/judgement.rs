//! What a check came to, in numbers and in words.

use serde::Serialize;

/// How far a check is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Nothing was entered.
    NotDone,
    /// Something was entered, something is missing or cannot be read.
    Started,
    /// Something odd was entered and waits for an answer.
    Asked,
    /// Everything needed is there.
    Done,
}

/// What may be said of one item.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ItemVerdict {
    /// Nothing was entered.
    NotGiven,
    /// What was entered cannot be read; the text says why.
    Unreadable,
    /// What was entered is odd; see the question.
    Asked,
    /// In order.
    Pass,
    /// Not in order.
    Fail,
    /// The measurement is not good enough to say.
    CannotTell,
    /// There is no limit to judge by: kept, not judged.
    NoLimit,
}

/// What kind of slip a question suspects.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SlipKind {
    /// About a thousand or a million times off.
    Thousand,
    /// Inches where millimetres were meant, or the other way.
    Inch,
    /// Degrees where turns were meant, or the other way.
    Turns,
    /// Newtons where kilograms-force were meant, or the other way.
    Kilogram,
    /// The readings of the two ends changed places.
    SwappedEnds,
    /// Two parts and their whole do not fit each other.
    PinsMixed,
    /// Less than the leads of the meter themselves have.
    BelowLeads,
    /// The meter stood on a range that cannot show what the limits need.
    MeterRange,
    /// A 1 alone at the left of the display: overload on some meters.
    OneAlone,
    /// The lower limit is above the upper one.
    LimitsReversed,
    /// Outside everything usual, and no simple slip explains it.
    Unusual,
}

/// A question about an odd entry. Nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Slip {
    /// What is suspected.
    pub kind: SlipKind,
    /// What was read and why it is odd.
    pub text: String,
    /// What was likely meant or done.
    pub likely: String,
    /// How to answer: write it again, or confirm it.
    pub confirm: String,
    /// Entry that confirms: `<item>.sure`.
    pub confirm_key: String,
    /// The entry that was likely meant, to be offered and never put in unasked.
    pub likely_entry: Option<String>,
}

/// One item, judged.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ItemJudgement {
    /// Key of the item.
    pub key: String,
    /// The answer as understood, in the chosen units; `None` when there is none.
    pub shown: Option<String>,
    /// The limits it was judged by.
    pub limit_shown: Option<String>,
    /// Where the limits come from.
    pub limit_source: Option<String>,
    /// What may be said.
    pub verdict: ItemVerdict,
    /// Key of the outcome this item alone leads to.
    pub outcome: Option<String>,
    /// Probability that the true value lies within the limits.
    pub probability: Option<f64>,
    /// The verdict in words.
    pub text: String,
    /// The question to answer first.
    pub question: Option<Slip>,
}

/// Two readings, compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PairJudgement {
    /// Key of the pair.
    pub key: String,
    /// The difference as a share of the larger one.
    pub shown: Option<String>,
    /// The limit it was judged by.
    pub limit_shown: Option<String>,
    /// Where the limit comes from.
    pub limit_source: Option<String>,
    /// What may be said.
    pub verdict: ItemVerdict,
    /// Key of the outcome this pair alone leads to.
    pub outcome: Option<String>,
    /// Probability that the true difference lies within the limit.
    pub probability: Option<f64>,
    /// The verdict in words.
    pub text: String,
}

/// A whole check, judged.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Judgement {
    /// How far it is.
    pub state: State,
    /// Key of the outcome, once the check is done and can tell.
    pub outcome: Option<String>,
    /// Whether that outcome is a good one.
    pub passes: Option<bool>,
    /// True when the check is done and its measurements are not good enough to tell.
    pub cannot_tell: bool,
    /// The items, in order.
    pub items: Vec<ItemJudgement>,
    /// The pairs, in order.
    pub pairs: Vec<PairJudgement>,
    /// What was found, in words.
    pub text: String,
    /// What it means.
    pub means: Option<String>,
}
