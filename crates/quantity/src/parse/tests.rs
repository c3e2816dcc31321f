//! What each form of text means.

use super::*;
use crate::Dimension::*;

const ROOT_3: f64 = 1.732_050_807_568_877_2;

fn near(ours: f64, theirs: f64) {
    assert!((ours - theirs).abs() <= 1e-12 * theirs.abs(), "{ours} is not {theirs}");
}

fn read(text: &str, dimension: Dimension) -> Measured {
    parse(text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn means(text: &str, dimension: Dimension, value: f64, u: f64) {
    let measured = read(text, dimension);
    near(measured.value, value);
    near(measured.u, u);
    assert_eq!(measured.written.as_deref(), Some(text.trim()));
}

#[test]
fn exact_ways_to_write_limits() {
    for text in [
        "10.2 ± 0.1 mm",
        "(10.2 ± 0.1) mm",
        "10.2 mm ± 0.1 mm",
        "10.2 mm (± 0.1 mm)",
        "10.2 mm ± 100 µm",
        "10.2 mm ± 0.1",
        "10.2+-0.1mm",
        "10,2 +/- 0,1 mm",
        "10.2\u{a0}±\u{202f}0.1\u{a0}mm",
        "1.02 cm ± 0.1 mm",
        "10.2 ± (0.05 + 0.05) mm",
    ] {
        means(text, Length, 0.0102, 1e-4 / ROOT_3);
        assert_eq!(read(text, Length).shape, Shape::Rectangular);
    }
    means("10.2 mm ± 5 %", Length, 0.0102, 0.00051 / ROOT_3);
    means("10.2 mm ± 5%", Length, 0.0102, 0.00051 / ROOT_3);
    means("-10.2 mm ± 5 %", Length, -0.0102, 0.00051 / ROOT_3);
    means("\u{2212}0.3 ± 0.1 mm", Length, -0.0003, 1e-4 / ROOT_3);
}

#[test]
fn exact_expanded_uncertainty_is_divided_by_its_factor() {
    for text in
        ["10.2 ± 0.1 mm (k=2)", "10.2 mm ± 0.1 mm (k = 2)", "10.2 ± 0.1 mm, k=2", "(10.2 ± 0.1) mm (k=2)"]
    {
        means(text, Length, 0.0102, 5e-5);
        assert_eq!(read(text, Length).shape, Shape::Normal);
    }
    means("10.2 mm ± 3 % (k=3)", Length, 0.0102, 0.000102);
}

#[test]
fn exact_meter_limits_count_digits_of_the_reading() {
    // 0.5 % of 4860 Ω is 24.3 Ω; the last digit written is 10 Ω, two of them are 20 Ω.
    for text in [
        "4.86 kΩ ±(0.5 % + 2 digits)",
        "4.86 ± (0.5 % + 2 digits) kΩ",
        "4.86 kohm ± 0.5% + 2d",
        "(4.86 ± (0.5 % + 2 dgt)) k",
        "4.86 kΩ ± (0.5 % + 0.02 kΩ)",
    ] {
        means(text, Resistance, 4860.0, 44.3 / ROOT_3);
    }
    means("4.86 kΩ by multimeter", Resistance, 4860.0, (0.009 * 4860.0 + 20.0) / ROOT_3);
}

#[test]
fn exact_bare_figures_are_good_to_half_their_last_digit() {
    means("54.5 mm", Length, 0.0545, 0.05e-3 / ROOT_3);
    means("54.50 mm", Length, 0.0545, 0.005e-3 / ROOT_3);
    means(
        "6000 rpm",
        Speed,
        6000.0 * std::f64::consts::PI / 30.0,
        0.5 * std::f64::consts::PI / 30.0 / ROOT_3,
    );
    means("1 3/32 in", Length, 1.09375 * 0.0254, 0.0254 / 64.0 / ROOT_3);
    means("3/8\"", Length, 0.375 * 0.0254, 0.0254 / 16.0 / ROOT_3);
    means("1½ turns", Angle, 3.0 * std::f64::consts::PI, 0.5 * std::f64::consts::PI / ROOT_3);
    means("54.5 mm exact", Length, 0.0545, 0.0);
    means("20 °C", Temperature, 293.15, 0.5 / ROOT_3);
    means("68 °F", Temperature, 293.15, 0.5 * 5.0 / 9.0 / ROOT_3);
    means("0.12", Number, 0.12, 0.005 / ROOT_3);
}

#[test]
fn exact_instruments_give_their_half_width() {
    for text in ["10.2 mm by calliper", "10.2 mm by Caliper", "10.2mm by a vernier"] {
        means(text, Length, 0.0102, 0.05e-3 / ROOT_3);
    }
    means("92 deg by degree wheel", Angle, 92f64.to_radians(), 1f64.to_radians() / ROOT_3);
    means("25 N by spring scale", Force, 25.0, 1.25 / ROOT_3);
}

#[test]
fn exact_per_cent_of_numbers_and_of_per_cents() {
    means("0.12 ± 10 %", Number, 0.12, 0.012 / ROOT_3);
    means("85 % ± 2 %", Number, 0.85, 0.02 / ROOT_3);
    means("0.12 ± 0.02", Number, 0.12, 0.02 / ROOT_3);
}

#[test]
fn exact_units_are_read_in_every_usual_spelling() {
    let cases: &[(&str, Dimension, f64)] = &[
        ("1.5 N m", Torque, 1.5),
        ("1.5 Nm", Torque, 1.5),
        ("1.5 N.m", Torque, 1.5),
        ("1.5 N·m", Torque, 1.5),
        ("1500 N·mm", Torque, 1.5),
        ("10 ft-lbf", Torque, 13.558_179_483_314_004),
        ("10 lbf ft", Torque, 13.558_179_483_314_004),
        ("10 in·lbf", Torque, 1.129_848_290_276_167),
        ("10 kgf cm", Torque, 0.980_665),
        ("2.4 N/mm", Stiffness, 2400.0),
        ("1 lbf/in", Stiffness, 175.126_835_246_476_36),
        ("3000 1/min", Speed, 314.159_265_358_979_3),
        ("3000 r/min", Speed, 314.159_265_358_979_3),
        ("3000 RPM", Speed, 314.159_265_358_979_3),
        ("124.6 cc", Volume, 124.6e-6),
        ("124.6 cm^3", Volume, 124.6e-6),
        ("7.6 cu in", Volume, 7.6 * 1.638_706_4e-5),
        ("5.1 k", Resistance, 5100.0),
        ("5.1 k\u{2126}", Resistance, 5100.0),
        ("50 thou", Length, 0.00127),
        ("12 \u{3bc}m", Length, 12e-6),
        ("1e-3 m", Length, 1e-3),
        ("0.12 N·m/deg", TorsionRate, 6.875_493_541_569_878),
        ("14.7 psi", Pressure, 101_352.932_209_575_5),
        ("25 ms", Time, 0.025),
    ];
    for (text, dimension, value) in cases {
        let ours = read(text, *dimension).value;
        assert!((ours - value).abs() <= 1e-12 * value.abs(), "{text}: {ours} is not {value}");
    }
}
