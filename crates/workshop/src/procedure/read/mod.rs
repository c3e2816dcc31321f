//! A file of procedures, read: every problem at once, each with its line, its key and the mend.

mod check;
mod figure;
mod step;

use super::model::{FreeSheath, Parts, Procedure, Procedures, Side};
use figure::{Range, figure, may_figure};
use gear::sheath::Ends;
use quantity::Dimension::{Force, Length};
use quantity::Measured;
use std::collections::BTreeSet;
use userfile::{Fields, Layout, Problem};

/// What a file of procedures looks like, for sentences.
const LAYOUT: Layout = Layout {
    holds: "procedures",
    section: "procedure",
    line: "turn = \"opening\"",
    key: "flush-held",
    longest_text: 800,
};

/// Reads a file, over `base` where there is one.
pub(super) fn read(text: &str, base: Option<&Procedures>) -> Result<Procedures, Vec<Problem>> {
    userfile::read(text, &LAYOUT, |root| whole(root, base))
}

fn whole(root: &Fields<'_, '_>, base: Option<&Procedures>) -> Option<Procedures> {
    root.refuse_unknown(&["portwright", "parts", "sheath", "check", "procedure"]);
    root.version("portwright", true);
    let parts = parts(root, base.map(|base| &base.parts));
    let sheath = sheath(root, base.map(|base| &base.sheath));
    let checks = check::all(root, base.map_or(&[], |base| &base.checks));
    let mut seen = BTreeSet::new();
    let own: Vec<Procedure> =
        root.tables("procedure", 100).iter().filter_map(|fields| procedure(fields, &mut seen)).collect();
    if own.is_empty() && !["procedure", "parts", "sheath", "check"].iter().any(|key| root.gives(key)) {
        root.refuse("", "the file holds no procedure; begin one with [[procedure]] on a line of its own");
    }
    let mut procedures = base.map_or_else(Vec::new, |base| base.procedures.clone());
    for new in own {
        match procedures.iter_mut().find(|old| old.key == new.key) {
            Some(old) => *old = new,
            None => procedures.push(new),
        }
    }
    Some(Procedures { procedures, parts: parts?, sheath: sheath?, checks })
}

/// A figure of the file, else of the base, else a problem.
fn over(
    fields: Option<&Fields<'_, '_>>,
    key: &str,
    range: Range,
    base: Option<&Measured>,
) -> Option<Measured> {
    match (fields, base) {
        (Some(fields), _) if fields.gives(key) => may_figure(fields, key, range),
        (_, Some(base)) => Some(base.clone()),
        (Some(fields), None) => figure(fields, key, range),
        (None, None) => None,
    }
}

fn parts(root: &Fields<'_, '_>, base: Option<&Parts>) -> Option<Parts> {
    let fields = root.section("parts");
    if let Some(fields) = &fields {
        fields.refuse_unknown(&[
            "opening_length",
            "closing_length",
            "thread_play",
            "roof",
            "index_line",
            "home_slack",
            "source",
        ]);
        fields.may_text("source");
    } else if base.is_none() {
        root.refuse("parts", "this section is missing; write [parts] on a line of its own, its keys below");
    }
    let (small, long) = (Range::of(Length, -5e-3, 5e-3), Range::of(Length, -20e-3, 20e-3));
    let get = |key: &str, range: Range, of: fn(&Parts) -> &Measured| {
        over(fields.as_ref(), key, range, base.map(of))
    };
    let opening_length = get("opening_length", long, |parts| &parts.opening_length);
    let closing_length = get("closing_length", long, |parts| &parts.closing_length);
    let thread_play = get("thread_play", small, |parts| &parts.thread_play);
    let roof = get("roof", small, |parts| &parts.roof);
    let index_line = get("index_line", small, |parts| &parts.index_line);
    let home_slack = get("home_slack", Range::of(Length, 0.0, 50e-3), |parts| &parts.home_slack);
    Some(Parts {
        opening_length: opening_length?,
        closing_length: closing_length?,
        thread_play: thread_play?,
        roof: roof?,
        index_line: index_line?,
        home_slack: home_slack?,
    })
}

fn sheath(root: &Fields<'_, '_>, base: Option<&FreeSheath>) -> Option<FreeSheath> {
    let fields = root.section("sheath");
    if let Some(fields) = &fields {
        fields.refuse_unknown(&["free_length", "test_length", "test_weight", "test_droop", "ends", "source"]);
        fields.may_text("source");
    } else if base.is_none() {
        root.refuse("sheath", "this section is missing; write [sheath] on a line of its own, its keys below");
    }
    let get = |key: &str, range: Range, of: fn(&FreeSheath) -> &Measured| {
        over(fields.as_ref(), key, range, base.map(of))
    };
    let length = Range::of(Length, 1e-3, 2.0);
    let free_length = get("free_length", length, |sheath| &sheath.free_length);
    let test_length = get("test_length", length, |sheath| &sheath.test_length);
    let test_weight = get("test_weight", Range::of(Force, 1e-3, 100.0), |sheath| &sheath.test_weight);
    let test_droop = get("test_droop", Range::of(Length, 0.1e-3, 0.5), |sheath| &sheath.test_droop);
    let words =
        [("hinged", Ends::Hinged), ("clamped", Ends::Clamped), ("clamped-hinged", Ends::ClampedHinged)];
    let ends = match &fields {
        Some(fields) => fields.word("ends", &words, base.map(|base| base.ends)),
        None => base.map(|base| base.ends),
    };
    Some(FreeSheath {
        free_length: free_length?,
        test_length: test_length?,
        test_weight: test_weight?,
        test_droop: test_droop?,
        ends: ends?,
    })
}

fn procedure(fields: &Fields<'_, '_>, seen: &mut BTreeSet<String>) -> Option<Procedure> {
    fields.refuse_unknown(&["key", "name", "claim", "source", "step"]);
    let key = fields.new_key(seen);
    let (name, claim, source) = (fields.text("name"), fields.text("claim"), fields.text("source"));
    let tables = fields.tables("step", 40);
    let steps: Vec<_> = tables.iter().filter_map(step::read).collect();
    let whole = steps.len() == tables.len();
    let procedure = Procedure { key: key?, name: name?, claim: claim?, source: source?, steps };
    if !whole {
        return None;
    }
    for side in [Side::Opening, Side::Closing] {
        for (sprung, words) in [(true, "on the adjuster"), (false, "on the shaft")] {
            let none = procedure.last_step(side, sprung).is_none();
            // A procedure may be meant for one kind of spring only; then it has no step at all for the other.
            let meant = procedure.steps.iter().any(|step| step.spring.applies(sprung));
            if none && meant {
                fields.refuse(
                    "step",
                    format!(
                        "with a spring {words} no step sets the {0} adjuster; add a step with turn = \"{0}\", if only until = \"left as found\", or give every step the one kind of spring it is meant for with for = \"...\"",
                        side.name()
                    ),
                );
            }
        }
    }
    Some(procedure)
}
