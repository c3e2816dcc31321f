//! What a drawn thing means, and how each meaning looks on the page and on paper.

/// What a drawn thing is. The look follows from it, never the other way round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Style {
    /// Visible edge of a part.
    Outline,
    /// Part seen from outside.
    Metal,
    /// Cut metal (filled; add an [`crate::Item::Hatch`]).
    Cut,
    /// The hatching of cut metal.
    Hatching,
    /// The valve: blade, flap, drum.
    Valve,
    /// The piston.
    Piston,
    /// Open part of a port.
    OpenArea,
    /// Wire of the opening cable: an unbroken line.
    WireOpening,
    /// Wire of the closing cable: a broken line.
    WireClosing,
    /// Sheath of either cable.
    Sheath,
    /// Return spring.
    Spring,
    /// The servo.
    Servo,
    /// Witness mark and index lines.
    Mark,
    /// Axis of a plot.
    Axis,
    /// Grid of a plot.
    Grid,
    /// Centre line.
    Centre,
    /// Edge that is hidden behind a part.
    Hidden,
    /// Dimension line, extension line, leader.
    Measure,
    /// Target line: flush, a demanded value.
    Target,
    /// Acceptance band.
    LimitBand,
    /// The proposed setting.
    Proposed,
    /// The state as it was found.
    AsFound,
    /// Band of uncertainty.
    Uncertainty,
    /// First curve of a plot.
    Curve1,
    /// Second curve.
    Curve2,
    /// Third curve.
    Curve3,
    /// Fourth curve.
    Curve4,
    /// Least of a quantity that fills an area, as on a map; the next five mean ever more of it.
    Shade1,
    /// Second step.
    Shade2,
    /// Third step.
    Shade3,
    /// Fourth step.
    Shade4,
    /// Fifth step.
    Shade5,
    /// Most of it.
    Shade6,
    /// The position shown now.
    Now,
    /// A fault.
    Fault,
    /// A caution.
    Warn,
    /// Main text.
    Label,
    /// Second text: units, notes.
    Note,
}

/// How a style looks. Colours of the page are names of custom properties; colours of paper are greys.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look {
    pub(crate) class: &'static str,
    /// Custom property of lines, text and arrow heads.
    pub(crate) stroke: &'static str,
    /// Custom property of areas.
    pub(crate) fill: Option<&'static str>,
    /// Line width, mm; zero for areas without an edge.
    pub(crate) width: f64,
    /// Dashes and gaps, mm.
    pub(crate) dash: &'static [f64],
    pub(crate) paper: Paper,
}

/// How a style looks in black and white.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Paper {
    pub(crate) stroke: &'static str,
    pub(crate) fill: Option<&'static str>,
    pub(crate) width: f64,
}

/// Line widths, mm; after the series of ISO 128-2:2020 (0.13, 0.18, 0.25, 0.35, 0.5, 0.7), from memory.
const HAIR: f64 = 0.18;
const THIN: f64 = 0.25;
const MIDDLE: f64 = 0.35;
const STRONG: f64 = 0.5;
const HEAVY: f64 = 0.7;

const SOLID: &[f64] = &[];
const BROKEN: &[f64] = &[2.2, 0.9];
const SHORT: &[f64] = &[1.1, 0.8];
const DOTS: &[f64] = &[0.35, 0.9];
const CHAIN: &[f64] = &[3.2, 0.8, 0.7, 0.8];

const BLACK: &str = "#000000";
const GREY: &str = "#555555";
const PALE: &str = "#bbbbbb";

const fn line(
    class: &'static str,
    stroke: &'static str,
    width: f64,
    dash: &'static [f64],
    ink: &'static str,
) -> Look {
    Look { class, stroke, fill: None, width, dash, paper: Paper { stroke: ink, fill: None, width } }
}

const fn area(class: &'static str, fill: &'static str, width: f64, grey: &'static str) -> Look {
    Look {
        class,
        stroke: "ink",
        fill: Some(fill),
        width,
        dash: SOLID,
        paper: Paper { stroke: BLACK, fill: Some(grey), width },
    }
}

impl Style {
    /// Every style.
    pub const ALL: &'static [Style] = &[
        Style::Outline,
        Style::Metal,
        Style::Cut,
        Style::Hatching,
        Style::Valve,
        Style::Piston,
        Style::OpenArea,
        Style::WireOpening,
        Style::WireClosing,
        Style::Sheath,
        Style::Spring,
        Style::Servo,
        Style::Mark,
        Style::Axis,
        Style::Grid,
        Style::Centre,
        Style::Hidden,
        Style::Measure,
        Style::Target,
        Style::LimitBand,
        Style::Proposed,
        Style::AsFound,
        Style::Uncertainty,
        Style::Curve1,
        Style::Curve2,
        Style::Curve3,
        Style::Curve4,
        Style::Shade1,
        Style::Shade2,
        Style::Shade3,
        Style::Shade4,
        Style::Shade5,
        Style::Shade6,
        Style::Now,
        Style::Fault,
        Style::Warn,
        Style::Label,
        Style::Note,
    ];

    /// The shades of a quantity that fills an area, the least first.
    pub const SHADES: [Style; 6] =
        [Style::Shade1, Style::Shade2, Style::Shade3, Style::Shade4, Style::Shade5, Style::Shade6];

    /// Class written on the page, e.g. `wire-opening`.
    pub fn class(self) -> &'static str {
        self.look().class
    }

    /// Line width, mm.
    pub fn width_mm(self) -> f64 {
        self.look().width
    }

    pub(crate) fn look(self) -> Look {
        match self {
            Style::Outline => line("outline", "ink", MIDDLE, SOLID, BLACK),
            Style::Metal => area("metal", "metal", THIN, "#eeeeee"),
            Style::Cut => area("cut", "cut", MIDDLE, "#ffffff"),
            Style::Hatching => line("hatching", "muted", HAIR, SOLID, GREY),
            Style::Valve => area("valve", "valve", STRONG, "#c8c8c8"),
            Style::Piston => area("piston", "piston", MIDDLE, "#e2e2e2"),
            Style::OpenArea => area("open-area", "open-area", 0.0, "#ffffff"),
            Style::WireOpening => line("wire-opening", "wire-opening", HEAVY, SOLID, BLACK),
            Style::WireClosing => line("wire-closing", "wire-closing", HEAVY, BROKEN, BLACK),
            Style::Sheath => area("sheath", "surface", THIN, "#ffffff"),
            Style::Spring => line("spring", "ink", STRONG, SOLID, BLACK),
            Style::Servo => area("servo", "metal", MIDDLE, "#eeeeee"),
            Style::Mark => line("witness", "ink", HEAVY, SOLID, BLACK),
            Style::Axis => line("axis", "ink", THIN, SOLID, BLACK),
            Style::Grid => line("grid", "line", HAIR, SOLID, PALE),
            Style::Centre => line("centre", "muted", HAIR, CHAIN, GREY),
            Style::Hidden => line("hidden", "muted", THIN, SHORT, GREY),
            Style::Measure => line("measure", "muted", HAIR, SOLID, BLACK),
            Style::Target => line("target", "good", STRONG, SOLID, BLACK),
            Style::LimitBand => Look { stroke: "good", ..area("limit-band", "good-soft", 0.0, "#dddddd") },
            Style::Proposed => Look { fill: Some("ink"), ..line("proposed", "ink", HEAVY, SOLID, BLACK) },
            Style::AsFound => Look {
                fill: Some("paper"),
                paper: Paper { stroke: BLACK, fill: Some("#ffffff"), width: STRONG },
                ..line("as-found", "as-found", STRONG, SHORT, BLACK)
            },
            Style::Uncertainty => Look { stroke: "muted", ..area("uncertainty", "line", 0.0, "#cccccc") },
            Style::Curve1 => line("curve-1", "ink", STRONG, SOLID, BLACK),
            Style::Curve2 => line("curve-2", "curve-2", STRONG, BROKEN, BLACK),
            Style::Curve3 => line("curve-3", "curve-3", STRONG, DOTS, BLACK),
            Style::Curve4 => line("curve-4", "curve-4", STRONG, CHAIN, BLACK),
            Style::Shade1 => area("shade-1", "shade-1", 0.0, "#ffffff"),
            Style::Shade2 => area("shade-2", "shade-2", 0.0, "#f2f2f2"),
            Style::Shade3 => area("shade-3", "shade-3", 0.0, "#e4e4e4"),
            Style::Shade4 => area("shade-4", "shade-4", 0.0, "#d4d4d4"),
            Style::Shade5 => area("shade-5", "shade-5", 0.0, "#c2c2c2"),
            Style::Shade6 => area("shade-6", "shade-6", 0.0, "#aeaeae"),
            Style::Now => Look { fill: Some("paper"), ..line("now", "ink", MIDDLE, SOLID, BLACK) },
            Style::Fault => Look { fill: Some("bad-soft"), ..line("fault", "bad", STRONG, SOLID, BLACK) },
            Style::Warn => Look { fill: Some("warn-soft"), ..line("warn", "warn", MIDDLE, SOLID, BLACK) },
            Style::Label => line("label", "ink", THIN, SOLID, BLACK),
            Style::Note => line("note", "muted", THIN, SOLID, "#333333"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_every_style_has_its_own_class_and_known_colours() {
        let mut classes: Vec<_> = Style::ALL.iter().map(|s| s.class()).collect();
        classes.sort_unstable();
        classes.dedup();
        assert_eq!(classes.len(), Style::ALL.len());
        for style in Style::ALL {
            let look = style.look();
            for name in [Some(look.stroke), look.fill].into_iter().flatten() {
                assert!(
                    crate::COLOURS.iter().any(|c| c.name == name),
                    "{style:?} uses unknown colour {name}"
                );
            }
        }
    }

    #[test]
    fn practice_the_two_cables_differ_in_colour_and_in_pattern() {
        let (opening, closing) = (Style::WireOpening.look(), Style::WireClosing.look());
        assert_ne!(opening.stroke, closing.stroke);
        assert!(opening.dash.is_empty() && !closing.dash.is_empty());
    }

    #[test]
    fn practice_curves_can_be_told_apart_without_colour() {
        let looks = [Style::Curve1, Style::Curve2, Style::Curve3, Style::Curve4].map(|s| s.look().dash);
        for (i, a) in looks.iter().enumerate() {
            assert!(looks[i + 1..].iter().all(|b| a != b));
        }
    }
}
