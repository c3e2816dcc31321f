//! The choice of the instruction set at run time.
//!
//! The same code is compiled once for the build's own target and once for processors with 256-bit vectors and fused
//! multiply-add; the second runs two to three times as fast. Results of the two differ by rounding only.
#![allow(
    unsafe_code,
    reason = "calling code compiled for a processor feature is unsafe until the feature was found"
)]

use super::caloric::Caloric;
use super::geometry::Shape;
use super::state::{Cell, EndFlux, EndState, Primitive};
use super::pair::Pair;
use super::vector::{Four, Vector};
#[cfg(target_arch = "x86_64")]
use super::wide::Wide;
use super::{prepare, sweep};
use crate::end::many::{self, Openings, Reservoirs};
use sweep::{Swept, Work};

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

    pub(crate) fn prepare<const L: usize>(
        self,
        gas: &Caloric,
        shapes: &[Shape],
        cells: &mut [Cell<L>],
        primitives: &mut [Primitive<L>],
    ) -> f64 {
        match self.0 {
            // SAFETY: `Wide` is only made by `best`, which found both features on this processor.
            #[cfg(target_arch = "x86_64")]
            Set::Wide if L.is_multiple_of(Wide::WIDTH) => unsafe {
                prepare_wide(gas, shapes, cells, primitives)
            },
            _ => plain_prepare(gas, shapes, cells, primitives),
        }
    }

    /// Flux through openings that may differ by lane; what leaves the duct enters the reservoir and the other way round.
    pub fn through<const L: usize>(
        self,
        gas: &EndState<L>,
        outside: &Reservoirs<L>,
        openings: &Openings<L>,
    ) -> EndFlux<L> {
        match self.0 {
            // SAFETY: `Wide` is only made by `best`, which found both features on this processor.
            #[cfg(target_arch = "x86_64")]
            Set::Wide if L.is_multiple_of(Wide::WIDTH) => unsafe { through_wide(gas, outside, openings) },
            _ if L.is_multiple_of(Four::WIDTH) => many::through::<L, Four>(gas, outside, openings),
            _ => many::through::<L, f64>(gas, outside, openings),
        }
    }

    pub(crate) fn sweep<const L: usize>(self, work: Work<'_, L>) -> Swept<L> {
        match self.0 {
            // SAFETY: `Wide` is only made by `best`, which found both features on this processor.
            #[cfg(target_arch = "x86_64")]
            Set::Wide if L.is_multiple_of(Wide::WIDTH) => unsafe { sweep_wide(work) },
            _ => plain_sweep(work),
        }
    }
}

fn plain_prepare<const L: usize>(
    gas: &Caloric,
    shapes: &[Shape],
    cells: &mut [Cell<L>],
    primitives: &mut [Primitive<L>],
) -> f64 {
    if L.is_multiple_of(Four::WIDTH) {
        prepare::prepare::<L, Four>(gas, shapes, cells, primitives)
    } else {
        prepare::prepare::<L, f64>(gas, shapes, cells, primitives)
    }
}

fn plain_sweep<const L: usize>(work: Work<'_, L>) -> Swept<L> {
    if L.is_multiple_of(Four::WIDTH) { sweep::sweep::<L, Four>(work) } else { sweep::sweep::<L, f64>(work) }
}

#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2,fma")]
fn prepare_wide<const L: usize>(
    gas: &Caloric,
    shapes: &[Shape],
    cells: &mut [Cell<L>],
    primitives: &mut [Primitive<L>],
) -> f64 {
    if L.is_multiple_of(8) { prepare::prepare::<L, Pair<Wide>>(gas, shapes, cells, primitives) } else { prepare::prepare::<L, Wide>(gas, shapes, cells, primitives) }
}

#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2,fma")]
fn sweep_wide<const L: usize>(work: Work<'_, L>) -> Swept<L> {
    if L.is_multiple_of(8) { sweep::sweep::<L, Pair<Wide>>(work) } else { sweep::sweep::<L, Wide>(work) }
}

#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2,fma")]
fn through_wide<const L: usize>(
    gas: &EndState<L>,
    outside: &Reservoirs<L>,
    openings: &Openings<L>,
) -> EndFlux<L> {
    if L.is_multiple_of(8) { many::through::<L, Pair<Wide>>(gas, outside, openings) } else { many::through::<L, Wide>(gas, outside, openings) }
}
