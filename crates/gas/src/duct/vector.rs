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
    /// Whether the sign is minus everywhere.
    fn all_minus(self) -> bool;
    /// Times two to the power of `whole`, which must be a whole number of small size plus [`MAGIC`].
    fn lifted(self, whole: Self) -> Self;
    /// The number from 1 to 2 that it is times a power of two; above zero.
    fn mantissa(self) -> Self;
    /// That power.
    fn exponent(self) -> Self;

    /// e to the power of each, from -700 to 700; beyond, that of the bound. Good to about 2e-16.
    #[inline(always)]
    fn exp(self) -> Self {
        let x = self.most(Self::of(-700.0)).least(Self::of(700.0));
        let magic = Self::of(MAGIC);
        let whole = x.fused(Self::of(std::f64::consts::LOG2_E), magic);
        let n = whole - magic;
        let r = n.fused(Self::of(-LN_2_FINE), n.fused(Self::of(-LN_2_COARSE), x));
        let mut sum = Self::of(1.0 / 479_001_600.0);
        for term in FACTORIALS {
            sum = sum.fused(r, Self::of(1.0 / term));
        }
        sum.lifted(whole)
    }

    /// e to the power of each less one, without loss for small ones: good to about 4e-16 of itself
    /// from -0.35 to 0.35, beyond to 2e-16 of one or of itself.
    #[inline(always)]
    fn exp_m1(self) -> Self {
        let near = self.most(Self::of(-0.35)).least(Self::of(0.35));
        // 13!, 12!, and 11! down to 1!.
        let mut sum = Self::of(1.0 / 6_227_020_800.0).fused(near, Self::of(1.0 / 479_001_600.0));
        for term in &FACTORIALS[..FACTORIALS.len() - 1] {
            sum = sum.fused(near, Self::of(1.0 / term));
        }
        let beyond = Self::of(0.35) - self.abs();
        beyond.plus_or(sum * near, self.exp() - Self::of(1.0))
    }

    /// Natural logarithm of each, above zero. Good to about 2e-16.
    #[inline(always)]
    fn ln(self) -> Self {
        let one = Self::of(1.0);
        let mantissa = self.mantissa();
        // From 0.7 to 1.4.
        let low = Self::of(std::f64::consts::SQRT_2) - mantissa;
        let m = low.plus_or(mantissa, Self::of(0.5) * mantissa);
        let e = self.exponent() + low.plus_or(Self::of(0.0), one);
        let f = (m - one) / (m + one);
        let square = f * f;
        let mut sum = Self::of(1.0 / 21.0);
        for odd in [19.0, 17.0, 15.0, 13.0, 11.0, 9.0, 7.0, 5.0, 3.0] {
            sum = sum.fused(square, Self::of(1.0 / odd));
        }
        let whole = (f + f) * sum.fused(square, one);
        e.fused(Self::of(LN_2_COARSE), e.fused(Self::of(LN_2_FINE), whole))
    }
}

/// Added to a number of small size it leaves the nearest whole number in the lowest bits: 1.5 times 2^52.
const MAGIC: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts, the first with room for a whole number times it.
const LN_2_COARSE: f64 = f64::from_bits(0x3fe6_2e42_fee0_0000);
const LN_2_FINE: f64 = 1.908_214_929_270_587_7e-10;
/// 11! down to 0!.
const FACTORIALS: [f64; 12] =
    [39_916_800.0, 3_628_800.0, 362_880.0, 40_320.0, 5040.0, 720.0, 120.0, 24.0, 6.0, 2.0, 1.0, 1.0];
/// Bits of 2^52, and what that with a bare exponent in its lowest bits exceeds the power by.
pub(super) const POWER_BITS: u64 = 0x4330_0000_0000_0000;
pub(super) const POWER_OFFSET: f64 = 4_503_599_627_370_496.0 + 1023.0;

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
    #[inline(always)]
    fn all_minus(self) -> bool {
        self.is_sign_negative()
    }
    #[inline(always)]
    fn lifted(self, whole: Self) -> Self {
        f64::from_bits(self.to_bits().wrapping_add(whole.to_bits() << 52))
    }
    #[inline(always)]
    fn mantissa(self) -> Self {
        f64::from_bits((self.to_bits() & 0x000f_ffff_ffff_ffff) | 0x3ff0_0000_0000_0000)
    }
    #[inline(always)]
    fn exponent(self) -> Self {
        f64::from_bits((self.to_bits() >> 52) | POWER_BITS) - POWER_OFFSET
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
    #[inline(always)]
    fn all_minus(self) -> bool {
        self.0.iter().all(|a| a.is_sign_negative())
    }
    #[inline(always)]
    fn lifted(self, whole: Self) -> Self {
        self.with(whole, Vector::lifted)
    }
    #[inline(always)]
    fn mantissa(self) -> Self {
        self.each(Vector::mantissa)
    }
    #[inline(always)]
    fn exponent(self) -> Self {
        self.each(Vector::exponent)
    }
}

#[cfg(test)]
mod tests {
    use super::Vector;

    #[test]
    fn agrees_exponential_and_logarithm_with_the_library() {
        for i in -2000..=2000 {
            let x = f64::from(i) * 0.173;
            let (ours, theirs) = (Vector::exp(x), libm::exp(x));
            assert!((ours / theirs - 1.0).abs() < 5e-16, "exp {x}: {ours} {theirs}");
            let (ours, theirs) = (Vector::exp_m1(0.01 * x), libm::expm1(0.01 * x));
            assert!(
                (ours - theirs).abs() <= 6e-16 * theirs.abs().max(if x.abs() > 35.0 { 1.0 } else { 0.0 }),
                "{x}"
            );
            let (ours, theirs) = (Vector::ln(libm::exp(x)), libm::log(libm::exp(x)));
            assert!((ours - theirs).abs() <= 4e-16 * theirs.abs().max(1.0), "ln {x}: {ours} {theirs}");
        }
        assert_eq!(Vector::exp(0.0), 1.0);
        assert_eq!(Vector::ln(1.0), 0.0);
    }
}
