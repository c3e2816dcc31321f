//! How far ours may be from theirs, and why.

/// The widest accepted difference with its reason.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    size: f64,
    relative: bool,
    reason: &'static str,
}

impl Tolerance {
    /// A difference of at most `size`, in the unit of the two values. `size` is finite and not negative.
    pub fn absolute(size: f64, reason: &'static str) -> Self {
        Self { size, relative: false, reason }
    }

    /// A difference of at most `size` times the published value, for example 0.01 for one per cent.
    pub fn relative(size: f64, reason: &'static str) -> Self {
        Self { size, relative: true, reason }
    }

    /// The widest accepted difference beside the published value `theirs`, in its unit.
    pub fn width(&self, theirs: f64) -> f64 {
        if self.relative { self.size * theirs.abs() } else { self.size }
    }

    /// Why the tolerance is what it is.
    pub fn reason(&self) -> &'static str {
        self.reason
    }

    /// What is wrong with the tolerance itself, if anything.
    pub(crate) fn fault(&self) -> Option<&'static str> {
        if !self.size.is_finite() || self.size < 0.0 {
            Some("the tolerance must be finite and not negative")
        } else if self.reason.trim().is_empty() {
            Some("the tolerance needs a reason")
        } else {
            None
        }
    }
}
