//! What one operating point came to.

use super::ledger::{Balance, Ledger};
use super::model::Model;
use super::settings::Settings;
use super::settling::Change;
use super::trace::Traces;
use serde::{Deserialize, Serialize};
use std::f64::consts::{PI, TAU};

/// One operating point in its steady cycle. Pressures of work are mean effective pressures: work a turn over the swept
/// volume. Figures are of the whole engine where the unit is N m, W or kg, of one cylinder where it says so.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// Crank speed, rad/s.
    pub speed_rad_s: f64,
    /// Valve edge above its closed position, m.
    pub lift_m: f64,
    /// Brake torque, N m.
    pub torque_n_m: f64,
    /// Brake power, W.
    pub power_w: f64,
    /// Indicated: work of the gas in the cylinder on the piston, Pa.
    pub imep_pa: f64,
    /// Pumping: work of the piston on the gas in the crankcase, Pa.
    pub pmep_pa: f64,
    /// Friction of the moving parts, Pa.
    pub fmep_pa: f64,
    /// Brake: indicated less pumping less friction, Pa.
    pub bmep_pa: f64,
    /// Delivery ratio: mass of air delivered through reed or inlet a turn over that of the swept volume at ambient density.
    pub delivery_ratio: f64,
    /// Trapping efficiency: fresh charge that is in the cylinder when the exhaust closes over fresh charge delivered.
    pub trapping_efficiency: f64,
    /// Scavenging efficiency: fresh charge over all gas in the cylinder when the exhaust closes, by mass.
    pub scavenging_efficiency: f64,
    /// Charging efficiency: air in the cylinder when the exhaust closes over that of the swept volume at ambient density;
    /// the delivery ratio times the trapping efficiency.
    pub charging_efficiency: f64,
    /// Gas in one cylinder when the exhaust closes, kg.
    pub trapped_kg: f64,
    /// Share of burned gas in it, by mass: one less the scavenging efficiency.
    pub residual: f64,
    /// Volume above the piston when the exhaust closes over that at top dead centre; leakage past the blade closes late.
    pub trapped_ratio: f64,
    /// Greatest pressure in the cylinder, Pa.
    pub peak_pa: f64,
    /// Where that is, rad after top dead centre.
    pub peak_rad: f64,
    /// Fuel delivered over brake work, kg/J; none when the engine gives no work.
    pub bsfc_kg_j: Option<f64>,
    /// Mean temperature of the gas that leaves the exhaust port, weighted by what flows, K; that of the air when none
    /// does.
    pub exhaust_k: f64,
    /// Heat from the cylinder's gas to its walls over the heat freed.
    pub wall_heat_share: f64,
    /// Turns until the steady cycle.
    pub cycles: usize,
    /// What the last turn still changed.
    pub change: Change,
    /// What was left over in the balances of the last turn.
    pub balance: Balance,
    /// Where the point lies outside of what was checked, a sentence each.
    pub warnings: Vec<String>,
    /// The last turn.
    pub traces: Traces,
}

/// What of a lane goes into its point.
pub(crate) struct Outcome<'a, const L: usize> {
    pub(crate) lane: usize,
    pub(crate) ledger: &'a Ledger<L>,
    pub(crate) lift_m: f64,
    pub(crate) speed_rad_s: f64,
    pub(crate) cycles: usize,
    pub(crate) change: Change,
    pub(crate) balance: Balance,
    pub(crate) traces: Traces,
}

impl<const L: usize> Outcome<'_, L> {
    pub(crate) fn point(self, model: &Model, settings: &Settings) -> Point {
        let (l, sums, swept) = (self.lane, self.ledger, model.swept_m3());
        let imep_pa = sums.above_j[l] / swept;
        let pmep_pa = -sums.below_j[l] / swept;
        let fmep_pa = settings.friction.pressure_pa(model.slider.stroke_m(), self.speed_rad_s);
        let bmep_pa = imep_pa - pmep_pa - fmep_pa;
        let cylinders = f64::from(model.engine.cylinders);
        let torque_n_m = cylinders * bmep_pa * swept / TAU;
        let [trapped_kg, fuel_kg, burned_kg, trapped_m3] = sums.trapped.map(|row| row[l]);
        let fresh_kg = trapped_kg - burned_kg;
        let delivered_kg = delivered_kg(sums, l);
        let full_kg = model.air_density_kg_m3() * swept;
        let work_j = bmep_pa * swept;
        let mut point = Point {
            speed_rad_s: self.speed_rad_s,
            lift_m: self.lift_m,
            torque_n_m,
            power_w: torque_n_m * self.speed_rad_s,
            imep_pa,
            pmep_pa,
            fmep_pa,
            bmep_pa,
            delivery_ratio: (delivered_kg - sums.reed[1][l]) / full_kg,
            // A nanogram keeps the figure finite when nothing was delivered.
            trapping_efficiency: fresh_kg / delivered_kg.max(1e-12),
            scavenging_efficiency: fresh_kg / trapped_kg,
            charging_efficiency: (fresh_kg - fuel_kg) / full_kg,
            trapped_kg,
            residual: burned_kg / trapped_kg,
            trapped_ratio: trapped_m3 / model.chamber_m3,
            peak_pa: sums.peak_pa[l],
            peak_rad: sums.peak_rad[l],
            bsfc_kg_j: (work_j > 0.0).then(|| sums.reed[1][l] / work_j),
            exhaust_k: exhaust_k(model, sums, l),
            wall_heat_share: sums.to_walls_j[l] / sums.freed_j[l].max(f64::MIN_POSITIVE),
            cycles: self.cycles,
            change: self.change,
            balance: self.balance,
            warnings: Vec::new(),
            traces: self.traces,
        };
        point.warnings = warnings(&point, model);
        point
    }
}

/// Fresh charge through the reed, kg.
pub(crate) fn delivered_kg<const L: usize>(sums: &Ledger<L>, l: usize) -> f64 {
    sums.reed[0][l] - sums.reed[2][l]
}

/// Temperature of a gas with the energy and burned share of what left through the port.
fn exhaust_k<const L: usize>(model: &Model, sums: &Ledger<L>, l: usize) -> f64 {
    let [mass, energy, burned] = sums.port.map(|row| row[l]);
    if mass <= 0.0 {
        return model.air.temperature_k;
    }
    let share = burned / mass;
    let y = [model.fresh.y[0] * (1.0 - share), share];
    let gas = &model.caloric;
    let mut t_k = 900.0;
    for _ in 0..20 {
        let cp = gas.cv(t_k, y) + gas.r(y);
        t_k += (energy / mass - gas.enthalpy(t_k, y)) / cp;
    }
    t_k
}

/// What the figures of the model were made for. No running engine with a measured curve could be had, so these are the
/// ranges of the closures and of the checks of single parts, not of measured agreement.
fn warnings(point: &Point, model: &Model) -> Vec<String> {
    let mut said = Vec::new();
    let mut say = |when: bool, text: String| {
        if when {
            said.push(text);
        }
    };
    let rpm = point.speed_rad_s * 60.0 / TAU;
    let piston_m_s = model.slider.stroke_m() * point.speed_rad_s / PI;
    say(
        !(3.0..=25.0).contains(&piston_m_s),
        format!(
            "At {rpm:.0} rpm the mean piston speed is {piston_m_s:.1} m/s: friction, burning and wall heat are meant for 3 to 25 m/s."
        ),
    );
    say(
        point.residual > 0.5,
        format!(
            "{:.0} % of the trapped gas is burned gas: a real engine would misfire or four-stroke.",
            100.0 * point.residual
        ),
    );
    say(
        point.bmep_pa > 14e5 || (point.bmep_pa < 0.0 && point.imep_pa > 0.0),
        format!(
            "A brake mean effective pressure of {:.1} bar is beyond what such engines are known for.",
            point.bmep_pa * 1e-5
        ),
    );
    say(
        point.peak_pa > 120e5,
        format!("A peak pressure of {:.0} bar would knock; knock is not modelled.", point.peak_pa * 1e-5),
    );
    say(
        point.delivery_ratio < 0.2,
        format!(
            "A delivery ratio of {:.2} is that of a nearly shut throttle: burning is not known there.",
            point.delivery_ratio
        ),
    );
    said
}
