//! When one port opens and closes.

use super::CrownPath;
use serde::Serialize;
use std::f64::consts::TAU;

/// When a port opens and closes, and what its opening edge is worth in crank angle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Opening {
    /// Opening, rad after top dead centre; for an inlet port, which opens on the way up, between π and 2π.
    pub opens_rad: f64,
    /// Closing, rad after top dead centre; for an inlet port after the next one, between 0 and π.
    pub closes_rad: f64,
    /// Angle from opening to closing, rad.
    pub duration_rad: f64,
    /// How much earlier the port opens, rad, for each metre by which the opening edge is moved the opening way (roof
    /// up; inlet floor down), there and then: it differs from port to port and from lift to lift.
    pub opening_rad_per_m: f64,
    /// How much the duration grows, rad, for each metre by which the opening edge is moved the opening way.
    pub duration_rad_per_m: f64,
}

impl Opening {
    /// The opening of a port whose effective roof lies at a depth; none when the crown never passes it.
    pub fn by_crown(path: &CrownPath, effective_roof_m: f64) -> Option<Self> {
        let (opens_rad, closes_rad, down_rad_per_m, up_rad_per_m) = passes(path, effective_roof_m)?;
        Some(Self {
            opens_rad,
            closes_rad,
            duration_rad: closes_rad - opens_rad,
            opening_rad_per_m: down_rad_per_m,
            duration_rad_per_m: down_rad_per_m + up_rad_per_m,
        })
    }

    /// The opening of an inlet port by the lower edge of the skirt, `skirt_length_m` below the crown edge; none when
    /// the skirt never passes the floor.
    pub fn by_skirt(path: &CrownPath, floor_depth_m: f64, skirt_length_m: f64) -> Option<Self> {
        let (closes_rad, opens_rad, down_rad_per_m, up_rad_per_m) =
            passes(path, floor_depth_m - skirt_length_m)?;
        Some(Self {
            opens_rad,
            closes_rad,
            duration_rad: closes_rad + TAU - opens_rad,
            opening_rad_per_m: up_rad_per_m,
            duration_rad_per_m: down_rad_per_m + up_rad_per_m,
        })
    }

    /// Degrees by which the port opens earlier for each millimetre of its opening edge.
    pub fn opening_deg_per_mm(&self) -> f64 {
        self.opening_rad_per_m.to_degrees() * 1e-3
    }

    /// Degrees by which the duration grows for each millimetre of the opening edge.
    pub fn duration_deg_per_mm(&self) -> f64 {
        self.duration_rad_per_m.to_degrees() * 1e-3
    }
}

/// Angles at which the crown passes a depth going down and going up, and crank angle per metre there (positive).
fn passes(path: &CrownPath, depth_m: f64) -> Option<(f64, f64, f64, f64)> {
    let down_rad = path.angle_going_down_rad(depth_m)?;
    let up_rad = path.angle_going_up_rad(depth_m)?;
    let slider = path.slider();
    let down_m = slider.velocity_per_rad_m(down_rad);
    let up_m = -slider.velocity_per_rad_m(up_rad);
    Some((down_rad, up_rad, 1.0 / down_m, 1.0 / up_m))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kinematics::SliderCrank;

    fn path(offset_m: f64) -> CrownPath {
        CrownPath::new(SliderCrank::new(0.02725, 0.110, offset_m).unwrap(), 0.001).unwrap()
    }

    #[test]
    fn exact_degrees_of_duration_for_a_tenth_of_a_millimetre() {
        // Stroke 54.5, rod 110: by hand from the closed form, 0.1 mm of roof at five durations.
        for (drop_mm, per_tenth_deg) in
            [(33.027, 0.432), (30.679, 0.420), (28.519, 0.413), (26.819, 0.410), (25.352, 0.408)]
        {
            let opening = Opening::by_crown(&path(0.0), (drop_mm + 1.0) * 1e-3).unwrap();
            assert!((opening.duration_deg_per_mm() / 10.0 - per_tenth_deg).abs() < 1e-3);
            assert!((opening.opening_deg_per_mm() * 2.0 - opening.duration_deg_per_mm()).abs() < 1e-12);
        }
    }

    #[test]
    fn agrees_slopes_with_differences_also_with_offset() {
        for offset_m in [0.0, 0.003, -0.003] {
            let path = path(offset_m);
            let at = |depth_m| Opening::by_crown(&path, depth_m).unwrap();
            let (h, depth_m) = (1e-6, 0.030);
            let (raised, lowered, here) = (at(depth_m - h), at(depth_m + h), at(depth_m));
            let opening = (lowered.opens_rad - raised.opens_rad) / (2.0 * h);
            let duration = (raised.duration_rad - lowered.duration_rad) / (2.0 * h);
            assert!((opening / here.opening_rad_per_m - 1.0).abs() < 1e-8);
            assert!((duration / here.duration_rad_per_m - 1.0).abs() < 1e-8);
        }
    }

    #[test]
    fn exact_inlet_is_open_round_top_dead_centre() {
        // Skirt 50 mm, floor 70 mm below the deck: open while the crown edge is above 20 mm.
        let path = path(0.0);
        let inlet = Opening::by_skirt(&path, 0.070, 0.050).unwrap();
        let crown = Opening::by_crown(&path, 0.020).unwrap();
        assert!((inlet.duration_rad - (TAU - crown.duration_rad)).abs() < 1e-14);
        assert!((inlet.opens_rad - crown.closes_rad).abs() < 1e-14);
        assert!((inlet.closes_rad - crown.opens_rad).abs() < 1e-14);
        assert_eq!(Opening::by_skirt(&path, 0.070, 0.080), None);
    }
}
