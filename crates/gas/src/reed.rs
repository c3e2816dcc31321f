//! Reed valves: petals as springs with mass and a stop, or following the pressure at once.

use engine::model::ReedBlock;
use std::f64::consts::PI;

/// First root of cos x cosh x = -1: the first mode of a cantilever.
const FIRST_MODE: f64 = 1.875_104_068_711_961;
/// Mean lift along a petal over its tip lift under even pressure: the cantilever's shape, exactly.
const MEAN_LIFT: f64 = 0.4;
/// Least number of steps in a period of the petal.
const STEPS_A_PERIOD: f64 = 24.0;

/// Material and shape of one petal: a cantilever of even width and thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Petal {
    /// Free length from the clamp to the tip, m.
    pub length_m: f64,
    /// Width, m.
    pub width_m: f64,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Modulus of elasticity, Pa.
    pub modulus_pa: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
}

impl Petal {
    /// Natural frequency of the first mode, Hz: β²/(2π L²) sqrt(E I/(ρ A)), an even cantilever (any textbook of
    /// vibrations, exact for Euler and Bernoulli's beam).
    pub fn frequency_hz(&self) -> f64 {
        self.frequency_of_mode_hz(FIRST_MODE)
    }

    /// Natural frequency, Hz, of the mode with this root of cos x cosh x = -1.
    pub fn frequency_of_mode_hz(&self, root: f64) -> f64 {
        let gyration_m = self.thickness_m / 12f64.sqrt();
        let speed = (self.modulus_pa / self.density_kg_m3).sqrt() * gyration_m;
        root * root / (2.0 * PI * self.length_m * self.length_m) * speed
    }

    /// Tip lift for each pascal of even pressure, m/Pa: L⁴/(8 E I/b).
    pub fn tip_lift_m_per_pa(&self) -> f64 {
        let second_moment_m3 = self.thickness_m.powi(3) / 12.0;
        self.length_m.powi(4) / (8.0 * self.modulus_pa * second_moment_m3)
    }

    /// Slope of the tip for each pascal of even pressure, rad/Pa.
    pub fn tip_slope_rad_per_pa(&self) -> f64 {
        self.tip_lift_m_per_pa() * 4.0 / (3.0 * self.length_m)
    }

    /// Mass at the tip that swings with the first frequency on the spring of the tip lift, kg.
    pub fn mass_at_tip_kg(&self) -> f64 {
        let stiffness_n_m = self.length_m * self.width_m / self.tip_lift_m_per_pa();
        stiffness_n_m / (2.0 * PI * self.frequency_hz()).powi(2)
    }
}

/// How the petals follow the pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReedMotion {
    /// One swinging mass with the petal's first frequency and static lift, against seat and stop. The reduction to one
    /// degree of freedom follows the practice of Hinds, E. T. and Blair, G. P.: Unsteady gas flow through reed valve
    /// induction systems, SAE paper 780766, 1978 (title known, not read); equations of the cantilever worked out here.
    Swinging {
        /// Damping over critical damping.
        damping: f64,
        /// Speed after over speed before touching seat or stop, 0 to 1.
        bounce: f64,
    },
    /// The lift that the pressure holds, at once.
    QuasiSteady,
}

/// A reed block of like petals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reed {
    /// One petal.
    pub petal: Petal,
    /// Number of petals.
    pub petals: u32,
    /// Greatest tip lift, at the stop, m.
    pub stop_m: f64,
    /// Pressure difference at which a petal just leaves its seat, Pa (a petal bent against its seat), zero or above.
    pub preload_pa: f64,
    /// Open area of the block's windows, all petals, m².
    pub window_m2: f64,
    /// How the petals follow.
    pub motion: ReedMotion,
}

/// Where a petal is.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ReedState {
    /// Tip lift, m, from 0 at the seat to the stop.
    pub lift_m: f64,
    /// Tip speed, m/s, opening positive.
    pub speed_m_s: f64,
}

impl ReedMotion {
    /// Stated estimate (no source): a tenth of critical damping, a fifth of the speed left after touching.
    pub const ESTIMATE: Self = Self::Swinging { damping: 0.1, bounce: 0.2 };
}

impl Reed {
    /// The block of an engine file; its petals lie on their seats without preload.
    pub fn of(block: &ReedBlock, motion: ReedMotion) -> Self {
        Self {
            petal: Petal {
                length_m: block.petal_length.value,
                width_m: block.petal_width.value,
                thickness_m: block.petal_thickness.value,
                modulus_pa: block.material.modulus_pa(),
                density_kg_m3: block.material.density_kg_m3(),
            },
            petals: block.petals,
            stop_m: block.stop_lift.value,
            preload_pa: 0.0,
            window_m2: block.window_area.value,
            motion,
        }
    }

    /// The state after a time (s) with a pressure difference (Pa) that opens when above zero and is held meanwhile.
    pub fn advance(&self, state: ReedState, difference_pa: f64, time_s: f64) -> ReedState {
        let held_m = self.petal.tip_lift_m_per_pa() * (difference_pa - self.preload_pa);
        match self.motion {
            ReedMotion::QuasiSteady => ReedState { lift_m: held_m.clamp(0.0, self.stop_m), speed_m_s: 0.0 },
            ReedMotion::Swinging { damping, bounce } => self.swing(state, held_m, damping, bounce, time_s),
        }
    }

    /// Steps of the exact motion of a damped spring about `held_m`, short enough to catch seat and stop.
    fn swing(&self, state: ReedState, held_m: f64, damping: f64, bounce: f64, time_s: f64) -> ReedState {
        let free = 2.0 * PI * self.petal.frequency_hz();
        let steps = (time_s * free / (2.0 * PI) * STEPS_A_PERIOD).ceil().clamp(1.0, 1e6);
        let damping = damping.clamp(0.0, 0.99);
        let (decay, swing) = (damping * free, free * (1.0 - damping * damping).sqrt());
        let step_s = time_s / steps;
        let (shrink, sin, cos) =
            (libm::exp(-decay * step_s), libm::sin(swing * step_s), libm::cos(swing * step_s));
        let mut next = state;
        for _ in 0..steps as u64 {
            let (x, v) = (next.lift_m - held_m, next.speed_m_s);
            let drive = (v + decay * x) / swing;
            let lift_m = held_m + shrink * (x * cos + drive * sin);
            let speed_m_s = shrink * (v * cos - (decay * drive + swing * x) * sin);
            next = self.bounded(ReedState { lift_m, speed_m_s }, bounce);
        }
        next
    }

    fn bounded(&self, state: ReedState, bounce: f64) -> ReedState {
        if state.lift_m < 0.0 {
            ReedState { lift_m: 0.0, speed_m_s: -bounce * state.speed_m_s.min(0.0) }
        } else if state.lift_m > self.stop_m {
            ReedState { lift_m: self.stop_m, speed_m_s: -bounce * state.speed_m_s.max(0.0) }
        } else {
            state
        }
    }

    /// Geometric flow area, m²: the gap at tip and both sides of every petal, in series with the windows.
    pub fn area_m2(&self, lift_m: f64) -> f64 {
        let sides_m2 = 2.0 * MEAN_LIFT * lift_m * self.petal.length_m;
        let gap_m2 = f64::from(self.petals) * (lift_m * self.petal.width_m + sides_m2);
        gap_m2 * self.window_m2 / (gap_m2 * gap_m2 + self.window_m2 * self.window_m2).sqrt()
    }

    /// Volume that the petals displace between seat and this lift, m³: flow that does not pass the gap.
    pub fn swept_m3(&self, lift_m: f64) -> f64 {
        f64::from(self.petals) * MEAN_LIFT * lift_m * self.petal.length_m * self.petal.width_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reed(damping: f64, bounce: f64) -> Reed {
        let petal = Petal {
            length_m: 0.038,
            width_m: 0.0227,
            thickness_m: 0.4e-3,
            modulus_pa: 21.5e9,
            density_kg_m3: 1850.0,
        };
        Reed {
            petal,
            petals: 6,
            stop_m: 0.009,
            preload_pa: 0.0,
            window_m2: 900e-6,
            motion: ReedMotion::Swinging { damping, bounce },
        }
    }

    #[test]
    fn exact_a_free_petal_swings_with_its_frequency_about_the_held_lift() {
        let reed = Reed { stop_m: 1.0, ..reed(0.0, 0.0) };
        let (held_m, period_s) = (1000.0 * reed.petal.tip_lift_m_per_pa(), 1.0 / reed.petal.frequency_hz());
        let half = reed.advance(ReedState::default(), 1000.0, period_s / 2.0);
        assert!((half.lift_m / (2.0 * held_m) - 1.0).abs() < 1e-9);
        let whole = reed.advance(ReedState::default(), 1000.0, period_s * 0.999_999);
        assert!(whole.lift_m.abs() < 1e-9 * held_m.max(1.0));
    }

    #[test]
    fn exact_damped_petal_settles_where_the_quasi_steady_one_is() {
        let reed = reed(0.3, 0.2);
        let settled = reed.advance(ReedState::default(), 2500.0, 0.1);
        let quasi = Reed { motion: ReedMotion::QuasiSteady, ..reed };
        let at_once = quasi.advance(ReedState::default(), 2500.0, 1e-6);
        assert!((settled.lift_m - at_once.lift_m).abs() < 1e-9);
        assert_eq!(quasi.advance(settled, -1000.0, 1e-6).lift_m, 0.0);
        assert_eq!(quasi.advance(settled, 1e5, 1e-6).lift_m, 0.009);
    }

    #[test]
    fn conserves_energy_without_damping_and_never_gains_by_touching() {
        let reed = reed(0.0, 0.5);
        let energy = |state: ReedState| {
            let free = 2.0 * PI * reed.petal.frequency_hz();
            state.speed_m_s.powi(2) + (free * state.lift_m).powi(2)
        };
        let mut state = ReedState { lift_m: 0.004, speed_m_s: 0.0 };
        let mut before = energy(state);
        for _ in 0..500 {
            state = reed.advance(state, 0.0, 1e-4);
            assert!((0.0..=0.009).contains(&state.lift_m));
            assert!(energy(state) <= before * (1.0 + 1e-12));
            before = energy(state);
        }
    }

    #[test]
    fn converges_with_shorter_calls() {
        // The pressure turns while the petal swings: long and short calls end at the same place.
        let reed = reed(0.1, 0.2);
        let run = |calls: u32| {
            let mut state = ReedState::default();
            let step_s = 8e-3 / f64::from(calls);
            for i in 0..calls {
                let time_s = (f64::from(i) + 0.5) * step_s;
                state = reed.advance(state, 3000.0 * libm::sin(800.0 * time_s), step_s);
            }
            state.lift_m
        };
        let (coarse, fine, finest) = (run(200), run(400), run(3200));
        assert!((fine - finest).abs() < (coarse - finest).abs() + 1e-6);
        assert!((fine - finest).abs() < 1e-4, "{fine} {finest}");
    }

    #[test]
    fn exact_area_is_the_gap_when_small_and_the_windows_when_wide() {
        let reed = reed(0.1, 0.2);
        let gap_m2 = 6.0 * 1e-6 * (0.0227 + 0.8 * 0.038);
        assert!((reed.area_m2(1e-6) / gap_m2 - 1.0).abs() < 1e-6);
        assert!((reed.area_m2(10.0) / 900e-6 - 1.0).abs() < 1e-4);
    }

    #[test]
    fn agrees_mass_and_stiffness_with_the_frequency() {
        let petal = reed(0.0, 0.0).petal;
        let whole_kg = petal.length_m * petal.width_m * petal.thickness_m * petal.density_kg_m3;
        // A quarter of the mass swings at the tip of a cantilever under a point load; even pressure asks for a bit more.
        assert!((petal.mass_at_tip_kg() / whole_kg - 0.6471).abs() < 1e-3);
    }
}
