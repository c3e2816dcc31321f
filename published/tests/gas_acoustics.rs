//! Small waves in pipes, cones, steps and a whole tuned chamber against linear acoustics.

use gas::duct::{Caloric, Duct, End, GasState, Geometry, Instructions, Section};
use gas::end::{self, Opening, Reservoir};
use published::table::Table;
use published::{Tolerance, cite};
use std::f64::consts::{FRAC_PI_2, PI};

const PIPES: &str = include_str!("../data/gas/d2_pipe_resonances.csv");
const CONES: &str = include_str!("../data/gas/d5_cone_resonances.csv");
const PULSE: &str = include_str!("../data/gas/d8_chamber_pulse_reflection_time.csv");
const TO_CONE: &str = include_str!("../data/gas/d6_cylinder_to_cone_step_reflection.csv");
const STEPS: &str = include_str!("../data/gas/d3_area_step_reflection.csv");

const R: f64 = 287.0;
const P0: f64 = 1e5;
/// Speed of sound of most tables, m/s.
const C: f64 = 343.2;
/// Amplitude of standing waves, Pa: nonlinear effects are some 1e-5 of it.
const SMALL: f64 = 10.0;

fn air() -> Caloric {
    Caloric::perfect(1.4, R)
}

/// Gas in a small isentropic disturbance.
fn disturbed(p0: f64, c: f64, pressure: f64, velocity: f64) -> GasState {
    let t0 = c * c / (1.4 * R);
    let temperature_k = t0 * ((p0 + pressure) / p0).powf(0.4 / 1.4);
    GasState { pressure_pa: p0 + pressure, temperature_k, velocity_m_s: velocity, y: [0.0; 2] }
}

fn outside(p0: f64, c: f64) -> Reservoir {
    let temperature_k = c * c / (1.4 * R);
    let enthalpy_j_kg = 3.5 * R * temperature_k;
    Reservoir { pressure_pa: p0, temperature_k, r_j_kg_k: R, gamma: 1.4, enthalpy_j_kg, y: [0.0; 2] }
}

/// Whether each end is open.
type Open = [bool; 2];

/// Frequency of a standing wave set going with a pressure shape, from the zeros of its strength.
fn frequency(geometry: Geometry, open: Open, shape: impl Fn(f64) -> f64, periods: f64, guess_hz: f64) -> f64 {
    let gas = air();
    let set = Instructions::best();
    let air_outside = outside(P0, C);
    let mut duct = Duct::<1>::new(geometry, &gas, |_, x| disturbed(P0, C, SMALL * shape(x), 0.0));
    let weights: Vec<f64> = (0..duct.geometry().cells())
        .map(|cell| shape(duct.geometry().middle_m(cell)) * duct.geometry().cell_volume_m3(cell))
        .collect();
    let (mut time, mut last, mut zeros) = (0.0, (0.0, 1.0), Vec::new());
    while time < periods / guess_hz {
        let step = 0.8 / duct.prepare(&gas, set);
        let strength: f64 = weights
            .iter()
            .enumerate()
            .map(|(cell, weight)| weight * (duct.gas(cell, 0).expect("a cell").pressure_pa - P0))
            .sum();
        if strength * last.1 < 0.0 {
            zeros.push(last.0 + (time - last.0) * last.1 / (last.1 - strength));
        }
        last = (time, strength);
        duct.advance(&gas, step, set);
        for (which, open) in End::BOTH.into_iter().zip(open) {
            let flux = if open {
                end::open(duct.end(which), &air_outside, &Opening::BELL_MOUTH)
            } else {
                end::closed(duct.end(which))
            };
            duct.close(which, &flux, step);
        }
        time += step;
    }
    let (first, last) = (zeros.first().expect("it swings"), zeros.last().expect("it swings"));
    0.5 * (zeros.len() - 1) as f64 / (last - first)
}

#[test]
fn published_resonances_of_straight_pipes() {
    for line in Table::read(PIPES).lines().filter(|line| line.number("a") == 0.0) {
        let (length, mode) = (line.number("L"), line.number("n"));
        // Another length only changes the scale.
        if mode > 3.0 || length != 1.0 {
            continue;
        }
        let pipe = || Geometry::straight(length, 0.04, 100).expect("a duct");
        let source = cite("KINSLER", "resonances of pipes without end correction");
        for (name, column, open, shape) in [
            ("closed and open", "f_quarter_wave", [false, true], 0),
            ("both open", "f_open_open", [true, true], 1),
            ("both closed", "f_closed_closed", [false, false], 2),
        ] {
            let form = |x: f64| match shape {
                0 => ((2.0 * mode - 1.0) * FRAC_PI_2 * x / length).cos(),
                1 => (mode * PI * x / length).sin(),
                _ => (mode * PI * x / length).cos(),
            };
            let theirs = line.number(column);
            let ours = frequency(pipe(), open, form, 10.0, theirs);
            println!("{length} m, mode {mode}, {name}: {:.2e}", ours / theirs - 1.0);
            // Dispersion grows with the square of the mode.
            let width = 5e-5 * mode * mode;
            source.near(
                &format!("{length} m, {name}, mode {mode}: frequency, Hz"),
                ours,
                theirs,
                Tolerance::relative(width, "100 cells; numerical dispersion, by the square of the mode"),
            );
        }
    }
}

#[test]
fn published_resonances_of_cones() {
    for line in Table::read(CONES).lines().filter(|line| line.number("d_small") > 0.0) {
        let (small, large, length) = (line.number("d_small"), line.number("d_large"), line.number("L"));
        let mode = line.number("mode");
        if mode > 2.0 {
            continue;
        }
        let x1 = length * small / (large - small);
        let x2 = x1 + length;
        let cone = || {
            let section = Section { length_m: length, begin_m: small, end_m: large };
            Geometry::from_sections(&[section], length / 100.0).expect("a duct")
        };
        let source = cite("FLETCHER-ROSSING", "conical frustum, spherical waves; roots found independently");
        for (name, column, open) in [
            ("closed at the small end", "f_closed_small_open_large", [false, true]),
            ("closed at the large end", "f_closed_large_open_small", [true, false]),
            ("both open", "f_open_open", [true, true]),
        ] {
            let theirs = line.number(column);
            let k = 2.0 * PI * theirs / line.number("c");
            let node = if open[0] { x1 } else { x2 };
            let form = |x: f64| x1 * (k * (x1 + x - node)).sin() / (x1 + x);
            let ours = frequency(cone(), open, form, 10.0, theirs);
            println!("{} mode {mode}, {name}: {:.2e}", line.text("case"), ours / theirs - 1.0);
            source.near(
                &format!("{small} to {large} m over {length} m, {name}, mode {mode}: frequency, Hz"),
                ours,
                theirs,
                Tolerance::relative(
                    3e-4 * mode * mode,
                    "100 cells; dispersion and the area of the taper, second order",
                ),
            );
        }
    }
}

/// Sections of the invented chamber of the table.
fn chamber(inlet_m: f64) -> Vec<Section> {
    [
        (inlet_m, 0.038, 0.038),
        (0.30, 0.038, 0.038),
        (0.35, 0.038, 0.1),
        (0.10, 0.1, 0.1),
        (0.20, 0.1, 0.022),
        (0.25, 0.022, 0.022),
    ]
    .map(|(length_m, begin_m, end_m)| Section { length_m, begin_m, end_m })
    .to_vec()
}

/// Greatest and mean error of the pulse that a tuned chamber sends back, over the pulse's peak.
fn chamber_errors(cell_m: f64) -> [f64; 2] {
    let (c, density, peak, inlet) = (560.0, 0.62, 100.0, 4.0);
    let p0 = density * c * c / 1.4;
    let r = R;
    let gas = Caloric::perfect(1.4, r);
    let geometry = Geometry::from_sections(&chamber(inlet), cell_m).expect("a duct");
    let incident = |t: f64| {
        let off = (t - 1e-3) / 0.6e-3;
        if off.abs() < 1.0 { peak * (FRAC_PI_2 * off).cos().powi(2) } else { 0.0 }
    };
    let mut duct = Duct::<1>::new(geometry, &gas, |_, x| {
        let p = incident((inlet - x) / c);
        let warmer = ((p0 + p) / p0).powf(0.2 / 1.4);
        disturbed(p0, c, p, 5.0 * c * (warmer - 1.0))
    });
    let air_outside = outside(p0, c);
    let plane = (inlet / cell_m).round() as usize;
    let table = Table::read(PULSE);
    let mut exact = table.lines().map(|line| (line.number("t_s"), line.number("reflected"))).peekable();
    let (mut worst, mut sum, mut count) = (0.0f64, 0.0, 0);
    let mut last: Option<(f64, f64)> = None;
    let set = Instructions::best();
    let mut time = 0.0;
    while exact.peek().is_some() {
        let step = 0.8 / duct.prepare(&gas, set);
        let at = |cell: usize| {
            let gas = duct.gas(cell, 0).expect("a cell");
            0.5 * (gas.pressure_pa - p0 - density * c * gas.velocity_m_s) / peak
        };
        let now = 0.5 * (at(plane - 1) + at(plane));
        if let Some((then, before)) = last {
            while let Some((t, theirs)) = exact.peek().copied().filter(|(t, _)| *t <= time) {
                let ours = before + (now - before) * (t - then) / (time - then);
                worst = worst.max((ours - theirs).abs());
                sum += (ours - theirs).abs();
                count += 1;
                exact.next();
            }
        } else {
            exact.next();
        }
        last = Some((time, now));
        duct.advance(&gas, step, set);
        let begin = end::free(duct.end(End::Begin));
        let far = end::open(duct.end(End::Far), &air_outside, &Opening::BELL_MOUTH);
        duct.close(End::Begin, &begin, step);
        duct.close(End::Far, &far, step);
        time += step;
    }
    [worst, sum / f64::from(count)]
}

#[test]
fn published_pulse_sent_back_by_a_tuned_chamber() {
    for (cell, worst) in [(0.01, 5e-3), (0.005, 2.5e-3)] {
        let errors = chamber_errors(cell);
        println!("{cell} m: worst {:.3e}, mean {:.3e}", errors[0], errors[1]);
        cite(
            "MUNJAL-1987",
            "transfer matrices of cylinders and cones; pulse worked out by Fourier transform independently",
        )
        .near(
            &format!("cells of {cell} m: greatest error of the pulse over its peak"),
            errors[0],
            0.0,
            Tolerance::absolute(worst, "second order in cell length, and 0.2 % of nonlinearity at 100 Pa"),
        );
    }
}

#[test]
fn published_step_sent_back_where_a_cone_begins() {
    let table = Table::read(TO_CONE);
    let gas = air();
    let first = table.lines().next().expect("a row");
    let case = [first.number("d1"), first.number("d2"), first.number("L")];
    let (cell, ahead) = (case[2] / 120.0, 1.0);
    let cells = (ahead / cell) as usize;
    let sections = [
        Section { length_m: cells as f64 * cell, begin_m: case[0], end_m: case[0] },
        Section { length_m: case[2], begin_m: case[0], end_m: case[1] },
        Section { length_m: 1.0, begin_m: case[1], end_m: case[1] },
    ];
    let begin = cells as f64 * cell;
    let geometry = Geometry::from_sections(&sections, cell).expect("a duct");
    // The front starts 0.1 m ahead of the cone, 10 cells of rise.
    let rise = 10.0 * cell;
    let peak = 100.0;
    let front = |x: f64| peak * ((begin - 0.1 - x) / rise).clamp(0.0, 1.0);
    let density = P0 * 1.4 / (C * C);
    let mut duct = Duct::<1>::new(geometry, &gas, |_, x| {
        let p = front(x);
        disturbed(P0, C, p, 5.0 * C * (((P0 + p) / P0).powf(0.2 / 1.4) - 1.0))
    });
    let set = Instructions::best();
    let (mut time, mut last) = (0.0, (0.0, 0.0));
    // Half of the rise has reached the cone by then.
    let arrival = (0.1 + 0.5 * rise) / C;
    let mut lines = table
        .lines()
        .filter(|line| {
            line.number("d1") == case[0]
                && line.number("d2") == case[1]
                && line.number("L") == case[2]
                && line.number("t") > 2.0 * rise / C
        })
        .peekable();
    let mut worst = 0.0f64;
    while let Some(next) = lines.peek() {
        let step = 0.8 / duct.prepare(&gas, set);
        let at = |cell: usize| {
            let gas = duct.gas(cell, 0).expect("a cell");
            0.5 * (gas.pressure_pa - P0 - density * C * gas.velocity_m_s) / peak
        };
        let now = (time, 0.5 * (at(cells - 1) + at(cells)));
        let t = next.number("t") + arrival;
        if t <= time {
            let ours = last.1 + (now.1 - last.1) * (t - last.0) / (now.0 - last.0);
            worst = worst.max((ours - next.number("step_reflected_over_incident")).abs());
            lines.next();
            continue;
        }
        last = now;
        duct.advance(&gas, step, set);
        for which in End::BOTH {
            let flux = end::free(duct.end(which));
            duct.close(which, &flux, step);
        }
        time += step;
    }
    println!("cone {case:?}: worst {worst:.3e}");
    cite("FLETCHER-ROSSING", "spherical waves at the beginning of a cone; closed form -(1 - exp(-ct/2x))")
        .near(
            "40 to 100 mm over 300 mm: greatest error of the step sent back over the step",
            worst,
            0.0,
            Tolerance::absolute(0.01, "a front of 10 cells instead of a step, 120 cells in the cone"),
        );
}

/// Two ducts that meet at an area step of ratio `m`, with a pulse coming; gives reflected and transmitted over incident.
fn step_response(m: f64) -> [f64; 2] {
    let gas = air();
    let set = Instructions::best();
    let (cells, length, width, peak) = (200, 1.0, 0.15, 100.0);
    let small = 0.02;
    let density = P0 * 1.4 / (C * C);
    let pulse = |x: f64| {
        let off = (x - 0.6) / width;
        if off.abs() < 1.0 { peak * (FRAC_PI_2 * off).cos().powi(2) } else { 0.0 }
    };
    let pipe = |d: f64| Geometry::straight(length, d, cells).expect("a duct");
    let mut one = Duct::<1>::new(pipe(small), &gas, |_, x| {
        let p = pulse(x);
        disturbed(P0, C, p, 5.0 * C * (((P0 + p) / P0).powf(0.2 / 1.4) - 1.0))
    });
    let mut two = Duct::<1>::new(pipe(small * m.sqrt()), &gas, |_, _| disturbed(P0, C, 0.0, 0.0));
    let (mut time, mut back, mut on) = (0.0, 0.0, 0.0);
    while time < 0.75 / C {
        let step = 0.8 / one.prepare(&gas, set).max(two.prepare(&gas, set));
        one.advance(&gas, step, set);
        two.advance(&gas, step, set);
        let mut fluxes = [gas::duct::EndFlux::NONE; 2];
        let areas = [one.end_area_m2(End::Far), two.end_area_m2(End::Begin)];
        end::junction(&[(one.end(End::Far), areas[0]), (two.end(End::Begin), areas[1])], &mut fluxes);
        let free = [end::free(one.end(End::Begin)), end::free(two.end(End::Far))];
        one.close(End::Far, &fluxes[0], step);
        two.close(End::Begin, &fluxes[1], step);
        one.close(End::Begin, &free[0], step);
        two.close(End::Far, &free[1], step);
        time += step;
    }
    one.prepare(&gas, set);
    two.prepare(&gas, set);
    for cell in 0..cells {
        let a = one.gas(cell, 0).expect("a cell");
        let b = two.gas(cell, 0).expect("a cell");
        let left = 0.5 * (a.pressure_pa - P0 - density * C * a.velocity_m_s) / peak;
        let right = 0.5 * (b.pressure_pa - P0 + density * C * b.velocity_m_s) / peak;
        back += left * length / cells as f64;
        on += right * length / cells as f64;
    }
    // The pulse's length times its height is kept while it runs.
    [back / width, on / width]
}

#[test]
fn published_reflection_at_an_area_step() {
    for line in Table::read(STEPS).lines() {
        let m = line.number("m");
        for (name, m, back, on) in [
            ("wider", m, line.number("R"), line.number("T_pressure")),
            ("narrower", 1.0 / m, -line.number("R"), 2.0 / (1.0 + 1.0 / m)),
        ] {
            let ours = step_response(m);
            println!("{m:.3}: {:.2e} {:.2e}", ours[0] - back, ours[1] - on);
            let close =
                || Tolerance::absolute(3e-3, "strength of a pulse of 100 Pa: nonlinear by some 0.1 %");
            cite("KINSLER", "reflection and transmission at a change of area, equal pressure")
                .near(
                    &format!("{m:.4} times the area ({name}): reflected over incident"),
                    ours[0],
                    back,
                    close(),
                )
                .near(
                    &format!("{m:.4} times the area ({name}): passed on over incident"),
                    ours[1],
                    on,
                    close(),
                );
        }
    }
}
