//! Closures that a run may take instead of the usual ones, by name.

use super::wanted::WantedProblem;
use gas::cycle::{ReedChoice, ScavengingChoice};
use serde::{Deserialize, Serialize};

/// How the reed's petals follow the pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Petals {
    /// At once.
    #[default]
    AtOnce,
    /// As swinging masses.
    Swinging,
}

/// What leaves the cylinder while it is scavenged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Scavenging {
    /// By the curve of a good loop-scavenged cylinder.
    #[default]
    Loop,
    /// Burned gas first.
    Displacement,
    /// What is in it.
    Mixing,
}

/// A closure with names: of options and of form fields, and for people.
pub(crate) trait Choice: Copy + Default + PartialEq + 'static {
    /// Name of the option or field.
    const FIELD: &'static str;
    /// All of them with name and what the page says, the usual one first.
    const ALL: &'static [(Self, &'static str, &'static str)];

    /// Reads a name; nothing takes the usual one.
    ///
    /// # Errors
    /// For a name that is none, with those that are.
    fn read(text: &str) -> Result<Self, WantedProblem> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(Self::default());
        }
        let found = Self::ALL.iter().find(|(_, name, _)| *name == text);
        found.map(|(choice, ..)| *choice).ok_or_else(|| {
            let names: Vec<&str> = Self::ALL.iter().map(|(_, name, _)| *name).collect();
            let text = format!("'{text}' is none; give {}", names.join(" or "));
            WantedProblem { field: Self::FIELD, text }
        })
    }
}

impl Choice for Petals {
    const FIELD: &'static str = "petals";
    const ALL: &'static [(Self, &'static str, &'static str)] =
        &[(Self::AtOnce, "at-once", "follow at once"), (Self::Swinging, "swinging", "swing")];
}

impl Choice for Scavenging {
    const FIELD: &'static str = "scavenging";
    const ALL: &'static [(Self, &'static str, &'static str)] = &[
        (Self::Loop, "loop", "good loop"),
        (Self::Displacement, "displacement", "burned gas first (bound)"),
        (Self::Mixing, "mixing", "perfect mixing"),
    ];
}

impl From<Petals> for ReedChoice {
    fn from(petals: Petals) -> Self {
        match petals {
            Petals::AtOnce => Self::QuasiSteady,
            Petals::Swinging => Self::Swinging,
        }
    }
}

impl From<Scavenging> for ScavengingChoice {
    fn from(scavenging: Scavenging) -> Self {
        match scavenging {
            Scavenging::Loop => Self::LoopEstimate,
            Scavenging::Displacement => Self::PerfectDisplacement,
            Scavenging::Mixing => Self::PerfectMixing,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_names_and_refuses_others() {
        for (choice, name, _) in Petals::ALL {
            assert_eq!(Petals::read(name), Ok(*choice));
            assert_eq!(serde_json::to_value(choice).unwrap(), *name);
        }
        for (choice, name, _) in Scavenging::ALL {
            assert_eq!(Scavenging::read(&format!(" {name} ")), Ok(*choice));
            assert_eq!(serde_json::to_value(choice).unwrap(), *name);
        }
        assert_eq!((Petals::read(""), Scavenging::read("")), (Ok(Petals::AtOnce), Ok(Scavenging::Loop)));
        let problem = Scavenging::read("uniflow").unwrap_err();
        assert_eq!(problem.field, "scavenging");
        assert!(problem.text.contains("uniflow") && problem.text.contains("loop or displacement or mixing"));
    }
}
