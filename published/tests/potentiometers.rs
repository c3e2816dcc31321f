//! Position sensors: linearity by its four definitions, the load of a meter, dropouts and wear in a sweep.

use evidence::linearity::{
    absolute, greatest_loading_error, independent, loading_error, terminal_based, zero_based,
};
use evidence::robust::{MAD_TO_SIGMA, hampel, mad, theil_sen};
use published::{Tolerance, cite};

/// Output in per cent at travels of 0, 10 ... 100 %.
const OUTPUT_PERCENT: [f64; 11] = [0.2, 10.3, 20.5, 30.6, 40.4, 50.3, 60.1, 69.8, 79.7, 89.9, 99.6];

#[test]
fn published_linearity_by_four_definitions() {
    let points: Vec<(f64, f64)> =
        OUTPUT_PERCENT.iter().enumerate().map(|(at, output)| (at as f64 / 10.0, output / 100.0)).collect();
    let best = independent(&points).expect("readings");
    let zero = zero_based(&points).expect("readings");
    let fine = || Tolerance::absolute(1e-10, "both are double precision");
    cite("VRCI-P-100A", "definitions of linearity; made readings at 11 travels, worked out independently")
        .near(
            "absolute, % of the voltage",
            absolute(&points).expect("readings").deviation * 100.0,
            0.6,
            fine(),
        )
        .near(
            "terminal-based, % of the voltage",
            terminal_based(&points).expect("readings").deviation * 100.0,
            0.58,
            fine(),
        )
        .near("zero-based, % of the voltage", zero.deviation * 100.0, 0.446_153_846_153_8, fine())
        .near("zero-based, slope", zero.slope, 0.998_461_538_461_5, fine())
        .near("independent, % of the voltage", best.deviation * 100.0, 0.29375, fine())
        .near("independent, slope", best.slope, 0.99375, fine())
        .near("independent, output at travel 0, % of the voltage", best.intercept * 100.0, 0.49375, fine());
}

#[test]
fn published_loading_of_a_potentiometer() {
    // The ratio of resistances is inferred from the book's errors.
    let source =
        cite("SAWHNEY", "example 5.5: 10 V over a potentiometer whose load is 2.5 times its resistance");
    for (k, theirs) in [(0.25, -0.174), (0.5, -0.454), (0.75, -0.524)] {
        source.near(
            &format!("error at {} % of travel, V", k * 100.0),
            10.0 * loading_error(k, 0.4),
            theirs,
            Tolerance::absolute(1e-3, "the book carries three decimals, the last not always rounded"),
        );
    }
    source.near("error at no travel, V", loading_error(0.0, 0.4), 0.0, Tolerance::absolute(0.0, "exact"));
    source.near("error at full travel, V", loading_error(1.0, 0.4), 0.0, Tolerance::absolute(0.0, "exact"));
}

#[test]
fn published_greatest_loading_error() {
    let source = cite("SAWHNEY", "law of the loaded potentiometer; its maximum worked out independently");
    for (alpha, k, theirs) in [
        (0.005, 0.666_790_073, 7.399_186_85e-4),
        (0.1, 0.669_108_706, 1.449_333_139e-2),
        (0.4, 0.676_123_038, 5.445_345_048e-2),
        (1.0, 0.688_892_188, 1.215_851_069e-1),
        (5.0, 0.746_578_501, 3.629_298_180e-1),
    ] {
        let (ours, error) = greatest_loading_error(alpha);
        source
            .near(
                &format!("ratio {alpha}: travel, share"),
                ours,
                k,
                Tolerance::absolute(1e-6, "the maximum is flat: it was sought to about 1e-8 in the error"),
            )
            .near(
                &format!("ratio {alpha}: error, share of the voltage"),
                -error,
                theirs,
                Tolerance::relative(1e-9, "the figure carries ten digits"),
            );
    }
}

#[test]
fn published_displacement_from_resistance() {
    let ends = [(0.0, 0.0), (0.5, 0.5), (1.0, 1.0)];
    let sensor = terminal_based(&ends).expect("a sensor");
    let from_centre_mm = |ohm: f64| (sensor.travel(ohm / 10e3).expect("a slope") - 0.5).abs() * 50.0;
    let exact = || Tolerance::absolute(1e-12, "exact arithmetic");
    cite("SAWHNEY", "example 5.4: 10 kΩ over 50 mm, displacement from the centre")
        .near("at 3850 Ω, mm", from_centre_mm(3850.0), 5.75, exact())
        .near("at 7560 Ω, mm", from_centre_mm(7560.0), 12.80, exact())
        .near("a change of 10 Ω, mm", from_centre_mm(7570.0) - from_centre_mm(7560.0), 0.05, exact());
}

#[test]
fn published_dropouts_and_wear_in_a_made_sweep() {
    let rows: Vec<[f64; 4]> = include_str!("../data/potentiometer_sweep.csv")
        .lines()
        .filter(|line| line.starts_with(|letter: char| letter.is_ascii_digit()))
        .map(|line| {
            let cells: Vec<f64> = line.split(',').map(|cell| cell.parse().expect("a number")).collect();
            cells[..].try_into().expect("four columns")
        })
        .collect();
    let volts: Vec<f64> = rows.iter().map(|row| row[2]).collect();
    let points: Vec<(f64, f64)> = rows.iter().map(|row| (row[1], row[2])).collect();
    let (slope, intercept) = theil_sen(&points).expect("a line");
    let rests: Vec<f64> = points.iter().map(|(travel, volts)| volts - slope * travel - intercept).collect();
    let sigma = MAD_TO_SIGMA * mad(&rests).expect("readings");
    let off = hampel(&volts, 7, 6.0);
    let label = |label: f64| move |&at: &usize| rows[at][3] == label;
    let all = || 0..volts.len();
    let sound = all().filter(label.clone()(0.0)).filter(|&at| off[at]).count();
    cite("HAMPEL-1974", "median ± 6 estimated standard deviations; made sweep whose truth is known")
        .is("dropouts found of 10", all().filter(label.clone()(1.0)).filter(|&at| off[at]).count(), 10)
        .is("sound readings marked", sound, 0)
        .is(
            "worn patch marked, of 60 readings",
            all().filter(label.clone()(2.0)).filter(|&at| off[at]).count(),
            0,
        )
        .is(
            "worn patch off the robust line by 5 standard deviations, of 60 readings",
            all().filter(label(2.0)).filter(|&at| rests[at].abs() > 5.0 * sigma).count(),
            53,
        );
}
