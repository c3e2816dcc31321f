//! Heat from the gas to a duct's wall.

use super::Friction;

/// A correlation for the Nusselt number (heat transfer coefficient times diameter over conductivity).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Nusselt {
    /// No heat transfer.
    None,
    /// Steady turbulent flow: 0.023 Re^0.8 Pr^0.4. Dittus, F. W. and Boelter, L. M. K.: Heat transfer in automobile
    /// radiators of the tubular type, University of California Publications in Engineering 2, 1930, 443 (in the form of
    /// textbooks, recalled). Ducts of running engines lie 1.5 to 3 times above it.
    DittusBoelter,
    /// Reynolds' analogy: (f/2) Re Pr^(1/3). Colburn, A. P.: A method of correlating forced convection heat transfer data,
    /// Transactions of the American Institute of Chemical Engineers 29, 1933, 174 (recalled).
    Colburn(Friction),
    /// Ducts of running engines: 0.07 Re^0.75. Depcik, C. and Assanis, D.: A universal heat transfer correlation for intake
    /// and exhaust flows in a spark-ignition internal combustion engine, SAE paper 2002-01-0372 (abstract read).
    DepcikAssanis,
}

/// Nusselt number of fully developed laminar flow in a round duct with a wall of constant temperature.
const LAMINAR: f64 = 3.66;

impl Nusselt {
    /// Nusselt number at a Reynolds and a Prandtl number; never below that of laminar flow unless there is none at all.
    pub fn number(&self, reynolds: f64, prandtl: f64) -> f64 {
        match self {
            Self::None => 0.0,
            _ => self.turbulent(reynolds, prandtl).max(LAMINAR),
        }
    }

    /// The turbulent form, whatever the Reynolds number.
    pub fn turbulent(&self, reynolds: f64, prandtl: f64) -> f64 {
        match self {
            Self::None => 0.0,
            Self::DittusBoelter => 0.023 * libm::pow(reynolds, 0.8) * libm::pow(prandtl, 0.4),
            Self::Colburn(friction) => 0.5 * friction.turbulent(reynolds) * reynolds * libm::cbrt(prandtl),
            // Re^0.75 by two roots: as quick as it gets in a kernel.
            Self::DepcikAssanis => 0.07 * reynolds / reynolds.max(1e-12).sqrt().sqrt(),
        }
    }
}
