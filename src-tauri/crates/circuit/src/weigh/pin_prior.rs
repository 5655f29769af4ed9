//! How probable it is, before any reading, that certain pins carry certain points, whatever the other pins carry: the
//! permanent of what is left (sum over all orders; by subsets, as in R. E. Bellman's and M. Held's and R. M. Karp's dynamic
//! programs of 1962: at most 8 × 2⁸ steps).

/// Sum over all orders of the products, one entry of each row and of each column. 1 for no rows.
pub(crate) fn permanent(rows: &[Vec<f64>]) -> f64 {
    let columns = rows.len().min(16);
    let mut sums = vec![0.0; 1 << columns];
    if let Some(first) = sums.first_mut() {
        *first = 1.0;
    }
    for row in rows {
        let mut next = vec![0.0; sums.len()];
        for (taken, sum) in sums.iter().enumerate().filter(|(_, sum)| **sum > 0.0) {
            for (j, chance) in row.iter().enumerate().take(columns).filter(|(j, _)| taken & (1 << j) == 0) {
                if let Some(entry) = next.get_mut(taken | (1 << j)) {
                    *entry += sum * chance;
                }
            }
        }
        sums = next;
    }
    sums.last().copied().unwrap_or(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 3 × 3 written out: the determinant's six products, all with a plus.
    #[test]
    fn three_by_three_as_written_out() {
        let rows = [vec![0.5, 0.3, 0.2], vec![0.1, 0.7, 0.4], vec![0.6, 0.2, 0.9]];
        let [a, b, c] = &rows;
        let all = a[0] * b[1] * c[2] + a[0] * b[2] * c[1] + a[1] * b[0] * c[2] + a[1] * b[2] * c[0];
        let all = all + a[2] * b[0] * c[1] + a[2] * b[1] * c[0];
        assert!((permanent(&rows) - all).abs() < 1e-12);
        assert!((permanent(&[]) - 1.0).abs() < 1e-12);
    }
}
