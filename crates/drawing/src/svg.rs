//! Scene to SVG text: always closed, always escaped, no number that is not finite.

use crate::hatch::hatch_lines;
use crate::path::{Path, Segment};
use crate::point::{Point, drawable};
use crate::scene::{Anchor, Group, Item, Scene, Text, Weight};
use crate::style::{Look, Style};
use std::fmt::Write;

/// For what the SVG is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Theme {
    /// For the page: classes only, see [`crate::css`].
    Page,
    /// For printing and PDF: presentation attributes only, black and white.
    Paper,
}

/// Fonts asked for on paper, first choice first.
const PAPER_FONTS: &str = "Inter, Noto Sans, DejaVu Sans, Liberation Sans, Arial, sans-serif";

/// Size that stands in for one that cannot be written, mm.
const DEFAULT_SIZE: (f64, f64) = (100.0, 75.0);

/// Writes a scene as an SVG document with its view box in mm.
pub fn to_svg(scene: &Scene, theme: Theme) -> String {
    let side = |v: f64, instead: f64| if drawable(v) && v > 0.0 { v } else { instead };
    let (width, height) = (side(scene.width_mm, DEFAULT_SIZE.0), side(scene.height_mm, DEFAULT_SIZE.1));
    let mut out = Writer { out: String::with_capacity(4096), theme };
    let size = format!("0 0 {} {}", number(width), number(height));
    let _ = write!(out.out, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{size}\" role=\"img\"");
    match theme {
        Theme::Page => out.attribute("class", "drawing"),
        Theme::Paper => {
            out.attribute("width", &format!("{}mm", number(width)));
            out.attribute("height", &format!("{}mm", number(height)));
            out.attribute("font-family", PAPER_FONTS);
        }
    }
    out.data(&scene.data);
    out.out.push('>');
    out.element_text("title", &scene.title);
    out.element_text("desc", &scene.description);
    out.items(&scene.items);
    out.out.push_str("</svg>");
    out.out
}

/// A number with at most three decimals, without trailing zeros.
pub(crate) fn number(value: f64) -> String {
    let mut text = format!("{value:.3}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// Escapes text for content and for quoted attributes; characters that XML does not know become a replacement mark.
fn escape(text: &str, out: &mut String) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\r' | '\t' => out.push(' '),
            c if c < ' ' || matches!(c, '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}') => {
                out.push('\u{fffd}')
            }
            c => out.push(c),
        }
    }
}

/// How an element uses its style.
#[derive(Clone, Copy)]
enum Role {
    Line,
    Area,
    Solid,
}

struct Writer {
    out: String,
    theme: Theme,
}

impl Writer {
    fn attribute(&mut self, name: &str, value: &str) {
        let _ = write!(self.out, " {name}=\"");
        escape(value, &mut self.out);
        self.out.push('"');
    }

    fn numbers(&mut self, pairs: &[(&str, f64)]) {
        for (name, value) in pairs {
            let _ = write!(self.out, " {name}=\"{}\"", number(*value));
        }
    }

    fn element_text(&mut self, name: &str, text: &str) {
        let _ = write!(self.out, "<{name}>");
        escape(text, &mut self.out);
        let _ = write!(self.out, "</{name}>");
    }

    fn data(&mut self, data: &[(String, String)]) {
        for (name, value) in data {
            let name: String = name.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '-').collect();
            if !name.is_empty() {
                self.single_quoted(&format!("data-{}", name.to_ascii_lowercase()), value);
            }
        }
    }

    /// JSON is full of double quotes: between single ones it stays short.
    fn single_quoted(&mut self, name: &str, value: &str) {
        let mut escaped = String::with_capacity(value.len());
        escape(value, &mut escaped);
        let _ = write!(self.out, " {name}='{}'", escaped.replace("&quot;", "\""));
    }

    fn items(&mut self, items: &[Item]) {
        for item in items {
            self.item(item);
        }
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Line { from, to, style } => self.line(*from, *to, *style),
            Item::Polyline { points, style } => self.polyline(points, *style),
            Item::Trace { path, style } => self.path(path, *style, Role::Line),
            Item::Area { path, style } => self.path(path, *style, Role::Area),
            Item::Solid { points, style } => self.path(&Path::polygon(points), *style, Role::Solid),
            Item::Circle { centre, radius, style, solid } => {
                self.circle(*centre, *radius, *style, if *solid { Role::Solid } else { Role::Area })
            }
            Item::Arc { centre, radius, start_rad, sweep_rad, style } => {
                self.arc(*centre, *radius, *start_rad, *sweep_rad, *style)
            }
            Item::Rect { corner, width, height, radius, style } => {
                self.rect(*corner, (*width, *height), *radius, *style)
            }
            Item::Text(text) => self.text(text),
            Item::Group(group) => self.group(group),
            Item::Dimension(dimension) => self.group(&dimension.parts()),
            Item::Hatch(h) => {
                let lines = hatch_lines(&h.path, h.spacing, h.angle_rad);
                let segments =
                    lines.iter().flat_map(|&(a, b)| [Segment::Move(a), Segment::Line(b)]).collect();
                self.path(&Path { segments }, h.style, Role::Line)
            }
            Item::Arrow(arrow) => self.group(&arrow.parts()),
            Item::Turn(turn) => self.group(&turn.parts()),
        }
    }

    fn style(&mut self, style: Style, role: Role) {
        let look = style.look();
        if self.theme == Theme::Page {
            let role = match role {
                Role::Line => "line",
                Role::Area => "area",
                Role::Solid => "solid",
            };
            let _ = write!(self.out, " class=\"{role} {}\"", look.class);
            return;
        }
        match role {
            Role::Line => self.paper_line(&look, "none", true),
            Role::Area => {
                self.paper_line(
                    &look,
                    look.paper.fill.or(look.fill.map(|_| "#ffffff")).unwrap_or("none"),
                    false,
                );
                self.attribute("fill-rule", "evenodd");
            }
            Role::Solid => self.attribute("fill", look.paper.stroke),
        }
    }

    fn paper_line(&mut self, look: &Look, fill: &str, dashed: bool) {
        self.attribute("fill", fill);
        if look.paper.width <= 0.0 {
            return;
        }
        self.attribute("stroke", look.paper.stroke);
        self.numbers(&[("stroke-width", look.paper.width)]);
        self.attribute("stroke-linejoin", "round");
        if dashed && !look.dash.is_empty() {
            let dash = look.dash.iter().map(|d| number(*d)).collect::<Vec<_>>().join(" ");
            self.attribute("stroke-dasharray", &dash);
        }
    }

    fn line(&mut self, from: Point, to: Point, style: Style) {
        if from.is_drawable() && to.is_drawable() {
            self.out.push_str("<line");
            self.numbers(&[("x1", from.x), ("y1", from.y), ("x2", to.x), ("y2", to.y)]);
            self.style(style, Role::Line);
            self.out.push_str("/>");
        }
    }

    fn polyline(&mut self, points: &[Point], style: Style) {
        for run in points.split(|p| !p.is_drawable()) {
            if run.len() < 2 {
                continue;
            }
            self.out.push_str("<polyline points=\"");
            for (i, p) in run.iter().enumerate() {
                let gap = if i == 0 { "" } else { " " };
                let _ = write!(self.out, "{gap}{},{}", number(p.x), number(p.y));
            }
            self.out.push('"');
            self.style(style, Role::Line);
            self.out.push_str("/>");
        }
    }

    fn path(&mut self, path: &Path, style: Style, role: Role) {
        let Some(d) = path_data(path) else { return };
        let _ = write!(self.out, "<path d=\"{d}\"");
        self.style(style, role);
        self.out.push_str("/>");
    }

    fn circle(&mut self, centre: Point, radius: f64, style: Style, role: Role) {
        if centre.is_drawable() && drawable(radius) && radius > 0.0 {
            self.out.push_str("<circle");
            self.numbers(&[("cx", centre.x), ("cy", centre.y), ("r", radius)]);
            self.style(style, role);
            self.out.push_str("/>");
        }
    }

    fn arc(&mut self, centre: Point, radius: f64, start: f64, sweep: f64, style: Style) {
        if !(drawable(start) && drawable(sweep)) {
            return;
        }
        // Half turns at most, so that each piece is one unambiguous SVG arc.
        let sweep = sweep.clamp(-std::f64::consts::TAU, std::f64::consts::TAU);
        let pieces = (sweep.abs() / std::f64::consts::PI).ceil().max(1.0) as usize;
        let mut path = Path::from(centre.polar(radius, start));
        for i in 1..=pieces {
            let to = centre.polar(radius, start + sweep * i as f64 / pieces as f64);
            path = path.arc_to(to, radius, sweep > 0.0);
        }
        self.path(&path, style, Role::Line);
    }

    fn rect(&mut self, corner: Point, (width, height): (f64, f64), radius: f64, style: Style) {
        let sized = drawable(width) && drawable(height) && width > 0.0 && height > 0.0;
        if !(corner.is_drawable() && sized) {
            return;
        }
        self.out.push_str("<rect");
        self.numbers(&[("x", corner.x), ("y", corner.y), ("width", width), ("height", height)]);
        if drawable(radius) && radius > 0.0 {
            self.numbers(&[("rx", radius)]);
        }
        self.style(style, Role::Area);
        self.out.push_str("/>");
    }

    fn text(&mut self, text: &Text) {
        if !(text.at.is_drawable() && drawable(text.size) && text.size > 0.0) || text.text.is_empty() {
            return;
        }
        self.out.push_str("<text");
        self.numbers(&[("x", text.at.x), ("y", text.at.y), ("font-size", text.size)]);
        match text.anchor {
            Anchor::Start => {}
            Anchor::Middle => self.attribute("text-anchor", "middle"),
            Anchor::End => self.attribute("text-anchor", "end"),
        }
        if drawable(text.rotation_rad) && text.rotation_rad != 0.0 {
            let (turn, x, y) = (number(text.rotation_rad.to_degrees()), number(text.at.x), number(text.at.y));
            self.attribute("transform", &format!("rotate({turn} {x} {y})"));
        }
        self.text_style(text);
        self.out.push('>');
        escape(&text.text, &mut self.out);
        self.out.push_str("</text>");
    }

    fn text_style(&mut self, text: &Text) {
        let look = text.style.look();
        let strong = text.weight == Weight::Strong;
        if self.theme == Theme::Page {
            let strong = if strong { " strong" } else { "" };
            let halo = if text.halo { " halo" } else { "" };
            let _ = write!(self.out, " class=\"text {}{strong}{halo}\"", look.class);
            return;
        }
        self.attribute("fill", look.paper.stroke);
        if strong {
            self.attribute("font-weight", "bold");
        }
        if text.halo {
            self.attribute("stroke", "#ffffff");
            self.attribute("stroke-width", "0.9");
            self.attribute("stroke-linejoin", "round");
            self.attribute("paint-order", "stroke");
        }
    }

    fn group(&mut self, group: &Group) {
        let mut moved = String::new();
        if let Some(t) = group.transform {
            if !(t.shift.is_drawable() && drawable(t.turn_rad)) {
                return;
            }
            let (x, y, turn) = (number(t.shift.x), number(t.shift.y), number(t.turn_rad.to_degrees()));
            moved = format!("translate({x} {y}) rotate({turn})");
        }
        self.out.push_str("<g");
        if let Some(id) = &group.id {
            self.attribute("id", id);
        }
        if let (Some(class), Theme::Page) = (&group.class, self.theme) {
            self.attribute("class", class);
        }
        if !moved.is_empty() {
            self.attribute("transform", &moved);
        }
        self.data(&group.data);
        self.out.push('>');
        self.items(&group.items);
        self.out.push_str("</g>");
    }
}

/// The `d` attribute; `None` when the path is empty or holds a number that cannot be written.
fn path_data(path: &Path) -> Option<String> {
    let mut d = String::new();
    for segment in &path.segments {
        match *segment {
            Segment::Move(p) | Segment::Line(p) if !p.is_drawable() => return None,
            Segment::Move(p) => write!(d, "M{} {}", number(p.x), number(p.y)).ok()?,
            Segment::Line(p) => write!(d, "L{} {}", number(p.x), number(p.y)).ok()?,
            Segment::Arc { to, radius, clockwise, large } => {
                if !(to.is_drawable() && drawable(radius)) {
                    return None;
                }
                let (r, large, sweep) = (number(radius.abs()), u8::from(large), u8::from(clockwise));
                write!(d, "A{r} {r} 0 {large} {sweep} {} {}", number(to.x), number(to.y)).ok()?
            }
            Segment::Close => d.push('Z'),
        }
    }
    (d.starts_with('M') && d.len() > 1).then_some(d)
}

#[cfg(test)]
mod tests;
