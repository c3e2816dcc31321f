//! From readings to a setting: present state, demands, target, spread. Numbers only; the words are in `report`.

pub mod case;
pub mod demand;
pub mod present;
pub mod solution;
pub mod spread;
pub mod target;
