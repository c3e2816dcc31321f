//! Discharge coefficients of ports by opening and direction.

/// Which way the gas goes through a port.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FlowDirection {
    /// Out of the cylinder (or crankcase) into the duct.
    Out,
    /// Back from the duct.
    Back,
}

/// Effective over geometric area, straight between the port nearly shut and wide open, for both directions.
///
/// They belong to a throat of this area in front of the duct ([`crate::end`]), not to a nozzle without a duct: figures
/// taken by ignoring the duct's area must not be put in. SAE papers 952138 and 2001-01-1798 say so and find them to depend
/// on area, pressure ratio and direction (abstracts read, maps not); that the coefficient of an exhaust port falls as it
/// opens is measured by Benson, R. S., Proceedings of the Institution of Mechanical Engineers 173, 1959, 511 (abstract
/// read). The figures of the estimates are recalled without source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Discharge {
    /// Flowing out, nearly shut.
    pub out_shut: f64,
    /// Flowing out, wide open.
    pub out_open: f64,
    /// Flowing back, nearly shut.
    pub back_shut: f64,
    /// Flowing back, wide open.
    pub back_open: f64,
}

impl Discharge {
    /// Exhaust port: estimate.
    pub const EXHAUST_ESTIMATE: Self =
        Self { out_shut: 0.90, out_open: 0.75, back_shut: 0.85, back_open: 0.70 };
    /// Transfer port, out of the duct into the cylinder being [`FlowDirection::Back`]: estimate.
    pub const TRANSFER_ESTIMATE: Self =
        Self { out_shut: 0.75, out_open: 0.70, back_shut: 0.85, back_open: 0.75 };
    /// Inlet port or reed block, into the crankcase being [`FlowDirection::Back`]: estimate.
    pub const INLET_ESTIMATE: Self =
        Self { out_shut: 0.70, out_open: 0.65, back_shut: 0.80, back_open: 0.70 };
    /// No loss: for checks.
    pub const IDEAL: Self = Self { out_shut: 1.0, out_open: 1.0, back_shut: 1.0, back_open: 1.0 };

    /// Coefficient at an open share of the port's greatest area (0 to 1).
    #[inline]
    pub fn coefficient(&self, open_share: f64, direction: FlowDirection) -> f64 {
        let share = open_share.clamp(0.0, 1.0);
        let (shut, open) = match direction {
            FlowDirection::Out => (self.out_shut, self.out_open),
            FlowDirection::Back => (self.back_shut, self.back_open),
        };
        shut + share * (open - shut)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_ends_and_middle() {
        let discharge = Discharge::EXHAUST_ESTIMATE;
        assert_eq!(discharge.coefficient(0.0, FlowDirection::Out), 0.90);
        assert_eq!(discharge.coefficient(7.0, FlowDirection::Out), 0.75);
        assert!((discharge.coefficient(0.5, FlowDirection::Back) - 0.775).abs() < 1e-15);
    }
}
