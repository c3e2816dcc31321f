//! Two vectors side by side: two chains of arithmetic at once keep a processor busy while either waits.

use super::vector::Vector;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// Two vectors.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair<V>(V, V);

macro_rules! operator {
    ($trait:ident, $name:ident) => {
        impl<V: Vector> $trait for Pair<V> {
            type Output = Self;
            #[inline(always)]
            fn $name(self, other: Self) -> Self {
                Self(self.0.$name(other.0), self.1.$name(other.1))
            }
        }
    };
}
operator!(Add, add);
operator!(Sub, sub);
operator!(Mul, mul);
operator!(Div, div);

impl<V: Vector> Neg for Pair<V> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        Self(-self.0, -self.1)
    }
}

impl<V: Vector> Vector for Pair<V> {
    const WIDTH: usize = 2 * V::WIDTH;
    #[inline(always)]
    fn of(x: f64) -> Self {
        Self(V::of(x), V::of(x))
    }
    #[inline(always)]
    fn load(row: &[f64], at: usize) -> Self {
        Self(V::load(row, at), V::load(row, at + V::WIDTH))
    }
    #[inline(always)]
    fn store(self, row: &mut [f64], at: usize) {
        self.0.store(row, at);
        self.1.store(row, at + V::WIDTH);
    }
    #[inline(always)]
    fn fused(self, b: Self, c: Self) -> Self {
        Self(self.0.fused(b.0, c.0), self.1.fused(b.1, c.1))
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        Self(self.0.sqrt(), self.1.sqrt())
    }
    #[inline(always)]
    fn abs(self) -> Self {
        Self(self.0.abs(), self.1.abs())
    }
    #[inline(always)]
    fn least(self, other: Self) -> Self {
        Self(self.0.least(other.0), self.1.least(other.1))
    }
    #[inline(always)]
    fn most(self, other: Self) -> Self {
        Self(self.0.most(other.0), self.1.most(other.1))
    }
    #[inline(always)]
    fn plus_or(self, yes: Self, no: Self) -> Self {
        Self(self.0.plus_or(yes.0, no.0), self.1.plus_or(yes.1, no.1))
    }
    #[inline(always)]
    fn all_minus(self) -> bool {
        self.0.all_minus() && self.1.all_minus()
    }
    #[inline(always)]
    fn lifted(self, whole: Self) -> Self {
        Self(self.0.lifted(whole.0), self.1.lifted(whole.1))
    }
    #[inline(always)]
    fn mantissa(self) -> Self {
        Self(self.0.mantissa(), self.1.mantissa())
    }
    #[inline(always)]
    fn exponent(self) -> Self {
        Self(self.0.exponent(), self.1.exponent())
    }
}
