//! Where piston speed and acceleration are greatest, solved and not approximated.

use super::SliderCrank;
use crate::root::falling_root;
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// Points of the first search round the turn; a multiple of four, so that the crank square to the bore is among them.
const SEARCH: u32 = 64;

/// The greatest magnitude over a turn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Peak {
    /// Where, rad after top dead centre, in (-π, π].
    pub angle_rad: f64,
    /// The value there with its sign (positive downwards).
    pub value: f64,
}

impl SliderCrank {
    /// Greatest piston acceleration over a turn, m/rad²; times speed squared it is m/s².
    pub fn peak_acceleration_per_rad2_m(&self) -> Peak {
        self.greatest(|s, a| s.pose(a).0.acceleration_m(), |s, a| s.pose(a).0.jerk_m())
    }

    /// Greatest piston speed over a turn, m/rad; times speed it is m/s.
    pub fn peak_velocity_per_rad_m(&self) -> Peak {
        self.greatest(|s, a| s.pose(a).0.velocity_m(), |s, a| s.pose(a).0.acceleration_m())
    }

    fn greatest(&self, value: impl Fn(&Self, f64) -> f64, slope: impl Fn(&Self, f64) -> f64) -> Peak {
        let step_rad = TAU / f64::from(SEARCH);
        // Counted from the upright crank, so that the square crank is met exactly: a short rod peaks there.
        let start_rad = -PI - self.tdc_past_upright_rad();
        let mut best = Peak { angle_rad: 0.0, value: value(self, 0.0) };
        for i in 0..SEARCH {
            let angle_rad = start_rad + f64::from(i) * step_rad;
            let here = value(self, angle_rad);
            if here.abs() > best.value.abs() {
                best = Peak { angle_rad, value: here };
            }
        }
        let sign = best.value.signum();
        let root =
            falling_root(best.angle_rad - step_rad, best.angle_rad + step_rad, |a| sign * slope(self, a));
        if let Some(angle_rad) = root {
            let here = value(self, angle_rad);
            if here.abs() >= best.value.abs() {
                best = Peak { angle_rad, value: here };
            }
        }
        if best.angle_rad <= -PI {
            best.angle_rad += TAU;
        }
        best
    }
}
