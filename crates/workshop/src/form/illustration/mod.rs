//! Drawings of what a form asks for: one part, the asked dimension in ink with where it is measured from.
//!
//! Parts that are described are drawn with their own proportions, others with usual ones; the asked figure is
//! written when it can be read and stands as a question mark when not.

mod kind;

pub use kind::{Cable, Illustration};
