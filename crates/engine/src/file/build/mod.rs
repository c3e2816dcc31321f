//! The engine from the tables that were read: one file for each part.

mod crank;
mod found;
mod gas;
mod gear;
mod limits;
mod port;
mod servo;
mod valve;

use super::problem::Problems;
use super::table::Table;
use crate::model::{Assumption, Engine, Found, Gates};
use crate::ports::CrownPath;
use quantity::{Dimension, Measured, Units};

/// What is noted while the engine is put together.
pub(super) struct Notes<'a> {
    pub(super) problems: &'a mut Problems,
    pub(super) assumptions: &'a mut Vec<Assumption>,
}

impl Notes<'_> {
    /// Adds a problem at a key of a table.
    fn refuse(&mut self, table: &Table, key: &str, message: impl Into<String>) {
        let line = table.line_of(key).or(table.line);
        self.problems.add(line, table.key(key), message);
    }

    fn assume(&mut self, table: &Table, key: &str, text: impl Into<String>, cost: &str) {
        self.assumptions.push(Assumption { key: table.key(key), text: text.into(), cost: cost.to_owned() });
    }

    /// The figure of a key; when the file does not give it, `worked` with the words of its rule, as an assumption.
    fn figure_or(&mut self, table: &Table, key: &str, worked: Option<Worked>) -> Option<Measured> {
        if table.gives(key) {
            return table.figure(key);
        }
        let Worked { figure, rule, cost } = worked?;
        let shown = limits_of(&figure);
        self.assume(table, key, format!("taken as {shown}: {rule}"), cost);
        Some(figure)
    }
}

/// A default that was worked out from other figures.
struct Worked {
    figure: Measured,
    rule: &'static str,
    cost: &'static str,
}

/// `109.0 ± 8.2 mm` with the half-width that was assumed, not the expanded uncertainty.
fn limits_of(figure: &Measured) -> String {
    let unit = quantity::display_unit(figure.dimension, Units::Metric);
    let half_width = figure.u * 3f64.sqrt() * unit.per_si;
    let decimals = (1.0 - half_width.log10().floor()).clamp(0.0, 4.0) as usize;
    let value = figure.value * unit.per_si;
    format!("{value:.decimals$} ± {half_width:.decimals$} {}", unit.symbol).trim_end().to_owned()
}

/// All tables of a file by path.
pub(super) struct Tables<'a>(pub(super) &'a [Table]);

impl<'a> Tables<'a> {
    /// The section with this path.
    pub(super) fn get(&self, path: &str) -> Option<&'a Table> {
        self.0.iter().find(|table| table.section.path == path)
    }

    /// Every section with this path.
    pub(super) fn all(&self, path: &'a str) -> impl Iterator<Item = &'a Table> + use<'a> {
        self.0.iter().filter(move |table| table.section.path == path)
    }
}

/// Puts the engine together. Every part is tried, so that all problems are found; `None` when any is missing.
pub(super) fn engine(tables: &Tables<'_>, notes: &mut Notes<'_>) -> Option<Engine> {
    let top = tables.get("engine");
    let crank = tables.get("crank").and_then(|table| crank::crank(table, notes));
    let path = crank.as_ref().and_then(|crank| CrownPath::of(crank).ok());
    let head = tables.get("head").and_then(|table| crank::head(table, crank.as_ref(), notes));
    let ports = port::ports(tables, crank.as_ref(), path.as_ref(), notes);
    let valve = tables
        .get("valve")
        .and_then(|table| valve::valve(table, &ports, crank.as_ref(), path.as_ref(), notes));
    let gear = gear::gear(tables, notes);
    let servo = tables.get("servo").and_then(|table| servo::servo(table, notes));
    let schedule = tables.get("schedule").and_then(|table| servo::schedule(table, notes));
    let limits = tables.get("limits").and_then(limits::limits);
    let gas = gas::gas(tables, notes);
    let name = top.and_then(|table| table.text("name"));
    let ports: Option<Vec<_>> = ports.into_iter().map(|port| port.port).collect();
    Some(Engine {
        name: name?,
        invented: top?.flag("invented")?,
        note: top?.text("note"),
        cylinders: top?.count("cylinders")?,
        crank: crank?,
        head: head?,
        crankcase_volume: tables.get("crankcase").and_then(|table| table.figure("volume")),
        ports: ports?,
        valve: valve?,
        gear: gear?,
        servo: servo?,
        schedule: schedule?,
        limits: limits?,
        found: tables.get("found").map_or_else(Found::default, found::found),
        gates: tables.get("gates").map_or_else(Gates::default, found::gates),
        returns: tables.get("returns").map(found::found),
        gas: gas?,
        assumptions: Vec::new(),
    })
}

/// A share of another figure with limits: `share` ± `half` of `of`, plus the spread of `of` itself.
fn share_of(of: &Measured, share: f64, half: f64, dimension: Dimension) -> Measured {
    let mut figure = Measured::within(share * of.value, half * of.value, dimension);
    figure.u = figure.u.hypot(share * of.u);
    figure
}
