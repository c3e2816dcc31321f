//! Limited differences.

use super::vector::Vector;

/// Half of the monotonised central difference (van Leer 1977): the mean of both differences, at most twice the
/// smaller, zero at extrema. A value and its half differences never leave the range of the neighbours.
///
/// It takes no division, and is sharper than the harmonic mean.
#[inline(always)]
pub(crate) fn limited_half<V: Vector>(before: V, after: V) -> V {
    let zero = V::of(0.0);
    let quarter = V::of(0.25) * (before + after);
    // Between the least and the greatest of zero and the smaller difference, whatever the sign.
    let (low, high) = (before.most(after).least(zero), before.least(after).most(zero));
    quarter.most(low).least(high)
}

#[cfg(test)]
mod tests {
    use super::limited_half;

    #[test]
    fn exact_limited_differences() {
        assert_eq!(limited_half(1.0, 1.5), 0.625);
        assert_eq!(limited_half(1.0, 9.0), 1.0);
        assert_eq!(limited_half(-9.0, -1.0), -1.0);
        assert_eq!(limited_half(1.0, -1.0), 0.0);
        assert_eq!(limited_half(0.0, 5.0), 0.0);
    }
}
