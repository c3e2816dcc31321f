//! Networks in the Bayesian Interchange Format, as textbook networks are passed round in.
//!
//! Read are blocks `variable NAME { type discrete [ n ] { state, ... }; }` and
//! `probability ( CHILD | PARENT, ... ) { (state, ...) p, ...; }` or `{ table p, ...; }`, with `//` comments.

use evidence::network::Variable;

/// Reads a network; its variables come out with parents before children.
///
/// # Errors
/// A sentence saying where the text is not as expected.
pub fn read(text: &str) -> Result<Vec<Variable>, String> {
    let plain: String =
        text.lines().map(|line| line.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n");
    let (mut declared, mut tables) = (Vec::new(), Vec::new());
    let mut rest = plain.as_str();
    while let Some((head, after)) = rest.split_once('{') {
        let end = block_end(after).ok_or_else(|| format!("the block of '{}' has no end", head.trim()))?;
        let (body, next) = (&after[..end], &after[end + 1..]);
        match head.split_whitespace().next() {
            Some("variable") => declared.push((head.trim()[8..].trim(), states_of(body)?)),
            Some("probability") => tables.push((family_of(head)?, body)),
            Some("network") => {}
            _ => return Err(format!("'{}' is neither network, variable nor probability", head.trim())),
        }
        rest = next;
    }
    in_order(&declared, &tables)
}

/// Place of the brace that closes a block whose opening brace was read.
fn block_end(text: &str) -> Option<usize> {
    let mut depth = 1;
    text.char_indices().find_map(|(at, letter)| {
        depth += i32::from(letter == '{') - i32::from(letter == '}');
        (depth == 0).then_some(at)
    })
}

fn list_of(text: &str) -> Vec<&str> {
    text.split([',', ' ', '\t', '\n']).map(str::trim).filter(|word| !word.is_empty()).collect()
}

fn states_of(body: &str) -> Result<Vec<&str>, String> {
    let inner = body.split_once('{').and_then(|(_, after)| after.split_once('}'));
    inner.map(|(states, _)| list_of(states)).ok_or_else(|| format!("no states in '{}'", body.trim()))
}

/// The child, then its parents.
fn family_of(head: &str) -> Result<Vec<&str>, String> {
    let inner = head.split_once('(').and_then(|(_, after)| after.split_once(')'));
    let (family, _) = inner.ok_or_else(|| format!("no names in '{}'", head.trim()))?;
    Ok(family.split(['|', ',']).map(str::trim).filter(|name| !name.is_empty()).collect())
}

type Declared<'a> = (&'a str, Vec<&'a str>);
type Table<'a> = (Vec<&'a str>, &'a str);

fn in_order(declared: &[Declared<'_>], tables: &[Table<'_>]) -> Result<Vec<Variable>, String> {
    let mut placed: Vec<Variable> = Vec::new();
    let mut waiting: Vec<&Table<'_>> = tables.iter().collect();
    while !waiting.is_empty() {
        let known = |name: &str| placed.iter().position(|one| one.name == name);
        let ready =
            waiting.iter().position(|(family, _)| family[1..].iter().all(|&name| known(name).is_some()));
        let at =
            ready.ok_or_else(|| format!("the parents of '{}' are missing or in a ring", waiting[0].0[0]))?;
        let (family, body) = waiting.remove(at);
        let parents: Vec<usize> = family[1..].iter().filter_map(|name| known(name)).collect();
        let states = declared.iter().find(|one| one.0 == family[0]);
        let states = states.ok_or_else(|| format!("'{}' is not declared", family[0]))?.1.clone();
        let table = table_of(body, states.len(), &parents, &placed)?;
        let states = states.into_iter().map(str::to_string).collect();
        placed.push(Variable { name: family[0].to_string(), states, parents, table });
    }
    Ok(placed)
}

fn table_of(body: &str, states: usize, parents: &[usize], placed: &[Variable]) -> Result<Vec<f64>, String> {
    let rows: usize = parents.iter().map(|&one| placed[one].states.len()).product();
    let mut table = vec![f64::NAN; rows * states];
    for entry in body.split(';').map(str::trim).filter(|entry| !entry.is_empty()) {
        let (at, figures) = match entry.strip_prefix('(').and_then(|entry| entry.split_once(')')) {
            Some((key, figures)) => (row_of(&list_of(key), parents, placed)?, figures),
            None => (0, entry.strip_prefix("table").ok_or_else(|| format!("'{entry}' is no row"))?),
        };
        let figures = list_of(figures)
            .into_iter()
            .map(|word| word.parse().map_err(|_| format!("'{word}' is no number")))
            .collect::<Result<Vec<f64>, String>>()?;
        if figures.len() != states {
            return Err(format!("'{entry}' has {} figures for {states} states", figures.len()));
        }
        table[at * states..(at + 1) * states].copy_from_slice(&figures);
    }
    Ok(table)
}

fn row_of(key: &[&str], parents: &[usize], placed: &[Variable]) -> Result<usize, String> {
    if key.len() != parents.len() {
        return Err(format!("the row {key:?} names {} states for {} parents", key.len(), parents.len()));
    }
    key.iter().zip(parents).try_fold(0, |row, (state, &parent)| {
        let states = &placed[parent].states;
        let at = states.iter().position(|own| own == state);
        at.map(|at| row * states.len() + at)
            .ok_or_else(|| format!("'{}' has no state '{state}'", placed[parent].name))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const CHILD_FIRST: &str = "// a note\nnetwork n { }\nvariable b { type discrete [ 2 ] { yes, no }; }\n\
        variable a { type discrete [ 3 ] { x, y, z }; }\n\
        probability ( b | a ) { (z) 0.5, 0.5; (x) 0.1, 0.9; (y) 0.2, 0.8; }\n\
        probability ( a ) { table 0.2, 0.3, 0.5; }\n";

    #[test]
    fn exact_parents_come_first_and_rows_go_by_their_states() {
        let variables = read(CHILD_FIRST).expect("a network");
        assert_eq!(variables[0].name, "a");
        assert_eq!(variables[1].parents, [0]);
        assert_eq!(variables[1].table, [0.1, 0.9, 0.2, 0.8, 0.5, 0.5]);
    }

    #[test]
    fn refuses_texts_that_are_no_network() {
        for (spoilt, said) in [
            (CHILD_FIRST.replace("(z)", "(w)"), "'a' has no state 'w'"),
            (CHILD_FIRST.replace("0.1", "abc"), "'abc' is no number"),
            (CHILD_FIRST.replace("( a )", "( c )"), "'c' is not declared"),
            (CHILD_FIRST.replace("b | a", "b | d"), "the parents of 'b' are missing or in a ring"),
            (CHILD_FIRST.replace("0.2, 0.8", "0.8"), "'(y) 0.8' has 1 figures for 2 states"),
            ("variable a {".to_string(), "the block of 'variable a' has no end"),
        ] {
            assert_eq!(read(&spoilt).expect_err(said), said);
        }
    }
}
