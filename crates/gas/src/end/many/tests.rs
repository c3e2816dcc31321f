//! The form of several lanes beside that of one.

use super::*;
use crate::duct::Instructions;

/// States from a fixed sequence, so wide apart that every way of flowing is met.
fn draw(at: &mut u64) -> f64 {
    *at = at.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (*at >> 11) as f64 / (1u64 << 53) as f64
}

fn case(seed: &mut u64) -> (EndState<4>, Reservoirs<4>, Openings<4>) {
    let mut end = EndState {
        density: [0.0; 4],
        velocity_in: [0.0; 4],
        pressure: [0.0; 4],
        sound: [0.0; 4],
        gamma: [0.0; 4],
        enthalpy: [0.0; 4],
        y: [[0.02; 4], [0.5; 4]],
    };
    let mut outside = Reservoirs::same(&Reservoir {
        pressure_pa: 1e5,
        temperature_k: 300.0,
        r_j_kg_k: 287.0,
        gamma: 1.4,
        enthalpy_j_kg: 0.0,
        y: [0.01, 0.1],
    });
    let mut openings = Openings { share_in: [0.0; 4], share_out: [0.0; 4], recovery: Recovery::Nothing };
    for l in 0..4 {
        let (gamma, t_k) = (1.25 + 0.15 * draw(seed), 300.0 + 1200.0 * draw(seed));
        end.gamma[l] = gamma;
        end.pressure[l] = 1e5 * 4f64.powf(2.0 * draw(seed) - 1.0);
        end.density[l] = end.pressure[l] / (287.0 * t_k);
        end.sound[l] = (gamma * 287.0 * t_k).sqrt();
        end.velocity_in[l] = end.sound[l] * (1.6 * draw(seed) - 0.8);
        end.enthalpy[l] = 1100.0 * (t_k - 300.0);
        let t0_k = 300.0 + 1500.0 * draw(seed);
        outside.pressure_pa[l] = 1e5 * 6f64.powf(2.0 * draw(seed) - 1.0);
        outside.temperature_k[l] = t0_k;
        outside.gamma[l] = 1.25 + 0.15 * draw(seed);
        outside.enthalpy_j_kg[l] = 1100.0 * (t0_k - 300.0);
        let share = (1.2 * draw(seed) - 0.1).clamp(0.0, 1.0);
        (openings.share_in[l], openings.share_out[l]) = (share, (1.1 * share).min(1.0));
    }
    (end, outside, openings)
}

#[test]
fn agrees_with_the_one_lane_form() {
    let mut seed = 20260;
    for number in 0..20_000 {
        let (end, outside, mut openings) = case(&mut seed);
        if number % 2 == 1 {
            openings.recovery = Recovery::Momentum;
        }
        for set in [Instructions::PLAIN, Instructions::best()] {
            let flux = set.through(&end, &outside, &openings);
            for l in 0..4 {
                let one = Opening {
                    share_in: openings.share_in[l],
                    share_out: openings.share_out[l],
                    recovery: openings.recovery,
                };
                let mut single = EndFlux::NONE;
                crate::end::open_lane(&end, l, &outside.lane(l), &one, &mut single);
                let scale = end.density[l] * end.sound[l];
                let off = (flux.mass[l] - single.mass[l]).abs() / scale;
                assert!(off < 1e-8, "{number} {l}: mass {} {}", flux.mass[l], single.mass[l]);
                let off = (flux.momentum[l] / single.momentum[l] - 1.0).abs();
                assert!(off < 1e-8, "{number} {l}: {} {}", flux.momentum[l], single.momentum[l]);
                let off = (flux.energy[l] - single.energy[l]).abs() / (scale * 1e6);
                assert!(off < 1e-8, "{number} {l}: energy {} {}", flux.energy[l], single.energy[l]);
            }
        }
    }
}
