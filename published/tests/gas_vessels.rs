//! Vessels on a duct: emptying through a port, and the resonance of a volume on a pipe.

use gas::duct::{Caloric, Duct, End, GasState, Geometry, Instructions};
use gas::end::{self, Opening, Recovery, Reservoir};
use published::table::Table;
use published::{Tolerance, cite};

const BLOWDOWN: &str = include_str!("../data/gas/h1_blowdown_history.csv");
const VESSELS: &str = include_str!("../data/gas/h2_blowdown_cases.csv");
const VOLUMES: &str = include_str!("../data/gas/d9_helmholtz.csv");

const R: f64 = 287.0;

/// A vessel of constant volume without heat, calorically perfect.
struct Vessel {
    volume: f64,
    mass: f64,
    energy: f64,
    gamma: f64,
}

impl Vessel {
    fn of(volume: f64, gamma: f64, pressure: f64, temperature: f64, r: f64) -> Self {
        Self {
            volume,
            mass: pressure * volume / (r * temperature),
            energy: pressure * volume / (gamma - 1.0),
            gamma,
        }
    }

    fn reservoir(&self, r: f64) -> Reservoir {
        let pressure_pa = (self.gamma - 1.0) * self.energy / self.volume;
        let temperature_k = pressure_pa * self.volume / (self.mass * r);
        let enthalpy_j_kg = self.gamma / (self.gamma - 1.0) * r * temperature_k;
        Reservoir { pressure_pa, temperature_k, r_j_kg_k: r, gamma: self.gamma, enthalpy_j_kg, y: [0.0; 2] }
    }
}

#[test]
fn published_vessel_empties_through_a_port_into_a_wide_pipe() {
    let table = Table::read(BLOWDOWN);
    for case in Table::read(VESSELS).lines().filter(|case| case.text("case").starts_with("adiabatic")) {
        let name = case.text("case");
        let (gamma, r) = (case.number("gamma"), case.number("R"));
        let gas = Caloric::perfect(gamma, r);
        let outside = case.number("pb");
        let mut vessel = Vessel::of(case.number("V"), gamma, case.number("p0"), case.number("T0"), r);
        let effective = case.number("Cd") * case.number("A");
        // So wide that its own pressure hardly answers.
        let pipe_area = 100.0 * effective;
        let diameter = (pipe_area / std::f64::consts::FRAC_PI_4).sqrt();
        let rest = GasState { pressure_pa: outside, temperature_k: 600.0, velocity_m_s: 0.0, y: [0.0; 2] };
        let mut duct =
            Duct::<1>::new(Geometry::straight(4.0, diameter, 400).expect("a duct"), &gas, |_, _| rest);
        let share = effective / pipe_area;
        let port = Opening { share_in: share, share_out: share, recovery: Recovery::Nothing };
        let set = Instructions::best();
        let (mut time, mut worst) = (0.0, 0.0f64);
        for line in table.of("case", name) {
            let until = line.number("t");
            while time < until {
                let step = (0.8 / duct.prepare(&gas, set)).min(until - time);
                duct.advance(&gas, step, set);
                // The vessel's state in the middle of the step, by one half step with the flux of its beginning.
                let begin = end::open(duct.end(End::Begin), &vessel.reservoir(r), &port);
                let half = Vessel {
                    mass: vessel.mass - 0.5 * step * pipe_area * begin.mass[0],
                    energy: vessel.energy - 0.5 * step * pipe_area * begin.energy[0],
                    ..vessel
                };
                let flux = end::open(duct.end(End::Begin), &half.reservoir(r), &port);
                let far = end::free(duct.end(End::Far));
                vessel.mass -= step * pipe_area * flux.mass[0];
                vessel.energy -= step * pipe_area * flux.energy[0];
                duct.close(End::Begin, &flux, step);
                duct.close(End::Far, &far, step);
                time += step;
            }
            worst = worst.max((vessel.reservoir(r).pressure_pa / line.number("p") - 1.0).abs());
        }
        println!("{name}: worst {worst:.2e}");
        cite("HEYWOOD-1988", "appendix C, flow through a restriction; emptying integrated independently")
            .near(
                &format!("{name}: greatest relative error of pressure in the vessel"),
                worst,
                0.0,
                Tolerance::absolute(0.01, "the pipe's pressure rises by up to 1 % while the vessel empties"),
            );
    }
}

#[test]
fn published_resonance_of_a_volume_on_a_pipe() {
    for line in Table::read(VOLUMES).lines() {
        let (volume, diameter, length, c) =
            (line.number("V"), line.number("d"), line.number("L"), line.number("c"));
        let (p0, theirs) = (1e5, line.number("f_coupled"));
        let t0 = c * c / (1.4 * R);
        let gas = Caloric::perfect(1.4, R);
        let rest = GasState { pressure_pa: p0, temperature_k: t0, velocity_m_s: 0.0, y: [0.0; 2] };
        let geometry = Geometry::straight(length, diameter, 50).expect("a duct");
        let mut duct = Duct::<1>::new(geometry, &gas, |_, _| rest);
        let area = duct.end_area_m2(End::Begin);
        let lift = 1.0f64 + 1e-4;
        let mut vessel = Vessel::of(volume, 1.4, p0 * lift, t0 * lift.powf(0.4 / 1.4), R);
        let enthalpy_j_kg = 3.5 * R * t0;
        let outside = Reservoir {
            pressure_pa: p0,
            temperature_k: t0,
            r_j_kg_k: R,
            gamma: 1.4,
            enthalpy_j_kg,
            y: [0.0; 2],
        };
        let set = Instructions::best();
        let (mut time, mut last, mut zeros) = (0.0, 1.0, Vec::new());
        while time < 12.0 / theirs {
            let step = 0.8 / duct.prepare(&gas, set);
            duct.advance(&gas, step, set);
            let first = end::open(duct.end(End::Begin), &vessel.reservoir(R), &Opening::BELL_MOUTH);
            let half = Vessel {
                mass: vessel.mass - 0.5 * step * area * first.mass[0],
                energy: vessel.energy - 0.5 * step * area * first.energy[0],
                ..vessel
            };
            let flux = end::open(duct.end(End::Begin), &half.reservoir(R), &Opening::BELL_MOUTH);
            let far = end::open(duct.end(End::Far), &outside, &Opening::BELL_MOUTH);
            vessel.mass -= step * area * flux.mass[0];
            vessel.energy -= step * area * flux.energy[0];
            duct.close(End::Begin, &flux, step);
            duct.close(End::Far, &far, step);
            time += step;
            let now = vessel.reservoir(R).pressure_pa - p0;
            if now * last < 0.0 {
                zeros.push(time - step * now / (now - last));
            }
            last = now;
        }
        // The first swings also hold the pipe's higher modes.
        let kept = &zeros[2..];
        let ours = 0.5 * (kept.len() - 1) as f64 / (kept[kept.len() - 1] - kept[0]);
        println!("{volume} m3: {ours} {theirs}");
        cite("KINSLER", "a volume on a pipe: root of cot(kL) = kV/S").near(
            &format!("{:.0} cm3 on {:.0} mm of pipe: frequency, Hz", volume * 1e6, length * 1e3),
            ours,
            theirs,
            Tolerance::relative(3e-3, "as the check data suggest; higher modes shift single zeros"),
        );
    }
}
