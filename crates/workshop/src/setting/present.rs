//! The present state: which slack the readings show.

use super::case::Case;
use engine::model::Found;

/// What tells the opening slack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OpeningFrom {
    /// The valve edge read at the port at full travel: best, since errors of pulleys and arm then cancel.
    Edge,
    /// Free play felt at the opening cable.
    Play,
    /// Nothing.
    Nothing,
}

/// What tells the closing slack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClosingFrom {
    /// The length of the spring on the closing adjuster.
    SpringLength,
    /// Free play felt at the closing cable.
    Play,
    /// Nothing.
    Nothing,
}

/// Which readings are used; decided once from the readings at hand, then the same for every random draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sources {
    /// For the opening side.
    pub opening: OpeningFrom,
    /// For the closing side.
    pub closing: ClosingFrom,
}

impl Sources {
    /// The best source of each side among the readings in `found`.
    pub fn of(found: &Found, case: &Case) -> Self {
        let opening = if found.edge_above_flush.is_some() {
            OpeningFrom::Edge
        } else if found.opening_play.is_some() {
            OpeningFrom::Play
        } else {
            OpeningFrom::Nothing
        };
        let closing = match (case.spring_on_adjuster, &found.spring_length, &found.closing_play) {
            (true, Some(_), _) => ClosingFrom::SpringLength,
            (false, _, Some(_)) => ClosingFrom::Play,
            _ => ClosingFrom::Nothing,
        };
        Self { opening, closing }
    }

    /// Slack of the closing wire that the readings show, m.
    pub fn closing_slack_m(self, found: &Found, case: &Case) -> Option<f64> {
        match self.closing {
            ClosingFrom::SpringLength => case.closing_slack_for_spring_m(found.spring_length.as_ref()?.value),
            ClosingFrom::Play => found.closing_play.as_ref().map(|play| play.value),
            ClosingFrom::Nothing => None,
        }
    }

    /// Slack of the opening wire that the readings show, m, with the closing side as given.
    pub fn opening_slack_m(self, found: &Found, case: &Case, closing_slack_m: f64) -> Option<f64> {
        match self.opening {
            OpeningFrom::Edge => {
                let lift = case.drop_m + found.edge_above_flush.as_ref()?.value;
                case.opening_slack_for_lift_m(closing_slack_m, lift)
            }
            OpeningFrom::Play => found.opening_play.as_ref().map(|play| play.value),
            OpeningFrom::Nothing => None,
        }
    }
}
