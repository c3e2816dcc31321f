//! The plot as JSON, for a readout under the pointer.

use super::frame::Frame;
use super::{Axis, Plot, curve};
use crate::svg::number;
use std::fmt::Write;

/// Columns to which points are thinned in the data.
const COLUMNS: usize = 120;

/// `{"rect":[left,top,width,height],"x":{...},"y":{...},"series":[{"name","class","points":[[x,y],...]},...]}`; the
/// rectangle in mm of the view box, points in the units of the axes.
pub(crate) fn json(plot: &Plot, frame: &Frame) -> String {
    let rect = [frame.left, frame.top, frame.width(), frame.height()].map(number).join(",");
    let mut out = format!("{{\"rect\":[{rect}],\"x\":{}", axis(&plot.x, frame.x));
    let _ = write!(out, ",\"y\":{},\"series\":[", axis(&plot.y, frame.y));
    for (i, series) in plot.series.iter().enumerate() {
        let comma = if i == 0 { "" } else { "," };
        let (name, class) = (quoted(&series.name), quoted(series.style.class()));
        let _ = write!(out, "{comma}{{\"name\":{name},\"class\":{class},\"points\":[");
        let mut first = true;
        let (dx, dy) = (decimals(frame.x) + 1, decimals(frame.y) + 1);
        for (x, y) in curve::reduced(&series.points, COLUMNS) {
            if x.is_finite() && y.is_finite() && x.abs() < 1e12 && y.abs() < 1e12 {
                let comma = if std::mem::take(&mut first) { "" } else { "," };
                let _ = write!(out, "{comma}[{},{}]", short(x, dx), short(y, dy));
            }
        }
        out.push_str("]}");
    }
    out.push_str("]}");
    out
}

fn axis(axis: &Axis, range: (f64, f64)) -> String {
    let d = decimals(range);
    format!(
        "{{\"label\":{},\"unit\":{},\"from\":{},\"to\":{},\"decimals\":{d}}}",
        quoted(&axis.label),
        quoted(&axis.unit),
        short(range.0, d + 3),
        short(range.1, d + 3)
    )
}

/// Decimals that resolve a five-hundredth of the range.
fn decimals((from, to): (f64, f64)) -> usize {
    (-((to - from) / 500.0).log10()).ceil().clamp(0.0, 6.0) as usize
}

fn short(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// A JSON string.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c < ' ' => {
                let _ = write!(out, "\\u{:04x}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
