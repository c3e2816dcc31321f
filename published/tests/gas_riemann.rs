//! Shock tubes, contacts and smooth waves in a straight duct against exact solutions.

use gas::duct::{Caloric, Duct, GasState, Geometry};
use gas::end;
use published::flow::run;
use published::riemann::{Gas, Star, solve};
use published::table::{Line, Table};
use published::{Tolerance, cite};

const STAR: &str = include_str!("../data/gas/a1_riemann_star.csv");
const PRINTED: &str = include_str!("../data/gas/a2_riemann_star_published_check.csv");
const MEASURED: &str = include_str!("../data/gas/a4_muscl_hllc_L1_measured.csv");
const SMOOTH: &str = include_str!("../data/gas/a5_simple_wave_smooth.csv");

fn star_of(line: &Line<'_>) -> Star {
    let side = |which: &str| Gas {
        density: line.number(&format!("rho{which}")),
        velocity: line.number(&format!("u{which}")),
        pressure: line.number(&format!("p{which}")),
        gamma: line.number(&format!("gamma{which}")),
    };
    solve(side("L"), side("R"))
}

#[test]
fn published_states_between_the_waves() {
    let table = Table::read(STAR);
    for line in Table::read(PRINTED).lines() {
        let case = line.text("case");
        let star = star_of(&table.of("case", case)[0]);
        let digits = |size| Tolerance::absolute(size, "half of the last printed digit");
        let size = |text: &str| {
            let decimals = text.split_once('.').map_or(0, |(_, after)| after.len());
            0.51 * 10f64.powi(-i32::try_from(decimals).expect("few digits"))
        };
        let source = cite("TORO-2009", "table 4.2, star values as quoted in public unit tests");
        let pressure = line.text("pub_p");
        // The book's third decimal of test 2 comes from an iteration stopped early: ours is 0.0018939.
        let width = if case == "toro4_2" { 4.5e-6 } else { size(pressure) };
        // Test 5 is printed as 1691.64; the data have six digits and give 1691.647.
        let width = if pressure == "1691.64" { 0.0075 } else { width };
        source
            .near(&format!("{case}: pressure"), star.pressure, line.number("pub_p"), digits(width))
            .near(&format!("{case}: velocity"), star.velocity, line.number("pub_u"), digits(5.1e-5))
            .near(
                &format!("{case}: density left"),
                star.density_left(),
                line.number("pub_rhoL"),
                digits(5.1e-5),
            )
            .near(
                &format!("{case}: density right"),
                star.density_right(),
                line.number("pub_rhoR"),
                digits(5.1e-5),
            );
    }
}

#[test]
fn published_exact_solver_against_an_independent_one() {
    for line in Table::read(STAR).lines() {
        let star = star_of(&line);
        let case = line.text("case");
        let close = Tolerance::relative(1e-10, "both are solved to rounding");
        cite("TORO-2009", "section 4.2, solved independently").near(
            &format!("{case}: pressure between the waves"),
            star.pressure,
            line.number("p_star"),
            close,
        );
    }
}

/// A shock tube of so many cells at the time of the table, and its gas.
fn tube(line: &Line<'_>, cells: usize) -> (Duct<1>, Caloric) {
    let (x0, until) = (line.number("x0"), line.number("t_out"));
    let engine = line.number("pL") > 1e4;
    let gammas = [line.number("gammaL"), line.number("gammaR")];
    let r = if engine { [290.0, 287.0] } else { [1.0, 1.0] };
    let gas = Caloric::perfect_pair(gammas, r);
    let geometry = Geometry::straight(1.0, 0.04, cells).expect("a duct");
    let state = |x: f64| {
        let (side, which) = if x < x0 { ("L", 0) } else { ("R", 1) };
        let (density, pressure) = (line.number(&format!("rho{side}")), line.number(&format!("p{side}")));
        GasState {
            pressure_pa: pressure,
            temperature_k: pressure / (density * r[which]),
            velocity_m_s: line.number(&format!("u{side}")),
            y: [which as f64, 0.0],
        }
    };
    let mut duct = Duct::<1>::new(geometry, &gas, |_, x| state(x));
    run(&mut duct, &gas, 0.8, until, |_, at_end, _| end::free(at_end));
    (duct, gas)
}

/// Greatest error of pressure over the pressure between the waves, in the middle half of what lies between them.
fn pressure_off(line: &Line<'_>, cells: usize) -> f64 {
    let (star, (duct, _)) = (star_of(line), tube(line, cells));
    let x_of = |speed: &str| line.number("x0") + line.number(speed) * line.number("t_out");
    let (left, right) = (x_of("S_L_tail"), x_of("S_R_tail"));
    let inside = |x: f64| (x - 0.5 * (left + right)).abs() < 0.25 * (right - left);
    let off = |cell: usize| (duct.gas(cell, 0).expect("a cell").pressure_pa / star.pressure - 1.0).abs();
    (0..cells).filter(|cell| inside((*cell as f64 + 0.5) / cells as f64)).map(off).fold(0.0, f64::max)
}

/// Mean error of density by cell average, of a duct of so many cells; and the same of energy by volume.
fn error(line: &Line<'_>, cells: usize) -> [f64; 2] {
    let (star, (duct, gas)) = (star_of(line), tube(line, cells));
    let (x0, until) = (line.number("x0"), line.number("t_out"));
    let fine = 64;
    let mut sums = [0.0; 2];
    for cell in 0..cells {
        let mut exact = [0.0; 2];
        for part in 0..fine {
            let x = (cell as f64 + (part as f64 + 0.5) / fine as f64) / cells as f64;
            let there = star.at((x - x0) / until);
            exact[0] += there.density / fine as f64;
            exact[1] += (there.pressure / (there.gamma - 1.0)
                + 0.5 * there.density * there.velocity * there.velocity)
                / fine as f64;
        }
        let ours = duct.gas(cell, 0).expect("a cell");
        let density = duct.density_kg_m3(cell, 0).expect("a cell");
        let energy = density
            * (gas.internal_energy(ours.temperature_k, ours.y) + 0.5 * ours.velocity_m_s * ours.velocity_m_s);
        sums[0] += (density - exact[0]).abs() / cells as f64;
        sums[1] += (energy - exact[1]).abs() / cells as f64;
    }
    sums
}

#[test]
fn published_shock_tubes_at_least_as_near_as_a_plain_second_order_scheme() {
    let table = Table::read(STAR);
    for line in Table::read(MEASURED).lines().filter(|line| line.text("finite") == "1.0") {
        let case = line.text("case");
        let cells = line.number("N") as usize;
        let ours = error(&table.of("case", case)[0], cells);
        println!(
            "{case} {cells}: density {:.3e} ({:.2} of plain), energy {:.3e} ({:.2})",
            ours[0],
            ours[0] / line.number("L1_rho"),
            ours[1],
            ours[1] / line.number("L1_E")
        );
        cite(
            "TORO-2009",
            "exact solutions of chapters 4 and 6; errors of a plain MUSCL-Hancock scheme measured",
        )
        .between(
            &format!("{case}, {cells} cells: error of density over the plain scheme's"),
            ours[0] / line.number("L1_rho"),
            0.0,
            1.3,
        );
    }
}

#[test]
fn published_nearly_standing_contact_with_a_strong_shock() {
    // The plain scheme fails on this case; ours falls back to the cell's own state where reconstruction overshoots.
    let table = Table::read(STAR);
    let line = &table.of("case", "toro6_5")[0];
    let (coarse, fine) = (error(line, 200), error(line, 400));
    println!("toro6_5: density {coarse:?} {fine:?}");
    cite("TORO-2009", "chapter 6, test 5, exact solution")
        .between(
            "mean error of density, 200 cells, over the density behind the shock",
            coarse[0] / 6.0,
            0.0,
            0.02,
        )
        .between("the same, 400 cells, over 200 cells", fine[0] / coarse[0], 0.3, 0.8);
}

#[test]
fn published_two_gases_of_different_ratio_of_specific_heats() {
    let table = Table::read(STAR);
    for case in ["port_open_hot", "suction_cold"] {
        let line = &table.of("case", case)[0];
        let errors = [100, 200, 400].map(|cells| error(line, cells)[0] / line.number("rhoL"));
        println!("{case}: density {errors:?}");
        cite("TORO-2009", "exact solution of chapter 4 with a ratio of specific heats on either side")
            .between(
                &format!("{case}: mean error of density, 200 cells, over the density left"),
                errors[1],
                0.0,
                4e-3,
            )
            .between(&format!("{case}: the same, 400 cells over 100 cells"), errors[2] / errors[0], 0.2, 0.5);
        let off = pressure_off(line, 200);
        println!("{case}: pressure off by {off:e} in the middle");
        cite("TORO-2009", "pressure between the waves is even across the contact").near(
            &format!("{case}: greatest error of pressure about the contact, 200 cells, over that pressure"),
            off,
            0.0,
            Tolerance::absolute(
                5e-3,
                "a conservative scheme ripples where the ratio of specific heats jumps (Abgrall 1996)",
            ),
        );
    }
}

/// Mean error of velocity over its peak for the smooth wave on so many cells.
fn smooth_error(peak: f64, cells: usize) -> f64 {
    let gas = Caloric::perfect(1.4, 287.0);
    let (p0, t0) = (101_325.0, 300.0);
    let a0 = f64::sqrt(1.4 * 287.0 * t0);
    let initial = |x: f64| {
        let off = (x - 0.5) / 0.3;
        if off.abs() < 1.0 { peak * (std::f64::consts::FRAC_PI_2 * off).cos().powi(6) } else { 0.0 }
    };
    let state = |u: f64| {
        let warmer = 1.0 + 0.2 * u / a0;
        GasState {
            pressure_pa: p0 * warmer.powi(7),
            temperature_k: t0 * warmer * warmer,
            velocity_m_s: u,
            y: [0.0; 2],
        }
    };
    let geometry = Geometry::straight(2.0, 0.04, cells).expect("a duct");
    let mut duct = Duct::<1>::new(geometry, &gas, |_, x| state(initial(x)));
    let table = Table::read(SMOOTH);
    let name = format!("U={peak}");
    let exact = table.of("case", &name);
    let until = exact[0].number("t");
    run(&mut duct, &gas, 0.8, until, |_, at_end, _| end::free(at_end));
    let coarse = exact.len();
    let mut sum = 0.0;
    for (at, line) in exact.iter().enumerate() {
        // The point lies in the middle of `ratio` cells, on a face when that is even.
        let ratio = cells / coarse;
        let middle = at * ratio + ratio / 2;
        let velocity = |cell: usize| duct.gas(cell, 0).expect("a cell").velocity_m_s;
        let ours = if ratio % 2 == 1 {
            velocity(middle)
        } else {
            (9.0 * (velocity(middle - 1) + velocity(middle))
                - velocity(middle.saturating_sub(2))
                - velocity((middle + 1).min(cells - 1)))
                / 16.0
        };
        sum += (ours - line.number("u")).abs() / coarse as f64;
    }
    sum / peak
}

#[test]
fn published_smooth_wave_converges_at_second_order() {
    for peak in [1.0, 60.0] {
        let errors = [400, 800, 1600].map(|cells| smooth_error(peak, cells));
        let orders = [errors[0] / errors[1], errors[1] / errors[2]].map(f64::log2);
        println!("peak {peak} m/s: errors {errors:?}, orders {orders:?}");
        cite(
            "LANDAU-FLUID",
            "section 101, simple wave before a shock forms; point values worked out independently",
        )
        .between(
            &format!("peak {peak} m/s: observed order, 400 to 1600 cells"),
            0.5 * (orders[0] + orders[1]),
            1.8,
            2.4,
        )
        .between(
            &format!("peak {peak} m/s: mean error of velocity over the peak, 400 cells"),
            errors[0],
            0.0,
            2e-3,
        );
    }
}
