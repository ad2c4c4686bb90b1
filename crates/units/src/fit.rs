//! Least-squares fits of a few coefficients to a few datasheet points.

use nalgebra::{DMatrix, DVector};

/// The coefficients x that minimise |A·x − b|²; A has one row for each observation.
///
/// `None` when the observations do not determine the coefficients (fewer rows than columns, or columns that depend on
/// each other) or when a value is not finite.
#[must_use]
pub fn least_squares<const N: usize>(rows: &[[f64; N]], b: &[f64]) -> Option<[f64; N]> {
    if rows.len() != b.len() || rows.len() < N {
        return None;
    }
    // Columns are scaled to unit length so that the rank test does not depend on the units.
    let mut scale = [0.0_f64; N];
    for row in rows {
        for (s, v) in scale.iter_mut().zip(row) {
            *s += v * v;
        }
    }
    for s in &mut scale {
        *s = s.sqrt();
        if !(s.is_finite() && *s > 0.0) {
            return None;
        }
    }
    let a = DMatrix::from_fn(rows.len(), N, |i, j| rows[i][j] / scale[j]);
    let svd = a.svd(true, true);
    if svd.rank(1e-10) < N {
        return None;
    }
    let x = svd.solve(&DVector::from_column_slice(b), 1e-12).ok()?;
    let mut out = [0.0; N];
    for ((o, v), s) in out.iter_mut().zip(x.iter()).zip(&scale) {
        *o = v / s;
        if !o.is_finite() {
            return None;
        }
    }
    Some(out)
}

/// Least squares with every coefficient at least 0. While a coefficient comes out negative, the most negative one is
/// set to 0 and the rest are fitted again.
///
/// For a handful of coefficients. `None` as for [`least_squares`], or when no coefficient is left.
#[must_use]
pub fn least_squares_non_negative<const N: usize>(rows: &[[f64; N]], b: &[f64]) -> Option<[f64; N]> {
    let mut kept = [true; N];
    loop {
        let columns: Vec<usize> = (0..N).filter(|&j| kept[j]).collect();
        if columns.is_empty() || rows.len() < columns.len() {
            return None;
        }
        let a = DMatrix::from_fn(rows.len(), columns.len(), |i, j| rows[i][columns[j]]);
        let svd = a.svd(true, true);
        if svd.rank(1e-10) < columns.len() {
            return None;
        }
        let x = svd.solve(&DVector::from_column_slice(b), 1e-12).ok()?;
        let worst = (0..columns.len()).min_by(|&i, &j| x[i].total_cmp(&x[j]))?;
        if x[worst] >= 0.0 {
            let mut out = [0.0; N];
            for (value, &column) in x.iter().zip(&columns) {
                out[column] = *value;
            }
            return Some(out);
        }
        kept[columns[worst]] = false;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_through_two_points_is_exact() {
        let x = least_squares(&[[1.0, 1.0], [1.0, 3.0]], &[2.0, 6.0]).unwrap();
        assert!(x[0].abs() < 1e-12 && (x[1] - 2.0).abs() < 1e-12);
    }

    #[test]
    fn dependent_columns_have_no_answer() {
        assert!(least_squares(&[[1.0, 2.0], [2.0, 4.0], [3.0, 6.0]], &[1.0, 2.0, 3.0]).is_none());
    }

    #[test]
    fn a_negative_coefficient_is_set_to_zero() {
        // b = 1 − 0.5·x at x = 0 and 1. A line would need a negative slope; the best constant is 0.75.
        let x = least_squares_non_negative(&[[1.0, 0.0], [1.0, 1.0]], &[1.0, 0.5]).unwrap();
        assert!((x[0] - 0.75).abs() < 1e-12 && x[1].abs() < 1e-12);
    }
}
