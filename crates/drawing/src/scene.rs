//! What is drawn: a sheet with items on it.

use crate::dimension::{Dimension, HEAD_MM, head};
use crate::path::Path;
use crate::point::{Point, at};
use crate::style::Style;

/// A drawing of a given size.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
    /// Short name, read out by screen readers.
    pub title: String,
    /// What the drawing shows, in one or two sentences, read out by screen readers.
    pub description: String,
    /// Data attributes of the root element: (name without `data-`, value). Names keep letters, digits and hyphens.
    pub data: Vec<(String, String)>,
    /// What is drawn, later items over earlier ones.
    pub items: Vec<Item>,
}

impl Scene {
    /// An empty sheet.
    pub fn new(width_mm: f64, height_mm: f64, title: &str, description: &str) -> Self {
        Self {
            width_mm,
            height_mm,
            title: title.to_owned(),
            description: description.to_owned(),
            data: Vec::new(),
            items: Vec::new(),
        }
    }
}

/// Something drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Straight line.
    Line {
        /// Start.
        from: Point,
        /// End.
        to: Point,
        /// Meaning.
        style: Style,
    },
    /// Open line through points; a point that is not finite breaks it.
    Polyline {
        /// The points.
        points: Vec<Point>,
        /// Meaning.
        style: Style,
    },
    /// Open path with arcs, drawn as a line.
    Trace {
        /// The path.
        path: Path,
        /// Meaning.
        style: Style,
    },
    /// Closed area with its edge.
    Area {
        /// The outline.
        path: Path,
        /// Meaning.
        style: Style,
    },
    /// Polygon filled with the line colour (arrow heads, solid marks).
    Solid {
        /// The corners.
        points: Vec<Point>,
        /// Meaning.
        style: Style,
    },
    /// Circle with its edge.
    Circle {
        /// Centre.
        centre: Point,
        /// Radius, mm.
        radius: f64,
        /// Meaning.
        style: Style,
        /// Filled with the line colour.
        solid: bool,
    },
    /// Arc of a circle, a line.
    Arc {
        /// Centre.
        centre: Point,
        /// Radius, mm.
        radius: f64,
        /// Direction of its start, rad clockwise from the x axis.
        start_rad: f64,
        /// How far it goes, rad, clockwise positive.
        sweep_rad: f64,
        /// Meaning.
        style: Style,
    },
    /// Rectangle with its edge.
    Rect {
        /// Upper left corner.
        corner: Point,
        /// Width, mm.
        width: f64,
        /// Height, mm.
        height: f64,
        /// Corner radius, mm.
        radius: f64,
        /// Meaning.
        style: Style,
    },
    /// Text.
    Text(Text),
    /// Items that belong together.
    Group(Group),
    /// Dimension line.
    Dimension(Dimension),
    /// Hatching.
    Hatch(Hatch),
    /// Straight arrow.
    Arrow(Arrow),
    /// Arrow along an arc.
    Turn(Turn),
}

/// Where a text's anchor point lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// At its start.
    Start,
    /// At its middle.
    Middle,
    /// At its end.
    End,
}

/// How heavy a text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Plain.
    Plain,
    /// Strong.
    Strong,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Anchor point on the baseline.
    pub at: Point,
    /// The text.
    pub text: String,
    /// Height of the letters (font size), mm.
    pub size: f64,
    /// Anchor.
    pub anchor: Anchor,
    /// Turned clockwise about its anchor point, rad.
    pub rotation_rad: f64,
    /// Weight.
    pub weight: Weight,
    /// With a rim in the colour of the paper, to stand on lines.
    pub halo: bool,
    /// Meaning.
    pub style: Style,
}

impl Text {
    /// A level text that starts at `at`.
    pub fn new(at: Point, text: &str, size: f64, style: Style) -> Self {
        Self {
            at,
            text: text.to_owned(),
            size,
            anchor: Anchor::Start,
            rotation_rad: 0.0,
            weight: Weight::Plain,
            halo: false,
            style,
        }
    }

    /// With this anchor.
    pub fn anchor(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// Strong.
    pub fn strong(mut self) -> Self {
        self.weight = Weight::Strong;
        self
    }

    /// With a rim in the colour of the paper.
    pub fn halo(mut self) -> Self {
        self.halo = true;
        self
    }

    /// Turned clockwise by this angle, rad.
    pub fn turned(mut self, rotation_rad: f64) -> Self {
        self.rotation_rad = rotation_rad;
        self
    }
}

/// Shift and turn of a group: first turned about the group's origin, then shifted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Transform {
    /// Shift, mm.
    pub shift: Point,
    /// Turn, rad clockwise.
    pub turn_rad: f64,
}

/// Items that belong together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Group {
    /// Id in the page; must be unique there.
    pub id: Option<String>,
    /// Class in the page.
    pub class: Option<String>,
    /// Shift and turn.
    pub transform: Option<Transform>,
    /// Data attributes: (name without `data-`, value).
    pub data: Vec<(String, String)>,
    /// The items.
    pub items: Vec<Item>,
}

impl Group {
    /// An empty group with a class.
    pub fn with_class(class: &str) -> Self {
        Self { class: Some(class.to_owned()), ..Self::default() }
    }
}

/// Parallel lines in an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Hatch {
    /// The outline.
    pub path: Path,
    /// Distance between lines, mm.
    pub spacing: f64,
    /// Direction of the lines, rad clockwise from the x axis.
    pub angle_rad: f64,
    /// Meaning.
    pub style: Style,
}

/// A straight arrow with its head at `to`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrow {
    /// Start.
    pub from: Point,
    /// Tip.
    pub to: Point,
    /// Meaning.
    pub style: Style,
}

impl Arrow {
    pub(crate) fn parts(&self) -> Group {
        let mut group = Group::with_class("arrow");
        if let Some(direction) = (self.to - self.from).unit() {
            group.line(self.from, self.to - direction * (0.8 * HEAD_MM), self.style);
            head(&mut group, self.to, direction, self.style);
        }
        group
    }
}

/// An arrow along an arc: a direction of turning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// Centre of turning.
    pub centre: Point,
    /// Radius, mm.
    pub radius: f64,
    /// Direction of its start, rad clockwise from the x axis.
    pub start_rad: f64,
    /// How far it turns, rad, clockwise positive.
    pub sweep_rad: f64,
    /// Meaning.
    pub style: Style,
}

impl Turn {
    pub(crate) fn parts(&self) -> Group {
        let mut group = Group::with_class("turning");
        let sense = if self.sweep_rad < 0.0 { -1.0 } else { 1.0 };
        let end = self.start_rad + self.sweep_rad;
        let tip = self.centre.polar(self.radius, end);
        // The head is a chord of the arc, so it is turned back by half the angle it covers.
        let covered = HEAD_MM / self.radius.abs().max(HEAD_MM);
        let tangent = end + sense * (std::f64::consts::FRAC_PI_2 - covered / 2.0);
        let sweep_rad = self.sweep_rad - sense * 0.8 * covered;
        let Turn { centre, radius, start_rad, style, .. } = *self;
        group.items.push(Item::Arc { centre, radius, start_rad, sweep_rad, style });
        head(&mut group, tip, at(tangent.cos(), tangent.sin()), style);
        group
    }
}

/// Drawing on anything that holds items.
pub trait Draw {
    /// Where the items go.
    fn sheet(&mut self) -> &mut Vec<Item>;

    /// Draws a straight line.
    fn line(&mut self, from: Point, to: Point, style: Style) {
        self.sheet().push(Item::Line { from, to, style });
    }

    /// Draws an open line through points.
    fn polyline(&mut self, points: Vec<Point>, style: Style) {
        self.sheet().push(Item::Polyline { points, style });
    }

    /// Draws an open path with arcs.
    fn trace(&mut self, path: Path, style: Style) {
        self.sheet().push(Item::Trace { path, style });
    }

    /// Draws a closed area.
    fn area(&mut self, path: Path, style: Style) {
        self.sheet().push(Item::Area { path, style });
    }

    /// Draws a closed area of cut metal with its hatching.
    fn cut_metal(&mut self, path: Path, angle_rad: f64) {
        self.area(path.clone(), Style::Cut);
        self.sheet().push(Item::Hatch(Hatch { path, spacing: 1.6, angle_rad, style: Style::Hatching }));
    }

    /// Draws a polygon filled with the line colour.
    fn solid(&mut self, points: &[Point], style: Style) {
        self.sheet().push(Item::Solid { points: points.to_vec(), style });
    }

    /// Draws a circle.
    fn circle(&mut self, centre: Point, radius: f64, style: Style) {
        self.sheet().push(Item::Circle { centre, radius, style, solid: false });
    }

    /// Draws a dot filled with the line colour.
    fn dot(&mut self, centre: Point, radius: f64, style: Style) {
        self.sheet().push(Item::Circle { centre, radius, style, solid: true });
    }

    /// Draws a rectangle from its upper left corner.
    fn rect(&mut self, corner: Point, width: f64, height: f64, radius: f64, style: Style) {
        self.sheet().push(Item::Rect { corner, width, height, radius, style });
    }

    /// Draws a text.
    fn text(&mut self, text: Text) {
        self.sheet().push(Item::Text(text));
    }

    /// Draws an arrow with its head at `to`.
    fn arrow(&mut self, from: Point, to: Point, style: Style) {
        self.sheet().push(Item::Arrow(Arrow { from, to, style }));
    }

    /// Draws a group.
    fn group(&mut self, group: Group) {
        self.sheet().push(Item::Group(group));
    }
}

impl Draw for Scene {
    fn sheet(&mut self) -> &mut Vec<Item> {
        &mut self.items
    }
}

impl Draw for Group {
    fn sheet(&mut self) -> &mut Vec<Item> {
        &mut self.items
    }
}
