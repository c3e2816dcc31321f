//! Rates of coil springs.

use gear::spring::{TorsionConstant, coils_for_legs, compression_rate, torsion_rate};
use published::{Tolerance, cite};

const POUND_PER_INCH_N_PER_M: f64 = 4.448_221_615_260_5 / 0.0254;
const PSI_PA: f64 = 6_894.757_293_168_36;
const INCH_M: f64 = 0.0254;

#[test]
fn published_compression_spring_in_millimetres() {
    // The companion prints 16.0 N/mm: its code divides whole numbers. The inputs give 16.2037 N/mm by the book's formula.
    let rate_n_per_m = compression_rate(84e9, 5e-3, 30e-3, 15.0).expect("a spring that can be");
    let tolerance = || Tolerance::relative(1e-4, "the figure carries five to six digits");
    cite(
        "JINDAL",
        "example 8-1, p. 224: wire 5 mm, coil 30 mm, 15 coils, 84 GPa, 300 N (inputs; rate by its formula)",
    )
    .near("rate, N/mm", rate_n_per_m / 1e3, 16.2037, tolerance())
    .near("deflection at 300 N, mm", 300.0 / rate_n_per_m * 1e3, 18.5143, tolerance());
}

#[test]
fn published_compression_spring_in_inches() {
    // 12.79 coils in all, two of them closed ends.
    let rate = compression_rate(11.85e6 * PSI_PA, 0.105 * INCH_M, 0.62 * INCH_M, 12.79 - 2.0)
        .expect("a spring that can be");
    cite("WENTZELL", "example 8-2, p. 163: wire 0.105 in, coil 0.62 in, 12.79 coils in all, 11.85e6 psi")
        .near(
            "rate, lb/in",
            rate / POUND_PER_INCH_N_PER_M,
            70.00,
            Tolerance::absolute(0.04, "the coils are given to 0.01, which is 0.07 lb/in from end to end"),
        );
}

#[test]
fn published_compression_spring_of_music_wire() {
    // Answer and modulus 11.85e6 psi from memory, as the bibliography says; squared ends take two of the coils.
    let rate = compression_rate(11.85e6 * PSI_PA, 0.037 * INCH_M, (7.0 / 16.0 - 0.037) * INCH_M, 12.5 - 2.0)
        .expect("a spring that can be");
    cite("SHIGLEY", "example 10-1: no. 16 wire 0.037 in, outside 7/16 in, 12.5 coils, squared (from memory)")
        .near(
            "rate, lb/in",
            rate / POUND_PER_INCH_N_PER_M,
            4.12,
            Tolerance::relative(0.01, "the answer is recalled, and rounds its steps"),
        );
}

#[test]
fn published_torsion_spring_with_legs() {
    let coil_m = (16.0 - 1.5) * 1e-3;
    let legs = coils_for_legs(20e-3, 20e-3, coil_m);
    let rate = torsion_rate(200e9, 1.5e-3, coil_m, 4.25 + legs, TorsionConstant::Practice)
        .expect("a spring that can be");
    cite("JINDAL", "example 8-9, p. 230: wire 1.5 mm, outside 16 mm, 4.25 coils, legs 20 mm, 200 GPa")
        .near(
            "coils for the legs",
            legs,
            0.2927,
            Tolerance::absolute(5e-5, "the figure carries four decimals"),
        )
        .near(
            "rate, N·mm for a turn",
            rate * std::f64::consts::TAU * 1e3,
            1423.3,
            Tolerance::absolute(0.05, "the figure carries one decimal"),
        );
}
