//! Scenes in millimetres, written as SVG.
//!
//! A [`Scene`] says what is drawn and what it means ([`Style`]), never in which colour. [`to_svg`] writes it for the
//! page ([`Theme::Page`]: classes, colours from CSS custom properties, see [`css`]) or for paper ([`Theme::Paper`]:
//! plain presentation attributes that need no colour). [`plot`] turns curves into a scene.
//!
//! Axes: x to the right, y down, in mm. Angles are in rad, from the x axis, positive clockwise as seen on the sheet.
//! Whatever is not finite, or lies further than 100 m from the origin, is left out instead of being written.

mod css;
mod dimension;
mod hatch;
mod palette;
mod path;
pub mod plot;
mod point;
mod scene;
mod style;
mod svg;
mod text;

pub use css::{css, palette_css, rules_css};
pub use dimension::{Dimension, DimensionLabel};
pub use palette::{COLOURS, Colour};
pub use path::{Path, Segment, between_levels, polygon_area};
pub use point::{Point, at};
pub use scene::{Anchor, Arrow, Draw, Group, Hatch, Item, Scene, Text, Transform, Turn, Weight};
pub use style::Style;
pub use svg::{Theme, to_svg};
pub use text::{text_width_mm, wrap};
