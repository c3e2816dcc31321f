//! The engine file with the return values of its setting written into it.

use workshop::report::{Figure, Report};

/// Puts the return values into the `[returns]` section of the engine file and leaves every other line as it was.
///
/// `report` must be in metric units, so that writing and reading lose the least. `date` is in the user's words.
///
/// # Errors
/// A sentence, when the text is no TOML.
pub(crate) fn with_returns(text: &str, report: &Report, date: &str) -> Result<String, String> {
    let mut file: toml_edit::DocumentMut = text
        .parse()
        .map_err(|error| format!("The return values cannot be written into this file: {error}"))?;
    let mut section = toml_edit::Table::new();
    section.insert("date", toml_edit::value(date));
    for value in &report.returns {
        let key = value.key.rsplit('.').next().unwrap_or(&value.key);
        section.insert(key, toml_edit::value(written(&value.figure)));
        if let Some(mut place) = section.key_mut(key) {
            place.leaf_decor_mut().set_prefix(format!("# {}\n", value.name));
        }
    }
    section.decor_mut().set_prefix("\n# Return values: what must be read again after a rebuild.\n");
    file.remove("returns");
    file.insert("returns", toml_edit::Item::Table(section));
    Ok(file.to_string())
}

/// The return values as fields of a job card, key and text.
pub(crate) fn fields(report: &Report) -> Vec<(String, String)> {
    let last = |key: &str| key.rsplit('.').next().unwrap_or(key).to_owned();
    report
        .returns
        .iter()
        .map(|value| (format!("returns.{}", last(&value.key)), written(&value.figure)))
        .collect()
}

/// A figure as the engine file has it: the ± that is shown covers about 95 %, which the file marks with k=2.
fn written(figure: &Figure) -> String {
    if figure.text.contains('±') {
        format!("{} (k=2)", figure.text)
    } else {
        format!("{} exact", figure.text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::Kept;
    use quantity::Units;

    #[test]
    fn round_trips_the_return_values_through_the_file() {
        let kept = Kept::read(engine::file::DEMO.as_bytes()).map_err(|p| format!("{p:?}")).unwrap();
        let answer = kept.answer(Units::Metric);
        let text = with_returns(&kept.text, &answer.report, "2031-04-05").unwrap();
        let again = Kept::read(text.as_bytes()).map_err(|p| format!("{p:?}\n{text}")).unwrap();
        let stored = again.reading.engine.returns.clone().unwrap();
        assert_eq!(stored.date.as_deref(), Some("2031-04-05"));
        let twice = with_returns(&text, &answer.report, "2031-04-05").unwrap();
        assert_eq!(text, twice, "writing twice must not add a second section");
        let report = &again.answer(Units::Metric).report;
        assert!(!report.returns.is_empty());
        assert!(!report.drift.is_empty(), "the present state must be compared with the stored one");
    }

    #[test]
    fn regress_every_other_line_stays() {
        let kept = Kept::read(engine::file::DEMO.as_bytes()).map_err(|p| format!("{p:?}")).unwrap();
        let text = with_returns(&kept.text, &kept.answer(Units::Metric).report, "today").unwrap();
        let before: Vec<&str> =
            engine::file::DEMO.lines().take_while(|line| !line.contains("[returns]")).collect();
        let after: Vec<&str> = text.lines().take(before.len()).collect();
        assert_eq!(before, after);
    }
}
