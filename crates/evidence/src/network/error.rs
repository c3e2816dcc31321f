//! Why a network could not be built or asked.

use thiserror::Error;

/// Why a network could not be built or asked; one sentence each.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[allow(missing_docs, reason = "the sentences say what each case is")]
pub enum NetworkError {
    #[error("variable number {position} has no name; give it one")]
    NoName { position: usize },

    #[error("there are two variables named '{name}'; give each its own name")]
    TwiceNamed { name: String },

    #[error("'{name}' has no states; give it at least one")]
    NoStates { name: String },

    #[error("'{name}' has two states named '{state}'; give each its own name")]
    TwiceState { name: String, state: String },

    #[error(
        "'{name}' has variable number {parent} as a parent, but only the {before} variables listed before it may be"
    )]
    LaterParent { name: String, parent: usize, before: usize },

    #[error("'{name}' has '{parent}' as a parent twice; name it once")]
    TwiceParent { name: String, parent: String },

    #[error("the table of '{name}' has {given} figures; its states and those of its parents need {wanted}")]
    WrongLength { name: String, given: usize, wanted: usize },

    #[error("the table of '{name}' would need more than {most} figures; give it fewer parents or states")]
    TableTooLarge { name: String, most: usize },

    #[error("row {row} of the table of '{name}' holds {value}; a probability is from 0 to 1")]
    NotAProbability { name: String, row: usize, value: f64 },

    #[error("row {row} of the table of '{name}' sums to {sum}; its probabilities must sum to 1")]
    WrongSum { name: String, row: usize, sum: f64 },

    #[error("variable number {variable} was asked about, but there are {count}")]
    UnknownVariable { variable: usize, count: usize },

    #[error("'{name}' was said to be in state number {state}, but it has {count} states")]
    UnknownState { name: String, state: usize, count: usize },

    #[error("'{name}' was said to be '{first}' and also '{second}'; it can be only one of them")]
    Contradiction { name: String, first: String, second: String },

    #[error("'{name}' was asked for twice in one question; ask for it once")]
    TwiceAsked { name: String },

    #[error("what was observed cannot happen together by these tables: {observed}; look at it again")]
    Impossible { observed: String },

    #[error(
        "the question needs a table of more than {most} figures; ask for less at once, or give variables fewer parents"
    )]
    TooLarge { most: usize },
}
