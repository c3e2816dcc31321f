//! Acceptance limits, each with where it comes from.

use quantity::Measured;

/// A limit and its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// The limit itself.
    pub value: Measured,
    /// Where it comes from, in the user's words or "common practice, no source".
    pub from: String,
}

/// What a setting must meet.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// Valve edge at full travel may lie this far below or above flush, m.
    pub flush: Limit,
    /// Valve edge may stand this far above its closed position below the opening speed, m.
    pub closed: Limit,
    /// Least slack of the opening wire at closed park, m.
    pub opening_slack: Limit,
    /// Least slack of the closing wire over the whole travel (with a spring on the closing adjuster: least spring
    /// travel left before its coils touch), m.
    pub closing_slack: Limit,
    /// Least tension that keeps a spring-loaded sheath seated, N.
    pub seat_tension: Limit,
    /// Largest wire tension, N.
    pub wire_tension: Limit,
    /// Least ratio of stall torque to the servo's load.
    pub torque_margin: Limit,
    /// Largest tooth load on the last gear, N; checked when the gear radius is given.
    pub tooth_load: Option<Limit>,
    /// Blade edge may stand this far proud of the bore, m (usually zero: it must not).
    pub proud: Limit,
}
