//! What a comparison says, in sentences with figures.

use super::compare::{Comparison, Entry};
use super::model::{Side, Until, ValveHold};
use super::outcome::{Measure, Signs};
use super::run::Scope;
use crate::setting::demand::Demand;
use quantity::{Dimension, Units, show_value, show_with};

/// A procedure is said to do something when at least this share of its draws does.
const MOSTLY: f64 = 0.5;

/// Writes figures in the chosen units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Teller {
    pub(super) units: Units,
}

impl Teller {
    pub(super) fn length(self, m: f64) -> String {
        show_with(m, if self.units == Units::Inch { 3 } else { 2 }, Dimension::Length, self.units)
    }

    pub(super) fn angle(self, rad: f64) -> String {
        show_with(rad, 1, Dimension::Angle, self.units)
    }

    pub(super) fn force(self, n: f64) -> String {
        show_with(n, 0, Dimension::Force, self.units)
    }

    /// Any measure in sensible digits.
    pub(super) fn value(self, si: f64, measure: Measure) -> String {
        show_value(si, measure.dimension(), self.units)
    }
}

/// "62 %", and never a rounded 0 or 100 for something that did happen, or did not always.
pub(super) fn percent(share: f64) -> String {
    match share {
        _ if share > 0.0 && share < 0.005 => "under 1 %".to_owned(),
        _ if share < 1.0 && share > 0.995 => "over 99 %".to_owned(),
        _ => format!("{:.0} %", 100.0 * share),
    }
}

/// What is said of one procedure.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Verdict {
    /// Key of the procedure.
    pub key: String,
    /// Its name.
    pub name: String,
    /// One sentence: how often it meets every demand, and where the edge comes to stand.
    pub headline: String,
    /// What it does to edge, wires and servo, and why, each a sentence or two.
    pub reasons: Vec<String>,
}

impl Comparison {
    /// What is said of an entry.
    pub fn verdict(&self, entry: &Entry, units: Units) -> Verdict {
        let tell = Teller { units };
        let mut reasons = Vec::new();
        reasons.extend(edge_at_full(entry, tell));
        reasons.extend(at_rest(entry, tell));
        reasons.extend(strain(entry, tell));
        reasons.extend(seat(entry, tell));
        reasons.extend(missed_demands(entry));
        reasons.extend(not_done(entry));
        let procedure = entry.run.procedure();
        Verdict {
            key: procedure.key.clone(),
            name: procedure.name.clone(),
            headline: headline(entry, tell),
            reasons,
        }
    }

    /// What is said of all together: who does best, who over-travels, who strains the cable, who agrees with whom.
    pub fn statements(&self, units: Units) -> Vec<String> {
        let tell = Teller { units };
        let mut said = vec![self.scope_in_words()];
        said.extend(self.best_in_words());
        said.extend(self.worst_by(Measure::EdgeAtFull, tell));
        said.extend(self.worst_by(Measure::RestTension, tell));
        said.extend(self.worst_by(Measure::WireTension, tell));
        for circle in self.circles() {
            said.push(format!(
                "{} agree within the band: on the same gear their edges at full travel lie within {} of each other in at \
                 least 95 % of the draws. Between them there is nothing to quarrel about.",
                self.names(&circle),
                tell.length(self.limit_m())
            ));
        }
        let circles = self.circles();
        for circle in self.circles_of_aim() {
            if circles.iter().any(|agreed| circle.iter().all(|member| agreed.contains(member))) {
                continue;
            }
            said.push(format!(
                "{} aim at the same place: in the middle of the draws their edges differ by no more than the acceptance \
                 limit, {}. What parts them is how well each is felt and read.",
                self.names(&circle),
                tell.length(self.limit_m())
            ));
        }
        for (procedure, why) in &self.left_out {
            said.push(format!("{} is left out: {why}.", procedure.name));
        }
        said
    }

    fn limit_m(&self) -> f64 {
        self.entries.first().map_or(0.0, |entry| entry.run.case().limits.flush_m)
    }

    fn names(&self, places: &[usize]) -> String {
        let names: Vec<String> = places
            .iter()
            .filter_map(|at| self.entries.get(*at))
            .map(|entry| format!("\"{}\"", entry.run.procedure().name))
            .collect();
        match names.split_last() {
            Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
            _ => names.join(""),
        }
    }

    fn scope_in_words(&self) -> String {
        let draws = self.entries.first().map_or(0, |entry| entry.summary.draws);
        match self.scope {
            Scope::ThisEngine => format!(
                "{draws} draws for each procedure: the engine at hand, as far off its figures as they were measured, and \
                 hands that feel and read as the procedures state."
            ),
            Scope::LikeEngines => format!(
                "{draws} draws for each procedure: engines like this one, which differ from it as [parts] states and as far \
                 as its figures were measured, and hands that feel and read as the procedures state."
            ),
        }
    }

    fn best_in_words(&self) -> Option<String> {
        let best = self.entries.first()?;
        let share = best.summary.all_demands;
        let name = &best.run.procedure().name;
        if share == 0.0 {
            return Some(
                "No procedure meets every demand in a single draw: the demands or the gear must change."
                    .to_owned(),
            );
        }
        let next = self.entries.get(1).map(|next| {
            format!(
                "; next comes \"{}\" with {}",
                next.run.procedure().name,
                percent(next.summary.all_demands)
            )
        });
        Some(format!(
            "\"{name}\" meets every demand most often, in {} of the draws{}.",
            percent(share),
            next.unwrap_or_default()
        ))
    }

    /// Who has the greatest median of a measure, where that is worth a sentence.
    fn worst_by(&self, measure: Measure, tell: Teller) -> Option<String> {
        let median = |entry: &&Entry| {
            entry.summary.quantiles(measure).map_or(f64::NEG_INFINITY, |quantiles| quantiles.median)
        };
        let worst = self.entries.iter().max_by(|a, b| median(a).total_cmp(&median(b)))?;
        let (value, name) = (median(&worst), &worst.run.procedure().name);
        match measure {
            Measure::EdgeAtFull if value > self.limit_m() => Some(format!(
                "\"{name}\" over-travels most: the edge stands {} above the port roof at full travel in the middle of the draws.{}",
                tell.length(value),
                datum_reason(worst, tell).map(|reason| format!(" {reason}")).unwrap_or_default()
            )),
            Measure::RestTension if value > 0.0 => Some(format!(
                "\"{name}\" strains the cable most: its opening wire still pulls with {} when the servo is parked, and never \
                 rests while the machine stands.",
                tell.force(value)
            )),
            Measure::WireTension => {
                let limit_n = worst.run.case().limits.tension_n;
                let against = if value > limit_n { "above" } else { "within" };
                Some(format!(
                    "The greatest wire tension in motion comes with \"{name}\", {}, {against} the limit of {}.",
                    tell.force(value),
                    tell.force(limit_n)
                ))
            }
            _ => None,
        }
    }
}

fn headline(entry: &Entry, tell: Teller) -> String {
    let share = percent(entry.summary.all_demands);
    let edge = entry.summary.quantiles(Measure::EdgeAtFull);
    let Some(edge) = edge else {
        return "It could not be carried out on any draw.".to_owned();
    };
    format!(
        "Meets every demand in {share} of the draws; the edge comes to stand {}, from {} to {} in 95 % of them.",
        beside_flush(edge.median, tell),
        tell.length(edge.low),
        tell.length(edge.high)
    )
}

/// "0.45 mm above flush".
fn beside_flush(edge_m: f64, tell: Teller) -> String {
    let side = if edge_m < 0.0 { "below" } else { "above" };
    format!("{} {side} flush", tell.length(edge_m.abs()))
}

fn edge_at_full(entry: &Entry, tell: Teller) -> Option<String> {
    let edge = entry.summary.quantiles(Measure::EdgeAtFull)?;
    let limit_m = entry.run.case().limits.flush_m;
    let what = if edge.median > limit_m {
        "It over-travels"
    } else if edge.median < -limit_m {
        "It stays short"
    } else if edge.low < -limit_m || edge.high > limit_m {
        "It aims right but spreads past the acceptance band"
    } else {
        return None;
    };
    let why = datum_reason(entry, tell).unwrap_or_default();
    Some(
        format!("{what}: {} in the middle of the draws. {why}", beside_flush(edge.median, tell))
            .trim_end()
            .to_owned(),
    )
}

/// Why the edge comes where it does: what the opening adjuster was set against.
fn datum_reason(entry: &Entry, tell: Teller) -> Option<String> {
    let case = entry.run.case();
    let flush_rad = case.flush_travel_rad()?;
    let sprung = case.spring_on_adjuster;
    let step = entry.run.procedure().last_step(Side::Opening, sprung)?;
    let end_rad = case.mechanism.mechanical_end_rad;
    let uses_end = step.hold.valve == ValveHold::End || step.until == Until::End;
    if uses_end && end_rad.is_finite() {
        return Some(format!(
            "The valve's mechanical end lies {} of pulley past flush, and the wire is taken up there: the stop is made to \
             save the valve, not to place its edge.",
            tell.angle(end_rad - flush_rad)
        ));
    }
    let at_closed = match step.until {
        Until::Lifts => true,
        Until::Pull(_) | Until::Play(_) => step.hold.valve == ValveHold::Pin,
        _ => false,
    };
    if at_closed {
        let opening = &case.mechanism.opening;
        let winds_rad = case.full_rad * opening.servo_radius_m / opening.valve_radius_m;
        return Some(format!(
            "It is set at the closed end. From there the servo turns the valve pulley by {} less play and give, while flush \
             lies at {}: what is over at the open end was never looked at.",
            tell.angle(winds_rad),
            tell.angle(flush_rad)
        ));
    }
    match step.until {
        Until::Gap(_) => Some(
            "A gap copies the lengths of wire, sheath and bracket of the engine it was found on; it says nothing of this \
             port."
                .to_owned(),
        ),
        Until::EqualGap(_) => Some("Bare wire tells how far an adjuster is out, not where the valve is.".to_owned()),
        Until::Pull(_) if step.hold.valve == ValveHold::Flush => sinks(entry, tell),
        _ => None,
    }
}

/// A valve held level with little pull sinks when the return pulls at it.
fn sinks(entry: &Entry, tell: Teller) -> Option<String> {
    let edge = entry.summary.quantiles(Measure::EdgeAtFull)?;
    let tension = entry.summary.quantiles(Measure::WireTension)?;
    (edge.median < 0.0).then(|| {
        format!(
            "The wire was taken up with hardly a pull while the hand held the valve; under the return's load, up to {}, wire, \
             sheath and mount give way and the valve sinks by {}. Read the edge once more with the servo pulling.",
            tell.force(tension.median),
            tell.length(-edge.median)
        )
    })
}

fn at_rest(entry: &Entry, tell: Teller) -> Option<String> {
    let summary = &entry.summary;
    let rest = summary.quantiles(Measure::RestTension)?;
    let off = summary.sign(Signs::OFF_PIN);
    if off >= MOSTLY {
        let edge = summary.quantiles(Measure::EdgeAtClosed)?;
        return Some(format!(
            "The valve does not close: with the servo parked the edge stands {} above its closed position in the middle of \
             the draws, and the opening wire pulls with {} all the time.",
            tell.length(edge.median),
            tell.force(rest.median)
        ));
    }
    let taut = summary.sign(Signs::OPENING_TAUT_AT_PARK);
    (taut > 0.05).then(|| {
        format!(
            "In {} of the draws the opening wire is still taut with the servo parked: it never rests.",
            percent(taut)
        )
    })
}

fn strain(entry: &Entry, tell: Teller) -> Option<String> {
    let summary = &entry.summary;
    let tension = summary.quantiles(Measure::WireTension)?;
    let mut said = Vec::new();
    let on_end = summary.sign(Signs::ON_END);
    if on_end > 0.05 {
        said.push(format!(
            "In {} of the draws the valve meets its mechanical end before the servo has finished, and the servo stretches the \
             wire for the rest.",
            percent(on_end)
        ));
    }
    let taut = summary.sign(Signs::CLOSING_TAUT);
    let closing = if entry.run.case().spring_on_adjuster {
        "the coils of the return spring touch and the closing wire goes taut"
    } else {
        "the closing wire pulls against the opening one"
    };
    if taut > 0.05 {
        said.push(format!("In {} of the draws {closing}.", percent(taut)));
    }
    let over = 1.0 - summary.demand(Demand::WireTension);
    if over > 0.005 {
        said.push(format!(
            "Wire tension passes its limit in {} of the draws (95 % of them stay below {}).",
            percent(over),
            tell.value(tension.high, Measure::WireTension)
        ));
    }
    let margin = summary.quantiles(Measure::BucklingMargin)?;
    if margin.low < 1.0 {
        said.push(format!(
            "The longest unguided stretch of sheath could bow out (margin down to {:.1}); it must lie in a guide.",
            margin.low
        ));
    }
    (!said.is_empty()).then(|| said.join(" "))
}

fn seat(entry: &Entry, tell: Teller) -> Option<String> {
    let loose = entry.summary.sign(Signs::CLOSING_LOOSE);
    if loose > 0.05 {
        let slack = entry.summary.quantiles(Measure::ClosingSlack)?;
        return Some(format!(
            "The closing sheath loses its seat in {} of the draws, by up to {}: it rattles and can jump out.",
            percent(loose),
            tell.length(slack.high.max(0.0))
        ));
    }
    None
}

/// Demands that most of the misses come from.
fn missed_demands(entry: &Entry) -> Option<String> {
    let names: Vec<String> = Demand::ALL
        .into_iter()
        .map(|demand| (1.0 - entry.summary.demand(demand), demand))
        .filter(|(missed, _)| *missed > 0.05)
        .map(|(missed, demand)| format!("{} ({})", in_words(demand), percent(missed)))
        .collect();
    (!names.is_empty())
        .then(|| format!("Demands missed, with their share of the draws: {}.", names.join(", ")))
}

fn not_done(entry: &Entry) -> Option<String> {
    let failed = entry.summary.failed;
    (failed > 0.0).then(|| {
        format!(
            "On {} of the drawn gears a step could not be done; they count as missing every demand and are left out of all \
             other figures.",
            percent(failed)
        )
    })
}

/// A demand as part of a list.
pub(super) fn in_words(demand: Demand) -> &'static str {
    match demand {
        Demand::RestsClosed => "rests closed with free play",
        Demand::Flush => "flush at full travel",
        Demand::Reseats => "comes back onto its pin",
        Demand::ClosingFree => "closing side never taut",
        Demand::Seated => "sheath seated",
        Demand::WireTension => "wire tension",
        Demand::TorqueMargin => "torque to spare",
        Demand::ToothLoad => "tooth load",
    }
}
