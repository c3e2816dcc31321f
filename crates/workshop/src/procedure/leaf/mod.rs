//! A comparison as finished texts for someone who never saw the program: a PDF or a page that stands alone.

mod stated;
mod way;

pub use stated::Stated;
pub use way::{LeafDemand, LeafDriver, LeafFigure, LeafStep, LeafWay};

use super::compare::Comparison;
use super::outcome::Measure;
use super::run::Scope;
use super::words::{Teller, ToldCheck, percent};
use engine::model::Engine;
use quantity::Units;

/// Measures of the table in which the ways stand side by side.
pub const SIDE_BY_SIDE: [Measure; 4] =
    [Measure::EdgeAtFull, Measure::EdgeAtClosed, Measure::LostMotion, Measure::WireTension];

/// Everything that is told on paper, in finished texts.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaf {
    /// The engine's name.
    pub engine: String,
    /// True for a made-up engine.
    pub invented: bool,
    /// The user's note on the engine.
    pub note: Option<String>,
    /// What this is about, a paragraph each.
    pub lead: Vec<String>,
    /// Who does best, who over-travels, who strains the cable.
    pub statements: Vec<String>,
    /// Who agrees with whom.
    pub agreements: Vec<String>,
    /// How the figures are to be read.
    pub reading: String,
    /// Heads of [`LeafWay::side_by_side`].
    pub columns: Vec<&'static str>,
    /// The ways, best first.
    pub ways: Vec<LeafWay>,
    /// For each way and each other the share of draws in which their edges differ by no more than the acceptance limit;
    /// none on the diagonal.
    pub close: Vec<Vec<Option<LeafShare>>>,
    /// What that table says.
    pub close_says: String,
    /// What "alone" and "with others" mean.
    pub drivers_say: String,
    /// Ways that cannot be carried out here, and why.
    pub left_out: Vec<(String, String)>,
    /// How each demand is checked after the work.
    pub checks: Vec<ToldCheck>,
    /// What the figures of such checks mean.
    pub checks_say: String,
    /// What was demanded, of whom, from where.
    pub limits: Vec<Stated>,
    /// How the next engine differs, and the sheath.
    pub parts: Vec<Stated>,
    /// Figures of the engine that were assumed.
    pub assumed: Vec<Stated>,
    /// What the computation takes for granted.
    pub notes: Vec<String>,
    /// Draws, seed and scope.
    pub basis: String,
}

/// A share and whether it counts as agreement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeafShare {
    /// The share, as percent without its sign.
    pub text: String,
    /// At or above [`AGREE_SHARE`](super::AGREE_SHARE).
    pub agrees: bool,
}

impl Comparison {
    /// Everything that is told on paper. `seed` is the one that the comparison was drawn with.
    pub fn leaf(&self, engine: &Engine, units: Units, seed: u64) -> Leaf {
        let tell = Teller { units };
        let first = self.entries.first();
        let draws = first.map_or(0, |entry| entry.summary.draws);
        Leaf {
            engine: engine.name.clone(),
            invented: engine.invented,
            note: engine.note.clone(),
            lead: self.lead(draws),
            statements: self.extremes(units),
            agreements: self.agreements(units),
            reading: "Each figure is that of the middle draw: half of the draws lie below it. The range under it holds \
                      nineteen draws of twenty."
                .to_owned(),
            columns: SIDE_BY_SIDE.iter().map(|measure| measure.name()).collect(),
            ways: self.entries.iter().enumerate().map(|(at, entry)| self.leaf_way(at, entry, units)).collect(),
            close: self.closeness(),
            close_says: format!(
                "Of a hundred draws, so many in which two ways leave the edge within {} of each other on the same gear. From 95 \
                 on they agree within the acceptance band, and a quarrel between them is about nothing.",
                tell.length(self.limit_m())
            ),
            drivers_say: "Alone: the part of the spread that would go if this one figure were known exactly. With others: the \
                          part in which it has any share, together with other figures too. Where both are alike, each \
                          figure acts for itself."
                .to_owned(),
            left_out: self.left_out.iter().map(|(way, why)| (way.name.clone(), why.to_string())).collect(),
            checks: self.checks_told(units),
            checks_say: "A way passes, or fails, when at least 95 of 100 draws do; between them nobody can tell without \
                         looking. A check after the work reads with an error of its own, so a reading is accepted only when it \
                         lies inside the limit by a guard band. Wrongly passed: accepted though the demand is missed. Not \
                         passed though right: turned down, or left open, though it is met. A wider guard band trades the \
                         first for the second; a better instrument lessens both."
                .to_owned(),
            limits: stated::limits(engine, units),
            parts: stated::parts(self, units),
            assumed: stated::assumed(engine),
            notes: stated::notes(),
            basis: format!(
                "{draws} draws of each way, seed {seed}, {}. The same file, draws and seed give the same figures to the last digit.",
                match self.scope {
                    Scope::ThisEngine => "of this engine as it was measured",
                    Scope::LikeEngines => "of engines like this one, not measured",
                }
            ),
        }
    }

    fn lead(&self, draws: usize) -> Vec<String> {
        let gears = match self.scope {
            Scope::ThisEngine => "of this engine",
            Scope::LikeEngines => "of engines like this one",
        };
        vec![
            "The exhaust valve of a two-stroke is a movable roof of its exhaust port. At low speed it must rest closed; at \
             full travel its edge must stand level with the port's fixed roof, which is called flush. Below flush the port \
             opens late. Past flush the edge leaves a step in the passage, and near its mechanical end valve, cable and servo \
             strain against each other."
                .to_owned(),
            format!(
                "How it is set is argued about. Here each way was carried out by computation on {draws} drawn gears {gears}: \
                 every draw takes another value of what is not known exactly (radii, stiffness, friction, the pull of a hand, \
                 the error of a reading) within limits that are stated at the end, does the steps of the way, and solves the \
                 whole valve gear from closed to full travel and back."
            ),
        ]
    }

    fn closeness(&self) -> Vec<Vec<Option<LeafShare>>> {
        let count = self.entries.len();
        let one = |a: usize, b: usize| {
            self.pair(a, b).filter(|_| a != b).map(|pair| LeafShare {
                text: percent(pair.close).trim_end_matches(" %").replace("under ", "<").replace("over ", ">"),
                agrees: pair.agrees(),
            })
        };
        (0..count).map(|a| (0..count).map(|b| one(a, b)).collect()).collect()
    }
}
