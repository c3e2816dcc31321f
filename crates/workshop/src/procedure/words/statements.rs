//! What is said of all procedures together.

use super::reasons::{datum_reason, rest_reason};
use super::{Teller, percent};
use crate::procedure::compare::{Comparison, Entry};
use crate::procedure::outcome::Measure;
use crate::procedure::run::Scope;
use quantity::Units;

impl Comparison {
    /// What is said of all together: who does best, who over-travels, who strains the cable, who agrees with whom.
    pub fn statements(&self, units: Units) -> Vec<String> {
        let mut said = self.extremes(units);
        said.extend(self.agreements(units));
        for (procedure, why) in &self.left_out {
            said.push(format!("{} is left out: {why}.", procedure.name));
        }
        said
    }

    /// Who does best, who over-travels, who strains the cable.
    pub fn extremes(&self, units: Units) -> Vec<String> {
        let tell = Teller { units };
        let mut said = vec![self.scope_in_words()];
        said.extend(self.best_in_words());
        said.extend(self.worst_by(Measure::EdgeAtFull, tell));
        said.extend(self.worst_by(Measure::RestTension, tell));
        said.extend(self.worst_by(Measure::WireTension, tell));
        said
    }

    /// Who agrees with whom, and who at least aims at the same place.
    pub fn agreements(&self, units: Units) -> Vec<String> {
        let tell = Teller { units };
        let mut said = Vec::new();
        let circles = self.circles();
        said.extend(circles.iter().map(|circle| self.agreement(circle, tell)));
        for circle in self.circles_of_aim() {
            if !circles.iter().any(|agreed| circle.iter().all(|member| agreed.contains(member))) {
                said.push(self.common_aim(&circle, tell));
            }
        }
        said
    }

    fn agreement(&self, circle: &[usize], tell: Teller) -> String {
        let end = if self.outside(circle) {
            "There is nothing to quarrel about between them, for all of them leave the edge outside the acceptance band."
        } else {
            "There is nothing to quarrel about between them."
        };
        format!(
            "{} agree within the band: on the same gear their edges at full travel lie within {} of each other in at least 95 % \
             of the draws. {end}",
            self.names(circle),
            tell.length(self.limit_m())
        )
    }

    fn common_aim(&self, circle: &[usize], tell: Teller) -> String {
        let end = if self.outside(circle) {
            "That place lies outside the acceptance band."
        } else {
            "What parts them is how well each is felt and read."
        };
        format!(
            "{} aim at the same place: in the middle of the draws their edges differ by no more than the acceptance limit, {}. \
             {end}",
            self.names(circle),
            tell.length(self.limit_m())
        )
    }

    /// Every one of them leaves the edge outside the acceptance band in the middle of its draws.
    fn outside(&self, circle: &[usize]) -> bool {
        circle.iter().filter_map(|at| self.entries.get(*at)).all(|entry| {
            let edge = entry.summary.quantiles(Measure::EdgeAtFull);
            edge.is_some_and(|edge| edge.median.abs() > self.limit_m())
        })
    }

    pub(in crate::procedure) fn limit_m(&self) -> f64 {
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
                "\"{name}\" strains the cable most: its opening wire still pulls with {} when the servo is parked, so it never \
                 rests and the valve does not close.{}",
                tell.force(value),
                rest_reason(worst, tell).map(|reason| format!(" {reason}")).unwrap_or_default()
            )),
            Measure::WireTension => {
                let limit_n = worst.run.case().limits.tension_n;
                let against = if value > limit_n { "above" } else { "within" };
                let preload = |entry: &Entry| {
                    let seat = entry.summary.quantiles(Measure::SeatTension);
                    seat.map_or(f64::NEG_INFINITY, |seat| seat.median)
                };
                // Medians of equal preloads differ by chance.
                let most = self.entries.iter().map(preload).fold(f64::NEG_INFINITY, f64::max);
                let why =
                    if preload(worst) > 0.95 * most { " It gives the return the most preload." } else { "" };
                Some(format!(
                    "The greatest wire tension in motion comes with \"{name}\", {}, {against} the limit of {}.{why}",
                    tell.force(value),
                    tell.force(limit_n)
                ))
            }
            _ => None,
        }
    }
}
