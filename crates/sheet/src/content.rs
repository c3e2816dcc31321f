//! What goes onto a sheet.

use crate::error::SheetError;
use crate::view::may_work;
use drawing::{Scene, Theme, to_svg};
use std::f64::consts::PI;
use workshop::report::Report;
use workshop::{Answer, Shown};

/// Everything that stands on one sheet.
#[derive(Debug, Clone)]
pub struct SheetContent<'a> {
    /// The answer, as finished texts.
    pub report: &'a Report,
    /// Drawings, in the order in which they are shown.
    pub drawings: Vec<Drawing>,
    /// Paper size.
    pub paper: Paper,
    /// The date as it shall be printed; none leaves a line to write it.
    pub date: Option<String>,
    /// The title above the engine's name; none for "Set-up sheet".
    pub title: Option<String>,
    /// What the job card holds beside its figures, on leaves of its own.
    pub annex: Annex,
}

/// What a job card holds beside its figures.
#[derive(Debug, Clone, Default)]
pub struct Annex {
    /// Free notes; empty for none.
    pub notes: String,
    /// Bench checks that were done, in their order.
    pub checks: Vec<Checked>,
    /// Photos, each with what is seen on it.
    pub photos: Vec<Photo>,
}

/// One bench check that was done.
#[derive(Debug, Clone)]
pub struct Checked {
    /// What was checked.
    pub title: String,
    /// What was read, with units.
    pub read: String,
    /// What it says: a sentence.
    pub says: String,
    /// The verdict in a word: pass, fail, cannot tell.
    pub verdict: String,
}

/// One photo.
#[derive(Debug, Clone)]
pub struct Photo {
    /// What is seen on it.
    pub caption: String,
    /// The picture's file.
    pub bytes: Vec<u8>,
    /// Kind of the file.
    pub format: PhotoFormat,
}

/// Kinds of photo that can be set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotoFormat {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
    /// WebP.
    Webp,
}

impl Annex {
    /// True when there is nothing to set.
    pub fn is_empty(&self) -> bool {
        self.notes.trim().is_empty() && self.checks.is_empty() && self.photos.is_empty()
    }
}

impl PhotoFormat {
    /// The typesetter's name for it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::Webp => "webp",
        }
    }
}

/// One drawing.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Where it stands.
    pub place: Place,
    /// What it shows; also read out in place of the picture.
    pub caption: String,
    /// An SVG document with inline attributes and its size in mm, black on white.
    pub svg: String,
}

/// Where a drawing stands on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Beside the error at both ends.
    Ends,
    /// In the row of drawings.
    Row,
    /// Beside a step's turn, in place of the sheet's own arrow; steps are counted from 0.
    Turn(usize),
}

/// Paper size.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4, 210 mm by 297 mm.
    #[default]
    A4,
    /// North American letter, 8.5 in by 11 in.
    Letter,
}

impl<'a> SheetContent<'a> {
    /// The sheet of an answer with its own drawings, on A4 when it is told in metric units, else on letter paper.
    ///
    /// While questions are open or a gate stops the path there are no drawings: they would show a setting that must not
    /// be worked to.
    pub fn of(answer: &'a Answer, date: Option<String>) -> Self {
        Self {
            report: &answer.report,
            drawings: if may_work(&answer.report) { drawings(answer) } else { Vec::new() },
            paper: if answer.units == Default::default() { Paper::A4 } else { Paper::Letter },
            date,
            title: None,
            annex: Annex::default(),
        }
    }
}

fn drawings(answer: &Answer) -> Vec<Drawing> {
    let full_rad = answer.engine.servo.travel.value;
    let drawn = |place, caption: &str, scene: &Scene| Drawing {
        place,
        caption: caption.to_owned(),
        svg: to_svg(scene, Theme::Paper),
    };
    let gear = answer.gear_scene(Shown::Proposed, full_rad);
    let port = answer.port_scene(Shown::Proposed, full_rad, PI);
    let travel = answer.travel_scene(Shown::Proposed, full_rad);
    vec![
        drawn(Place::Ends, "Error at both ends with the acceptance bands", &answer.ends_scene()),
        drawn(Place::Row, "Valve gear at full travel, after these steps", &gear),
        drawn(Place::Row, "Port at full travel, piston at bottom dead centre", &port),
        drawn(Place::Row, "Valve edge against servo travel", &travel),
    ]
}

impl Paper {
    /// The typesetter's name for it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "us-letter",
        }
    }
}

impl Drawing {
    /// Refuses what is plainly no drawing, by its caption, before the typesetter meets it.
    pub(crate) fn check(&self) -> Result<(), SheetError> {
        if self.svg.trim_start().starts_with('<') && self.svg.contains("<svg") {
            return Ok(());
        }
        Err(SheetError::Drawing { caption: self.caption.clone() })
    }
}
