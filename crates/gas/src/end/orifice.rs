//! A port, nozzle or mouth between a duct and a reservoir, quasi-steady: one scalar equation for the pressure at the
//! duct's end, solved against the exact wave curve of the duct.
//!
//! Into the duct: isentropic from the reservoir to the throat, choked at the speed of sound there; then the expansion
//! from throat to duct by [`Recovery`]. Out of the duct: isentropic contraction from the duct to the throat, whose
//! static pressure is the reservoir's unless it is choked (constant-pressure model of Benson 1982; Borda-Carnot).

use super::root::{newton, root};
use super::wave::Near;

/// Gas at rest outside the duct in one lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reservoir {
    /// Pa
    pub pressure_pa: f64,
    /// K
    pub temperature_k: f64,
    /// Gas constant, J/(kg K).
    pub r_j_kg_k: f64,
    /// Ratio of specific heats at that temperature.
    pub gamma: f64,
    /// Enthalpy by mass in the gas's own zero of energy, J/kg.
    pub enthalpy_j_kg: f64,
    /// Mass fractions of the second and third species.
    pub y: [f64; 2],
}

/// What becomes of the jet behind the throat when gas flows into the duct.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Recovery {
    /// Its kinetic energy is lost, the throat is at the duct's pressure: the constant-pressure model (Benson 1982).
    Nothing,
    /// It mixes at constant momentum: the sudden expansion of Borda and Carnot. With a share of 0.5 this is a sharp
    /// re-entrant mouth.
    Momentum,
}

/// An opening: effective areas, discharge coefficient included, over the duct's area; 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// For flow into the duct.
    pub share_in: f64,
    /// For flow out of the duct; 1 is an open end.
    pub share_out: f64,
    /// Behind the throat, into the duct.
    pub recovery: Recovery,
}

impl Opening {
    /// A wholly open end with a bell mouth: no loss on the way in, constant pressure on the way out.
    pub const BELL_MOUTH: Self = Self { share_in: 1.0, share_out: 1.0, recovery: Recovery::Nothing };

    /// A wholly open end with a sharp edge standing free (Borda's mouth, loss of one dynamic head on the way in).
    pub const SHARP_PIPE: Self = Self { share_in: 0.5, share_out: 1.0, recovery: Recovery::Momentum };
}

/// The duct's end as it settles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settled {
    /// Pa
    pub pressure: f64,
    /// m/s, positive into the duct
    pub velocity_in: f64,
    /// kg/(m² s) by duct area, positive into the duct
    pub mass: f64,
    /// Whether the throat runs at the speed of sound.
    pub choked: bool,
}

/// Relative width to which the logarithm of pressure is bracketed.
const NARROW: f64 = 1e-12;

/// Newton steps in the logarithm of pressure end with one smaller than this; the error left is about its square.
const CLOSE: f64 = 1e-7;

/// An opening below this share counts as shut: a millionth of the duct's area leaks nothing that matters.
pub(super) const SHUT: f64 = 1e-6;

/// Solves for the duct's end.
pub fn settle(near: &Near, outside: &Reservoir, opening: &Opening) -> Settled {
    let inward = near.behind(outside.pressure_pa).velocity_in > 0.0;
    let share = if inward { opening.share_in } else { opening.share_out };
    if share <= SHUT {
        return Settled { pressure: near.pressure_at(0.0), velocity_in: 0.0, mass: 0.0, choked: false };
    }
    match (inward, opening.recovery) {
        (true, Recovery::Nothing) => into_without_recovery(near, outside, share.min(1.0)),
        (true, Recovery::Momentum) => into_with_momentum(near, outside, share.min(1.0)),
        (false, _) => out_of(near, outside.pressure_pa, share.min(1.0)),
    }
}

/// Flow through the throat at a throat pressure of `exp(log)` times the reservoir's.
struct Throat {
    /// By duct area, kg/(m² s).
    mass: f64,
    velocity: f64,
    pressure: f64,
}

fn critical_log(gamma: f64) -> f64 {
    gamma / (gamma - 1.0) * (2.0 / (gamma + 1.0)).ln()
}

fn throat(outside: &Reservoir, share: f64, log: f64) -> Throat {
    let g = outside.gamma;
    let colder = ((g - 1.0) / g * log).exp();
    let cp = g / (g - 1.0) * outside.r_j_kg_k;
    let velocity = (2.0 * cp * outside.temperature_k * (1.0 - colder).max(0.0)).sqrt();
    let pressure = outside.pressure_pa * log.exp();
    let density = pressure / (outside.r_j_kg_k * outside.temperature_k * colder);
    Throat { mass: share * density * velocity, velocity, pressure }
}

/// Velocity in the duct of a mass flux at a pressure, by energy alone.
fn velocity_by_energy(outside: &Reservoir, mass: f64, pressure: f64) -> f64 {
    let cp = outside.gamma / (outside.gamma - 1.0) * outside.r_j_kg_k;
    let by_kelvin = mass * outside.r_j_kg_k / pressure;
    let t = outside.temperature_k;
    2.0 * t * by_kelvin / (1.0 + (1.0 + 2.0 * t * by_kelvin * by_kelvin / cp).sqrt())
}

fn into_without_recovery(near: &Near, outside: &Reservoir, share: f64) -> Settled {
    let g = outside.gamma;
    let critical = critical_log(g);
    let (r, t0) = (outside.r_j_kg_k, outside.temperature_k);
    let (kappa, cp) = ((g - 1.0) / g, g / (g - 1.0) * r);
    let choked_mass = throat(outside, share, critical).mass;
    let own = (outside.pressure_pa / near.pressure).ln();
    // By log of duct pressure over the reservoir's: mass flux and its slope over itself.
    let mass_at = |log: f64, pressure: f64| {
        if log <= critical {
            return (choked_mass, 0.0);
        }
        let colder = (kappa * log).exp();
        let fall = (1.0 - colder).max(0.0);
        let mass = share * pressure / (r * t0 * colder) * (2.0 * cp * t0 * fall).sqrt();
        (mass, 1.0 / g - 0.5 * kappa * colder / fall.max(1e-300))
    };
    // Squares of velocity: they stay smooth where the flow stops.
    let miss = |log: f64| {
        let pressure = outside.pressure_pa * log.exp();
        let (mass, mass_slope) = mass_at(log, pressure);
        let by_kelvin = mass * r / pressure;
        let root = (1.0 + 2.0 * t0 * by_kelvin * by_kelvin / cp).sqrt();
        let velocity = 2.0 * t0 * by_kelvin / (1.0 + root);
        let wave = near.behind_log(log + own);
        let velocity_slope = velocity * velocity * (mass_slope - 1.0) / root;
        let miss = wave.velocity_in * wave.velocity_in.abs() - velocity * velocity;
        (miss, 2.0 * (wave.velocity_in.abs() * wave.slope - velocity_slope))
    };
    let low = (near.pressure_at(0.0) / outside.pressure_pa).ln().max(-60.0);
    let log = newton(miss, low, 0.0, 0.5 * low, CLOSE, true);
    let pressure = outside.pressure_pa * log.exp();
    let mass = mass_at(log, pressure).0;
    at_most_sonic(outside, mass, pressure, log <= critical)
}

/// The duct's end at a mass flux and pressure, or the state of that mass flux at the speed of sound when it would be
/// faster: no wave runs back against sound, so a lower pressure further in cannot reach the end, and the fan between
/// the two stands inside the duct.
fn at_most_sonic(outside: &Reservoir, mass: f64, pressure: f64, choked: bool) -> Settled {
    let velocity_in = velocity_by_energy(outside, mass, pressure);
    let g = outside.gamma;
    let sonic_rt = 2.0 / (g + 1.0) * outside.r_j_kg_k * outside.temperature_k;
    let sound = (g * sonic_rt).sqrt();
    if velocity_in <= sound {
        return Settled { pressure, velocity_in, mass, choked };
    }
    Settled { pressure: mass * sonic_rt / sound, velocity_in: sound, mass, choked: true }
}

fn into_with_momentum(near: &Near, outside: &Reservoir, share: f64) -> Settled {
    let g = outside.gamma;
    let cp_t = g / (g - 1.0) * outside.r_j_kg_k * outside.temperature_k;
    let critical = critical_log(g);
    // Mass, momentum and energy from the throat to the whole duct; the subsonic root.
    let at = |log: f64| {
        let t = throat(outside, share, log);
        let impulse = t.pressure + t.mass * t.velocity;
        let b = g / (g - 1.0) * impulse;
        let rest = b * b - 2.0 * (g + 1.0) / (g - 1.0) * cp_t * t.mass * t.mass;
        let velocity = 2.0 * cp_t * t.mass / (b + rest.max(0.0).sqrt());
        (impulse - t.mass * velocity, t.mass, velocity)
    };
    let miss = |log: f64| {
        let (pressure, _, velocity) = at(log);
        let wave = near.behind(pressure).velocity_in;
        wave * wave.abs() - velocity * velocity
    };
    if miss(critical) > 0.0 {
        let mass = throat(outside, share, critical).mass;
        let miss = |log: f64| {
            let pressure = outside.pressure_pa * log.exp();
            near.behind(pressure).velocity_in - velocity_by_energy(outside, mass, pressure)
        };
        let low = (near.pressure_at(0.0) / outside.pressure_pa).ln().max(-60.0);
        let pressure = outside.pressure_pa * root(miss, low, 0.0, NARROW).exp();
        return at_most_sonic(outside, mass, pressure, true);
    }
    let (pressure, mass, velocity_in) = at(root(miss, critical, 0.0, NARROW));
    Settled { pressure, velocity_in, mass, choked: false }
}

pub(super) fn out_of(near: &Near, outside_pa: f64, share: f64) -> Settled {
    let g = near.gamma;
    let settled = |log: f64, choked: bool| {
        let pressure = near.pressure * log.exp();
        let behind = near.behind(pressure);
        let velocity_in = behind.velocity_in.min(0.0);
        Settled { pressure, velocity_in, mass: behind.density * velocity_in, choked }
    };
    let low = (outside_pa / near.pressure).ln();
    let high = (near.pressure_at(0.0) / near.pressure).ln().max(low);
    // Squares of velocity, multiplied out so that a share of 1 stays regular.
    let miss = |log: f64| {
        let behind = near.behind_log(log);
        let sound2 = g * near.pressure * log.exp() / behind.density;
        let colder = ((g - 1.0) / g * (low - log)).exp();
        // Square of share times throat density over the duct's.
        let thinner = share * share * (2.0 / g * (low - log)).exp();
        let drive = 2.0 / (g - 1.0) * sound2 * (1.0 - colder);
        let square = behind.velocity_in * behind.velocity_in;
        let miss = square * (1.0 - thinner) - thinner * drive;
        let thinner_slope = -2.0 / g * thinner;
        // The speed of sound is taken to change as in a rarefaction: that is exact there, near enough in a shock.
        let drive_slope = (g - 1.0) / g * drive + 2.0 / g * sound2 * colder;
        let slope = 2.0 * behind.velocity_in * behind.slope * (1.0 - thinner)
            - square * thinner_slope
            - thinner_slope * drive
            - thinner * drive_slope;
        (miss, slope)
    };
    let sonic = if share >= 1.0 || high - low > 0.45 { sonic_mach(g, share) } else { 1.0 };
    let run = |log: f64| {
        let behind = near.behind_log(log);
        -behind.velocity_in - sonic * (g * near.pressure * log.exp() / behind.density).sqrt()
    };
    // Faster than sound towards the end already: nothing runs back.
    if share >= 1.0 && near.velocity_in <= -near.sound {
        return Settled {
            pressure: near.pressure,
            velocity_in: near.velocity_in,
            mass: near.density * near.velocity_in,
            choked: true,
        };
    }
    let log_throat = |log: f64| {
        let heat = 1.0 + 0.5 * (g - 1.0) * sonic * sonic;
        log + g / (g - 1.0) * (heat * 2.0 / (g + 1.0)).ln()
    };
    // Without a wall pressure twice the outside's no throat can be choked: the critical ratio is below 0.61 for any gas.
    let may_choke = share >= 1.0 || high - low > 0.45;
    if may_choke && run(low) > 0.0 {
        let log = root(run, low, high, NARROW);
        if log_throat(log) >= low {
            return settled(log, true);
        }
    }
    if share >= 1.0 {
        return settled(low, false);
    }
    settled(newton(miss, low, high, 0.5 * (low + high), CLOSE, false), false)
}

/// Mach number in the duct when a throat of this share of its area runs at the speed of sound; subsonic branch of the
/// area relation.
fn sonic_mach(gamma: f64, share: f64) -> f64 {
    if share >= 1.0 {
        return 1.0;
    }
    // By logarithms of flow and Mach number, which are nearly straight for small openings.
    let (half, power) = (0.5 * (gamma - 1.0), 0.5 * (gamma + 1.0) / (gamma - 1.0));
    let miss = |m: f64| {
        let square = m * m;
        let flow =
            m.ln() - power * (1.0 + half * square).ln() - share.ln() + power * (0.5 * (gamma + 1.0)).ln();
        (flow, (1.0 - square) / (m * (1.0 + half * square)))
    };
    newton(miss, 0.0, 1.0, 0.6 * share, 1e-8, true)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_gas_enters_a_duct_at_most_with_the_speed_of_sound() {
        // A duct nearly empty beside a wide port: any further fall of its pressure changes nothing at the end.
        let outside = Reservoir {
            pressure_pa: 2e5,
            temperature_k: 900.0,
            r_j_kg_k: 287.0,
            gamma: 1.35,
            enthalpy_j_kg: 0.0,
            y: [0.0; 2],
        };
        let port = Opening { share_in: 0.9, share_out: 0.9, recovery: Recovery::Nothing };
        let at = |pressure: f64| {
            let density = pressure / (287.0 * 400.0);
            let sound = (1.35 * pressure / density).sqrt();
            settle(&Near { density, velocity_in: 0.0, pressure, gamma: 1.35, sound }, &outside, &port)
        };
        let (low, lower) = (at(0.05e5), at(0.005e5));
        let sonic = (2.0 * 1.35 / 2.35 * 287.0 * 900.0f64).sqrt();
        assert!(low.choked && lower.choked);
        assert!((lower.velocity_in / sonic - 1.0).abs() < 1e-12);
        assert_eq!((low.mass, low.pressure), (lower.mass, lower.pressure));
    }
}
