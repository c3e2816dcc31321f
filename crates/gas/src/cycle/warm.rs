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
///
/// A run starts from the last state of the speed before it, moved on by what a rough run of both speeds tells apart; where there
/// is none, from where the last two speeds point to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Warm {
    pub(crate) speed_rad_s: f64,
    pub(crate) lanes: Vec<WarmLane>,
    /// Speed (rad/s) and lanes of the run before.
    before: Option<(f64, Vec<WarmLane>)>,
    /// Only for the lifts that are in it, not for those beside them.
    own_lifts: bool,
    /// Of the rough run at the same speed.
    rough: Option<Box<Warm>>,
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

    /// Moved on by a share of what differs between two others.
    fn moved(&self, to: &Self, from: &Self, share: f64) -> Self {
        let along = |own: &Along, to: &Along, from: &Along| -> Along {
            own.iter()
                .map(|(x_m, state)| (*x_m, moved(state, &at(to, *x_m), &at(from, *x_m), share)))
                .collect()
        };
        let vessels = self.vessels.iter().zip(to.vessels.iter().zip(&from.vessels));
        Self {
            exhaust: along(&self.exhaust, &to.exhaust, &from.exhaust),
            intake: along(&self.intake, &to.intake, &from.intake),
            transfer: along(&self.transfer, &to.transfer, &from.transfer),
            vessels: vessels.map(|(own, (to, from))| moved(own, to, from, share)).collect(),
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
    pub(crate) fn of(speed_rad_s: f64, lanes: Vec<WarmLane>) -> Self {
        Self { speed_rad_s, lanes, ..Self::default() }
    }

    /// Remembers the run before it.
    pub(crate) fn after(self, start: Option<&Self>) -> Self {
        Self { before: start.map(|start| (start.speed_rad_s, start.lanes.clone())), ..self }
    }

    /// Remembers the rough run at the same speed.
    pub(crate) fn with_rough(self, rough: Self) -> Self {
        Self { rough: Some(Box::new(rough)), ..self }
    }

    /// What the rough run at the same speed ended with.
    pub(crate) fn rough(&self) -> Option<&Self> {
        self.rough.as_deref()
    }

    /// The same, but a lift that is not in it starts cold: so that no lane notices what becomes of another.
    pub(crate) fn for_its_own_lifts(self) -> Self {
        Self { own_lifts: true, ..self }
    }

    /// The start of a run at the speed of a rough run: moved on as that moved from the rough run before it. Lanes of which
    /// one of the two is missing are moved on as [`Self::start`] says.
    pub(crate) fn moved_as(&self, rough: &Self, lifts_m: &[f64]) -> Self {
        let lane = |lift_m: &f64| match (
            self.own(*lift_m),
            self.rough().and_then(|rough| rough.own(*lift_m)),
            rough.own(*lift_m),
        ) {
            (Some(last), Some(before), Some(now)) => Some(last.moved(now, before, 1.0)),
            _ => self.start(*lift_m, rough.speed_rad_s).map(|lane| WarmLane { lift_m: *lift_m, ..lane }),
        };
        Self::of(rough.speed_rad_s, lifts_m.iter().filter_map(lane).collect()).for_its_own_lifts()
    }

    fn own(&self, lift_m: f64) -> Option<&WarmLane> {
        self.lanes.iter().find(|lane| lane.lift_m == lift_m)
    }

    /// What a lift (m) at a speed (rad/s) begins with: the lane of the nearest lift, moved on as it moved last.
    pub(crate) fn start(&self, lift_m: f64, speed_rad_s: f64) -> Option<WarmLane> {
        let last = nearest(&self.lanes, lift_m).filter(|lane| !self.own_lifts || lane.lift_m == lift_m)?;
        let moved_on = self.before.as_ref().and_then(|(before_rad_s, lanes)| {
            let earlier = nearest(lanes, last.lift_m).filter(|earlier| earlier.lift_m == last.lift_m)?;
            let way = self.speed_rad_s - before_rad_s;
            let share = (speed_rad_s - self.speed_rad_s) / way;
            (share.is_finite() && share.abs() <= FURTHEST).then(|| last.moved(last, earlier, share))
        });
        Some(moved_on.unwrap_or_else(|| last.clone()))
    }
}

fn nearest(lanes: &[WarmLane], lift_m: f64) -> Option<&WarmLane> {
    let off = |lane: &&WarmLane| (lane.lift_m - lift_m).abs();
    lanes.iter().min_by(|one, two| off(one).total_cmp(&off(two)))
}

/// A state moved on by a share of the way from one to another; pressures and temperatures stay within half and twice its own.
fn moved(own: &GasState, to: &GasState, from: &GasState, share: f64) -> GasState {
    let on = |own: f64, to: f64, from: f64| own + share * (to - from);
    let held = |own: f64, to: f64, from: f64| on(own, to, from).clamp(0.5 * own, 2.0 * own);
    let burned = on(own.y[1], to.y[1], from.y[1]).clamp(0.0, 1.0);
    // The fuel keeps its share of what is not burned.
    let fresh = 1.0 - own.y[1];
    let fuel = if fresh > 1e-9 { own.y[0] / fresh * (1.0 - burned) } else { own.y[0] };
    GasState {
        pressure_pa: held(own.pressure_pa, to.pressure_pa, from.pressure_pa),
        temperature_k: held(own.temperature_k, to.temperature_k, from.temperature_k),
        velocity_m_s: on(own.velocity_m_s, to.velocity_m_s, from.velocity_m_s),
        y: [fuel, burned],
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
