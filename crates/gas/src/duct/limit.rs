//! Limited differences.

/// The monotonised central difference (van Leer 1977): the mean of both, at most twice the smaller, zero at extrema.
///
/// It takes no division, and is sharper than the harmonic mean.
#[inline(always)]
pub(crate) fn limited(before: f64, after: f64) -> f64 {
    let mean = 0.5 * (before + after);
    let (one, two) = (before.abs(), after.abs());
    let least = 2.0 * if one < two { one } else { two };
    let size = mean.abs();
    let size = if size < least { size } else { least };
    let signed = size.copysign(mean);
    if before * after > 0.0 { signed } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::limited;

    #[test]
    fn exact_limited_differences() {
        assert_eq!(limited(1.0, 1.5), 1.25);
        assert_eq!(limited(1.0, 9.0), 2.0);
        assert_eq!(limited(-9.0, -1.0), -2.0);
        assert_eq!(limited(1.0, -1.0), 0.0);
        assert_eq!(limited(0.0, 5.0), 0.0);
    }
}
