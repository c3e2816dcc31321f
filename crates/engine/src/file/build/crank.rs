//! Crank train and combustion chamber.

use super::{Notes, Worked, share_of};
use crate::file::table::Table;
use crate::model::{Crank, Head};
use crate::ports::CrownPath;
use quantity::{Dimension, Measured, Units};
use std::f64::consts::FRAC_PI_4;

pub(super) fn crank(table: &Table, notes: &mut Notes<'_>) -> Option<Crank> {
    let stroke = table.figure("stroke");
    let rod = stroke.as_ref().map(|stroke| Worked {
        figure: share_of(stroke, 2.0, 0.15, Dimension::Length),
        rule: "2.0 x stroke ± 0.15 x stroke, common practice, no source",
        cost: "measuring it takes the rod's share out of the band of every crank angle",
    });
    let crank = Crank {
        rod_length: notes.figure_or(table, "rod_length", rod)?,
        bore: table.figure("bore")?,
        stroke: stroke?,
        pin_offset: table.figure("pin_offset")?,
        deck_clearance: table.figure("deck_clearance")?,
        skirt_length: table.figure("skirt_length"),
    };
    if crank.rod_length.value <= crank.stroke.value {
        notes.refuse(
            table,
            "rod_length",
            format!(
                "a rod of {} is not longer than the stroke of {}; engines have rods of 1.7 to 2.4 strokes, so check both (rod: centre to centre; stroke: twice the crank radius)",
                mm(&crank.rod_length),
                mm(&crank.stroke)
            ),
        );
        return None;
    }
    if let Err(error) = CrownPath::of(&crank) {
        notes.refuse(table, "rod_length", error.to_string());
        return None;
    }
    Some(crank)
}

pub(super) fn head(table: &Table, crank: Option<&Crank>, notes: &mut Notes<'_>) -> Option<Head> {
    let volume = crank.map(|crank| Worked {
        figure: share_of(&swept_volume(crank), 0.09, 0.03, Dimension::Volume),
        rule: "0.09 x swept volume ± 0.03 x swept volume, common practice, no source",
        cost: "filling it with a burette makes the compression ratios worth reading; the valve's setting does not depend on it",
    });
    let head = Head {
        chamber_volume: notes.figure_or(table, "chamber_volume", volume)?,
        squish_clearance: table.figure("squish_clearance"),
        squish_inner_diameter: table.figure("squish_inner_diameter"),
    };
    if let (Some(inner), Some(crank)) = (&head.squish_inner_diameter, crank)
        && inner.value >= crank.bore.value
    {
        notes.refuse(
            table,
            "squish_inner_diameter",
            format!(
                "{} is not less than the bore of {}; it is where the band ends inwards, so measure it again",
                mm(inner),
                mm(&crank.bore)
            ),
        );
    }
    Some(head)
}

fn swept_volume(crank: &Crank) -> Measured {
    let value = FRAC_PI_4 * crank.bore.value.powi(2) * crank.stroke.value;
    let relative = (2.0 * crank.bore.u / crank.bore.value).hypot(crank.stroke.u / crank.stroke.value);
    Measured::normal(value, value * relative, Dimension::Volume)
}

pub(super) fn mm(length: &Measured) -> String {
    quantity::show_value(length.value, Dimension::Length, Units::Metric)
}
