//! Fits whose outcome is known in closed form, and fits that must be refused.

use super::*;

fn line(x: &[f64]) -> impl Fn(&[f64], &mut [f64]) -> bool {
    move |p, out| {
        for (out, x) in out.iter_mut().zip(x) {
            *out = p[0] + p[1] * x;
        }
        true
    }
}

fn line_parameters() -> [Parameter; 2] {
    [Parameter::new("offset", 0.0), Parameter::new("slope", 0.0)]
}

const X: [f64; 6] = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0];
const Y: [f64; 6] = [1.1, 2.9, 5.2, 6.8, 9.1, 10.9];

/// Normal equations of a straight line, by hand.
#[test]
fn exact_straight_line_of_unknown_spread() {
    let found = fit(&line_parameters(), &Readings::of_unknown_spread(Y.to_vec()), line(&X)).unwrap();
    let (mx, my) = (2.5, 6.0);
    let sxx = 17.5;
    let slope = X.iter().zip(Y).map(|(x, y)| (x - mx) * (y - my)).sum::<f64>() / sxx;
    let offset = my - slope * mx;
    let rss: f64 = X.iter().zip(Y).map(|(x, y)| (y - offset - slope * x).powi(2)).sum();
    let s = (rss / 4.0).sqrt();
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-10 * b.abs(), "{a} {b}");
    near(found.estimates[1].value, slope);
    near(found.estimates[0].value, offset);
    near(found.estimates[1].u, s / sxx.sqrt());
    near(found.estimates[0].u, s * (1.0 / 6.0 + mx * mx / sxx).sqrt());
    near(found.covariance(0, 1), -mx * s * s / sxx);
    near(found.residuals.sum_of_squares, rss);
    assert_eq!(found.degrees_of_freedom, 4.0);
    assert_eq!(found.value("slope"), Some(found.estimates[1].value));
    assert_eq!(found.inputs()[1].degrees_of_freedom, 4.0);
    assert!(found.condition() > 1.0 && found.confusion.is_none());
    assert_eq!(found.residuals.doubts(), []);
}

#[test]
fn exact_stated_uncertainties_weigh_the_readings() {
    // A constant from two readings: the mean weighted by 1/u².
    let readings = Readings::with_u(vec![10.0, 13.0], vec![1.0, 2.0]);
    let constant = |p: &[f64], out: &mut [f64]| {
        out.fill(p[0]);
        true
    };
    let found = fit(&[Parameter::new("gap", 1.0)], &readings, constant).unwrap();
    // The search stops within 1e-9 of the uncertainty.
    assert!((found.estimates[0].value - 10.6).abs() < 1e-8);
    assert!((found.estimates[0].u - 0.8f64.sqrt()).abs() < 1e-12);
    assert!((found.residuals.chi_squared.unwrap() - 1.8).abs() < 1e-10);
    // One degree of freedom: erfc(√0.9).
    assert!((found.residuals.chi_squared_above.unwrap() - libm::erfc(0.9f64.sqrt())).abs() < 1e-10);
    // What is known beforehand counts as one reading more.
    let known = Parameter::new("gap", 12.0).known_within(0.8f64.sqrt());
    let found = fit(&[known], &readings, constant).unwrap();
    assert!((found.estimates[0].value - 11.3).abs() < 1e-8);
    assert!((found.estimates[0].u - 0.4f64.sqrt()).abs() < 1e-12);
}

/// Pulley radius and servo angle enter as a product: only that can be read.
#[test]
fn refuses_a_product_of_two_unknowns_and_names_both() {
    let x = [0.2, 0.5, 0.9, 1.3];
    let y: Vec<f64> = x.iter().map(|x| 0.015 * 1.1 * x).collect();
    let model = move |p: &[f64], out: &mut [f64]| {
        for (out, x) in out.iter_mut().zip(x) {
            *out = p[0] * p[1] * x;
        }
        true
    };
    let parameters =
        [Parameter::new("pulley radius", 0.012), Parameter::new("ratio", 1.0), Parameter::new("unused", 3.0)];
    let readings = Readings::with_u(y.clone(), vec![1e-4; 4]);
    match fit(&parameters[..2], &readings, model) {
        Err(FitError::CannotTell { confusion }) => {
            let parts: Vec<&str> = confusion.parts.iter().map(|part| part.name.as_str()).collect();
            assert_eq!(parts, ["pulley radius", "ratio"]);
            // One up by a share, the other down by the same share.
            let shares = confusion.parts[0].change * confusion.parts[1].change;
            assert!(shares < 0.0);
        }
        other => panic!("{other:?}"),
    }
    let error = fit(&parameters, &readings, model).unwrap_err();
    assert!(matches!(&error, FitError::NoEffect { name, .. } if name == "unused"), "{error}");
    // The ratio known from elsewhere: then the radius can be told.
    let known = [parameters[0].clone(), Parameter::new("ratio", 1.1).known_within(0.011)];
    let found = fit(&known, &readings, model).unwrap();
    assert!((found.estimates[0].value - 0.015).abs() < 1e-9);
    assert!(found.estimates[0].u > 0.01 * 0.015);
    let worth = [known[0].clone().of_use_within(1e-5), known[1].clone()];
    let error = fit(&worth, &readings, model).unwrap_err();
    assert!(matches!(error, FitError::TooUncertain { .. }), "{error}");
    assert!(error.to_string().contains("'pulley radius' by") && error.to_string().contains("'ratio' by"));
}

#[test]
fn exact_a_model_that_refuses_keeps_the_search_where_it_answers() {
    // The square root of the parameter: a full first step from 9 would go below zero.
    let model = |p: &[f64], out: &mut [f64]| {
        out.fill(p[0].sqrt());
        p[0] >= 0.0
    };
    let found =
        fit(&[Parameter::new("a", 9.0)], &Readings::with_u(vec![0.1, 0.3], vec![1.0, 1.0]), model).unwrap();
    assert!((found.estimates[0].value - 0.04).abs() < 1e-9, "{found:?}");
    let start = fit(&[Parameter::new("a", -9.0)], &Readings::with_u(vec![0.1], vec![1.0]), model);
    assert_eq!(start, Err(FitError::NoStart));
}

#[test]
fn exact_several_starts_find_the_lowest_valley() {
    // sin(p x): many valleys.
    let x: Vec<f64> = (0..20).map(|i| 0.3 * f64::from(i)).collect();
    let y: Vec<f64> = x.iter().map(|x| (2.3 * x).sin()).collect();
    let model = |p: &[f64], out: &mut [f64]| {
        for (out, x) in out.iter_mut().zip(&x) {
            *out = (p[0] * x).sin();
        }
        true
    };
    let readings = Readings::with_u(y, vec![0.01; 20]);
    let parameters = [Parameter::new("rate", 5.0)];
    let lost = fit(&parameters, &readings, model).unwrap();
    assert!((lost.estimates[0].value - 2.3).abs() > 0.1);
    assert!(lost.residuals.doubts().iter().any(|doubt| matches!(doubt, Doubt::TooLarge { .. })));
    let starts: Vec<Vec<f64>> = (1..10).map(|i| vec![0.7 * f64::from(i)]).collect();
    let best = fit_from(&starts, &parameters, &readings, model).unwrap();
    assert!((best.estimates[0].value - 2.3).abs() < 1e-9);
}

#[test]
fn exact_doubts_name_what_is_wrong() {
    let x: Vec<f64> = (0..20).map(f64::from).collect();
    let scatter = |i: usize| 0.1 * [1.0, -0.7, 0.4, -1.1, 0.6, -0.2][i % 6];
    let wavy: Vec<f64> = (0..20).map(|i| 1.0 + 2.0 * x[i] + 0.02 * (x[i] - 10.0).powi(2)).collect();
    let bent =
        fit(&line_parameters(), &Readings::of_unknown_spread(wavy), line(&x)).unwrap().residuals.doubts();
    assert!(matches!(bent[..], [Doubt::TooFewRuns { .. }]), "{bent:?}");
    let mut wild: Vec<f64> = (0..20).map(|i| 1.0 + 2.0 * x[i] + scatter(i)).collect();
    wild[7] -= 3.0;
    let found = fit(&line_parameters(), &Readings::of_unknown_spread(wild), line(&x)).unwrap();
    assert!(
        matches!(found.residuals.doubts()[..], [Doubt::Wild { at: 7, studentised }] if studentised < -4.0)
    );
    assert!(found.residuals.doubts()[0].to_string().starts_with("reading 8 "));
    let fine: Vec<f64> = (0..20).map(|i| 1.0 + 2.0 * x[i] + scatter(i)).collect();
    let stated = |u: f64| {
        let readings = Readings::with_u(fine.clone(), vec![u; 20]);
        fit(&line_parameters(), &readings, line(&x)).unwrap().residuals.doubts()
    };
    assert!(matches!(stated(0.02)[..], [Doubt::TooLarge { .. }, Doubt::Wild { .. }]));
    assert!(matches!(stated(1.0)[..], [Doubt::TooSmall { .. }]));
    assert_eq!(stated(0.07), []);
}

#[test]
fn refuses_what_cannot_be_fitted() {
    let unknown = |values: &[f64]| Readings::of_unknown_spread(values.to_vec());
    let run = |parameters: &[Parameter], readings: &Readings| {
        fit(parameters, readings, line(&X[..readings.values.len().min(6)])).unwrap_err()
    };
    let two = line_parameters();
    assert!(matches!(run(&two, &unknown(&Y[..2])), FitError::TooFewReadings { needed: 3, .. }));
    assert!(matches!(run(&[], &unknown(&Y)), FitError::TooFewReadings { .. }));
    assert!(matches!(run(&two, &unknown(&[1.0, f64::NAN, 2.0])), FitError::BadReading { at: 2, .. }));
    assert!(matches!(
        run(&two, &Readings::with_u(Y.to_vec(), vec![1.0; 5])),
        FitError::WrongSize { given: 5, wanted: 6 }
    ));
    assert!(matches!(run(&two, &Readings::with_u(Y.to_vec(), vec![0.0; 6])), FitError::BadReading { .. }));
    let odd = |parameter: Parameter| run(&[two[0].clone(), parameter], &unknown(&Y));
    assert!(matches!(odd(Parameter::new("s", f64::NAN)), FitError::BadParameter { .. }));
    assert!(matches!(odd(two[1].clone().of_size(0.0)), FitError::BadParameter { .. }));
    assert!(matches!(odd(two[1].clone().of_use_within(-1.0)), FitError::BadParameter { .. }));
    assert!(matches!(odd(two[1].clone().known_within(1.0)), FitError::KnownWithoutSpread { .. }));
    let silent = |_: &[f64], _: &mut [f64]| false;
    assert_eq!(fit(&two, &unknown(&Y), silent), Err(FitError::NoStart));
}

proptest::proptest! {
    #[test]
    fn refuses_or_fits_whatever_comes(
        values in proptest::collection::vec(proptest::num::f64::ANY, 0..8),
        u in proptest::option::of(proptest::num::f64::ANY),
        starts in proptest::collection::vec(proptest::num::f64::ANY, 0..4),
        worth in proptest::option::of(proptest::num::f64::ANY),
        bend in -3i32..4,
    ) {
        let readings = match u {
            Some(u) => Readings::with_u(values.clone(), vec![u; values.len()]),
            None => Readings::of_unknown_spread(values.clone()),
        };
        let parameters: Vec<Parameter> = starts
            .iter()
            .map(|start| Parameter { worth, ..Parameter::new("p", *start) })
            .collect();
        let model = |p: &[f64], out: &mut [f64]| {
            for (at, out) in out.iter_mut().enumerate() {
                *out = p.iter().enumerate().map(|(k, p)| p.powi(bend) * (at as f64 + 0.3).powi(k as i32)).sum();
            }
            true
        };
        match fit(&parameters, &readings, model) {
            Ok(found) => {
                for estimate in &found.estimates {
                    proptest::prop_assert!(estimate.value.is_finite() && estimate.u >= 0.0);
                }
                let _ = found.residuals.doubts();
            }
            Err(error) => proptest::prop_assert!(!error.to_string().is_empty()),
        }
    }
}
