//! Bench checks as data, and the verdict on what was read in one.
