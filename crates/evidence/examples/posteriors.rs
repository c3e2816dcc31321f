//! Answers questions to networks: JSON in on standard input, JSON out. `tests/inference/agree.py` speaks with it.
//!
//! In: `{"networks": [{"name": "...", "variables": [{"name", "states", "parents", "table"}], "questions":
//! [{"evidence": [[variable, state]], "target": variable}]}], "noisy": [{"leak": 0.1, "p": [0.5]}]}`, positions from 0,
//! tables as `evidence::network::Variable` wants them.
//! Out: `{"networks": [{"name", "answers": [{"posterior": [...], "probability": ...} or {"refused": "..."}]}],
//! "noisy": [[...]]}`.

use evidence::network::{Network, Variable, noisy_or};
use serde_json::{Value, json};
use std::io::{Read, Write};

type Failure = Box<dyn std::error::Error>;

fn main() -> Result<(), Failure> {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    let asked: Value = serde_json::from_str(&text)?;
    let networks = list(&asked["networks"])?.iter().map(answer).collect::<Result<Vec<Value>, _>>()?;
    let noisy = list(&asked["noisy"])?
        .iter()
        .map(|one| {
            let leak = one["leak"].as_f64().ok_or("'leak' is missing")?;
            Ok(json!(noisy_or(leak, &numbers(&one["p"])?)))
        })
        .collect::<Result<Vec<Value>, Failure>>()?;
    serde_json::to_writer(std::io::stdout(), &json!({ "networks": networks, "noisy": noisy }))?;
    std::io::stdout().write_all(b"\n")?;
    Ok(())
}

fn answer(asked: &Value) -> Result<Value, Failure> {
    let variables = list(&asked["variables"])?.iter().map(variable).collect::<Result<Vec<Variable>, _>>()?;
    let network = Network::new(variables)?;
    let answers = list(&asked["questions"])?
        .iter()
        .map(|one| posterior(&network, one))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(json!({ "name": asked["name"], "answers": answers }))
}

fn posterior(network: &Network, asked: &Value) -> Result<Value, Failure> {
    let mut evidence = Vec::new();
    for pair in list(&asked["evidence"])? {
        evidence.push((place(&pair[0])?, place(&pair[1])?));
    }
    let probability = network.probability(&evidence)?;
    Ok(match network.posterior(&evidence, place(&asked["target"])?) {
        Ok(posterior) => json!({ "posterior": posterior, "probability": probability }),
        Err(refusal) => json!({ "refused": refusal.to_string(), "probability": probability }),
    })
}

fn variable(asked: &Value) -> Result<Variable, Failure> {
    let text = |value: &Value| Ok::<_, Failure>(value.as_str().ok_or("a name is missing")?.to_string());
    Ok(Variable {
        name: text(&asked["name"])?,
        states: list(&asked["states"])?.iter().map(text).collect::<Result<_, _>>()?,
        parents: list(&asked["parents"])?.iter().map(place).collect::<Result<_, _>>()?,
        table: numbers(&asked["table"])?,
    })
}

fn list(value: &Value) -> Result<&Vec<Value>, Failure> {
    Ok(value.as_array().ok_or_else(|| format!("{value} stands where a list should"))?)
}

fn place(value: &Value) -> Result<usize, Failure> {
    let number = value.as_u64().ok_or_else(|| format!("{value} stands where a position should"))?;
    Ok(usize::try_from(number)?)
}

fn numbers(value: &Value) -> Result<Vec<f64>, Failure> {
    list(value)?.iter().map(|one| Ok(one.as_f64().ok_or_else(|| format!("{one} is no number"))?)).collect()
}
