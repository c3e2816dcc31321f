//! A setting procedure as plain data: what is held, what is turned until what, how well that is felt or read.

use crate::setting::demand::Demand;
use quantity::Measured;

/// One of the two adjusters at the valve end of the cables.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Of the cable whose pull opens the valve.
    Opening,
    /// Of the cable whose pull closes the valve.
    Closing,
}

impl Side {
    /// "opening" or "closing".
    pub fn name(self) -> &'static str {
        match self {
            Self::Opening => "opening",
            Self::Closing => "closing",
        }
    }
}

/// Where the servo's pulley stands while an adjuster is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ServoHold {
    /// At closed park.
    Park,
    /// At full travel.
    Full,
}

/// What is done with the valve while an adjuster is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ValveHold {
    /// Rests on its stop pin.
    Pin,
    /// Held against its mechanical end.
    End,
    /// Held with its edge level with the port roof.
    Flush,
    /// Held with the witness mark of its pulley on its line.
    Mark,
    /// Left to the gear, which has been run up to where the servo is held.
    Free,
}

/// The datum of a step: what is held where, and how far off it may be.
#[derive(Debug, Clone, PartialEq)]
pub struct Hold {
    /// Servo.
    pub servo: ServoHold,
    /// How far the servo's pulley stands past that place, rad (play of a pin, a servo stopped by eye); towards full
    /// positive.
    pub servo_off: Measured,
    /// Valve.
    pub valve: ValveHold,
    /// How far the valve stands past that place, towards open positive: rad at the pulley for pin and end, m of edge
    /// height for flush, m along the mark's circle for the mark; unused for a free valve.
    pub valve_off: Measured,
}

/// What ends the turning of an adjuster.
#[derive(Debug, Clone, PartialEq)]
pub enum Until {
    /// The wire pulls with this force at the valve's end, N: what the hand feels when slack is gone or a nut seats.
    Pull(Measured),
    /// This much free play is left along the wire, m.
    Play(Measured),
    /// Gap between valve pulley and sheath end, m (exposed wire).
    Gap(Measured),
    /// The same gap as at the other adjuster, plus this, m.
    EqualGap(Measured),
    /// The edge stands this far above flush, m, with the valve left to the gear.
    Edge(Measured),
    /// The witness mark stands this far past its line, m along its circle, with the valve left to the gear.
    Mark(Measured),
    /// The valve, left to the gear, is seen to move off its pin.
    Lifts,
    /// The valve, left to the gear, is felt to touch its mechanical end.
    End,
    /// The spring on the closing adjuster has this length, m.
    SpringLength(Measured),
    /// The coils of the spring on the closing adjuster touch.
    CoilsTouch,
    /// The adjuster stays as it was found.
    Left,
}

/// For which return spring a step is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ForSpring {
    /// For both kinds.
    Any,
    /// For a spring on the closing adjuster.
    Adjuster,
    /// For a spring on the valve shaft.
    Shaft,
}

impl ForSpring {
    /// Whether a step for this spring is done on a gear with or without a spring on its adjuster.
    pub fn applies(self, spring_on_adjuster: bool) -> bool {
        match self {
            Self::Any => true,
            Self::Adjuster => spring_on_adjuster,
            Self::Shaft => !spring_on_adjuster,
        }
    }
}

/// One step: hold, turn, stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What the mechanic is told.
    pub say: String,
    /// What is held where.
    pub hold: Hold,
    /// Which adjuster is turned.
    pub turn: Side,
    /// Until what.
    pub until: Until,
    /// How far the figure that is read against lies from this engine's own port roof, m; only for an edge read with a
    /// depth gauge set to somebody's figure. Spread, best value usually zero.
    pub datum: Measured,
    /// Turns back in (slack given), rad of adjuster rotation.
    pub back: Measured,
    /// For which return spring.
    pub spring: ForSpring,
}

/// A setting procedure.
#[derive(Debug, Clone, PartialEq)]
pub struct Procedure {
    /// Key, unique: small letters, digits, hyphens.
    pub key: String,
    /// Name of our own.
    pub name: String,
    /// What those say who work so, in one or two sentences.
    pub claim: String,
    /// Where it comes from.
    pub source: String,
    /// The steps in their order. Both adjusters start screwed home.
    pub steps: Vec<Step>,
}

impl Procedure {
    /// The last step that sets an adjuster on a gear with (or without) a spring on its closing adjuster.
    pub fn last_step(&self, side: Side, spring_on_adjuster: bool) -> Option<&Step> {
        self.steps.iter().rev().find(|step| step.turn == side && step.spring.applies(spring_on_adjuster))
    }
}

/// How one engine of a type differs from the next, beyond what was measured of the one at hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Parts {
    /// Wire, sheath and bracket of the opening cable: how much longer the gap comes out for the same slack, m.
    pub opening_length: Measured,
    /// The same for the closing cable, m.
    pub closing_length: Measured,
    /// How far an adjuster moves out when its lock nut is drawn up, m (play of the thread).
    pub thread_play: Measured,
    /// Port roof above where it was measured (gasket, casting, deck), m along the cylinder axis.
    pub roof: Measured,
    /// Index line past where it belongs, m along the mark's circle.
    pub index_line: Measured,
    /// Slack of both wires with the adjusters screwed home, m.
    pub home_slack: Measured,
}

/// The longest stretch of sheath that nothing guides, and what tells its bending stiffness.
#[derive(Debug, Clone, PartialEq)]
pub struct FreeSheath {
    /// Free length between guides, m.
    pub free_length: Measured,
    /// Length clamped level at one end for the droop test, m.
    pub test_length: Measured,
    /// Weight hung on its end, N.
    pub test_weight: Measured,
    /// How far the end sinks under it, m.
    pub test_droop: Measured,
    /// How the ends of the free stretch are held.
    pub ends: gear::sheath::Ends,
}

/// How well a demand can be checked once the work is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Which demand.
    pub demand: Demand,
    /// What it is read with, in words.
    pub by: String,
    /// Error of the reading: best value usually zero, in the quantity of [`Demand::dimension`].
    pub error: Measured,
    /// Guard band as a multiple of the expanded uncertainty U = 2u of the reading, 0 or more.
    pub guard: f64,
    /// Where the error comes from.
    pub source: String,
}

/// What a file of procedures holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Procedures {
    /// The procedures, in order.
    pub procedures: Vec<Procedure>,
    /// Variation from engine to engine.
    pub parts: Parts,
    /// The sheath as a strut.
    pub sheath: FreeSheath,
    /// How well each demand can be checked; at most one for each.
    pub checks: Vec<Check>,
}

impl Procedures {
    /// The built-in procedures with a user's file laid over them: a procedure of a known key takes that one's place,
    /// all others are added; sections the file leaves out keep the built-in figures.
    ///
    /// # Errors
    /// Every problem of the file, each with its line, key and mend.
    pub fn with(text: &str) -> Result<Self, Vec<super::Problem>> {
        super::read::read(text, Some(&Self::built_in()))
    }

    /// The built-in procedures and figures.
    pub fn built_in() -> Self {
        // The built-in file is read by a test; should it ever fail here, there is nothing to compare.
        super::read::read(super::BUILT_IN, None).unwrap_or_else(|_| Self::none())
    }

    /// The procedure of this key.
    pub fn find(&self, key: &str) -> Option<&Procedure> {
        self.procedures.iter().find(|procedure| procedure.key == key)
    }

    fn none() -> Self {
        use quantity::Dimension::{Force, Length};
        let zero = |dimension| Measured::exact(0.0, dimension);
        Self {
            procedures: Vec::new(),
            parts: Parts {
                opening_length: zero(Length),
                closing_length: zero(Length),
                thread_play: zero(Length),
                roof: zero(Length),
                index_line: zero(Length),
                home_slack: zero(Length),
            },
            sheath: FreeSheath {
                free_length: zero(Length),
                test_length: zero(Length),
                test_weight: zero(Force),
                test_droop: zero(Length),
                ends: gear::sheath::Ends::Hinged,
            },
            checks: Vec::new(),
        }
    }
}
