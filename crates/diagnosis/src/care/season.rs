//! The riding season and its turns.

use super::day::{days_in_month, month_name, month_named};
use super::{Day, SeasonTurn};
use serde::Serialize;

/// So many days before the turn of the season the task falls due: estimate.
const WINDOW_DAYS: i64 = 30;
/// So many days after the season has begun its first ride is taken to be over: estimate.
const BEGUN_DAYS: i64 = 60;

/// The months in which the engine is used, the first and the last included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Season {
    /// First month, 1 to 12.
    pub first: u32,
    /// Last month, 1 to 12; earlier than the first when the season goes over the turn of the year.
    pub last: u32,
}

impl Season {
    /// When the user says nothing: estimate.
    pub const USUAL: Season = Season { first: 3, last: 10 };

    /// Reads "April to October", "Apr - Oct" or "all year".
    ///
    /// # Errors
    /// One sentence when it is neither.
    pub fn read(text: &str) -> Result<Self, String> {
        let lower = text.trim().to_lowercase();
        if matches!(lower.as_str(), "all year" | "all the year" | "whole year" | "none") {
            return Ok(Self { first: 1, last: 12 });
        }
        let wrong =
            || format!("\"{}\" is no season. Write it as April to October, or all year.", text.trim());
        let parts: Vec<&str> = lower.split([' ', '-', '–']).filter(|p| !p.is_empty() && *p != "to").collect();
        let [first, last] = parts.as_slice() else { return Err(wrong()) };
        match (month_named(first), month_named(last)) {
            (Some(first), Some(last)) => Ok(Self { first, last }),
            _ => Err(wrong()),
        }
    }

    /// Whether the engine is never laid up.
    pub fn is_all_year(self) -> bool {
        self.last % 12 + 1 == self.first
    }

    /// "March to October".
    pub fn shown(self) -> String {
        if self.is_all_year() {
            return "all year".to_owned();
        }
        format!("{} to {}", month_name(self.first), month_name(self.last))
    }

    /// First and last day of the season that begins in this year.
    fn of_year(self, year: i32) -> Option<(Day, Day)> {
        let end_year = if self.last < self.first { year + 1 } else { year };
        let last_day = days_in_month(end_year, self.last);
        Some((Day::of(year, self.first, 1)?, Day::of(end_year, self.last, last_day)?))
    }

    /// The latest window of a task on or before `day`, and the beginning of the next one.
    ///
    /// Before the lay-up: from 30 days before the last day of the season until the next season begins. After the
    /// lay-up: from 30 days before the first day of the season until 60 days after it, or until the season ends.
    pub(super) fn windows(self, turn: SeasonTurn, day: Day) -> Option<Windows> {
        if self.is_all_year() {
            return None;
        }
        let (year, ..) = day.date();
        let mut all: Vec<(Day, Day)> = Vec::with_capacity(5);
        for year in year - 2..=year + 2 {
            let (Some(this), Some(next)) = (self.of_year(year), self.of_year(year + 1)) else { continue };
            all.push(match turn {
                SeasonTurn::BeforeLayUp => (this.1.plus_days(-WINDOW_DAYS), next.0.plus_days(-1)),
                SeasonTurn::AfterLayUp => {
                    (this.0.plus_days(-WINDOW_DAYS), this.1.min(this.0.plus_days(BEGUN_DAYS)))
                }
            });
        }
        let latest = all.iter().rev().find(|w| w.0 <= day).copied()?;
        let next = all.iter().find(|w| w.0 > day)?.0;
        Some(Windows { open: day <= latest.1, from: latest.0, next })
    }
}

/// Where a day lies among the windows of a task.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Windows {
    /// Whether the day lies in the latest window.
    pub(super) open: bool,
    /// First day of the latest window.
    pub(super) from: Day,
    /// First day of the next one.
    pub(super) next: Day,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> Day {
        text.parse().unwrap()
    }

    #[test]
    fn exact_ways_of_writing_a_season() {
        for text in ["April to October", "apr - oct", "April–October", "Apr. to Oct."] {
            assert_eq!(Season::read(text), Ok(Season { first: 4, last: 10 }), "{text}");
        }
        assert!(Season::read("all year").unwrap().is_all_year());
        assert!(Season::read("July to June").unwrap().is_all_year());
        assert_eq!(Season::USUAL.shown(), "March to October");
        for text in ["", "summer", "April", "April to Octember", "4 to 10"] {
            assert!(Season::read(text).unwrap_err().contains("April to October"), "{text}");
        }
    }

    /// Season March to October: it ends on 31 October, so the window before the lay-up opens on 1 October and closes on
    /// the last of February; the one after it opens on 30 January and closes on 30 April.
    #[test]
    fn exact_windows_of_a_season_within_a_year() {
        let season = Season::USUAL;
        let before = |d: &str| season.windows(SeasonTurn::BeforeLayUp, day(d)).unwrap();
        assert_eq!(
            before("2025-09-30"),
            Windows { open: false, from: day("2024-10-01"), next: day("2025-10-01") }
        );
        assert_eq!(
            before("2025-10-01"),
            Windows { open: true, from: day("2025-10-01"), next: day("2026-10-01") }
        );
        assert!(before("2026-02-28").open && !before("2026-03-01").open);
        assert!(before("2024-02-29").open, "the leap day still belongs to the lay-up");
        let after = |d: &str| season.windows(SeasonTurn::AfterLayUp, day(d)).unwrap();
        assert!(!after("2025-01-29").open);
        assert_eq!(
            after("2025-01-30"),
            Windows { open: true, from: day("2025-01-30"), next: day("2026-01-30") }
        );
        assert!(after("2025-04-30").open && !after("2025-05-01").open);
    }

    #[test]
    fn exact_windows_over_the_turn_of_the_year() {
        let season = Season { first: 11, last: 2 };
        let before = season.windows(SeasonTurn::BeforeLayUp, day("2025-03-05")).unwrap();
        assert_eq!(before, Windows { open: true, from: day("2025-01-29"), next: day("2026-01-29") });
        let after = season.windows(SeasonTurn::AfterLayUp, day("2025-12-24")).unwrap();
        assert_eq!((after.open, after.from), (true, day("2025-10-02")));
        assert_eq!(Season { first: 1, last: 12 }.windows(SeasonTurn::AfterLayUp, day("2025-12-24")), None);
    }

    #[test]
    fn refuses_nothing_at_the_ends_of_the_calendar() {
        for text in ["0001-01-01", "9999-12-31"] {
            for turn in [SeasonTurn::BeforeLayUp, SeasonTurn::AfterLayUp] {
                let _ = Season::USUAL.windows(turn, day(text));
            }
        }
    }
}
