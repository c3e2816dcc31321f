//! The way back: an engine as an engine file.

mod gas;
mod parts;

use super::spec::VERSION;
use crate::model::Engine;
use quantity::{Dimension, Measured, Shape, Units};
use std::collections::HashSet;

/// The engine as an engine file that [`super::read`] reads back to the same engine.
///
/// Figures are written in the words they were read in ([`Measured::written`]; clear it when you change a value), or
/// else in metric units with all their digits. Defaults that are listed as assumptions are left out, so that they
/// stay assumptions. Comments and the list `sure` are not part of an engine and are not written.
pub fn write(engine: &Engine) -> String {
    let assumed = engine.assumptions.iter().map(|assumption| assumption.key.clone()).collect();
    let mut page = Page { text: format!("portwright = {VERSION}\n"), section: String::new(), assumed };
    parts::engine(engine, &mut page);
    page.text
}

/// A page that is being written.
struct Page {
    text: String,
    /// Path of the section that is open, as it stands in the assumptions.
    section: String,
    assumed: HashSet<String>,
}

impl Page {
    fn section(&mut self, heading: &str, path: &str) {
        self.text.push_str(&format!("\n{heading}\n"));
        path.clone_into(&mut self.section);
    }

    fn is_assumed(&self, key: &str) -> bool {
        self.assumed.contains(&format!("{}.{key}", self.section))
    }

    /// A line with a value that is TOML already.
    fn line(&mut self, key: &str, value: &str) {
        if !self.is_assumed(key) {
            self.text.push_str(&format!("{key} = {value}\n"));
        }
    }

    fn words(&mut self, key: &str, text: &str) {
        self.line(key, &quoted(text));
    }

    fn optional_words(&mut self, key: &str, text: Option<&String>) {
        if let Some(text) = text {
            self.words(key, text);
        }
    }

    fn figure(&mut self, key: &str, figure: &Measured) {
        self.words(key, &figure_text(figure));
    }

    fn optional_figure(&mut self, key: &str, figure: Option<&Measured>) {
        if let Some(figure) = figure {
            self.figure(key, figure);
        }
    }
}

fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

/// As it was written, or in metric units with all digits.
fn figure_text(figure: &Measured) -> String {
    if let Some(written) = &figure.written {
        return written.clone();
    }
    let unit = quantity::display_unit(figure.dimension, Units::Metric);
    let number = |si: f64| {
        let number = si * unit.per_si;
        // Nothing in a workshop is that small; it would only be the rounding of a zero.
        if number.abs() < 1e-12 { 0.0 } else { number }
    };
    let value = number(figure.value);
    let space = if figure.dimension == Dimension::Number { "" } else { " " };
    let symbol = unit.symbol;
    if figure.u == 0.0 {
        return format!("{value}{space}{symbol} exact");
    }
    match figure.shape {
        Shape::Rectangular => format!("{value} ± {}{space}{symbol}", number(figure.u * 3f64.sqrt())),
        Shape::Normal => format!("{value} ± {}{space}{symbol} (k=2)", number(figure.expanded())),
    }
}
