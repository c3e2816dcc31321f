//! What fields are called in the trade's words.

use engine::file::fields::Field;
use std::collections::BTreeMap;

/// What the field is called, without its section: `Bore`, `Width, straight across`. Unknown fields are called by
/// their key.
pub fn label(key: &str) -> String {
    let Some(field) = Field::named(key) else { return key.to_owned() };
    let section = field.section.path;
    let words = match section {
        "gear.opening" | "gear.closing" => cable(field.key.name),
        "found" | "returns" => reading(field.key.name),
        "crank" | "head" | "crankcase" => crank(field.key.name),
        "valve" => valve(field.key.name),
        "port" => port(field.key.name),
        "gear" | "gear.spring" => gear(field.key.name, section),
        "servo" | "schedule" => servo(field.key.name),
        "limits" => limit(field.key.name),
        "gates" => gate(field.key.name),
        "pipe" | "intake" | "transfer_duct" => duct(field.key.name),
        "reed" | "carburettor" => inlet(field.key.name),
        "ignition" | "fuel" | "ambient" => charge(field.key.name, section),
        _ => engine(field.key.name),
    };
    let words = words.unwrap_or(field.key.name);
    if field.source { format!("{words}: where the limit comes from") } else { words.to_owned() }
}

/// What the field is called where it stands alone: with its port, cable or state.
pub fn full_label(fields: &BTreeMap<String, String>, key: &str) -> String {
    let Some(field) = Field::named(key) else { return key.to_owned() };
    let words = label(key);
    match (field.section.path, field.place) {
        ("port", Some(place)) => {
            let name = fields
                .get(&format!("port.{place}.name"))
                .map(|name| name.trim())
                .filter(|name| !name.is_empty());
            let name = name.map_or_else(|| format!("Port {place}"), |name| format!("Port \"{name}\""));
            format!("{name}: {}", lower(&words))
        }
        ("pipe", Some(place)) => {
            let name = fields.get(&format!("pipe.{place}.name")).map(|name| name.trim());
            let name = name.filter(|name| !name.is_empty());
            let name =
                name.map_or_else(|| format!("Pipe, piece {place}"), |name| format!("Pipe, \"{name}\""));
            format!("{name}: {}", lower(&words))
        }
        ("intake", _) => format!("Intake: {}", lower(&words)),
        ("reed", _) => format!("Reed block: {}", lower(&words)),
        ("carburettor", _) => format!("Carburettor: {}", lower(&words)),
        ("transfer_duct", _) => format!("Transfer ducts: {}", lower(&words)),
        ("ignition", _) => format!("Ignition: {}", lower(&words)),
        ("fuel", _) => format!("Fuel: {}", lower(&words)),
        ("ambient", _) => format!("Air of the day: {}", lower(&words)),
        ("gear.opening", _) => format!("Opening cable: {}", lower(&words)),
        ("gear.closing", _) => format!("Closing cable: {}", lower(&words)),
        ("gear.spring", _) => format!("Return spring: {}", lower(&words)),
        ("valve", _) => format!("Valve: {}", lower(&words)),
        ("servo", _) => format!("Servo: {}", lower(&words)),
        ("limits", _) => format!("Limit: {}", lower(&words)),
        ("found", _) => format!("As found: {}", lower(&words)),
        ("returns", _) => format!("Return value: {}", lower(&words)),
        ("gates", _) => format!("Gate: {}", lower(&words)),
        _ => words,
    }
}

/// With a small first letter.
pub(super) fn lower(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().collect::<String>() + letters.as_str())
}

/// With a capital first letter.
pub(crate) fn upper(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

fn engine(key: &str) -> Option<&'static str> {
    Some(match key {
        "portwright" => "Layout of the engine file",
        "sure" => "Odd figures that were checked and are right",
        "name" => "Name of the engine",
        "invented" => "Made-up engine",
        "note" => "Note",
        "cylinders" => "Cylinders",
        _ => return None,
    })
}

fn duct(key: &str) -> Option<&'static str> {
    Some(match key {
        "name" => "Name of the piece",
        "length" => "Length along the middle line",
        "inlet_diameter" => "Inner diameter where the gas comes in",
        "outlet_diameter" => "Inner diameter where the gas goes out",
        "wall_temperature" => "Temperature of the wall",
        "bend" => "All bends of the piece",
        "mouth_diameter" => "Inner diameter at the mouth",
        "inner_diameter" => "Inner diameter at the engine's end",
        "airbox_volume" => "Volume of the airbox",
        "foot_area" => "Area of all ducts at the crankcase",
        _ => return None,
    })
}

fn inlet(key: &str) -> Option<&'static str> {
    Some(match key {
        "petals" => "Number of petals",
        "material" => "Material of the petals",
        "petal_length" => "Free length of a petal",
        "petal_width" => "Width of a petal",
        "petal_thickness" => "Thickness of a petal",
        "stop_lift" => "Lift of the tip to its stop",
        "window_area" => "Area of all windows",
        "throat_diameter" => "Diameter of the throat",
        "throttle" => "Kind of throttle",
        "opening" => "How far it is open",
        _ => return None,
    })
}

fn charge(key: &str, section: &str) -> Option<&'static str> {
    Some(match (section, key) {
        ("ignition", "advance") => "Spark before top dead centre",
        ("ignition", "speed") => "Speed at which this holds",
        ("ignition", "advance_late") => "Spark before top dead centre at the higher speed",
        ("ignition", "speed_late") => "The higher speed",
        ("fuel", "kind") => "Kind of fuel",
        ("fuel", "equivalence_ratio") => "Richness of the mixture",
        ("fuel", "burned_share") => "Share of the fuel that burns",
        ("ambient", "pressure") => "Pressure of the air",
        ("ambient", "temperature") => "Temperature of the air",
        ("ambient", "humidity") => "Relative humidity of the air",
        _ => return None,
    })
}

fn crank(key: &str) -> Option<&'static str> {
    Some(match key {
        "bore" => "Bore",
        "stroke" => "Stroke",
        "rod_length" => "Rod length, centre to centre",
        "pin_offset" => "Pin offset",
        "deck_clearance" => "Crown edge below deck at top dead centre",
        "skirt_length" => "Skirt length, inlet side",
        "chamber_volume" => "Chamber volume",
        "squish_clearance" => "Squish gap",
        "squish_inner_diameter" => "Inner diameter of the squish band",
        "volume" => "Crankcase volume",
        _ => return None,
    })
}

fn port(key: &str) -> Option<&'static str> {
    Some(match key {
        "name" => "Name of the port",
        "group" => "What the port is for",
        "count" => "How many alike in one cylinder",
        "width" => "Width, straight across",
        "width_arc" => "Width, along the wall",
        "roof_below_deck" => "Roof below the deck",
        "roof_above_crown_at_bdc" => "Roof above the crown at bottom dead centre",
        "opens_after_tdc" => "Opens after top dead centre",
        "opens_before_bdc" => "Opens before bottom dead centre",
        "duration" => "Open from opening to closing",
        "floor_below_deck" => "Floor below the deck",
        "floor_above_crown_at_bdc" => "Floor above the crown at bottom dead centre",
        "floor_after_tdc" => "Crown meets the floor after top dead centre",
        "floor_before_bdc" => "Crown meets the floor before bottom dead centre",
        "corner_radius" => "Radius of all four corners",
        "roof_radius" => "Radius of the upper corners",
        "floor_radius" => "Radius of the lower corners",
        "roof_tilt" => "Tilt of the roof",
        "duct_angle" => "Angle of the duct",
        _ => return None,
    })
}

fn valve(key: &str) -> Option<&'static str> {
    Some(match key {
        "kind" => "Kind of valve",
        "closed_drop" => "Closed edge below the port roof",
        "closed_below_deck" => "Closed edge below the deck",
        "closed_above_crown_at_bdc" => "Closed edge above the crown at bottom dead centre",
        "closed_duration" => "Exhaust duration with the valve closed",
        "covers" => "Ports that the valve covers",
        "mechanical_end" => "Pulley angle at the valve's mechanical end",
        "slide_angle" => "Slide against the cylinder axis",
        "arm" => "Arm that drives the blade",
        "arm_start" => "Arm from square when closed",
        "radius" => "Radius of the edge",
        "start" => "Edge above level when closed",
        "ratio" => "Valve angle for each pulley angle",
        "points" => "Measured points",
        _ => return None,
    })
}

fn gear(key: &str, section: &str) -> Option<&'static str> {
    Some(match key {
        "opens" => "The valve opens when its pulley turns",
        "seen_from" => "That is seen from",
        "adjuster_seen_from" => "Turning of adjusters is seen from",
        "shaft_friction" => "Friction of valve shaft and blade",
        "mount_stiffness" => "Stiffness of the servo's mount",
        "gas_torque" => "Torque of the exhaust gas on the valve",
        "mark_radius" => "Radius of the witness mark",
        "kind" => "Where the spring sits",
        "at_closed" => "Closing torque with the valve closed",
        "torsion_rate" => "Rise of torque with travel",
        "rate" if section == "gear.spring" => "Rate",
        "free_length" => "Free length",
        "solid_length" => "Length with all coils touching",
        _ => return None,
    })
}

fn cable(key: &str) -> Option<&'static str> {
    Some(match key {
        "servo_radius" => "Groove radius at the servo",
        "valve_radius" => "Groove radius at the valve",
        "thread" => "Thread of the adjuster",
        "pitch" => "Pitch of the adjuster",
        "hand" => "Hand of the thread",
        "wire_stiffness" => "Stiffness of the wire",
        "wire_diameter" => "Diameter of the wire",
        "wire_length" => "Length of the wire",
        "wire_construction" => "How the wire is made",
        "sheath_stiffness" => "Stiffness of the sheath",
        "bends" => "Sum of all bends",
        "friction" => "Friction coefficient in the sheath",
        _ => return None,
    })
}

fn servo(key: &str) -> Option<&'static str> {
    Some(match key {
        "travel" => "Travel, closed park to full open",
        "stall_torque" => "Stall torque at the pulley",
        "motor_stall_torque" => "Stall torque of the motor",
        "efficiency" => "Efficiency of the reduction",
        "reduction" => "Motor turns for one pulley turn",
        "last_gear_radius" => "Pitch radius of the last gear wheel",
        "sensor_closed" => "Sensor at closed park",
        "sensor_open" => "Sensor at full open",
        "works_oil_pump" => "The pulley also works an oil pump",
        "opening_speed" => "Opening speed",
        "full_open_speed" => "Full-open speed",
        "park_travel" => "Travel commanded below the opening speed",
        _ => return None,
    })
}

fn limit(key: &str) -> Option<&'static str> {
    Some(match key {
        "flush" => "Edge from flush at full travel, at most",
        "closed" => "Edge above closed below the opening speed, at most",
        "opening_slack" => "Slack of the opening wire, at least",
        "closing_slack" => "Slack of the closing wire, at least",
        "seat_tension" => "Tension that keeps a sprung sheath seated, at least",
        "wire_tension" => "Tension of either wire, at most",
        "torque_margin" => "Stall torque over load, at least",
        "tooth_load" => "Load on the last gear's teeth, at most",
        "proud" => "Blade proud of the bore, at most",
        _ => return None,
    })
}

fn reading(key: &str) -> Option<&'static str> {
    Some(match key {
        "date" => "When it was read",
        "opening_play" => "Free play of the opening cable",
        "closing_play" => "Free play of the closing cable",
        "opening_gap" => "Gap at the opening adjuster",
        "closing_gap" => "Gap at the closing adjuster",
        "opening_thread" => "Thread showing at the opening adjuster",
        "closing_thread" => "Thread showing at the closing adjuster",
        "spring_length" => "Length of the spring on the closing adjuster",
        "edge_above_flush" => "Edge above flush, servo at full travel",
        "edge_above_closed" => "Edge above closed, servo at closed park",
        "mark_at_full" => "Witness mark, servo at full travel",
        "mark_at_closed" => "Witness mark, servo at closed park",
        "sensor_closed" => "Sensor, servo at closed park",
        "sensor_open" => "Sensor, servo at full travel",
        "play_felt" => "Play: where and which way it was felt",
        _ => return None,
    })
}

fn gate(key: &str) -> Option<&'static str> {
    Some(match key {
        "proud_closed" => "Edge proud of the bore, valve closed",
        "proud_open" => "Edge proud of the bore, valve fully open",
        "turn_closed" => "Full turn by hand, valve closed",
        "turn_open" => "Full turn by hand, valve fully open",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use engine::file::spec;

    #[test]
    fn exact_every_field_has_a_name_of_its_own_in_its_section() {
        for section in spec().sections {
            let number = if section.repeated { ".1" } else { "" };
            let dot = if section.path.is_empty() { "" } else { "." };
            let mut names: Vec<String> = section
                .keys
                .iter()
                .map(|key| label(&format!("{}{number}{dot}{}", section.path, key.name)))
                .collect();
            for name in &names {
                assert!(
                    !name.contains('_') && name.starts_with(char::is_uppercase),
                    "{} {name}",
                    section.path
                );
            }
            names.sort();
            names.dedup();
            assert_eq!(names.len(), section.keys.len(), "{}", section.path);
        }
    }
}
