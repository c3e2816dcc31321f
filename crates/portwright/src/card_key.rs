//! What a job card takes beside the figures of an engine file: notes, ticks, and what was found on the bench.

use engine::file::fields::Field;

/// Where an entry is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shelf {
    /// With the engine: it outlives builds and visits.
    Engine,
    /// With the build: it describes the engine.
    Build,
    /// With the job card: it was read or done on this visit.
    Visit,
}

/// Longest key that is taken, in bytes.
const LONGEST: usize = 120;

/// Where the entry with this key is kept; none when no entry is called so.
pub(crate) fn shelf_of(key: &str) -> Option<Shelf> {
    let section = key.split('.').next().unwrap_or(key);
    if Field::named(key).is_some() {
        let of_visit = matches!(section, "found" | "gates" | "returns");
        return Some(if of_visit { Shelf::Visit } else { Shelf::Build });
    }
    if key == "notes" {
        return Some(Shelf::Visit);
    }
    let name = key.strip_prefix(section)?.strip_prefix('.')?;
    let named = !name.is_empty()
        && key.len() <= LONGEST
        && name.bytes().all(|letter| letter.is_ascii_alphanumeric() || b"-_.".contains(&letter));
    match section {
        "bench" if named => Some(Shelf::Build),
        "done" | "check" | "fit" | "symptom" | "off" | "skip" | "normal" | "power" if named => {
            Some(Shelf::Visit)
        }
        // What was done and read on a visit stays with it; how the engine is used and cared for with the engine.
        "care" if named && !name.contains('.') && !matches!(name, "use" | "oil" | "season") => {
            Some(Shelf::Visit)
        }
        "care" | "reference" if named => Some(Shelf::Engine),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_readings_go_to_the_visit_and_the_rest_to_the_build() {
        assert_eq!(shelf_of("found.opening_gap"), Some(Shelf::Visit));
        assert_eq!(shelf_of("crank.bore"), Some(Shelf::Build));
        assert_eq!(shelf_of("notes"), Some(Shelf::Visit));
        assert_eq!(shelf_of("check.free-turn.turns"), Some(Shelf::Visit));
        assert_eq!(shelf_of("fit.12.seen"), Some(Shelf::Visit));
        assert_eq!(shelf_of("care.clean-valve.last"), Some(Shelf::Engine));
        assert_eq!(shelf_of("care.season"), Some(Shelf::Engine));
        assert_eq!(shelf_of("care.clean-valve"), Some(Shelf::Visit));
        assert_eq!(shelf_of("care.hours"), Some(Shelf::Visit));
        assert_eq!(shelf_of("power.sheet"), Some(Shelf::Visit));
    }

    #[test]
    fn refuses_keys_of_nothing() {
        let long = format!("check.{}", "x".repeat(200));
        for key in ["", ".", "notes.", "done", "done.", "check.ü", "check.a b", "other.thing", &long] {
            assert_eq!(shelf_of(key), None, "{key}");
        }
    }
}
