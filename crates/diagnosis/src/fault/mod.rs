//! Causes ranked by what was seen, and the next best test.
