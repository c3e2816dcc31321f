//! Which variables a question needs, and the order in which to sum them out.

/// Sets of variables, one row of bits for each variable: who shares a table with whom.
struct Neighbours {
    words: usize,
    bits: Vec<u64>,
}

impl Neighbours {
    fn of<'a>(scopes: impl Iterator<Item = &'a [usize]>, count: usize) -> Self {
        let words = count.div_ceil(64);
        let mut all = Self { words, bits: vec![0; words * count] };
        for scope in scopes {
            for &one in scope {
                for &other in scope {
                    all.join(one, other);
                }
            }
        }
        all
    }

    fn join(&mut self, one: usize, other: usize) {
        if one != other {
            self.bits[one * self.words + other / 64] |= 1 << (other % 64);
        }
    }

    fn row(&self, variable: usize) -> &[u64] {
        &self.bits[variable * self.words..(variable + 1) * self.words]
    }

    fn list(&self, variable: usize, into: &mut Vec<usize>) {
        into.clear();
        for (at, &word) in self.row(variable).iter().enumerate() {
            let mut left = word;
            while left != 0 {
                into.push(at * 64 + left.trailing_zeros() as usize);
                left &= left - 1;
            }
        }
    }

    /// Pairs of neighbours of `variable` that are not yet neighbours of each other, each counted twice.
    fn fill(&self, variable: usize, list: &[usize]) -> u32 {
        let own = self.row(variable);
        let missing = |other: usize| -> u32 {
            own.iter().zip(self.row(other)).map(|(a, b)| (a & !b).count_ones()).sum::<u32>() - 1
        };
        list.iter().map(|&other| missing(other)).sum()
    }

    /// Joins the neighbours of `variable` to each other and takes it out.
    fn take_out(&mut self, variable: usize, list: &[usize]) {
        for &one in list {
            for at in 0..self.words {
                self.bits[one * self.words + at] |= self.bits[variable * self.words + at];
            }
            self.bits[one * self.words + one / 64] &= !(1 << (one % 64));
            self.bits[one * self.words + variable / 64] &= !(1 << (variable % 64));
        }
    }
}

/// Marks the variables that matter: those asked for or observed, and all they descend from. The others are
/// barren: they sum to one and drop out.
pub(super) fn relevant(parents: &[&[usize]], seeds: impl Iterator<Item = usize>) -> Vec<bool> {
    let mut marked = vec![false; parents.len()];
    seeds.for_each(|seed| marked[seed] = true);
    // A parent stands before its child, so one pass from the end reaches every ancestor.
    for child in (0..parents.len()).rev() {
        if marked[child] {
            parents[child].iter().for_each(|&parent| marked[parent] = true);
        }
    }
    marked
}

/// Order in which to sum out `to_sum`, each time the variable that joins the fewest strangers (min-fill), and
/// among equals the one with the smallest table. With it the number of figures of the largest table.
pub(super) fn min_fill<'a>(
    scopes: impl Iterator<Item = &'a [usize]>,
    mut to_sum: Vec<usize>,
    sizes: &[usize],
) -> (Vec<usize>, f64) {
    let mut neighbours = Neighbours::of(scopes, sizes.len());
    let (mut order, mut largest, mut list) = (Vec::with_capacity(to_sum.len()), 1.0f64, Vec::new());
    while !to_sum.is_empty() {
        let mut best = (0, u32::MAX, f64::INFINITY);
        for (at, &variable) in to_sum.iter().enumerate() {
            neighbours.list(variable, &mut list);
            let fill = neighbours.fill(variable, &list);
            let figures = list.iter().fold(sizes[variable] as f64, |all, &other| all * sizes[other] as f64);
            if fill < best.1 || (fill == best.1 && figures < best.2) {
                best = (at, fill, figures);
            }
        }
        let variable = to_sum.swap_remove(best.0);
        neighbours.list(variable, &mut list);
        neighbours.take_out(variable, &list);
        largest = largest.max(best.2);
        order.push(variable);
    }
    (order, largest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_a_chain_needs_no_table_of_three() {
        let scopes: [&[usize]; 4] = [&[0, 1], &[1, 2], &[2, 3], &[3, 4]];
        let (order, largest) = min_fill(scopes.into_iter(), vec![1, 2, 3], &[2, 2, 2, 2, 2]);
        assert_eq!(order.len(), 3);
        assert_eq!(largest, 8.0, "a variable and its two neighbours");
    }

    #[test]
    fn exact_leaves_of_a_star_go_before_its_centre() {
        let scopes: [&[usize]; 3] = [&[0, 3], &[1, 3], &[2, 3]];
        let (order, largest) = min_fill(scopes.into_iter(), vec![3, 0, 1, 2], &[3, 3, 3, 600]);
        // With one leaf left, centre and leaf are alike.
        assert!(order.iter().position(|&one| one == 3) >= Some(2), "{order:?}");
        assert_eq!(largest, 1800.0);
    }

    #[test]
    fn exact_barren_variables_are_left_out() {
        // 0 -> 1 -> 3, 0 -> 2
        let parents: [&[usize]; 4] = [&[], &[0], &[0], &[1]];
        assert_eq!(relevant(&parents, [1].into_iter()), [true, true, false, false]);
        assert_eq!(relevant(&parents, [3].into_iter()), [true, true, false, true]);
    }
}
