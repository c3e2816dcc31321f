//! The air that the engine breathes, dry or moist.

use super::blend::Blend;
use super::error::GasError;
use super::species::Species;
use engine::model::Ambient;

/// Dry air by mole fractions before they are made to sum to one: U.S. Standard Atmosphere, 1976, table 3 (recalled,
/// not read there).
const DRY: [(Species, f64); 4] = [
    (Species::Nitrogen, 0.780_84),
    (Species::Oxygen, 0.209_476),
    (Species::Argon, 0.009_34),
    (Species::CarbonDioxide, 0.000_314),
];

/// Air with its water vapour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    water_share: f64,
}

impl Air {
    /// Without water vapour.
    pub const DRY: Self = Self { water_share: 0.0 };

    /// Moist air at a total pressure (Pa), temperature (K) and relative humidity (0 to 1).
    ///
    /// # Errors
    /// When pressure, temperature or humidity is no ambient state: 30 to 150 kPa, 230 to 330 K, 0 to 1.
    pub fn moist(pressure_pa: f64, temperature_k: f64, relative_humidity: f64) -> Result<Self, GasError> {
        GasError::check("ambient pressure", pressure_pa * 1e-3, 30.0, 150.0, " kPa")?;
        GasError::check("ambient temperature", temperature_k - 273.15, -43.15, 56.85, " °C")?;
        GasError::check("relative humidity", relative_humidity * 100.0, 0.0, 100.0, " %")?;
        let vapour_pa = relative_humidity * vapour_pressure_pa(temperature_k);
        Ok(Self { water_share: (vapour_pa / pressure_pa).min(0.5) })
    }

    /// The air of the day of an engine file.
    ///
    /// # Errors
    /// As [`Self::moist`].
    pub fn of(day: &Ambient) -> Result<Self, GasError> {
        Self::moist(day.pressure.value, day.temperature.value, day.humidity.value)
    }

    /// Mole fraction of water vapour.
    pub fn water_share(&self) -> f64 {
        self.water_share
    }

    /// Species of one mole.
    pub fn blend(&self) -> Blend {
        let whole: f64 = DRY.iter().map(|(_, share)| share).sum();
        let dry = DRY.map(|(species, share)| (species, share / whole * (1.0 - self.water_share)));
        Blend::new(dry.into_iter().chain([(Species::Water, self.water_share)]))
    }
}

/// Pressure of water vapour over liquid water when the air is saturated, Pa, at a temperature in K.
///
/// Buck, A. L.: Model CR-1A hygrometer operating manual, appendix 1, 1996, for -40 to 50 °C, about 0.1 %.
pub fn vapour_pressure_pa(temperature_k: f64) -> f64 {
    let t_c = temperature_k - 273.15;
    611.21 * libm::exp((18.678 - t_c / 234.5) * t_c / (257.14 + t_c))
}
