//! Pipe, intake, reed, carburettor, ignition, fuel and air of the day.

use super::crank::mm;
use super::{Notes, Tables};
use crate::file::table::Table;
use crate::model::{
    Ambient, Carburettor, Fuel, GasPath, Ignition, Intake, PipePiece, ReedBlock, ReedMaterial, ThrottleKind,
    TransferDuct,
};

/// All of it. `None` when a section that is given could not be read; its problems are listed.
pub(super) fn gas(tables: &Tables<'_>, notes: &mut Notes<'_>) -> Option<GasPath> {
    let pipe = pipe(tables, notes);
    let intake = section(tables, "intake", intake);
    let reed = section(tables, "reed", |table| reed(table, notes));
    let carburettor = section(tables, "carburettor", carburettor);
    let transfer_duct = section(tables, "transfer_duct", transfer_duct);
    let ignition = section(tables, "ignition", |table| ignition(table, notes));
    let fuel = section(tables, "fuel", fuel);
    let ambient = section(tables, "ambient", ambient);
    Some(GasPath {
        pipe: pipe?,
        intake: intake?,
        reed: reed?,
        carburettor: carburettor?,
        transfer_duct: transfer_duct?,
        ignition: ignition?,
        fuel: fuel?,
        ambient: ambient?,
    })
}

/// Nothing for a section that is not there; `None` when it is there and cannot be read.
fn section<T>(tables: &Tables<'_>, path: &str, read: impl FnOnce(&Table) -> Option<T>) -> Option<Option<T>> {
    match tables.get(path) {
        Some(table) => read(table).map(Some),
        None => Some(None),
    }
}

fn pipe(tables: &Tables<'_>, notes: &mut Notes<'_>) -> Option<Vec<PipePiece>> {
    let mut names: Vec<String> = Vec::new();
    let pieces: Vec<Option<PipePiece>> = tables
        .all("pipe")
        .map(|table| {
            let name = table.text("name")?;
            if names.contains(&name) {
                notes.refuse(table, "name", "two pieces of the pipe have this name; give each its own");
            }
            names.push(name.clone());
            Some(PipePiece {
                name,
                length: table.figure("length")?,
                inlet_diameter: table.figure("inlet_diameter")?,
                outlet_diameter: table.figure("outlet_diameter")?,
                wall_temperature: table.figure("wall_temperature"),
                bend: table.figure("bend"),
            })
        })
        .collect();
    pieces.into_iter().collect()
}

fn intake(table: &Table) -> Option<Intake> {
    Some(Intake {
        length: table.figure("length")?,
        mouth_diameter: table.figure("mouth_diameter")?,
        inner_diameter: table.figure("inner_diameter")?,
        airbox_volume: table.figure("airbox_volume"),
        wall_temperature: table.figure("wall_temperature"),
    })
}

fn reed(table: &Table, notes: &mut Notes<'_>) -> Option<ReedBlock> {
    let reed = ReedBlock {
        petals: table.count("petals")?,
        material: match table.word("material")? {
            "steel" => ReedMaterial::Steel,
            "carbon fibre" => ReedMaterial::CarbonFibre,
            _ => ReedMaterial::GlassFibre,
        },
        petal_length: table.figure("petal_length")?,
        petal_width: table.figure("petal_width")?,
        petal_thickness: table.figure("petal_thickness")?,
        stop_lift: table.figure("stop_lift")?,
        window_area: table.figure("window_area")?,
    };
    if reed.stop_lift.value >= reed.petal_length.value {
        notes.refuse(
            table,
            "stop_lift",
            format!(
                "a tip cannot lift {} when the petal is {} long; measure from the seat to the stop at the tip",
                mm(&reed.stop_lift),
                mm(&reed.petal_length)
            ),
        );
        return None;
    }
    Some(reed)
}

fn transfer_duct(table: &Table) -> Option<TransferDuct> {
    Some(TransferDuct {
        length: table.figure("length")?,
        foot_area: table.figure("foot_area"),
        wall_temperature: table.figure("wall_temperature"),
    })
}

fn carburettor(table: &Table) -> Option<Carburettor> {
    Some(Carburettor {
        throat_diameter: table.figure("throat_diameter")?,
        throttle: match table.word("throttle")? {
            "butterfly" => ThrottleKind::Butterfly,
            _ => ThrottleKind::Slide,
        },
        opening: table.figure("opening"),
    })
}

fn ignition(table: &Table, notes: &mut Notes<'_>) -> Option<Ignition> {
    let speed = table.figure("speed");
    let late = match (table.figure("advance_late"), table.figure("speed_late")) {
        (Some(advance), Some(speed)) => Some((advance, speed)),
        _ => None,
    };
    if let (Some(speed), Some((_, late))) = (&speed, &late)
        && late.value <= speed.value
    {
        notes.refuse(
            table,
            "speed_late",
            "the later advance holds at the higher speed; give a speed above the one of the first advance",
        );
        return None;
    }
    Some(Ignition { advance: table.figure("advance")?, speed, late })
}

fn fuel(table: &Table) -> Option<Fuel> {
    Some(Fuel {
        equivalence_ratio: table.figure("equivalence_ratio")?,
        burned_share: table.figure("burned_share"),
    })
}

fn ambient(table: &Table) -> Option<Ambient> {
    Some(Ambient {
        pressure: table.figure("pressure")?,
        temperature: table.figure("temperature")?,
        humidity: table.figure("humidity")?,
    })
}
