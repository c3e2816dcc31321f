//! Drawn figures in the trade's words.

use crate::form::full_label;
use std::collections::BTreeMap;

/// What a drawn figure is called to a reader: `gear.opening.friction` becomes "Opening cable: friction coefficient",
/// `step 2: edge read` becomes "Hands, step 2: edge read". What is not known keeps its key.
pub(in crate::procedure) fn figure_name(key: &str) -> String {
    if key.starts_with("step ") {
        return format!("Hands, {key}");
    }
    let own = match key {
        "parts.opening_length" => "Next engine: length of the opening cable",
        "parts.closing_length" => "Next engine: length of the closing cable",
        "parts.thread_play (opening)" => "Opening adjuster: play of its thread",
        "parts.thread_play (closing)" => "Closing adjuster: play of its thread",
        "parts.roof" => "Next engine: height of the port roof",
        "parts.index_line" => "Next engine: place of the index line",
        "parts.home_slack" => "Slack with the adjusters screwed home",
        "sheath.free_length" => "Sheath: free length between guides",
        "sheath.test_length" => "Sheath, droop test: length",
        "sheath.test_weight" => "Sheath, droop test: weight",
        "sheath.test_droop" => "Sheath, droop test: how far it sinks",
        "valve.points.travel" => "Valve, measured points: travel",
        "valve.points.lift" => "Valve, measured points: edge height",
        _ => return full_label(&BTreeMap::new(), key),
    };
    own.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::tests::demo;
    use crate::procedure::{Procedures, Run, Scope};

    #[test]
    fn exact_every_drawn_figure_of_the_demo_engine_has_a_name_in_words() {
        let (engine, procedures) = (demo(), Procedures::built_in());
        for procedure in &procedures.procedures {
            let run = Run::new(&engine, &procedures, procedure, Scope::LikeEngines, 1).unwrap();
            for input in run.inputs() {
                let name = figure_name(&input.name);
                assert!(!name.contains('_') && !name.contains('.'), "{} is called {name}", input.name);
            }
        }
        assert_eq!(figure_name("step 2: edge read"), "Hands, step 2: edge read");
    }
}
