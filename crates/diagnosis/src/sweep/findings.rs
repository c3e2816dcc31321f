//! Findings on range, noise, direction and sampling.

use super::finding::{Figure, Finding, Subject, percent, place_text};
use super::fold::{Bin, Fold};
use super::limits::{ESTIMATE, Limit, PRACTICE};
use super::track::{PlacedBy, Spot, Track};
use super::{Limits, Log};
use evidence::conformity::Verdict;
use evidence::robust::median;
use quantity::{Dimension, Units, show_value};

/// Readings spread by no more than this share of the range (estimate).
const MOST_NOISE: f64 = 0.01;
/// The output goes back by no more than this share of the range (estimate).
const MOST_BACK: f64 = 0.01;
/// The sweep covers at least this share of the travel.
const LEAST_COVERED: f64 = 0.9;

/// Samples, gaps and passes.
pub(super) fn of_log(log: &Log, track: &Track) -> Finding {
    let (missing, open) = log.gaps();
    let up = track.passes.iter().filter(|p| p.rising).count();
    let back = track.passes.len() - up;
    let by = match track.by {
        PlacedBy::Travel => "Travel is as logged.",
        PlacedBy::Time => "Travel is taken from the time, at even speed.",
        PlacedBy::Output => {
            "Travel was not logged: places are told from the output itself, and how straight it is cannot be told."
        }
    };
    let passes = format!("{up} {} up and {back} back", if up == 1 { "pass" } else { "passes" });
    let text = format!("{} samples ({missing} missing, {open} open), {passes}. {by}", log.samples.len());
    let notes = log.notes.iter().fold(text, |text, note| format!("{text} {note}"));
    let (low, high) = covered(track);
    let finding =
        Finding::new(Subject::Log, "Log", notes).figure(Figure::share(high - low, 0.0)).place(low, high);
    let limit = format!("at least {}", percent(LEAST_COVERED, 0.0));
    let verdict = if high - low >= LEAST_COVERED { Verdict::Pass } else { Verdict::CannotTell };
    finding.verdict(verdict, &limit, ESTIMATE)
}

fn covered(track: &Track) -> (f64, f64) {
    let seen = track.spots.iter().filter(|s| s.observed());
    let (low, high) = seen.fold((f64::MAX, f64::MIN), |(l, h), s| (l.min(s.x), h.max(s.x)));
    if low > high { (0.0, 0.0) } else { (low.clamp(0.0, 1.0), high.clamp(0.0, 1.0)) }
}

/// Whether a dead spot could have hidden between the samples: each must hold at least three.
pub(super) fn sampling(log: &Log, track: &Track, limits: &Limits) -> Finding {
    let (blind, from) = widest_unseen(track);
    let single = 3.0 * track.step;
    let mut text = format!(
        "A dead spot shows when at least three samples fall into it. All passes together, any wider than {} would have \
         shown; the widest stretch with fewer samples is {}. A single pass shows those wider than {}.",
        percent(blind, 0.0),
        place_text(from, from + blind, track.by),
        percent(single, 0.0)
    );
    let wanted = limits.width_to_see;
    if let Some((speed, rate)) = speed_and_rate(track).filter(|_| log.timed) {
        text.push_str(&format!(
            " It moved at {} a second with {} samples a second",
            percent(speed, 0.0),
            trimmed(rate)
        ));
        let fitting = wanted * rate / 3.0;
        text.push_str(&if fitting < speed {
            format!(
                "; to see {} in one pass, move at no more than {} a second.",
                percent(wanted, 0.0),
                percent(fitting, 0.0)
            )
        } else {
            ".".to_owned()
        });
    }
    let verdict = if blind <= wanted { Verdict::Pass } else { Verdict::CannotTell };
    Finding::new(Subject::Sampling, "Samples close enough", text)
        .figure(Figure::share(blind, 0.0))
        .place(from, from + blind)
        .verdict(verdict, &format!("at most {}", percent(wanted, 0.0)), ESTIMATE)
}

fn trimmed(rate: f64) -> String {
    if rate >= 10.0 { format!("{rate:.0}") } else { format!("{rate:.1}") }
}

/// The widest stretch of travel with fewer than three samples, and where it begins.
fn widest_unseen(track: &Track) -> (f64, f64) {
    let mut x: Vec<f64> = track.spots.iter().filter(|s| s.observed()).map(|s| s.x).collect();
    x.extend([0.0, 1.0]);
    x.sort_by(f64::total_cmp);
    x.windows(4)
        .map(|w| (w[3] - w[0], w[0]))
        .fold((0.0, 0.0), |worst, w| if w.0 > worst.0 { w } else { worst })
}

/// Usual travel and samples for each unit of time; none when nothing moves or time stands still.
fn speed_and_rate(track: &Track) -> Option<(f64, f64)> {
    let (mut gaps, mut speeds) = (Vec::new(), Vec::new());
    for pass in 0..track.passes.len() {
        let seen: Vec<&Spot> = track.of_pass(pass).map(|s| s.1).filter(|s| s.observed()).collect();
        gaps.extend(seen.windows(2).map(|w| w[1].t - w[0].t));
        let (first, last) = (seen.first()?, seen.last()?);
        if last.t > first.t {
            speeds.push((last.x - first.x).abs() / (last.t - first.t));
        }
    }
    let gap = median(&gaps).filter(|g| *g > 0.0)?;
    median(&speeds).filter(|s| *s > 0.0).map(|speed| (speed, 1.0 / gap))
}

/// Lowest and highest output and their difference.
pub(super) fn range(log: &Log, track: &Track, limits: &Limits, asked: bool) -> Vec<Finding> {
    let dimension = log.dimension;
    let ends = [end(log, track, limits, false), end(log, track, limits, true)];
    let [Some(a), Some(b)] = ends else { return Vec::new() };
    let (low, high) = if a.0 <= b.0 { (a, b) } else { (b, a) };
    let about_zero = || {
        let own = Limit::at_most(0.1 * high.0, PRACTICE);
        (dimension == Dimension::Resistance).then_some(own)
    };
    let lowest = limits.lowest.clone().or_else(about_zero);
    let both = (low.1.powi(2) + high.1.powi(2)).sqrt();
    let one = |subject, title: &str, (value, u): (f64, f64), limit: Option<&Limit>| {
        let figure = Figure::output(value, u, dimension);
        let text = format!("{title}: {}.", figure.shown);
        let mut finding = Finding::new(subject, title, text).figure(figure).judged(limit, Some(dimension));
        if asked && finding.verdict.is_some() {
            finding.verdict = Some(Verdict::CannotTell);
        }
        finding
    };
    vec![
        one(Subject::Lowest, "Lowest output", low, lowest.as_ref()),
        one(Subject::Highest, "Highest output", high, limits.highest.as_ref()),
        one(Subject::Range, "Range, end to end", (high.0 - low.0, both), limits.range.as_ref()),
    ]
}

/// Output at one end of the travel, and its standard uncertainty.
fn end(log: &Log, track: &Track, limits: &Limits, upper: bool) -> Option<(f64, f64)> {
    const NEAR: f64 = 0.01;
    let right: Vec<(f64, f64)> =
        track.spots.iter().filter(|s| !s.away).filter_map(|s| Some((s.x, s.y?))).collect();
    let pick = if upper { f64::max } else { f64::min };
    let x = right.iter().map(|p| p.0).reduce(pick)?;
    // Moved along the line to the end itself.
    let near: Vec<f64> = right.iter().filter(|p| (p.0 - x).abs() <= NEAR).map(|p| p.1 - (p.0 - x)).collect();
    let value = track.output(median(&near)?);
    let noise = 1.2533 * track.sigma * track.scale.abs() / (near.len() as f64).sqrt();
    let turned = track.ends_u * track.scale.abs();
    let digit = log.step / 12f64.sqrt();
    let meter =
        limits.meter.map_or(0.0, |m| (m.share * value.abs() + m.digits * log.step).abs() / 3f64.sqrt());
    Some((value, (noise.powi(2) + turned.powi(2) + digit.powi(2) + meter.powi(2)).sqrt()))
}

/// The question to ask when readings are a thousand times off their limits.
pub(super) fn slip(log: &Log, highest: f64, limits: &Limits) -> Option<super::Question> {
    let limit = limits.highest.as_ref().or(limits.range.as_ref()).filter(|_| !limits.sure)?;
    let (low, high) = (limit.lower.or(limit.upper)?, limit.upper.or(limit.lower)?);
    if !(low > 0.0 && high > 0.0 && highest > 0.0) {
        return None;
    }
    let off = (highest / (low * high).sqrt()).log10();
    let room = 0.5 * (high / low).log10() + 0.1;
    let power = [3.0, -3.0, 6.0, -6.0].into_iter().find(|p| (off - p).abs() <= room)?;
    let shown = |v: f64| show_value(v, log.dimension, Units::Metric);
    let times = if power.abs() > 4.0 { "a million" } else { "a thousand" };
    let way = if power > 0.0 { "above" } else { "below" };
    let text = format!(
        "The highest reading is {}, about {times} times {way} the limit of {} to {}. Is the unit of the log right? If \
         another was meant, the readings are {} at most.",
        shown(highest),
        shown(low),
        shown(high),
        shown(highest * 10f64.powf(-power))
    );
    Some(super::Question { text, factor: 10f64.powf(-power) })
}

/// Spread of the readings, and output smoothness.
pub(super) fn noise(track: &Track, limits: &Limits) -> Vec<Finding> {
    let residuals: Vec<f64> = track.spots.iter().filter_map(Spot::residual).collect();
    if residuals.len() < 8 {
        return Vec::new();
    }
    let u = track.sigma / (2.0 * residuals.len() as f64).sqrt();
    let spread = Figure::share(track.sigma, u);
    let text = format!(
        "Readings spread by {} of the range (standard deviation): sensor, contact and meter together.",
        spread.shown
    );
    let own = Limit::at_most(MOST_NOISE, ESTIMATE);
    let mut out = vec![Finding::new(Subject::Noise, "Noise", text).figure(spread).judged(Some(&own), None)];
    out.extend(smoothness(track, limits));
    out
}

/// Output smoothness: largest momentary departure of the output from its course while the wiper moves, in per cent of
/// the applied voltage (C. D. Todd, ed., *The Potentiometer Handbook*, McGraw-Hill 1975, chapter 2, from memory).
/// Places already named as defects are left out; their own size is given there.
fn smoothness(track: &Track, limits: &Limits) -> Option<Finding> {
    let mut worst = (0.0f64, 0.0);
    for pass in 0..track.passes.len() {
        let held: Vec<(f64, f64)> = track
            .of_pass(pass)
            .filter_map(|(_, s)| Some((s.x, s.residual()?, s.y?)))
            .map(|(x, r, y)| (x, if track.by == PlacedBy::Output { y } else { r }))
            .collect();
        for window in held.windows(5) {
            let middle = median(&window.iter().map(|p| p.1).collect::<Vec<_>>())?;
            let (x, value) = *window.get(2)?;
            if (value - middle).abs() > worst.0 {
                worst = ((value - middle).abs(), x);
            }
        }
    }
    let (share, of) = of_applied(track, limits);
    let figure = Figure::share(worst.0 * share, track.sigma * share);
    let text = format!(
        "The largest momentary departure, defects apart, is {} of {of}, {}.",
        figure.shown,
        place_text(worst.1, worst.1, track.by)
    );
    let finding = Finding::new(Subject::Smoothness, "Output smoothness", text).figure(figure);
    Some(finding.place(worst.1, worst.1).judged(limits.smoothness.as_ref(), None))
}

/// The range as a share of what is applied to the track, and what that is called.
pub(super) fn of_applied(track: &Track, limits: &Limits) -> (f64, &'static str) {
    match limits.applied.filter(|a| a.is_finite() && *a > 0.0) {
        Some(applied) => (track.scale.abs() / applied, "what is applied to the track"),
        None => (1.0, "the range"),
    }
}

/// Whether the output only rises (or only falls) with the travel.
pub(super) fn monotonic(track: &Track, fold: &Fold) -> Option<Finding> {
    let title = "One way only";
    if track.by == PlacedBy::Output {
        return None;
    }
    let ways = [&fold.up, &fold.back].into_iter().filter_map(|bins| furthest_back(&calmed(bins)));
    let worst = ways.reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    let (back, u, from, to) = worst;
    let figure = Figure::share(back, u);
    let text = if back <= 2.0 * u {
        "The output goes one way over the whole travel.".to_owned()
    } else {
        format!("The output goes back by {} of the range {}.", figure.shown, place_text(from, to, track.by))
    };
    let own = Limit::at_most(MOST_BACK, ESTIMATE);
    Some(
        Finding::new(Subject::Monotonic, title, text).figure(figure).place(from, to).judged(Some(&own), None),
    )
}

/// The largest way back of the folded output: size, its uncertainty, from where, to where.
fn furthest_back(bins: &[Bin]) -> Option<(f64, f64, f64, f64)> {
    let mut highest: Option<&Bin> = None;
    let mut worst: Option<(f64, f64, f64, f64)> = None;
    for bin in bins {
        let output = bin.x + bin.off;
        match highest {
            Some(top) if top.x + top.off > output => {
                let back = top.x + top.off - output;
                let u = (top.u.powi(2) + bin.u.powi(2)).sqrt();
                if worst.is_none_or(|w| back > w.0) {
                    worst = Some((back, u, top.x, bin.x));
                }
            }
            _ => highest = Some(bin),
        }
    }
    let start = bins.first()?;
    Some(worst.unwrap_or((0.0, start.u, start.x, start.x)))
}

/// Bins taken together, few at a time, until their uncertainty is small against the limit.
fn calmed(bins: &[Option<Bin>]) -> Vec<Bin> {
    let held: Vec<&Bin> = bins.iter().flatten().collect();
    let u = median(&held.iter().map(|b| b.u).collect::<Vec<_>>()).unwrap_or(0.0);
    let wanted = 0.14 * MOST_BACK;
    let together = ((u / wanted).powi(2).ceil() as usize).clamp(1, (held.len() / 20).max(1));
    let mean = |group: &[&Bin], pick: fn(&Bin) -> f64| {
        group.iter().map(|b| pick(b)).sum::<f64>() / group.len() as f64
    };
    let one = |group: &[&Bin]| Bin {
        x: mean(group, |b| b.x),
        off: mean(group, |b| b.off),
        u: mean(group, |b| b.u) / (group.len() as f64).sqrt(),
        local: None,
    };
    held.chunks(together).map(one).collect()
}

/// How far up and back lie apart.
pub(super) fn play(track: &Track, fold: &Fold) -> Option<Finding> {
    if track.by != PlacedBy::Travel {
        return None;
    }
    let pairs = fold.up.iter().zip(&fold.back).filter_map(|(a, b)| Some(((*a)?, (*b)?)));
    let (apart, spreads): (Vec<f64>, Vec<f64>) =
        pairs.map(|(a, b)| (a.off - b.off, (a.u.powi(2) + b.u.powi(2)).sqrt())).unzip();
    if apart.len() < 5 {
        return None;
    }
    let u = 1.2533 * median(&spreads)? / (apart.len() as f64).sqrt();
    let figure = Figure::share(median(&apart)?.abs(), u);
    let text = format!(
        "Going up and coming back differ by {} of travel: play between sensor and what measured the travel.",
        figure.shown
    );
    Some(Finding::new(Subject::Play, "Play up against back", text).figure(figure))
}
