//! All passes laid over each other by travel: what stays is the track, what goes is noise.

use super::track::Track;
use evidence::robust::{MAD_TO_SIGMA, mad, median, theil_sen};

/// Most bins over the travel, and fewest.
const MOST_BINS: usize = 200;
const FEWEST_BINS: usize = 20;
/// Samples that a bin should hold.
const PER_BIN: usize = 10;
/// The course of the track as a whole is taken over this share of the travel on either side.
const AROUND: f64 = 0.15;

/// Median deviation from the line at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bin {
    /// Middle of the samples in it, travel.
    pub(super) x: f64,
    /// Median deviation from the line, a share of the range.
    pub(super) off: f64,
    /// Standard uncertainty of that.
    pub(super) u: f64,
    /// Deviation from the course of the track round about; none where too little is known of it.
    pub(super) local: Option<f64>,
}

/// The folded deviation, each way and both together; a bin without samples is none.
#[derive(Debug, Clone, Default)]
pub(super) struct Fold {
    pub(super) both: Vec<Option<Bin>>,
    pub(super) up: Vec<Option<Bin>>,
    pub(super) back: Vec<Option<Bin>>,
}

impl Fold {
    /// Folds the samples that are where they belong.
    pub(super) fn of(track: &Track) -> Fold {
        let count = track.spots.iter().filter(|s| s.residual().is_some()).count();
        let bins = (count / PER_BIN).clamp(FEWEST_BINS, MOST_BINS);
        let both = binned(track, bins, |_| true);
        Fold {
            // Each way has its own course: play shifts one against the other.
            up: with_course(binned(track, bins, |rising| rising)),
            back: with_course(binned(track, bins, |rising| !rising)),
            both,
        }
    }

    /// Width of a bin, travel.
    pub(super) fn width(&self) -> f64 {
        1.0 / self.both.len().max(1) as f64
    }

    /// Points (travel, output) of all bins, both on a scale from 0 to 1 along the line.
    pub(super) fn points(&self) -> Vec<(f64, f64)> {
        self.both.iter().flatten().map(|b| (b.x, b.x + b.off)).collect()
    }
}

fn binned(track: &Track, count: usize, wanted: impl Fn(bool) -> bool) -> Vec<Option<Bin>> {
    let mut held: Vec<Vec<(f64, f64)>> = vec![Vec::new(); count];
    for spot in &track.spots {
        let (Some(off), true) = (spot.residual(), wanted(track.rising(spot.pass))) else { continue };
        let at = ((spot.x.clamp(0.0, 1.0) * count as f64) as usize).min(count - 1);
        if let Some(bin) = held.get_mut(at) {
            bin.push((spot.x, off));
        }
    }
    held.iter_mut()
        .map(|samples| {
            samples.sort_by(|a, b| a.0.total_cmp(&b.0));
            bin(samples, track.sigma)
        })
        .collect()
}

fn bin(samples: &[(f64, f64)], sigma: f64) -> Option<Bin> {
    let offs: Vec<f64> = samples.iter().map(|s| s.1).collect();
    let off = median(&offs)?;
    let x = samples.iter().map(|s| s.0).sum::<f64>() / samples.len() as f64;
    // The spread within the bin, but no less than that of all readings: few samples may agree by chance. From second
    // differences along the travel, because a worn place is steep.
    let bends: Vec<f64> = samples.windows(3).map(|w| w[0].1 - 2.0 * w[1].1 + w[2].1).collect();
    let own = if bends.len() >= 3 { mad(&bends).unwrap_or(0.0) * MAD_TO_SIGMA / 6f64.sqrt() } else { 0.0 };
    let spread = sigma.max(own);
    // The median of n normal readings spreads by √(π/2) σ/√n.
    let u = if samples.len() > 2 { 1.2533 * spread / (samples.len() as f64).sqrt() } else { spread };
    Some(Bin { x, off, u, local: None })
}

/// Bins with their deviation from the course.
fn with_course(mut bins: Vec<Option<Bin>>) -> Vec<Option<Bin>> {
    let course = course(&bins);
    for (bin, course) in bins.iter_mut().zip(course) {
        if let Some(bin) = bin {
            bin.local = course.map(|c| bin.off - c);
        }
    }
    bins
}

/// The course of the track at each bin: a robust straight line through the bins round about.
fn course(bins: &[Option<Bin>]) -> Vec<Option<f64>> {
    let half = ((AROUND * bins.len() as f64).ceil() as usize).max(3);
    (0..bins.len())
        .map(|i| {
            let here = (*bins.get(i)?)?;
            // At the ends the window is moved inwards, so that it keeps its width.
            let from = i.saturating_sub(half).min(bins.len().saturating_sub(2 * half + 1));
            let window = bins.get(from..(from + 2 * half + 1).min(bins.len()))?;
            let points: Vec<(f64, f64)> = window.iter().flatten().map(|b| (b.x, b.off)).collect();
            let (slope, start) = (points.len() >= 7).then(|| theil_sen(&points)).flatten()?;
            Some(start + slope * here.x)
        })
        .collect()
}
