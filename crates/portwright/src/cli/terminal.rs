//! The setting as text for a terminal.

use super::text::Text;
use workshop::report::{EndError, ErrorBand, GateState, Report, Step};

/// The whole setting, in the order a mechanic needs it.
pub(crate) fn setting(report: &Report) -> String {
    let mut text = Text::default();
    text.title(&format!("Setting: {}", report.engine.name));
    if report.engine.invented {
        text.paragraph(0, "An invented engine: no figure here belongs to a real one.");
    }
    if let Some(note) = &report.engine.note {
        text.paragraph(0, note);
    }
    text.heading("What to do");
    text.paragraph(2, &report.headline);
    text.paragraph(2, &report.matters);
    questions(&mut text, report);
    ends(&mut text, &report.ends);
    findings(&mut text, report);
    gates(&mut text, report);
    steps(&mut text, &report.steps);
    afterwards(&mut text, report);
    reasons(&mut text, report);
    basis(&mut text, report);
    text.into()
}

fn questions(text: &mut Text, report: &Report) {
    if report.questions.is_empty() {
        return;
    }
    text.heading("Questions first");
    for (number, question) in report.questions.iter().enumerate() {
        let line = question.line.map_or_else(String::new, |line| format!(" (line {line})"));
        text.item(2, &format!("{}.", number + 1), &format!("{}{line}: {}", question.key, question.text));
        text.paragraph(5, &format!("Likely: {}", question.likely));
        text.paragraph(5, &format!("If it is right as it stands: {}", question.confirm));
    }
}

fn ends(text: &mut Text, ends: &[EndError]) {
    if ends.is_empty() {
        return;
    }
    text.heading("Error at both ends");
    for end in ends {
        text.paragraph(2, &format!("{}: {}", end.end, end.what));
        text.rows([
            ("  as found", end.found.as_ref().map_or_else(|| "no reading tells".to_owned(), band)),
            ("  proposed", end.proposed.as_ref().map_or_else(|| "no setting proposed".to_owned(), band)),
            ("  accepted", end.accept.clone()),
        ]);
    }
}

fn band(band: &ErrorBand) -> String {
    format!("{}, {} of crank: {}", band.height.text, band.crank.text, band.verdict)
}

fn findings(text: &mut Text, report: &Report) {
    if !report.findings.is_empty() {
        text.heading("Found");
        for finding in &report.findings {
            text.item(
                2,
                if finding.serious { "!" } else { "-" },
                &format!("{}: {}", finding.name, finding.text),
            );
        }
    }
    if !report.conflicts.is_empty() {
        text.heading("Demands in conflict");
        for conflict in &report.conflicts {
            text.item(2, "!", &format!("{}: {}", conflict.between.join(" against "), conflict.by));
            text.paragraph(4, &conflict.change);
        }
    }
    if let Some(rule) = &report.gap_rule {
        text.heading("A fixed gap, and this engine's");
        text.paragraph(2, &rule.text);
    }
}

fn gates(text: &mut Text, report: &Report) {
    if report.gates.is_empty() {
        return;
    }
    text.heading("Before any first start");
    for gate in &report.gates {
        let mark = match gate.state {
            GateState::Pass => "[x]",
            GateState::Open => "[ ]",
            GateState::Stop => "[STOP]",
        };
        text.item(2, mark, &format!("{} {}", gate.question, gate.answer));
        text.paragraph(6, &gate.text);
    }
}

fn steps(text: &mut Text, steps: &[Step]) {
    if steps.is_empty() {
        return;
    }
    text.heading("Steps");
    for (number, step) in steps.iter().enumerate() {
        text.item(2, &format!("{}.", number + 1), &step.title);
        text.paragraph(5, &step.action);
        if let Some(turn) = step.turn.as_ref().filter(|turn| turn.text != step.action) {
            text.item(5, ">", &turn.text);
        }
        for seen in &step.see {
            let figure = seen.figure.as_ref().map_or_else(String::new, |figure| format!(": {}", figure.text));
            text.item(5, "see", &format!("{}{figure}. {}", seen.what, seen.how));
        }
        for caution in &step.cautions {
            text.item(5, "!", caution);
        }
    }
}

fn afterwards(text: &mut Text, report: &Report) {
    if !report.returns.is_empty() {
        text.heading("Return values: read these after the setting and keep them");
        text.rows(report.returns.iter().map(|value| (value.name.as_str(), value.figure.text.clone())));
    }
    if !report.drift.is_empty() {
        text.heading("Against the stored return values");
        for drift in &report.drift {
            text.item(2, if drift.real { "!" } else { "-" }, &drift.name);
            let figures = [&drift.stored, &drift.now, &drift.difference].map(|figure| figure.text.as_str());
            text.paragraph(
                4,
                &format!("stored {}, now {}, difference {}", figures[0], figures[1], figures[2]),
            );
            text.paragraph(4, &drift.text);
        }
    }
    if !report.demands.is_empty() {
        text.heading("Demands on the setting");
        for demand in &report.demands {
            let met = if demand.met { "met" } else { "NOT met" };
            text.item(2, "-", &format!("{} ({met})", demand.name));
            text.paragraph(4, &format!("required: {}", demand.required));
            text.paragraph(4, &format!("reached: {}", demand.reached));
        }
    }
}

fn reasons(text: &mut Text, report: &Report) {
    if !report.arithmetic.is_empty() {
        text.heading("The arithmetic, for a pocket calculator");
        for line in &report.arithmetic {
            text.item(2, "-", &format!("{}: {} = {}", line.what, line.sum, line.result));
            text.paragraph(4, &line.why);
        }
    }
    if !report.better.is_empty() {
        text.heading("Which measurement to better, the best first");
        for (at, line) in report.better.iter().enumerate() {
            text.item(2, &format!("{}.", at + 1), &line.text);
        }
    }
    if !report.budget.is_empty() {
        text.heading("What makes the band");
        for line in &report.budget {
            let share = format!("{:>3.0} %", line.share * 100.0);
            text.item(2, &share, &format!("{} ({}): {}", line.key, line.figure, line.buys));
        }
    }
}

fn basis(text: &mut Text, report: &Report) {
    if !report.ports.rows.is_empty() {
        text.heading("Port timing");
        text.table(&report.ports.columns, &report.ports.rows);
    }
    if !report.as_found.is_empty() {
        text.heading("As found");
        text.rows(report.as_found.iter().map(|row| (row.label.as_str(), row.value.clone())));
    }
    if !report.assumptions.is_empty() || !report.model_notes.is_empty() {
        text.heading("Assumed");
        for assumption in &report.assumptions {
            let told =
                format!("{}: {}. What giving it buys: {}", assumption.key, assumption.text, assumption.cost);
            text.item(2, "-", &told);
        }
        for note in &report.model_notes {
            text.item(2, "-", note);
        }
    }
    if !report.cautions.is_empty() {
        text.heading("Cautions");
        for caution in &report.cautions {
            text.item(2, "!", &format!("{}: {}", caution.title, caution.text));
        }
    }
}
