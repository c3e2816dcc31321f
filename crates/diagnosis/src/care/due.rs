//! What is due now.

mod sentence;

use super::history::{Done, History};
use super::learning::{Learned, learn};
use super::plan::{Interval, Plan};
use super::task::{Every, SeasonTurn, Task, Tasks};
use super::{Day, Season};
use serde::Serialize;

/// From this part of its interval a task is due soon: estimate.
pub const SOON: f64 = 0.8;
/// So many days before its window opens a task of the season is due soon: estimate.
const SEASON_SOON_DAYS: i64 = 30;
/// A task of the season is left out when less than this part of its interval has run since it was done: estimate.
const FRESH: f64 = 0.25;

/// The present of an engine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Now {
    /// Today.
    pub day: Day,
    /// Engine hours, when known.
    pub hours: Option<f64>,
    /// Distance, km, when known.
    pub km: Option<f64>,
}

/// How urgent a task is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DueState {
    /// Its interval has run out, or the season asks for it.
    Due,
    /// Nothing is noted of it ever having been done.
    NeverDone,
    /// Less than a fifth of its interval is left, or the season will ask for it within 30 days.
    Soon,
    /// What its interval counts was not noted.
    CannotTell,
    /// Later.
    Later,
}

/// What makes a task due, or will first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lead {
    /// Engine hours.
    Hours,
    /// Distance.
    Distance,
    /// Months.
    Months,
    /// Before the lay-up.
    BeforeLayUp,
    /// After the lay-up.
    AfterLayUp,
}

/// One task as it stands today.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Due {
    /// Key of the task.
    pub task: String,
    /// Name of the task.
    pub title: String,
    /// How urgent it is.
    pub state: DueState,
    /// The part of the interval that has run, of the counter that leads; above 1 it is over. None when not known.
    pub part: Option<f64>,
    /// What leads.
    pub lead: Option<Lead>,
    /// The state in a sentence or two.
    pub text: String,
    /// The interval as it applies to this engine.
    pub interval: String,
    /// What the engine's own history changed; none when nothing was learned or the task does not learn.
    pub learned: Option<Learned>,
    /// When it was done last.
    pub last: Option<Day>,
    /// The day on which the months of its interval are over.
    pub until: Option<Day>,
    /// What happens when it is left.
    pub why: String,
    /// What is done.
    pub how: String,
    /// About how long it takes.
    pub minutes: f64,
    /// Where the words come from.
    pub source: String,
    /// Where the interval comes from.
    pub figures: String,
}

/// The tasks of an engine, the most urgent first; equal ones in the order of the file.
pub fn due(tasks: &Tasks, plan: &Plan, history: &History, now: &Now) -> Vec<Due> {
    let watched = tasks.of(&plan.actuator).filter(|t| !plan.own.get(&t.key).is_some_and(|own| own.off));
    let mut all: Vec<Due> = watched.map(|task| judge(task, tasks, plan, history, now)).collect();
    all.sort_by(|a, b| {
        let part = |d: &Due| d.part.unwrap_or(0.0);
        a.state.cmp(&b.state).then(part(b).total_cmp(&part(a)))
    });
    all
}

/// A counter of the interval.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Count {
    lead: Lead,
    /// What has run since the task was done: h, km or days.
    ran: f64,
    /// After how much it is due, in the same unit.
    limit: f64,
}

impl Count {
    fn part(&self) -> f64 {
        self.ran / self.limit
    }
}

/// What is known between two moments of an engine.
struct Counts {
    known: Vec<Count>,
    /// Counters of the interval that were not noted at either moment.
    unknown: Vec<Lead>,
    /// Counters that show less than before: the meter was changed.
    backwards: Vec<Lead>,
}

impl Counts {
    fn between(every: &Every, factor: f64, before: &Done, now: &Now) -> Self {
        let mut counts = Self { known: Vec::new(), unknown: Vec::new(), backwards: Vec::new() };
        let scaled = every.scaled(factor);
        let meters = [
            (Lead::Hours, scaled.hours, before.hours, now.hours),
            (Lead::Distance, scaled.km, before.km, now.km),
        ];
        for (lead, limit, then, now) in meters {
            let Some(limit) = limit else { continue };
            match (then, now) {
                (Some(then), Some(now)) if now >= then => {
                    counts.known.push(Count { lead, ran: now - then, limit });
                }
                (Some(_), Some(_)) => counts.backwards.push(lead),
                _ => counts.unknown.push(lead),
            }
        }
        if let Some(until) = until(every, factor, before.day) {
            let limit = until.days_since(before.day).max(1) as f64;
            counts.known.push(Count {
                lead: Lead::Months,
                ran: now.day.days_since(before.day) as f64,
                limit,
            });
        }
        counts
    }

    /// The counter furthest on its way.
    fn lead(&self) -> Option<Count> {
        self.known.iter().copied().max_by(|a, b| a.part().total_cmp(&b.part()))
    }
}

/// When the months of an interval are over.
fn until(every: &Every, factor: f64, from: Day) -> Option<Day> {
    let whole = from.plus_months(every.months?);
    if factor == 1.0 {
        return Some(whole);
    }
    Some(from.plus_days((whole.days_since(from) as f64 * factor).round() as i64))
}

fn judge(task: &Task, tasks: &Tasks, plan: &Plan, history: &History, now: &Now) -> Due {
    let interval = plan.interval(task);
    let done: Vec<&Done> = history.of(&task.key).filter(|d| d.day <= now.day).collect();
    let learned = task.learns.then(|| learned(&interval, &done)).filter(|l| l.factor != 1.0);
    let factor = interval.factor * learned.as_ref().map_or(1.0, |l| l.factor);
    let last = done.last().copied();
    let counts = last.map(|last| Counts::between(&interval.every, factor, last, now));
    let lead = counts.as_ref().and_then(Counts::lead);
    let season = season_call(&interval.season, plan.season, last, lead, now.day);
    let state = state(&interval, counts.as_ref(), lead, season);
    let text =
        sentence::state(&sentence::Facts { state, last, lead, counts: counts.as_ref(), season, now, plan });
    let leads = match (state, season) {
        (DueState::Due, Some(call)) if lead.is_none_or(|l| l.part() < 1.0) => Some(call.lead()),
        (DueState::Soon, Some(call)) if lead.is_none_or(|l| l.part() < SOON) => Some(call.lead()),
        _ => lead.map(|l| l.lead),
    };
    Due {
        task: task.key.clone(),
        title: task.title.clone(),
        state,
        part: lead.map(|l| l.part()),
        lead: leads,
        text,
        interval: sentence::interval(&interval, factor, tasks, plan),
        learned,
        last: last.map(|l| l.day),
        until: last.and_then(|l| until(&interval.every, factor, l.day)),
        why: task.why.clone(),
        how: task.text.clone(),
        minutes: task.minutes,
        source: task.source.clone(),
        figures: interval.source.clone(),
    }
}

/// What the history says of the interval. A figure of the user's own is shortened by it but never lengthened.
fn learned(interval: &Interval, done: &[&Done]) -> Learned {
    let part = |before: &Done, after: &Done, factor: f64| {
        let moment = Now { day: after.day, hours: after.hours, km: after.km };
        Counts::between(&interval.every, interval.factor * factor, before, &moment).lead().map(|l| l.part())
    };
    let learned = learn(done, part);
    if interval.is_own && learned.factor > 1.0 {
        Learned { factor: 1.0, text: String::new() }
    } else {
        learned
    }
}

/// What the season asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SeasonCall {
    /// The window is open and the task was not done in it.
    Now(SeasonTurn),
    /// The window opens on this day, within 30 days.
    Soon(SeasonTurn, Day),
    /// The next window opens on this day.
    Later(SeasonTurn, Day),
}

impl SeasonCall {
    fn lead(self) -> Lead {
        let (Self::Now(turn) | Self::Soon(turn, _) | Self::Later(turn, _)) = self;
        match turn {
            SeasonTurn::BeforeLayUp => Lead::BeforeLayUp,
            SeasonTurn::AfterLayUp => Lead::AfterLayUp,
        }
    }

    fn order(self) -> (u8, i64) {
        match self {
            Self::Now(_) => (0, 0),
            Self::Soon(_, day) => (1, day.epoch_days()),
            Self::Later(_, day) => (2, day.epoch_days()),
        }
    }
}

/// The most urgent call of the season.
fn season_call(
    turns: &[SeasonTurn],
    season: Season,
    last: Option<&Done>,
    lead: Option<Count>,
    today: Day,
) -> Option<SeasonCall> {
    let fresh = lead.is_some_and(|l| l.part() < FRESH);
    let calls = turns.iter().filter_map(|turn| {
        let windows = season.windows(*turn, today)?;
        let done_in_it = last.is_some_and(|l| l.day >= windows.from);
        Some(if windows.open && !done_in_it && !fresh {
            SeasonCall::Now(*turn)
        } else if windows.next.days_since(today) <= SEASON_SOON_DAYS && !fresh {
            SeasonCall::Soon(*turn, windows.next)
        } else {
            SeasonCall::Later(*turn, windows.next)
        })
    });
    calls.min_by_key(|call| call.order())
}

fn state(
    interval: &Interval,
    counts: Option<&Counts>,
    lead: Option<Count>,
    season: Option<SeasonCall>,
) -> DueState {
    let counted = interval.every != Every::default();
    let by_season = match season {
        Some(SeasonCall::Now(_)) => DueState::Due,
        Some(SeasonCall::Soon(..)) => DueState::Soon,
        _ => DueState::Later,
    };
    let by_counts = match (counts, lead) {
        _ if !counted => DueState::Later,
        (None, _) => DueState::NeverDone,
        (Some(_), None) => DueState::CannotTell,
        (Some(_), Some(lead)) if lead.part() >= 1.0 => DueState::Due,
        (Some(_), Some(lead)) if lead.part() >= SOON => DueState::Soon,
        _ => DueState::Later,
    };
    by_counts.min(by_season)
}

#[cfg(test)]
mod tests;
