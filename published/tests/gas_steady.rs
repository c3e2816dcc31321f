//! Gas at rest, what is conserved, steady nozzles and diffusers, friction, heat, and vessels on a duct.

use gas::duct::{Caloric, Duct, End, EndState, GasState, Geometry, Instructions, Section};
use gas::end::{self, Opening, Recovery, Reservoir};
use published::flow::run;
use published::table::{Line, Table};
use published::{Tolerance, cite};

const PROFILES: &str = include_str!("../data/gas/e1_nozzle_profiles.csv");
const CASES: &str = include_str!("../data/gas/e2_nozzle_cases.csv");
const PIPES: &str = include_str!("../data/gas/e5_fanno_rayleigh_pipes.csv");
const BLOWDOWN: &str = include_str!("../data/gas/h1_blowdown_history.csv");
const VESSELS: &str = include_str!("../data/gas/h2_blowdown_cases.csv");
const VOLUMES: &str = include_str!("../data/gas/d9_helmholtz.csv");

const R: f64 = 287.0;

fn reservoir(gamma: f64, pressure_pa: f64, temperature_k: f64) -> Reservoir {
    let enthalpy_j_kg = gamma / (gamma - 1.0) * R * temperature_k;
    Reservoir { pressure_pa, temperature_k, r_j_kg_k: R, gamma, enthalpy_j_kg, y: [0.0; 2] }
}

fn of_line(line: &Line<'_>) -> GasState {
    GasState {
        pressure_pa: line.number("p"),
        temperature_k: line.number("T"),
        velocity_m_s: line.number("u"),
        y: [0.0; 2],
    }
}

/// Area of the invented nozzles at a distance, m².
fn area(case: &str, x: f64) -> f64 {
    let circle = |d: f64| std::f64::consts::FRAC_PI_4 * d * d;
    let taper = |from: f64, to: f64, begin: f64| from + (to - from) * ((x - begin) / 0.3).clamp(0.0, 1.0);
    match case {
        "parabolic_shock" => 1.0 + 2.2 * (x - 1.5) * (x - 1.5),
        "parabolic_subsonic" if x < 1.5 => 1.0 + 2.2 * (x - 1.5) * (x - 1.5),
        "parabolic_subsonic" => 1.0 + 0.2223 * (x - 1.5) * (x - 1.5),
        "cone_diffuser_40_100" => circle(taper(0.04, 0.1, 0.3)),
        "cone_shock_60_40_100" if x < 0.3 => circle(taper(0.06, 0.04, 0.0)),
        "cone_shock_60_40_100" => circle(taper(0.04, 0.1, 0.3)),
        other => panic!("{other} is no nozzle"),
    }
}

#[test]
fn published_steady_nozzles_and_diffusers() {
    let profiles = Table::read(PROFILES);
    for case in Table::read(CASES).lines() {
        let name = case.text("case");
        let exact = profiles.of("case", name);
        let cells = exact.len();
        let length = case.number("x_exit") / cells as f64;
        let marks: Vec<_> = (0..cells)
            .map(|i| (length, area(name, i as f64 * length), area(name, (i + 1) as f64 * length), 0))
            .collect();
        let geometry = Geometry::from_areas(&marks).expect("a duct");
        let gas = Caloric::perfect(1.4, R);
        let at = |x: f64| of_line(&exact[((x / length) as usize).min(cells - 1)]);
        let mut duct = Duct::<1>::new(geometry, &gas, |_, x| at(x));
        let inlet = reservoir(1.4, case.number("p0"), case.number("T0"));
        let outlet = reservoir(1.4, case.number("p_exit"), case.number("T0"));
        let until = 100.0 * case.number("x_exit") / 340.0;
        let (mut flow, mut sums, mut count) = ([0.0; 2], [0.0; 2], 0.0);
        let steps = run(&mut duct, &gas, 0.8, until, |which, state: &EndState<1>, time| {
            let outside = if which == End::Begin { &inlet } else { &outlet };
            let flux = end::open(state, outside, &Opening::BELL_MOUTH);
            flow[which as usize] = flux.mass[0];
            if time > 0.5 * until {
                sums[which as usize] += flux.mass[0];
                count += 0.5;
            }
            flux
        });
        let areas = [marks[0].1, -marks[cells - 1].2];
        let mean = [sums[0] / count * areas[0], sums[1] / count * areas[1]];
        let flow = [flow[0] * areas[0], flow[1] * areas[1]];
        let mdot = case.number("mdot");
        let shock = Some(case.number("x_shock")).filter(|at| at.is_finite());
        let (mut worst_p, mut worst_m, mut found) = (0.0, 0.0, f64::NAN);
        let mach = |cell: usize| {
            let state = duct.gas(cell, 0).expect("a cell");
            state.velocity_m_s / (1.4 * R * state.temperature_k).sqrt()
        };
        for (cell, line) in exact.iter().enumerate() {
            let x = line.number("x");
            if cell > 0 && mach(cell - 1) > 1.2 && mach(cell) < 1.0 {
                found = x;
            } else if cell > 0 && mach(cell - 1) > 1.0 && mach(cell) < 1.0 && found.is_nan() {
                found = x - 0.5 * length;
            }
            if shock.is_some_and(|at| (x - at).abs() < 4.0 * length) {
                continue;
            }
            let p = duct.gas(cell, 0).expect("a cell").pressure_pa;
            worst_p += (p / line.number("p") - 1.0).abs() / cells as f64;
            worst_m += (mach(cell) / line.number("M") - 1.0).abs() / cells as f64;
        }
        println!(
            "{name}: {steps} steps, mean out over in {:.2e}, mass flow in {:.2e} out {:.2e}, mean error p {worst_p:.2e} M {worst_m:.2e}, shock off {:.2} cells",
            mean[1] / mean[0] - 1.0,
            flow[0] / mdot - 1.0,
            flow[1] / mdot - 1.0,
            shock.map_or(0.0, |at| (found - at) / length),
        );
        let two = || Tolerance::absolute(2e-3, "second order, cells as in the table; shock left out");
        let source = cite(
            "ANDERSON-1995",
            "chapter 7, test nozzles; quasi-one-dimensional relations solved independently",
        );
        source
            .near(
                &format!("{name}: mean mass flow in, kg/s"),
                mean[0],
                mdot,
                Tolerance::relative(2e-3, "second order"),
            )
            // A finding: a captured standing shock need not come wholly to rest. In one nozzle what leaves wanders by 4e-4; the
            // suggested 1e-6 is met only without a shock; the mean over many swings closes.
            .near(
                &format!("{name}: mass flow out over in at the end"),
                flow[1] / flow[0],
                1.0,
                match shock {
                    Some(_) => Tolerance::absolute(2e-3, "the captured shock swings within its cells"),
                    None => Tolerance::absolute(1e-6, "settled"),
                },
            )
            .near(
                &format!("{name}: mean mass flow out over in"),
                mean[1] / mean[0],
                1.0,
                Tolerance::absolute(1e-4, "mean over 50 times the length over 340 m/s"),
            )
            .near(&format!("{name}: mean relative error of pressure"), worst_p, 0.0, two())
            .near(&format!("{name}: mean relative error of Mach number"), worst_m, 0.0, two());
        if let Some(at) = shock {
            let cells = Tolerance::absolute(1.5 * length, "one and a half cells");
            source.near(&format!("{name}: place of the shock, m"), found, at, cells);
        }
    }
}

/// Mean relative errors of pressure and velocity in a pipe with friction or heat on so many cells.
fn pipe_error(case: &str, cells: usize) -> [f64; 2] {
    let table = Table::read(PIPES);
    let exact = table.of("case", case);
    let gas = Caloric::perfect(1.4, R);
    let between = |x: f64| {
        let at = ((x * 100.0).floor() as usize).clamp(1, 98);
        let share = x * 100.0 - at as f64;
        // Cubic through four neighbouring rows.
        let weights = [
            -share * (share - 1.0) * (share - 2.0) / 6.0,
            (share + 1.0) * (share - 1.0) * (share - 2.0) / 2.0,
            -(share + 1.0) * share * (share - 2.0) / 2.0,
            (share + 1.0) * share * (share - 1.0) / 6.0,
        ];
        let mix = |column: &str| -> f64 {
            weights.iter().enumerate().map(|(k, weight)| weight * exact[at + k - 1].number(column)).sum()
        };
        GasState { pressure_pa: mix("p"), temperature_k: mix("T"), velocity_m_s: mix("u"), y: [0.0; 2] }
    };
    let geometry = Geometry::straight(1.0, 0.04, cells).expect("a duct");
    let mut duct = Duct::<1>::new(geometry, &gas, |_, x| between(x));
    // Heat of 120 kJ/kg along the pipe whatever the gas: from a wall far hotter than any gas.
    let hot = 1e10;
    for cell in 0..cells {
        match case {
            "fanno_pipe" => duct.set_wall(cell, 0, 2.0 * 0.005 / 0.04, 0.0, 300.0),
            _ => duct.set_wall(cell, 0, 0.0, 1.2e5 / (3.5 * R * hot), hot),
        }
    }
    let (first, last) = (&exact[0], &exact[exact.len() - 1]);
    let warmer = 1.0 + 0.2 * first.number("M") * first.number("M");
    let inlet = reservoir(1.4, first.number("p") * warmer.powf(3.5), first.number("T") * warmer);
    let outlet = reservoir(1.4, last.number("p"), last.number("T"));
    run(&mut duct, &gas, 0.8, 0.5, |which, state, _| {
        end::open(state, if which == End::Begin { &inlet } else { &outlet }, &Opening::BELL_MOUTH)
    });
    let mut sums = [0.0; 2];
    for cell in 0..cells {
        let (ours, theirs) =
            (duct.gas(cell, 0).expect("a cell"), between((cell as f64 + 0.5) / cells as f64));
        sums[0] += (ours.pressure_pa / theirs.pressure_pa - 1.0).abs() / cells as f64;
        sums[1] += (ours.velocity_m_s / theirs.velocity_m_s - 1.0).abs() / cells as f64;
    }
    sums
}

#[test]
fn published_pipes_with_friction_and_with_heat() {
    for (case, what) in [("fanno_pipe", "friction"), ("rayleigh_pipe", "heat")] {
        let errors = [25, 50, 100].map(|cells| pipe_error(case, cells));
        println!("{case}: {errors:?}");
        let source = cite(
            "SHAPIRO-1953",
            "chapters 6 and 7, flow with friction and with heat, worked out independently",
        );
        let close = || Tolerance::absolute(1e-4, "second order; ten times below the suggested 0.1 %");
        source
            .near(&format!("{what}, 100 cells: mean relative error of pressure"), errors[2][0], 0.0, close())
            .near(&format!("{what}, 100 cells: mean relative error of velocity"), errors[2][1], 0.0, close())
            .between(
                &format!("{what}: observed order of velocity, 25 to 50 cells"),
                (errors[0][1] / errors[1][1]).log2(),
                1.5,
                3.0,
            );
    }
}

/// The invented tuned pipe of the check data.
fn tuned_pipe() -> Geometry {
    let sections = [
        (0.30, 0.038, 0.038),
        (0.35, 0.038, 0.1),
        (0.10, 0.1, 0.1),
        (0.20, 0.1, 0.022),
        (0.25, 0.022, 0.022),
    ]
    .map(|(length_m, begin_m, end_m)| Section { length_m, begin_m, end_m });
    Geometry::from_sections(&sections, 0.01).expect("a duct")
}

#[test]
fn published_gas_at_rest_in_a_tuned_pipe_stays_at_rest() {
    let gas = Caloric::perfect_pair([1.4, 1.3], [287.0, 290.0]);
    // Hot burned gas in the first half, cool air behind it.
    let mut duct = Duct::<2>::new(tuned_pipe(), &gas, |_, x| {
        let hot = x < 0.5;
        GasState {
            pressure_pa: 1e5,
            temperature_k: if hot { 900.0 } else { 300.0 },
            velocity_m_s: 0.0,
            y: [f64::from(u8::from(hot)), 0.0],
        }
    });
    run(&mut duct, &gas, 0.8, 0.02, |_, state, _| end::closed(state));
    let fastest = (0..duct.geometry().cells())
        .map(|cell| duct.gas(cell, 1).expect("a cell").velocity_m_s.abs())
        .fold(0.0, f64::max);
    println!("fastest {fastest:e} m/s");
    cite("GREENBERG-LEROUX", "a scheme must keep the rest state of a duct of any shape").near(
        "tuned pipe with a hot half, 20 ms: fastest gas, m/s",
        fastest,
        0.0,
        Tolerance::absolute(1e-9, "rounding of pressure times area, 1e-16 of it a step"),
    );
}

#[test]
fn published_closed_duct_keeps_mass_energy_and_species() {
    let gas = Caloric::perfect_pair([1.4, 1.3], [287.0, 290.0]);
    let mut duct = Duct::<4>::new(tuned_pipe(), &gas, |lane, x| {
        let hot = x < 0.2 + 0.1 * lane as f64;
        GasState {
            pressure_pa: if hot { 4e5 } else { 1e5 },
            temperature_k: if hot { 1500.0 } else { 400.0 },
            velocity_m_s: 0.0,
            y: [0.5 * f64::from(u8::from(hot)), 0.3],
        }
    });
    for cell in 0..duct.geometry().cells() {
        for lane in 0..4 {
            duct.set_wall(cell, lane, 0.5, 0.0, 300.0);
        }
    }
    let before = [0, 1, 2, 3].map(|lane| duct.content(lane));
    let steps = run(&mut duct, &gas, 0.8, 0.02, |_, state, _| end::closed(state));
    for (lane, was) in before.iter().enumerate() {
        let is = duct.content(lane);
        let parts = [
            ("mass", is.mass_kg, was.mass_kg),
            ("energy", is.energy_j, was.energy_j),
            ("second species", is.species_kg[0], was.species_kg[0]),
            ("third species", is.species_kg[1], was.species_kg[1]),
        ];
        for (what, ours, theirs) in parts {
            println!("lane {lane}: {what} {:.2e} after {steps} steps", ours / theirs - 1.0);
            cite("LEVEQUE-2002", "section 4.1, a conservative scheme keeps sums to rounding").near(
                &format!(
                    "closed tuned pipe, strong waves, 20 ms, lane {lane}: {what} over that at the start"
                ),
                ours / theirs,
                1.0,
                Tolerance::absolute(1e-12, "rounding"),
            );
        }
    }
}

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
        let outside = reservoir(1.4, p0, t0);
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
