//! Full matrices of a few rows: solution by elimination, Cholesky's factor, eigenvalues of a symmetric one.
//!
//! Rows one after another in a slice. Methods: Gauss with partial pivoting; Jacobi's rotations, which end with all
//! digits right for the few rows met here. Source: G. H. Golub, C. F. Van Loan, Matrix Computations (from memory).

/// Solves `A x = b` in place: `b` becomes `x`. False where `A` is singular.
#[must_use]
pub fn solve_in_place(a: &mut [f64], b: &mut [f64]) -> bool {
    let n = b.len();
    for column in 0..n {
        let size = |row: &usize| a[row * n + column].abs();
        let Some(pivot) = (column..n).max_by(|i, j| size(i).total_cmp(&size(j))) else { return false };
        if a[pivot * n + column] == 0.0 {
            return false;
        }
        for k in 0..n {
            a.swap(column * n + k, pivot * n + k);
        }
        b.swap(column, pivot);
        for row in column + 1..n {
            let share = a[row * n + column] / a[column * n + column];
            for k in column..n {
                a[row * n + k] -= share * a[column * n + k];
            }
            b[row] -= share * b[column];
        }
    }
    for row in (0..n).rev() {
        let known: f64 = (row + 1..n).map(|k| a[row * n + k] * b[k]).sum();
        b[row] = (b[row] - known) / a[row * n + row];
    }
    true
}

/// The lower factor `L` of a symmetric positive definite matrix, or `None` where it is not.
#[must_use]
pub fn cholesky(a: &[f64], n: usize) -> Option<Vec<f64>> {
    let mut lower = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..=i {
            let done: f64 = (0..j).map(|k| lower[i * n + k] * lower[j * n + k]).sum();
            let rest = a[i * n + j] - done;
            if i == j {
                if rest.is_nan() || rest <= 0.0 {
                    return None;
                }
                lower[i * n + i] = rest.sqrt();
            } else {
                lower[i * n + j] = rest / lower[j * n + j];
            }
        }
    }
    Some(lower)
}

/// Eigenvalues of a symmetric matrix, rising, each with its vector.
#[must_use]
pub fn eigen(mut a: Vec<f64>, n: usize) -> Vec<(f64, Vec<f64>)> {
    let mut v: Vec<f64> = (0..n * n).map(|at| if at / n == at % n { 1.0 } else { 0.0 }).collect();
    for _ in 0..60 {
        let mut turned = false;
        for p in 0..n {
            for q in p + 1..n {
                let off = a[p * n + q];
                if off.abs() <= f64::EPSILON * (a[p * n + p] * a[q * n + q]).abs().sqrt() {
                    continue;
                }
                turned = true;
                let angle_ratio = (a[q * n + q] - a[p * n + p]) / (2.0 * off);
                let t = angle_ratio.signum() / (angle_ratio.abs() + angle_ratio.hypot(1.0));
                let c = 1.0 / t.hypot(1.0);
                let s = t * c;
                for k in 0..n {
                    let (kp, kq) = (a[k * n + p], a[k * n + q]);
                    (a[k * n + p], a[k * n + q]) = (c * kp - s * kq, s * kp + c * kq);
                }
                for k in 0..n {
                    let (pk, qk) = (a[p * n + k], a[q * n + k]);
                    (a[p * n + k], a[q * n + k]) = (c * pk - s * qk, s * pk + c * qk);
                    let (kp, kq) = (v[k * n + p], v[k * n + q]);
                    (v[k * n + p], v[k * n + q]) = (c * kp - s * kq, s * kp + c * kq);
                }
            }
        }
        if !turned {
            break;
        }
    }
    let mut pairs: Vec<_> =
        (0..n).map(|column| (a[column * n + column], (0..n).map(|row| v[row * n + column]).collect())).collect();
    pairs.sort_by(|x: &(f64, Vec<f64>), y| x.0.total_cmp(&y.0));
    pairs
}
