//! Four numbers in one 256-bit register, with fused multiply-add.
//!
//! Only [`super::dispatch`] uses it, and only in functions compiled for these features after they were found on the
//! processor: everything here is inlined into those.
#![allow(unsafe_code, reason = "vector instructions are unsafe to name outside a function compiled for them")]

use super::vector::{POWER_BITS, POWER_OFFSET, Vector};
use std::arch::x86_64::{
    __m256d, _mm256_add_epi64, _mm256_add_pd, _mm256_and_si256, _mm256_andnot_pd, _mm256_blendv_pd,
    _mm256_castpd_si256, _mm256_castsi256_pd, _mm256_div_pd, _mm256_fmadd_pd, _mm256_loadu_pd, _mm256_max_pd,
    _mm256_min_pd, _mm256_movemask_pd, _mm256_mul_pd, _mm256_or_si256, _mm256_set1_epi64x, _mm256_set1_pd,
    _mm256_slli_epi64, _mm256_sqrt_pd, _mm256_srli_epi64, _mm256_storeu_pd, _mm256_sub_pd, _mm256_xor_pd,
};
use std::ops::{Add, Div, Mul, Neg, Sub};

/// Four numbers.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wide(__m256d);

macro_rules! operator {
    ($trait:ident, $name:ident, $instruction:ident) => {
        impl $trait for Wide {
            type Output = Self;
            #[inline(always)]
            fn $name(self, other: Self) -> Self {
                // SAFETY: reached only where avx2 was found, see the module.
                Self(unsafe { $instruction(self.0, other.0) })
            }
        }
    };
}
operator!(Add, add, _mm256_add_pd);
operator!(Sub, sub, _mm256_sub_pd);
operator!(Mul, mul, _mm256_mul_pd);
operator!(Div, div, _mm256_div_pd);

impl Neg for Wide {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        // SAFETY: as above.
        Self(unsafe { _mm256_xor_pd(self.0, _mm256_set1_pd(-0.0)) })
    }
}

impl Vector for Wide {
    const WIDTH: usize = 4;
    #[inline(always)]
    fn of(x: f64) -> Self {
        // SAFETY: as above.
        Self(unsafe { _mm256_set1_pd(x) })
    }
    #[inline(always)]
    fn load(row: &[f64], at: usize) -> Self {
        let row = &row[at..at + 4];
        // SAFETY: as above; the slice holds the four numbers read.
        Self(unsafe { _mm256_loadu_pd(row.as_ptr()) })
    }
    #[inline(always)]
    fn store(self, row: &mut [f64], at: usize) {
        let row = &mut row[at..at + 4];
        // SAFETY: as above; the slice has room for the four numbers written.
        unsafe { _mm256_storeu_pd(row.as_mut_ptr(), self.0) }
    }
    #[inline(always)]
    fn fused(self, b: Self, c: Self) -> Self {
        // SAFETY: reached only where fma was found, see the module.
        Self(unsafe { _mm256_fmadd_pd(self.0, b.0, c.0) })
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        // SAFETY: as above.
        Self(unsafe { _mm256_sqrt_pd(self.0) })
    }
    #[inline(always)]
    fn abs(self) -> Self {
        // SAFETY: as above.
        Self(unsafe { _mm256_andnot_pd(_mm256_set1_pd(-0.0), self.0) })
    }
    #[inline(always)]
    fn least(self, other: Self) -> Self {
        // SAFETY: as above.
        Self(unsafe { _mm256_min_pd(self.0, other.0) })
    }
    #[inline(always)]
    fn most(self, other: Self) -> Self {
        // SAFETY: as above.
        Self(unsafe { _mm256_max_pd(self.0, other.0) })
    }
    #[inline(always)]
    fn plus_or(self, yes: Self, no: Self) -> Self {
        // SAFETY: as above. The blend goes by the sign bit.
        Self(unsafe { _mm256_blendv_pd(yes.0, no.0, self.0) })
    }
    #[inline(always)]
    fn all_minus(self) -> bool {
        // SAFETY: as above.
        unsafe { _mm256_movemask_pd(self.0) == 0b1111 }
    }
    #[inline(always)]
    fn lifted(self, whole: Self) -> Self {
        // SAFETY: as above.
        Self(unsafe {
            let power = _mm256_slli_epi64::<52>(_mm256_castpd_si256(whole.0));
            _mm256_castsi256_pd(_mm256_add_epi64(_mm256_castpd_si256(self.0), power))
        })
    }
    #[inline(always)]
    fn mantissa(self) -> Self {
        // SAFETY: as above.
        Self(unsafe {
            let bits =
                _mm256_and_si256(_mm256_castpd_si256(self.0), _mm256_set1_epi64x(0x000f_ffff_ffff_ffff));
            _mm256_castsi256_pd(_mm256_or_si256(bits, _mm256_set1_epi64x(0x3ff0_0000_0000_0000)))
        })
    }
    #[inline(always)]
    fn exponent(self) -> Self {
        // SAFETY: as above.
        let whole = Self(unsafe {
            let bits = _mm256_srli_epi64::<52>(_mm256_castpd_si256(self.0));
            _mm256_castsi256_pd(_mm256_or_si256(bits, _mm256_set1_epi64x(POWER_BITS as i64)))
        });
        whole - Self::of(POWER_OFFSET)
    }
}
