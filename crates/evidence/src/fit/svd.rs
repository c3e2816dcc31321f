//! Singular values of a small matrix by one-sided Jacobi rotations.

/// `matrix = U diag(s) Vᵀ`, all by columns, singular values falling.
#[derive(Debug, Clone)]
pub(super) struct Svd {
    /// Columns of U: unit vectors, or all zeros where the singular value is zero.
    pub u: Vec<Vec<f64>>,
    /// Singular values, largest first.
    pub s: Vec<f64>,
    /// Columns of V.
    pub v: Vec<Vec<f64>>,
}

/// Sum of products.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Length of a vector.
pub(super) fn norm(a: &[f64]) -> f64 {
    dot(a, a).sqrt()
}

impl Svd {
    /// Of the matrix with the given columns, all of one length and finite.
    ///
    /// Columns are turned against each other until all are orthogonal (Hestenes 1958; Demmel and Veselic 1992 show
    /// that small singular values keep their relative accuracy when the columns are scaled well).
    pub(super) fn of(columns: &[Vec<f64>]) -> Self {
        let n = columns.len();
        let mut u = columns.to_vec();
        let mut v: Vec<Vec<f64>> =
            (0..n).map(|i| (0..n).map(|j| if i == j { 1.0 } else { 0.0 }).collect()).collect();
        // Six sweeps are usual; the limit only guards against an endless loop.
        for _ in 0..60 {
            let mut turned = false;
            for right in 1..n {
                for left in 0..right {
                    turned |= turn(&mut u, &mut v, left, right);
                }
            }
            if !turned {
                break;
            }
        }
        let mut order: Vec<(f64, usize)> = u.iter().map(|column| norm(column)).zip(0..n).collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0));
        let scaled = |(s, at): &(f64, usize)| -> Vec<f64> {
            let column = u.get(*at).map_or(&[][..], Vec::as_slice);
            column.iter().map(|x| if *s > 0.0 { x / s } else { 0.0 }).collect()
        };
        Self {
            u: order.iter().map(scaled).collect(),
            s: order.iter().map(|(s, _)| *s).collect(),
            v: order.iter().filter_map(|(_, at)| v.get(*at).cloned()).collect(),
        }
    }
}

/// Turns two columns so that they become orthogonal; false when they already are.
fn turn(u: &mut [Vec<f64>], v: &mut [Vec<f64>], left: usize, right: usize) -> bool {
    let (Some(a), Some(b)) = (u.get(left), u.get(right)) else { return false };
    let (aa, bb, ab) = (dot(a, a), dot(b, b), dot(a, b));
    if ab == 0.0 || ab.abs() <= f64::EPSILON * (aa * bb).sqrt() {
        return false;
    }
    let zeta = (bb - aa) / (2.0 * ab);
    let tangent = zeta.signum() / (zeta.abs() + (1.0 + zeta * zeta).sqrt());
    let cosine = 1.0 / (1.0 + tangent * tangent).sqrt();
    let sine = cosine * tangent;
    for columns in [u, v] {
        let (head, tail) = columns.split_at_mut(right);
        let (Some(a), Some(b)) = (head.get_mut(left), tail.first_mut()) else { continue };
        for (a, b) in a.iter_mut().zip(b.iter_mut()) {
            (*a, *b) = (cosine * *a - sine * *b, sine * *a + cosine * *b);
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_two_by_two() {
        // [3 0; 4 5]: singular values √45 and √5.
        let found = Svd::of(&[vec![3.0, 4.0], vec![0.0, 5.0]]);
        assert!((found.s[0] - 45f64.sqrt()).abs() < 1e-14);
        assert!((found.s[1] - 5f64.sqrt()).abs() < 1e-14);
    }

    #[test]
    fn conserves_the_matrix_and_orthogonality() {
        let columns: Vec<Vec<f64>> = (0..5)
            .map(|j| (0..9).map(|i| ((3 * i + 7 * j * j + 1) as f64).sin() * 10f64.powi(j)).collect())
            .collect();
        let Svd { u, s, v } = Svd::of(&columns);
        assert!(s.windows(2).all(|pair| pair[0] >= pair[1]));
        for (j, column) in columns.iter().enumerate() {
            for (i, entry) in column.iter().enumerate() {
                let again: f64 = (0..5).map(|k| u[k][i] * s[k] * v[k][j]).sum();
                assert!((again - entry).abs() < 1e-11, "{again} {entry}");
            }
        }
        for a in 0..5 {
            for b in 0..5 {
                let wanted = if a == b { 1.0 } else { 0.0 };
                assert!((dot(&u[a], &u[b]) - wanted).abs() < 1e-13);
                assert!((dot(&v[a], &v[b]) - wanted).abs() < 1e-13);
            }
        }
    }

    #[test]
    fn exact_dependent_columns_have_no_width() {
        let found = Svd::of(&[vec![1.0, 2.0, 3.0], vec![2.0, 4.0, 6.0], vec![0.0, 0.0, 0.0]]);
        assert!((found.s[0] - 70f64.sqrt()).abs() < 1e-14);
        assert!(found.s[1] < 1e-15 && found.s[2] < 1e-15);
        assert!(Svd::of(&[]).s.is_empty());
    }
}
