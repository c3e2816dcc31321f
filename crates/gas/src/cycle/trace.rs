//! What is recorded along one turn.

use super::rig::Rig;
use super::settings::{Probe, Tract};
use crate::duct::End;
use serde::{Deserialize, Serialize};

/// At least so many points a turn, and less than twice as many; the steps when there are fewer.
const POINTS: usize = 360;

/// Pressure at one place of a duct.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlaceTrace {
    /// Which duct.
    pub tract: Tract,
    /// Middle of the cell looked at, from the beginning of the duct, m.
    pub distance_m: f64,
    /// Pa, at the angles of [`Traces`].
    pub pressure_pa: Vec<f64>,
}

/// Pressures and flows along the last turn, all at the same crank angles.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Traces {
    /// Crank angle after top dead centre, rad, from -π (bottom dead centre) to π.
    pub angle_rad: Vec<f64>,
    /// Pressure in the cylinder, Pa.
    pub cylinder_pa: Vec<f64>,
    /// Temperature in the cylinder, K.
    pub cylinder_k: Vec<f64>,
    /// Pressure in the crankcase, Pa.
    pub crankcase_pa: Vec<f64>,
    /// Pressure in the exhaust just behind the port, Pa.
    pub exhaust_port_pa: Vec<f64>,
    /// Mass flow out of the cylinder through the exhaust port, kg/s.
    pub exhaust_kg_s: Vec<f64>,
    /// Mass flow from the crankcase into the cylinder, kg/s.
    pub transfer_kg_s: Vec<f64>,
    /// Mass flow through the reed (or the inlet port) into the crankcase, kg/s.
    pub reed_kg_s: Vec<f64>,
    /// Lift of the reed's tips, m; zero throughout without a reed.
    pub reed_lift_m: Vec<f64>,
    /// Pressures at the chosen places.
    pub places: Vec<PlaceTrace>,
}

/// Mass flows of the last step in one lane, kg/s.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct FlowsNow {
    pub(crate) exhaust_kg_s: f64,
    pub(crate) transfer_kg_s: f64,
    pub(crate) reed_kg_s: f64,
}

/// A probe found in the ducts.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Found {
    tract: Tract,
    run: usize,
    cell: usize,
    distance_m: f64,
}

/// Takes the points down, every so many steps.
#[derive(Debug, Clone)]
pub(crate) struct Recorder {
    every: usize,
    found: Vec<Found>,
}

impl Recorder {
    pub(crate) fn new<const L: usize>(rig: &Rig<'_, L>, probes: &[Probe], steps: usize) -> Self {
        let every = (steps / POINTS).max(1);
        Self { every, found: probes.iter().filter_map(|probe| find(rig, probe)).collect() }
    }

    /// Empty traces with room for the places.
    pub(crate) fn blank(&self) -> Traces {
        let place = |found: &Found| PlaceTrace {
            tract: found.tract,
            distance_m: found.distance_m,
            pressure_pa: Vec::new(),
        };
        Traces { places: self.found.iter().map(place).collect(), ..Traces::default() }
    }

    /// Notes all lanes after step number `step` if its turn has come.
    pub(crate) fn note<const L: usize>(
        &self,
        rig: &Rig<'_, L>,
        step: usize,
        to_rad: f64,
        traces: &mut [Traces; L],
    ) {
        if !step.is_multiple_of(self.every) {
            return;
        }
        let gas = &rig.model.caloric;
        for (lane, traces) in traces.iter_mut().enumerate() {
            let flows = rig.flows[lane];
            traces.angle_rad.push(to_rad);
            traces.cylinder_pa.push(rig.cylinder.pressure_pa(gas, lane));
            traces.cylinder_k.push(rig.cylinder.temperature_k(lane));
            traces.crankcase_pa.push(rig.crankcase.pressure_pa(gas, lane));
            let port = rig.exhaust.first().map_or(0.0, |run| run.duct.end(End::Begin).pressure[lane]);
            traces.exhaust_port_pa.push(port);
            traces.exhaust_kg_s.push(flows.exhaust_kg_s);
            traces.transfer_kg_s.push(flows.transfer_kg_s);
            traces.reed_kg_s.push(flows.reed_kg_s);
            traces.reed_lift_m.push(rig.petals[lane].lift_m);
            for (found, place) in self.found.iter().zip(&mut traces.places) {
                let run = rig.tract(found.tract).get(found.run);
                let state = run.and_then(|run| run.duct.gas(found.cell, lane));
                place.pressure_pa.push(state.map_or(0.0, |state| state.pressure_pa));
            }
        }
    }
}

fn find<const L: usize>(rig: &Rig<'_, L>, probe: &Probe) -> Option<Found> {
    let runs = rig.tract(probe.tract);
    let distance_m = probe.distance_m.max(0.0);
    let run = runs.iter().rposition(|run| run.from_m <= distance_m)?;
    let (geometry, from_m) = (runs[run].duct.geometry(), runs[run].from_m);
    let cell = geometry.cell_at(distance_m - from_m);
    Some(Found { tract: probe.tract, run, cell, distance_m: from_m + geometry.middle_m(cell) })
}
