//! The position sensor over its whole travel: range, monotonicity, dead spots, jumps, noise, linearity.
