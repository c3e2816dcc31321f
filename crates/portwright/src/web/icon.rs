//! The few signs of the app, drawn here.

use maud::PreEscaped;

type Sign = PreEscaped<&'static str>;

/// The mark of the program: a port whose roof is a movable edge.
pub(super) const MARK: Sign = PreEscaped(
    r#"<svg class="mark" viewBox="0 0 32 32" aria-hidden="true"><path class="mark-port" d="M5 14h22v8a6 6 0 0 1-6 6H11a6 6 0 0 1-6-6z"/><path class="mark-edge" d="M3 14h26"/><path class="mark-arrow" d="M16 10.5V3m-4 4 4-4 4 4"/></svg>"#,
);

pub(super) const PRINT: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="M5 7V2.5h10V7M5 14H2.5V7h15v7H15M5 11.5h10v6H5z"/></svg>"#,
);

pub(super) const DOWN: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2.5v10m-4.5-4 4.5 4.5 4.5-4.5M3 17h14"/></svg>"#,
);

pub(super) const PEN: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="M3 17l.8-3.8L14 3l3 3L6.8 16.2zM12 5l3 3"/></svg>"#,
);

pub(super) const FILE: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="M4.5 2.5h7l4 4v11h-11zM11 2.5V7h4.5"/></svg>"#,
);

pub(super) const PLAY: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path class="full play" d="M6 3.5v13l10-6.5z"/><path class="full pause" d="M5 4h3.5v12H5zM11.5 4H15v12h-3.5z"/></svg>"#,
);

pub(super) const LIGHT: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><circle cx="10" cy="10" r="6.5"/><path class="full" d="M10 3.5a6.5 6.5 0 0 1 0 13z"/></svg>"#,
);

pub(super) const WARN: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2.8 18 17H2zM10 8v4.2M10 14.3v.6"/></svg>"#,
);

pub(super) const PASS: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="m3.5 10.5 4.5 4.5 8.5-10"/></svg>"#,
);

pub(super) const FAIL: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="m4.5 4.5 11 11m0-11-11 11"/></svg>"#,
);

pub(super) const UNSURE: Sign = PreEscaped(
    r#"<svg class="icon" viewBox="0 0 20 20" aria-hidden="true"><path d="M6.5 7a3.5 3.5 0 1 1 5 3.1c-1 .5-1.5 1.1-1.5 2.2M10 15.6v.6"/></svg>"#,
);
