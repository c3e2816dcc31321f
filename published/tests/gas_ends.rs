//! What stands at the end of a duct: ports and nozzles against exact solutions, walls and open ends.

use gas::duct::{Caloric, Duct, End, EndState, GasState, Geometry, Instructions};
use gas::end::{self, Near, Opening, Recovery, Reservoir, settle};
use published::flow::run;
use published::table::{Line, Table};
use published::{Tolerance, cite};

const PORT: &str = include_str!("../data/gas/j1_port_opening_into_pipe.csv");
const NOZZLE: &str = include_str!("../data/gas/j2_pipe_end_nozzle.csv");
const PART_CLOSED: &str = include_str!("../data/gas/j3_orifice_end_reflection.csv");
const WALL: &str = include_str!("../data/gas/a6_shock_closed_end_reflection.csv");
const ENDS: &str = include_str!("../data/gas/a7_finite_amplitude_end_reflection.csv");

const R: f64 = 287.0;

fn near(gamma: f64, pressure: f64, temperature: f64, velocity_in: f64) -> Near {
    let density = pressure / (R * temperature);
    Near { density, velocity_in, pressure, gamma, sound: (gamma * R * temperature).sqrt() }
}

fn reservoir(gamma: f64, pressure_pa: f64, temperature_k: f64) -> Reservoir {
    let enthalpy_j_kg = gamma / (gamma - 1.0) * R * temperature_k;
    Reservoir { pressure_pa, temperature_k, r_j_kg_k: R, gamma, enthalpy_j_kg, y: [0.0; 2] }
}

fn recovery(line: &Line<'_>) -> Recovery {
    match line.text("model") {
        "constant_pressure" => Recovery::Nothing,
        "borda_carnot" => Recovery::Momentum,
        other => panic!("{other} is no model"),
    }
}

fn opening(share: f64, recovery: Recovery) -> Opening {
    Opening { share_in: share, share_out: share, recovery }
}

#[test]
fn published_port_opening_into_a_pipe() {
    let close =
        || Tolerance::relative(1e-8, "both solve the same equations to rounding; eleven to twelve digits");
    for line in Table::read(PORT).lines() {
        let gamma = line.number("gamma");
        let pipe = near(gamma, line.number("p1"), line.number("T1"), 0.0);
        let cylinder = reservoir(gamma, line.number("p0"), line.number("T0"));
        let found = settle(&pipe, &cylinder, &opening(line.number("phi"), recovery(&line)));
        let name = format!(
            "{} bar, {} K, ratio {gamma}, share {}, {}",
            line.number("p0") / 1e5,
            line.text("T0"),
            line.text("phi"),
            line.text("model")
        );
        cite("BENSON-1982", "constant-pressure port and sudden expansion, solved independently")
            .near(&format!("{name}: pressure, Pa"), found.pressure, line.number("p2"), close())
            .near(&format!("{name}: velocity, m/s"), found.velocity_in, line.number("u2"), close())
            .near(
                &format!("{name}: mass flux, kg/m2s"),
                found.mass,
                line.number("mass_flux_per_pipe_area"),
                close(),
            )
            .is(&format!("{name}: choked"), u8::from(found.choked), line.text("choked"));
    }
}

#[test]
fn published_nozzle_at_the_end_of_a_pipe() {
    // The table gives the pipe's settled state; a gas already in it must send no wave back.
    for line in Table::read(NOZZLE).lines() {
        let (gamma, mach) = (line.number("gamma"), line.number("M_pipe"));
        let (p, t) = (2e5, 600.0);
        let sound = (gamma * R * t).sqrt();
        let pipe = near(gamma, p, t, -mach * sound);
        let outside = reservoir(gamma, p * line.number("pb_over_p"), 300.0);
        let found = settle(&pipe, &outside, &opening(line.number("phi"), Recovery::Nothing));
        let name =
            format!("ratio {gamma}, share {}, back pressure {}", line.text("phi"), line.text("pb_over_p"));
        let close = || Tolerance::relative(1e-8, "twelve digits, on either side of the settled state");
        cite("BENSON-1982", "nozzle at the end of a pipe, solved independently")
            .near(&format!("{name}: pressure over the pipe's"), found.pressure / p, 1.0, close())
            .near(
                &format!("{name}: flux"),
                -found.mass * (R * t).sqrt() / p,
                line.number("flux_nd"),
                close(),
            );
    }
}

/// State behind a simple wave of pressure ratio `ratio` that runs towards the end into gas at rest.
fn incident(p0: f64, t0: f64, ratio: f64) -> Near {
    let x = ratio.powf(0.2 / 1.4);
    near(1.4, p0 * ratio, t0 * x * x, -5.0 * (x - 1.0) * (1.4 * R * t0).sqrt())
}

#[test]
fn published_simple_wave_meets_a_part_closed_end() {
    let (p0, t0) = (101_325.0, 300.0);
    let a0 = (1.4 * R * t0).sqrt();
    for line in Table::read(PART_CLOSED).lines() {
        let wave = incident(p0, t0, line.number("p_i"));
        let share = line.number("phi");
        let found = settle(&wave, &reservoir(1.4, p0, t0), &opening(share, Recovery::Nothing));
        let name = format!("wave {}, share {}", line.text("p_i"), line.text("phi"));
        // The table reflects by Riemann invariants; where the end sends a compression back ours is a shock.
        let weak = |ratio: f64| if ratio > 1.0 { 0.05 * (ratio - 1.0).powi(3) } else { 0.0 };
        let back = found.pressure / (p0 * line.number("p_i"));
        let width = 1e-8 + weak(back);
        let close = || {
            Tolerance::absolute(width, "a reflected compression is a shock here, a simple wave in the table")
        };
        cite("BENSON-1982", "reflection at a part-closed end by Riemann invariants, solved independently")
            .near(
                &format!("{name}: pressure at the end over the air's"),
                found.pressure / p0,
                line.number("p_end"),
                close(),
            )
            .near(
                &format!("{name}: velocity over sound"),
                -found.velocity_in / a0,
                line.number("U_over_a0"),
                close(),
            );
    }
}

#[test]
fn published_simple_wave_meets_a_wall_or_the_open_air() {
    let (p0, t0) = (101_325.0, 300.0);
    let a0 = (1.4 * R * t0).sqrt();
    let air = reservoir(1.4, p0, t0);
    for line in Table::read(ENDS).lines() {
        let ratio = line.number("p_i");
        let wave = incident(p0, t0, ratio);
        let open = settle(&wave, &air, &Opening::BELL_MOUTH);
        let source = cite(
            "BLAIR-1990",
            "image rule at a closed end and open end by Riemann invariants, solved independently",
        );
        if ratio < 1.0 {
            let close = || {
                Tolerance::relative(2e-4, "the rows take the wave as isentropic; the end sends a weak shock")
            };
            source
                .near(
                    &format!("wave {ratio}: pressure at the mouth"),
                    open.pressure / p0,
                    line.number("inflow_end_p"),
                    close(),
                )
                .near(
                    &format!("wave {ratio}: velocity at the mouth"),
                    -open.velocity_in / a0,
                    line.number("inflow_end_u_over_a0"),
                    Tolerance::absolute(1e-3, "the same"),
                );
            // A rarefaction at a wall sends a rarefaction: exact.
            let wall = wave.pressure_at(0.0) / p0;
            let close = Tolerance::relative(1e-9, "eleven digits");
            source.near(
                &format!("wave {ratio}: pressure at a wall"),
                wall,
                line.number("closed_end_p"),
                close,
            );
        } else if open.choked {
            assert!(
                line.number("open_end_u_over_a0") > 0.99,
                "only the strongest wave runs out at the speed of sound"
            );
        } else {
            let u = -open.velocity_in / a0;
            let close = Tolerance::relative(1e-9, "eleven digits; the wave sent back is a rarefaction");
            source.near(&format!("wave {ratio}: velocity out"), u, line.number("open_end_u_over_a0"), close);
        }
    }
}

#[test]
fn published_shock_meets_a_wall() {
    let gas = Caloric::perfect(1.4, R);
    let (p1, t1) = (1e5, 300.0);
    let a1 = (1.4 * R * t1).sqrt();
    for line in Table::read(WALL).lines() {
        let (p21, rho21) = (line.number("p21"), line.number("rho21"));
        let behind = GasState {
            pressure_pa: p1 * p21,
            temperature_k: t1 * p21 / rho21,
            velocity_m_s: line.number("u2_over_a1") * a1,
            y: [0.0; 2],
        };
        let rest = GasState { pressure_pa: p1, temperature_k: t1, velocity_m_s: 0.0, y: [0.0; 2] };
        let wall = near(1.4, behind.pressure_pa, behind.temperature_k, -behind.velocity_m_s).pressure_at(0.0);
        let exact = line.number("p51_closed_form");
        let source = cite("LIEPMANN-ROSHKO", "shock reflected from a closed end");
        let ms = line.number("Ms");
        source.near(
            &format!("Mach {ms}: wall pressure by the end alone"),
            wall / p1,
            exact,
            Tolerance::relative(1e-9, "closed form, eleven digits"),
        );
        let geometry = Geometry::straight(1.0, 0.04, 200).expect("a duct");
        let mut duct = Duct::<1>::new(geometry, &gas, |_, x| if x < 0.5 { behind } else { rest });
        let until = 0.5 / (ms * a1) * 1.6;
        run(&mut duct, &gas, 0.8, until, |which, at_end, _| match which {
            End::Begin => end::free(at_end),
            End::Far => end::closed(at_end),
        });
        let ours = duct.gas(190, 0).expect("a cell").pressure_pa / p1;
        println!("Mach {ms}: {ours} {exact}");
        source.near(
            &format!("Mach {ms}: pressure behind the reflected shock, 200 cells"),
            ours,
            exact,
            Tolerance::relative(1e-3, "a captured shock leaves small ripples"),
        );
    }
}

#[test]
fn published_port_opened_in_a_duct() {
    let table = Table::read(PORT);
    let gas = Caloric::perfect(1.4, R);
    for line in table.lines().filter(|line| line.text("gamma") == "1.4") {
        let (share, mach) = (line.number("phi"), line.number("M2"));
        if share < 0.05 || mach > 0.95 {
            continue;
        }
        let rest = GasState {
            pressure_pa: line.number("p1"),
            temperature_k: line.number("T1"),
            velocity_m_s: 0.0,
            y: [0.0; 2],
        };
        let cylinder = reservoir(1.4, line.number("p0"), line.number("T0"));
        let port = opening(share, recovery(&line));
        let geometry = Geometry::straight(1.0, 0.04, 200).expect("a duct");
        let mut duct = Duct::<1>::new(geometry, &gas, |_, _| rest);
        let mut mass = 0.0;
        let sound = (1.4 * R * rest.temperature_k).sqrt();
        let until = 0.7 / (line.number("shock_Mach") * sound);
        run(&mut duct, &gas, 0.8, until, |which, at_end: &EndState<1>, _| match which {
            End::Begin => {
                let flux = end::open(at_end, &cylinder, &port);
                mass = flux.mass[0];
                flux
            }
            End::Far => end::closed(at_end),
        });
        let plateau = duct.gas((0.5 * until * line.number("u2") * 200.0) as usize, 0).expect("a cell");
        let name = format!(
            "{} bar, {} K, share {share}, {}",
            line.number("p0") / 1e5,
            line.text("T0"),
            line.text("model")
        );
        println!(
            "{name}: p {:.2e} u {:.2e} m {:.2e} T {:.2e}",
            plateau.pressure_pa / line.number("p2") - 1.0,
            plateau.velocity_m_s / line.number("u2") - 1.0,
            mass / line.number("mass_flux_per_pipe_area") - 1.0,
            plateau.temperature_k / line.number("T2") - 1.0,
        );
        let two = || Tolerance::relative(2e-3, "200 cells, sudden opening");
        cite(
            "BENSON-1982",
            "sudden opening of a port into a pipe, exact self-similar solution worked out independently",
        )
        .near(&format!("{name}: pressure"), plateau.pressure_pa, line.number("p2"), two())
        .near(&format!("{name}: velocity"), plateau.velocity_m_s, line.number("u2"), two())
        .near(
            &format!("{name}: mass flux"),
            mass,
            line.number("mass_flux_per_pipe_area"),
            Tolerance::relative(1e-3, "the same, at the port itself"),
        );
    }
}

/// Two ducts with a plate between them, fed from 2 bar and 400 K, run until nothing changes: a state in the middle of each.
fn through_a_plate(share: f64, behind_pa: f64) -> [GasState; 2] {
    let air = Caloric::perfect(1.4, R);
    let rest = |pressure_pa| GasState { pressure_pa, temperature_k: 400.0, velocity_m_s: 0.0, y: [0.0; 2] };
    let duct = |pressure_pa| {
        let geometry = Geometry::straight(0.3, 0.04, 24).expect("a duct");
        Duct::<1>::new(geometry, &air, |_, _| rest(pressure_pa))
    };
    let (mut before, mut behind) = (duct(2e5), duct(behind_pa));
    let (feed, sink) = (reservoir(1.4, 2e5, 400.0), reservoir(1.4, behind_pa, 400.0));
    let set = Instructions::best();
    for _ in 0..12_000 {
        let step_s = 0.8 / before.prepare(&air, set).max(behind.prepare(&air, set));
        before.advance(&air, step_s, set);
        behind.advance(&air, step_s, set);
        let [out, into] = end::plate(before.end(End::Far), behind.end(End::Begin), share);
        let fed = end::open(before.end(End::Begin), &feed, &Opening::BELL_MOUTH);
        let left = end::open(behind.end(End::Far), &sink, &Opening::BELL_MOUTH);
        before.close(End::Begin, &fed, step_s);
        before.close(End::Far, &out, step_s);
        behind.close(End::Begin, &into, step_s);
        behind.close(End::Far, &left, step_s);
    }
    before.prepare(&air, set);
    behind.prepare(&air, set);
    [&before, &behind].map(|duct| duct.gas(12, 0).expect("a cell"))
}

#[test]
fn published_flow_through_a_choked_plate() {
    // Area over that at the speed of sound, by Mach number.
    for (mach, area_ratio) in [(0.2, 2.9635), (0.3, 2.0351), (0.5, 1.3398), (0.7, 1.0944)] {
        let [before, behind] = through_a_plate(1.0 / area_ratio, 0.3e5);
        let sound = |state: &GasState| (1.4 * R * state.temperature_k).sqrt();
        let total_k = |state: &GasState| {
            let mach = state.velocity_m_s / sound(state);
            state.temperature_k * (1.0 + 0.2 * mach * mach)
        };
        let flux = |state: &GasState| state.pressure_pa / (R * state.temperature_k) * state.velocity_m_s;
        let name = format!("plate with 1/{area_ratio} of the duct open, choked");
        let digits =
            || Tolerance::relative(1e-3, "five digits of the table, and a flow that has nearly settled");
        cite("NACA-1135", "table I, subsonic flow, ratio of specific heats 1.4; figures from memory")
            .near(
                &format!("{name}: Mach number before it"),
                before.velocity_m_s / sound(&before),
                mach,
                digits(),
            )
            .near(
                &format!("{name}: pressure before it over the total"),
                before.pressure_pa / 2e5,
                (1.0f64 + 0.2 * mach * mach).powf(-3.5),
                digits(),
            );
        // No published figures: what any plate must keep; the flow settles to a hundred-thousandth.
        for (what, kept) in [
            ("mass flux", flux(&behind) / flux(&before)),
            ("total temperature", total_k(&behind) / total_k(&before)),
        ] {
            assert!((kept - 1.0).abs() < 1e-4, "{name}: {what} {kept}");
        }
    }
}

#[test]
fn published_pressure_lost_behind_a_plate() {
    // So slow a flow that density hardly changes: the loss follows from the open share alone.
    for share in [0.3, 0.5, 0.7] {
        let [before, behind] = through_a_plate(share, 1.995e5);
        let density = before.pressure_pa / (R * before.temperature_k);
        let head_pa = 0.5 * density * before.velocity_m_s * before.velocity_m_s;
        let lost = (before.pressure_pa - behind.pressure_pa) / head_pa;
        cite(
            "BENSON-1982",
            "constant-pressure model: the jet's whole kinetic energy is lost behind the opening",
        )
        .near(
            &format!("plate with {share} of the duct open: pressure lost over the dynamic head before it"),
            lost,
            share.powi(-2) - 1.0,
            Tolerance::relative(
                0.005,
                "the jet runs at a Mach number of 0.06: density changes by 0.3 % on the way to it",
            ),
        );
    }
}
