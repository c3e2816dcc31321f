//! Sweeps with a known truth.

mod made;
mod picture;
mod places;
mod short;
mod truth;
