//! Civil dates without a clock.

use serde::{Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// A day of the Gregorian calendar, also before its introduction; years 1 to 9999.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(i32);

/// Why a text is no day, in one sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct DayError(String);

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Days from 1 March of year 0 to 1 January 1970.
const EPOCH: i32 = 719_468;
/// Days before each month, counted from 1 March: the leap day is the last of such a year and shifts nothing.
const BEFORE_MONTH: [i32; 12] = [0, 31, 61, 92, 122, 153, 184, 214, 245, 275, 306, 337];

/// Days from 1 March of year 0 to 1 March of `year`.
fn days_before_march(year: i32) -> i32 {
    365 * year + year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400)
}

fn is_leap(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// How many days a month has.
pub(super) fn days_in_month(year: i32, month: u32) -> u32 {
    match month {
        2 => 28 + u32::from(is_leap(year)),
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// The month (1 to 12) that a word names: its full name or its first three letters or more.
pub(super) fn month_named(word: &str) -> Option<u32> {
    let word = word.trim().trim_end_matches('.').to_lowercase();
    if word.chars().count() < 3 {
        return None;
    }
    let index = MONTHS.iter().position(|m| m.to_lowercase().starts_with(&word))?;
    u32::try_from(index + 1).ok()
}

/// Name of a month, 1 to 12.
pub(super) fn month_name(month: u32) -> &'static str {
    MONTHS.get((month as usize).wrapping_sub(1)).copied().unwrap_or("")
}

impl Day {
    /// The day of this date; none when there is no such day.
    pub fn of(year: i32, month: u32, day: u32) -> Option<Self> {
        if !(1..=9999).contains(&year) || !(1..=12).contains(&month) {
            return None;
        }
        if day < 1 || day > days_in_month(year, month) {
            return None;
        }
        let (from_march, year) = if month > 2 { (month - 3, year) } else { (month + 9, year - 1) };
        let days = days_before_march(year) + BEFORE_MONTH[from_march as usize] + i32::try_from(day).ok()? - 1;
        Some(Self(days - EPOCH))
    }

    /// The day `days` after 1 January 1970; none outside the years 1 to 9999.
    pub fn from_epoch_days(days: i64) -> Option<Self> {
        let (first, last) = (Self::of(1, 1, 1)?, Self::of(9999, 12, 31)?);
        let days = i32::try_from(days).ok()?;
        (first.0..=last.0).contains(&days).then_some(Self(days))
    }

    /// Days after 1 January 1970.
    pub fn epoch_days(self) -> i64 {
        i64::from(self.0)
    }

    /// Year, month (1 to 12) and day of the month.
    pub fn date(self) -> (i32, u32, u32) {
        let days = self.0 + EPOCH;
        // The mean year is 365.2425 days long: the guess is right or one year too late.
        let mut year = (i64::from(days) * 10_000 / 3_652_425) as i32;
        while days_before_march(year + 1) <= days {
            year += 1;
        }
        while days_before_march(year) > days {
            year -= 1;
        }
        let rest = days - days_before_march(year);
        let month = BEFORE_MONTH.iter().rposition(|before| *before <= rest).unwrap_or(0);
        let day = (rest - BEFORE_MONTH[month] + 1) as u32;
        if month < 10 { (year, month as u32 + 3, day) } else { (year + 1, month as u32 - 9, day) }
    }

    /// Days from `earlier` to this day.
    pub fn days_since(self, earlier: Self) -> i64 {
        i64::from(self.0) - i64::from(earlier.0)
    }

    /// This many days later, held at the ends of the calendar.
    pub fn plus_days(self, days: i64) -> Self {
        let held = self.epoch_days().saturating_add(days).clamp(FIRST.epoch_days(), LAST.epoch_days());
        Self::from_epoch_days(held).unwrap_or(self)
    }

    /// The same day of the month so many months later, or the last one of that month when it is shorter.
    pub fn plus_months(self, months: u32) -> Self {
        let (year, month, day) = self.date();
        let count = i64::from(year) * 12 + i64::from(month) - 1 + i64::from(months);
        let (year, month) = (i32::try_from(count / 12).unwrap_or(i32::MAX), (count % 12 + 1) as u32);
        Self::of(year, month, day.min(days_in_month(year.min(9999), month))).unwrap_or(LAST)
    }

    /// `2025-05-14`.
    pub fn iso(self) -> String {
        let (year, month, day) = self.date();
        format!("{year:04}-{month:02}-{day:02}")
    }
}

const FIRST: Day = Day(-719_162);
const LAST: Day = Day(2_932_896);

impl fmt::Display for Day {
    /// `14 May 2025`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.date();
        write!(f, "{day} {} {year}", month_name(month))
    }
}

impl Serialize for Day {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.iso())
    }
}

impl FromStr for Day {
    type Err = DayError;

    /// Reads `2025-05-14`, `14 May 2025`, `May 14, 2025` and `14.5.2025`. With strokes (`5/6/2025`) the order of day
    /// and month is not known, so that is asked about.
    fn from_str(text: &str) -> Result<Self, DayError> {
        let text = text.trim();
        let wrong = || DayError(format!("\"{text}\" is no date. Write it as 2025-05-14 or 14 May 2025."));
        if text.contains('/') {
            let message = format!(
                "\"{text}\" can be read with the day or the month first. Write it as 2025-05-14 or 14 May 2025."
            );
            return Err(DayError(message));
        }
        let parts: Vec<&str> = text.split([' ', ',', '-', '.']).filter(|p| !p.is_empty()).collect();
        let [a, b, c] = parts.as_slice() else { return Err(wrong()) };
        let number = |p: &str| p.parse::<u32>().ok().filter(|_| p.bytes().all(|b| b.is_ascii_digit()));
        let in_order = text.starts_with(|c: char| c.is_ascii_alphanumeric());
        let starts_with_figure = a.starts_with(|c: char| c.is_ascii_digit());
        let (year, month, day) = if a.len() == 4 && number(a).is_some() {
            (*a, month_of(b), *c)
        } else if starts_with_figure {
            (*c, month_of(b), *a)
        } else {
            (*c, month_named(a), *b)
        };
        // "14th" is 14.
        let day = ["st", "nd", "rd", "th"].iter().find_map(|ending| day.strip_suffix(ending)).unwrap_or(day);
        let (true, Some(year), Some(month), Some(day)) =
            (in_order, number(year).filter(|_| year.len() == 4), month, number(day))
        else {
            return Err(wrong());
        };
        let year = i32::try_from(year).map_err(|_| wrong())?;
        Self::of(year, month, day).ok_or_else(|| {
            let message = format!(
                "\"{text}\": there is no such day. Look at day and month, and write it as 2025-05-14."
            );
            DayError(message)
        })
    }
}

/// A month by number or name.
fn month_of(text: &str) -> Option<u32> {
    text.parse().ok().or_else(|| month_named(text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Days since 1970 of known dates: 2000-01-01 is 10957 and 2038-01-19 is 24855 (the last day of a signed 32-bit
    /// count of seconds, 2^31 / 86400 = 24855.1); 1858-11-17 is day 0 of the modified Julian date, 40587 days before
    /// 1970; 2000-02-29, 1900-03-01 and 2400-02-29 stand at the century rules.
    #[test]
    fn exact_known_dates() {
        let known = [
            ((1970, 1, 1), 0),
            ((1969, 12, 31), -1),
            ((2000, 1, 1), 10_957),
            ((2000, 2, 29), 11_016),
            ((2000, 3, 1), 11_017),
            ((2038, 1, 19), 24_855),
            ((1858, 11, 17), -40_587),
            ((1900, 2, 28), -25_509),
            ((1900, 3, 1), -25_508),
            ((1, 1, 1), -719_162),
            ((9999, 12, 31), 2_932_896),
        ];
        for ((year, month, day), days) in known {
            let found = Day::of(year, month, day).unwrap();
            assert_eq!(found.epoch_days(), days, "{year}-{month}-{day}");
            assert_eq!(found.date(), (year, month, day));
        }
        assert_eq!((FIRST, LAST), (Day::of(1, 1, 1).unwrap(), Day::of(9999, 12, 31).unwrap()));
    }

    #[test]
    fn exact_leap_years() {
        let has_leap_day = |year| Day::of(year, 2, 29).is_some();
        assert!([4, 1600, 1996, 2000, 2024, 2400].into_iter().all(has_leap_day));
        assert!(![1700, 1800, 1900, 2023, 2100, 2200].into_iter().any(has_leap_day));
        assert_eq!(Day::of(2024, 4, 31), None);
        assert_eq!(Day::of(2024, 13, 1), None);
        assert_eq!(Day::of(2024, 0, 1), None);
        assert_eq!(Day::of(2024, 1, 0), None);
        assert_eq!(Day::of(0, 1, 1), None);
        assert_eq!(Day::of(10_000, 1, 1), None);
    }

    /// Counting one day after the other through 800 years, two whole Gregorian cycles.
    #[test]
    fn exact_every_day_follows_the_one_before() {
        let mut date = (1800, 1, 1);
        let mut day = Day::of(1800, 1, 1).unwrap();
        while date.0 < 2600 {
            assert_eq!(day.date(), date);
            assert_eq!(Day::of(date.0, date.1, date.2), Some(day));
            date = match date {
                (y, 12, 31) => (y + 1, 1, 1),
                (y, m, d) if d == days_in_month(y, m) => (y, m + 1, 1),
                (y, m, d) => (y, m, d + 1),
            };
            day = day.plus_days(1);
        }
        assert_eq!(day.days_since(Day::of(1800, 1, 1).unwrap()), 2 * 146_097);
    }

    #[test]
    fn exact_months_end_with_the_month() {
        let plus = |y, m, d, months| Day::of(y, m, d).unwrap().plus_months(months).iso();
        assert_eq!(plus(2024, 1, 31, 1), "2024-02-29");
        assert_eq!(plus(2023, 1, 31, 1), "2023-02-28");
        assert_eq!(plus(2024, 2, 29, 12), "2025-02-28");
        assert_eq!(plus(2024, 12, 15, 1), "2025-01-15");
        assert_eq!(plus(2024, 5, 14, 0), "2024-05-14");
        assert_eq!(plus(2024, 5, 14, 24), "2026-05-14");
        assert_eq!(plus(9999, 5, 14, u32::MAX), "9999-12-31");
        assert_eq!(LAST.plus_days(i64::MAX), LAST);
        assert_eq!(FIRST.plus_days(i64::MIN), FIRST);
    }

    #[test]
    fn exact_ways_of_writing() {
        let day = Day::of(2025, 5, 14).unwrap();
        for text in [
            "2025-05-14",
            "14 May 2025",
            "14 may 2025",
            "May 14, 2025",
            "14.5.2025",
            "14.05.2025",
            "14th May 2025",
        ] {
            assert_eq!(text.parse(), Ok(day), "{text}");
        }
        assert_eq!("3 Sept 2024".parse(), Ok(Day::of(2024, 9, 3).unwrap()));
        assert_eq!(day.to_string(), "14 May 2025");
    }

    #[test]
    fn refuses_what_is_no_date() {
        for text in [
            "",
            "yesterday",
            "5/6/2025",
            "14 May",
            "14 Mau 2025",
            "2025-02-29",
            "31.4.2025",
            "1 May 25",
            "-1 May 2025",
            "14 Ma 2025",
        ] {
            let error = text.parse::<Day>().unwrap_err().to_string();
            assert!(error.contains(text) && error.ends_with('.'), "{error}");
        }
        assert!("5/6/2025".parse::<Day>().unwrap_err().to_string().contains("day or the month first"));
        assert!("2025-02-29".parse::<Day>().unwrap_err().to_string().contains("no such day"));
    }

    proptest! {
        #[test]
        fn round_trips_every_day(days in -719_162i64..=2_932_896) {
            let day = Day::from_epoch_days(days).unwrap();
            let (y, m, d) = day.date();
            prop_assert_eq!(Day::of(y, m, d), Some(day));
            prop_assert_eq!(day.iso().parse(), Ok(day));
            prop_assert!(y < 1000 || day.to_string().parse() == Ok(day));
        }

        #[test]
        fn exact_later_days_are_later_dates(a in -719_162i64..2_932_896, step in 1i64..1000) {
            let (first, second) = (Day::from_epoch_days(a).unwrap(), Day::from_epoch_days(a).unwrap().plus_days(step));
            prop_assert_eq!(first < second, first.date() < second.date());
        }

        #[test]
        fn refuses_without_a_panic(text in ".{0,24}") {
            let _ = text.parse::<Day>();
        }
    }
}
