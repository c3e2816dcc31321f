//! What stands in the tables of faults.

use crate::check::Actuator;
use serde::Serialize;
use std::collections::BTreeMap;

/// A figure for each kind of actuator; kinds without one are left out.
pub type ByKind = BTreeMap<Actuator, f64>;

/// States or outcomes by their keys, each with its probability from 0 to 1; what is missing to 1 is the best one.
pub type Shares = Vec<(String, f64)>;

/// A part of the gear that nobody sees directly: causes spoil it, checks read it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Condition {
    /// Key, unique among conditions.
    pub key: String,
    /// Name, as it stands in a sentence.
    pub name: String,
    /// Kinds of actuator that have it.
    pub actuators: Vec<Actuator>,
    /// Keys of its states, from right to the most severe; at least two.
    pub states: Vec<String>,
    /// How often it is in a state other than the first with none of the listed causes.
    pub leak: Shares,
    /// Where the figures come from.
    pub source: String,
}

/// Something that can be at fault.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cause {
    /// Key, unique among causes.
    pub key: String,
    /// Name, as a heading.
    pub name: String,
    /// True for causes that only look like the valve.
    pub not_the_valve: bool,
    /// Odds against "nothing is wrong" before anything was looked at, more than 0; kinds without it do not have it.
    pub odds: ByKind,
    /// What is done about it.
    pub remedy: String,
    /// What it does to conditions, by their keys.
    pub conditions: Vec<(String, Shares)>,
    /// How often it alone brings on each symptom, by the symptom's key.
    pub symptoms: Vec<(String, ByKind)>,
    /// Where the figures come from.
    pub source: String,
}

/// Something that is noticed without a check.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Symptom {
    /// Key, unique among symptoms.
    pub key: String,
    /// Name, as the label of the question.
    pub name: String,
    /// Kinds of actuator it is asked for.
    pub actuators: Vec<Actuator>,
    /// Clause for "because ..." when it was noticed.
    pub yes: String,
    /// Clause when it was looked for and is not there.
    pub no: String,
    /// How often it is noticed with none of the listed causes.
    pub leak: f64,
    /// Where the figure comes from.
    pub source: String,
}

/// How reliable a bench check is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Test {
    /// Key of the check.
    pub check: String,
    /// Kinds of actuator it is done on.
    pub actuators: Vec<Actuator>,
    /// Keys of its outcomes, from best to worst; at least two.
    pub outcomes: Vec<String>,
    /// Clause for "because ..." for each outcome.
    pub says: Vec<String>,
    /// How often each outcome is found when everything it reads is right; sums to 1.
    pub leak: Vec<f64>,
    /// The conditions it reads.
    pub reads: Vec<Reads>,
    /// Where the figures come from.
    pub source: String,
}

/// What the states of one condition do to a check.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reads {
    /// Key of the condition.
    pub condition: String,
    /// For a state, how often it brings about each outcome by itself; each sums to 1. A state that is not named
    /// brings about the best.
    pub states: Vec<(String, Vec<f64>)>,
}

/// The figures an answer is made with.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Rules {
    /// Minutes of work that a used-up part counts for, 0 or more.
    pub part_minutes: f64,
    /// Minutes that every test costs on top of its own, 0 or more: tools, looking up, writing down.
    pub handling_minutes: f64,
    /// How much rarer a second fault is than its odds say, from 0 to 1: the first already explains why the engine came.
    pub second_fault: f64,
    /// Cost up to which a test is cheap, in minutes with parts counted.
    pub cheap_minutes: f64,
    /// Probability from which a cause is settled.
    pub sure: f64,
    /// A test that tells less than this (bits) is not worth its time.
    pub told_bits: f64,
    /// Where the figures come from.
    pub source: String,
}

/// Conditions, causes, symptoms and tests, with every figure of the ranking.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tables {
    /// Parts that can be wrong.
    pub conditions: Vec<Condition>,
    /// What can be at fault.
    pub causes: Vec<Cause>,
    /// What can be noticed.
    pub symptoms: Vec<Symptom>,
    /// How reliable each check is.
    pub tests: Vec<Test>,
    /// The figures an answer is made with.
    pub rules: Rules,
}
