//! The plot rectangle: margins, scales, axes and grid.

use super::{Along, Axis, Line, Plot, TEXT_MM, Ticks, nice_ticks, plain};
use crate::point::{Point, at};
use crate::scene::{Anchor, Draw, Scene};
use crate::style::Style;
use crate::text::text_width_mm;

/// Scales and edges of a plot, mm on the sheet.
#[derive(Debug, Clone)]
pub(crate) struct Frame {
    pub(crate) left: f64,
    pub(crate) right: f64,
    pub(crate) top: f64,
    pub(crate) bottom: f64,
    pub(crate) x: (f64, f64),
    pub(crate) y: (f64, f64),
    pub(crate) x_ticks: Ticks,
    pub(crate) y_ticks: Ticks,
}

/// Room between an axis and its tick labels, mm.
const GAP_MM: f64 = 1.4;
/// Columns of picture elements counted for one mm.
const COLUMNS_PER_MM: f64 = 8.0;

impl Frame {
    pub(crate) fn of(plot: &Plot) -> Self {
        let (width, height) = (sane(plot.width_mm, 100.0), sane(plot.height_mm, 75.0));
        let x = x_range(plot);
        let y = y_range(plot);
        let (top, bottom) = (TEXT_MM + 4.0, height - 2.0 * TEXT_MM - 4.4);
        let most_y = ((bottom - top) / (2.4 * TEXT_MM)).clamp(2.0, 8.0) as usize;
        let y_ticks = nice_ticks(y.0, y.1, most_y, plot.y.steps);
        let widest = |t: &Ticks| label_widths(t).fold(0.0, f64::max);
        let left = (widest(&y_ticks) + GAP_MM + 1.0).max(6.0);
        // The last tick label is centred on the right edge at worst: half of it must fit.
        let rough = nice_ticks(x.0, x.1, 9, plot.x.steps);
        let right = width - (widest(&rough) / 2.0 + 1.2).max(3.0);
        let most_x = ((right - left) / (widest(&rough) + 5.0)).clamp(2.0, 9.0) as usize;
        let x_ticks = nice_ticks(x.0, x.1, most_x, plot.x.steps);
        let right = width - (widest(&x_ticks) / 2.0 + 1.2).max(3.0);
        Self { left, right, top, bottom, x, y, x_ticks, y_ticks }
    }

    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(crate) fn columns(&self) -> usize {
        (self.width() * COLUMNS_PER_MM).clamp(16.0, 4000.0) as usize
    }

    pub(crate) fn x_mm(&self, x: f64) -> f64 {
        self.left + (x - self.x.0) / (self.x.1 - self.x.0) * self.width()
    }

    pub(crate) fn y_mm(&self, y: f64) -> f64 {
        self.bottom - (y - self.y.0) / (self.y.1 - self.y.0) * self.height()
    }

    pub(crate) fn x_clamped(&self, x: f64) -> f64 {
        self.x_mm(x).clamp(self.left, self.right)
    }

    pub(crate) fn y_clamped(&self, y: f64) -> f64 {
        self.y_mm(y).clamp(self.top, self.bottom)
    }

    pub(crate) fn holds_x(&self, x: f64) -> bool {
        x >= self.x.0 && x <= self.x.1
    }

    pub(crate) fn holds(&self, x: f64, y: f64) -> bool {
        self.holds_x(x) && y >= self.y.0 && y <= self.y.1
    }

    /// Points along a target line from one edge to the other; empty when it lies outside.
    pub(crate) fn along(&self, line: &Line) -> Vec<Point> {
        let spread = |i: i32| f64::from(i) / 24.0;
        match line.along {
            Along::X if self.holds_x(line.at) => {
                let x = self.x_mm(line.at);
                (0..=24).map(|i| at(x, self.top + spread(i) * self.height())).collect()
            }
            Along::Y if self.holds(self.x.0, line.at) => {
                let y = self.y_mm(line.at);
                (0..=24).map(|i| at(self.left + spread(i) * self.width(), y)).collect()
            }
            _ => Vec::new(),
        }
    }

    /// Grid, axes, ticks and headings.
    pub(crate) fn draw(&self, scene: &mut Scene, plot: &Plot) {
        let baseline = self.bottom + GAP_MM + 0.8 * TEXT_MM;
        for &value in &self.x_ticks.values {
            let x = self.x_mm(value);
            scene.line(at(x, self.top), at(x, self.bottom), Style::Grid);
            let text = tick_label(value, self.x_ticks.decimals);
            scene.text(plain(at(x, baseline), &text, Style::Note).anchor(Anchor::Middle));
        }
        for &value in &self.y_ticks.values {
            let y = self.y_mm(value);
            scene.line(at(self.left, y), at(self.right, y), Style::Grid);
            let text = tick_label(value, self.y_ticks.decimals);
            let place = at(self.left - GAP_MM, y + 0.36 * TEXT_MM);
            scene.text(plain(place, &text, Style::Note).anchor(Anchor::End));
        }
        scene.line(at(self.left, self.top), at(self.left, self.bottom), Style::Axis);
        scene.line(at(self.left, self.bottom), at(self.right, self.bottom), Style::Axis);
        let under = at(self.right, baseline + 1.35 * TEXT_MM);
        if !plot.x.label.is_empty() {
            scene.text(plain(under, &plot.x.heading(), Style::Label).anchor(Anchor::End));
        }
        scene.text(plain(at(0.6, TEXT_MM + 0.4), &plot.y.heading(), Style::Label));
    }
}

fn sane(size: f64, instead: f64) -> f64 {
    if (30.0..=2000.0).contains(&size) { size } else { instead }
}

fn label_widths(ticks: &Ticks) -> impl Iterator<Item = f64> + '_ {
    ticks.values.iter().map(|v| text_width_mm(&tick_label(*v, ticks.decimals), TEXT_MM))
}

/// A tick value with a true minus sign.
pub(crate) fn tick_label(value: f64, decimals: usize) -> String {
    format!("{value:.decimals$}").replace('-', "−")
}

/// A given range when it is usable.
fn given(axis: &Axis) -> Option<(f64, f64)> {
    axis.range.filter(|(a, b)| usable(*a) && usable(*b) && b - a > 1e-9 * a.abs().max(b.abs()).max(1e-9))
}

/// Numbers whose scale still fits a sheet.
fn usable(value: f64) -> bool {
    value.is_finite() && value.abs() < 1e12
}

fn x_range(plot: &Plot) -> (f64, f64) {
    let curves = plot.series.iter().flat_map(|s| s.points.iter().map(|p| p.0));
    let marks = plot.markers.iter().map(|m| m.x).chain(plot.cursor);
    let lines = plot.lines.iter().filter(|l| l.along == Along::X).map(|l| l.at);
    let bands = plot.bands.iter().filter(|b| b.along == Along::X).flat_map(|b| [b.low, b.high]);
    given(&plot.x).unwrap_or_else(|| span(curves.chain(marks).chain(lines).chain(bands), 0.0))
}

fn y_range(plot: &Plot) -> (f64, f64) {
    let curves = plot.series.iter().flat_map(|s| s.points.iter().map(|p| p.1));
    let marks = plot.markers.iter().map(|m| m.y);
    let lines = plot.lines.iter().filter(|l| l.along == Along::Y).map(|l| l.at);
    let bands = plot.bands.iter().filter(|b| b.along == Along::Y).flat_map(|b| [b.low, b.high]);
    given(&plot.y).unwrap_or_else(|| span(curves.chain(marks).chain(lines).chain(bands), 0.06))
}

/// Smallest and largest usable value, widened by `pad` of the span (not across zero when all are on one side).
fn span(values: impl Iterator<Item = f64>, pad: f64) -> (f64, f64) {
    let (low, high) =
        values.filter(|v| usable(*v)).fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
    if low > high {
        return (0.0, 1.0);
    }
    if high - low <= 1e-9 * high.abs().max(low.abs()).max(1e-6) {
        let half = (high.abs() * 0.1).max(0.5);
        return (low - half, high + half);
    }
    let extra = (high - low) * pad;
    let low = if low >= 0.0 && low < extra { 0.0 } else { low - extra };
    (low, high + extra)
}
