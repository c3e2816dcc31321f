//! The Portwright program.

fn main() {}
