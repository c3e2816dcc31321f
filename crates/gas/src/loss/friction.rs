//! Friction of the gas along a duct's wall.

/// A friction law; all give the Fanning factor, wall shear over ρu²/2 (a quarter of the Darcy factor).
///
/// Below a Reynolds number of 2300 all follow Hagen and Poiseuille, 16/Re. Forms as in White, F. M.: Fluid Mechanics,
/// chapter 6 (recalled).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Friction {
    /// No friction.
    None,
    /// Smooth wall: f = 0.0791 Re^-0.25. Blasius, H.: Das Ähnlichkeitsgesetz bei Reibungsvorgängen in Flüssigkeiten,
    /// VDI-Forschungsheft 131, 1913.
    Blasius,
    /// Rough wall: 1/sqrt(4f) = -1.8 log10(6.9/Re + (k/3.7)^1.11). Haaland, S. E.: Simple and explicit formulas for the
    /// friction factor in turbulent pipe flow, Journal of Fluids Engineering 105, 1983, 89.
    Haaland {
        /// Roughness over diameter.
        relative_roughness: f64,
    },
    /// Rough wall: 1/sqrt(4f) = -2 log10(k/3.7 + 2.51/(Re sqrt(4f))), solved. Colebrook, C. F.: Turbulent flow in pipes,
    /// Journal of the Institution of Civil Engineers 11, 1939, 133.
    Colebrook {
        /// Roughness over diameter.
        relative_roughness: f64,
    },
}

/// Below this Reynolds number flow is taken as laminar.
const LAMINAR_UP_TO: f64 = 2300.0;

impl Friction {
    /// Fanning factor at a Reynolds number (with the diameter), above zero.
    pub fn fanning(&self, reynolds: f64) -> f64 {
        if matches!(self, Self::None) {
            return 0.0;
        }
        if reynolds < LAMINAR_UP_TO {
            return 16.0 / reynolds.max(1e-6);
        }
        self.turbulent(reynolds)
    }

    /// The turbulent form, whatever the Reynolds number.
    pub fn turbulent(&self, reynolds: f64) -> f64 {
        match *self {
            Self::None => 0.0,
            Self::Blasius => 0.0791 / reynolds.sqrt().sqrt(),
            Self::Haaland { relative_roughness } => 0.25 / haaland_root(relative_roughness, reynolds).powi(2),
            Self::Colebrook { relative_roughness } => colebrook(relative_roughness, reynolds),
        }
    }
}

/// One over the root of the Darcy factor.
fn haaland_root(relative_roughness: f64, reynolds: f64) -> f64 {
    -1.8 * libm::log10(6.9 / reynolds + libm::pow(relative_roughness / 3.7, 1.11))
}

/// Newton's method on x = 1/sqrt(4f), from Haaland's value: the function is nearly straight in x.
fn colebrook(relative_roughness: f64, reynolds: f64) -> f64 {
    let mut x = haaland_root(relative_roughness, reynolds);
    for _ in 0..8 {
        let inside = relative_roughness / 3.7 + 2.51 * x / reynolds;
        let miss = x + 2.0 * libm::log10(inside);
        let slope = 1.0 + 2.0 * 2.51 / (reynolds * inside * std::f64::consts::LN_10);
        x -= miss / slope;
    }
    0.25 / (x * x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_colebrook_solves_its_equation() {
        for reynolds in [3e3, 2e4, 5e5, 1e7] {
            for roughness in [0.0, 1e-5, 1e-3, 2e-2] {
                let f = Friction::Colebrook { relative_roughness: roughness }.turbulent(reynolds);
                let x = 1.0 / (4.0 * f).sqrt();
                let right = -2.0 * libm::log10(roughness / 3.7 + 2.51 * x / reynolds);
                assert!((x / right - 1.0).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn agrees_haaland_with_colebrook_within_two_per_cent_when_turbulent() {
        for reynolds in [4e3, 2e4, 5e5, 1e7] {
            for roughness in [1e-5, 1e-3, 2e-2] {
                let a = Friction::Haaland { relative_roughness: roughness }.turbulent(reynolds);
                let b = Friction::Colebrook { relative_roughness: roughness }.turbulent(reynolds);
                assert!((a / b - 1.0).abs() < 0.02, "{reynolds} {roughness}");
            }
        }
    }

    #[test]
    fn exact_laminar_and_none() {
        assert_eq!(Friction::Blasius.fanning(1000.0), 0.016);
        assert_eq!(Friction::None.fanning(1e5), 0.0);
        assert!(Friction::Blasius.fanning(0.0).is_finite());
    }
}
