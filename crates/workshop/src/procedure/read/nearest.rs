//! The known word nearest to a mistyped one.

/// The candidate with the fewest changes of single letters, when those are few enough for a slip of the pen.
pub(super) fn nearest<'a>(typed: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let letters = |text: &str| text.to_lowercase().chars().take(60).collect::<Vec<char>>();
    let typed = letters(typed);
    let changes = |candidate: &'a str| (distance(&typed, &letters(candidate)), candidate);
    let (fewest, found) = candidates.into_iter().map(changes).min_by_key(|(changes, _)| *changes)?;
    (2 * fewest <= found.chars().count().max(3)).then_some(found)
}

/// Letters to insert, drop or change.
fn distance(from: &[char], to: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (at, letter) in from.iter().enumerate() {
        let mut corner = at;
        let mut left = at + 1;
        let mut next = vec![left];
        for (above, other) in row.iter().skip(1).zip(to) {
            left = (corner + usize::from(letter != other)).min(above + 1).min(left + 1);
            corner = *above;
            next.push(left);
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}
