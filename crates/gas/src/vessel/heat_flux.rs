//! Heat flux from the gas of all lanes of a cylinder to its walls at once.

use super::change::shares;
use super::contents::Contents;
use super::wall_heat::{Charge, WallHeat, WoschniPhase, annand, radiated};
use crate::duct::{Caloric, Instructions, Lanes, Row, Vector, mix};
use crate::gas::{conductivity_of, viscosity_of};

/// What the flux needs to know besides the gas.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HeatWalls {
    pub(crate) bore_m: f64,
    pub(crate) piston_speed_m_s: f64,
    /// Temperature of the walls, K.
    pub(crate) wall_k: f64,
}

impl WallHeat {
    /// Flux from the gas of each lane to the walls, W/m², as [`WallHeat::flux_w_m2`]; Woschni's in the phase of compression.
    pub(crate) fn fluxes_w_m2<const L: usize>(
        &self,
        gas: &Caloric,
        held: &Contents<L>,
        walls: &HeatWalls,
    ) -> Row<L> {
        Instructions::best().compute(Fluxes { law: self, gas, held, walls })
    }
}

struct Fluxes<'a, const L: usize> {
    law: &'a WallHeat,
    gas: &'a Caloric,
    held: &'a Contents<L>,
    walls: &'a HeatWalls,
}

impl<const L: usize> Lanes<L> for Fluxes<'_, L> {
    type Found = Row<L>;

    #[inline(always)]
    fn compute<V: Vector>(self) -> Row<L> {
        let Self { law, gas, held, walls } = self;
        let HeatWalls { bore_m, piston_speed_m_s, wall_k } = *walls;
        let per_volume = V::of(1.0 / held.volume_m3);
        let mut fluxes = [0.0; L];
        let mut at = 0;
        while at < L {
            let (mass, t_k) = (V::load(&held.mass_kg, at), V::load(&held.temperature_k, at));
            let y = shares(held, at);
            let (viscosity, conductivity) = (viscosity_of(t_k, y[1]), conductivity_of(t_k, y[1]));
            let density = mass * per_volume;
            match law {
                WallHeat::Annand { a, radiation } => {
                    let reynolds = density * V::of(piston_speed_m_s * bore_m) / viscosity;
                    let convected = annand(*a, bore_m, conductivity, reynolds) * (t_k - V::of(wall_k));
                    (convected + radiated(*radiation, t_k, wall_k)).store(&mut fluxes, at);
                }
                WallHeat::Woschni => {
                    let pressure = density * mix(&gas.r, y) * t_k;
                    let rows = [pressure, t_k, density, viscosity, conductivity];
                    woschni(&mut fluxes, &rows, walls, at);
                }
            }
            at += V::WIDTH;
        }
        fluxes
    }
}

/// One lane after the other: powers that no vector has.
#[inline(always)]
fn woschni<V: Vector>(fluxes: &mut [f64], rows: &[V; 5], walls: &HeatWalls, at: usize) {
    let mut lanes = [[0.0; 8]; 5];
    for (lane, row) in lanes.iter_mut().zip(rows) {
        row.store(lane, 0);
    }
    for k in 0..V::WIDTH {
        let charge = Charge {
            pressure_pa: lanes[0][k],
            temperature_k: lanes[1][k],
            density_kg_m3: lanes[2][k],
            viscosity_pa_s: lanes[3][k],
            conductivity_w_m_k: lanes[4][k],
            bore_m: walls.bore_m,
            piston_speed_m_s: walls.piston_speed_m_s,
        };
        fluxes[at + k] = WallHeat::Woschni.flux_w_m2(&charge, WoschniPhase::Compression, walls.wall_k);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::duct::GasState;
    use crate::gas::{Air, Gas};

    #[test]
    fn agrees_with_one_lane() {
        let petrol = Gas::petrol(Air::DRY, 1.1).unwrap();
        let gas = Caloric::from(&petrol);
        let fill = |lane: usize| GasState {
            pressure_pa: 1e5 * (1.0 + 9.0 * lane as f64),
            temperature_k: 400.0 + 250.0 * lane as f64,
            velocity_m_s: 0.0,
            y: [0.01 * lane as f64, 0.1 * lane as f64],
        };
        let held = Contents::<8>::filled(&gas, 60e-6, fill);
        let walls = HeatWalls { bore_m: 0.054, piston_speed_m_s: 18.0, wall_k: 450.0 };
        for law in [WallHeat::Annand { a: 0.5, radiation: 0.075 }, WallHeat::Woschni] {
            let many = law.fluxes_w_m2(&gas, &held, &walls);
            for (lane, many) in many.into_iter().enumerate() {
                let state = fill(lane);
                let charge = Charge {
                    pressure_pa: state.pressure_pa,
                    temperature_k: state.temperature_k,
                    density_kg_m3: held.mass_kg(lane) / 60e-6,
                    viscosity_pa_s: petrol.viscosity(state.temperature_k, state.y),
                    conductivity_w_m_k: petrol.conductivity(state.temperature_k, state.y),
                    bore_m: 0.054,
                    piston_speed_m_s: 18.0,
                };
                let one = law.flux_w_m2(&charge, WoschniPhase::Compression, 450.0);
                assert!((many / one - 1.0).abs() < 1e-12, "{law:?} {lane}: {many} {one}");
            }
        }
    }
}
