//! The known word nearest to a mistyped one.

/// The candidate that needs the fewest single-letter changes, when those are few enough for a slip of the pen.
pub fn nearest<'a>(typed: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed: Vec<char> = typed.to_lowercase().chars().take(80).collect();
    candidates
        .into_iter()
        .map(|candidate| (distance(&typed, &candidate.to_lowercase().chars().collect::<Vec<_>>()), candidate))
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, candidate)| *distance * 2 <= candidate.chars().count().max(3))
        .map(|(_, candidate)| candidate)
}

/// Letters to insert, drop, change or swap with their neighbour (restricted Damerau-Levenshtein distance).
fn distance(from: &[char], to: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, b) in to.iter().enumerate() {
            let mut best = (last[j] + usize::from(a != b)).min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && from[i - 1] == *b && *a == to[j - 1] {
                best = best.min(before[j - 1] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[to.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_counts_single_letter_changes() {
        let letters = |text: &str| text.chars().collect::<Vec<_>>();
        assert_eq!(distance(&letters("bore"), &letters("bore")), 0);
        assert_eq!(distance(&letters("boer"), &letters("bore")), 1);
        assert_eq!(distance(&letters(""), &letters("bore")), 4);
        assert_eq!(distance(&letters("stroke"), &letters("strokes")), 1);
    }

    #[test]
    fn refuses_to_guess_from_a_word_that_is_far_off() {
        assert_eq!(nearest("strok", ["bore", "stroke"]), Some("stroke"));
        assert_eq!(nearest("colour", ["bore", "stroke"]), None);
        assert_eq!(nearest("", ["bore"]), None);
    }
}
