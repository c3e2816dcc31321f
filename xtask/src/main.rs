//! What `./check` and CI run.

fn main() {}
