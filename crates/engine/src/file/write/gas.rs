//! The sections of the gas's way.

use super::Page;
use crate::model::{GasPath, PipePiece, ReedBlock, ReedMaterial, ThrottleKind};

pub(super) fn gas(gas: &GasPath, page: &mut Page) {
    for piece in &gas.pipe {
        pipe(piece, page);
    }
    if let Some(intake) = &gas.intake {
        page.section("[intake]", "intake");
        page.figure("length", &intake.length);
        page.figure("mouth_diameter", &intake.mouth_diameter);
        page.figure("inner_diameter", &intake.inner_diameter);
        page.optional_figure("airbox_volume", intake.airbox_volume.as_ref());
        page.optional_figure("wall_temperature", intake.wall_temperature.as_ref());
    }
    if let Some(block) = &gas.reed {
        reed(block, page);
    }
    if let Some(carburettor) = &gas.carburettor {
        page.section("[carburettor]", "carburettor");
        page.figure("throat_diameter", &carburettor.throat_diameter);
        let slide = carburettor.throttle == ThrottleKind::Slide;
        page.words("throttle", if slide { "slide" } else { "butterfly" });
        page.optional_figure("opening", carburettor.opening.as_ref());
    }
    if let Some(duct) = &gas.transfer_duct {
        page.section("[transfer_duct]", "transfer_duct");
        page.figure("length", &duct.length);
        page.optional_figure("foot_area", duct.foot_area.as_ref());
        page.optional_figure("wall_temperature", duct.wall_temperature.as_ref());
    }
    rest(gas, page);
}

fn rest(gas: &GasPath, page: &mut Page) {
    if let Some(ignition) = &gas.ignition {
        page.section("[ignition]", "ignition");
        page.figure("advance", &ignition.advance);
        page.optional_figure("speed", ignition.speed.as_ref());
        if let Some((advance, speed)) = &ignition.late {
            page.figure("advance_late", advance);
            page.figure("speed_late", speed);
        }
    }
    if let Some(fuel) = &gas.fuel {
        page.section("[fuel]", "fuel");
        page.words("kind", "petrol");
        page.figure("equivalence_ratio", &fuel.equivalence_ratio);
        page.optional_figure("burned_share", fuel.burned_share.as_ref());
    }
    if let Some(ambient) = &gas.ambient {
        page.section("[ambient]", "ambient");
        page.figure("pressure", &ambient.pressure);
        page.figure("temperature", &ambient.temperature);
        page.figure("humidity", &ambient.humidity);
    }
}

fn pipe(piece: &PipePiece, page: &mut Page) {
    page.section("[[pipe]]", &format!("pipe \"{}\"", piece.name));
    page.words("name", &piece.name);
    page.figure("length", &piece.length);
    page.figure("inlet_diameter", &piece.inlet_diameter);
    page.figure("outlet_diameter", &piece.outlet_diameter);
    page.optional_figure("wall_temperature", piece.wall_temperature.as_ref());
    page.optional_figure("bend", piece.bend.as_ref());
}

fn reed(block: &ReedBlock, page: &mut Page) {
    page.section("[reed]", "reed");
    page.line("petals", &block.petals.to_string());
    let material = match block.material {
        ReedMaterial::Steel => "steel",
        ReedMaterial::GlassFibre => "glass fibre",
        ReedMaterial::CarbonFibre => "carbon fibre",
    };
    page.words("material", material);
    page.figure("petal_length", &block.petal_length);
    page.figure("petal_width", &block.petal_width);
    page.figure("petal_thickness", &block.petal_thickness);
    page.figure("stop_lift", &block.stop_lift);
    page.figure("window_area", &block.window_area);
}
