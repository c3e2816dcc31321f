//! Valve-gear mechanics: where the valve stands for a given servo travel and adjuster setting, and what it costs.
//!
//! The model, with numbered equations and its limits, is written up in `docs/valve-gear.md`. In short: two wires that
//! only pull, sheath and mount compliance in series with capstan friction, a return spring, unilateral stops and
//! friction as a band between rising and falling travel. The balance is piecewise linear and is solved exactly.
//!
//! ```
//! use gear::{CableLine, Direction, Mechanism, Setting, Spring};
//! let cable = CableLine {
//!     servo_radius_m: 0.015,
//!     valve_radius_m: 0.020,
//!     wire_stiffness_n_per_m: 120e3,
//!     sheath_stiffness_n_per_m: 400e3,
//!     bends_rad: 3.0,
//!     friction: 0.12,
//! };
//! let mechanism = Mechanism {
//!     opening: cable,
//!     closing: cable,
//!     spring: Spring::Shaft { at_closed_n_m: 0.2, rate_n_m_per_rad: 0.1 },
//!     shaft_friction_n_m: 0.02,
//!     mount_stiffness_n_per_m: 80e3,
//!     gas_torque_n_m: 0.0,
//!     mechanical_end_rad: f64::INFINITY,
//!     servo_travel_rad: 2.0,
//!     stall_torque_n_m: 4.0,
//!     last_gear_radius_m: None,
//! };
//! let setting = Setting { opening_slack_m: 0.5e-3, closing_slack_m: 1e-3 };
//! let full = mechanism.solve(setting, 2.0, Direction::Rising);
//! assert!(full.valve_travel_rad > 1.4 && full.valve_travel_rad < 1.5);
//! ```

mod adjuster;
mod balance;
pub mod cable;
mod extremes;
mod inverse;
mod mechanism;
mod regime;
pub mod sheath;
pub mod spring;
mod state;
mod sweep;

pub use adjuster::{Adjuster, Turn};
pub use extremes::Extremes;
pub use inverse::InverseError;
pub use mechanism::{CableLine, Direction, Mechanism, Setting, Spring};
pub use regime::Regime;
pub use state::State;
pub use sweep::{Sweep, SweepPoint};
