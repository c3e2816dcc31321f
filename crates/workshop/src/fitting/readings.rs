//! Readings of how the valve follows the servo, and what is sought from them.

use crate::form::full_label;
use engine::model::{Engine, ReturnSpring};
use gear::Direction;
use quantity::{Dimension, Measured};
use std::collections::BTreeMap;

/// What is sought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unknown {
    /// A figure of the engine file, by its key; one of [`Unknown::FIGURES`].
    Figure(&'static str),
    /// Slack of the opening cable with the servo at closed park, the valve on its pin and the adjuster as found, m.
    OpeningSlack,
    /// What a zero error adds to every mark that was read, m along its circle.
    MarkZero,
}

impl Unknown {
    /// Figures of the engine file that may be sought.
    pub const FIGURES: [&'static str; 9] = [
        "gear.opening.valve_radius",
        "gear.opening.servo_radius",
        "gear.opening.wire_stiffness",
        "gear.opening.sheath_stiffness",
        "gear.opening.friction",
        "gear.shaft_friction",
        "gear.mount_stiffness",
        "gear.spring.rate",
        "gear.spring.at_closed",
    ];

    /// Everything that may be sought, in the order in which it is offered.
    pub fn all() -> Vec<Self> {
        let mut all = vec![Self::OpeningSlack];
        all.extend(Self::FIGURES.map(Self::Figure));
        all.push(Self::MarkZero);
        all
    }

    /// Key in a file of readings.
    pub fn key(self) -> &'static str {
        match self {
            Self::Figure(key) => key,
            Self::OpeningSlack => "slack",
            Self::MarkZero => "mark_zero",
        }
    }

    /// What it is called.
    pub fn name(self) -> String {
        match self {
            Self::Figure(key) => full_label(&BTreeMap::new(), key),
            Self::OpeningSlack => "Slack of the opening cable at park".to_owned(),
            Self::MarkZero => "Zero of the witness mark".to_owned(),
        }
    }

    /// The figure of this engine; none for what is no figure, or that this engine does not have.
    pub(super) fn of(self, engine: &Engine) -> Option<Measured> {
        let Self::Figure(wanted) = self else { return None };
        let mut found = None;
        engine.clone().for_each_figure(&mut |key, figure| {
            if key == wanted {
                found = Some(figure.clone());
            }
        });
        found
    }

    /// Kind of quantity, on this engine.
    pub(super) fn dimension(self, engine: &Engine) -> Dimension {
        self.of(engine).map_or(Dimension::Length, |figure| figure.dimension)
    }

    /// Whether this engine has it at all.
    pub fn applies(self, engine: &Engine) -> bool {
        match self {
            Self::OpeningSlack => true,
            Self::MarkZero => engine.gear.mark_radius.is_some(),
            Self::Figure("gear.spring.rate") => {
                matches!(engine.gear.spring, ReturnSpring::ClosingAdjuster { .. })
            }
            Self::Figure("gear.spring.at_closed") => matches!(engine.gear.spring, ReturnSpring::Shaft { .. }),
            Self::Figure(_) => self.of(engine).is_some(),
        }
    }
}

/// Where the servo stood.
#[derive(Debug, Clone, PartialEq)]
pub enum ServoAt {
    /// Its travel from closed park, rad.
    Travel(Measured),
    /// What its position sensor showed, Ω.
    Sensor(Measured),
}

/// What was seen at the valve.
#[derive(Debug, Clone, PartialEq)]
pub enum Seen {
    /// The witness mark has moved so far along its circle since the valve left its pin, m.
    Mark(Measured),
    /// The valve pulley has turned so far from its pin, rad.
    Valve(Measured),
    /// The edge stands so far above its closed position, m.
    Edge(Measured),
    /// The opening wire pulls so hard at the valve's end, N.
    Pull(Measured),
}

/// Kinds of [`Seen`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SeenKind {
    /// Witness mark.
    Mark,
    /// Valve pulley.
    Valve,
    /// Edge.
    Edge,
    /// Pull of the wire.
    Pull,
}

impl SeenKind {
    /// Every kind.
    pub const ALL: [Self; 4] = [Self::Mark, Self::Valve, Self::Edge, Self::Pull];

    /// Key in a file of readings.
    pub fn key(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::Valve => "valve",
            Self::Edge => "edge",
            Self::Pull => "pull",
        }
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mark => "Witness mark, along its circle from where it stands closed",
            Self::Valve => "Valve pulley, from its stop pin",
            Self::Edge => "Valve edge above its closed position",
            Self::Pull => "Pull of the opening wire at the valve",
        }
    }

    /// Kind of quantity.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Mark | Self::Edge => Dimension::Length,
            Self::Valve => Dimension::Angle,
            Self::Pull => Dimension::Force,
        }
    }

    pub(super) fn with(self, figure: Measured) -> Seen {
        match self {
            Self::Mark => Seen::Mark(figure),
            Self::Valve => Seen::Valve(figure),
            Self::Edge => Seen::Edge(figure),
            Self::Pull => Seen::Pull(figure),
        }
    }
}

impl Seen {
    /// Which kind.
    pub fn kind(&self) -> SeenKind {
        match self {
            Self::Mark(_) => SeenKind::Mark,
            Self::Valve(_) => SeenKind::Valve,
            Self::Edge(_) => SeenKind::Edge,
            Self::Pull(_) => SeenKind::Pull,
        }
    }

    /// The figure.
    pub fn figure(&self) -> &Measured {
        match self {
            Self::Mark(figure) | Self::Valve(figure) | Self::Edge(figure) | Self::Pull(figure) => figure,
        }
    }
}

/// One reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Where the servo stood.
    pub servo: ServoAt,
    /// Which way it had come.
    pub way: Direction,
    /// Gap at the opening adjuster; none where it was left as found.
    pub gap: Option<Measured>,
    /// What was seen.
    pub seen: Seen,
}

/// All readings, and what is sought from them.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// What is sought, no two alike.
    pub unknown: Vec<Unknown>,
    /// What the engine file says of the unknowns counts as readings too.
    pub weigh_engine_file: bool,
    /// The readings, in their order.
    pub rows: Vec<Row>,
}
