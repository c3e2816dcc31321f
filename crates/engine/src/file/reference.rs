//! The tables of keys for the page on the engine file.

use super::spec::{Group, Key, Kind, Need, Section, When, spec, usual_duration};
use crate::model::PortGroup;

/// Every section with its keys, as the Markdown tables of docs/engine-file.md.
pub fn reference_markdown() -> String {
    let mut page = String::new();
    for section in spec().sections {
        if section.path == "returns" || section.path == "gear.closing" {
            page.push_str(&same_keys(section));
            continue;
        }
        page.push_str(&section_table(section));
    }
    page.push_str(&usual_timing());
    page
}

/// Sections that share their keys with the one before are not listed twice.
fn same_keys(section: &Section) -> String {
    let other = if section.path == "returns" { "[found]" } else { "[gear.opening]" };
    format!("### `{}`\n\n{} Same keys as `{other}`.\n\n", section.heading(), section.doc)
}

fn section_table(section: &Section) -> String {
    let title = if section.path.is_empty() {
        "Above all sections".to_owned()
    } else {
        format!("`{}`", section.heading())
    };
    let need = if section.path.is_empty() || !section.required { "" } else { " Required." };
    let mut text = format!("### {title}\n\n{}{need}\n\n", section.doc);
    text.push_str(
        "| key | what it is, and where it is measured from | for example | accepted (usual) | left out |\n",
    );
    text.push_str("|---|---|---|---|---|\n");
    for key in section.keys {
        text.push_str(&row(section, key));
    }
    text.push('\n');
    for group in section.groups {
        text.push_str(&group_line(section, group));
    }
    for key in section.keys {
        text.push_str(&words(key));
    }
    text
}

fn row(section: &Section, key: &Key) -> String {
    let from = if key.from.is_empty() { String::new() } else { format!(" From: {}.", key.from) };
    let when = match key.when {
        When::Always => String::new(),
        When::Says { key: other, words } => format!(" Only with {other} = \"{}\".", words.join("\" or \"")),
        When::Given { key: other } => format!(" Goes with {other}."),
    };
    format!(
        "| `{}` | {}{from}{when} | `{}` | {} | {} |\n",
        key.name,
        key.doc,
        key.example,
        accepted(key),
        left_out(section, key)
    )
}

fn accepted(key: &Key) -> String {
    match key.holds {
        Kind::Figure(figure) | Kind::Limit(figure) => match figure.usual {
            Some(usual) => format!("{} ({usual})", figure.accepted),
            None => figure.accepted.to_string(),
        },
        Kind::Text { longest } => format!("up to {longest} letters"),
        Kind::Count { least, most } if least == most => least.to_string(),
        Kind::Count { least, most } => format!("{least} to {most}"),
        Kind::Flag => "true, false".to_owned(),
        Kind::Word { words } => words.iter().map(|word| word.word).collect::<Vec<_>>().join(", "),
        Kind::Names => "a list of texts".to_owned(),
        Kind::Points => "2 to 200 points".to_owned(),
    }
}

fn left_out(section: &Section, key: &Key) -> String {
    match key.need {
        Need::Required => "refused".to_owned(),
        Need::OneOf { group } => {
            let what = section.groups.iter().find(|other| other.name == group).map_or("", |group| group.what);
            format!("see {what} below")
        }
        Need::Optional { buys: "" } => "nothing".to_owned(),
        Need::Optional { buys } => format!("you do without: {buys}"),
        Need::Default { value, why, buys } => format!("{value}: {why}. Giving it buys: {buys}"),
        Need::Worked { rule, buys } => format!("{rule}. Giving it buys: {buys}"),
        Need::Means { value } => value.to_owned(),
    }
}

fn group_line(section: &Section, group: &Group) -> String {
    let members = section.keys.iter().filter(|key| key.need == Need::OneOf { group: group.name });
    let names: Vec<String> = members.map(|key| format!("`{}`", key.name)).collect();
    let without = match group.need {
        Need::Worked { rule, buys } => format!("Without any: {rule}. Giving it buys: {buys}."),
        _ => "It is needed.".to_owned(),
    };
    let mut what = group.what.to_owned();
    if let Some(first) = what.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    format!("{what}: give one of {}. {without}\n\n", names.join(", "))
}

fn words(key: &Key) -> String {
    let Kind::Word { words } = key.holds else { return String::new() };
    let list: Vec<String> = words.iter().map(|word| format!("\"{}\": {}", word.word, word.meaning)).collect();
    format!("`{}` can be {}.\n\n", key.name, list.join("; "))
}

fn usual_timing() -> String {
    let mut text = "### Usual open durations\n\nCommon practice, no source; outside them there is a question.\n\n| group | usual duration |\n|---|---|\n".to_owned();
    for (group, name) in [
        (PortGroup::ExhaustMain, "exhaust main"),
        (PortGroup::ExhaustAuxiliary, "exhaust auxiliary"),
        (PortGroup::Transfer, "transfer"),
        (PortGroup::Boost, "boost"),
    ] {
        if let Some(usual) = usual_duration(group) {
            text.push_str(&format!("| {name} | {usual} |\n"));
        }
    }
    text
}
