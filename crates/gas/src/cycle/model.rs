//! An engine as the simulation sees it: every figure settled, what was assumed listed.

use super::missing::{AllMissing, Missing, ModelError};
use crate::duct::{Caloric, GasState, Section};
use crate::gas::{Air, Gas};
use crate::port::AreaTable;
use crate::throttle::Throttle;
use engine::kinematics::SliderCrank;
use engine::model::{Engine, Fuel, Ignition, Intake, PipePiece, PortGroup, ReedBlock};
use engine::volumes::bore_area_m2;

/// Air of the day when the file gives none: pressure Pa, temperature K, relative humidity.
const DAY: (f64, f64, f64) = (101_325.0, 293.15, 0.5);
/// Walls without a temperature of their own, K: exhaust and intake.
const EXHAUST_WALL_K: f64 = 573.15;
const INTAKE_WALL_K: f64 = 313.15;
/// Share of the trapped fuel that burns when the file gives none.
const BURNED_SHARE: f64 = 0.92;
/// Loss of a bend in dynamic heads for each radian: 0.25 for a right angle (common practice, no source).
const BEND_HEADS_PER_RAD: f64 = 0.16;

/// One piece of a duct with its wall.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Piece {
    pub(crate) section: Section,
    pub(crate) wall_k: f64,
    /// Loss of its bends in dynamic heads.
    pub(crate) bend_heads: f64,
}

/// The intake with its carburettor.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct IntakePlan {
    /// Mouth to the throat of the carburettor, throat to the engine.
    pub(crate) pieces: [Piece; 2],
    pub(crate) airbox_m3: Option<f64>,
    pub(crate) throttle: Throttle,
    /// Opening that the file gives, 0 to 1.
    pub(crate) opening: f64,
}

/// Transfer ducts when nothing is known of them: length over stroke, area at the crankcase over area at the ports, their
/// wall (K), and most of the crankcase's volume that they may take.
const TRANSFER_LENGTH: f64 = 1.3;
const TRANSFER_TAPER: f64 = 1.4;
const TRANSFER_WALL_K: f64 = 353.15;
const TRANSFER_MOST: f64 = 0.4;

/// One engine, ready to be run. Every cylinder counts as having a pipe, an intake and a crankcase of its own.
#[derive(Debug, Clone)]
pub struct Model {
    pub(crate) engine: Engine,
    pub(crate) slider: SliderCrank,
    pub(crate) bore_area_m2: f64,
    pub(crate) chamber_m3: f64,
    pub(crate) crankcase_m3: f64,
    /// Exhaust from the cylinder wall outwards.
    pub(crate) pipe: Vec<Piece>,
    pub(crate) intake: IntakePlan,
    /// All transfer ducts in one, from the crankcase to the ports.
    pub(crate) transfer: Piece,
    /// None when the piston's skirt opens the inlet.
    pub(crate) reed: Option<ReedBlock>,
    pub(crate) ignition: Ignition,
    pub(crate) burned_share: f64,
    pub(crate) gas: Gas,
    pub(crate) caloric: Caloric,
    /// Air of the day, and the same with its fuel.
    pub(crate) air: GasState,
    pub(crate) fresh: GasState,
    /// For figures that the file does not give.
    pub(super) assumptions: Vec<String>,
}

/// What the file must hold, taken out of it.
struct Needed<'a> {
    crankcase_m3: f64,
    intake: &'a Intake,
    throat_m: f64,
    throttle: Throttle,
    ignition: &'a Ignition,
    fuel: &'a Fuel,
}

impl Model {
    /// Builds the model of one engine.
    ///
    /// # Errors
    /// [`ModelError::Missing`] with everything that the file lacks; else the first figure that cannot be.
    pub fn of(engine: &Engine) -> Result<Self, ModelError> {
        let needed = needed(engine)?;
        let mut assumptions = Vec::new();
        let crank = &engine.crank;
        let slider =
            SliderCrank::new(0.5 * crank.stroke.value, crank.rod_length.value, crank.pin_offset.value)?;
        let (air, day) = day(engine, &mut assumptions)?;
        let gas = Gas::of(needed.fuel, air)?;
        let burned_share = needed.fuel.burned_share.as_ref().map_or_else(
            || {
                assumptions.push(format!("fuel.burned_share: {BURNED_SHARE} of the trapped fuel burns."));
                BURNED_SHARE
            },
            |share| share.value,
        );
        let fuel_share = 1.0 / (1.0 + gas.air_per_fuel());
        let fresh = GasState { y: [fuel_share, 0.0], ..day };
        let pipe = engine.gas.pipe.iter().map(|piece| exhaust_piece(piece, &mut assumptions)).collect();
        let intake = intake(&needed, engine, &mut assumptions);
        let transfer = transfer(engine, needed.crankcase_m3, &mut assumptions)?;
        let within_m3 = frustum_m3(&transfer.section);
        Ok(Self {
            slider,
            bore_area_m2: bore_area_m2(crank.bore.value),
            chamber_m3: engine.head.chamber_volume.value,
            crankcase_m3: needed.crankcase_m3 - within_m3,
            pipe,
            intake,
            transfer,
            reed: engine.gas.reed.clone(),
            ignition: needed.ignition.clone(),
            burned_share,
            caloric: Caloric::from(&gas),
            gas,
            air: day,
            fresh,
            assumptions,
            engine: engine.clone(),
        })
    }

    /// Swept volume of one cylinder, m³.
    pub fn swept_m3(&self) -> f64 {
        self.bore_area_m2 * self.slider.stroke_m()
    }

    /// Volume above the piston, m³, at an angle after top dead centre.
    pub(crate) fn cylinder_m3(&self, angle_rad: f64) -> f64 {
        self.chamber_m3 + self.bore_area_m2 * self.slider.drop_m(angle_rad)
    }

    /// Volume below it without the transfer ducts, m³.
    pub(crate) fn below_m3(&self, angle_rad: f64) -> f64 {
        self.crankcase_m3 + self.bore_area_m2 * (self.slider.stroke_m() - self.slider.drop_m(angle_rad))
    }

    /// Density of the air of the day, kg/m³.
    pub(crate) fn air_density_kg_m3(&self) -> f64 {
        self.air.pressure_pa / (self.caloric.r(self.air.y) * self.air.temperature_k)
    }
}

fn needed(engine: &Engine) -> Result<Needed<'_>, ModelError> {
    let path = &engine.gas;
    let mut missing = Vec::new();
    let mut lacks = |absent: bool, key: &str, add: &str| {
        if absent {
            missing.push(Missing::new(key, add));
        }
    };
    let has = |wanted: &[PortGroup]| engine.ports.iter().any(|port| wanted.contains(&port.group));
    lacks(
        engine.crankcase_volume.is_none(),
        "crankcase.volume",
        "the crankcase's volume with the piston at bottom dead centre, by burette",
    );
    lacks(
        !has(&[PortGroup::ExhaustMain, PortGroup::ExhaustAuxiliary]),
        "[[port]] of group \"exhaust main\"",
        "the exhaust port",
    );
    lacks(
        !has(&[PortGroup::Transfer, PortGroup::Boost]),
        "[[port]] of group \"transfer\"",
        "the transfer ports",
    );
    lacks(
        path.pipe.is_empty(),
        "[[pipe]]",
        "the pieces of the exhaust from the cylinder wall to the tail, each with name, length and both inner diameters",
    );
    lacks(
        path.intake.is_none(),
        "[intake]",
        "length, mouth_diameter and inner_diameter of the intake from its mouth to the reed block or cylinder wall",
    );
    lacks(path.carburettor.is_none(), "[carburettor]", "throat_diameter and throttle");
    lacks(
        path.reed.is_none() && !has(&[PortGroup::Inlet]),
        "[reed]",
        "number, material and sizes of the petals, stop_lift and window_area, or a [[port]] of group \"inlet\" if the piston's skirt opens it",
    );
    lacks(path.ignition.is_none(), "[ignition]", "advance, the spark before top dead centre");
    lacks(path.fuel.is_none(), "[fuel]", "kind and equivalence_ratio");
    match (&engine.crankcase_volume, &path.intake, &path.carburettor, &path.ignition, &path.fuel) {
        (Some(crankcase), Some(intake), Some(carburettor), Some(ignition), Some(fuel))
            if missing.is_empty() =>
        {
            Ok(Needed {
                crankcase_m3: crankcase.value,
                intake,
                throat_m: carburettor.throat_diameter.value,
                throttle: Throttle::of(carburettor.throttle),
                ignition,
                fuel,
            })
        }
        _ => Err(ModelError::Missing(AllMissing(missing))),
    }
}

fn day(engine: &Engine, assumptions: &mut Vec<String>) -> Result<(Air, GasState), ModelError> {
    let (pressure_pa, temperature_k, humidity) = match &engine.gas.ambient {
        Some(day) => (day.pressure.value, day.temperature.value, day.humidity.value),
        None => {
            assumptions.push("[ambient]: 101.3 kPa, 20 °C, 50 % of humidity.".to_owned());
            DAY
        }
    };
    let air = Air::moist(pressure_pa, temperature_k, humidity)?;
    Ok((air, GasState { pressure_pa, temperature_k, velocity_m_s: 0.0, y: [0.0; 2] }))
}

fn exhaust_piece(piece: &PipePiece, assumptions: &mut Vec<String>) -> Piece {
    let wall_k = piece.wall_temperature.as_ref().map_or_else(
        || {
            assumptions.push(format!("wall_temperature of the pipe's piece \"{}\": 300 °C.", piece.name));
            EXHAUST_WALL_K
        },
        |wall| wall.value,
    );
    let section = Section {
        length_m: piece.length.value,
        begin_m: piece.inlet_diameter.value,
        end_m: piece.outlet_diameter.value,
    };
    let bend_heads = piece.bend.as_ref().map_or(0.0, |bend| BEND_HEADS_PER_RAD * bend.value.abs());
    Piece { section, wall_k, bend_heads }
}

fn intake(needed: &Needed<'_>, engine: &Engine, assumptions: &mut Vec<String>) -> IntakePlan {
    let tract = needed.intake;
    let wall_k = tract.wall_temperature.as_ref().map_or_else(
        || {
            assumptions.push("intake.wall_temperature: 40 °C.".to_owned());
            INTAKE_WALL_K
        },
        |wall| wall.value,
    );
    let half_m = 0.5 * tract.length.value;
    let piece = |begin_m: f64, end_m: f64| Piece {
        section: Section { length_m: half_m, begin_m, end_m },
        wall_k,
        bend_heads: 0.0,
    };
    assumptions.push("The carburettor's throat stands half way along the intake.".to_owned());
    if tract.airbox_volume.is_some() {
        assumptions.push("The airbox breathes through an opening of twice the mouth's area.".to_owned());
    }
    let opening = engine.gas.carburettor.as_ref().and_then(|one| one.opening.as_ref());
    IntakePlan {
        pieces: [
            piece(tract.mouth_diameter.value, needed.throat_m),
            piece(needed.throat_m, tract.inner_diameter.value),
        ],
        airbox_m3: tract.airbox_volume.as_ref().map(|volume| volume.value),
        throttle: needed.throttle,
        opening: opening.map_or(1.0, |opening| opening.value),
    }
}

/// One duct with the area of all transfer ports; its volume is part of the crankcase's.
fn transfer(engine: &Engine, crankcase_m3: f64, assumptions: &mut Vec<String>) -> Result<Piece, ModelError> {
    let area_m2 = AreaTable::at_lift(engine, 0.0, 0.0)?.greatest().transfer_m2;
    let diameter_m = |area_m2: f64| (area_m2 / std::f64::consts::FRAC_PI_4).sqrt();
    let given = engine.gas.transfer_duct.as_ref();
    let foot_m2 = given.and_then(|duct| duct.foot_area.as_ref()).map(|area| area.value);
    let mut section = Section {
        length_m: given.map_or(TRANSFER_LENGTH * engine.crank.stroke.value, |duct| duct.length.value),
        begin_m: diameter_m(foot_m2.unwrap_or(TRANSFER_TAPER * area_m2)),
        end_m: diameter_m(area_m2),
    };
    let room = TRANSFER_MOST * crankcase_m3 / frustum_m3(&section);
    match given {
        None => section.length_m *= room.min(1.0),
        Some(duct) if room < 1.0 => {
            let length_mm = duct.length.value * 1e3;
            return Err(ModelError::TransferDucts { length_mm, most_mm: room * length_mm });
        }
        Some(_) => {}
    }
    if given.is_none() {
        assumptions.push(format!("Transfer ducts {:.0} mm long.", section.length_m * 1e3));
    }
    if foot_m2.is_none() {
        assumptions
            .push(format!("Transfer ducts {TRANSFER_TAPER} times as wide at the crankcase as at the ports."));
    }
    let wall = given.and_then(|duct| duct.wall_temperature.as_ref());
    if wall.is_none() {
        assumptions.push("transfer_duct.wall_temperature: 80 °C.".to_owned());
    }
    Ok(Piece { section, wall_k: wall.map_or(TRANSFER_WALL_K, |wall| wall.value), bend_heads: 0.0 })
}

fn frustum_m3(section: &Section) -> f64 {
    let (a, b) = (section.begin_m, section.end_m);
    std::f64::consts::PI / 12.0 * section.length_m * (a * a + a * b + b * b)
}
