//! Times of the record as the workshop's clock shows them.

use jiff::Timestamp;
use jiff::tz::TimeZone;

/// As 2031-04-05.
pub(super) fn date(at_ms: i64) -> String {
    shown(at_ms, "%Y-%m-%d")
}

/// As 2031-04-05, 14:03.
pub(super) fn date_and_time(at_ms: i64) -> String {
    shown(at_ms, "%Y-%m-%d, %H:%M")
}

fn shown(at_ms: i64, form: &str) -> String {
    match Timestamp::from_millisecond(at_ms) {
        Ok(at) => at.to_zoned(TimeZone::system()).strftime(form).to_string(),
        Err(_) => "an unknown time".to_owned(),
    }
}
