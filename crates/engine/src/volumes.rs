//! Volumes, compression ratios and squish.

use crate::geometry_error::{GeometryError, positive_length};
use crate::kinematics::SliderCrank;
use crate::model::Head;
use crate::root::falling_root;
use serde::Serialize;
use std::f64::consts::{FRAC_PI_2, PI};

/// Area of the bore, m².
pub fn bore_area_m2(bore_m: f64) -> f64 {
    PI / 4.0 * bore_m * bore_m
}

/// Volume above and below: (swept + remaining) / remaining. With the chamber it is the geometric ratio, with the
/// crankcase at bottom dead centre the crankcase ratio, with the volume swept after exhaust closing the trapped one.
///
/// # Errors
/// When the remaining volume is not above zero; `field` names it.
pub fn compression_ratio(
    field: &'static str,
    swept_m3: f64,
    remaining_m3: f64,
) -> Result<f64, GeometryError> {
    if remaining_m3.is_finite() && remaining_m3 > 0.0 {
        Ok((swept_m3 + remaining_m3) / remaining_m3)
    } else {
        Err(GeometryError::NotAVolume { field, value_m3: remaining_m3 })
    }
}

/// Squish band and the gas it drives inwards.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Squish {
    /// Area of the squish band over the area of the bore.
    pub area_ratio: f64,
    /// Greatest speed of the gas leaving the band over crank speed, m/rad; times rad/s it is m/s.
    pub velocity_per_rad_m: f64,
    /// Where that is, rad before top dead centre.
    pub before_tdc_rad: f64,
}

/// A flat squish band over a flat piston edge, with the gap parallel.
#[derive(Debug, Clone, Copy)]
struct Band {
    bore_area_m2: f64,
    band_area_m2: f64,
    rim_m: f64,
    clearance_m: f64,
    chamber_m3: f64,
}

/// Squish of a head; none when its clearance or inner diameter was not given.
///
/// Derived here: at every moment the gas has one density in the whole cylinder (the pressure evens out at once,
/// no heat, no leak, ports shut, gap parallel). With band area As, piston area A, inner rim length P = π·di, gap
/// z = clearance + drop and volume V = Vc + A·drop, the band holds the share As·z/V of the gas, and what it loses
/// as the piston rises leaves through the rim area P·z. That gives
/// v = As·(Vc − A·clearance)/(P·z·V) · |dz/dt|; its maximum over the way up is solved for. The bowl-in-piston
/// formula of Heywood, Internal Combustion Engine Fundamentals (1988), section 8.4, has the same form (from memory).
///
/// # Errors
/// When the inner diameter lies outside the bore, or the gap over the whole bore holds more than the chamber.
pub fn squish(slider: &SliderCrank, head: &Head, bore_m: f64) -> Result<Option<Squish>, GeometryError> {
    let (Some(clearance), Some(inner)) = (&head.squish_clearance, &head.squish_inner_diameter) else {
        return Ok(None);
    };
    let clearance_m = positive_length("squish clearance", clearance.value)?;
    let inner_m = inner.value;
    if !(inner_m > 0.0 && inner_m < bore_m) {
        return Err(GeometryError::SquishOutsideBore { inner_m, bore_m });
    }
    let band = Band {
        bore_area_m2: bore_area_m2(bore_m),
        band_area_m2: bore_area_m2(bore_m) - bore_area_m2(inner_m),
        rim_m: PI * inner_m,
        clearance_m,
        chamber_m3: head.chamber_volume.value,
    };
    let needed_m3 = clearance_m * band.bore_area_m2;
    if band.chamber_m3.is_nan() || needed_m3 >= band.chamber_m3 {
        return Err(GeometryError::SquishTooDeep { clearance_m, needed_m3, chamber_m3: band.chamber_m3 });
    }
    let before_tdc_rad =
        falling_root(0.0, FRAC_PI_2, |before_rad| band.gain(slider, before_rad)).unwrap_or(FRAC_PI_2);
    Ok(Some(Squish {
        area_ratio: band.band_area_m2 / band.bore_area_m2,
        velocity_per_rad_m: band.velocity_per_rad_m(slider, before_tdc_rad),
        before_tdc_rad,
    }))
}

impl Band {
    fn velocity_per_rad_m(&self, slider: &SliderCrank, before_tdc_rad: f64) -> f64 {
        let motion = slider.motion(-before_tdc_rad);
        let bowl_m3 = self.chamber_m3 - self.bore_area_m2 * self.clearance_m;
        let volume_m3 = self.chamber_m3 + self.bore_area_m2 * motion.drop_m;
        let rim_area_m2 = self.rim_m * (self.clearance_m + motion.drop_m);
        -motion.velocity_m * self.band_area_m2 * bowl_m3 / (rim_area_m2 * volume_m3)
    }

    /// Has the sign of the slope of the velocity by the angle before top dead centre.
    fn gain(&self, slider: &SliderCrank, before_tdc_rad: f64) -> f64 {
        let motion = slider.motion(-before_tdc_rad);
        let volume_m3 = self.chamber_m3 + self.bore_area_m2 * motion.drop_m;
        let gap_m = self.clearance_m + motion.drop_m;
        motion.acceleration_m
            - motion.velocity_m * motion.velocity_m * (self.bore_area_m2 / volume_m3 + 1.0 / gap_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::{Dimension, Measured};

    fn head(chamber_cm3: f64, clearance_mm: f64, inner_mm: f64) -> Head {
        let length = |mm: f64| Some(Measured::exact(mm * 1e-3, Dimension::Length));
        Head {
            chamber_volume: Measured::exact(chamber_cm3 * 1e-6, Dimension::Volume),
            squish_clearance: length(clearance_mm),
            squish_inner_diameter: length(inner_mm),
        }
    }

    fn slider() -> SliderCrank {
        SliderCrank::new(0.02725, 0.110, 0.0).unwrap()
    }

    #[test]
    fn exact_compression_ratios() {
        // Bore 54, stroke 54.5, chamber 11.0 cm³.
        let swept = bore_area_m2(0.054) * 0.0545;
        assert!((compression_ratio("chamber volume", swept, 11e-6).unwrap() - 12.347).abs() < 5e-4);
        for (duration_deg, ratio) in [(170.0, 7.876), (189.0, 6.938), (202.0, 6.278)] {
            let left_m = slider().drop_of_duration_m(f64::to_radians(duration_deg)).unwrap();
            let ours = compression_ratio("chamber volume", bore_area_m2(0.054) * left_m, 11e-6).unwrap();
            assert!((ours - ratio).abs() < 1e-3, "{duration_deg}: {ours}");
        }
    }

    #[test]
    fn agrees_squish_speed_with_the_mass_that_leaves_the_band() {
        let (slider, head, bore_m) = (slider(), head(11.0, 1.0, 36.0), 0.054);
        let squish = squish(&slider, &head, bore_m).unwrap().unwrap();
        let band_m2 = bore_area_m2(bore_m) - bore_area_m2(0.036);
        // The share of the gas inside the band, by angle; the maximum of its outflow over the rim by a fine search.
        let share = |angle: f64| {
            let drop_m = slider.drop_m(angle);
            band_m2 * (1e-3 + drop_m) / (11e-6 + bore_area_m2(bore_m) * drop_m)
        };
        let speed = |angle: f64| {
            let (h, drop_m) = (1e-5, slider.drop_m(angle));
            let density = 1.0 / (11e-6 + bore_area_m2(bore_m) * drop_m);
            let loss = (share(angle - h) - share(angle + h)) / (2.0 * h);
            loss / (density * PI * 0.036 * (1e-3 + drop_m))
        };
        let (mut best, mut at) = (0.0, 0.0);
        for i in 0..=9_000 {
            let before = f64::from(i) * 1e-4;
            if speed(-before) > best {
                (best, at) = (speed(-before), before);
            }
        }
        assert!((squish.velocity_per_rad_m / best - 1.0).abs() < 1e-6, "{squish:?} {best}");
        assert!((squish.before_tdc_rad - at).abs() < 2e-4, "{squish:?} {at}");
        assert!((squish.area_ratio - (1.0 - (36f64 / 54.0).powi(2))).abs() < 1e-15);
    }

    #[test]
    fn refuses_impossible_chambers() {
        let text = |head| squish(&slider(), &head, 0.054).unwrap_err().to_string();
        assert_eq!(
            text(head(2.0, 1.0, 36.0)),
            "A squish clearance of 1.00 mm over the whole bore is 2.29 cm³, more than the chamber volume of 2.00 cm³: \
             check squish clearance and chamber volume."
        );
        assert_eq!(
            text(head(11.0, 1.0, 56.0)),
            "The squish band's inner diameter of 56.00 mm must lie between 0 mm and the bore of 54.00 mm: measure it \
             again."
        );
        assert!(text(head(11.0, -1.0, 36.0)).contains("squish clearance"));
        assert!(text(head(11.0, 1.0, f64::NAN)).contains("inner diameter"));
        assert_eq!(
            compression_ratio("chamber volume", 1e-4, 0.0).unwrap_err().to_string(),
            "The chamber volume of 0.00 cm³ cannot be right: it must be more than zero. Measure it again and check \
             its unit."
        );
        let head = Head { squish_clearance: None, ..head(11.0, 1.0, 36.0) };
        assert_eq!(squish(&slider(), &head, 0.054), Ok(None));
    }
}
