//! Conversion factors of `quantity` against NIST Special Publication 811, appendix B.8 (factors by name of the unit).
//!
//! The factors were seen as quoted in public transcriptions of the tables; those marked "recalled" were not, and
//! follow from the exact definitions of inch, pound and standard gravity that were.
#![allow(clippy::approx_constant, reason = "printed factors stand here as printed")]

use published::{Tolerance, cite};
use quantity::{Dimension, Dimension::*, parse};

/// What one unit is in SI, through the parser: the way every figure of a mechanic takes.
fn si(text: &str, dimension: Dimension) -> f64 {
    match parse(&format!("{text} exact"), dimension) {
        Ok(measured) => measured.value,
        Err(error) => panic!("{text}: {error}"),
    }
}

/// Bold factors of the tables.
fn exact() -> Tolerance {
    Tolerance::relative(4e-16, "exact by definition: only the rounding of one or two multiplications")
}

/// Factors printed with seven significant digits.
fn seven_digits(unit_of_last_digit: f64) -> Tolerance {
    Tolerance::absolute(0.5 * unit_of_last_digit, "printed with seven digits: half a unit of the last")
}

#[test]
fn published_lengths_areas_volumes() {
    let b8 = |place| cite("NIST-SP811", place);
    b8("B.8, inch (in)").near("1 in, m", si("1 in", Length), 2.54e-2, exact());
    b8("B.8, inch (in)").near("1 in written with a sign, m", si("1\"", Length), 2.54e-2, exact());
    b8("B.8, mil (0.001 in)").near("1 thou, m", si("1 thou", Length), 2.54e-5, exact());
    b8("B.8, foot (ft)").near("1 ft, m", si("1 ft", Length), 3.048e-1, exact());
    b8("B.8, micron (µ)").near("1 µm, m", si("1 µm", Length), 1e-6, exact());
    b8("B.8, square inch (in²), recalled").near("1 in², m²", si("1 in²", Area), 6.4516e-4, exact());
    b8("B.8, cubic inch (in³), recalled").near(
        "1 in³, m³",
        si("1 in³", Volume),
        1.638_706e-5,
        seven_digits(1e-11),
    );
    b8("B.8, liter (L)").near("1 l, m³", si("1 l", Volume), 1e-3, exact());
}

#[test]
fn published_angles_and_speeds() {
    let b8 = |place| cite("NIST-SP811", place);
    b8("B.8, degree (°), recalled").near("1°, rad", si("1 °", Angle), 1.745_329e-2, seven_digits(1e-8));
    b8("B.8, revolution (r)").near("1 turn, rad", si("1 turn", Angle), 6.283_185, seven_digits(1e-6));
    b8("B.8, revolution per minute (rpm), recalled").near(
        "1 rpm, rad/s",
        si("1 rpm", Speed),
        1.047_198e-1,
        seven_digits(1e-7),
    );
}

#[test]
fn published_powers() {
    let b8 = |place| cite("NIST-SP811", place);
    b8("B.8, horsepower (550 ft·lbf/s), recalled").near(
        "1 hp, W",
        si("1 hp", Power),
        7.456_999e2,
        seven_digits(1e-4),
    );
    b8("B.8, horsepower (metric), recalled").near(
        "1 PS, W",
        si("1 PS", Power),
        7.354_988e2,
        seven_digits(1e-4),
    );
}

#[test]
fn published_forces_torques_stiffnesses() {
    let b8 = |place| cite("NIST-SP811", place);
    b8("B.8, kilogram-force (kgf)").near("1 kgf, N", si("1 kgf", Force), 9.806_65, exact());
    b8("B.8, pound-force (lbf)").near("1 lbf, N", si("1 lbf", Force), 4.448_222, seven_digits(1e-6));
    b8("B.8, note to pound-force").near(
        "1 lbf, N, all digits",
        si("1 lbf", Force),
        4.448_221_615_260_5,
        exact(),
    );
    b8("B.8, kilogram-force meter (kgf·m)").near("1 kgf·m, N·m", si("1 kgf·m", Torque), 9.806_65, exact());
    b8("B.8, pound-force foot (lbf·ft)").near(
        "1 lbf·ft, N·m",
        si("1 lbf·ft", Torque),
        1.355_818,
        seven_digits(1e-6),
    );
    b8("B.8, pound-force inch (lbf·in)").near(
        "1 lbf·in, N·m",
        si("1 in·lbf", Torque),
        1.129_848e-1,
        seven_digits(1e-7),
    );
    b8("B.8, pound-force per inch (lbf/in), recalled").near(
        "1 lbf/in, N/m",
        si("1 lbf/in", Stiffness),
        1.751_268e2,
        seven_digits(1e-4),
    );
}

#[test]
fn published_pressures() {
    let b8 = |place| cite("NIST-SP811", place);
    b8("B.8, bar").near("1 bar, Pa", si("1 bar", Pressure), 1e5, exact());
    b8("B.8, millibar (mbar), recalled").near("1 mbar, Pa", si("1 mbar", Pressure), 1e2, exact());
    b8("B.8, psi").near("1 psi, Pa", si("1 psi", Pressure), 6.894_757e3, seven_digits(1e-3));
    b8("B.8, millimeter of mercury, conventional").near(
        "1 mmHg, Pa",
        si("1 mmHg", Pressure),
        1.333_224e2,
        seven_digits(1e-4),
    );
    b8("B.8, inch of mercury, conventional").near(
        "1 inHg, Pa",
        si("1 inHg", Pressure),
        3.386_389e3,
        seven_digits(1e-3),
    );
}

#[test]
fn published_masses_times_temperatures() {
    let b8 = |place| cite("NIST-SP811", place);
    b8("B.8, pound (avoirdupois) (lb)").near("1 lb, kg", si("1 lb", Mass), 4.535_924e-1, seven_digits(1e-7));
    b8("B.8, ounce (avoirdupois) (oz)").near("1 oz, kg", si("1 oz", Mass), 2.834_952e-2, seven_digits(1e-8));
    b8("B.8, minute (min)").near("1 min, s", si("1 min", Time), 60.0, exact());
    b8("B.8, hour (h)").near("1 h, s", si("1 h", Time), 3600.0, exact());
    let exact_shift = || Tolerance::absolute(1e-12, "exact by definition: only rounding");
    b8("B.8, degree Celsius: T/K = t/°C + 273.15").near(
        "20 °C, K",
        si("20 °C", Temperature),
        293.15,
        exact_shift(),
    );
    b8("B.8, degree Fahrenheit: t/°C = (t/°F - 32)/1.8").near(
        "212 °F, K",
        si("212 °F", Temperature),
        (212.0 - 32.0) / 1.8 + 273.15,
        exact_shift(),
    );
}
