//! Runs a duct for the checks of gas flow.

use gas::duct::{Caloric, Duct, End, EndFlux, EndState, Instructions};

/// Advances to a time with a Courant number; `ends` gives the flux through each end. Gives the number of steps.
///
/// # Panics
/// When the state breaks.
pub fn run<const L: usize>(
    duct: &mut Duct<L>,
    gas: &Caloric,
    courant: f64,
    until_s: f64,
    mut ends: impl FnMut(End, &EndState<L>, f64) -> EndFlux<L>,
) -> usize {
    let set = Instructions::best();
    let (mut time, mut steps) = (0.0, 0);
    while time < until_s {
        let fastest = duct.prepare(gas, set);
        assert!(fastest.is_finite() && fastest > 0.0, "the flow broke at {time} s: fastest wave {fastest}");
        let step = (courant / fastest).min(until_s - time);
        duct.advance(gas, step, set);
        for which in End::BOTH {
            let flux = ends(which, duct.end(which), time);
            duct.close(which, &flux, step);
        }
        time += step;
        steps += 1;
        assert!(steps < 10_000_000, "no end in sight at {time} s");
    }
    duct.prepare(gas, set);
    steps
}
