//! Tables over a few variables, and the one loop that multiplies them and sums a variable out.
//!
//! Variables are numbered by rank: the one with the most states has the highest rank, runs fastest in every
//! table, and so lies contiguous in the innermost loop.

use std::borrow::Cow;

/// A table of non-negative figures over the variables of `scope` (ranks ascending, the last runs fastest).
#[derive(Debug, Clone)]
pub(super) struct Factor<'a> {
    pub(super) scope: Vec<usize>,
    pub(super) values: Cow<'a, [f64]>,
}

/// A product of figures so small that digits may be lost; it is then formed again, scaled after each factor.
const NEARLY_LOST: f64 = 1e-250;

/// Tables whose largest figure is below this are scaled up.
const SMALL: f64 = 1e-20;

impl Factor<'_> {
    /// The number 1.
    pub(super) fn one() -> Self {
        Self { scope: Vec::new(), values: Cow::Owned(vec![1.0]) }
    }

    /// Distance in `values` between neighbouring states of each variable of `scope`.
    pub(super) fn strides(scope: &[usize], sizes: &[usize]) -> Vec<usize> {
        let mut strides = vec![1; scope.len()];
        for at in (1..scope.len()).rev() {
            strides[at - 1] = strides[at] * sizes[scope[at]];
        }
        strides
    }

    /// The same table, not copied unless something in it was observed: then the part that agrees with it.
    pub(super) fn given<'b>(&'b self, observed: &[Option<usize>], sizes: &[usize]) -> Factor<'b> {
        let strides = Self::strides(&self.scope, sizes);
        let (mut scope, mut free_strides, mut base) = (Vec::new(), Vec::new(), 0);
        for (&variable, stride) in self.scope.iter().zip(strides) {
            match observed[variable] {
                Some(state) => base += state * stride,
                None => {
                    scope.push(variable);
                    free_strides.push(stride);
                }
            }
        }
        if scope.len() == self.scope.len() {
            return Factor { scope, values: Cow::Borrowed(&self.values) };
        }
        let mut places = Odometer::new(scope.iter().map(|&v| sizes[v]).collect(), free_strides, vec![base]);
        let values = (0..places.turns())
            .map(|_| {
                let value = self.values[places.offsets[0]];
                places.advance();
                value
            })
            .collect();
        Factor { scope, values }
    }

    /// When the table's largest figure has become small, scales it by a power of two (exact) to be from 0.5 to 1.
    /// Returns the power taken out, `None` when every figure is zero.
    fn rescale(&mut self) -> Option<i64> {
        let largest = largest(&self.values);
        if largest <= 0.0 {
            return None;
        }
        if largest >= SMALL {
            return Some(0);
        }
        let (_, power) = libm::frexp(largest);
        // Two steps: one alone would overflow for figures near the smallest that there are.
        let (first, second) = (libm::ldexp(1.0, -power / 2), libm::ldexp(1.0, -power + power / 2));
        self.values.to_mut().iter_mut().for_each(|value| *value = *value * first * second);
        Some(i64::from(power))
    }

    fn holds(&self, other: &Factor<'_>) -> bool {
        other.scope.iter().all(|variable| self.scope.contains(variable))
    }
}

/// Multiplies `factors`, with `summed` summed out if given. Returns the table and the power of two taken out of
/// it; `None` when every figure is zero.
pub(super) fn combine<'a>(
    factors: Vec<Factor<'a>>,
    sizes: &[usize],
    summed: Option<usize>,
) -> Option<(Factor<'a>, i64)> {
    let (factors, mut power) = absorb(factors, sizes)?;
    let mut product = multiply(&factors, sizes, summed);
    if largest(&product.values) < NEARLY_LOST {
        let mut whole = Factor::one();
        for factor in factors {
            whole = multiply(&[whole, factor], sizes, None);
            power += whole.rescale()?;
        }
        product = multiply(&[whole], sizes, summed);
    }
    power += product.rescale()?;
    Some((product, power))
}

/// Multiplies every factor into one that holds all its variables, where there is one.
fn absorb<'a>(mut factors: Vec<Factor<'a>>, sizes: &[usize]) -> Option<(Vec<Factor<'a>>, i64)> {
    factors.sort_by_key(|factor| std::cmp::Reverse(factor.scope.len()));
    let (mut kept, mut power): (Vec<Factor<'a>>, i64) = (Vec::new(), 0);
    for factor in factors {
        match kept.iter().position(|wider| wider.holds(&factor)) {
            Some(at) => {
                let mut product = multiply(&[kept.swap_remove(at), factor], sizes, None);
                power += product.rescale()?;
                kept.push(product);
            }
            None => kept.push(factor),
        }
    }
    Some((kept, power))
}

fn multiply(factors: &[Factor<'_>], sizes: &[usize], summed: Option<usize>) -> Factor<'static> {
    let mut union: Vec<usize> = factors.iter().flat_map(|factor| factor.scope.iter().copied()).collect();
    union.sort_unstable();
    union.dedup();
    let scope: Vec<usize> = union.iter().copied().filter(|&variable| Some(variable) != summed).collect();
    let Some(&inner) = union.last() else {
        let product = factors.iter().map(|factor| factor.values[0]).product();
        return Factor { scope, values: Cow::Owned(vec![product]) };
    };
    let outer: Vec<usize> = scope.iter().copied().filter(|&variable| variable != inner).collect();
    // Factors with the innermost variable come first: they give rows, the others one figure.
    let mut ordered: Vec<&Factor<'_>> = factors.iter().collect();
    ordered.sort_by_key(|factor| factor.scope.last() != Some(&inner));
    let rows = ordered.iter().take_while(|factor| factor.scope.last() == Some(&inner)).count();
    let step = |factor: &Factor<'_>, variable: usize| {
        let at = factor.scope.iter().position(|&own| own == variable);
        at.map_or(0, |at| factor.scope[at + 1..].iter().map(|&own| sizes[own]).product())
    };
    let strides =
        outer.iter().flat_map(|&variable| ordered.iter().map(move |factor| step(factor, variable))).collect();
    let mut work = Product {
        rows,
        length: sizes[inner],
        repeats: summed.filter(|&variable| variable != inner).map_or(1, |variable| sizes[variable]),
        steps: ordered.iter().map(|factor| summed.map_or(0, |variable| step(factor, variable))).collect(),
        tables: ordered.iter().map(|factor| factor.values.as_ref()).collect(),
        scratch: vec![0.0; sizes[inner]],
    };
    let mut places =
        Odometer::new(outer.iter().map(|&v| sizes[v]).collect(), strides, vec![0; ordered.len()]);
    let values = if summed == Some(inner) { work.sums(&mut places) } else { work.lines(&mut places) };
    Factor { scope, values: Cow::Owned(values) }
}

/// What the innermost loops need: `tables`, those with the innermost variable first.
struct Product<'a> {
    tables: Vec<&'a [f64]>,
    /// How many tables have the innermost variable.
    rows: usize,
    /// States of the innermost variable.
    length: usize,
    /// States of the variable that is summed out, when it is not the innermost.
    repeats: usize,
    /// Distance between neighbouring states of that variable in each table.
    steps: Vec<usize>,
    scratch: Vec<f64>,
}

impl Product<'_> {
    /// One row of results for each place: the innermost variable stays.
    fn lines(&mut self, places: &mut Odometer) -> Vec<f64> {
        let mut values = vec![0.0; places.turns() * self.length];
        for line in values.chunks_exact_mut(self.length) {
            for repeat in 0..self.repeats {
                self.add_row(places, repeat, line);
            }
            places.advance();
        }
        values
    }

    /// One figure for each place: the innermost variable is summed out.
    fn sums(&mut self, places: &mut Odometer) -> Vec<f64> {
        let mut line = vec![0.0; self.length];
        (0..places.turns())
            .map(|_| {
                line.fill(0.0);
                self.add_row(places, 0, &mut line);
                places.advance();
                sum_of(&line)
            })
            .collect()
    }

    fn add_row(&mut self, places: &Odometer, repeat: usize, line: &mut [f64]) {
        let start = |at: usize| places.offsets[at] + repeat * self.steps[at];
        let figures = self.rows..self.tables.len();
        let factor: f64 = figures.map(|at| self.tables[at][start(at)]).product();
        if factor == 0.0 {
            return;
        }
        let row = |at: usize| &self.tables[at][start(at)..start(at) + self.length];
        match self.rows {
            1 => line.iter_mut().zip(row(0)).for_each(|(sum, a)| *sum += factor * a),
            2 => line.iter_mut().zip(row(0)).zip(row(1)).for_each(|((sum, a), b)| *sum += factor * a * b),
            _ => {
                self.scratch.iter_mut().zip(row(0)).for_each(|(product, a)| *product = factor * a);
                for at in 1..self.rows {
                    self.scratch.iter_mut().zip(row(at)).for_each(|(product, a)| *product *= a);
                }
                line.iter_mut().zip(&self.scratch).for_each(|(sum, product)| *sum += product);
            }
        }
    }
}

/// Largest of figures that are not negative, in strands that the processor can work on side by side.
fn largest(values: &[f64]) -> f64 {
    let mut strands = [0.0f64; 8];
    let chunks = values.chunks_exact(8);
    let rest = chunks.remainder().iter().fold(0.0, |most: f64, &value| most.max(value));
    for chunk in chunks {
        for (strand, &value) in strands.iter_mut().zip(chunk) {
            *strand = if value > *strand { value } else { *strand };
        }
    }
    strands.iter().fold(rest, |most, &strand| most.max(strand))
}

/// Sum in four strands, which the processor can work on side by side.
fn sum_of(values: &[f64]) -> f64 {
    let mut strands = [0.0; 4];
    let chunks = values.chunks_exact(4);
    let rest: f64 = chunks.remainder().iter().sum();
    for chunk in chunks {
        strands.iter_mut().zip(chunk).for_each(|(strand, value)| *strand += value);
    }
    strands.iter().sum::<f64>() + rest
}

/// Counts through all states of some variables, the last fastest, and keeps the place in each of several tables.
#[derive(Debug)]
pub(super) struct Odometer {
    sizes: Vec<usize>,
    digits: Vec<usize>,
    /// For each digit, the distance it moves in each table.
    strides: Vec<usize>,
    pub(super) offsets: Vec<usize>,
}

impl Odometer {
    /// `strides` hold, digit by digit, one distance for each entry of `offsets`.
    pub(super) fn new(sizes: Vec<usize>, strides: Vec<usize>, offsets: Vec<usize>) -> Self {
        Self { digits: vec![0; sizes.len()], sizes, strides, offsets }
    }

    pub(super) fn turns(&self) -> usize {
        self.sizes.iter().product()
    }

    pub(super) fn advance(&mut self) {
        let tables = self.offsets.len();
        for at in (0..self.digits.len()).rev() {
            let strides = &self.strides[at * tables..(at + 1) * tables];
            if self.digits[at] + 1 < self.sizes[at] {
                self.digits[at] += 1;
                self.offsets.iter_mut().zip(strides).for_each(|(offset, stride)| *offset += stride);
                return;
            }
            let back = self.digits[at];
            self.digits[at] = 0;
            self.offsets.iter_mut().zip(strides).for_each(|(offset, stride)| *offset -= back * stride);
        }
    }
}
