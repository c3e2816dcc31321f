//! The one place where the record looks at the clock.

use std::time::{SystemTime, UNIX_EPOCH};

/// Milliseconds since 1970-01-01 00:00 UTC; 0 when the computer's clock stands before that.
pub(crate) fn now_ms() -> i64 {
    SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .ok()
        .and_then(|since| i64::try_from(since.as_millis()).ok())
        .unwrap_or(0)
}
