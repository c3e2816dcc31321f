//! How probabilities and reasons are said.

use super::ranking::Reason;

/// "72 %", "under 1 %", "over 99 %".
pub(super) fn percent(probability: f64) -> String {
    if probability < 0.01 {
        "under 1 %".to_owned()
    } else if probability > 0.99 {
        "over 99 %".to_owned()
    } else {
        format!("{:.0} %", 100.0 * probability)
    }
}

fn likely(probability: f64) -> &'static str {
    match probability {
        p if p >= 0.97 => "Almost certain",
        p if p >= 0.9 => "Very likely",
        p if p >= 0.6 => "Likely",
        p if p >= 0.3 => "Possible",
        p if p >= 0.1 => "Less likely",
        p if p >= 0.01 => "Unlikely",
        _ => "As good as ruled out",
    }
}

/// One sentence; `because` and `against` are clauses, the strongest first.
pub(super) fn sentence(probability: f64, because: &[&str], against: &[&str]) -> String {
    let opening = format!("{} ({})", likely(probability), percent(probability));
    let because = list(&because[..because.len().min(3)]);
    let against = list(&against[..against.len().min(2)]);
    match (because.is_empty(), against.is_empty()) {
        (true, true) => format!("{opening}; nothing found so far speaks for or against it."),
        (false, true) => format!("{opening}, because {because}."),
        (true, false) => format!("{opening}; against it: {against}."),
        (false, false) => format!("{opening}, because {because}; against it: {against}."),
    }
}

/// "a", "a and b", "a, b and c".
pub(super) fn list(clauses: &[impl AsRef<str>]) -> String {
    match clauses {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [before @ .., last] => {
            let before: Vec<&str> = before.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", before.join(", "), last.as_ref())
        }
    }
}

/// A finding with what it does to the odds.
pub(super) fn reason(finding: &str, clause: &str, weight_bits: f64) -> Reason {
    let times = weight_bits.abs().exp2();
    let figure = if times >= 1000.0 {
        "over 1000".to_owned()
    } else if times >= 10.0 {
        format!("{times:.0}")
    } else {
        format!("{times:.1}")
    };
    let way = if weight_bits > 0.0 { "higher" } else { "lower" };
    Reason { finding: finding.to_owned(), text: format!("{clause} (odds {figure} times {way})"), weight_bits }
}

/// A heading as it stands inside a sentence.
pub(super) fn inside(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_sentences() {
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
        let text = sentence(0.72, &["the valve moves freely", "the sensor jumps"], &[]);
        assert_eq!(text, "Likely (72 %), because the valve moves freely and the sensor jumps.");
        let text = sentence(0.004, &[], &["the valve moves freely"]);
        assert_eq!(text, "As good as ruled out (under 1 %); against it: the valve moves freely.");
        assert_eq!(
            sentence(0.2, &[], &[]),
            "Less likely (20 %); nothing found so far speaks for or against it."
        );
        assert_eq!(reason("x", "the sensor jumps", 3.8).text, "the sensor jumps (odds 14 times higher)");
        assert_eq!(reason("x", "it is dry", -1.0).text, "it is dry (odds 2.0 times lower)");
    }
}
