use super::*;
use proptest::prelude::*;

fn gas(equivalence_ratio: f64) -> Gas {
    Gas::petrol(Air::DRY, equivalence_ratio).unwrap()
}

/// Greatest relative deviation of heat capacity, and deviation of temperature at the same energy over temperature,
/// of a curve from the polynomials between 250 and 3500 K.
fn deviation(blend: &Blend) -> (f64, f64) {
    let (curve, r) = (Curve::of(blend), blend.r_j_kg_k());
    let mut greatest = (0.0f64, 0.0f64);
    for at in 0..=650 {
        let t_k = 250.0 + 5.0 * f64::from(at);
        let cv = blend.cp_j_kg_k(t_k) - r;
        greatest.0 = greatest.0.max((curve.cv_j_kg_k(t_k) / cv - 1.0).abs());
        let off_k = (curve.energy_j_kg(t_k) - blend.sensible_energy_j_kg(t_k)) / cv;
        greatest.1 = greatest.1.max((off_k / t_k).abs());
    }
    greatest
}

#[test]
fn agrees_fast_curves_with_the_polynomials() {
    let air = Air::moist(100e3, 303.15, 1.0).unwrap();
    let mut blends = vec![Air::DRY.blend(), air.blend(), Blend::new([(Species::IsoOctane, 1.0)])];
    for ratio in [0.5, 0.8, 1.0, 1.2, 1.5, 2.0] {
        blends.push(burn(&Air::DRY, ratio).burned);
    }
    for blend in blends {
        let (cv, t) = deviation(&blend);
        assert!(cv < 1e-3, "heat capacity off by {cv:.2e}: {blend:?}");
        assert!(t < 2.5e-4, "temperature off by {t:.2e}: {blend:?}");
    }
}

#[test]
fn exact_below_the_joint_the_curve_is_the_polynomial() {
    let blend = burn(&Air::DRY, 1.2).burned;
    let curve = Curve::of(&blend);
    for t_k in [250.0, 298.15, 500.0, 999.0] {
        let cv = blend.cp_j_kg_k(t_k) - blend.r_j_kg_k();
        assert!((curve.cv_j_kg_k(t_k) / cv - 1.0).abs() < 1e-12);
        assert!((curve.energy_j_kg(t_k) - blend.sensible_energy_j_kg(t_k)).abs() < 1e-6);
    }
}

#[test]
fn exact_pure_shares_are_the_parts_and_energy_is_linear_in_mass() {
    let gas = gas(1.1);
    let (t_k, y) = (1234.0, [0.03, 0.4]);
    let parts = gas.internal_energy(t_k, [0.0, 0.0]) * 0.57
        + gas.internal_energy(t_k, [1.0, 0.0]) * 0.03
        + gas.internal_energy(t_k, [0.0, 1.0]) * 0.4;
    assert!((gas.internal_energy(t_k, y) / parts - 1.0).abs() < 1e-13);
    assert!((gas.r([0.0, 0.0]) - Air::DRY.blend().r_j_kg_k()).abs() < 1e-12);
    assert!((gas.mixture(y).r_j_kg_k - gas.r(y)).abs() < 1e-12);
}

#[test]
fn converges_two_newton_steps_from_a_hundred_kelvin_off() {
    let gas = gas(1.2);
    for y in [[0.0, 0.0], [0.06, 0.0], [0.0, 1.0], [0.03, 0.5]] {
        for t_k in [310.0, 400.0, 900.0, 1000.0, 1050.0, 2000.0, 3400.0] {
            let u = gas.internal_energy(t_k, y);
            for off_k in [-100.0, 100.0] {
                assert!((gas.temperature(u, y, t_k + off_k) - t_k).abs() < 0.01, "{y:?} {t_k} {off_k}");
            }
            assert!((gas.temperature(u, y, t_k + 5.0) - t_k).abs() < 2e-7, "{y:?} {t_k}");
            let settled_k = gas.mixture(y).temperature_settled_k(u, 300.0);
            assert!((settled_k / t_k - 1.0).abs() < 1e-12);
        }
    }
}

#[test]
fn exact_beyond_the_ends_energy_goes_on_straight() {
    let gas = gas(1.0);
    for (t_k, further_k) in [(150.0, 100.0), (4200.0, 4900.0)] {
        let y = [0.0, 0.5];
        let rise = (gas.internal_energy(further_k, y) - gas.internal_energy(t_k, y)) / (further_k - t_k);
        assert!((rise / gas.cv(t_k, y) - 1.0).abs() < 1e-12);
    }
}

#[test]
fn agrees_entropy_is_heat_over_temperature() {
    let gas = gas(1.0);
    for t_k in [260.0, 700.0, 999.9, 1000.1, 2500.0, 4500.0] {
        let (y, h_k) = ([0.02, 0.3], 0.01);
        let rise = (gas.entropy(t_k + h_k, 2e5, y) - gas.entropy(t_k - h_k, 2e5, y)) / (2.0 * h_k);
        assert!((rise * t_k / gas.cp(t_k, y) - 1.0).abs() < 1e-6, "{t_k}");
    }
}

#[test]
fn exact_demo_engine_gives_gas_reed_and_throttle() {
    let gas_path = engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine.gas;
    let air = Air::of(&gas_path.ambient.unwrap()).unwrap();
    // 20 °C, half saturated, 100 kPa: 1169 Pa of vapour.
    assert!((air.water_share() - 0.01169).abs() < 2e-5);
    let gas = Gas::of(&gas_path.fuel.unwrap(), air).unwrap();
    assert!((gas.equivalence_ratio() - 1.15).abs() < 1e-12);
    let reed = crate::reed::Reed::of(&gas_path.reed.unwrap(), crate::reed::ReedMotion::QuasiSteady);
    assert_eq!((reed.petals, reed.stop_m), (6, 0.0095));
    assert_eq!(
        crate::throttle::Throttle::of(gas_path.carburettor.unwrap().throttle),
        crate::throttle::Throttle::Slide
    );
}

#[test]
fn refuses_what_is_no_mixture() {
    assert_eq!(
        Gas::petrol(Air::DRY, 3.0).unwrap_err().to_string(),
        "The equivalence ratio (fuel to air) is 3.0000: give 0.5 to 2."
    );
    assert!(Gas::petrol(Air::DRY, f64::NAN).is_err());
    assert!(Air::moist(1e5, 300.0, 1.5).is_err());
    assert!(Air::moist(1e5, f64::NAN, 0.5).is_err());
}

proptest! {
    #[test]
    fn round_trips_isentropic_change(t in 280.0f64..2500.0, p in 2e4f64..5e6, to in 2e4f64..5e6, burned in 0.0f64..=1.0) {
        let mixture = gas(1.1).mixture([0.0, burned]);
        let there = mixture.isentropic_k(t, p, to);
        let back = mixture.isentropic_k(there, to, p);
        prop_assert!((back / t - 1.0).abs() < 1e-10);
    }

    #[test]
    fn round_trips_energy(t in 200.0f64..4000.0, fuel in 0.0f64..0.2, burned in 0.0f64..=0.8, guess in 250.0f64..3500.0) {
        let mixture = gas(1.1).mixture([fuel, burned]);
        let back = mixture.temperature_settled_k(mixture.internal_energy_j_kg(t), guess);
        prop_assert!((back / t - 1.0).abs() < 1e-10);
    }
}
