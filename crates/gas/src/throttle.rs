//! Throttles: how much of the throat is open.

use engine::model::ThrottleKind;
use std::f64::consts::PI;

/// A throttle in a round throat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Throttle {
    /// No throttle.
    Open,
    /// A slide that is lifted out of the throat; the opening is the lift over the throat's diameter.
    Slide,
    /// A plate on a shaft across the throat. Heywood, J. B.: Internal Combustion Engine Fundamentals, 1988, equation
    /// (7.18) (recalled). The opening is the share of the way from shut to parallel with the throat.
    Butterfly {
        /// Angle of the shut plate from square to the throat, rad.
        shut_rad: f64,
        /// Diameter of the shaft over that of the throat.
        shaft: f64,
    },
}

impl Throttle {
    /// The throttle of an engine file; a plate is taken to shut at 10° from square on a shaft of a fifth of the throat
    /// (estimate, no source).
    pub fn of(kind: ThrottleKind) -> Self {
        match kind {
            ThrottleKind::Slide => Self::Slide,
            ThrottleKind::Butterfly => Self::Butterfly { shut_rad: 10f64.to_radians(), shaft: 0.2 },
        }
    }

    /// Open share of the throat's area at an opening from 0 to 1.
    pub fn open_share(&self, opening: f64) -> f64 {
        let opening = opening.clamp(0.0, 1.0);
        match *self {
            Self::Open => 1.0,
            Self::Slide => segment_share(opening),
            Self::Butterfly { shut_rad, shaft } => butterfly_share(opening, shut_rad, shaft),
        }
    }

    /// Open area, m², of a throat of this diameter (m).
    pub fn area_m2(&self, opening: f64, throat_m: f64) -> f64 {
        PI / 4.0 * throat_m * throat_m * self.open_share(opening)
    }
}

/// Share of a circle's area below a chord at a height over the diameter.
fn segment_share(height: f64) -> f64 {
    let x = 1.0 - 2.0 * height;
    (libm::acos(x) - x * (1.0 - x * x).max(0.0).sqrt()) / PI
}

fn butterfly_share(opening: f64, shut_rad: f64, shaft: f64) -> f64 {
    let shut = shut_rad.clamp(0.0, 1.2);
    let shaft = shaft.clamp(0.0, 0.9);
    let angle = shut + opening * (PI / 2.0 - shut);
    let (cos_angle, cos_shut) = (libm::cos(angle), libm::cos(shut));
    let whole = 1.0 - 2.0 / PI * (shaft * (1.0 - shaft * shaft).sqrt() + libm::asin(shaft));
    // Where the plate lies within the shadow of its shaft the shaft alone is left.
    if cos_angle <= shaft * cos_shut {
        return whole;
    }
    // The plate's shadow is an ellipse, `narrow` as wide as the throat; the shaft is a strip across it.
    let (a, narrow) = (shaft, cos_angle / cos_shut);
    let s = (a / narrow).min(1.0);
    let covered = a * (1.0 - s * s).sqrt() + narrow * libm::asin(s);
    let share = 1.0 - narrow + 2.0 / PI * (covered - a * (1.0 - a * a).sqrt() - libm::asin(a));
    share.clamp(0.0, whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_slide_ends_and_middle() {
        let share = |opening| Throttle::Slide.open_share(opening);
        assert_eq!(share(0.0), 0.0);
        assert!((share(0.5) - 0.5).abs() < 1e-15);
        assert!((share(1.0) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn agrees_butterfly_with_counting_points_of_its_shadow() {
        let (shut_rad, shaft) = (0.1, 0.2);
        for opening in [0.0, 0.2, 0.5, 0.8, 0.95, 1.0] {
            let angle = shut_rad + opening * (PI / 2.0 - shut_rad);
            let narrow = libm::cos(angle) / libm::cos(shut_rad);
            let (n, mut inside, mut open) = (1500, 0u32, 0u32);
            for i in 0..n {
                for j in 0..n {
                    let x = (f64::from(i) + 0.5) / f64::from(n) * 2.0 - 1.0;
                    let y = (f64::from(j) + 0.5) / f64::from(n) * 2.0 - 1.0;
                    if x * x + y * y < 1.0 {
                        inside += 1;
                        let plate = x * x + (y / narrow).powi(2) < 1.0;
                        open += u32::from(!plate && y.abs() > shaft);
                    }
                }
            }
            let counted = f64::from(open) / f64::from(inside);
            let share = Throttle::Butterfly { shut_rad, shaft }.open_share(opening);
            assert!((share - counted).abs() < 1e-3, "{opening}: {share} {counted}");
        }
    }

    #[test]
    fn exact_butterfly_without_shaft_is_the_difference_of_two_areas() {
        let throttle = Throttle::Butterfly { shut_rad: 0.0, shaft: 0.0 };
        for opening in [0.0, 0.3, 0.7, 1.0] {
            let share = 1.0 - libm::cos(opening * PI / 2.0);
            assert!((throttle.open_share(opening) - share).abs() < 1e-12);
        }
    }
}
