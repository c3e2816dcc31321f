//! Torque as it is written.

use quantity::Units;

/// One N m in lbf·ft, exact by the definitions of foot, pound and standard gravity.
const LBF_FT: f64 = 1.0 / (0.3048 * 0.453_592_37 * 9.806_65);

/// What one N m is in the unit of engine torque, and that unit.
pub fn torque_unit(units: Units) -> (f64, &'static str) {
    match units {
        Units::Metric => (1.0, "N·m"),
        Units::Inch => (LBF_FT, "lbf·ft"),
    }
}

/// A torque in N m with its unit, to so many decimals.
pub fn torque_text(n_m: f64, decimals: usize, units: Units) -> String {
    let (per, unit) = torque_unit(units);
    format!("{:.decimals$} {unit}", n_m * per).replace('-', "\u{2212}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_both_units_agree_with_the_reader() {
        let one = quantity::parse("1 lbf·ft exact", quantity::Dimension::Torque).unwrap().value;
        assert!((one * torque_unit(Units::Inch).0 - 1.0).abs() < 1e-12);
        assert_eq!(torque_text(-1.256, 2, Units::Metric), "\u{2212}1.26 N·m");
        assert_eq!(torque_text(one, 1, Units::Inch), "1.0 lbf·ft");
    }
}
