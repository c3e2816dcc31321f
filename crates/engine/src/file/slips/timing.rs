//! A port that would be open for an unusual time, whatever it was measured from; the last of the rules on port
//! edges, for what the others cannot explain.

use super::{Asked, Case, degrees, written};
use crate::file::spec::{Range, usual_duration};
use crate::file::table::Table;
use crate::model::{EdgeDatum, Port};
use crate::ports::CrownPath;

/// A port whose open duration is unusual for its group.
pub(super) struct Odd<'a> {
    pub(super) table: &'a Table,
    pub(super) port: &'a Port,
    pub(super) usual: Range,
    pub(super) duration_rad: f64,
}

impl<'a> Odd<'a> {
    /// Every such port of the engine.
    pub(super) fn all(case: &'a Case<'a>) -> Vec<Self> {
        let tables: Vec<&Table> = case.tables.all("port").collect();
        let ports = case.engine.ports.iter().zip(tables);
        ports.filter_map(|(port, table)| Self::of(port, table, &case.path)).collect()
    }

    fn of(port: &'a Port, table: &'a Table, path: &CrownPath) -> Option<Self> {
        let usual = usual_duration(port.group)?;
        let duration_rad = duration_rad(path, port.roof.datum, port.roof.at.value)?;
        (!usual.contains(duration_rad)).then_some(Self { table, port, usual, duration_rad })
    }

    /// The key by which the roof is given.
    pub(super) fn key(&self) -> &'static str {
        key_of(self.port.roof.datum)
    }

    /// What was read and why it is odd.
    pub(super) fn text(&self) -> String {
        format!(
            "{} was read, which opens the port for {}; usual here is {} (common practice, no source).",
            written(self.table, self.key()),
            degrees(self.duration_rad),
            self.usual
        )
    }

    /// Asks when the same figure from another datum would be usual.
    pub(super) fn ask_other(&self, case: &Case<'_>, asked: &mut Asked<'_>, other: EdgeDatum) {
        let Some(duration_rad) = duration_rad(&case.path, other, self.port.roof.at.value) else { return };
        if self.usual.contains(duration_rad) {
            let likely = format!(
                "Likely meant: {} = {}, which opens it for {}.",
                key_of(other),
                written(self.table, self.key()).replace('\'', "\""),
                degrees(duration_rad)
            );
            asked.ask(self.table, self.key(), self.text(), likely);
        }
    }
}

/// Open duration of a roof given from a datum.
fn duration_rad(path: &CrownPath, datum: EdgeDatum, at: f64) -> Option<f64> {
    let depth_m = path.depth_of_m(datum, at)?;
    path.as_given_from(EdgeDatum::Duration, depth_m)
}

fn key_of(datum: EdgeDatum) -> &'static str {
    match datum {
        EdgeDatum::BelowDeck => "roof_below_deck",
        EdgeDatum::AboveCrownAtBdc => "roof_above_crown_at_bdc",
        EdgeDatum::AfterTdc => "opens_after_tdc",
        EdgeDatum::BeforeBdc => "opens_before_bdc",
        EdgeDatum::Duration => "duration",
    }
}

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    for odd in Odd::all(case) {
        let likely = "No other datum explains it; check stroke, deck clearance and the port's group as well.";
        asked.ask(odd.table, odd.key(), odd.text(), likely);
    }
}
