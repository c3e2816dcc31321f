//! Carrying what a turn changed down the pipe at once.
//!
//! Gas takes some ten turns from the port to the tail and takes its entropy and its composition along: what one turn
//! changed near the port arrives at the tail ten turns later, moved on by the same mass each turn. So what is still to
//! come at a place is known beforehand: the change one turn's mass nearer to the port, and what is still to come there.
//! Adding it is a Newton step with the shift along the pipe as derivative. Pressures and velocities, which settle within a
//! few turns by themselves, are left alone. The steady cycle stays the same, as there no turn changes anything.
//!
//! Within one turn's mass the pipe's gas is striped (first burned gas leaves, then fresh): where the stripes lie
//! trembles from turn to turn, and summed up that would drown the rest. So changes are taken as means over one turn's mass.

use super::rig::Rig;
use super::settings::Tract;
use crate::duct::GasState;

/// (γ - 1)/γ of exhaust gas, by which its temperature follows the pressure.
const KAPPA: f64 = 0.25;
/// What a change keeps of itself in a turn, walls take the rest: as seen on the demo engine. How near it is decides how
/// many turns a run takes, not where it settles.
const KEPT: f64 = 0.95;
/// Neither the logarithm of a temperature nor a mass fraction is moved by more at once.
const MOST: f64 = 0.15;

/// What a parcel takes along: logarithm of its temperature brought to one pressure, second and third species.
type Taken = [f64; 3];

/// The pipe of one lane after the last turn, as it was left.
#[derive(Debug, Clone, Default)]
pub(crate) struct Carry {
    left: Vec<Taken>,
}

/// What is still to come in a pipe that goes on as it is, cell by cell.
#[derive(Debug, Clone, Default)]
pub(crate) struct Coming {
    now: Vec<Taken>,
    more: Vec<Taken>,
}

impl Coming {
    /// Root mean square of what is still to come: of relative temperature or of burned share, the greater.
    pub(crate) fn size(&self) -> f64 {
        let mean = |k: usize| {
            self.more.iter().map(|more| more[k] * more[k]).sum::<f64>() / self.more.len().max(1) as f64
        };
        mean(0).max(mean(2)).sqrt()
    }
}

impl Carry {
    /// Looks at a lane after a turn in which `moved_kg` left the tail.
    pub(crate) fn look<const L: usize>(&mut self, rig: &Rig<'_, L>, lane: usize, moved_kg: f64) -> Coming {
        let (masses_kg, now) = pipe(rig, lane);
        let before = std::mem::replace(&mut self.left, now.clone());
        if before.len() != now.len() || moved_kg.is_nan() || moved_kg <= 0.0 {
            return Coming { more: Vec::new(), now };
        }
        let change: Vec<Taken> = now
            .iter()
            .zip(&before)
            .map(|(now, before)| std::array::from_fn(|k| now[k] - before[k]))
            .collect();
        let change = Along::of(&masses_kg).means(&change, moved_kg);
        let more = still_to_come(&masses_kg, &change, moved_kg);
        Coming { more: more.into_iter().map(limited).collect(), now }
    }

    /// Adds what is still to come to the pipe's gas.
    pub(crate) fn put<const L: usize>(&mut self, rig: &mut Rig<'_, L>, lane: usize, coming: &Coming) {
        if coming.more.is_empty() {
            return;
        }
        let gas = &rig.model.caloric;
        let mut more = coming.more.iter();
        for run in &mut rig.exhaust {
            let cells = 0..run.duct.geometry().cells();
            let states: Vec<GasState> =
                cells.filter_map(|cell| Some(moved(&run.duct.gas(cell, lane)?, more.next()?))).collect();
            run.duct.refill_cells(gas, lane, &states);
        }
        for (left, (now, more)) in self.left.iter_mut().zip(coming.now.iter().zip(&coming.more)) {
            *left = std::array::from_fn(|k| now[k] + more[k]);
        }
    }
}

/// At most [`MOST`]; fuel and burned gas by the same share, so that what is fresh keeps its own share of fuel.
fn limited([hotter, fuel, burned]: Taken) -> Taken {
    let share = (MOST / burned.abs().max(f64::MIN_POSITIVE)).min(1.0);
    [hotter.clamp(-MOST, MOST), share * fuel, share * burned]
}

fn moved(state: &GasState, more: &Taken) -> GasState {
    let [hotter, fuel, burned] = *more;
    let room = if burned > 0.0 { 1.0 - state.y[1] } else { state.y[1] };
    let share = (room / burned.abs().max(f64::MIN_POSITIVE)).min(1.0);
    let burned = (state.y[1] + share * burned).clamp(0.0, 1.0);
    let fuel = (state.y[0] + share * fuel).clamp(0.0, 1.0 - burned);
    GasState { temperature_k: state.temperature_k * libm::exp(hotter), y: [fuel, burned], ..*state }
}

/// Mass of the pipe's cells in kg, and what their gas takes along.
fn pipe<const L: usize>(rig: &Rig<'_, L>, lane: usize) -> (Vec<f64>, Vec<Taken>) {
    let runs = rig.tract(Tract::Exhaust).iter();
    let cells = runs.flat_map(|run| {
        let geometry = run.duct.geometry();
        (0..geometry.cells()).filter_map(move |cell| {
            let GasState { pressure_pa, temperature_k, y, .. } = run.duct.gas(cell, lane)?;
            let mass_kg = run.duct.density_kg_m3(cell, lane)? * geometry.cell_m3(cell);
            Some((mass_kg, [libm::log(temperature_k) - KAPPA * libm::log(pressure_pa), y[0], y[1]]))
        })
    });
    cells.unzip()
}

/// Cells by the mass that lies before them.
struct Along {
    /// Where they meet, kg; one more than there are cells.
    edges_kg: Vec<f64>,
}

impl Along {
    fn of(masses_kg: &[f64]) -> Self {
        let mut edges_kg = vec![0.0];
        let mut sum_kg = 0.0;
        for mass_kg in masses_kg {
            sum_kg += mass_kg;
            edges_kg.push(sum_kg);
        }
        Self { edges_kg }
    }

    /// Means over a window of a mass, cut off at both ends.
    fn means(&self, of: &[Taken], window_kg: f64) -> Vec<Taken> {
        let mut sums: Vec<Taken> = vec![[0.0; 3]];
        let mut sum = [0.0; 3];
        for (pair, of) in self.edges_kg.windows(2).zip(of) {
            sum = std::array::from_fn(|k| sum[k] + (pair[1] - pair[0]) * of[k]);
            sums.push(sum);
        }
        let last = self.edges_kg.len() - 1;
        let sum_to = |at_kg: f64| -> Taken {
            let after = self.edges_kg.partition_point(|edge| *edge < at_kg).clamp(1, last);
            let (from, to) = (self.edges_kg[after - 1], self.edges_kg[after]);
            let share = ((at_kg - from) / (to - from)).clamp(0.0, 1.0);
            std::array::from_fn(|k| sums[after - 1][k] + share * (sums[after][k] - sums[after - 1][k]))
        };
        let mean = |pair: &[f64]| -> Taken {
            let middle = 0.5 * (pair[0] + pair[1]);
            let from = (middle - 0.5 * window_kg).max(0.0);
            let to = (middle + 0.5 * window_kg).min(self.edges_kg[last]);
            let (one, two) = (sum_to(from), sum_to(to));
            std::array::from_fn(|k| (two[k] - one[k]) / (to - from))
        };
        self.edges_kg.windows(2).map(mean).collect()
    }
}

/// The sum over all later turns, each of which moves the gas on by a mass and keeps [`KEPT`] of a change.
fn still_to_come(masses_kg: &[f64], change: &[Taken], moved_kg: f64) -> Vec<Taken> {
    let mut places_kg: Vec<f64> = Vec::with_capacity(masses_kg.len());
    // With the change itself.
    let mut whole: Vec<Taken> = Vec::with_capacity(masses_kg.len());
    let mut before_kg = 0.0;
    for (mass_kg, change) in masses_kg.iter().zip(change) {
        let place_kg = before_kg + 0.5 * mass_kg;
        before_kg += mass_kg;
        let source_kg = place_kg - moved_kg;
        let after = places_kg.partition_point(|place| *place < source_kg);
        let arrives: Taken = match (after.checked_sub(1), places_kg.get(after)) {
            // It came out of the cylinder.
            _ if source_kg <= 0.0 => [0.0; 3],
            // From the first half of the first cell.
            (None, _) => whole.first().map_or([0.0; 3], |first| first.map(|first| KEPT * first)),
            (Some(at), Some(next_kg)) => {
                let share = (source_kg - places_kg[at]) / (next_kg - places_kg[at]);
                std::array::from_fn(|k| KEPT * (whole[at][k] + share * (whole[after][k] - whole[at][k])))
            }
            // Between the last place and this one: what is sought stands on both sides.
            (Some(at), None) => {
                let share = (source_kg - places_kg[at]) / (place_kg - places_kg[at]);
                let rest = 1.0 - KEPT * share;
                std::array::from_fn(|k| KEPT * ((1.0 - share) * whole[at][k] + share * change[k]) / rest)
            }
        };
        places_kg.push(place_kg);
        whole.push(std::array::from_fn(|k| change[k] + arrives[k]));
    }
    whole.iter().zip(change).map(|(whole, change)| std::array::from_fn(|k| whole[k] - change[k])).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_sum_over_later_turns() {
        // One cell's mass a turn: each place gets what the places before it changed, a turn later each.
        let change = [[1.0, 0.0, 2.0], [0.0; 3], [0.5, 0.0, 0.0], [0.0; 3]];
        let more = still_to_come(&[1.0; 4], &change, 1.0);
        assert_eq!(more[0], [0.0; 3]);
        assert_eq!(more[1], [KEPT, 0.0, 2.0 * KEPT]);
        assert!((more[2][0] - KEPT * KEPT).abs() < 1e-15);
        assert!((more[3][0] - KEPT * (0.5 + KEPT * KEPT)).abs() < 1e-15);
    }

    #[test]
    fn exact_when_a_cell_holds_more_than_one_turn_moves() {
        // An even change of all the gas: what comes is the geometric sum, once far enough from the port.
        let more = still_to_come(&[1.0; 600], &[[1e-3, 0.0, 0.0]; 600], 0.25);
        assert!((more[599][0] / (1e-3 * KEPT / (1.0 - KEPT)) - 1.0).abs() < 1e-6, "{}", more[599][0]);
    }

    #[test]
    fn exact_means_over_a_window() {
        let along = Along::of(&[1.0, 1.0, 2.0]);
        let means = along.means(&[[1.0, 0.0, 0.0], [3.0, 0.0, 0.0], [5.0, 0.0, 0.0]], 2.0);
        // From 0 to 1.5, from 0.5 to 2.5, from 2 to 4.
        assert!((means[0][0] - 2.5 / 1.5).abs() < 1e-15);
        assert!((means[1][0] - (0.5 + 3.0 + 2.5) / 2.0).abs() < 1e-15);
        assert!((means[2][0] - 5.0).abs() < 1e-15);
    }
}
