//! Gas at rest, what is conserved, steady nozzles and diffusers, friction and heat.

use gas::duct::{Caloric, Duct, End, EndState, GasState, Geometry, Section};
use gas::end::{self, Opening, Reservoir};
use published::flow::run;
use published::table::{Line, Table};
use published::{Tolerance, cite};

const PROFILES: &str = include_str!("../data/gas/e1_nozzle_profiles.csv");
const CASES: &str = include_str!("../data/gas/e2_nozzle_cases.csv");
const PIPES: &str = include_str!("../data/gas/e5_fanno_rayleigh_pipes.csv");

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
