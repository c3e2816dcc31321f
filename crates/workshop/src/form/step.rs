//! The steps of the work in their order.

use engine::file::fields::Field;
use serde::{Deserialize, Serialize};

/// One step. The first seven describe the engine; they belong to its build, the others to a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Step {
    /// Name, crank train, head, crankcase.
    Crank,
    /// The ports.
    Ports,
    /// The exhaust valve.
    Valve,
    /// Pulleys, cables, return spring.
    Gear,
    /// Servo and when it moves.
    Servo,
    /// Acceptance limits.
    Limits,
    /// What the gas meets, for the simulation.
    Ducts,
    /// What is read before anything is touched.
    AsFound,
    /// What must be known before a first start.
    Gates,
    /// What is turned, in order.
    Setting,
    /// What must be seen afterwards.
    Seen,
    /// Readings that bring the setting back.
    Returns,
    /// The sheet to print.
    Sheet,
}

impl Step {
    /// All steps in the order of the work.
    pub const ALL: [Step; 13] = [
        Step::Crank,
        Step::Ports,
        Step::Valve,
        Step::Gear,
        Step::Servo,
        Step::Limits,
        Step::Ducts,
        Step::AsFound,
        Step::Gates,
        Step::Setting,
        Step::Seen,
        Step::Returns,
        Step::Sheet,
    ];

    /// Its name in addresses.
    pub fn slug(self) -> &'static str {
        match self {
            Step::Crank => "crank",
            Step::Ports => "ports",
            Step::Valve => "valve",
            Step::Gear => "gear",
            Step::Servo => "servo",
            Step::Limits => "limits",
            Step::Ducts => "ducts",
            Step::AsFound => "as-found",
            Step::Gates => "gates",
            Step::Setting => "setting",
            Step::Seen => "seen",
            Step::Returns => "returns",
            Step::Sheet => "sheet",
        }
    }

    /// The step with this name in addresses.
    pub fn from_slug(slug: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|step| step.slug() == slug)
    }

    /// Its title.
    pub fn title(self) -> &'static str {
        match self {
            Step::Crank => "Crank and head",
            Step::Ports => "Ports",
            Step::Valve => "Valve",
            Step::Gear => "Gear and cables",
            Step::Servo => "Servo and schedule",
            Step::Limits => "Limits",
            Step::Ducts => "Ducts and gas",
            Step::AsFound => "As found",
            Step::Gates => "Gates before a start",
            Step::Setting => "Setting",
            Step::Seen => "What must be seen",
            Step::Returns => "Return values",
            Step::Sheet => "Sheet",
        }
    }

    /// What is done in it, one or two sentences.
    pub fn text(self) -> &'static str {
        match self {
            Step::Crank => {
                "Bore and stroke must be known. Everything else may be left out: the answer then has a wider band and \
                 says what measuring would buy."
            }
            Step::Ports => {
                "The exhaust port is needed, the others give blowdown and areas. Measure to the edge itself, not to \
                 its chamfer, and say from where."
            }
            Step::Valve => {
                "How the pulley's turning becomes height of the valve edge, and where the edge stands closed."
            }
            Step::Gear => {
                "Cables are named by what their pull does: the opening cable opens the valve, the closing cable \
                 closes it. Look which is which before measuring."
            }
            Step::Servo => {
                "The servo's travel must be known; the speeds at which it moves only matter for time-areas."
            }
            Step::Limits => {
                "How near is near enough. Each limit has a source; without one, common practice stands in."
            }
            Step::Ducts => {
                "For torque and power alone; the setting needs none of it. Each section is given whole or not at all. \
                 The pieces of the pipe follow each other from the cylinder outwards; the last one here is a new one."
            }
            Step::AsFound => {
                "Read these before anything is loosened: they say what the gear does now, and let you go back to it. \
                 Servo at closed park unless the field says otherwise."
            }
            Step::Gates => {
                "A valve edge that stands out of the bore breaks rings. These four come before any first start."
            }
            Step::Setting => "The adjusters in order: which, which way seen from where, how far.",
            Step::Seen => {
                "After the setting, what must be seen or felt. If one of them is not so, stop and read again."
            }
            Step::Returns => {
                "The same readings once the setting is right. After the next rebuild they say how far the gear has \
                 moved and what to turn."
            }
            Step::Sheet => "One or two pages to print and sign.",
        }
    }

    /// True for the steps that describe the engine.
    pub fn describes(self) -> bool {
        self <= Step::Ducts
    }

    /// Paths of the sections it asks for, in the order of the form.
    pub fn sections(self) -> &'static [&'static str] {
        match self {
            Step::Crank => &["engine", "crank", "head", "crankcase"],
            Step::Ports => &["port"],
            Step::Valve => &["valve"],
            Step::Gear => &["gear", "gear.opening", "gear.closing", "gear.spring"],
            Step::Servo => &["servo", "schedule"],
            Step::Limits => &["limits"],
            Step::Ducts => {
                &["pipe", "intake", "reed", "carburettor", "transfer_duct", "ignition", "fuel", "ambient"]
            }
            Step::AsFound => &["found"],
            Step::Gates => &["gates"],
            Step::Returns => &["returns"],
            Step::Setting | Step::Seen | Step::Sheet => &[],
        }
    }

    /// The step that asks for this field (or section: `port`).
    pub fn of(key: &str) -> Option<Self> {
        let section = Field::named(key).map_or_else(|| key.to_owned(), |field| field.section.path.to_owned());
        Self::ALL.into_iter().find(|step| step.sections().contains(&section.as_str()))
    }
}
