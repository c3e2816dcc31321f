//! Which measurement to better: with which instrument, and how far the band of the edge then shrinks.
//!
//! To first order (JCGM 100:2008, 5.1.2) the square of the result's standard uncertainty is the sum of the squares that
//! the figures add, so that reading one of them with another instrument changes its own square alone.

use super::telling::Telling;
use crate::form::full_label;
use crate::report::Better;
use crate::setting::spread::Share;
use engine::model::Engine;
use quantity::{Dimension, Measured, Units, instruments, show, show_with};
use std::collections::BTreeMap;

/// Lines that are shown.
const LINES: usize = 6;
/// A band that shrinks by less than this share is not worth the work.
const WORTH: f64 = 0.01;
/// Readings whose mean is taken where no instrument is finer.
const REPEATS: f64 = 4.0;

/// How a figure would be known better.
struct Way {
    /// In words.
    with: String,
    /// Its standard uncertainty then, as a share of the present one.
    share: f64,
}

/// The measurements that shrink the band of the edge at full travel most, the best first.
pub(super) fn better(telling: &Telling<'_>) -> Vec<Better> {
    let shares = &telling.solution.spread.budget;
    let variance: f64 = shares.iter().map(|share| share.contribution.powi(2)).sum();
    if variance <= 0.0 {
        return Vec::new();
    }
    let figures = figures(telling.engine);
    let mut lines: Vec<Better> = shares
        .iter()
        .filter_map(|share| line(telling, share, figures.get(&share.key), variance))
        .filter(|line| line.band_m < (1.0 - WORTH) * line.band_now_m)
        .collect();
    lines.sort_by(|a, b| a.band_m.total_cmp(&b.band_m));
    lines.truncate(LINES);
    lines
}

fn figures(engine: &Engine) -> BTreeMap<String, Measured> {
    let mut figures = BTreeMap::new();
    engine.clone().for_each_figure(&mut |key, figure| {
        figures.insert(key.to_owned(), figure.clone());
    });
    figures
}

fn line(telling: &Telling<'_>, share: &Share, figure: Option<&Measured>, variance: f64) -> Option<Better> {
    let way = match figure {
        Some(figure) => by_instrument(&share.key, figure).unwrap_or_else(|| repeated(figure)),
        None => Way { with: "with a mark on the nut, set to a quarter of a flat".to_owned(), share: 0.5 },
    };
    let left = variance - share.contribution.powi(2) * (1.0 - way.share.powi(2));
    let (band_now_m, band_m) = (2.0 * variance.sqrt(), 2.0 * left.max(0.0).sqrt());
    let name = match figure {
        Some(_) => full_label(&BTreeMap::new(), &share.key),
        None => crate::form::upper(&share.key),
    };
    let decimals = if telling.units == Units::Inch { 4 } else { 3 };
    let band = |m: f64| show_with(m, decimals, Dimension::Length, telling.units);
    let now =
        figure.map_or_else(|| "within half a flat of the nut".to_owned(), |one| show(one, telling.units));
    let shrinks = format!("±{} to ±{}", band(band_now_m), band(band_m));
    Some(Better {
        key: share.key.clone(),
        text: format!(
            "{name}, now {now}, {}: the band of the edge at full travel shrinks from {shrinks}.",
            way.with
        ),
        shrinks,
        name,
        with: way.with,
        band_now_m,
        band_m,
    })
}

/// The coarsest instrument that knows the figure better by a third or more: nobody takes a finer one than is needed, but
/// one that hardly betters it is no use.
fn by_instrument(key: &str, figure: &Measured) -> Option<Way> {
    const ENOUGH: f64 = 2.0 / 3.0;
    let mut better: Vec<(f64, &str)> = instruments()
        .iter()
        .filter(|instrument| reaches(key, instrument.name()))
        .filter_map(|instrument| {
            let limits = instrument.limits_for(figure.dimension)?;
            let u = (limits.absolute + limits.relative * figure.value.abs()) / 3f64.sqrt();
            (limits.digits == 0.0 && u > 0.0).then_some((u, instrument.name()))
        })
        .filter(|(u, _)| *u < ENOUGH * figure.u)
        .collect();
    better.sort_by(|a, b| b.0.total_cmp(&a.0));
    better.first().map(|(u, name)| Way { with: format!("measured with a {name}"), share: u / figure.u })
}

/// Whether an instrument gets at a place.
fn reaches(key: &str, instrument: &str) -> bool {
    let inside = key.starts_with("port.")
        || key.starts_with("found.edge")
        || matches!(key, "valve.closed_drop" | "crank.deck_clearance");
    match instrument {
        "eye" => false,
        "depth gauge" => inside,
        "micrometer" | "rule" | "feeler" => !inside,
        "degree wheel" => key.starts_with("crank.") || key.starts_with("ignition."),
        _ => true,
    }
}

/// The mean of several readings with what is at hand.
fn repeated(figure: &Measured) -> Way {
    let what = match figure.dimension {
        Dimension::Stiffness | Dimension::TorsionRate | Dimension::Torque | Dimension::Force => "pulled",
        _ => "measured",
    };
    Way { with: format!("{what} {REPEATS:.0} times afresh, the mean taken"), share: REPEATS.sqrt().recip() }
}

#[cfg(test)]
mod tests {
    use crate::answer;
    use crate::setting::spread::edge_bettered;
    use quantity::Units;

    fn demo() -> engine::file::Reading {
        engine::file::read(engine::file::DEMO.as_bytes()).unwrap()
    }

    #[test]
    fn practice_the_list_is_ranked_and_every_line_shrinks_the_band() {
        let report = answer(&demo(), Units::Metric).report;
        assert!(!report.better.is_empty());
        assert!(report.better.is_sorted_by(|a, b| a.band_m <= b.band_m));
        for line in &report.better {
            assert!(line.band_m < line.band_now_m, "{line:?}");
            assert!(line.text.contains(&line.with) && !line.name.contains('_'), "{line:?}");
        }
    }

    /// The same from `evidence`, which runs the whole computation again with each figure halved.
    #[test]
    fn agrees_halved_figures_with_running_everything_again() {
        let reading = demo();
        let answer = answer(&reading, Units::Metric);
        let solution = answer.solution();
        let bettered =
            edge_bettered(&reading.engine, solution.sources, solution.proposal.as_ref().ok(), solution.turns);
        let variance: f64 = solution.spread.budget.iter().map(|share| share.contribution.powi(2)).sum();
        for share in solution.spread.budget.iter().take(5) {
            let again = bettered.iter().find(|one| one.name == share.key).unwrap();
            let ours = 1.0 - (1.0 - 0.75 * share.contribution.powi(2) / variance).sqrt();
            // Derivatives are taken with steps of one standard uncertainty, halved there: the bend of the model shows.
            assert!(
                (ours - again.shrink_halved()).abs() < 0.02,
                "{}: {ours} {}",
                share.key,
                again.shrink_halved()
            );
        }
    }
}
