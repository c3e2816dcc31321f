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
    side(plot, frame, &mut out);
    out.push('}');
    out
}

/// As [`json`] for a plot with a strip below it: the rectangle spans both, and `"below":{"y","series"}` is the strip's.
pub(crate) fn stacked(upper: (&Plot, &Frame), lower: (&Plot, &Frame), height: f64) -> String {
    let spanning = Frame { bottom: height + lower.1.bottom, ..upper.1.clone() };
    let mut out = json(upper.0, &spanning);
    out.pop();
    out.push_str(",\"below\":{");
    let start = out.len();
    side(lower.0, lower.1, &mut out);
    // The first member needs no comma before it.
    if out.as_bytes().get(start) == Some(&b',') {
        out.remove(start);
    }
    out.push_str("}}");
    out
}

/// `,"y":{...},"series":[...]`
fn side(plot: &Plot, frame: &Frame, out: &mut String) {
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
    out.push(']');
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
