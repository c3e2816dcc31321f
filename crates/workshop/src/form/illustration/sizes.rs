//! Sizes for a drawing: from the fields where they can be read, else usual ones.

use engine::file::fields::Field;
use engine::file::spec::Kind;
use quantity::{Measured, Units};
use std::collections::BTreeMap;

/// The fields a drawing looks at.
pub(super) struct Sizes<'a> {
    pub(super) fields: &'a BTreeMap<String, String>,
    /// Number of the port that is drawn.
    pub(super) place: u32,
    pub(super) units: Units,
    /// The field that is asked for, when the drawing belongs to one.
    pub(super) key: Option<&'a str>,
}

impl Sizes<'_> {
    fn figure(&self, key: &str) -> Option<Measured> {
        let field = Field::named(key)?;
        let (Kind::Figure(figure) | Kind::Limit(figure)) = field.key.holds else { return None };
        let measured = quantity::parse(self.fields.get(key)?, figure.dimension).ok()?;
        figure.accepted.contains(measured.value).then_some(measured)
    }

    /// A length in mm within what can be drawn.
    pub(super) fn mm(&self, key: &str, (least, most): (f64, f64), usual: f64) -> f64 {
        self.figure(key).map_or(usual, |figure| (figure.value * 1e3).clamp(least, most))
    }

    /// An angle in rad within what can be drawn; limits and usual value in degrees.
    pub(super) fn rad(&self, key: &str, (least, most): (f64, f64), usual: f64) -> f64 {
        self.degrees(key).unwrap_or(usual).clamp(least, most).to_radians()
    }

    /// An angle in degrees, when it is given.
    pub(super) fn degrees(&self, key: &str) -> Option<f64> {
        self.figure(key).map(|figure| figure.value.to_degrees())
    }

    /// True when the figure is given.
    pub(super) fn has(&self, key: &str) -> bool {
        self.figure(key).is_some()
    }

    /// The field of the drawn port.
    pub(super) fn port(&self, key: &str) -> String {
        format!("port.{}.{key}", self.place)
    }

    pub(super) fn says(&self, key: &str, word: &str) -> bool {
        self.fields.get(key).is_some_and(|text| text.trim().eq_ignore_ascii_case(word))
    }

    /// Name and figure of an asked dimension: `bore 54.00 mm`, or `bore = ?` when it is not given yet.
    pub(super) fn asked(&self, name: &str, key: &str) -> String {
        match self.figure(key) {
            Some(figure) => format!("{name} {}", short(&figure, self.units)),
            None => format!("{name} = ?"),
        }
    }

    /// The figure alone, or a question mark.
    pub(super) fn value(&self, key: &str) -> String {
        self.figure(key).map_or_else(|| "?".to_owned(), |figure| short(&figure, self.units))
    }

    /// The same for the field the drawing belongs to, else for `key`.
    pub(super) fn asked_here(&self, name: &str, key: &str) -> String {
        self.asked(name, self.key.unwrap_or(key))
    }
}

/// A figure in few signs: no zeros at its end.
fn short(figure: &Measured, units: Units) -> String {
    let shown = quantity::show_value(figure.value, figure.dimension, units);
    let digits = shown.find(|sign: char| !sign.is_ascii_digit() && !matches!(sign, '.' | '−' | '-'));
    let (number, unit) = shown.split_at(digits.unwrap_or(shown.len()));
    let number =
        if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number };
    format!("{number}{unit}")
}
