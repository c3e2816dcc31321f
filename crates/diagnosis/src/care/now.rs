//! The present of an engine, from its job cards.

use super::counter;
use super::{Day, Now, Visit};

impl Now {
    /// Today's day with the largest hours and distance that any job card tells: counters do not run backwards.
    /// A text that cannot be read is passed over; [`super::History`] names it.
    pub fn of<'a>(day: Day, visits: impl IntoIterator<Item = Visit<'a>>) -> Self {
        let mut now = Self { day, hours: None, km: None };
        for visit in visits {
            let text =
                |key: &str| visit.entries.get(key).map(|text| text.trim()).filter(|text| !text.is_empty());
            let larger = |old: Option<f64>, new: Option<f64>| old.into_iter().chain(new).reduce(f64::max);
            now.hours = larger(now.hours, text("care.hours").and_then(|text| counter::hours(text).ok()));
            now.km = larger(now.km, text("care.distance").and_then(|text| counter::km(text).ok()));
        }
        now
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    #[test]
    fn exact_the_largest_counter_of_all_cards_counts() {
        let card = |pairs: &[(&str, &str)]| -> BTreeMap<String, String> {
            pairs.iter().map(|(key, text)| ((*key).to_owned(), (*text).to_owned())).collect()
        };
        let cards = [
            card(&[("care.hours", "40 h"), ("care.distance", "1000 km")]),
            card(&[("care.hours", "38.5 h"), ("care.distance", "many")]),
            card(&[]),
        ];
        let day = Day::of(2031, 4, 5).unwrap();
        let now = Now::of(day, cards.iter().map(|entries| Visit { day, entries }));
        assert_eq!((now.day, now.hours, now.km), (day, Some(40.0), Some(1000.0)));
    }
}
