//! The JSON Schema of the engine file, for editors that check while one types.

use super::spec::{Key, Kind, Need, Section, VERSION, When, spec};
use quantity::Dimension;
use serde_json::{Map, Value, json};

/// JSON Schema (draft 2020-12) of the engine file.
///
/// It follows the table of keys. It accepts every file that [`super::read`] accepts; what can only be reckoned
/// (ranges, units of the right kind, geometry) is left to the reader.
pub fn schema() -> Value {
    let mut root = object("The figures of one engine with an exhaust power valve, for Portwright.");
    root.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    root.insert("title".to_owned(), json!("Portwright engine file"));
    let mut properties = Map::new();
    let mut required = Vec::new();
    for section in spec().sections {
        if section.path.is_empty() {
            for key in section.keys {
                properties.insert(key.name.to_owned(), property(key));
                if key.need == Need::Required {
                    required.push(key.name);
                }
            }
        } else if !section.path.contains('.') {
            properties.insert(section.path.to_owned(), section_schema(section));
            if section.required {
                required.push(section.path);
            }
        }
    }
    properties.insert(
        "portwright".to_owned(),
        json!({ "const": VERSION, "description": "Version of the file's layout." }),
    );
    root.insert("properties".to_owned(), Value::Object(properties));
    root.insert("required".to_owned(), json!(required));
    Value::Object(root)
}

fn object(description: &str) -> Map<String, Value> {
    let mut object = Map::new();
    object.insert("type".to_owned(), json!("object"));
    object.insert("description".to_owned(), json!(description));
    object.insert("additionalProperties".to_owned(), json!(false));
    object
}

fn section_schema(section: &Section) -> Value {
    let mut object = object(section.doc);
    let mut properties: Map<String, Value> =
        section.keys.iter().map(|key| (key.name.to_owned(), property(key))).collect();
    let always = |key: &&Key| key.need == Need::Required && key.when == When::Always;
    let mut required: Vec<&str> = section.keys.iter().filter(always).map(|key| key.name).collect();
    for child in spec().sections {
        if let Some(name) = child.path.strip_prefix(section.path).and_then(|rest| rest.strip_prefix('.')) {
            properties.insert(name.to_owned(), section_schema(child));
            if child.required {
                required.push(name);
            }
        }
    }
    object.insert("properties".to_owned(), Value::Object(properties));
    object.insert("required".to_owned(), json!(required));
    let rules = rules(section);
    if !rules.is_empty() {
        object.insert("allOf".to_owned(), Value::Array(rules));
    }
    if section.repeated {
        return json!({ "type": "array", "minItems": 1, "description": section.doc, "items": object });
    }
    Value::Object(object)
}

/// What depends on other keys: one of a group, keys of a kind, keys that go together.
fn rules(section: &Section) -> Vec<Value> {
    let mut rules = Vec::new();
    for group in section.groups.iter().filter(|group| group.need == Need::Required) {
        let members = section.keys.iter().filter(|key| key.need == Need::OneOf { group: group.name });
        let one: Vec<Value> = members.map(|key| json!({ "required": [key.name] })).collect();
        rules.push(json!({ "anyOf": one }));
    }
    for key in section.keys.iter().filter(|key| key.need == Need::Required) {
        match key.when {
            When::Always => {}
            When::Says { key: other, words } => rules.push(json!({
                "if": { "properties": { other: { "enum": words } }, "required": [other] },
                "then": { "required": [key.name] },
            })),
            When::Given { key: other } => rules.push(json!({ "dependentRequired": { other: [key.name] } })),
        }
    }
    rules
}

fn property(key: &Key) -> Value {
    let mut schema = match key.holds {
        Kind::Figure(figure) => figure_schema(figure.dimension),
        Kind::Limit(figure) => json!({ "anyOf": [
            figure_schema(figure.dimension),
            {
                "type": "object",
                "properties": {
                    "value": figure_schema(figure.dimension),
                    "from": { "type": "string", "description": "Where the limit comes from." },
                },
                "required": ["value"],
                "additionalProperties": false,
            },
        ] }),
        Kind::Text { longest } => json!({ "type": "string", "minLength": 1, "maxLength": longest }),
        Kind::Count { least, most } => {
            or_not_known(json!({ "type": "integer", "minimum": least, "maximum": most }))
        }
        Kind::Flag => or_not_known(json!({ "type": "boolean" })),
        Kind::Word { words } => {
            let words: Vec<&str> = words.iter().map(|word| word.word).chain(["not known"]).collect();
            json!({ "enum": words })
        }
        Kind::Names => or_not_known(json!({ "type": "array", "items": { "type": "string" } })),
        Kind::Points => json!({
            "type": "array",
            "minItems": 2,
            "items": {
                "type": "object",
                "properties": {
                    "travel": figure_schema(Dimension::Angle),
                    "lift": figure_schema(Dimension::Length),
                },
                "required": ["travel", "lift"],
                "additionalProperties": false,
            },
        }),
    };
    if let Some(object) = schema.as_object_mut() {
        object.insert("description".to_owned(), json!(description(key)));
    }
    schema
}

fn or_not_known(schema: Value) -> Value {
    json!({ "anyOf": [schema, { "const": "not known" }] })
}

/// A figure in words: a digit, and behind it (unless a plain number is wanted) some sign of a unit.
fn figure_schema(dimension: Dimension) -> Value {
    const NOT_KNOWN: &str = "^\\s*[Nn][Oo][Tt] [Kk][Nn][Oo][Ww][Nn]\\s*$";
    if dimension == Dimension::Number {
        let pattern = format!("[0-9¼-¾⅐-⅞]|{NOT_KNOWN}");
        return json!({ "type": ["string", "number"], "pattern": pattern, "examples": [dimension.example()] });
    }
    let pattern = format!("[0-9¼-¾⅐-⅞].*[^0-9 .,±()+/-]|{NOT_KNOWN}");
    json!({ "type": "string", "pattern": pattern, "examples": [dimension.example(), "not known"] })
}

fn description(key: &Key) -> String {
    let mut text = key.doc.to_owned();
    if !key.from.is_empty() {
        text.push_str(&format!(" Measured from: {}.", key.from));
    }
    match key.holds {
        Kind::Figure(figure) | Kind::Limit(figure) => {
            text.push_str(&format!(" Accepted: {}.", figure.accepted));
            if let Some(usual) = figure.usual {
                text.push_str(&format!(" Usual: {usual} (common practice, no source)."));
            }
            if figure.dimension != Dimension::Number {
                text.push_str(&format!(" Units: {}.", figure.dimension.usual_units()));
            }
        }
        Kind::Word { words } => {
            let words: Vec<String> =
                words.iter().map(|word| format!("\"{}\": {}", word.word, word.meaning)).collect();
            text.push_str(&format!(" {}.", words.join("; ")));
        }
        _ => {}
    }
    text
}
