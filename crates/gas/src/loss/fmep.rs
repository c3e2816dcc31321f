//! Friction of the moving parts as a mean effective pressure.

use std::f64::consts::PI;

/// A correlation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fmep {
    /// Crankcase-scavenged two-stroke with rolling bearings: 150 · stroke (m) · speed (rpm) in Pa, so 4500 Pa for each m/s
    /// of mean piston speed. Blair, G. P.: The Basic Design of Two-Stroke Engines, SAE, 1990, chapter 5 (recalled, not read
    /// at its source). Pumping in the crankcase is not in it.
    RollingBearings,
    /// The user's own line by mean piston speed.
    Line {
        /// At standstill, Pa.
        at_rest_pa: f64,
        /// For each m/s of mean piston speed, Pa s/m.
        per_piston_speed_pa_s_m: f64,
    },
}

/// Mean piston speed, m/s, for a stroke (m) and a crank speed (rad/s): two strokes a turn.
pub fn mean_piston_speed_m_s(stroke_m: f64, speed_rad_s: f64) -> f64 {
    stroke_m * speed_rad_s / PI
}

impl Fmep {
    /// Friction mean effective pressure, Pa, for a stroke (m) and a crank speed (rad/s, not negative).
    pub fn pressure_pa(&self, stroke_m: f64, speed_rad_s: f64) -> f64 {
        let piston_m_s = mean_piston_speed_m_s(stroke_m, speed_rad_s);
        match *self {
            // 150 Pa for each m and rpm; a mean piston speed of 1 m/s is 30 m rpm.
            Self::RollingBearings => 150.0 * 30.0 * piston_m_s,
            Self::Line { at_rest_pa, per_piston_speed_pa_s_m } => {
                at_rest_pa + per_piston_speed_pa_s_m * piston_m_s
            }
        }
    }
}
