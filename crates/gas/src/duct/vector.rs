//! Several numbers that are computed with at once: what the kernel needs of them, and two plain forms.
//!
//! The kernel is written once over [`Vector`]. A single `f64` serves the tests, four in an array any processor,
//! and `wide` processors with 256-bit vectors. Compilers do not reliably turn a loop of this length into vectors.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// Numbers side by side.
pub(crate) trait Vector:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self> + Neg<Output = Self>
{
    /// How many.
    const WIDTH: usize;
    /// The same number everywhere.
    fn of(x: f64) -> Self;
    /// Those that stand in a row from `at` on.
    fn load(row: &[f64], at: usize) -> Self;
    /// Puts them there.
    fn store(self, row: &mut [f64], at: usize);
    /// `self b + c`, in one rounding where the processor has it.
    fn fused(self, b: Self, c: Self) -> Self;
    fn sqrt(self) -> Self;
    fn abs(self) -> Self;
    /// The smaller of each two.
    fn least(self, other: Self) -> Self;
    /// The greater of each two.
    fn most(self, other: Self) -> Self;
    /// `yes` where the sign of `self` is plus, `no` where it is minus.
    fn plus_or(self, yes: Self, no: Self) -> Self;
}

impl Vector for f64 {
    const WIDTH: usize = 1;
    #[inline(always)]
    fn of(x: f64) -> Self {
        x
    }
    #[inline(always)]
    fn load(row: &[f64], at: usize) -> Self {
        row[at]
    }
    #[inline(always)]
    fn store(self, row: &mut [f64], at: usize) {
        row[at] = self;
    }
    #[inline(always)]
    fn fused(self, b: Self, c: Self) -> Self {
        self * b + c
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        f64::sqrt(self)
    }
    #[inline(always)]
    fn abs(self) -> Self {
        f64::abs(self)
    }
    #[inline(always)]
    fn least(self, other: Self) -> Self {
        if self < other { self } else { other }
    }
    #[inline(always)]
    fn most(self, other: Self) -> Self {
        if self > other { self } else { other }
    }
    #[inline(always)]
    fn plus_or(self, yes: Self, no: Self) -> Self {
        if self.is_sign_negative() { no } else { yes }
    }
}

/// Four in an array.
#[derive(Debug, Clone, Copy)]
#[repr(C, align(32))]
pub(crate) struct Four([f64; 4]);

impl Four {
    #[inline(always)]
    fn with(self, other: Self, f: impl Fn(f64, f64) -> f64) -> Self {
        let (a, b) = (self.0, other.0);
        Self([f(a[0], b[0]), f(a[1], b[1]), f(a[2], b[2]), f(a[3], b[3])])
    }

    #[inline(always)]
    fn each(self, f: impl Fn(f64) -> f64) -> Self {
        self.with(self, |a, _| f(a))
    }
}

macro_rules! operator {
    ($trait:ident, $name:ident) => {
        impl $trait for Four {
            type Output = Self;
            #[inline(always)]
            fn $name(self, other: Self) -> Self {
                self.with(other, |a, b| a.$name(b))
            }
        }
    };
}
operator!(Add, add);
operator!(Sub, sub);
operator!(Mul, mul);
operator!(Div, div);

impl Neg for Four {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self.each(|a| -a)
    }
}

impl Vector for Four {
    const WIDTH: usize = 4;
    #[inline(always)]
    fn of(x: f64) -> Self {
        Self([x; 4])
    }
    #[inline(always)]
    fn load(row: &[f64], at: usize) -> Self {
        let row = &row[at..at + 4];
        Self([row[0], row[1], row[2], row[3]])
    }
    #[inline(always)]
    fn store(self, row: &mut [f64], at: usize) {
        row[at..at + 4].copy_from_slice(&self.0);
    }
    #[inline(always)]
    fn fused(self, b: Self, c: Self) -> Self {
        self * b + c
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        self.each(f64::sqrt)
    }
    #[inline(always)]
    fn abs(self) -> Self {
        self.each(f64::abs)
    }
    #[inline(always)]
    fn least(self, other: Self) -> Self {
        self.with(other, |a, b| if a < b { a } else { b })
    }
    #[inline(always)]
    fn most(self, other: Self) -> Self {
        self.with(other, |a, b| if a > b { a } else { b })
    }
    #[inline(always)]
    fn plus_or(self, yes: Self, no: Self) -> Self {
        let pick = |k: usize| if self.0[k].is_sign_negative() { no.0[k] } else { yes.0[k] };
        Self([pick(0), pick(1), pick(2), pick(3)])
    }
}
