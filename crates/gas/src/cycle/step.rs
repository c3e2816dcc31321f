//! One step of the whole engine: ducts inside, then all that flows between them, vessels and the outer air.
//!
//! What leaves a duct enters the vessel and the other way round, over the same time. Vessels stand half a step ahead
//! when what flows is worked out.

use super::fire::Fire;
use super::ledger::Ledger;
use super::rig::{Rig, Run};
use super::timetable::{TRANSFER_PARTS, Tick};
use crate::duct::{Caloric, End, EndFlux, EndState, Instructions, Row};
use crate::end::{self, Opening, Openings, Recovery, Reservoir, Reservoirs};
use crate::port::{Discharge, FlowDirection};
use crate::vessel::{Contents, HeatWalls, Inflow, mass_flow_kg_s};
use std::f64::consts::PI;

/// Walls are renewed every so many steps.
const RENEWAL: u32 = 8;
/// Below this area, m², the exhaust counts as shut.
const SHUT_M2: f64 = 1e-9;
/// Below this relative pressure difference the flow between two vessels goes straight with it: so short a step cannot
/// follow it otherwise, and it moves nothing that matters.
const GENTLE: f64 = 2e-3;
/// Opening of the airbox over that of the mouth.
const AIRBOX_SHARE: f64 = 2.0;

/// Cylinder and crankcase in the middle of a step.
struct Ahead<const L: usize> {
    above: Reservoirs<L>,
    below: Reservoirs<L>,
}

/// What flows into each vessel in a step, by lane.
struct Flowing<const L: usize> {
    cylinder: [Inflow; L],
    crankcase: [Inflow; L],
    airbox: [Inflow; L],
}

impl<const L: usize> Rig<'_, L> {
    /// Takes one step; gives the greatest share of a cell that a wave crosses in it, not a number when the state of a
    /// lane is broken.
    pub(crate) fn step(&mut self, tick: &Tick<L>, ledger: &mut Ledger<L>) -> f64 {
        let renew = self.settings.duct_walls && self.since_renewal == 0;
        self.since_renewal = (self.since_renewal + 1) % RENEWAL;
        let crossed = self.advance_ducts(tick.step_s, renew, ledger);
        self.resize(tick.middle.cylinder_m3, tick.middle.crankcase_m3, ledger);
        let mut flowing = Flowing {
            cylinder: [Inflow::default(); L],
            crankcase: [Inflow::default(); L],
            airbox: [Inflow::default(); L],
        };
        let ahead = self.ahead(0.5 * tick.step_s);
        self.exhaust_port(tick, &ahead, &mut flowing, ledger);
        self.tail(tick.step_s, ledger);
        self.steps_of_area(tick.step_s);
        let crossed = greater(crossed, self.transfers(tick, &ahead, renew, &mut flowing, ledger));
        self.inlet(tick, &ahead, &mut flowing, ledger);
        self.mouth(tick.step_s, &mut flowing, ledger);
        for l in 0..L {
            self.cylinder.exchange(l, &flowing.cylinder[l], tick.step_s);
            self.crankcase.exchange(l, &flowing.crankcase[l], tick.step_s);
            if let Some(airbox) = &mut self.airbox {
                airbox.exchange(l, &flowing.airbox[l], tick.step_s);
            }
        }
        self.burn(tick, ledger);
        for vessel in [&mut self.cylinder, &mut self.crankcase].into_iter().chain(&mut self.airbox) {
            vessel.settle(&self.model.caloric);
        }
        self.resize(tick.end.cylinder_m3, tick.end.crankcase_m3, ledger);
        self.watch(tick, ledger);
        crossed
    }

    /// All but the transfers.
    fn advance_ducts(&mut self, step_s: f64, renew: bool, ledger: &mut Ledger<L>) -> f64 {
        let (gas, set) = (&self.model.caloric, self.set);
        let mut crossed = 0.0f64;
        for run in self.exhaust.iter_mut().chain(&mut self.intake) {
            crossed = greater(crossed, run.advance(gas, step_s, renew, set, ledger));
        }
        crossed
    }

    fn resize(&mut self, cylinder_m3: f64, crankcase_m3: f64, ledger: &mut Ledger<L>) {
        let gas = &self.model.caloric;
        add(&mut ledger.above_j, &self.cylinder.resize(gas, cylinder_m3));
        add(&mut ledger.below_j, &self.crankcase.resize(gas, crankcase_m3));
    }

    fn ahead(&self, time_s: f64) -> Ahead<L> {
        let gas = &self.model.caloric;
        Ahead { above: self.cylinder.ahead(gas, time_s), below: self.crankcase.ahead(gas, time_s) }
    }

    fn exhaust_port(
        &mut self,
        tick: &Tick<L>,
        ahead: &Ahead<L>,
        flowing: &mut Flowing<L>,
        ledger: &mut Ledger<L>,
    ) {
        let Some(run) = self.exhaust.first_mut() else { return };
        let (state, area_m2) = (run.duct.end(End::Begin), run.duct.end_area_m2(End::Begin));
        let gas = &self.model.caloric;
        let mut outside = ahead.above;
        for l in (0..L).filter(|l| tick.exhaust_m2[*l] > SHUT_M2) {
            outside.put(l, &self.zones.leaving(gas, l, &self.scavenging, &ahead.above.lane(l)));
        }
        let per_area = 1.0 / area_m2;
        let openings = Openings {
            share_in: tick.exhaust_out_m2.map(|open_m2| open_m2 * per_area),
            share_out: tick.exhaust_back_m2.map(|open_m2| open_m2 * per_area),
            recovery: Recovery::Nothing,
        };
        let flux = self.set.through(state, &outside, &openings);
        for l in 0..L {
            let into = inflow(&flux, l, -area_m2);
            self.flows[l].exhaust_kg_s = -into.mass_kg_s;
            if into.mass_kg_s > 0.0 {
                let back_kg = tick.step_s * (into.mass_kg_s - into.species_kg_s[1]);
                let there_kg = fresh_kg(&self.cylinder, l);
                self.zones.admit(l, there_kg, back_kg, temperature_k(gas, state, l), outside.pressure_pa[l]);
            }
            flowing.cylinder[l] = flowing.cylinder[l].plus(into);
            if flux.mass[l] > 0.0 {
                let scale = area_m2 * tick.step_s;
                ledger.port[0][l] += scale * flux.mass[l];
                ledger.port[1][l] += scale * flux.energy[l];
                ledger.port[2][l] += scale * flux.species[1][l];
            }
        }
        run.duct.close(End::Begin, &flux, tick.step_s);
    }

    fn tail(&mut self, step_s: f64, ledger: &mut Ledger<L>) {
        let outside = Reservoirs::same(&reservoir(&self.model.caloric, &self.model.air));
        let Some(run) = self.exhaust.last_mut() else { return };
        let flux = self.set.through(run.duct.end(End::Far), &outside, &Openings::same(&Opening::SHARP_PIPE));
        run.duct.close(End::Far, &flux, step_s);
        let area_m2 = run.duct.end_area_m2(End::Far);
        for l in 0..L {
            book(&inflow(&flux, l, area_m2), l, step_s, &mut ledger.tail);
            moved(&inflow(&flux, l, area_m2), l, step_s, ledger);
        }
    }

    /// Ducts of one tract that meet: with a step of area, or at a throttle that is not wide open.
    fn steps_of_area(&mut self, step_s: f64) {
        for (tract, throttled) in [(&mut self.exhaust, None), (&mut self.intake, self.throttled)] {
            for at in 1..tract.len() {
                let (before, after) = tract.split_at_mut(at);
                let (Some(before), Some(after)) = (before.last_mut(), after.first_mut()) else { continue };
                let (one, two) = (&mut before.duct, &mut after.duct);
                let (state, next) = (one.end(End::Far), two.end(End::Begin));
                let fluxes = match throttled {
                    Some(share) => end::plate(state, next, share),
                    None => {
                        let areas = [one.end_area_m2(End::Far), two.end_area_m2(End::Begin)];
                        let mut fluxes = [EndFlux::NONE; 2];
                        end::junction(&[(state, areas[0]), (next, areas[1])], &mut fluxes);
                        fluxes
                    }
                };
                one.close(End::Far, &fluxes[0], step_s);
                two.close(End::Begin, &fluxes[1], step_s);
            }
        }
    }

    /// The transfer ducts and both of their ends, in shorter steps.
    fn transfers(
        &mut self,
        tick: &Tick<L>,
        ahead: &Ahead<L>,
        renew: bool,
        flowing: &mut Flowing<L>,
        ledger: &mut Ledger<L>,
    ) -> f64 {
        let (gas, set) = (&self.model.caloric, self.set);
        let Some(run) = self.transfer.first_mut() else { return 0.0 };
        let areas = [run.duct.end_area_m2(End::Begin), run.duct.end_area_m2(End::Far)];
        let openings = Openings {
            share_in: [tick.transfer_out_m2 / areas[1]; L],
            share_out: [tick.transfer_in_m2 / areas[1]; L],
            recovery: Recovery::Nothing,
        };
        let share = 1.0 / f64::from(TRANSFER_PARTS);
        let step_s = share * tick.step_s;
        let mut crossed = 0.0f64;
        let (mut to_crankcase, mut to_cylinder) = ([Inflow::default(); L], [Inflow::default(); L]);
        for part in 0..TRANSFER_PARTS {
            crossed = greater(crossed, run.advance(gas, step_s, renew && part == 0, set, ledger));
            let (foot, port) = (run.duct.end(End::Begin), run.duct.end(End::Far));
            let at_foot = set.through(foot, &ahead.below, &Openings::same(&Opening::BELL_MOUTH));
            let at_port = set.through(port, &ahead.above, &openings);
            for l in 0..L {
                to_crankcase[l] = to_crankcase[l].plus(inflow(&at_foot, l, -areas[0] * share));
                let into = inflow(&at_port, l, -areas[1] * share);
                if into.mass_kg_s > 0.0 {
                    let more_kg = tick.step_s * (into.mass_kg_s - into.species_kg_s[1]);
                    let there_kg = fresh_kg(&self.cylinder, l) + tick.step_s * fresh(&to_cylinder[l]);
                    let t_k = temperature_k(gas, port, l);
                    self.zones.admit(l, there_kg, more_kg, t_k, ahead.above.pressure_pa[l]);
                }
                to_cylinder[l] = to_cylinder[l].plus(into);
            }
            run.duct.close(End::Begin, &at_foot, step_s);
            run.duct.close(End::Far, &at_port, step_s);
        }
        for l in 0..L {
            self.flows[l].transfer_kg_s = to_cylinder[l].mass_kg_s;
            flowing.crankcase[l] = flowing.crankcase[l].plus(to_crankcase[l]);
            flowing.cylinder[l] = flowing.cylinder[l].plus(to_cylinder[l]);
        }
        crossed
    }

    fn inlet(&mut self, tick: &Tick<L>, ahead: &Ahead<L>, flowing: &mut Flowing<L>, ledger: &mut Ledger<L>) {
        let Some(run) = self.intake.last_mut() else { return };
        let (state, area_m2) = (run.duct.end(End::Far), run.duct.end_area_m2(End::Far));
        let mut openings = Openings { share_in: [0.0; L], share_out: [0.0; L], recovery: Recovery::Nothing };
        for l in 0..L {
            let (open_m2, most_m2) = match &self.reed {
                Some(reed) => {
                    let difference_pa = state.pressure[l] - ahead.below.pressure_pa[l];
                    self.petals[l] = reed.advance(self.petals[l], difference_pa, tick.step_s);
                    (reed.area_m2(self.petals[l].lift_m), reed.area_m2(reed.stop_m))
                }
                None => (tick.inlet_m2, self.inlet_most_m2),
            };
            let share = |direction| {
                open_m2 * Discharge::INLET_ESTIMATE.coefficient(open_m2 / most_m2, direction) / area_m2
            };
            openings.share_in[l] = share(FlowDirection::Out);
            openings.share_out[l] = share(FlowDirection::Back);
        }
        let flux = self.set.through(state, &ahead.below, &openings);
        for l in 0..L {
            let into = inflow(&flux, l, -area_m2);
            self.flows[l].reed_kg_s = into.mass_kg_s;
            flowing.crankcase[l] = flowing.crankcase[l].plus(into);
            ledger.reed[0][l] += tick.step_s * into.mass_kg_s;
            ledger.reed[1][l] += tick.step_s * into.species_kg_s[0];
            ledger.reed[2][l] += tick.step_s * into.species_kg_s[1];
        }
        run.duct.close(End::Far, &flux, tick.step_s);
    }

    fn mouth(&mut self, step_s: f64, flowing: &mut Flowing<L>, ledger: &mut Ledger<L>) {
        let gas = &self.model.caloric;
        let day = reservoir(gas, &self.model.fresh);
        let Some(run) = self.intake.first_mut() else { return };
        let (state, area_m2) = (run.duct.end(End::Begin), run.duct.end_area_m2(End::Begin));
        let outside = match &self.airbox {
            Some(airbox) => airbox.ahead(gas, 0.5 * step_s),
            None => Reservoirs::same(&day),
        };
        let flux = self.set.through(state, &outside, &Openings::same(&Opening::BELL_MOUTH));
        for l in 0..L {
            let out = inflow(&flux, l, area_m2);
            let fed = if self.airbox.is_some() {
                let open_m2 = AIRBOX_SHARE * area_m2;
                let fed = between(&day, &outside.lane(l), open_m2, open_m2);
                flowing.airbox[l] = fed.plus(out.reversed());
                fed
            } else {
                out
            };
            book(&fed, l, step_s, &mut ledger.mouth);
            moved(&fed, l, step_s, ledger);
        }
        run.duct.close(End::Begin, &flux, step_s);
    }

    fn burn(&mut self, tick: &Tick<L>, ledger: &mut Ledger<L>) {
        for (l, heat_w) in self.wall_heat_w().into_iter().enumerate() {
            if let Some(fire) = &self.fires[l]
                && let Some(burned) = fire.between(self.model, &self.cylinder, l, tick.from_rad, tick.to_rad)
            {
                self.cylinder.transform(l, burned.heat_j, burned.species_kg);
                ledger.freed_j[l] += burned.heat_j;
                ledger.burned_kg[l] += burned.fuel_kg;
            }
            let heat_j = tick.step_s * heat_w;
            self.cylinder.transform(l, -heat_j, [0.0; 2]);
            ledger.to_walls_j[l] += heat_j;
        }
    }

    /// Heat from the cylinder's gas to head, crown and liner, W.
    fn wall_heat_w(&self) -> Row<L> {
        let Some(law) = &self.settings.wall_heat else { return [0.0; L] };
        let (model, cylinder) = (self.model, &self.cylinder);
        let bore_m = model.engine.crank.bore.value;
        let piston_speed_m_s = model.slider.mean_speed_m_s(self.speed_rad_s);
        let walls = HeatWalls { bore_m, piston_speed_m_s, wall_k: self.settings.cylinder_wall_k };
        let height_m = (cylinder.volume_m3() - model.chamber_m3).max(0.0) / model.bore_area_m2;
        let area_m2 = 2.0 * model.bore_area_m2 + PI * bore_m * height_m;
        law.fluxes_w_m2(&model.caloric, cylinder, &walls).map(|flux_w_m2| area_m2 * flux_w_m2)
    }

    /// Peak pressure, and the moment at which the exhaust closes.
    fn watch(&mut self, tick: &Tick<L>, ledger: &mut Ledger<L>) {
        let gas = &self.model.caloric;
        for l in 0..L {
            let pressure_pa = self.cylinder.pressure_pa(gas, l);
            if pressure_pa > ledger.peak_pa[l] {
                ledger.peak_pa[l] = pressure_pa;
                ledger.peak_rad[l] = tick.to_rad;
            }
            let open = tick.open[l];
            if open && !self.was_open[l] {
                self.zones.merge(l, self.cylinder.temperature_k(l), pressure_pa);
            }
            if self.was_open[l] && !open {
                let [fuel, burned] = self.cylinder.species_kg(l);
                let trapped = [self.cylinder.mass_kg(l), fuel, burned, self.cylinder.volume_m3()];
                for (row, value) in ledger.trapped.iter_mut().zip(trapped) {
                    row[l] = value;
                }
                self.fires[l] = self
                    .settings
                    .fired
                    .then(|| Fire::laid(self.model, self.settings, &self.cylinder, l, self.speed_rad_s));
            }
            self.was_open[l] = open;
        }
    }
}

impl<const L: usize> Run<L> {
    /// Advances the duct but for its ends; gives the share of a cell that a wave crosses.
    fn advance(
        &mut self,
        gas: &Caloric,
        step_s: f64,
        renew: bool,
        set: Instructions,
        ledger: &mut Ledger<L>,
    ) -> f64 {
        let crossed = self.duct.prepare(gas, set) * step_s;
        if renew {
            self.walls.renew(&mut self.duct, set);
        }
        self.duct.advance(gas, step_s, set);
        for (sum, watts) in ledger.from_ducts_j.iter_mut().zip(self.duct.heat_from_wall_w()) {
            *sum += step_s * watts;
        }
        crossed
    }
}

/// The greater of both; not a number wins.
fn greater(one: f64, other: f64) -> f64 {
    if other > one || other.is_nan() { other } else { one }
}

pub(crate) fn reservoir(gas: &Caloric, state: &crate::duct::GasState) -> Reservoir {
    let (t, y) = (state.temperature_k, state.y);
    Reservoir {
        pressure_pa: state.pressure_pa,
        temperature_k: t,
        r_j_kg_k: gas.r(y),
        gamma: gas.gamma(t, y),
        enthalpy_j_kg: gas.enthalpy(t, y),
        y,
    }
}

/// Temperature of the gas at a duct's end, K.
fn temperature_k<const L: usize>(gas: &Caloric, end: &EndState<L>, l: usize) -> f64 {
    end.pressure[l] / (end.density[l] * gas.r([end.y[0][l], end.y[1][l]]))
}

/// Fresh gas in a vessel, kg.
fn fresh_kg<const L: usize>(vessel: &Contents<L>, l: usize) -> f64 {
    vessel.mass_kg(l) - vessel.species_kg(l)[1]
}

/// Fresh gas in what flows, kg/s.
fn fresh(flow: &Inflow) -> f64 {
    flow.mass_kg_s - flow.species_kg_s[1]
}

/// From one vessel to another through effective areas (m²) that differ by direction; positive into the second.
fn between(from: &Reservoir, to: &Reservoir, forth_m2: f64, back_m2: f64) -> Inflow {
    if to.pressure_pa > from.pressure_pa {
        return between(to, from, back_m2, forth_m2).reversed();
    }
    let ratio = to.pressure_pa / from.pressure_pa;
    let Reservoir { pressure_pa, temperature_k, r_j_kg_k, gamma, enthalpy_j_kg, y } = *from;
    let gentle = ((1.0 - ratio) / GENTLE).min(1.0);
    let to_pa = pressure_pa * ratio.min(1.0 - GENTLE);
    let mass_kg_s = gentle * mass_flow_kg_s(forth_m2, pressure_pa, temperature_k, r_j_kg_k, gamma, to_pa);
    Inflow {
        mass_kg_s,
        energy_w: mass_kg_s * enthalpy_j_kg,
        species_kg_s: [mass_kg_s * y[0], mass_kg_s * y[1]],
    }
}

fn inflow<const L: usize>(flux: &EndFlux<L>, l: usize, area_m2: f64) -> Inflow {
    Inflow {
        mass_kg_s: area_m2 * flux.mass[l],
        energy_w: area_m2 * flux.energy[l],
        species_kg_s: [area_m2 * flux.species[0][l], area_m2 * flux.species[1][l]],
    }
}

fn add<const L: usize>(sum: &mut Row<L>, more: &Row<L>) {
    for (sum, more) in sum.iter_mut().zip(more) {
        *sum += more;
    }
}

fn book<const L: usize>(flow: &Inflow, l: usize, step_s: f64, rows: &mut [Row<L>; 4]) {
    let parts = [flow.mass_kg_s, flow.energy_w, flow.species_kg_s[0], flow.species_kg_s[1]];
    for (row, part) in rows.iter_mut().zip(parts) {
        row[l] += step_s * part;
    }
}

fn moved<const L: usize>(flow: &Inflow, l: usize, step_s: f64, ledger: &mut Ledger<L>) {
    ledger.moved_kg[l] += step_s * flow.mass_kg_s.abs();
    ledger.moved_j[l] += step_s * flow.energy_w.abs();
}
