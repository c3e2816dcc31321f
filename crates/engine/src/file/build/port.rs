//! Ports, and whether they can be.

use super::crank::mm;
use super::{Notes, Tables, Worked};
use crate::file::spec::usual_duration;
use crate::file::table::Table;
use crate::model::{Crank, EdgeDatum, Port, PortEdge, PortGroup, WidthMeasure};
use crate::ports::{CrownPath, Edge, GeometryError, OutlineShape, PortOutline, arc_of_chord_m};
use quantity::{Dimension, Measured};
use std::f64::consts::PI;

/// A port with its table; `port` is `None` when something in it could not be read.
pub(super) struct Built<'a> {
    pub(super) table: &'a Table,
    pub(super) name: Option<String>,
    pub(super) group: Option<PortGroup>,
    pub(super) port: Option<Port>,
}

const ROOF: [(&str, EdgeDatum); 5] = [
    ("roof_below_deck", EdgeDatum::BelowDeck),
    ("roof_above_crown_at_bdc", EdgeDatum::AboveCrownAtBdc),
    ("opens_after_tdc", EdgeDatum::AfterTdc),
    ("opens_before_bdc", EdgeDatum::BeforeBdc),
    ("duration", EdgeDatum::Duration),
];

const FLOOR: [(&str, EdgeDatum); 4] = [
    ("floor_below_deck", EdgeDatum::BelowDeck),
    ("floor_above_crown_at_bdc", EdgeDatum::AboveCrownAtBdc),
    ("floor_after_tdc", EdgeDatum::AfterTdc),
    ("floor_before_bdc", EdgeDatum::BeforeBdc),
];

/// Every port of the file, tried one by one.
pub(super) fn ports<'a>(
    tables: &Tables<'a>,
    crank: Option<&Crank>,
    path: Option<&CrownPath>,
    notes: &mut Notes<'_>,
) -> Vec<Built<'a>> {
    let built: Vec<Built<'a>> = tables.all("port").map(|table| build(table, crank, path, notes)).collect();
    for (at, port) in built.iter().enumerate() {
        if port.name.is_some() && built.iter().take(at).any(|other| other.name == port.name) {
            notes.refuse(port.table, "name", "two ports have this name; give each its own");
        }
    }
    let groups_known = built.iter().all(|port| port.group.is_some());
    if !built.is_empty()
        && groups_known
        && !built.iter().any(|port| port.group == Some(PortGroup::ExhaustMain))
    {
        notes.problems.add(
            None,
            "port",
            "no port has group = \"exhaust main\"; give the exhaust port whose roof the valve moves",
        );
    }
    built
}

fn build<'a>(
    table: &'a Table,
    crank: Option<&Crank>,
    path: Option<&CrownPath>,
    notes: &mut Notes<'_>,
) -> Built<'a> {
    let name = table.text("name");
    let group = table.word("group").and_then(group_of);
    let port = match (&name, group) {
        (Some(name), Some(group)) => whole(table, name.clone(), group, crank, path, notes),
        _ => None,
    };
    Built { table, name, group, port }
}

fn whole(
    table: &Table,
    name: String,
    group: PortGroup,
    crank: Option<&Crank>,
    path: Option<&CrownPath>,
    notes: &mut Notes<'_>,
) -> Option<Port> {
    refuse_angles_of_inlet(table, group, notes)?;
    let roof = edge(table, &ROOF)?;
    let floor = floor(table, group, notes)?;
    let (width, width_measure) = width(table)?;
    let height = path.and_then(|path| height_m(path, &roof, &floor));
    let (roof_radius, floor_radius) = radii(table, &width, height, notes)?;
    let port = Port {
        name,
        group,
        count: table.count("count")?,
        width,
        width_measure,
        roof,
        floor,
        roof_radius,
        floor_radius,
        roof_tilt: table.figure("roof_tilt")?,
        duct_angle: table.figure("duct_angle")?,
    };
    if let (Some(crank), Some(path)) = (crank, path)
        && let Err((key, error)) = check(&port, crank, path)
    {
        let key = if table.gives(key) { key } else { given_edge(table) };
        let likely = likely_datum(&port, path).map_or(String::new(), |likely| format!(" {likely}"));
        notes.refuse(table, key, format!("{error}{likely}"));
    }
    Some(port)
}

fn group_of(word: &str) -> Option<PortGroup> {
    Some(match word {
        "exhaust main" => PortGroup::ExhaustMain,
        "exhaust auxiliary" => PortGroup::ExhaustAuxiliary,
        "transfer" => PortGroup::Transfer,
        "boost" => PortGroup::Boost,
        "inlet" => PortGroup::Inlet,
        _ => return None,
    })
}

/// The crown never times an inlet port: the skirt does.
fn refuse_angles_of_inlet(table: &Table, group: PortGroup, notes: &mut Notes<'_>) -> Option<()> {
    if group != PortGroup::Inlet {
        return Some(());
    }
    let angles: Vec<&str> =
        ROOF[2..].iter().chain(&FLOOR[2..]).map(|(key, _)| *key).filter(|key| table.gives(key)).collect();
    for key in &angles {
        notes.refuse(
            table,
            key,
            "the piston skirt opens an inlet port, so its edges are not given as angles of the crown; give roof and floor as lengths from the deck",
        );
    }
    angles.is_empty().then_some(())
}

/// For a port that cannot be: the other datum from which its roof would be usual.
fn likely_datum(port: &Port, path: &CrownPath) -> Option<String> {
    let usual = usual_duration(port.group)?;
    let duration =
        |datum| path.as_given_from(EdgeDatum::Duration, path.depth_of_m(datum, port.roof.at.value)?);
    let is_angle = |datum| !matches!(datum, EdgeDatum::BelowDeck | EdgeDatum::AboveCrownAtBdc);
    if duration(port.roof.datum).is_some_and(|angle| usual.contains(angle)) {
        return None;
    }
    let (key, _) = ROOF
        .iter()
        .filter(|(_, datum)| *datum != port.roof.datum && is_angle(*datum) == is_angle(port.roof.datum))
        .find(|(_, datum)| duration(*datum).is_some_and(|angle| usual.contains(angle)))?;
    let written = port.roof.at.written.as_deref().unwrap_or("");
    Some(format!("Likely meant: {key} = \"{written}\"."))
}

fn edge(table: &Table, keys: &[(&str, EdgeDatum)]) -> Option<PortEdge> {
    keys.iter().find_map(|(key, datum)| table.figure(key).map(|at| PortEdge { datum: *datum, at }))
}

/// The key by which the roof is given.
fn given_edge(table: &Table) -> &'static str {
    ROOF.iter().map(|(key, _)| *key).find(|key| table.gives(key)).unwrap_or("roof_below_deck")
}

fn floor(table: &Table, group: PortGroup, notes: &mut Notes<'_>) -> Option<PortEdge> {
    if FLOOR.iter().any(|(key, _)| table.gives(key)) {
        return edge(table, &FLOOR);
    }
    if group == PortGroup::Inlet {
        notes.refuse(
            table,
            "floor_below_deck",
            "the floor of an inlet port decides when it opens; give floor_below_deck",
        );
        return None;
    }
    let at = Measured::within(0.0, 0.3e-3, Dimension::Length);
    notes.assume(
        table,
        "floor",
        "taken as level with the crown edge at bottom dead centre, 0 ± 0.3 mm: common practice, no source",
        "measuring it makes the areas near bottom dead centre sure",
    );
    Some(PortEdge { datum: EdgeDatum::AboveCrownAtBdc, at })
}

fn width(table: &Table) -> Option<(Measured, WidthMeasure)> {
    let chord = table.figure("width").map(|width| (width, WidthMeasure::Chord));
    chord.or_else(|| table.figure("width_arc").map(|width| (width, WidthMeasure::Arc)))
}

fn height_m(path: &CrownPath, roof: &PortEdge, floor: &PortEdge) -> Option<f64> {
    let depth = |edge: &PortEdge| path.depth_of_m(edge.datum, edge.at.value);
    Some(depth(floor)? - depth(roof)?).filter(|height| *height > 0.0)
}

fn radii(
    table: &Table,
    width: &Measured,
    height_m: Option<f64>,
    notes: &mut Notes<'_>,
) -> Option<(Measured, Measured)> {
    if table.gives("corner_radius") {
        let radius = table.figure("corner_radius")?;
        return Some((radius.clone(), radius));
    }
    if table.gives("roof_radius") {
        return Some((table.figure("roof_radius")?, table.figure("floor_radius")?));
    }
    // A slot is lower than a tenth of its width is round: then the height sets the guess.
    let guess_m = height_m.map_or(0.1 * width.value, |height| (0.1 * width.value).min(0.2 * height));
    let worked = Worked {
        figure: Measured::within(guess_m, 0.8 * guess_m, Dimension::Length),
        rule: "a tenth of the width ± 80 % of that, common practice, no source",
        cost: "measuring them makes the area just after opening sure, where corners matter most",
    };
    let radius = notes.figure_or(table, "corner_radius", Some(worked))?;
    Some((radius.clone(), radius))
}

/// Geometry that no cylinder can have, with the key to look at.
fn check(port: &Port, crank: &Crank, path: &CrownPath) -> Result<(), (&'static str, GeometryError)> {
    let roof_m = path.edge_depth_m(&port.name, Edge::Roof, &port.roof).map_err(|error| ("roof", error))?;
    let floor_m =
        path.edge_depth_m(&port.name, Edge::Floor, &port.floor).map_err(|error| ("floor", error))?;
    if port.group != PortGroup::Inlet {
        let name = port.name.clone();
        if roof_m <= path.highest_m() {
            return Err((
                "roof",
                GeometryError::NeverCloses { port: name, roof_m, crown_m: path.highest_m() },
            ));
        }
        if roof_m >= path.lowest_m() {
            return Err(("roof", GeometryError::NeverOpens { port: name, roof_m, crown_m: path.lowest_m() }));
        }
    }
    let arc_m = arc(port, crank)?;
    let shape = OutlineShape {
        roof_depth_m: roof_m,
        floor_depth_m: floor_m,
        width_m: arc_m,
        roof_radius_m: port.roof_radius.value,
        floor_radius_m: port.floor_radius.value,
        roof_tilt_rad: port.roof_tilt.value,
        duct_angle_rad: port.duct_angle.value,
    };
    PortOutline::new(&port.name, shape).map(|_| ()).map_err(|error| ("corner_radius", error))
}

fn arc(port: &Port, crank: &Crank) -> Result<f64, (&'static str, GeometryError)> {
    let bore_m = crank.bore.value;
    let name = port.name.clone();
    let arc_m = match port.width_measure {
        WidthMeasure::Arc => port.width.value,
        WidthMeasure::Chord => arc_of_chord_m(port.width.value, bore_m).ok_or((
            "width",
            GeometryError::WiderThanBore { port: name.clone(), width_m: port.width.value, bore_m },
        ))?,
    };
    let round_m = PI * bore_m;
    if arc_m * f64::from(port.count) > round_m {
        let key = if port.width_measure == WidthMeasure::Arc { "width_arc" } else { "width" };
        return Err((
            key,
            GeometryError::WiderThanCircumference { port: name, count: port.count, arc_m, round_m },
        ));
    }
    Ok(arc_m)
}

/// The closed edge below the roof, by how it is given; see [`super::valve`].
pub(super) fn closed_drop(
    closed: &PortEdge,
    roof: &PortEdge,
    crank: &Crank,
    path: &CrownPath,
) -> Option<Measured> {
    let depth = |edge: &PortEdge, by: f64| path.depth_of_m(edge.datum, edge.at.value + by);
    let spread = |edge: &PortEdge| Some((depth(edge, edge.at.u)? - depth(edge, -edge.at.u)?).abs() / 2.0);
    let drop_m = depth(closed, 0.0)? - depth(roof, 0.0)?;
    let mut u_m = spread(closed).unwrap_or(closed.at.u).hypot(spread(roof)?);
    if (closed.datum == EdgeDatum::BelowDeck) != (roof.datum == EdgeDatum::BelowDeck) {
        u_m = u_m.hypot(crank.deck_clearance.u);
    }
    Some(Measured::normal(drop_m, u_m, Dimension::Length))
}

/// Words for a port that lies too low for the closed valve.
pub(super) fn below_floor(drop: &Measured, height_m: f64) -> String {
    format!(
        "the closed edge would lie {} below the roof, but the port is only {} high; the valve would stand below the port's floor, so check where the edge was measured from",
        mm(drop),
        mm(&Measured::exact(height_m, Dimension::Length))
    )
}

/// Height of a port, m.
pub(super) fn port_height_m(port: &Port, path: &CrownPath) -> Option<f64> {
    height_m(path, &port.roof, &port.floor)
}
