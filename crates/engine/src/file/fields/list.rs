//! Lists as one text: names between commas, points one a line.

/// Names between commas; one that holds a comma or quotes stands in quotes, its own quotes doubled.
pub fn split_names(text: &str) -> Vec<String> {
    let mut names = Vec::new();
    let mut name = String::new();
    let mut signs = text.chars().peekable();
    let mut quoted = false;
    while let Some(sign) = signs.next() {
        match sign {
            '"' if quoted && signs.peek() == Some(&'"') => {
                signs.next();
                name.push('"');
            }
            '"' if quoted || name.trim().is_empty() => quoted = !quoted,
            ',' | '\n' | '\r' if !quoted => names.push(std::mem::take(&mut name)),
            other => name.push(other),
        }
    }
    names.push(name);
    names.into_iter().map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect()
}

/// The text that [`split_names`] takes apart again.
pub fn join_names<T: AsRef<str>>(names: &[T]) -> String {
    let one = |name: &T| {
        let name = name.as_ref().trim();
        if name.contains([',', '"', '\n', '\r']) {
            format!("\"{}\"", name.replace('"', "\"\""))
        } else {
            name.to_owned()
        }
    };
    names.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// Points one a line or between semicolons, each travel and lift.
///
/// # Errors
/// One sentence naming the first line that is no point.
pub(super) fn split_points(text: &str) -> Result<Vec<(String, String)>, String> {
    let lines = text.split(['\n', ';']).map(str::trim).filter(|line| !line.is_empty());
    lines
        .enumerate()
        .map(|(at, line)| {
            let sign = equals(line).ok_or_else(|| {
                let line: String = line.chars().take(60).collect();
                format!("point {} ('{line}') has no equals sign; write each point on its own line like 20° = 1.1 mm, travel of the pulley first", at + 1)
            })?;
            let (travel, lift) = line.split_at(sign);
            Ok((travel.trim().to_owned(), lift.trim_start_matches('=').trim().to_owned()))
        })
        .collect()
}

/// Where travel ends: the first equals sign that does not belong to `k=2`.
fn equals(line: &str) -> Option<usize> {
    line.match_indices('=')
        .map(|(at, _)| at)
        .find(|at| !line.get(..*at).unwrap_or("").trim_end().ends_with(['k', 'K']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_names_with_any_sign() {
        let names = ["exhaust", "a, b", "say \"so\"", "\"", "two\nlines", "ends\"", "°"];
        assert_eq!(split_names(&join_names(&names)), names);
        assert_eq!(split_names(" a ,, b "), ["a", "b"]);
        assert_eq!(split_names(" , "), Vec::<String>::new());
    }

    #[test]
    fn exact_points_are_cut_at_their_own_equals_sign() {
        let points = split_points("0° = 0 mm; 40 ± 1° (k=2) = 3.1 ± 0.1 mm (k=2)\n\n").unwrap();
        assert_eq!(points.len(), 2);
        assert_eq!(points[1], ("40 ± 1° (k=2)".to_owned(), "3.1 ± 0.1 mm (k=2)".to_owned()));
    }

    #[test]
    fn refuses_a_point_without_an_equals_sign() {
        assert!(split_points("0° = 0 mm\n20° 1.1 mm").unwrap_err().starts_with("point 2 ('20° 1.1 mm')"));
    }
}
