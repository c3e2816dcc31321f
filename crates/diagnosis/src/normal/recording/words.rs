//! The few words that mean a move or a place.

use super::{Seen, Travel};

/// Half the width of the limits of a place told by eye at an end, as a part of the travel: estimate.
const EYE_AT_END: f64 = 0.03;
/// The same for "half open": estimate.
const EYE_BETWEEN: f64 = 0.15;

/// Phrases for places with their travel.
const PLACES: [(&[&str], f64, f64); 3] = [
    (&["closed", "shut", "fully closed", "at closed", "on its closed mark"], 0.0, EYE_AT_END),
    (&["open", "fully open", "full open", "flush", "at open", "on its open mark"], 1.0, EYE_AT_END),
    (&["half", "half open", "half way", "halfway", "mid-way", "midway", "part open"], 0.5, EYE_BETWEEN),
];

/// Phrases for moves.
const SWEEPS: &[&str] = &[
    "moves to the stop and back",
    "runs to the stop and back",
    "goes to the stop and back",
    "to the stop and back",
    "moves to open and back",
    "runs to open and back",
    "goes to open and back",
    "moves to the end and back",
    "opens and closes",
    "there and back",
    "sweeps",
    "sweep",
    "sweeps once",
];
const OPENS: &[&str] =
    &["opens", "begins to open", "opens slowly", "moves to open", "runs to open", "goes to open"];
const CLOSES: &[&str] =
    &["closes", "closes slowly", "moves to closed", "runs to closed", "goes to closed", "falls back"];
const STILL: &[&str] = &[
    "still",
    "stands still",
    "stays still",
    "does not move",
    "no move",
    "no movement",
    "nothing",
    "nothing moves",
    "silent",
    "silence",
];

/// What the text means, when it is one of the known phrases.
pub(super) fn meaning(text: &str) -> Option<Seen> {
    let text = plain(text);
    let is = |phrases: &[&str]| phrases.contains(&text.as_str());
    if is(SWEEPS) {
        Some(Seen::Sweeps)
    } else if is(OPENS) {
        Some(Seen::Opens)
    } else if is(CLOSES) {
        Some(Seen::Closes)
    } else if is(STILL) {
        Some(Seen::Still)
    } else {
        place(&text).map(Seen::Stands)
    }
}

/// The travel of a place told in words; limits of the eye, rectangular (JCGM 100:2008, 4.3.7).
pub(super) fn place(text: &str) -> Option<Travel> {
    let text = plain(text);
    let (_, value, limit) = PLACES.into_iter().find(|(phrases, ..)| phrases.contains(&text.as_str()))?;
    Some(Travel { value, u: limit / 3f64.sqrt() })
}

fn plain(text: &str) -> String {
    let text = text.trim().trim_end_matches(['.', ',', '!']).to_lowercase();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
