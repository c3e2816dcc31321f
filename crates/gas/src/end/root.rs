//! A root of one function of one number between two bounds of opposite sign.

/// Finds it by inverse quadratic interpolation where that is safe and by halving elsewhere (Chandrupatla 1997).
///
/// Without a change of sign the bound with the smaller value is returned.
pub(crate) fn root(f: impl Fn(f64) -> f64, low: f64, high: f64, tolerance: f64) -> f64 {
    let (mut b, mut a) = (low, high);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa * fb > 0.0 {
        return if fa.abs() < fb.abs() { a } else { b };
    }
    let (mut c, mut fc);
    let mut t = 0.5;
    for _ in 0..100 {
        let x = a + t * (b - a);
        let fx = f(x);
        if (fx > 0.0) == (fa > 0.0) {
            (c, fc) = (a, fa);
        } else {
            (c, b, fc, fb) = (b, a, fb, fa);
        }
        (a, fa) = (x, fx);
        let best = if fa.abs() < fb.abs() { a } else { b };
        let width = (tolerance + 4.0 * f64::EPSILON * best.abs()) / (b - a).abs();
        if width >= 0.5 || fa == 0.0 || fb == 0.0 {
            return if fa.abs() < fb.abs() { a } else { b };
        }
        t = next(&[a, b, c], &[fa, fb, fc]).clamp(width, 1.0 - width);
    }
    0.5 * (a + b)
}

/// Finds the root of a function that changes sign once between two bounds by Newton steps from `start`, halving where
/// a step would leave the bounds. `f` gives the value and the slope; `rising` says which bound is below the root.
pub(crate) fn newton(
    f: impl Fn(f64) -> (f64, f64),
    mut low: f64,
    mut high: f64,
    start: f64,
    tolerance: f64,
    rising: bool,
) -> f64 {
    let mut x = if start > low && start < high { start } else { 0.5 * (low + high) };
    for _ in 0..60 {
        let (value, slope) = f(x);
        if value == 0.0 {
            return x;
        }
        if (value > 0.0) == rising {
            high = x
        } else {
            low = x
        }
        let step = value / slope;
        let next = x - step;
        // Newton steps converge as their squares: after one this small the next would change nothing.
        if step.abs() < tolerance && next >= low && next <= high {
            return next;
        }
        x = if next > low && next < high { next } else { 0.5 * (low + high) };
        if high - low < 1e-14 {
            return x;
        }
    }
    x
}

/// Where to look next, as a share of the way from `a` to `b`.
fn next(x: &[f64; 3], f: &[f64; 3]) -> f64 {
    let xi = (x[0] - x[1]) / (x[2] - x[1]);
    let phi = (f[0] - f[1]) / (f[2] - f[1]);
    if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
        f[0] / (f[1] - f[0]) * f[2] / (f[1] - f[2])
            + (x[2] - x[0]) / (x[1] - x[0]) * f[0] / (f[2] - f[0]) * f[1] / (f[2] - f[1])
    } else {
        0.5
    }
}

#[cfg(test)]
mod tests {
    use super::root;

    #[test]
    fn exact_roots_in_few_calls() {
        for (target, power) in [(0.3, 3), (1e-3, 1), (0.999, 7)] {
            let calls = std::cell::Cell::new(0);
            let f = |x: f64| {
                calls.set(calls.get() + 1);
                x.powi(power) - f64::powi(target, power)
            };
            let found = root(f, 0.0, 1.0, 1e-13);
            assert!((found - target).abs() < 1e-11, "{target}: {found}");
            assert!(calls.get() < 25, "{} calls", calls.get());
        }
    }
}
