//! Integrals over crank angle.
//!
//! Gauss-Kronrod pair of 7 and 15 points (Piessens, de Doncker-Kapenga, Überhuber and Kahaner, QUADPACK, 1983),
//! halving a piece while its error estimate is too large. Each piece is first stretched by t²(3 − 2t), which turns
//! the square-root starts and ends that round corners and dead centres leave into smooth ones.

/// Error estimate at which a piece is left alone, as a share of the whole. The estimate is cautious: results hold
/// 1e-9 of the whole (see the tests).
const TOLERANCE: f64 = 1e-10;
/// Halvings of one piece at most; reached only where the integrand jumps.
const HALVINGS: u32 = 24;
/// Most pieces in one call.
const PIECES: usize = 8;

const NODES: [f64; 8] = [
    0.991_455_371_120_812_6,
    0.949_107_912_342_758_5,
    0.864_864_423_359_769_1,
    0.741_531_185_599_394_4,
    0.586_087_235_467_691_1,
    0.405_845_151_377_397_2,
    0.207_784_955_007_898_47,
    0.0,
];
const KRONROD: [f64; 8] = [
    0.022_935_322_010_529_224,
    0.063_092_092_629_978_55,
    0.104_790_010_322_250_18,
    0.140_653_259_715_525_92,
    0.169_004_726_639_267_9,
    0.190_350_578_064_785_4,
    0.204_432_940_075_298_9,
    0.209_482_141_084_727_82,
];
/// Weights of the nodes 1, 3, 5 and 7 in the rule of 7 points.
const GAUSS: [f64; 4] =
    [0.129_484_966_168_869_7, 0.279_705_391_489_276_64, 0.381_830_050_505_118_9, 0.417_959_183_673_469_4];

/// A part of a piece in the stretched variable, with its integral.
#[derive(Clone, Copy, Default)]
struct Part {
    from: f64,
    to: f64,
    value: f64,
    error: f64,
}

/// ∫ f over `cuts[0]..cuts[last]`, cut at the (rising) values between, where f may have kinks. At most 9 cuts; to
/// 1e-9 of the whole for an integrand of one sign that is smooth between the cuts or has square-root ends there.
pub(crate) fn integrate(cuts: &[f64], f: impl Fn(f64) -> f64) -> f64 {
    let mut parts = [Part::default(); PIECES];
    for (part, ends) in parts.iter_mut().zip(cuts.windows(2)) {
        if ends[1] > ends[0] {
            *part = rule(&f, ends, 0.0, 1.0);
        }
    }
    let whole: f64 = parts.iter().map(|part| part.value.abs()).sum();
    let enough = TOLERANCE * whole;
    parts.iter().zip(cuts.windows(2)).map(|(part, ends)| refine(&f, ends, *part, enough, HALVINGS)).sum()
}

fn refine(f: &impl Fn(f64) -> f64, ends: &[f64], part: Part, enough: f64, halvings: u32) -> f64 {
    if part.error <= enough || halvings == 0 {
        return part.value;
    }
    let middle = 0.5 * (part.from + part.to);
    [(part.from, middle), (middle, part.to)]
        .into_iter()
        .map(|(from, to)| refine(f, ends, rule(f, ends, from, to), 0.5 * enough, halvings - 1))
        .sum()
}

/// Both rules over `from..to` of the stretched variable of the piece `ends`.
fn rule(f: &impl Fn(f64) -> f64, ends: &[f64], from: f64, to: f64) -> Part {
    let length = ends[1] - ends[0];
    let stretched = |t: f64| f(ends[0] + length * t * t * (3.0 - 2.0 * t)) * 6.0 * t * (1.0 - t) * length;
    let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
    let centre = stretched(middle);
    let (mut kronrod, mut gauss) = (KRONROD[7] * centre, GAUSS[3] * centre);
    let mut pairs = [0.0; 7];
    for (i, pair) in pairs.iter_mut().enumerate() {
        let (low, high) = (stretched(middle - half * NODES[i]), stretched(middle + half * NODES[i]));
        *pair = low + high;
        kronrod += KRONROD[i] * *pair;
        if i % 2 == 1 {
            gauss += GAUSS[i / 2] * *pair;
        }
    }
    // QUADPACK's estimate: the difference of the rules, scaled by how uneven the integrand is.
    let mean = 0.5 * kronrod;
    let uneven = KRONROD[7] * (centre - mean).abs()
        + pairs.iter().zip(KRONROD).map(|(pair, w)| w * (pair - 2.0 * mean).abs()).sum::<f64>();
    let difference = (kronrod - gauss).abs();
    let error =
        if uneven > 0.0 { uneven * (200.0 * difference / uneven).powf(1.5).min(1.0) } else { difference };
    Part { from, to, value: kronrod * half, error: error * half }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_rules_integrate_polynomials() {
        // 15 points are exact to degree 22, 7 points to degree 13.
        for degree in 0..=22 {
            let mut kronrod = KRONROD[7] * 0f64.powi(degree);
            let mut gauss = GAUSS[3] * 0f64.powi(degree);
            for i in 0..7 {
                let pair = NODES[i].powi(degree) + (-NODES[i]).powi(degree);
                kronrod += KRONROD[i] * pair;
                gauss += if i % 2 == 1 { GAUSS[i / 2] * pair } else { 0.0 };
            }
            let exact = if degree % 2 == 0 { 2.0 / f64::from(degree + 1) } else { 0.0 };
            assert!((kronrod - exact).abs() < 1e-15, "{degree}: {kronrod}");
            assert!(degree > 13 || (gauss - exact).abs() < 1e-15, "{degree}: {gauss}");
        }
    }

    #[test]
    fn exact_square_root_ends_and_kinks() {
        let quarter_circle = integrate(&[0.0, 1.0], |x| (x * (2.0 - x)).sqrt());
        assert!((quarter_circle / std::f64::consts::FRAC_PI_4 - 1.0).abs() < 1e-12);
        let kink = integrate(&[0.0, 0.3, 1.0], |x| (x - 0.3).abs());
        assert!((kink - (0.3f64.powi(2) + 0.7f64.powi(2)) / 2.0).abs() < 1e-15);
        // A square root that starts just outside: only halving meets it.
        let near = integrate(&[0.0, 1.0], |x| (x + 1e-6).sqrt());
        let exact = 2.0 / 3.0 * ((1.0 + 1e-6f64).powf(1.5) - 1e-9);
        assert!((near / exact - 1.0).abs() < 1e-10, "{near} {exact}");
    }

    #[test]
    fn exact_angle_area_of_a_port_uncovered_at_a_steady_rate() {
        // 40 mm wide, uncovered by 1 mm each degree for 30 degrees: 40·30²/2 mm²·deg.
        let ours = integrate(&[0.0, 30.0], |angle_deg| 40.0 * angle_deg);
        assert!((ours - 18_000.0).abs() < 1e-9);
    }

    #[test]
    fn exact_nothing_between_equal_cuts() {
        assert_eq!(integrate(&[1.0, 1.0], |x| 1.0 / (x - 1.0)), 0.0);
        assert_eq!(integrate(&[], |x| x), 0.0);
    }
}
