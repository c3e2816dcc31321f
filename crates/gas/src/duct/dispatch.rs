//! The choice of the instruction set at run time.
//!
//! The same code is compiled once for the build's own target and once for processors with 256-bit vectors and fused
//! multiply-add; the second runs two to three times as fast. Results of the two differ by rounding only.
#![allow(
    unsafe_code,
    reason = "calling code compiled for a processor feature is unsafe until the feature was found"
)]

#[cfg(target_arch = "x86_64")]
use super::pair::Pair;
use super::vector::{Four, Vector};
#[cfg(target_arch = "x86_64")]
use super::wide::Wide;

/// Work on `L` lanes that is written once for all vectors.
pub(crate) trait Lanes<const L: usize> {
    /// What comes of it.
    type Found;
    /// Does it; to be inlined always, as code outside the functions compiled for an instruction set is slow. Closures are
    /// not certain to be.
    fn compute<V: Vector>(self) -> Self::Found;
}

/// Which compiled copy of the step is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Instructions(Set);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Set {
    Plain,
    #[cfg(target_arch = "x86_64")]
    Wide,
}

impl Instructions {
    /// The build's own target; runs everywhere.
    pub const PLAIN: Self = Self(Set::Plain);

    /// The fastest that this processor has.
    pub fn best() -> Self {
        #[cfg(target_arch = "x86_64")]
        if std::arch::is_x86_feature_detected!("avx2") && std::arch::is_x86_feature_detected!("fma") {
            return Self(Set::Wide);
        }
        Self::PLAIN
    }

    /// Its name, for reports.
    pub fn name(self) -> &'static str {
        match self.0 {
            Set::Plain => "plain",
            #[cfg(target_arch = "x86_64")]
            Set::Wide => "avx2 and fma",
        }
    }

    /// Does some work.
    #[inline]
    pub(crate) fn compute<const L: usize, W: Lanes<L>>(self, work: W) -> W::Found {
        match self.0 {
            // SAFETY: `Wide` is only made by `best`, which found both features on this processor.
            #[cfg(target_arch = "x86_64")]
            Set::Wide if L.is_multiple_of(2 * Wide::WIDTH) => unsafe { in_pairs(work) },
            // SAFETY: as above.
            #[cfg(target_arch = "x86_64")]
            Set::Wide if L.is_multiple_of(Wide::WIDTH) => unsafe { wide(work) },
            _ if L.is_multiple_of(Four::WIDTH) => work.compute::<Four>(),
            _ => work.compute::<f64>(),
        }
    }
}

#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2,fma")]
fn in_pairs<const L: usize, W: Lanes<L>>(work: W) -> W::Found {
    work.compute::<Pair<Wide>>()
}

#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2,fma")]
fn wide<const L: usize, W: Lanes<L>>(work: W) -> W::Found {
    work.compute::<Wide>()
}
