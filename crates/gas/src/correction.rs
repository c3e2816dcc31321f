//! Measured power made comparable: corrections for the air of the day.

use crate::gas::{GasError, vapour_pressure_pa};
use engine::model::Ambient;

/// Air of the day as a dynamometer sheet gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day {
    /// Total pressure, Pa.
    pub pressure_pa: f64,
    /// Temperature of the air that the engine takes in, K.
    pub temperature_k: f64,
    /// Relative humidity, 0 to 1.
    pub relative_humidity: f64,
}

impl Day {
    /// The air of the day of an engine file.
    pub fn of(day: &Ambient) -> Self {
        Self {
            pressure_pa: day.pressure.value,
            temperature_k: day.temperature.value,
            relative_humidity: day.humidity.value,
        }
    }

    /// Pressure of the dry part of the air, Pa.
    pub fn dry_pa(&self) -> f64 {
        self.pressure_pa - self.relative_humidity * vapour_pressure_pa(self.temperature_k)
    }
}

/// A rule. The factor multiplies measured power and torque.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// SAE J1349, edition of 1990: 1.180 (99 kPa/p dry) sqrt(T/298 K) - 0.18, for a mechanical efficiency of 85 % (form
    /// read in quotations).
    SaeJ1349,
    /// ISO 1585 and UN Regulation 85 for spark ignition, and ISO 4106 for motorcycles: (99 kPa/p dry)^1.2 (T/298 K)^0.6
    /// (recalled, not read).
    Iso1585,
    /// SAE J607: (101.3 kPa/p dry) sqrt(T/288 K) (form read in quotations).
    SaeJ607,
    /// DIN 70020: (101.3 kPa/p) sqrt(T/293 K), total pressure (reference state read, form recalled).
    Din70020,
}

/// A factor with what must be said beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// Multiplies measured power and torque.
    pub factor: f64,
    /// The rule's own range holds it.
    pub within_rule: bool,
    /// Where the rule does not hold, in sentences; never empty for a two-stroke.
    pub cautions: Vec<String>,
}

/// ISO 1585 keeps its factor within this range.
const ISO_RANGE: (f64, f64) = (0.93, 1.07);
/// SAE J1349 asks that the correction stay within 5 per cent (recalled).
const SAE_RANGE: (f64, f64) = (0.95, 1.05);

impl Rule {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::SaeJ1349, Self::Iso1585, Self::SaeJ607, Self::Din70020];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::SaeJ1349 => "SAE J1349 (1990)",
            Self::Iso1585 => "ISO 1585 (as ISO 4106 and UN R85)",
            Self::SaeJ607 => "SAE J607",
            Self::Din70020 => "DIN 70020",
        }
    }

    /// The bare factor. Zero degrees Celsius count as 273 K, as the rules write them.
    pub fn factor(self, day: &Day) -> f64 {
        let (dry_kpa, t_k) = (day.dry_pa() * 1e-3, day.temperature_k - 0.15);
        match self {
            Self::SaeJ1349 => 1.180 * (99.0 / dry_kpa) * (t_k / 298.0).sqrt() - 0.18,
            Self::Iso1585 => libm::pow(99.0 / dry_kpa, 1.2) * libm::pow(t_k / 298.0, 0.6),
            Self::SaeJ607 => 101.3 / dry_kpa * (t_k / 288.0).sqrt(),
            Self::Din70020 => 101.3 / (day.pressure_pa * 1e-3) * (t_k / 293.0).sqrt(),
        }
    }

    /// The factor with its cautions.
    ///
    /// # Errors
    /// When the day is no ambient state: 60 to 110 kPa, -20 to 50 °C, 0 to 100 % humidity.
    pub fn correct(self, day: &Day) -> Result<Correction, GasError> {
        GasError::check("ambient pressure", day.pressure_pa * 1e-3, 60.0, 110.0, " kPa")?;
        GasError::check("air temperature", day.temperature_k - 273.15, -20.0, 50.0, " °C")?;
        GasError::check("relative humidity", day.relative_humidity * 100.0, 0.0, 100.0, " %")?;
        let factor = self.factor(day);
        let range = match self {
            Self::Iso1585 => Some(ISO_RANGE),
            Self::SaeJ1349 => Some(SAE_RANGE),
            Self::SaeJ607 | Self::Din70020 => None,
        };
        let within_rule = range.is_none_or(|(least, most)| (least..=most).contains(&factor));
        let mut cautions = Vec::new();
        if let (false, Some((least, most))) = (within_rule, range) {
            cautions.push(format!(
                "The factor {factor:.3} lies outside {least} to {most}, where the rule ends: measure again on a day nearer to 25 °C and 99 kPa dry."
            ));
        }
        cautions.push(self.caution().to_owned());
        Ok(Correction { factor, within_rule, cautions })
    }

    fn caution(self) -> &'static str {
        match self {
            Self::SaeJ1349 => {
                "The rule takes 15 % of the power as friction, as in four-strokes; no figure for two-strokes is published. It knows nothing of a tuned pipe, whose best speed moves with the temperature of its gas."
            }
            Self::Iso1585 => {
                "The rule was made for engines at full throttle whose mixture is kept right; a carburettor set for another day, and a tuned pipe whose best speed moves with the temperature of its gas, are not corrected."
            }
            Self::SaeJ607 | Self::Din70020 => {
                "An older rule with another reference state: never set its figures beside those of another rule. It was made for four-strokes and knows nothing of a tuned pipe."
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(kpa: f64, c: f64, humidity: f64) -> Day {
        Day { pressure_pa: kpa * 1e3, temperature_k: c + 273.15, relative_humidity: humidity }
    }

    #[test]
    fn exact_reference_days_need_no_correction() {
        for (rule, kpa, c) in
            [(Rule::SaeJ1349, 99.0, 25.0), (Rule::Iso1585, 99.0, 25.0), (Rule::SaeJ607, 101.3, 15.0)]
        {
            assert!((rule.factor(&day(kpa, c, 0.0)) - 1.0).abs() < 1e-12);
        }
        assert!((Rule::Din70020.factor(&day(101.3, 20.0, 0.9)) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn exact_outside_its_range_a_rule_says_so() {
        let hot = Rule::Iso1585.correct(&day(95.0, 35.0, 0.4)).unwrap();
        assert!(!hot.within_rule && hot.cautions.len() == 2);
        assert!(Rule::Iso1585.correct(&day(98.0, 30.0, 0.6)).unwrap().within_rule);
        for rule in Rule::ALL {
            assert!(!rule.correct(&day(99.0, 25.0, 0.0)).unwrap().cautions.is_empty());
        }
    }

    #[test]
    fn refuses_what_is_no_day() {
        assert_eq!(
            Rule::SaeJ1349.correct(&day(990.0, 25.0, 0.0)).unwrap_err().to_string(),
            "The ambient pressure is 990.0000 kPa: give 60 kPa to 110 kPa."
        );
        assert!(Rule::SaeJ1349.correct(&day(99.0, f64::NAN, 0.0)).is_err());
    }
}
