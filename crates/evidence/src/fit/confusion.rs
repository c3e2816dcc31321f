//! What the readings cannot tell apart.

use super::svd::Svd;
use serde::Serialize;
use std::fmt;

/// A change of several parameters together that the readings hardly see.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Confusion {
    /// Name and change of each parameter that takes part, in its own unit. For a finite uncertainty the changes are
    /// one standard deviation along the weakest direction; for readings that see nothing at all they are scaled so
    /// that the largest is as large as its parameter.
    pub parts: Vec<Part>,
}

/// One parameter's part in a confusion.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Part {
    /// Name of the parameter.
    pub name: String,
    /// Its change, sign included.
    pub change: f64,
}

impl Confusion {
    /// The weakest direction of a Jacobian whose columns were divided by `lengths`. A parameter takes part when it
    /// moves by a tenth or more of what the one that moves most does, in terms of its own uncertainty (`sizes`) or,
    /// where that is infinite, of its value.
    pub(super) fn of(svd: &Svd, lengths: &[f64], names: &[&str], sizes: &[f64], reach: Option<f64>) -> Self {
        let direction: Vec<f64> = svd
            .v
            .last()
            .map(|v| v.iter().zip(lengths).map(|(v, length)| v / length).collect())
            .unwrap_or_default();
        let relative = |at: usize, change: f64| (change / sizes.get(at).copied().unwrap_or(1.0)).abs();
        let most = direction.iter().enumerate().map(|(at, d)| relative(at, *d)).fold(0.0, f64::max);
        let scale = match reach {
            Some(reach) => reach / svd.s.last().copied().unwrap_or(1.0),
            None => 1.0 / most,
        };
        let first = direction.iter().enumerate().find(|(at, d)| relative(*at, **d) >= 0.1 * most);
        let sign = first.map_or(1.0, |(_, d)| d.signum());
        let parts = names
            .iter()
            .zip(&direction)
            .enumerate()
            .filter(|(at, (_, d))| relative(*at, **d) >= 0.1 * most)
            .map(|(_, (name, d))| Part { name: (*name).to_string(), change: sign * scale * d })
            .collect();
        Self { parts }
    }

    /// The names, as in a sentence: 'a', 'b' and 'c'.
    pub fn names(&self) -> String {
        listed(self.parts.iter().map(|part| format!("'{}'", part.name)).collect())
    }
}

impl fmt::Display for Confusion {
    /// The changes, as in a sentence: 'a' by +1.2 and 'b' by -0.4.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = |part: &Part| format!("'{}' by {:+}", part.name, three_digits(part.change));
        f.write_str(&listed(self.parts.iter().map(text).collect()))
    }
}

fn listed(mut items: Vec<String>) -> String {
    match (items.pop(), items.is_empty()) {
        (None, _) => "nothing".to_string(),
        (Some(only), true) => only,
        (Some(last), false) => format!("{} and {last}", items.join(", ")),
    }
}

/// The value rounded to three significant digits.
fn three_digits(value: f64) -> f64 {
    format!("{value:.2e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_words() {
        let part = |name: &str, change| Part { name: name.to_string(), change };
        let two = Confusion { parts: vec![part("pulley", 0.001_234_5), part("slack", -2.0)] };
        assert_eq!(two.names(), "'pulley' and 'slack'");
        assert_eq!(two.to_string(), "'pulley' by +0.00123 and 'slack' by -2");
        assert_eq!(Confusion { parts: vec![] }.names(), "nothing");
    }
}
