//! One field of a form.

use super::illustration::Illustration;
use super::label::label;
use super::ports::port_names;
use super::standing::Standing;
use engine::file::fields::{Field, FieldState, read_field};
use engine::file::spec::{Kind, Need, Range, When};
use quantity::{Dimension, Units};
use serde::Serialize;

/// One field, ready to be shown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FormField {
    /// Key, to be saved under.
    pub key: String,
    /// What it is called.
    pub label: String,
    /// What it is, one sentence.
    pub help: String,
    /// Where it is measured from; empty when there is nothing to say.
    pub from: String,
    /// The usual range in the chosen units.
    pub usual: Option<String>,
    /// How it is entered.
    pub kind: FieldKind,
    /// Buttons beside it.
    pub unit_keys: Vec<UnitKey>,
    /// An example, as it would be typed.
    pub example: String,
    /// What stands in when it is not known and what measuring it would buy; `None` when it must be known.
    pub unknown: Option<String>,
    /// The valve cannot be set without it.
    pub required: bool,
    /// It only applies when another field says so.
    pub when: Option<FormWhen>,
    /// It applies as the other fields stand now.
    pub applies: bool,
    /// Text as typed.
    pub text: String,
    /// How far it is, by itself.
    pub state: FieldState,
    /// What is wrong with it, alone or beside the others; also said of a needed field that is still empty.
    pub problem: Option<String>,
    /// How it was understood, or what stands in for it.
    pub shown: Option<String>,
    /// It can be right but is odd: what to look at. Confirmed by adding the key to the field `sure`.
    pub question: Option<String>,
    /// The drawing that shows what is asked.
    pub illustration: Option<Illustration>,
}

/// How a field is entered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum FieldKind {
    /// A figure with its unit.
    Figure,
    /// Free text.
    Text {
        /// Most letters.
        longest: usize,
        /// More than one line.
        lines: bool,
    },
    /// One of a few.
    Choice {
        /// What can be chosen.
        options: Vec<Choice>,
    },
    /// Yes or no, saved as `true` or `false`.
    Flag,
    /// A whole number.
    Number {
        /// Least accepted.
        least: u32,
        /// Most accepted.
        most: u32,
    },
    /// Names between commas.
    Names {
        /// Names that can be given.
        offered: Vec<String>,
    },
    /// Points, one a line: travel = lift.
    Points,
}

/// Something that can be chosen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Choice {
    /// Saved as this.
    pub value: String,
    /// What it means.
    pub meaning: String,
}

/// A button that types for a hand in gloves.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct UnitKey {
    /// On the button.
    pub label: String,
    /// What it types.
    pub insert: String,
    /// It takes the place of the whole text instead of being added at the end.
    pub replaces: bool,
}

/// When a field applies.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FormWhen {
    /// The field that decides.
    pub key: String,
    /// Its words; empty for any text at all.
    pub words: Vec<String>,
}

impl FormField {
    pub(super) fn of(field: &Field, standing: &Standing<'_>, units: Units) -> Self {
        let key = field.to_string();
        let text = standing.fields.get(&key).cloned().unwrap_or_default();
        let check = read_field(&key, &text, units);
        let when = when(field);
        let applies = when.as_ref().is_none_or(|when| standing.says(when));
        let together = standing.problem(&key).filter(|_| applies).map(str::to_owned);
        let problem = if applies { check.problem.or(together) } else { None };
        let question = standing.question(&key).or(check.odd.filter(|_| !standing.is_sure(&key)));
        let (usual, dimension) = usual(field, units);
        let required = required(field);
        Self {
            label: label(&key),
            help: field.key.doc.to_owned(),
            from: field.key.from.to_owned(),
            usual,
            kind: kind(field, standing),
            unit_keys: unit_keys(dimension, units, !required && !field.source && can_be_unknown(field)),
            example: example(field),
            unknown: unknown(field),
            required,
            when,
            applies,
            text,
            state: check.state,
            problem,
            shown: check.shown,
            question,
            illustration: Illustration::of(&key),
            key,
        }
    }
}

fn required(field: &Field) -> bool {
    field.key.need == Need::Required && !field.source
}

fn when(field: &Field) -> Option<FormWhen> {
    let (key, words) = match field.key.when {
        When::Always => return None,
        When::Says { key, words } => (key, words.iter().map(|word| (*word).to_owned()).collect()),
        When::Given { key } => (key, Vec::new()),
    };
    let key = Field { key: field.section.key(key)?, source: false, ..*field }.to_string();
    Some(FormWhen { key, words })
}

fn kind(field: &Field, standing: &Standing<'_>) -> FieldKind {
    if field.source {
        return FieldKind::Text { longest: 300, lines: false };
    }
    match field.key.holds {
        Kind::Figure(_) | Kind::Limit(_) => FieldKind::Figure,
        Kind::Text { longest } => FieldKind::Text { longest, lines: longest > 500 },
        Kind::Count { least, most } => FieldKind::Number { least, most },
        Kind::Flag => FieldKind::Flag,
        Kind::Word { words } => FieldKind::Choice {
            options: words
                .iter()
                .map(|word| Choice { value: word.word.to_owned(), meaning: word.meaning.replace('`', "") })
                .collect(),
        },
        Kind::Names if field.key.name == "covers" => {
            FieldKind::Names { offered: port_names(standing.fields) }
        }
        Kind::Names => FieldKind::Names { offered: Vec::new() },
        Kind::Points => FieldKind::Points,
    }
}

/// The usual range in words, and what kind of quantity the field holds.
fn usual(field: &Field, units: Units) -> (Option<String>, Option<Dimension>) {
    let (Kind::Figure(figure) | Kind::Limit(figure)) = field.key.holds else { return (None, None) };
    if field.source {
        return (None, None);
    }
    (figure.usual.map(|usual| range(&usual, figure.dimension, units)), Some(figure.dimension))
}

fn range(usual: &Range, dimension: Dimension, units: Units) -> String {
    if units == Units::Metric {
        return usual.to_string();
    }
    let show = |value: f64| quantity::show_value(usual.to_si(value), dimension, units);
    format!("{} to {}", show(usual.least), show(usual.most))
}

fn can_be_unknown(field: &Field) -> bool {
    !matches!(field.key.holds, Kind::Flag | Kind::Names | Kind::Word { .. })
        && (!matches!(field.key.holds, Kind::Text { .. }) || matches!(field.key.need, Need::OneOf { .. }))
}

fn unit_keys(dimension: Option<Dimension>, units: Units, can_be_unknown: bool) -> Vec<UnitKey> {
    let mut keys: Vec<UnitKey> = Vec::new();
    let mut add = |label: &str, insert: &str, replaces: bool| {
        keys.push(UnitKey { label: label.to_owned(), insert: insert.to_owned(), replaces });
    };
    if let Some(dimension) = dimension {
        for unit in units_of(dimension, units) {
            let space = if *unit == "°" { "" } else { " " };
            add(unit, &format!("{space}{unit}"), false);
        }
        add("±", " ± ", false);
        for (label, ending) in endings(dimension) {
            add(label, ending, false);
        }
        add("−", "−", false);
    }
    if can_be_unknown {
        add("not known", "not known", true);
    }
    keys
}

/// The buttons beside a figure of a bench check: units, sign, spread, usual instruments.
pub fn unit_keys_of(dimension: Dimension, units: Units) -> Vec<UnitKey> {
    unit_keys(Some(dimension), units, false)
}

/// Units on the buttons, the likeliest first.
fn units_of(dimension: Dimension, units: Units) -> &'static [&'static str] {
    use Dimension::{
        Angle, Current, Force, Length, Number, Pressure, Resistance, Speed, Stiffness, Temperature, Time,
        Torque, TorsionRate, Voltage, Volume,
    };
    match (dimension, units) {
        (Length, Units::Metric) => &["mm", "in"],
        (Length, Units::Inch) => &["in", "mm"],
        (Angle, _) => &["°"],
        (Volume, Units::Metric) => &["cc", "in³"],
        (Volume, Units::Inch) => &["in³", "cc"],
        (Force, Units::Metric) => &["N", "kgf", "lbf"],
        (Force, Units::Inch) => &["lbf", "N", "kgf"],
        (Torque, Units::Metric) => &["N·m", "lbf·in"],
        (Torque, Units::Inch) => &["lbf·in", "lbf·ft", "N·m"],
        (Stiffness, Units::Metric) => &["N/mm", "lbf/in"],
        (Stiffness, Units::Inch) => &["lbf/in", "N/mm"],
        (TorsionRate, Units::Metric) => &["N·m/rad", "N·mm/deg"],
        (TorsionRate, Units::Inch) => &["lbf·in/deg", "N·m/rad"],
        (Resistance, _) => &["kΩ", "Ω"],
        (Speed, _) => &["rpm"],
        (Voltage, _) => &["V", "mV"],
        (Current, _) => &["A", "mA"],
        (Time, _) => &["s"],
        (Pressure, Units::Metric) => &["kPa", "bar", "psi"],
        (Pressure, Units::Inch) => &["psi", "kPa", "bar"],
        (Temperature, Units::Metric) => &["°C", "°F"],
        (Temperature, Units::Inch) => &["°F", "°C"],
        (Number, _) => &["%"],
        _ => &[],
    }
}

/// How sure it is: label and ending.
fn endings(dimension: Dimension) -> &'static [(&'static str, &'static str)] {
    match dimension {
        Dimension::Length => {
            &[("calliper", " by calliper"), ("depth gauge", " by depth gauge"), ("exact", " exact")]
        }
        Dimension::Angle => &[("degree wheel", " by degree wheel"), ("exact", " exact")],
        Dimension::Resistance => &[("meter", " ± (0.5 % + 2 digits)")],
        _ => &[("exact", " exact")],
    }
}

fn example(field: &Field) -> String {
    if field.source {
        return "own practice".to_owned();
    }
    match field.key.holds {
        Kind::Points => "0° = 0 mm\n40 ± 1° = 3.1 ± 0.1 mm".to_owned(),
        Kind::Limit(figure) if field.key.example.starts_with('{') => match figure.dimension {
            Dimension::Length => "0.10 mm".to_owned(),
            other => other.example().to_owned(),
        },
        Kind::Names => "exhaust".to_owned(),
        _ => field.key.example.trim_matches('"').to_owned(),
    }
}

/// What not knowing the field costs.
fn unknown(field: &Field) -> Option<String> {
    if field.source {
        return Some("the source is then shown as not stated".to_owned());
    }
    let need = match field.key.need {
        Need::OneOf { group } => field.section.groups.iter().find(|other| other.name == group)?.need,
        need => need,
    };
    unknown_of(need)
}

/// What not knowing costs, by what stands in.
pub(super) fn unknown_of(need: Need) -> Option<String> {
    match need {
        Need::Required | Need::OneOf { .. } => None,
        Need::Default { value, why, buys } => {
            Some(format!("Not known: taken as {value} ({why}). Measuring it gives: {buys}."))
        }
        Need::Worked { rule, buys } => {
            Some(format!("Not known: taken as {rule}. Measuring it gives: {buys}."))
        }
        Need::Optional { buys } => Some(format!("May be left out. Measuring it gives: {buys}.")),
        Need::Means { value } => Some(format!("Left out, it is taken as {value}.")),
    }
}
