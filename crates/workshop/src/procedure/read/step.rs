//! One step of a procedure, and what its parts may be combined with.

use super::figure::{Range, figure, may_figure};
use crate::procedure::model::{ForSpring, Hold, ServoHold, Side, Step, Until, ValveHold};
use quantity::Dimension::{Angle, Force, Length};
use quantity::{Dimension, Measured};
use std::f64::consts::TAU;
use userfile::Fields;

const KEYS: [&str; 11] =
    ["say", "servo", "servo_off", "valve", "valve_off", "turn", "until", "at", "datum", "back", "for"];

const OFF_ANGLE: Range = Range::of(Angle, -0.55, 0.55);
const OFF_LENGTH: Range = Range::of(Length, -5e-3, 5e-3);

/// The words after `until`, before their figures are read.
#[derive(Clone, Copy, PartialEq)]
enum Word {
    Pull,
    Play,
    Gap,
    EqualGap,
    Edge,
    Mark,
    Lifts,
    End,
    SpringLength,
    CoilsTouch,
    Left,
}

const WORDS: [(&str, Word); 11] = [
    ("pull", Word::Pull),
    ("play", Word::Play),
    ("gap", Word::Gap),
    ("equal gap", Word::EqualGap),
    ("edge", Word::Edge),
    ("mark", Word::Mark),
    ("lifts", Word::Lifts),
    ("end", Word::End),
    ("spring length", Word::SpringLength),
    ("coils touch", Word::CoilsTouch),
    ("left as found", Word::Left),
];

impl Word {
    /// What `at` may be; none where it has no place.
    fn range(self) -> Option<Range> {
        match self {
            Self::Pull => Some(Range::of(Force, 0.0, 500.0)),
            Self::Play => Some(Range::of(Length, 0.0, 20e-3)),
            Self::Gap => Some(Range::of(Length, 0.0, 200e-3)),
            Self::EqualGap => Some(Range::of(Length, -20e-3, 20e-3)),
            Self::Edge | Self::Mark => Some(OFF_LENGTH),
            Self::SpringLength => Some(Range::of(Length, 1e-3, 200e-3)),
            Self::Lifts | Self::End | Self::CoilsTouch | Self::Left => None,
        }
    }

    /// With the valve left to the gear, which moves it while the opening adjuster is turned.
    fn needs_free_valve(self) -> bool {
        matches!(self, Self::Edge | Self::Mark | Self::Lifts | Self::End)
    }

    fn closing_only(self) -> bool {
        matches!(self, Self::SpringLength | Self::CoilsTouch)
    }
}

/// Reads a step; `None` after a problem.
pub(super) fn read(fields: &Fields<'_, '_>) -> Option<Step> {
    fields.refuse_unknown(&KEYS);
    let say = fields.text("say");
    let turn = fields.word("turn", &[("opening", Side::Opening), ("closing", Side::Closing)], None);
    let word = fields.word("until", &WORDS, None);
    let hold = hold(fields);
    let until = word.and_then(|word| until(fields, word));
    let datum = off(fields, "datum", OFF_LENGTH);
    let back = off(fields, "back", Range::of(Angle, 0.0, 20.0 * TAU));
    let spring = fields.word(
        "for",
        &[
            ("any spring", ForSpring::Any),
            ("spring on the adjuster", ForSpring::Adjuster),
            ("spring on the shaft", ForSpring::Shaft),
        ],
        Some(ForSpring::Any),
    );
    let step = Step {
        say: say?,
        hold: hold?,
        turn: turn?,
        until: until?,
        datum: datum?,
        back: back?,
        spring: spring?,
    };
    fits(fields, word?, &step).then_some(step)
}

fn hold(fields: &Fields<'_, '_>) -> Option<Hold> {
    let servo = fields.word("servo", &[("park", ServoHold::Park), ("full", ServoHold::Full)], None);
    let valves = [
        ("pin", ValveHold::Pin),
        ("end", ValveHold::End),
        ("flush", ValveHold::Flush),
        ("mark", ValveHold::Mark),
        ("free", ValveHold::Free),
    ];
    let valve = fields.word("valve", &valves, None);
    let servo_off = off(fields, "servo_off", OFF_ANGLE);
    let range = match valve {
        Some(ValveHold::Flush | ValveHold::Mark) => OFF_LENGTH,
        _ => OFF_ANGLE,
    };
    let valve_off = off(fields, "valve_off", range);
    if valve == Some(ValveHold::Free) && fields.gives("valve_off") {
        fields.refuse(
            "valve_off",
            "a free valve is held nowhere; take this line out, or say where the valve is held",
        );
    }
    Some(Hold { servo: servo?, servo_off: servo_off?, valve: valve?, valve_off: valve_off? })
}

/// A figure that is zero when it is left out.
fn off(fields: &Fields<'_, '_>, key: &str, range: Range) -> Option<Measured> {
    if fields.gives(key) { may_figure(fields, key, range) } else { Some(exact(range.dimension)) }
}

fn exact(dimension: Dimension) -> Measured {
    Measured::exact(0.0, dimension)
}

fn until(fields: &Fields<'_, '_>, word: Word) -> Option<Until> {
    let Some(range) = word.range() else {
        if fields.gives("at") {
            fields.refuse(
                "at",
                "this step ends at something seen or felt, not at a figure; take this line out",
            );
            return None;
        }
        return match word {
            Word::Lifts => Some(Until::Lifts),
            Word::End => Some(Until::End),
            Word::CoilsTouch => Some(Until::CoilsTouch),
            _ => Some(Until::Left),
        };
    };
    let at = figure(fields, "at", range)?;
    match word {
        Word::Pull => Some(Until::Pull(at)),
        Word::Play => Some(Until::Play(at)),
        Word::Gap => Some(Until::Gap(at)),
        Word::EqualGap => Some(Until::EqualGap(at)),
        Word::Edge => Some(Until::Edge(at)),
        Word::Mark => Some(Until::Mark(at)),
        _ => Some(Until::SpringLength(at)),
    }
}

/// Whether the parts of a step make sense together.
fn fits(fields: &Fields<'_, '_>, word: Word, step: &Step) -> bool {
    let free = step.hold.valve == ValveHold::Free;
    let says = |key: &str, text: &str| {
        fields.refuse(key, text.to_owned());
        false
    };
    if word.needs_free_valve() && !free {
        return says("valve", "to see the valve move it must be left to the gear; write valve = \"free\"");
    }
    if word.needs_free_valve() && step.turn == Side::Closing {
        return says(
            "turn",
            "the opening adjuster moves the valve to such a place; write turn = \"opening\"",
        );
    }
    if word.closing_only() && step.turn == Side::Opening {
        return says("turn", "the return spring sits on the closing adjuster; write turn = \"closing\"");
    }
    if word.closing_only() && step.spring != ForSpring::Adjuster {
        return says(
            "for",
            "only a spring on the adjuster has a length to read here; write for = \"spring on the adjuster\"",
        );
    }
    if matches!(word, Word::Pull | Word::Play | Word::SpringLength | Word::CoilsTouch) && free {
        return says(
            "valve",
            "what is felt or read here depends on where the valve is held; write \"pin\", \"end\", \"flush\" or \"mark\"",
        );
    }
    if fields.gives("datum") && word != Word::Edge {
        return says("datum", "only an edge is read against a listed figure; take this line out");
    }
    true
}
