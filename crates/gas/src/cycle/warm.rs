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
/// from it too. It remembers the states that its own run began with, so that a third speed starts from where the two
/// before it point to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Warm {
    pub(crate) speed_rad_s: f64,
    pub(crate) lanes: Vec<WarmLane>,
    /// Speed (rad/s) and lanes of the run before.
    before: Option<(f64, Vec<WarmLane>)>,
}

/// A start is never put further beyond the last state than this share of the way between the last two.
const FURTHEST: f64 = 1.2;

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

    /// Moved on by a share of the way from an earlier one.
    fn beyond(&self, earlier: &Self, share: f64) -> Self {
        let like = |one: &Along, two: &Along| one.len() == two.len();
        if !(like(&self.exhaust, &earlier.exhaust)
            && like(&self.intake, &earlier.intake)
            && like(&self.transfer, &earlier.transfer))
        {
            return self.clone();
        }
        let vessels = self.vessels.iter().zip(&earlier.vessels);
        Self {
            exhaust: along_beyond(&self.exhaust, &earlier.exhaust, share),
            intake: along_beyond(&self.intake, &earlier.intake, share),
            transfer: along_beyond(&self.transfer, &earlier.transfer, share),
            vessels: vessels.map(|(last, earlier)| state_beyond(last, earlier, share)).collect(),
            ..self.clone()
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
    pub(crate) fn of(speed_rad_s: f64, lanes: Vec<WarmLane>, start: Option<&Self>) -> Self {
        let before = start.map(|start| (start.speed_rad_s, start.lanes.clone()));
        Self { speed_rad_s, lanes, before }
    }

    /// What a lift (m) at a speed (rad/s) begins with: the lane of the nearest lift, moved on as it moved last.
    pub(crate) fn start(&self, lift_m: f64, speed_rad_s: f64) -> Option<WarmLane> {
        let last = nearest(&self.lanes, lift_m)?;
        let moved_on = self.before.as_ref().and_then(|(before_rad_s, lanes)| {
            let earlier = nearest(lanes, last.lift_m).filter(|earlier| earlier.lift_m == last.lift_m)?;
            let way = self.speed_rad_s - before_rad_s;
            let share = (speed_rad_s - self.speed_rad_s) / way;
            (share.is_finite() && share.abs() <= FURTHEST).then(|| last.beyond(earlier, share))
        });
        Some(moved_on.unwrap_or_else(|| last.clone()))
    }
}

fn nearest(lanes: &[WarmLane], lift_m: f64) -> Option<&WarmLane> {
    let off = |lane: &&WarmLane| (lane.lift_m - lift_m).abs();
    lanes.iter().min_by(|one, two| off(one).total_cmp(&off(two)))
}

/// From `earlier` through `last` on by a share of the way; pressures and temperatures stay within half and twice the last.
fn state_beyond(last: &GasState, earlier: &GasState, share: f64) -> GasState {
    let on = |last: f64, earlier: f64| last + share * (last - earlier);
    let held = |last: f64, earlier: f64| on(last, earlier).clamp(0.5 * last, 2.0 * last);
    let burned = on(last.y[1], earlier.y[1]).clamp(0.0, 1.0);
    // The fuel keeps its share of what is not burned.
    let fresh = 1.0 - last.y[1];
    let fuel = if fresh > 1e-9 { last.y[0] / fresh * (1.0 - burned) } else { last.y[0] };
    GasState {
        pressure_pa: held(last.pressure_pa, earlier.pressure_pa),
        temperature_k: held(last.temperature_k, earlier.temperature_k),
        velocity_m_s: on(last.velocity_m_s, earlier.velocity_m_s),
        y: [fuel, burned],
    }
}

fn along_beyond(last: &Along, earlier: &Along, share: f64) -> Along {
    let pairs = last.iter().zip(earlier);
    pairs.map(|(last, earlier)| (last.0, state_beyond(&last.1, &earlier.1, share))).collect()
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
