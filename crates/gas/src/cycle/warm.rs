//! A state to start from: what the engine held at bottom dead centre at the end of an earlier run.

use super::rig::{Rig, Run};
use super::settings::Tract;
use crate::duct::{GasState, Geometry};
use crate::reed::ReedState;

/// Gas along one tract, by distance from its beginning, m.
type Along = Vec<(f64, GasState)>;

/// One lane.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WarmLane {
    pub(crate) lift_m: f64,
    exhaust: Along,
    intake: Along,
    transfer: Along,
    vessels: Vec<GasState>,
    petal: ReedState,
    /// Of the fresh gas in the cylinder, see [`super::zones`].
    potential_k: f64,
}

/// States of a run's lanes, to start a neighbouring speed from. It is kept by place, so a run with other cells can start
/// from it too.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Warm {
    pub(crate) lanes: Vec<WarmLane>,
}

impl WarmLane {
    pub(crate) fn of<const L: usize>(rig: &Rig<'_, L>, lane: usize, lift_m: f64) -> Self {
        let gas = &rig.model.caloric;
        Self {
            lift_m,
            exhaust: along(rig.tract(Tract::Exhaust), lane),
            intake: along(rig.tract(Tract::Intake), lane),
            transfer: along(rig.tract(Tract::Transfer), lane),
            vessels: rig.vessels().map(|vessel| vessel.gas(gas, lane)).collect(),
            petal: rig.petals[lane],
            potential_k: rig.zones.potential_k(lane),
        }
    }

    /// Puts it into one lane of a rig at the beginning of a turn.
    pub(crate) fn put<const L: usize>(&self, rig: &mut Rig<'_, L>, lane: usize) {
        let gas = &rig.model.caloric;
        let tracts = [
            (&mut rig.exhaust, &self.exhaust),
            (&mut rig.intake, &self.intake),
            (&mut rig.transfer, &self.transfer),
        ];
        for (runs, along) in tracts {
            for run in runs {
                let from_m = run.from_m;
                run.duct.refill(gas, lane, |x_m| at(along, from_m + x_m));
            }
        }
        let vessels = [&mut rig.cylinder, &mut rig.crankcase].into_iter().chain(&mut rig.airbox);
        for (vessel, state) in vessels.zip(&self.vessels) {
            vessel.refill(gas, lane, state);
        }
        rig.petals[lane] = self.petal;
        rig.zones.set_potential_k(lane, self.potential_k);
    }
}

impl Warm {
    /// The lane of the nearest lift.
    pub(crate) fn nearest(&self, lift_m: f64) -> Option<&WarmLane> {
        let off = |lane: &&WarmLane| (lane.lift_m - lift_m).abs();
        self.lanes.iter().min_by(|one, two| off(one).total_cmp(&off(two)))
    }
}

fn along<const L: usize>(runs: &[Run<L>], lane: usize) -> Along {
    let mut places = Vec::new();
    for run in runs {
        let geometry: &Geometry = run.duct.geometry();
        for cell in 0..geometry.cells() {
            if let Some(state) = run.duct.gas(cell, lane) {
                places.push((run.from_m + geometry.middle_m(cell), state));
            }
        }
    }
    places
}

/// Straight between the places, held beyond the first and the last.
fn at(along: &Along, x_m: f64) -> GasState {
    let after = along.partition_point(|(place_m, _)| *place_m < x_m);
    let (Some(next), Some(before)) =
        (along.get(after.min(along.len() - 1)), along.get(after.saturating_sub(1)))
    else {
        return GasState { pressure_pa: 1e5, temperature_k: 300.0, velocity_m_s: 0.0, y: [0.0; 2] };
    };
    let width = next.0 - before.0;
    let share = if width > 0.0 { ((x_m - before.0) / width).clamp(0.0, 1.0) } else { 1.0 };
    let mix = |a: f64, b: f64| if share >= 1.0 { b } else { a + share * (b - a) };
    GasState {
        pressure_pa: mix(before.1.pressure_pa, next.1.pressure_pa),
        temperature_k: mix(before.1.temperature_k, next.1.temperature_k),
        velocity_m_s: mix(before.1.velocity_m_s, next.1.velocity_m_s),
        y: [mix(before.1.y[0], next.1.y[0]), mix(before.1.y[1], next.1.y[1])],
    }
}
