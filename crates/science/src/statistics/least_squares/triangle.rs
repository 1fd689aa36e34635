//! Many rows turned into few that say the same: Householder's QR of the derivatives with the residuals as a last column.
//!
//! A search for least squares sees lengths and angles alone, and turning leaves those. So the library's search works on
//! one row more than parameters, however many were measured.

/// Turns a matrix that is stored column by column until only its upper triangle is not zero. What is below is not
/// cleared.
///
/// Source: Golub and Van Loan 1996, Matrix Computations, algorithm 5.2.1 (from memory).
pub(super) fn triangle(matrix: &mut [f64], rows: usize) {
    let columns = matrix.chunks_exact_mut(rows.max(1));
    let mut done: Vec<&mut [f64]> = Vec::with_capacity(columns.len());
    // Each column is first turned by all before it, so that one pass over the columns will do.
    let mut factors: Vec<f64> = Vec::with_capacity(columns.len());
    let mut heads: Vec<f64> = Vec::with_capacity(columns.len());
    for column in columns {
        for (k, (mirror, factor)) in done.iter().zip(&factors).enumerate() {
            if let (Some(mirror), Some(rest)) = (mirror.get(k..), column.get_mut(k..)) {
                let along = factor * dot(mirror, rest);
                for (value, mirror) in rest.iter_mut().zip(mirror) {
                    *value += along * mirror;
                }
            }
        }
        let k = done.len();
        let (mut factor, mut turned) = (0.0, 0.0);
        if let Some(rest) = column.get_mut(k..) {
            let (length, first) = (length(rest), rest.first().copied().unwrap_or(0.0));
            turned = -length.copysign(first);
            let head = first - turned;
            if 0.0 < length {
                // The mirror is kept with a head of one, so that nothing overflows.
                for value in rest.iter_mut() {
                    *value /= head;
                }
                if let Some(first) = rest.first_mut() {
                    *first = 1.0;
                }
                factor = head / turned;
            }
        }
        factors.push(factor);
        heads.push(turned);
        done.push(column);
    }
    for (k, (column, turned)) in done.iter_mut().zip(heads).enumerate() {
        if let Some(place) = column.get_mut(k) {
            *place = turned;
        }
    }
}

/// In four sums, which the processor can form side by side.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (a4, b4) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = a4.remainder().iter().zip(b4.remainder()).map(|(a, b)| a * b).sum();
    let mut sums = [0.0; 4];
    for (a, b) in a4.zip(b4) {
        for ((sum, a), b) in sums.iter_mut().zip(a).zip(b) {
            *sum += a * b;
        }
    }
    rest + sums.iter().sum::<f64>()
}

/// √Σ x², by way of the largest where squares are too large or too small for a number.
fn length(values: &[f64]) -> f64 {
    let squares = dot(values, values);
    if (1e-280..1e280).contains(&squares) {
        return squares.sqrt();
    }
    let largest = values.iter().fold(0.0f64, |largest, value| largest.max(value.abs()));
    if largest <= 0.0 || !largest.is_finite() {
        return largest;
    }
    largest * values.iter().map(|value| (value / largest).powi(2)).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::DMatrix;
    use proptest::prelude::*;

    /// The upper triangle.
    fn upper(matrix: &[f64], rows: usize) -> DMatrix<f64> {
        DMatrix::from_column_slice(rows, matrix.len() / rows, matrix).upper_triangle()
    }

    proptest! {
        #[test]
        fn lengths_and_angles_of_columns_stay(values in proptest::collection::vec(-10.0..10.0f64, 36), rows in prop_oneof![Just(4usize), Just(6), Just(9), Just(12), Just(18)], size in -200i32..200) {
            // Columns of any size: lengths and angles relative to it.
            let before: Vec<f64> = values.clone();
            let mut scaled: Vec<f64> = values.iter().map(|v| v * 10f64.powi(size)).collect();
            triangle(&mut scaled, rows);
            let after = upper(&scaled, rows) / 10f64.powi(size);
            let before = DMatrix::from_column_slice(rows, values.len() / rows, &before);
            let (wanted, got) = (before.tr_mul(&before), after.tr_mul(&after));
            prop_assert!((wanted.clone() - got).amax() <= 1e-12 * wanted.amax());
        }
    }

    #[test]
    fn empty_columns_are_left_empty() {
        let mut matrix = [0.0, 0.0, 0.0, 3.0, 4.0, 0.0];
        triangle(&mut matrix, 3);
        let after = upper(&matrix, 3);
        assert!((after.column(1).norm() - 5.0).abs() < 1e-12 && after.column(0).norm() == 0.0);
        triangle(&mut [], 0);
    }
}
