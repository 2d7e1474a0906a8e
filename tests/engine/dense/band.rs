//! A symmetric matrix whose entries lie near the diagonal, and its factors L·D·Lᵀ.
//!
//! With four unknowns a node and elements between neighbours, nothing lies further than seven places off the
//! diagonal. The factors are found column by column as in any book; no pivoting, for the matrix is positive definite
//! wherever the work is held.
#![allow(clippy::needless_range_loop, reason = "a matrix is read by its indices")]

use super::wide::Wide;

/// Entries left of the diagonal that can be different from 0.
const REACH: usize = 7;

/// A symmetric matrix, lower half, row after row.
#[derive(Clone)]
pub struct Band {
    rows: Vec<[Wide; REACH + 1]>,
}

/// L and D of a matrix.
pub struct Factors {
    rows: Vec<[Wide; REACH + 1]>,
    pivots: Vec<Wide>,
}

impl Band {
    pub fn zero(size: usize) -> Self {
        Self { rows: vec![[Wide::ZERO; REACH + 1]; size] }
    }

    pub fn size(&self) -> usize {
        self.rows.len()
    }

    /// Adds to the entry at (`row`, `column`); of a symmetric pair, only the lower one is kept.
    pub fn add(&mut self, row: usize, column: usize, value: Wide) {
        if column <= row {
            assert!(row - column <= REACH, "entry too far off the diagonal");
            self.rows[row][REACH + column - row] += value;
        }
    }

    /// The factors, or nothing where the matrix is not positive definite: the work is not held, or buckles.
    pub fn factors(&self) -> Option<Factors> {
        let mut rows = vec![[Wide::ZERO; REACH + 1]; self.size()];
        let mut pivots = Vec::with_capacity(self.size());
        for row in 0..self.size() {
            let first = row.saturating_sub(REACH);
            // `scaled[k]` is L(row, k) times the pivot of k.
            let mut scaled = [Wide::ZERO; REACH + 1];
            for column in first..row {
                let mut sum = self.rows[row][REACH + column - row];
                for k in first.max(column.saturating_sub(REACH))..column {
                    sum -= scaled[REACH + k - row] * rows[column][REACH + k - column];
                }
                scaled[REACH + column - row] = sum;
            }
            let diagonal = self.rows[row][REACH];
            let mut pivot = diagonal;
            for column in first..row {
                let at = REACH + column - row;
                rows[row][at] = scaled[at] / pivots[column];
                pivot -= scaled[at] * rows[row][at];
            }
            // 22 digits lost of 32: what is left is rounding.
            if pivot.to_f64() <= 1e-22 * diagonal.to_f64() {
                return None;
            }
            pivots.push(pivot);
        }
        Some(Factors { rows, pivots })
    }
}

impl Factors {
    /// The vector that the matrix turns into `right_side`.
    pub fn solve(&self, right_side: &[Wide]) -> Vec<Wide> {
        let size = self.pivots.len();
        let mut x = right_side.to_vec();
        for row in 0..size {
            for column in row.saturating_sub(REACH)..row {
                let known = x[column];
                x[row] -= self.rows[row][REACH + column - row] * known;
            }
        }
        for row in 0..size {
            x[row] = x[row] / self.pivots[row];
        }
        for row in (0..size).rev() {
            let known = x[row];
            for column in row.saturating_sub(REACH)..row {
                x[column] -= self.rows[row][REACH + column - row] * known;
            }
        }
        x
    }
}
