//! Burning in the cylinder of one lane, from the closing of the exhaust on.

use super::model::Model;
use super::settings::Settings;
use crate::vessel::{Contents, Wiebe};

/// The charge of one turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fire {
    /// Fuel trapped that its air can burn, kg.
    fuel_kg: f64,
    law: Wiebe,
}

/// What burns in a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Burned {
    pub(crate) fuel_kg: f64,
    pub(crate) heat_j: f64,
    /// Change of the second and third species, kg.
    pub(crate) species_kg: [f64; 2],
}

impl Fire {
    /// Laid when the exhaust closes at a speed in rad/s.
    pub(crate) fn laid<const L: usize>(
        model: &Model,
        settings: &Settings,
        cylinder: &Contents<L>,
        lane: usize,
        speed_rad_s: f64,
    ) -> Self {
        let y = cylinder.y(lane);
        let spark_rad = model.ignition.advance_rad(speed_rad_s);
        let law = settings.burn.burning(spark_rad, speed_rad_s, y[1].clamp(0.0, 1.0));
        Self { fuel_kg: burnable_kg(model, cylinder, lane), law }
    }

    /// Burning between two crank angles after top dead centre, rad; none outside.
    pub(crate) fn between<const L: usize>(
        &self,
        model: &Model,
        cylinder: &Contents<L>,
        lane: usize,
        from_rad: f64,
        to_rad: f64,
    ) -> Option<Burned> {
        if to_rad <= self.law.start_rad || from_rad >= self.law.start_rad + self.law.duration_rad {
            return None;
        }
        let wanted_kg = self.fuel_kg * self.law.burned_between(from_rad, to_rad);
        let fuel_kg = wanted_kg.min(burnable_kg(model, cylinder, lane));
        let gain = 1.0 + model.gas.air_per_fuel();
        Some(Burned {
            fuel_kg,
            heat_j: fuel_kg * model.gas.heat_j_kg_fuel() * model.burned_share,
            species_kg: [-fuel_kg, gain * fuel_kg],
        })
    }
}

/// Fuel in the cylinder that has its air, kg.
fn burnable_kg<const L: usize>(model: &Model, cylinder: &Contents<L>, lane: usize) -> f64 {
    let [fuel_kg, burned_kg] = cylinder.species_kg(lane);
    let air_kg = cylinder.mass_kg(lane) - fuel_kg - burned_kg;
    fuel_kg.min(air_kg / model.gas.air_per_fuel()).max(0.0)
}
