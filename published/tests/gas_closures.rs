//! Closures of the cycle: burning, scavenging, heat, friction, reeds, flow through openings.

use gas::loss::{Fmep, Friction, Nusselt};
use gas::reed::Petal;
use gas::vessel::{
    Charge, Scavenging, WallHeat, Wiebe, WoschniPhase, critical_pressure_ratio, flow_function,
};
use published::table::Table;
use published::{Tolerance, cite, practice};

const FORMULA: &str = "both evaluate the same formula in double precision";

fn fine() -> Tolerance {
    Tolerance::absolute(1e-9, FORMULA)
}

#[test]
fn published_wiebe_function() {
    let table = Table::read(include_str!("../data/gas/wiebe.csv"));
    let mut worst = (0.0f64, 0.0f64);
    for line in table.lines() {
        let (a, m, z) = (line.number("a"), line.number("m"), line.number("z"));
        worst.0 = worst.0.max((Wiebe::plain_share(a, m, z) - line.number("x_b")).abs());
        worst.1 = worst.1.max((Wiebe::plain_rate(a, m, z) - line.number("dxb_dz")).abs());
    }
    cite("HEYWOOD-1988", "equation (9.27), burned share and its slope, 84 cases worked out independently")
        .near("greatest difference of the burned share", worst.0, 0.0, fine())
        .near("greatest difference of its slope", worst.1, 0.0, fine())
        .near(
            "share at the end for a = 5, before division",
            Wiebe::plain_share(5.0, 2.0, 1.0),
            0.993_262_053_001,
            fine(),
        );
}

#[test]
fn published_scavenging_curves() {
    let table = Table::read(include_str!("../data/gas/scavenging_curves.csv"));
    let zones = |mixing, straight| Scavenging::TwoZones { mixing, straight };
    let columns = [
        ("SE_displacement", Scavenging::PerfectDisplacement),
        ("SE_mixing", Scavenging::PerfectMixing),
        ("SE_2zone_x0.25_y0", zones(0.25, 0.0)),
        ("SE_2zone_x0.5_y0", zones(0.5, 0.0)),
        ("SE_2zone_x0.75_y0", zones(0.75, 0.0)),
        ("SE_2zone_x0.5_y0.1", zones(0.5, 0.1)),
        ("SE_2zone_x0.5_y0.2", zones(0.5, 0.2)),
    ];
    for (column, model) in columns {
        let source = if column.contains("zone") {
            cite(
                "BENSON-BRANDHAM-1969",
                "two zones and a short circuit, curves worked out from the zones' balance",
            )
        } else {
            cite("HOPKINSON-1914", "perfect displacement and perfect mixing, curves worked out independently")
        };
        let worst = table
            .lines()
            .map(|line| (model.efficiency(line.number("DR")) - line.number(column)).abs())
            .fold(0.0, f64::max);
        source.near(&format!("{column}: greatest difference, ratios 0 to 3"), worst, 0.0, fine());
    }
}

/// Marches a cylinder of constant volume and equal densities with what the model lets leave.
fn marched(model: Scavenging, ratio: f64) -> f64 {
    let (steps, mut purity) = (2000, 0.0);
    let step = ratio / f64::from(steps);
    for _ in 0..steps {
        let half = purity + 0.5 * step * (1.0 - model.exhaust_purity(purity));
        purity += step * (1.0 - model.exhaust_purity(half));
    }
    purity
}

#[test]
fn published_scavenging_marched() {
    let table = Table::read(include_str!("../data/gas/scavenging_marched.csv"));
    let march = || Tolerance::absolute(1e-4, "our march takes 2000 steps of second order across a kink");
    for line in table.lines() {
        let (ratio, theirs) = (line.number("DR"), line.number("SE_ode"));
        if line.text("model") == "two_zone" {
            let model = Scavenging::TwoZones { mixing: line.number("x"), straight: line.number("y") };
            cite("BENSON-BRANDHAM-1969", "balance of the zones, marched independently").near(
                &format!("x {} y {} ratio {ratio}: efficiency", line.text("x"), line.text("y")),
                marched(model, ratio),
                theirs,
                march(),
            );
        } else {
            let temperatures: f64 =
                line.text("model").rsplit('=').next().expect("a ratio").parse().expect("a number");
            let temperatures = if temperatures == 0.333333 { 1.0 / 3.0 } else { temperatures };
            cite("HOPKINSON-1914", "perfect mixing with two temperatures, marched independently").near(
                &format!("fresh over burned temperature {temperatures:.3} ratio {ratio}: efficiency by mass"),
                Scavenging::mixing_by_mass(ratio, temperatures),
                theirs,
                Tolerance::absolute(1e-9, "closed form against a march of relative error 1e-12"),
            );
        }
    }
}

#[test]
fn published_scavenging_problems() {
    let place =
        "worked problems: scavenge ratio 0.929; efficiency 75 % raised by a fifth; 4.5 kg/min at 3.10 ideal";
    let printed = Tolerance::absolute(5e-4, "half of the last printed digit");
    let mixing = Scavenging::PerfectMixing;
    // A scavenge ratio that gives an efficiency, from the closed curve.
    let ratio_for = |efficiency: f64| -(1.0f64 - efficiency).ln();
    cite("FOSSEE-IC-ENGINES", place)
        .near("efficiency at a ratio of 0.929", mixing.efficiency(0.929), 0.605, printed)
        .near("trapping efficiency at 0.929", mixing.efficiency(0.929) / 0.929, 0.651, printed)
        .near(
            "more charge for 90 % instead of 75 %",
            ratio_for(mixing.efficiency(ratio_for(0.90))) / ratio_for(0.75) - 1.0,
            0.661,
            printed,
        )
        .near(
            "efficiency at a ratio of 1.45",
            mixing.efficiency(1.45),
            0.766,
            Tolerance::absolute(1.5e-3, "the printed ratio is rounded to 1.45: half a digit is worth 0.0012"),
        )
        .near(
            "trapping efficiency at 1.45",
            mixing.efficiency(1.45) / 1.45,
            0.53,
            Tolerance::absolute(5e-3, "half of the last printed digit"),
        );
}

/// 54 x 54.5 mm at 11 000 rpm, made inputs.
fn charge(pressure_pa: f64, temperature_k: f64) -> Charge {
    Charge {
        pressure_pa,
        temperature_k,
        density_kg_m3: pressure_pa / (287.0 * temperature_k),
        viscosity_pa_s: 7e-5,
        conductivity_w_m_k: 0.15,
        bore_m: 0.054,
        piston_speed_m_s: 19.983_333_333_3,
    }
}

#[test]
fn published_heat_to_the_walls() {
    let formula = || Tolerance::relative(1e-9, FORMULA);
    let burning = WoschniPhase::Combustion {
        swept_m3: 0.000_124_817_046_923,
        reference_k_j: 450.0 / (140e3 * 0.000_131_057_899_27),
        motored_pa: 2e6,
    };
    let coefficient = |p, t, phase| WallHeat::Woschni.coefficient_w_m2_k(&charge(p, t), phase);
    let hot = charge(4e6, 2300.0);
    cite("WOSCHNI-1967", "coefficient in three phases, made inputs, worked out independently")
        .near("burning, W/(m² K)", coefficient(4e6, 2300.0, burning), 1_786.043_400_9, formula())
        .near(
            "gas exchange, W/(m² K)",
            coefficient(2e5, 1100.0, WoschniPhase::GasExchange),
            405.622_459_469,
            formula(),
        )
        .near(
            "compression, W/(m² K)",
            coefficient(1.2e6, 700.0, WoschniPhase::Compression),
            982.114_553_517,
            formula(),
        )
        .near(
            "flux to a wall at 480 K, W/m²",
            WallHeat::Woschni.flux_w_m2(&hot, burning, 480.0),
            3_250_598.989_65,
            formula(),
        );
    let mut dense = hot;
    dense.density_kg_m3 = 6.059_687_926_07;
    let annand = |radiation| WallHeat::Annand { a: 0.6, radiation };
    let flux = |radiation| annand(radiation).flux_w_m2(&dense, WoschniPhase::Compression, 480.0);
    cite("ANNAND-1963", "coefficient and radiation, made inputs, worked out independently")
        .near(
            "coefficient, W/(m² K)",
            annand(0.0).coefficient_w_m2_k(&dense, WoschniPhase::Compression),
            5_025.028_015_64,
            formula(),
        )
        .near("convected flux, W/m²", flux(0.0), 9_145_550.988_46, formula())
        .near(
            "radiated flux, W/m²",
            flux(0.075) - flux(0.0),
            118_784.488_287,
            Tolerance::relative(1e-6, "theirs rounds the constant of radiation"),
        );
}

#[test]
fn published_friction_and_heat_in_ducts() {
    let table = Table::read(include_str!("../data/gas/duct_friction_heat.csv"));
    let rough = 1e-3;
    let (mut friction, mut heat) = ([0.0f64; 3], [0.0f64; 2]);
    for line in table.lines() {
        let re = line.number("Re");
        let off = |ours: f64, column: &str| (ours / line.number(column) - 1.0).abs();
        let laws = [
            (Friction::Blasius, "f_blasius"),
            (Friction::Haaland { relative_roughness: rough }, "f_haaland"),
            (Friction::Colebrook { relative_roughness: rough }, "f_colebrook"),
        ];
        for (worst, (law, column)) in friction.iter_mut().zip(laws) {
            *worst = worst.max(off(law.turbulent(re), column));
        }
        let numbers = [
            (Nusselt::DittusBoelter, "Nu_dittus_boelter"),
            (Nusselt::Colburn(Friction::Blasius), "Nu_colburn"),
        ];
        for (worst, (law, column)) in heat.iter_mut().zip(numbers) {
            *worst = worst.max(off(law.turbulent(re, 0.7), column));
        }
    }
    cite("WHITE-FLUID", "chapter 6, friction factors, Reynolds numbers 2300 to a million")
        .near("Blasius, greatest relative difference", friction[0], 0.0, fine())
        .near("Haaland, greatest relative difference", friction[1], 0.0, fine())
        .near("Colebrook, greatest relative difference", friction[2], 0.0, fine());
    cite("INCROPERA", "chapter 8, turbulent flow in tubes, Prandtl number 0.70")
        .near("Dittus and Boelter, greatest relative difference", heat[0], 0.0, fine())
        .near("Colburn with Blasius, greatest relative difference", heat[1], 0.0, fine());
}

#[test]
fn published_reed_petal() {
    let table = Table::read(include_str!("../data/gas/reed_cantilever.csv"));
    let source =
        cite("RAO-VIBRATIONS", "even cantilever, three materials (constants from memory), closed form");
    let roots = [1.875_104_068_711_961, 4.694_091_132_974_175, 7.854_757_438_237_613];
    for line in table.lines() {
        let petal = Petal {
            length_m: line.number("length"),
            width_m: line.number("width"),
            thickness_m: line.number("thickness"),
            modulus_pa: line.number("E"),
            density_kg_m3: line.number("rho"),
        };
        let mode = line.number("mode") as usize;
        let what = line.text("material").replace('_', " ");
        let close = || Tolerance::relative(1e-6, FORMULA);
        source.near(
            &format!("{what}: frequency of mode {mode}, Hz"),
            petal.frequency_of_mode_hz(roots[mode - 1]),
            line.number("f_Hz"),
            close(),
        );
        if mode == 1 {
            source
                .near(
                    &format!("{what}: tip lift, mm/kPa"),
                    petal.tip_lift_m_per_pa() * 1e6,
                    line.number("tip_deflection_m_per_kPa") * 1e3,
                    close(),
                )
                .near(
                    &format!("{what}: tip slope, rad/kPa"),
                    petal.tip_slope_rad_per_pa() * 1e3,
                    line.number("tip_slope_per_kPa"),
                    close(),
                );
        }
    }
}

#[test]
fn published_flow_through_an_opening() {
    let psi = Table::read(include_str!("../data/gas/orifice_flow.csv"));
    let worst = psi
        .lines()
        .map(|line| (flow_function(line.number("gamma"), line.number("pb_p0")) - line.number("psi")).abs())
        .fold(0.0, f64::max);
    let choked = Table::read(include_str!("../data/gas/choked_flow.csv"));
    let mut critical = (0.0f64, 0.0f64);
    for line in choked.lines() {
        let gamma = line.number("gamma");
        critical.0 = critical.0.max((critical_pressure_ratio(gamma) - line.number("pstar_p0")).abs());
        critical.1 = critical.1.max((flow_function(gamma, 0.0) - line.number("mdot_nd")).abs());
    }
    cite("NACA-1135", "isentropic flow through a throat, closed forms worked out independently")
        .near("flow function, greatest difference", worst, 0.0, fine())
        .near("critical pressure ratio, greatest difference", critical.0, 0.0, fine())
        .near("choked flow, greatest difference", critical.1, 0.0, fine());
}

#[test]
fn practice_friction_of_a_small_two_stroke() {
    // Recalled from Blair (1990), not read: holds only that the line gives what was recalled.
    let pressure_pa = Fmep::RollingBearings.pressure_pa(0.0545, 12_000.0 * std::f64::consts::TAU / 60.0);
    practice("friction of a 125 cc single at 12 000 rpm is about 1 bar (recalled)").near(
        "friction mean effective pressure, bar",
        pressure_pa * 1e-5,
        0.98,
        Tolerance::absolute(0.005, "two digits are recalled"),
    );
}
