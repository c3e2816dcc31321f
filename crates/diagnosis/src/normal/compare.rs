//! A visit against the known-good recording, and a recording against the built-in logics.

use super::recording::{Recording, Seen, SeenPhase, Travel, USUAL_TOLERANCE};
use super::{Logic, Phase, logics};
use evidence::conformity::{Limits, Verdict};
use serde::Serialize;

/// How far the figures of a built-in logic may lie beside those of a real engine, as a part of the travel: estimate.
const LOOSE: f64 = 0.15;

/// What two readings of one phase say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sameness {
    /// The same within the tolerance.
    Same,
    /// Different, beyond doubt.
    Differs,
    /// The uncertainty is too large, or words stand against figures.
    CannotTell,
    /// One of the two was not read.
    NotRead,
}

/// One phase of two recordings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhaseComparison {
    /// Key of the phase.
    pub key: String,
    /// Name of the phase.
    pub title: String,
    /// What the good engine did, as written.
    pub good: Option<String>,
    /// What was found now, as written.
    pub found: Option<String>,
    /// The verdict.
    pub sameness: Sameness,
    /// Travel now less travel of the good engine, with its standard uncertainty, when both are figures.
    pub difference: Option<Travel>,
    /// The verdict in a sentence.
    pub text: String,
}

/// Two recordings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Comparison {
    /// Phase by phase.
    pub phases: Vec<PhaseComparison>,
    /// How far two readings may lie apart, as a part of the travel.
    pub tolerance: f64,
    /// Where the tolerance comes from.
    pub tolerance_source: String,
    /// Which phases differ, in a sentence.
    pub text: String,
}

/// Compares what was found on a visit with the recording of the good engine, phase by phase in the order of `logic`.
///
/// Figures are judged by JCGM 106:2012, 8.3: their difference against ± the tolerance, with a guard band of its whole
/// expanded uncertainty.
pub fn compare(logic: &Logic, good: &Recording, found: &Recording) -> Comparison {
    let (tolerance, source) = match good.tolerance.or(found.tolerance) {
        Some(own) => (own, "your own"),
        None => (USUAL_TOLERANCE, "estimate"),
    };
    let phases: Vec<_> =
        logic.phases.iter().map(|phase| compare_phase(phase, good, found, tolerance)).collect();
    let text = summary(&phases);
    Comparison { phases, tolerance, tolerance_source: source.to_owned(), text }
}

fn summary(phases: &[PhaseComparison]) -> String {
    let named = |which: Sameness| {
        let titles = phases.iter().filter(|p| p.sameness == which).map(|p| p.title.to_lowercase());
        titles.collect::<Vec<_>>().join(", ")
    };
    let (differing, open) = (named(Sameness::Differs), named(Sameness::CannotTell));
    let compared = phases.iter().any(|p| p.sameness != Sameness::NotRead);
    let mut text = if !compared {
        "No phase was read on both visits, so nothing can be compared.".to_owned()
    } else if differing.is_empty() {
        "No phase that could be compared differs from the known-good engine.".to_owned()
    } else {
        format!("Differs from the known-good engine at: {differing}.")
    };
    if !open.is_empty() {
        text.push_str(&format!(" Cannot tell at: {open}."));
    }
    text
}

fn compare_phase(phase: &Phase, good: &Recording, found: &Recording, tolerance: f64) -> PhaseComparison {
    let (a, b) = (good.phase(&phase.key), found.phase(&phase.key));
    let (sameness, difference, text) = match (a, b) {
        (Some(a), Some(b)) => judge(phase, a, b, tolerance),
        (None, None) => (Sameness::NotRead, None, format!("{}: not read.", phase.title)),
        (None, Some(_)) => {
            (Sameness::NotRead, None, format!("{}: not read on the known-good engine.", phase.title))
        }
        (Some(_), None) => (Sameness::NotRead, None, format!("{}: not read on this visit.", phase.title)),
    };
    PhaseComparison {
        key: phase.key.clone(),
        title: phase.title.clone(),
        good: a.map(|p| p.written.clone()),
        found: b.map(|p| p.written.clone()),
        sameness,
        difference,
        text,
    }
}

type Judged = (Sameness, Option<Travel>, String);

fn judge(phase: &Phase, good: &SeenPhase, found: &SeenPhase, tolerance: f64) -> Judged {
    let title = &phase.title;
    match (&good.seen, &found.seen) {
        (Seen::Stands(a), Seen::Stands(b)) => judge_figures(title, *a, *b, tolerance),
        (Seen::Passes(a), Seen::Passes(b)) if a.len() == b.len() => {
            let steps = a.iter().zip(b).map(|(a, b)| judge_figures(title, *a, *b, tolerance));
            // The step that says most: one that differs before one that cannot be told, then the largest difference.
            let weight = |j: &Judged| (rank(j.0), j.1.map_or(0.0, |d| d.value.abs()));
            let worst = steps.max_by(|a, b| {
                let (a, b) = (weight(a), weight(b));
                a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
            });
            worst.unwrap_or((Sameness::CannotTell, None, format!("{title}: no figures.")))
        }
        (a, b) => {
            let sameness = if good.written.eq_ignore_ascii_case(&found.written) {
                Sameness::Same
            } else {
                judge_kinds(a, b)
            };
            let said = match sameness {
                Sameness::Same => "as on the known-good engine",
                Sameness::Differs => "differs from the known-good engine",
                _ => "cannot be told apart by words alone",
            };
            let text = format!("{title}: {said} (good: {}; now: {}).", good.written, found.written);
            (sameness, None, text)
        }
    }
}

fn rank(sameness: Sameness) -> u8 {
    match sameness {
        Sameness::Differs => 3,
        Sameness::CannotTell => 2,
        Sameness::Same => 1,
        Sameness::NotRead => 0,
    }
}

fn judge_figures(title: &str, good: Travel, found: Travel, tolerance: f64) -> Judged {
    let difference = Travel { value: found.value - good.value, u: good.u.hypot(found.u) };
    let judged = Limits::between(-tolerance, tolerance).judge(difference.value, difference.u);
    let (sameness, said) = match judged.verdict {
        Verdict::Pass => (Sameness::Same, "as on the known-good engine"),
        Verdict::Fail => (Sameness::Differs, "differs from the known-good engine"),
        Verdict::CannotTell => (Sameness::CannotTell, "cannot be told apart from the known-good engine"),
    };
    let which = if difference.value < 0.0 { "less open" } else { "more open" };
    let size = Travel { value: difference.value.abs(), u: difference.u }.shown();
    let (good, found) = (good.shown(), found.shown());
    let text = format!(
        "{title}: {said} (good: {good}; now: {found}; {size} {which}, allowed {:.0} %).",
        100.0 * tolerance
    );
    (sameness, Some(difference), text)
}

/// Moves and places told in words.
fn judge_kinds(a: &Seen, b: &Seen) -> Sameness {
    use Seen::{Closes, Opens, Passes, Stands, Still, Sweeps, Words};
    match (a, b) {
        (Words, _) | (_, Words) => Sameness::CannotTell,
        (Sweeps, Sweeps) | (Opens, Opens) | (Closes, Closes) | (Still, Still) => Sameness::Same,
        // Stood still somewhere: perhaps at this very place.
        (Stands(_), Still) | (Still, Stands(_)) => Sameness::CannotTell,
        // Two readings on the way do not contradict a move seen as a whole when they go its way.
        (Passes(steps), moved) | (moved, Passes(steps)) => {
            if goes(steps, moved) {
                Sameness::Same
            } else {
                Sameness::Differs
            }
        }
        // One reading may have been taken before or after the move.
        (Stands(_), Opens | Closes) | (Opens | Closes, Stands(_)) => Sameness::CannotTell,
        _ => Sameness::Differs,
    }
}

/// Whether readings one after the other are the move told in words.
fn goes(steps: &[Travel], moved: &Seen) -> bool {
    let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return false };
    let (low, high) = steps.iter().fold((f64::MAX, f64::MIN), |(l, h), s| (l.min(s.value), h.max(s.value)));
    let way = last.value - first.value;
    match moved {
        Seen::Sweeps => high - low > 1.0 - 2.0 * LOOSE && way.abs() < LOOSE,
        Seen::Opens => way > LOOSE,
        Seen::Closes => way < -LOOSE,
        Seen::Still => high - low < LOOSE,
        _ => false,
    }
}

/// How a recording agrees with a logic.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Agreement {
    /// Key of the logic.
    pub logic: String,
    /// Keys of the phases that agree.
    pub agrees: Vec<String>,
    /// Keys of the phases that do not.
    pub differs: Vec<String>,
    /// Keys of the phases of which the reading says nothing.
    pub open: Vec<String>,
}

/// Holds a recording against a built-in logic. Its figures are estimates, so only what is plainly otherwise differs.
pub fn agreement(logic: &Logic, recording: &Recording) -> Agreement {
    let mut agreement = Agreement { logic: logic.key.clone(), ..Agreement::default() };
    for seen in &recording.phases {
        let Some(phase) = logic.phase(&seen.key) else { continue };
        let list = match fits(phase, &seen.seen) {
            Some(true) => &mut agreement.agrees,
            Some(false) => &mut agreement.differs,
            None => &mut agreement.open,
        };
        list.push(seen.key.clone());
    }
    agreement
}

/// Whether a reading fits the curve of a phase; none when it cannot say.
fn fits(phase: &Phase, seen: &Seen) -> Option<bool> {
    let (low, high) = phase.range();
    let (first, last) = (phase.points.first().map_or(0.0, |p| p.1), phase.last_travel());
    let curve = [first, (low + high) / 2.0, last].map(|value| Travel { value, u: 0.0 });
    let moves = high - low > LOOSE;
    let returns = moves && (first - last).abs() < LOOSE;
    match seen {
        Seen::Stands(at) => {
            let (least, most) = if last > first + LOOSE { (low, high) } else { (last, last) };
            let inside = at.value > least - LOOSE && at.value < most + LOOSE;
            // At rest at the right end: whether it went out and back before was not written.
            if inside && returns { None } else { Some(inside) }
        }
        Seen::Passes(steps) => steps.last().map(|at| (at.value - last).abs() < LOOSE),
        Seen::Sweeps => Some(returns && high - low > 1.0 - 2.0 * LOOSE),
        Seen::Opens | Seen::Closes => Some(!returns && goes(&curve, seen)),
        Seen::Still => Some(!moves),
        Seen::Words => None,
    }
}

/// The built-in logics for an actuator, those that the recording fits best first: fewest phases that differ, then most
/// that agree; equal ones stay in the order of the file.
pub fn likely(actuator: &str, recording: &Recording) -> Vec<(&'static Logic, Agreement)> {
    let fitting = logics().iter().filter(|l| l.actuators.iter().any(|a| a == actuator));
    let mut ranked: Vec<_> = fitting.map(|l| (l, agreement(l, recording))).collect();
    ranked.sort_by_key(|(_, a)| (a.differs.len(), usize::MAX - a.agrees.len()));
    ranked
}

#[cfg(test)]
mod tests {
    use super::super::logic;
    use super::*;

    fn read(entries: &[(&str, &str)]) -> Recording {
        let recording =
            Recording::read(&entries.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect());
        assert_eq!(recording.problems, []);
        recording
    }

    fn one(good: &str, found: &str) -> PhaseComparison {
        let logic = logic("runs-to-stop").unwrap();
        let result = compare(logic, &read(&[("normal.key-on", good)]), &read(&[("normal.key-on", found)]));
        result.phases.into_iter().find(|p| p.key == "key-on").unwrap()
    }

    /// Tolerance 5 %; u = 3 %/√3 each, so U of the difference is 2 √2 3 %/√3 = 4.90 %.
    #[test]
    fn exact_figures_by_the_guard_band() {
        let verdicts = [
            ("35 ± 3 %", "35 ± 3 %", Sameness::Same),
            ("35 ± 3 %", "35.1 ± 3 %", Sameness::Same),
            ("35 ± 3 %", "35.2 ± 3 %", Sameness::CannotTell),
            ("35 ± 3 %", "44.8 ± 3 %", Sameness::CannotTell),
            ("35 ± 3 %", "45 ± 3 %", Sameness::Differs),
            ("35 ± 3 %", "25 ± 3 %", Sameness::Differs),
        ];
        for (good, found, expected) in verdicts {
            assert_eq!(one(good, found).sameness, expected, "{good}, {found}");
        }
        let text = one("35 ± 3 %", "25 ± 3 %").text;
        assert!(text.contains("less open") && text.ends_with("allowed 5 %)."), "{text}");
    }

    #[test]
    fn exact_moves_and_words() {
        let verdicts = [
            ("moves to the stop and back", "sweeps", Sameness::Same),
            ("moves to the stop and back", "0 %", Sameness::Differs),
            ("moves to the stop and back", "does not move", Sameness::Differs),
            ("moves to the stop and back", "0 % then 98 % then 1 %", Sameness::Same),
            ("moves to the stop and back", "0 % then 55 % then 1 %", Sameness::Differs),
            ("0 % then 98 % then 1 %", "0 % then 60 % then 1 %", Sameness::Differs),
            ("closed", "does not move", Sameness::CannotTell),
            ("hums once", "Hums once", Sameness::Same),
            ("hums once", "hums twice", Sameness::CannotTell),
            ("opens", "closes", Sameness::Differs),
        ];
        for (good, found, expected) in verdicts {
            assert_eq!(one(good, found).sameness, expected, "{good}, {found}");
            assert_eq!(one(found, good).sameness, expected, "{found}, {good}");
        }
        let steps = one("0 % then 98 % then 1 %", "0 % then 60 % then 1 %").difference.unwrap();
        assert!((steps.value + 0.38).abs() < 1e-12);
    }

    #[test]
    fn exact_only_the_phase_that_changed_is_named() {
        let logic = logic("runs-to-stop").unwrap();
        let good = read(&[("normal.key-on", "sweeps"), ("normal.idle", "0 %"), ("normal.top", "100 %")]);
        let now = read(&[("normal.key-on", "sweeps"), ("normal.idle", "0 %"), ("normal.top", "80 %")]);
        let result = compare(logic, &good, &now);
        assert_eq!(result.text, "Differs from the known-good engine at: full speed.");
        assert_eq!(
            compare(logic, &good, &good).text,
            "No phase that could be compared differs from the known-good engine."
        );
        assert!(compare(logic, &good, &read(&[])).text.starts_with("No phase was read"));
        let own = read(&[("normal.top", "100 %"), ("normal.tolerance", "25 %")]);
        let wide = compare(logic, &own, &now);
        assert_eq!(wide.phases.iter().find(|p| p.key == "top").unwrap().sameness, Sameness::Same);
        assert_eq!(wide.tolerance_source, "your own");
    }

    /// Each logic, read off its own curve in the words a mechanic would use, fits itself without a contradiction and
    /// is never ranked behind one that it contradicts.
    #[test]
    fn agrees_each_logic_with_itself() {
        for logic in logics() {
            let mut entries = Vec::new();
            for phase in &logic.phases {
                let (low, high) = phase.range();
                let first = phase.points[0].1;
                let word = if high - low < 0.05 {
                    format!("{:.0} %", 100.0 * phase.last_travel())
                } else if (first - phase.last_travel()).abs() < 0.05 {
                    "moves to the stop and back".to_owned()
                } else {
                    format!("{:.0} % then {:.0} %", 100.0 * first, 100.0 * phase.last_travel())
                };
                entries.push((format!("normal.{}", phase.key), word));
            }
            let recording = Recording::read(&entries.into_iter().collect());
            let own = agreement(logic, &recording);
            assert!(own.differs.is_empty() && own.open.is_empty(), "{own:?}");
            let ranked = likely(&logic.actuators[0], &recording);
            assert!(ranked[0].1.differs.is_empty());
            let first: Vec<&str> = ranked
                .iter()
                .take_while(|(_, a)| a.differs.is_empty() && a.agrees.len() == own.agrees.len())
                .map(|(l, _)| l.key.as_str())
                .collect();
            assert!(first.contains(&logic.key.as_str()), "{}: {first:?}", logic.key);
        }
    }

    #[test]
    fn practice_silence_at_key_on_points_away_from_a_sweep_there() {
        let ranked =
            likely("servo", &read(&[("normal.key-on", "nothing moves"), ("normal.start", "sweeps")]));
        assert_eq!(ranked[0].0.key, "sweep-start");
        let last: Vec<&str> = ranked.iter().rev().take(3).map(|(l, _)| l.key.as_str()).collect();
        assert!(last.contains(&"runs-to-stop") && last.contains(&"sweep-key-on"), "{last:?}");
    }
}
