//! The gas in a vessel of one volume, well mixed: what it holds, what changing the volume does, what flows in and out.

use crate::duct::{Caloric, GasState, Row, pick};

/// Gas in a vessel in `L` lanes.
///
/// A step of the cycle is split evenly about what flows: half of the change of volume, all that flows and burns, the
/// other half. The change of volume is isentropic, exact for constant heat capacity and of second order in the step
/// otherwise; the work is the energy lost in it, so that energy closes to rounding whatever the step.
#[derive(Debug, Clone, PartialEq)]
pub struct Contents<const L: usize> {
    /// Volume, m³, the same in all lanes.
    pub(super) volume_m3: f64,
    pub(super) mass_kg: Row<L>,
    pub(super) energy_j: Row<L>,
    pub(super) species_kg: [Row<L>; 2],
    pub(super) temperature_k: Row<L>,
    /// What came in with the last exchange: kg/s, W, kg/s, kg/s.
    pub(super) rates: [Row<L>; 4],
}

/// What flows into a vessel in one lane, by time; below zero what flows out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Inflow {
    /// kg/s
    pub mass_kg_s: f64,
    /// W
    pub energy_w: f64,
    /// Second and third species, kg/s.
    pub species_kg_s: [f64; 2],
}

impl Inflow {
    /// Both together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            mass_kg_s: self.mass_kg_s + other.mass_kg_s,
            energy_w: self.energy_w + other.energy_w,
            species_kg_s: [
                self.species_kg_s[0] + other.species_kg_s[0],
                self.species_kg_s[1] + other.species_kg_s[1],
            ],
        }
    }

    /// The same the other way round.
    #[must_use]
    pub fn reversed(self) -> Self {
        Self {
            mass_kg_s: -self.mass_kg_s,
            energy_w: -self.energy_w,
            species_kg_s: [-self.species_kg_s[0], -self.species_kg_s[1]],
        }
    }
}

impl<const L: usize> Contents<L> {
    /// A vessel of this volume (m³) filled by lane; velocities are passed over.
    pub fn filled(gas: &Caloric, volume_m3: f64, fill: impl Fn(usize) -> GasState) -> Self {
        let mut contents = Self {
            volume_m3,
            mass_kg: [0.0; L],
            energy_j: [0.0; L],
            species_kg: [[0.0; L]; 2],
            temperature_k: [0.0; L],
            rates: [[0.0; L]; 4],
        };
        for lane in 0..L {
            contents.refill(gas, lane, &fill(lane));
        }
        contents
    }

    /// Some lanes of it.
    pub(crate) fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Contents<M> {
        let of = |row| pick(row, lanes);
        Contents {
            volume_m3: self.volume_m3,
            mass_kg: of(&self.mass_kg),
            energy_j: of(&self.energy_j),
            species_kg: [of(&self.species_kg[0]), of(&self.species_kg[1])],
            temperature_k: of(&self.temperature_k),
            rates: [of(&self.rates[0]), of(&self.rates[1]), of(&self.rates[2]), of(&self.rates[3])],
        }
    }

    /// Replaces the gas of one lane.
    pub fn refill(&mut self, gas: &Caloric, lane: usize, state: &GasState) {
        let GasState { pressure_pa, temperature_k, y, .. } = *state;
        let mass_kg = pressure_pa * self.volume_m3 / (gas.r(y) * temperature_k);
        self.mass_kg[lane] = mass_kg;
        self.energy_j[lane] = mass_kg * gas.internal_energy(temperature_k, y);
        self.species_kg = [0, 1].map(|s| {
            let mut row = self.species_kg[s];
            row[lane] = mass_kg * y[s];
            row
        });
        self.temperature_k[lane] = temperature_k;
        for rate in &mut self.rates {
            rate[lane] = 0.0;
        }
    }

    /// Volume, m³.
    pub fn volume_m3(&self) -> f64 {
        self.volume_m3
    }

    /// Mass in one lane, kg.
    pub fn mass_kg(&self, lane: usize) -> f64 {
        self.mass_kg[lane]
    }

    /// Internal energy in one lane, J.
    pub fn energy_j(&self, lane: usize) -> f64 {
        self.energy_j[lane]
    }

    /// Second and third species in one lane, kg.
    pub fn species_kg(&self, lane: usize) -> [f64; 2] {
        [self.species_kg[0][lane], self.species_kg[1][lane]]
    }

    /// Mass fractions of the second and third species in one lane.
    #[inline]
    pub fn y(&self, lane: usize) -> [f64; 2] {
        let inverse = 1.0 / self.mass_kg[lane];
        [self.species_kg[0][lane] * inverse, self.species_kg[1][lane] * inverse]
    }

    /// Temperature in one lane, K.
    pub fn temperature_k(&self, lane: usize) -> f64 {
        self.temperature_k[lane]
    }

    /// Pressure in one lane, Pa.
    pub fn pressure_pa(&self, gas: &Caloric, lane: usize) -> f64 {
        self.mass_kg[lane] * gas.r(self.y(lane)) * self.temperature_k[lane] / self.volume_m3
    }

    /// The gas of one lane.
    pub fn gas(&self, gas: &Caloric, lane: usize) -> GasState {
        GasState {
            pressure_pa: self.pressure_pa(gas, lane),
            temperature_k: self.temperature_k[lane],
            velocity_m_s: 0.0,
            y: self.y(lane),
        }
    }

    /// Lets gas in (or out) of one lane for a time in s.
    pub fn exchange(&mut self, lane: usize, inflow: &Inflow, time_s: f64) {
        let Inflow { mass_kg_s, energy_w, species_kg_s } = *inflow;
        self.mass_kg[lane] += time_s * mass_kg_s;
        self.energy_j[lane] += time_s * energy_w;
        self.species_kg[0][lane] += time_s * species_kg_s[0];
        self.species_kg[1][lane] += time_s * species_kg_s[1];
        for (rate, now) in self.rates.iter_mut().zip([mass_kg_s, energy_w, species_kg_s[0], species_kg_s[1]])
        {
            rate[lane] = now;
        }
    }

    /// Adds energy (J, below zero takes) and changes masses of the second and third species (kg) of one lane at the
    /// same whole mass: heat and burning.
    pub fn transform(&mut self, lane: usize, energy_j: f64, species_kg: [f64; 2]) {
        self.energy_j[lane] += energy_j;
        self.species_kg[0][lane] += species_kg[0];
        self.species_kg[1][lane] += species_kg[1];
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::{Air, Gas};

    const START: GasState =
        GasState { pressure_pa: 1e5, temperature_k: 350.0, velocity_m_s: 0.0, y: [0.0; 2] };

    #[test]
    fn exact_compression_of_a_perfect_gas_and_back() {
        let gas = Caloric::perfect(1.4, 287.0);
        let mut vessel = Contents::<2>::filled(&gas, 140e-6, |_| START);
        let before = vessel.clone();
        let mut work = 0.0;
        for i in 1..=200 {
            work += vessel.resize(&gas, 140e-6 * (1.0 - 0.875 * f64::from(i) / 200.0))[1];
        }
        let exact_pa = 1e5 * 8f64.powf(1.4);
        assert!((vessel.pressure_pa(&gas, 1) / exact_pa - 1.0).abs() < 1e-12);
        let exact_j = -1e5 * 140e-6 / 0.4 * (8f64.powf(0.4) - 1.0);
        assert!((work / exact_j - 1.0).abs() < 1e-12);
        for i in (0..200).rev() {
            vessel.resize(&gas, 140e-6 * (1.0 - 0.875 * f64::from(i) / 200.0));
        }
        assert!((vessel.energy_j(0) / before.energy_j(0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn converges_with_shorter_steps_in_a_real_gas() {
        let gas = Caloric::from(&Gas::petrol(Air::DRY, 1.1).unwrap());
        let ratio = |steps: u32| {
            let mut vessel = Contents::<1>::filled(&gas, 140e-6, |_| START);
            for i in 1..=steps {
                vessel.resize(&gas, 140e-6 * (1.0 - 0.875 * f64::from(i) / f64::from(steps)));
                vessel.settle(&gas);
            }
            vessel.pressure_pa(&gas, 0)
        };
        let (coarse, fine, finest) = (ratio(500), ratio(1000), ratio(8000));
        let (far, near) = ((coarse - finest).abs(), (fine - finest).abs());
        assert!(far > 3.5 * near, "second order or better: {coarse} {fine} {finest}");
        // A turn has some thousand steps.
        assert!((fine / finest - 1.0).abs() < 1e-6, "{}", fine / finest - 1.0);
    }

    #[test]
    fn conserves_what_flows_between_two_vessels() {
        let gas = Caloric::from(&Gas::petrol(Air::DRY, 1.1).unwrap());
        let mut one = Contents::<1>::filled(&gas, 140e-6, |_| START);
        let mut two = Contents::<1>::filled(&gas, 300e-6, |_| GasState { y: [0.06, 0.1], ..START });
        let whole = one.energy_j(0) + two.energy_j(0);
        let flow = Inflow { mass_kg_s: 0.01, energy_w: 3e3, species_kg_s: [1e-4, 2e-4] };
        one.exchange(0, &flow, 1e-3);
        two.exchange(0, &flow.reversed(), 1e-3);
        // One step of the search is enough for a step of a run, not for as much as this.
        one.settle(&gas);
        one.settle(&gas);
        assert!((one.energy_j(0) + two.energy_j(0) - whole).abs() < 1e-14 * whole.abs().max(100.0));
        let ahead = one.ahead(&gas, 0.0).lane(0);
        assert!((ahead.pressure_pa / one.pressure_pa(&gas, 0) - 1.0).abs() < 1e-12);
    }
}
