//! Ports as groups that can be added, removed and put in another order. Each of these gives the fields to save.

use engine::file::fields::{Field, join_names, sections_of, split_names};
use engine::file::spec::spec;
use std::collections::BTreeMap;

type Fields = BTreeMap<String, String>;

/// Which way a port is moved in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Move {
    /// One place up.
    Up,
    /// One place down.
    Down,
}

/// Numbers of the ports that are described, in their order.
pub fn port_numbers(fields: &Fields) -> Vec<u32> {
    sections_of(fields, "port")
}

/// Names of the ports that have one.
pub(super) fn port_names(fields: &Fields) -> Vec<String> {
    let names =
        port_numbers(fields).into_iter().filter_map(|place| fields.get(&format!("port.{place}.name")));
    names.map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect()
}

/// A further port of a group (`transfer`): its number, and the fields to save.
pub fn add_port(fields: &Fields, group: &str) -> (u32, Vec<(String, String)>) {
    let place = port_numbers(fields).last().copied().unwrap_or(0).saturating_add(1);
    let taken = port_names(fields);
    let plain = if group == "exhaust main" { "exhaust" } else { group };
    let name = (1..=u32::MAX)
        .map(|at| if at == 1 { plain.to_owned() } else { format!("{plain} {at}") })
        .find(|name| !taken.contains(name))
        .unwrap_or_default();
    let key = |key: &str| format!("port.{place}.{key}");
    (place, vec![(key("name"), name), (key("group"), group.to_owned())])
}

/// Removes a port: its fields become blank, and it leaves the ports that the valve covers.
pub fn remove_port(fields: &Fields, place: u32) -> Vec<(String, String)> {
    let mut changes: Vec<(String, String)> = keys_of(place)
        .filter(|key| fields.get(key).is_some_and(|text| !text.is_empty()))
        .map(|key| (key, String::new()))
        .collect();
    let name = fields.get(&format!("port.{place}.name")).map_or("", |name| name.trim());
    let covers = split_names(fields.get("valve.covers").map_or("", String::as_str));
    if !name.is_empty() && covers.iter().any(|cover| cover == name) {
        let left: Vec<String> = covers.into_iter().filter(|cover| cover != name).collect();
        changes.push(("valve.covers".to_owned(), join_names(&left)));
    }
    let sure = split_names(fields.get("sure").map_or("", String::as_str));
    let prefix = format!("port.{place}.");
    if sure.iter().any(|key| key.starts_with(&prefix)) {
        let left: Vec<String> = sure.into_iter().filter(|key| !key.starts_with(&prefix)).collect();
        changes.push(("sure".to_owned(), join_names(&left)));
    }
    changes
}

/// Moves a port one place: the texts of the two ports change places. Nothing when there is no neighbour.
pub fn move_port(fields: &Fields, place: u32, way: Move) -> Vec<(String, String)> {
    let numbers = port_numbers(fields);
    let Some(at) = numbers.iter().position(|number| *number == place) else { return Vec::new() };
    let neighbour = match way {
        Move::Up => at.checked_sub(1),
        Move::Down => at.checked_add(1),
    };
    let Some(other) = neighbour.and_then(|at| numbers.get(at).copied()) else { return Vec::new() };
    let text = |key: &String| fields.get(key).cloned().unwrap_or_default();
    let mut changes = Vec::new();
    for (one, two) in keys_of(place).zip(keys_of(other)) {
        let (first, second) = (text(&one), text(&two));
        if first != second {
            changes.push((one, second));
            changes.push((two, first));
        }
    }
    if let Some(sure) = fields.get("sure") {
        let (here, there) = (format!("port.{place}."), format!("port.{other}."));
        let swapped: Vec<String> = split_names(sure)
            .into_iter()
            .map(|key| match (key.strip_prefix(&here), key.strip_prefix(&there)) {
                (Some(rest), _) => format!("{there}{rest}"),
                (_, Some(rest)) => format!("{here}{rest}"),
                _ => key,
            })
            .collect();
        if swapped != split_names(sure) {
            changes.push(("sure".to_owned(), join_names(&swapped)));
        }
    }
    changes
}

/// Every key that a port can have.
fn keys_of(place: u32) -> impl Iterator<Item = String> {
    let section = spec().section("port");
    section.into_iter().flat_map(move |section| {
        section
            .keys
            .iter()
            .map(move |key| Field { section, place: Some(place), key, source: false }.to_string())
    })
}
