//! The whole duct: lanes and instruction sets agree, nothing breaks in a violent start.

use super::*;
use crate::end;
use crate::gas::{Air, Gas};

fn petrol() -> Caloric {
    Caloric::from(&Gas::petrol(Air::DRY, 1.1).expect("a gas"))
}

fn pipe() -> Geometry {
    let sections = [(0.2, 0.04, 0.04), (0.2, 0.04, 0.1), (0.1, 0.1, 0.022), (0.1, 0.022, 0.022)]
        .map(|(length_m, begin_m, end_m)| Section { length_m, begin_m, end_m });
    Geometry::from_sections(&sections, 0.01).expect("a duct")
}

/// Blow-down into a tuned pipe, stronger with the lane's number.
fn start(strength: f64, x: f64) -> GasState {
    let hot = x < 0.1;
    GasState {
        pressure_pa: if hot { 1e5 * strength } else { 1e5 },
        temperature_k: if hot { 1800.0 } else { 350.0 },
        velocity_m_s: 0.0,
        y: if hot { [0.0, 1.0] } else { [0.06, 0.0] },
    }
}

fn run<const L: usize>(strengths: [f64; L], set: Instructions) -> Duct<L> {
    let gas = petrol();
    let mut duct = Duct::<L>::new(pipe(), &gas, |lane, x| start(strengths[lane], x));
    for cell in 0..duct.geometry().cells() {
        for lane in 0..L {
            duct.set_wall(cell, lane, 0.3, 0.4, 500.0);
        }
    }
    for _ in 0..200 {
        let fastest = duct.prepare(&gas, set);
        assert!(fastest.is_finite());
        duct.advance(&gas, 4e-6, set);
        for which in End::BOTH {
            let flux = end::closed(duct.end(which));
            duct.close(which, &flux, 4e-6);
        }
    }
    duct.prepare(&gas, set);
    duct
}

fn difference<const A: usize, const B: usize>(one: &Duct<A>, two: &Duct<B>, lanes: [usize; 2]) -> f64 {
    let off = |cell: usize| {
        let (a, b) = (one.gas(cell, lanes[0]).expect("a cell"), two.gas(cell, lanes[1]).expect("a cell"));
        (a.pressure_pa / b.pressure_pa - 1.0)
            .abs()
            .max((a.temperature_k / b.temperature_k - 1.0).abs())
            .max((a.velocity_m_s - b.velocity_m_s).abs() / 500.0)
    };
    (0..one.geometry().cells()).map(off).fold(0.0, f64::max)
}

#[test]
fn agrees_whatever_the_instruction_set() {
    let strengths = [1.5, 3.0, 6.0, 9.0];
    let (plain, best) = (run(strengths, Instructions::PLAIN), run(strengths, Instructions::best()));
    for lane in 0..4 {
        let off = difference(&plain, &best, [lane, lane]);
        assert!(
            off < 1e-10,
            "lane {lane} differs by {off:e} between plain and {}",
            Instructions::best().name()
        );
    }
}

#[test]
fn agrees_whatever_the_number_of_lanes() {
    let many = run([1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 9.0], Instructions::PLAIN);
    let (three, one) = (run([3.0, 6.0, 9.0], Instructions::PLAIN), run([9.0], Instructions::PLAIN));
    assert!(difference(&many, &three, [2, 0]) < 1e-12);
    assert!(difference(&many, &three, [7, 2]) < 1e-12);
    assert!(difference(&many, &one, [7, 0]) < 1e-12);
}

#[test]
fn conserves_composition_within_its_bounds() {
    let duct = run([9.0], Instructions::best());
    for cell in 0..duct.geometry().cells() {
        let [fuel, burned] = duct.gas(cell, 0).expect("a cell").y;
        assert!(fuel > -1e-12 && burned > -1e-12 && fuel + burned < 1.0 + 1e-12, "{cell}: {fuel} {burned}");
    }
}

#[test]
fn refuses_to_hide_a_broken_state() {
    let gas = petrol();
    let mut duct = Duct::<4>::new(pipe(), &gas, |_, x| start(2.0, x));
    duct.refill(&gas, 2, |_| GasState { pressure_pa: f64::NAN, ..start(2.0, 0.0) });
    for set in [Instructions::PLAIN, Instructions::best()] {
        assert!(duct.prepare(&gas, set).is_nan());
    }
}
