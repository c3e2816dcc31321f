//! What leaves through the exhaust port while fresh charge comes in.
//!
//! Purity is the share of fresh charge; the scavenging efficiency is the purity of what is in the cylinder. Each model
//! is a curve of scavenging efficiency SE by scavenge ratio SR (volume delivered over cylinder volume). For a cylinder of
//! constant volume and equal densities the balance of fresh charge reads dSE/dSR = 1 - (purity of what leaves), which
//! turns each curve into the purity of what leaves by the purity of what is in: the form a cycle needs, for it then
//! holds for any course of inflow and for blow-back.

/// A scavenging model.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Scavenging {
    /// Only burned gas leaves until none is left: SE = min(SR, 1).
    PerfectDisplacement,
    /// What leaves is what is in: SE = 1 - exp(-SR). Hopkinson, B.: The charging of two-cycle internal combustion
    /// engines, Transactions of the North-East Coast Institution of Engineers and Shipbuilders 30, 1914.
    PerfectMixing,
    /// A zone of burned gas that is displaced, a zone in which fresh charge mixes perfectly, and a part that goes
    /// straight to the exhaust. Benson, R. S. and Brandham, P. T.: A method for obtaining a quantitative assessment of the
    /// influence of charging efficiency on two-stroke engine performance, International Journal of Mechanical Sciences
    /// 11, 1969, 303 to 312 (recalled, worked out anew from the zones' balance; what the paper calls x was not checked).
    TwoZones {
        /// Share of the cylinder that is the mixing zone, above 0 to 1.
        mixing: f64,
        /// Share of the delivered charge that goes straight to the exhaust, 0 to below 1.
        straight: f64,
    },
    /// A curve fitted to a measured cylinder: ln(1 - SE) = k0 + k1 SR + k2 SR². The form is that of Blair, G. P., The
    /// Basic Design of Two-Stroke Engines, 1990, chapter 3 (recalled). Where the curve would lie above SE = SR, or rise more
    /// steeply, burned gas alone leaves; it holds up to the SR at which the parabola turns.
    Fitted {
        /// Constant, usually zero: above it a first part leaves as pure burned gas.
        k0: f64,
        /// Slope, below zero.
        k1: f64,
        /// Curvature, zero or above.
        k2: f64,
    },
}

impl Scavenging {
    /// A good loop-scavenged cylinder: an estimate without source. Displacement up to a scavenge ratio of 0.2, from there
    /// (tangent) the curve; 0.69 at a scavenge ratio of 1, between perfect mixing (0.63) and perfect displacement. The
    /// published coefficients of measured cylinders could not be had.
    pub const LOOP_ESTIMATE: Self = Self::Fitted { k0: 0.030_056_448_7, k1: -1.282, k2: 0.08 };

    /// Purity of what leaves, 0 to 1, when the cylinder's purity is this (0 to 1).
    pub fn exhaust_purity(&self, cylinder_purity: f64) -> f64 {
        let purity = cylinder_purity.clamp(0.0, 1.0);
        match *self {
            Self::PerfectDisplacement => f64::from(u8::from(purity >= 1.0)),
            Self::PerfectMixing => purity,
            Self::TwoZones { mixing, straight } => {
                let mixed = (1.0 - (1.0 - purity) / mixing).max(0.0);
                straight + (1.0 - straight) * mixed
            }
            Self::Fitted { k0, k1, k2 } => {
                if purity >= 1.0 {
                    return 1.0;
                }
                let burned = 1.0 - purity;
                // The slope -(k1 + 2 k2 SR) at the SR that gives this purity, from the discriminant of the parabola.
                let slope = (k1 * k1 - 4.0 * k2 * (k0 - libm::log(burned))).max(0.0).sqrt();
                (1.0 - burned * slope).clamp(0.0, 1.0)
            }
        }
    }

    /// Scavenging efficiency at a scavenge ratio, the closed curve of the model.
    pub fn efficiency(&self, scavenge_ratio: f64) -> f64 {
        let sr = scavenge_ratio.max(0.0);
        match *self {
            Self::PerfectDisplacement => sr.min(1.0),
            Self::PerfectMixing => -libm::expm1(-sr),
            Self::TwoZones { mixing, straight } => {
                let kept = (1.0 - straight) * sr;
                if kept <= 1.0 - mixing {
                    kept
                } else {
                    1.0 - mixing * libm::exp((1.0 - mixing - kept) / mixing)
                }
            }
            Self::Fitted { k0, k1, k2 } => {
                // Below the point where the curve is as steep as displacement, displacement.
                if sr < 1.0 && self.exhaust_purity(sr) <= 0.0 {
                    return sr;
                }
                let turn = if k2 > 0.0 { -k1 / (2.0 * k2) } else { f64::INFINITY };
                let sr = sr.min(turn);
                (1.0 - libm::exp(k0 + sr * (k1 + sr * k2))).clamp(0.0, sr.min(1.0))
            }
        }
    }

    /// Scavenging efficiency by mass of perfect mixing when fresh and burned gas differ in temperature (`fresh_over_burned`)
    /// and pressure and volume stay: SE = 1 - e/(1/r + (1 - 1/r) e), e = exp(-DR), r the ratio of temperatures, DR the mass
    /// delivered over that of a cylinder full of fresh charge.
    pub fn mixing_by_mass(delivery_ratio: f64, fresh_over_burned: f64) -> f64 {
        let left = libm::exp(-delivery_ratio);
        1.0 - left / (1.0 / fresh_over_burned + (1.0 - 1.0 / fresh_over_burned) * left)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MODELS: [Scavenging; 4] = [
        Scavenging::PerfectMixing,
        Scavenging::TwoZones { mixing: 0.5, straight: 0.0 },
        Scavenging::TwoZones { mixing: 0.25, straight: 0.2 },
        Scavenging::LOOP_ESTIMATE,
    ];

    /// Marches the balance of a cylinder of constant volume with the purity of what leaves.
    fn marched(model: Scavenging, scavenge_ratio: f64) -> f64 {
        let (steps, mut purity) = (4000, 0.0);
        let h = scavenge_ratio / f64::from(steps);
        let slope = |purity: f64| 1.0 - model.exhaust_purity(purity);
        for _ in 0..steps {
            let k1 = slope(purity);
            let k2 = slope(purity + 0.5 * h * k1);
            let k3 = slope(purity + 0.5 * h * k2);
            let k4 = slope(purity + h * k3);
            purity += h * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
        }
        purity
    }

    #[test]
    fn agrees_what_leaves_with_the_closed_curve() {
        for model in MODELS {
            for ratio in [0.2, 0.5, 1.0, 1.5, 2.5] {
                let (closed, open) = (model.efficiency(ratio), marched(model, ratio));
                assert!((closed - open).abs() < 1e-4, "{model:?} {ratio}: {closed} {open}");
            }
        }
        assert!((marched(Scavenging::PerfectDisplacement, 0.7) - 0.7).abs() < 1e-12);
    }

    #[test]
    fn exact_no_model_beats_displacement_and_purity_stays_a_share() {
        for model in MODELS {
            for i in 0..=400 {
                let share = f64::from(i) / 400.0;
                let leaving = model.exhaust_purity(share);
                assert!((0.0..=1.0).contains(&leaving));
                let ratio = 8.0 * share;
                let efficiency = model.efficiency(ratio);
                assert!((0.0..=ratio.min(1.0) + 1e-12).contains(&efficiency), "{model:?} {ratio}");
            }
        }
    }

    #[test]
    fn exact_two_zones_hold_both_limits() {
        let mixing = Scavenging::TwoZones { mixing: 1.0, straight: 0.0 };
        for purity in [0.0, 0.3, 0.9] {
            assert!((mixing.exhaust_purity(purity) - purity).abs() < 1e-15);
        }
        let nearly = Scavenging::TwoZones { mixing: 1e-9, straight: 0.0 };
        assert_eq!(nearly.exhaust_purity(0.99), 0.0);
    }
}
