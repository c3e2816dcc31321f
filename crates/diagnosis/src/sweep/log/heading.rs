//! Names of columns: what they hold and in which unit.

use quantity::Dimension;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    /// Time.
    Time,
    /// Output of the sensor: resistance, voltage, or not said.
    Output(Option<Dimension>),
    /// Travel: angle, length, share, or not said.
    Travel(Option<Dimension>),
    /// The unit of the output, in words.
    Unit,
    /// Something that is not used.
    Other,
}

/// A column.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Column {
    /// Its name as written, or `column 2`.
    pub(super) name: String,
    /// What it holds.
    pub(super) role: Role,
    /// SI per unit, when the name says the unit.
    pub(super) factor: Option<f64>,
}

const TIME: &[&str] =
    &["time", "t", "seconds", "sec", "elapsed", "timestamp", "clock", "zeit", "temps", "tempo", "tiempo"];
const RESISTANCE: &[&str] =
    &["resistance", "ohms", "ohm", "r", "res", "widerstand", "résistance", "resistenza", "resistencia"];
const VOLTAGE: &[&str] =
    &["voltage", "volts", "volt", "v", "u", "vdc", "dcv", "spannung", "tension", "tensione", "voltaje"];
const OUTPUT: &[&str] =
    &["value", "reading", "output", "signal", "sensor", "measurement", "measured", "wert", "messwert"];
const TRAVEL: &[&str] = &[
    "travel", "position", "pos", "angle", "stroke", "way", "opening", "degrees", "deg", "degree", "percent",
    "turns", "weg", "winkel", "course", "corsa", "carrera",
];
const UNIT: &[&str] = &["unit", "units", "einheit", "unité"];

/// What the name of a column says.
pub(super) fn column(name: &str) -> Column {
    let name = name.trim().trim_matches(['"', '\'', '#', '\u{feff}']).trim();
    let tokens = tokens(name);
    let lower: Vec<String> = tokens.iter().map(|t| t.to_lowercase()).collect();
    let named = |words: &[&str]| lower.iter().any(|t| words.contains(&t.as_str()));
    let starts = |words: &[&str]| lower.first().is_some_and(|t| words.contains(&t.as_str()));
    let role = if starts(UNIT) {
        Role::Unit
    } else if starts(TIME) {
        Role::Time
    } else if starts(RESISTANCE) || (named(&RESISTANCE[..1]) && !named(TRAVEL)) {
        Role::Output(Some(Dimension::Resistance))
    } else if starts(VOLTAGE) || (named(&VOLTAGE[..1]) && !named(TRAVEL)) {
        Role::Output(Some(Dimension::Voltage))
    } else if named(TRAVEL) {
        Role::Travel(None)
    } else if named(&TIME[..1]) {
        Role::Time
    } else if starts(OUTPUT) {
        Role::Output(None)
    } else {
        by_unit_alone(&tokens)
    };
    with_unit(name, role, &tokens)
}

/// A heading that is nothing but a unit: `kΩ`, `V`, `s`, `%`.
fn by_unit_alone(tokens: &[&str]) -> Role {
    let [only] = tokens else { return Role::Other };
    if output_unit(only).is_some() {
        Role::Output(None)
    } else if factor(only, Dimension::Time).is_some() {
        Role::Time
    } else if travel_unit(only).is_some() {
        Role::Travel(None)
    } else {
        Role::Other
    }
}

/// Finds the unit in the name and settles the dimension.
fn with_unit(name: &str, role: Role, tokens: &[&str]) -> Column {
    // The unit stands last; a name of one word may itself be the unit ("volts", "degrees").
    let behind = || tokens.iter().rev();
    let (role, factor) = match role {
        Role::Time => (role, behind().find_map(|t| factor(t, Dimension::Time))),
        Role::Output(said) => {
            let unit = behind().find_map(|t| output_unit(t)).filter(|(d, _)| said.is_none_or(|s| s == *d));
            // "R" and "ohms" name the quantity as much as the unit: only a prefix or a unit behind the name decides.
            let bare = tokens.len() == 1 && matches!(tokens.first(), Some(&("r" | "R")));
            let unit = unit.filter(|_| !bare);
            (Role::Output(said.or(unit.map(|u| u.0))), unit.map(|u| u.1))
        }
        Role::Travel(_) => {
            let share = tokens.ends_with(&["0", "1"])
                || tokens.ends_with(&["0", "to", "1"])
                || tokens.iter().any(|t| *t == "fraction" || *t == "share");
            let unit = behind().find_map(|t| travel_unit(t)).or(share.then_some((Dimension::Number, 1.0)));
            (Role::Travel(unit.map(|u| u.0)), unit.map(|u| u.1))
        }
        other => (other, None),
    };
    Column { name: name.to_owned(), role, factor }
}

/// Words, figures and signs of a name, each by itself.
fn tokens(name: &str) -> Vec<&str> {
    name.split(|c: char| !(c.is_alphanumeric() || matches!(c, '%' | '°' | '\u{3a9}' | '\u{2126}' | 'µ')))
        .filter(|t| !t.is_empty())
        .take(12)
        .collect()
}

/// SI per unit of `text` in this dimension.
pub(super) fn factor(text: &str, dimension: Dimension) -> Option<f64> {
    let text = text.trim().trim_matches(['(', ')', '[', ']', '"']).trim();
    if text.is_empty() || text.chars().count() > 12 || text.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    quantity::parse(&format!("1 {} exact", text.replace('\u{2126}', "\u{3a9}")), dimension)
        .ok()
        .map(|m| m.value)
}

/// Dimension and factor of a unit of the sensor's output.
pub(super) fn output_unit(text: &str) -> Option<(Dimension, f64)> {
    [Dimension::Resistance, Dimension::Voltage].into_iter().find_map(|d| factor(text, d).map(|f| (d, f)))
}

/// Dimension and factor of a unit of travel.
pub(super) fn travel_unit(text: &str) -> Option<(Dimension, f64)> {
    let dimensions = [Dimension::Number, Dimension::Angle, Dimension::Length];
    dimensions.into_iter().find_map(|d| factor(text, d).map(|f| (d, f)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use Dimension::{Angle, Length, Number, Resistance, Voltage};

    #[test]
    fn exact_names_say_role_and_unit() {
        let degree = 1f64.to_radians();
        for (name, role, factor) in [
            ("t_s", Role::Time, Some(1.0)),
            ("Time (ms)", Role::Time, Some(1e-3)),
            ("time", Role::Time, None),
            ("Resistance [kΩ]", Role::Output(Some(Resistance)), Some(1e3)),
            ("R/kOhm", Role::Output(Some(Resistance)), Some(1e3)),
            ("kΩ", Role::Output(Some(Resistance)), Some(1e3)),
            ("R", Role::Output(Some(Resistance)), None),
            ("resistance", Role::Output(Some(Resistance)), None),
            ("volts", Role::Output(Some(Voltage)), Some(1.0)),
            ("Sensor voltage, mV", Role::Output(Some(Voltage)), Some(1e-3)),
            ("Value", Role::Output(None), None),
            ("true_position_0_1", Role::Travel(Some(Number)), Some(1.0)),
            ("travel (0 to 1)", Role::Travel(Some(Number)), Some(1.0)),
            ("servo travel, %", Role::Travel(Some(Number)), Some(0.01)),
            ("angle (°)", Role::Travel(Some(Angle)), Some(degree)),
            ("mm", Role::Travel(Some(Length)), Some(1e-3)),
            ("Unit", Role::Unit, None),
            ("label(0 ok;1 dropout;2 worn patch)", Role::Other, None),
            ("No.", Role::Other, None),
        ] {
            let read = column(name);
            assert_eq!((read.role, read.factor), (role, factor), "{name}");
        }
    }
}
