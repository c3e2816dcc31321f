//! What cannot be built: figures of crank train, ports and chamber that contradict each other.

use crate::model::EdgeDatum;
use std::fmt;
use thiserror::Error;

/// Upper or lower edge of a port.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// Upper edge.
    Roof,
    /// Lower edge.
    Floor,
}

impl fmt::Display for Edge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Roof => "roof",
            Self::Floor => "floor",
        })
    }
}

/// Figures that no engine can have. Lengths inside are in m, angles in rad, volumes in m³; the sentence shows
/// mm, degrees and cm³ and says what would be accepted and what to look at.
#[derive(Debug, Clone, PartialEq, Error)]
#[allow(missing_docs, reason = "each field is explained by the sentence above its variant")]
pub enum GeometryError {
    /// A length that must be more than zero and no longer than anything in an engine.
    #[error("The {field} of {} cannot be right: it must be more than zero and no more than {}. Measure it again and check its sign and unit.",
        mm(*value_m), mm(LONGEST_M))]
    NotALength { field: &'static str, value_m: f64 },
    /// A length of either sign that is longer than anything in an engine.
    #[error("The {field} of {} cannot be right: it must lie between -{} and {}. Measure it again and check its unit.",
        mm(*value_m), mm(LONGEST_M), mm(LONGEST_M))]
    TooLong { field: &'static str, value_m: f64 },
    /// A figure that is no number at all.
    #[error("The {field} is not a usable number: give it a value.")]
    NotANumber { field: String },
    /// A volume that must be more than zero.
    #[error("The {field} of {} cannot be right: it must be more than zero. Measure it again and check its unit.", cm3(*value_m3))]
    NotAVolume { field: &'static str, value_m3: f64 },
    /// The rod cannot reach round the crank.
    #[error("The connecting rod of {} is too short for a stroke of {} with a pin offset of {}: it must be longer than {} (half the stroke plus the offset). Check the rod length, centre to centre, and the stroke.",
        mm(*rod_m), mm(*stroke_m), mm(*offset_m), mm(stroke_m / 2.0 + offset_m.abs()))]
    RodTooShort { rod_m: f64, stroke_m: f64, offset_m: f64 },
    /// An edge given by an angle that the crown edge never passes.
    #[error("The {edge} of port \"{port}\" is given as {} {}, which the piston never reaches: give 0° to {}, or check what the angle was counted from.",
        deg(*angle_rad), datum_words(*datum), deg(*limit_rad))]
    AngleNeverReached { port: String, edge: Edge, datum: EdgeDatum, angle_rad: f64, limit_rad: f64 },
    /// An edge at or above the deck.
    #[error("The {edge} of port \"{port}\" comes out {} above the deck: it must lie below it. Check what it was measured from (deck, or crown at bottom dead centre).",
        mm(-depth_m))]
    AboveDeck { port: String, edge: Edge, depth_m: f64 },
    /// A roof at or below the floor.
    #[error("The roof of port \"{port}\" at {} below the deck is not above its floor at {}: check both edges and what each was measured from.",
        mm(*roof_m), mm(*floor_m))]
    RoofBelowFloor { port: String, roof_m: f64, floor_m: f64 },
    /// A port that stays open at top dead centre.
    #[error("The roof of port \"{port}\" at {} below the deck lies above the crown edge at top dead centre, {} below the deck: the port would never close. Check the edge and the deck clearance.",
        mm(*roof_m), mm(*crown_m))]
    NeverCloses { port: String, roof_m: f64, crown_m: f64 },
    /// A port that stays shut at bottom dead centre.
    #[error("The roof of port \"{port}\" at {} below the deck lies below the crown edge at bottom dead centre, {} below the deck: the port would never open. Check the edge, the stroke and the deck clearance.",
        mm(*roof_m), mm(*crown_m))]
    NeverOpens { port: String, roof_m: f64, crown_m: f64 },
    /// A width that is not above zero.
    #[error("The width of port \"{port}\", {}, must be more than zero: measure it again and check its sign and unit.", mm(*width_m))]
    NoWidth { port: String, width_m: f64 },
    /// A chord wider than the bore.
    #[error("The width of port \"{port}\", {} straight across, is more than the bore of {}: check the width, or say that it was taken along the bore wall.",
        mm(*width_m), mm(*bore_m))]
    WiderThanBore { port: String, width_m: f64, bore_m: f64 },
    /// Like ports that do not fit round the bore.
    #[error("{count} ports \"{port}\" of {} along the bore wall do not fit round the bore, which is {} round: check width and count.",
        mm(*arc_m), mm(*round_m))]
    WiderThanCircumference { port: String, count: u32, arc_m: f64, round_m: f64 },
    /// A corner radius below zero or above half the width.
    #[error("The {edge} corner radius of port \"{port}\", {}, must lie between 0 mm and half the width along the bore wall, {}: check radius and width.",
        mm(*radius_m), mm(width_m / 2.0))]
    CornerTooWide { port: String, edge: Edge, radius_m: f64, width_m: f64 },
    /// Corners, with the tilt of the roof, that do not fit in the height.
    #[error("The corner radii of port \"{port}\", {} and {}, with the roof tilt need a height of {}, but the port is {} high: check radii, tilt and edges.",
        mm(*roof_radius_m), mm(*floor_radius_m), mm(*needed_m), mm(*height_m))]
    CornersTooTall { port: String, roof_radius_m: f64, floor_radius_m: f64, needed_m: f64, height_m: f64 },
    /// An angle of roof or duct outside its range.
    #[error("The {field} of port \"{port}\", {}, must lie between -{} and {}: check the angle and what it was taken from.",
        deg(*angle_rad), deg(*limit_rad), deg(*limit_rad))]
    AngleTooLarge { port: String, field: &'static str, angle_rad: f64, limit_rad: f64 },
    /// A port with a count of zero.
    #[error("Port \"{port}\" is said to be there 0 times: give its count, 1 or more.")]
    NoneOfThem { port: String },
    /// An inlet port without the skirt that opens it.
    #[error(
        "Port \"{port}\" is an inlet port that the piston skirt opens: give the skirt length (crown edge to lower edge of the skirt on the inlet side)."
    )]
    SkirtMissing { port: String },
    /// An inlet port that the skirt never opens or never shuts.
    #[error("With a skirt of {} the inlet port \"{port}\", floor {} below the deck, would {}: check skirt length and floor.",
        mm(*skirt_m), mm(*floor_m), if *stays_open { "never close" } else { "never open" })]
    SkirtMisfits { port: String, skirt_m: f64, floor_m: f64, stays_open: bool },
    /// The valve is said to cover a port that is not there.
    #[error(
        "The valve is said to cover port \"{name}\", which is not among the ports: use the name of a port of this engine."
    )]
    UnknownCovered { name: String },
    /// No exhaust port at all.
    #[error("The engine has no exhaust port: give at least one port of the group exhaust-main.")]
    NoExhaust,
    /// The valve edge lies so low that no exhaust port opens.
    #[error("With the valve edge {} below the deck no exhaust port opens: check how far the closed valve lies below the port roof.", mm(*edge_m))]
    ExhaustShut { edge_m: f64 },
    /// Squish gap over the whole bore larger than the chamber.
    #[error("A squish clearance of {} over the whole bore is {}, more than the chamber volume of {}: check squish clearance and chamber volume.",
        mm(*clearance_m), cm3(*needed_m3), cm3(*chamber_m3))]
    SquishTooDeep { clearance_m: f64, needed_m3: f64, chamber_m3: f64 },
    /// Squish band that ends outside the bore.
    #[error("The squish band's inner diameter of {} must lie between 0 mm and the bore of {}: measure it again.",
        mm(*inner_m), mm(*bore_m))]
    SquishOutsideBore { inner_m: f64, bore_m: f64 },
}

fn mm(length_m: f64) -> String {
    format!("{:.2} mm", length_m * 1e3)
}

fn deg(angle_rad: f64) -> String {
    format!("{:.1}°", angle_rad.to_degrees())
}

fn cm3(volume_m3: f64) -> String {
    format!("{:.2} cm³", volume_m3 * 1e6)
}

fn datum_words(datum: EdgeDatum) -> &'static str {
    match datum {
        EdgeDatum::AfterTdc => "after top dead centre",
        EdgeDatum::BeforeBdc => "before bottom dead centre",
        EdgeDatum::Duration => "of open duration",
        EdgeDatum::BelowDeck => "below the deck",
        EdgeDatum::AboveCrownAtBdc => "above the crown at bottom dead centre",
    }
}

/// No length in an engine of this kind is longer, m.
const LONGEST_M: f64 = 10.0;

/// A length above zero.
pub(crate) fn positive_length(field: &'static str, value_m: f64) -> Result<f64, GeometryError> {
    let value_m = number(field, value_m)?;
    if value_m > 0.0 && value_m <= LONGEST_M {
        Ok(value_m)
    } else {
        Err(GeometryError::NotALength { field, value_m })
    }
}

/// A length of either sign.
pub(crate) fn signed_length(field: &'static str, value_m: f64) -> Result<f64, GeometryError> {
    let value_m = number(field, value_m)?;
    if value_m.abs() <= LONGEST_M { Ok(value_m) } else { Err(GeometryError::TooLong { field, value_m }) }
}

/// A figure that must be a number, of either sign.
pub(crate) fn number(field: &str, value: f64) -> Result<f64, GeometryError> {
    if value.is_finite() { Ok(value) } else { Err(GeometryError::NotANumber { field: field.to_owned() }) }
}
