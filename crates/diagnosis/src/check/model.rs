//! What a bench check is.

use quantity::Dimension;
use serde::{Deserialize, Serialize};

/// What moves the valve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Actuator {
    /// Motor, reduction and position sensor, with two cables.
    Servo,
    /// Balls, ramp and spring on a shaft of the engine.
    Governor,
    /// Diaphragm, spring and the pressure of a pipe.
    Diaphragm,
}

impl Actuator {
    /// Every kind.
    pub const ALL: [Actuator; 3] = [Self::Servo, Self::Governor, Self::Diaphragm];

    /// The kind as it is written in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Servo => "servo",
            Self::Governor => "governor",
            Self::Diaphragm => "diaphragm",
        }
    }

    /// The kind written `key`, if it is one.
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }
}

/// Something that has to come off before a check can be done.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TakeOff {
    /// Key by which checks name it.
    pub key: String,
    /// Name with its article, as it stands in a sentence: "the fuel tank".
    pub name: String,
    /// Minutes to take it off and put it back, more than 0.
    pub minutes: f64,
    /// What is used up: gaskets, clips.
    pub parts: Vec<String>,
    /// Where the minutes come from.
    pub source: String,
}

/// One bench check, complete.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Check {
    /// Key, unique among checks.
    pub key: String,
    /// Name of the check, as a heading.
    pub title: String,
    /// Actuator kinds it belongs to, at least one.
    pub actuators: Vec<Actuator>,
    /// What it is for.
    pub purpose: String,
    /// Minutes it takes when everything is accessible, more than 0.
    pub minutes: f64,
    /// Keys of what must be off ([`TakeOff`]).
    pub take_off: Vec<String>,
    /// What is used up by the check itself.
    pub parts: Vec<String>,
    /// What is needed on the bench.
    pub tools: Vec<String>,
    /// What to disconnect, in the order of the work.
    pub disconnect: Vec<String>,
    /// Step by step.
    pub steps: Vec<String>,
    /// Before one begins.
    pub cautions: Vec<String>,
    /// What is asked and read, in the order of the work.
    pub items: Vec<Item>,
    /// Pairs of readings that must agree.
    pub pairs: Vec<Pair>,
    /// Readings of parts that add up to the reading of a whole.
    pub sums: Vec<Sum>,
    /// Possible outcomes from best to worst, at least two.
    pub outcomes: Vec<Outcome>,
    /// Where the check comes from.
    pub source: String,
    /// Where to look.
    pub look: Option<String>,
}

impl Check {
    /// The outcome with this key.
    pub fn outcome(&self, key: &str) -> Option<&Outcome> {
        self.outcomes.iter().find(|outcome| outcome.key == key)
    }

    /// The item with this key.
    pub fn item(&self, key: &str) -> Option<&Item> {
        self.items.iter().find(|item| item.key == key)
    }
}

/// One question of a check.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Item {
    /// Key, unique in its check.
    pub key: String,
    /// What is asked, as the label of the field.
    pub asks: String,
    /// Where it is measured: from what, at which pins, in which state.
    pub from: Option<String>,
    /// A hint.
    pub note: Option<String>,
    /// True when the check can be finished without it.
    pub optional: bool,
    /// A choice or a reading.
    pub kind: ItemKind,
}

/// What kind of answer an item takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum ItemKind {
    /// One of several sentences, each with the outcome it leads to.
    Choice {
        /// The sentences, at least two.
        options: Vec<Choice>,
    },
    /// A figure with a unit.
    Reading(Reading),
}

/// One answer of a choice.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Choice {
    /// What stands in the entries.
    pub key: String,
    /// What the mechanic sees.
    pub text: String,
    /// Key of the outcome it leads to.
    pub outcome: String,
}

/// A figure to read off, and what it means against its limits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reading {
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Built-in limits such as "3.5 kΩ to 6.5 kΩ"; `None` where no honest general limit exists: then the limit from
    /// the user's manual is asked for, and without one the figure is only kept.
    pub limits: Option<String>,
    /// Where such figures usually lie, only for noticing slips; never judged by.
    pub usual: Option<String>,
    /// Instrument it is usually read with: its error is taken when the entry says nothing about its own.
    pub by: Option<String>,
    /// Outcome below the lower limit.
    pub below: Option<String>,
    /// Outcome within the limits.
    pub within: String,
    /// Outcome above the upper limit.
    pub above: Option<String>,
    /// Outcome when the meter shows overload (OL: open circuit); `None` where that is no answer.
    pub overload: Option<String>,
    /// Where limits and usual range come from.
    pub source: String,
}

/// Two readings of one check that must agree within a share of the larger one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pair {
    /// Key, unique among items and pairs of its check.
    pub key: String,
    /// What is compared.
    pub asks: String,
    /// Keys of the two readings, of one dimension.
    pub items: [String; 2],
    /// Limit for the difference over the larger of the two, such as "at most 30 %".
    pub limits: String,
    /// Outcome when they agree.
    pub within: String,
    /// Outcome when they do not.
    pub apart: String,
    /// Where the limit comes from.
    pub source: String,
}

/// Two readings that together are at least a third, as from a wiper to both ends of its track: when they are not, or
/// when one of them is more than the whole, pins or units were mixed up. Only asked about, never judged by.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sum {
    /// Keys of the two parts.
    pub parts: [String; 2],
    /// Key of the whole, of the same dimension.
    pub whole: String,
}

/// What a check can come to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Outcome {
    /// Key, unique in its check.
    pub key: String,
    /// What was found.
    pub says: String,
    /// True when nothing is wrong.
    pub passes: bool,
    /// What it means: what to do or to suspect next.
    pub means: String,
}
