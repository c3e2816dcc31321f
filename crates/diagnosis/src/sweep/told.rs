//! Defects in words, and what they come to.

use super::defect::{Defect, DefectKind, Repeats};
use super::finding::{Figure, Finding, Subject, percent, place_text};
use super::limits::{ESTIMATE, Limit, PRACTICE};
use super::track::PlacedBy;
use super::{Log, Outcome};
use evidence::conformity::Verdict;
use quantity::{Units, show_value};

/// A bulge of the output by no more than this share of the range passes (estimate).
const MOST_BULGE: f64 = 0.02;
/// On a single pass this many samples must show a defect (the same as for sampling).
const ENOUGH: usize = 3;

impl DefectKind {
    /// Its name, as on the drawing.
    pub fn name(self) -> &'static str {
        match self {
            DefectKind::DeadSpot => "dead spot",
            DefectKind::Jump => "jump",
            DefectKind::FlatSpot => "flat spot",
            DefectKind::WornPatch => "worn patch",
            DefectKind::FlatEnd => "flat end",
        }
    }

    fn title(self) -> &'static str {
        match self {
            DefectKind::DeadSpot => "Dead spot",
            DefectKind::Jump => "Jump",
            DefectKind::FlatSpot => "Flat spot",
            DefectKind::WornPatch => "Worn patch",
            DefectKind::FlatEnd => "Flat end",
        }
    }

    fn subject(self) -> Subject {
        match self {
            DefectKind::DeadSpot => Subject::DeadSpot,
            DefectKind::Jump => Subject::Jump,
            DefectKind::FlatSpot => Subject::FlatSpot,
            DefectKind::WornPatch => Subject::WornPatch,
            DefectKind::FlatEnd => Subject::FlatEnd,
        }
    }
}

impl Defect {
    /// What it means for the sensor; none when it means nothing.
    pub(super) fn verdict(&self) -> Option<Verdict> {
        match (self.kind, self.repeats) {
            (DefectKind::FlatEnd, _) => None,
            (DefectKind::WornPatch | DefectKind::FlatSpot, _) => {
                let most = Limit::at_most(MOST_BULGE, ESTIMATE);
                Some(most.evidence().judge(self.size.abs(), self.size_u).verdict)
            }
            (_, Repeats::Yes) => Some(Verdict::Fail),
            (_, Repeats::OnePass) if self.samples >= ENOUGH => Some(Verdict::Fail),
            (_, Repeats::OnePass) => Some(Verdict::CannotTell),
            // One pass in three or more: the others went over the same place without it.
            (_, Repeats::No) if self.passes >= 3 => None,
            (_, Repeats::No) => Some(Verdict::CannotTell),
        }
    }

    /// What it makes of the sweep.
    pub(super) fn outcome(&self) -> Option<Outcome> {
        let fails = self.verdict() == Some(Verdict::Fail);
        fails.then_some(if self.kind == DefectKind::DeadSpot { Outcome::Open } else { Outcome::Jumps })
    }
}

/// One finding for each defect; where there is none, that is said.
pub(super) fn findings(log: &Log, by: PlacedBy, defects: &[Defect], close_enough: bool) -> Vec<Finding> {
    let (named, single): (Vec<&Defect>, Vec<&Defect>) =
        defects.iter().partition(|d| d.repeats != Repeats::No || d.verdict().is_some());
    let mut out: Vec<Finding> = named.iter().map(|d| finding(log, by, d)).collect();
    if !single.is_empty() {
        out.push(passing(by, &single));
    }
    if !defects.iter().any(|d| d.verdict() == Some(Verdict::Fail) && d.kind != DefectKind::WornPatch) {
        out.push(none_found(close_enough && out.iter().all(|f| f.verdict != Some(Verdict::CannotTell))));
    }
    out
}

fn none_found(sure: bool) -> Finding {
    let (text, verdict) = if sure {
        ("The output has no dead spot and no jump from end to end.", Verdict::Pass)
    } else {
        (
            "No dead spot or jump is proven, but this log cannot rule one out: sweep again, slowly, at least three \
             times each way.",
            Verdict::CannotTell,
        )
    };
    let finding = Finding::new(Subject::DeadSpot, "Dead spots and jumps", text.to_owned());
    finding.verdict(verdict, "from about zero to the end value without jumps", PRACTICE)
}

/// Events that the other passes did not show.
fn passing(by: PlacedBy, single: &[&Defect]) -> Finding {
    let places: Vec<String> = single.iter().take(3).map(|d| place_text(d.from, d.to, by)).collect();
    let more = if single.len() > places.len() { ", and elsewhere" } else { "" };
    let text = format!(
        "{} not repeat: {}{more}. The other passes went over the same place without it, so it is noise or a moved lead, \
         not the track.",
        if single.len() == 1 {
            "One disturbance did".to_owned()
        } else {
            format!("{} disturbances did", single.len())
        },
        places.join("; ")
    );
    Finding::new(Subject::Jump, "Not repeated", text)
}

fn finding(log: &Log, by: PlacedBy, defect: &Defect) -> Finding {
    let place = place_text(defect.from, defect.to, by);
    let what = described(log, defect);
    let ways = if defect.both_ways { ", going up and coming back" } else { "" };
    let seen = match defect.repeats {
        Repeats::Yes => {
            format!("seen on {} of {} passes over the place{ways}", defect.shown, defect.passes)
        }
        Repeats::OnePass => format!(
            "seen on the only pass over the place, by {}",
            if defect.samples == 1 { "one sample".to_owned() } else { format!("{} samples", defect.samples) }
        ),
        Repeats::No => format!(
            "on {} of {} passes over the place. A dead spot repeats and noise does not: sweep again",
            defect.shown, defect.passes
        ),
    };
    let title = if defect.repeats == Repeats::No { "Seen once" } else { defect.kind.title() };
    let edges = if defect.edge_u >= 0.0005 {
        format!(" (either edge ± {})", percent((2.0 * defect.edge_u * 1000.0).ceil() / 1000.0, 0.0))
    } else {
        String::new()
    };
    let text = format!("{title} {place}{edges}: {what}; {seen}.");
    let figure = match defect.kind {
        DefectKind::DeadSpot | DefectKind::FlatEnd => {
            Figure::share(defect.to - defect.from, defect.edge_u * 2f64.sqrt())
        }
        _ => Figure::share(defect.size.abs(), defect.size_u),
    };
    let finding =
        Finding::new(defect.kind.subject(), title, text).figure(figure).place(defect.from, defect.to);
    let (limit, source) = match defect.kind {
        DefectKind::WornPatch | DefectKind::FlatSpot => {
            (format!("at most {}", percent(MOST_BULGE, 0.0)), ESTIMATE)
        }
        _ => ("from about zero to the end value without jumps".to_owned(), PRACTICE),
    };
    match defect.verdict() {
        Some(verdict) => finding.verdict(verdict, &limit, source),
        None => finding,
    }
}

/// What the output does there.
fn described(log: &Log, defect: &Defect) -> String {
    let level = defect.level.map(|v| show_value(v, log.dimension, Units::Metric));
    let size = percent(defect.size.abs(), defect.size_u);
    match (defect.kind, level) {
        (DefectKind::DeadSpot, Some(level)) => format!("the contact is lost and the output goes to {level}"),
        (DefectKind::DeadSpot, None) => "the circuit is open".to_owned(),
        (DefectKind::Jump, Some(level)) => {
            format!("the output is thrown off by {size} of the range, to {level}")
        }
        (DefectKind::Jump, None) => format!("the output leaps by {size} of the range at once"),
        (DefectKind::FlatSpot, _) => {
            format!("the output holds while the travel goes on, and is then off by {size} of the range")
        }
        (DefectKind::WornPatch, _) => {
            let way = if defect.size < 0.0 { "below" } else { "above" };
            format!("the output lies up to {size} of the range {way} the course of the track round about")
        }
        (DefectKind::FlatEnd, _) => {
            "the output stands still: the track ends before the travel does, which is often so by design"
                .to_owned()
        }
    }
}
