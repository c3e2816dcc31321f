//! Indices of functions whose indices are known in closed form.

use super::*;

fn units(count: usize) -> Vec<Input> {
    (0..count).map(|at| Input::within(format!("x{at}"), 0.5, 0.5)).collect()
}

/// Holds every index to lie within its own interval widened by half, and the interval to be narrow.
fn close(found: &Indices, exact: &[(f64, f64)], width: f64) {
    assert_eq!(found.influences.len(), exact.len());
    for (influence, (first, total)) in found.influences.iter().zip(exact) {
        for (index, exact) in [(influence.first_order, first), (influence.total, total)] {
            let room = 0.5 * (index.high - index.low) + 1e-12;
            assert!(
                (index.low - room..=index.high + room).contains(exact),
                "{}: {index:?} for {exact}",
                influence.name
            );
            assert!(index.high - index.low < width, "{}: {index:?}", influence.name);
        }
    }
}

#[test]
fn exact_additive_model_shares_its_variance() {
    let inputs = [
        Input::normal("a", 100.0, 0.3),
        Input::exact("b", 7.0),
        Input::within("c", -4.0, 0.4 * 3f64.sqrt()),
        Input::normal("d", 0.0, 1.2).with_degrees_of_freedom(12.0),
    ];
    // Variance of a t variable with 12 degrees of freedom is 12/10 of its scale squared.
    let variances = [0.09, 0.16, 1.44 * 1.2];
    let sum: f64 = variances.iter().sum();
    let exact: Vec<(f64, f64)> = variances.iter().map(|v| (v / sum, v / sum)).collect();
    for first_order in [FirstOrder::Saltelli2010, FirstOrder::Jansen1999] {
        let design = Design { first_order, ..Design::new(20_000, 11) };
        let found = indices(&inputs, design, |x| Some(x.iter().sum())).unwrap();
        close(&found, &exact, 0.08);
        assert!((found.variance / sum - 1.0).abs() < 0.05);
        assert!((found.mean - 103.0).abs() < 0.05);
        assert!(found.together().abs() < 0.05);
        let order: Vec<&str> = found.ranked().iter().map(|i| i.name.as_str()).collect();
        assert_eq!(order, ["d", "c", "a"]);
    }
}

/// Sobol's product function: factors (|4x - 2| + a) / (1 + a) of independent x from 0 to 1.
#[test]
fn exact_product_function() {
    let weights = [0.0, 1.0, 4.5, 9.0];
    let parts = weights.map(|a: f64| 1.0 / (3.0 * (1.0 + a).powi(2)));
    let variance = parts.iter().map(|part| 1.0 + part).product::<f64>() - 1.0;
    let exact: Vec<(f64, f64)> = parts
        .iter()
        .map(|part| (part / variance, part * (variance + 1.0) / (1.0 + part) / variance))
        .collect();
    let model = |x: &[f64]| {
        Some(x.iter().zip(weights).map(|(x, a)| ((4.0 * x - 2.0).abs() + a) / (1.0 + a)).product())
    };
    let found = indices(&units(4), Design::new(40_000, 3), model).unwrap();
    close(&found, &exact, 0.04);
    assert!((found.variance / variance - 1.0).abs() < 0.02);
}

/// Two inputs that act only together: no first-order share, all of it in both totals.
#[test]
fn exact_pure_interaction() {
    let inputs = [Input::normal("a", 0.0, 1.0), Input::normal("b", 0.0, 2.0), Input::normal("c", 0.0, 1.0)];
    let found = indices(&inputs, Design::new(40_000, 5), |x| Some(x[0] * x[1])).unwrap();
    close(&found, &[(0.0, 1.0), (0.0, 1.0), (0.0, 0.0)], 0.15);
    assert!((found.together() - 1.0).abs() < 0.05);
    let idle = &found.influences[2];
    assert_eq!((idle.total.value, idle.first_order.value), (0.0, 0.0));
}

#[test]
fn converges_as_the_root_of_the_rows() {
    let model = |x: &[f64]| Some(x[0] + x[1] * x[2]);
    let width = |rows: usize| {
        let found = indices(&units(3), Design::new(rows, 9), model).unwrap();
        found.influences.iter().map(|i| i.total.high - i.total.low).fold(0.0, f64::max)
    };
    let ratio = width(1_000) / width(64_000);
    assert!((5.5..11.5).contains(&ratio), "64 times the rows: {ratio}, 8 expected");
}

/// The stated share of intervals holds the true index: 95 % of 200, within three standard errors.
#[test]
fn exact_intervals_hold_what_they_say() {
    let inputs = [Input::normal("a", 0.0, 2.0), Input::normal("b", 0.0, 1.0)];
    let mut held = 0;
    for seed in 0..200 {
        let found = indices(&inputs, Design::new(500, seed), |x| Some(x[0] + x[1])).unwrap();
        let total = found.influences[0].total;
        held += usize::from((total.low..=total.high).contains(&0.8));
    }
    assert!((180..=199).contains(&held), "{held} of 200");
}

#[test]
fn exact_blocks_may_run_in_any_order() {
    let inputs = units(3);
    let model = |x: &[f64], out: &mut [f64]| {
        out.copy_from_slice(&[x[0] * x[1], x[2] - x[0]]);
        true
    };
    let design = Design::new(1000, 77);
    let plan = Plan::new(&inputs, 2, design).unwrap();
    assert_eq!((plan.blocks(), plan.runs()), (4, 5000));
    let mut blocks: Vec<Block> = (0..4).rev().map(|at| plan.run(at, model)).collect();
    let one = plan.indices(&blocks).unwrap();
    assert_eq!(one, indices_many(&inputs, 2, design, model).unwrap());
    assert_ne!(one, indices_many(&inputs, 2, Design::new(1000, 78), model).unwrap());
    blocks.pop();
    assert!(matches!(plan.indices(&blocks), Err(PropagationError::WrongSize { .. })));
    blocks.push(plan.run(1, model));
    assert!(matches!(plan.indices(&blocks), Err(PropagationError::WrongSize { .. })));
}

#[test]
fn agrees_a_large_offset_changes_no_index() {
    let inputs = [Input::normal("a", 0.0, 1e-6), Input::normal("b", 0.0, 2e-6)];
    let near = indices(&inputs, Design::new(2000, 4), |x| Some(x[0] + x[1])).unwrap();
    let far = indices(&inputs, Design::new(2000, 4), |x| Some(1e3 + x[0] + x[1])).unwrap();
    for (a, b) in near.influences.iter().zip(&far.influences) {
        assert!((a.total.value - b.total.value).abs() < 1e-5);
        assert!((a.first_order.value - b.first_order.value).abs() < 1e-5);
    }
}

#[test]
fn conserves_rows_counted_as_used_or_failed() {
    let inputs = [Input::normal("a", 1.0, 1.0), Input::normal("b", 0.0, 1.0)];
    let model = |x: &[f64]| (x[0] > 0.0).then(|| x[0] + x[1]);
    let found = indices(&inputs, Design::new(4000, 2), model).unwrap();
    // A row is lost when the first input of A or of B is refused: 1 - 0.8413² of them.
    assert!((found.failed as f64 / 4000.0 - 0.2922).abs() < 0.03);
    let design = Design { resamples: 0, ..Design::new(4000, 2) };
    let index = indices(&inputs, design, model).unwrap().influences[0].total;
    assert_eq!((index.low, index.high), (index.value, index.value));
}

#[test]
fn refuses_what_cannot_be_shared() {
    let inputs = units(2);
    let sum = |x: &[f64]| Some(x.iter().sum());
    assert!(matches!(indices(&inputs, Design::new(1, 0), sum), Err(PropagationError::BadDraws { .. })));
    assert!(matches!(
        indices(&inputs, Design::new(usize::MAX, 0), sum),
        Err(PropagationError::BadDraws { .. })
    ));
    for design in [
        Design { resamples: usize::MAX, ..Design::new(100, 0) },
        Design { coverage: 1.0, ..Design::new(100, 0) },
        Design { coverage: f64::NAN, ..Design::new(100, 0) },
    ] {
        assert!(matches!(indices(&inputs, design, sum), Err(PropagationError::BadResampling { .. })));
    }
    let design = Design::new(100, 0);
    assert_eq!(indices(&inputs, design, |_| Some(3.0)), Err(PropagationError::NothingVaries));
    assert_eq!(indices(&[], design, |_| Some(3.0)), Err(PropagationError::NothingVaries));
    assert!(matches!(indices(&inputs, design, |_| None), Err(PropagationError::TooFewResults { .. })));
    assert!(matches!(
        indices(&inputs, design, |x| Some(x[0] / 0.0)),
        Err(PropagationError::TooFewResults { .. })
    ));
    let bad = [Input::normal("a", f64::NAN, 1.0)];
    assert!(matches!(indices(&bad, design, sum), Err(PropagationError::BadInput { .. })));
    assert_eq!(indices_many(&inputs, 0, design, |_, _| true), Ok(Vec::new()));
}
