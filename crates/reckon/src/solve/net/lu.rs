//! A sparse system of equations with one fixed pattern, solved many times.
//!
//! The order of elimination is chosen once: the unknowns of the first kind (flows) first, then the others by
//! least degree. The pivots stand on the diagonal, where the equations of a circuit have them.

/// A matrix with its pattern and, after [`Lu::factor`], its factors.
#[derive(Clone, Debug)]
pub(super) struct Lu {
    /// Place of each unknown in the order of elimination.
    place: Vec<usize>,
    /// Columns of each row in that order, rising.
    columns: Vec<Vec<usize>>,
    /// Values beside them.
    values: Vec<Vec<f64>>,
    /// Where the diagonal stands in each row.
    diagonal: Vec<usize>,
    work: Vec<f64>,
}

/// A set of small numbers as bits.
#[derive(Clone)]
struct Bits(Vec<u64>);

impl Bits {
    fn new(n: usize) -> Self {
        Self(vec![0; n.div_ceil(64)])
    }
    fn put(&mut self, i: usize) {
        self.0[i / 64] |= 1 << (i % 64);
    }
    fn take(&mut self, i: usize) {
        self.0[i / 64] &= !(1 << (i % 64));
    }
    fn count(&self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }
    fn join(&mut self, other: &Self) {
        for (word, more) in self.0.iter_mut().zip(&other.0) {
            *word |= more;
        }
    }
    fn list(&self) -> Vec<usize> {
        let mut out = Vec::new();
        for (w, word) in self.0.iter().enumerate() {
            let mut left = *word;
            while left != 0 {
                out.push(w * 64 + left.trailing_zeros() as usize);
                left &= left - 1;
            }
        }
        out
    }
}

impl Lu {
    /// Prepares a system of `n` unknowns, of which the first `first` are eliminated first, for entries at
    /// these rows and columns and on the diagonal.
    pub(super) fn new(n: usize, first: usize, entries: &[(usize, usize)]) -> Self {
        let mut beside: Vec<Bits> = vec![Bits::new(n); n];
        for (row, column) in entries {
            if row != column {
                beside[*row].put(*column);
                beside[*column].put(*row);
            }
        }
        let mut order = Vec::with_capacity(n);
        let mut reaches: Vec<Vec<usize>> = Vec::with_capacity(n);
        let mut left: Vec<usize> = (first..n).collect();
        let mut flows = 0..first;
        while order.len() < n {
            let next = flows.next().unwrap_or_else(|| {
                let degrees = left.iter().map(|node| beside[*node].count());
                let least = degrees.enumerate().min_by_key(|(_, degree)| *degree);
                left.remove(least.map_or(0, |(at, _)| at))
            });
            let near = beside[next].list();
            let own = std::mem::replace(&mut beside[next], Bits::new(0));
            for other in &near {
                beside[*other].join(&own);
                beside[*other].take(*other);
                beside[*other].take(next);
            }
            order.push(next);
            reaches.push(near);
        }
        let mut place = vec![0; n];
        for (at, node) in order.iter().enumerate() {
            place[*node] = at;
        }
        let mut columns: Vec<Vec<usize>> = (0..n).map(|i| vec![i]).collect();
        for (at, near) in reaches.iter().enumerate() {
            for other in near {
                let other = place[*other];
                columns[at].push(other);
                columns[other].push(at);
            }
        }
        for row in &mut columns {
            row.sort_unstable();
            row.dedup();
        }
        let diagonal = columns
            .iter()
            .enumerate()
            // OK because every row was begun with its own place.
            .map(|(i, row)| row.binary_search(&i).unwrap_or(0))
            .collect();
        Self {
            values: columns.iter().map(|row| vec![0.0; row.len()]).collect(),
            place,
            columns,
            diagonal,
            work: vec![0.0; n],
        }
    }

    /// Empties the matrix.
    pub(super) fn clear(&mut self) {
        for row in &mut self.values {
            row.fill(0.0);
        }
    }

    /// Leaves of a row but one on its diagonal.
    pub(super) fn only(&mut self, row: usize) {
        let row = self.place[row];
        self.values[row].fill(0.0);
        self.values[row][self.diagonal[row]] = 1.0;
    }

    /// Adds to an entry of the pattern.
    pub(super) fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = (self.place[row], self.place[column]);
        if let Ok(at) = self.columns[row].binary_search(&column) {
            self.values[row][at] += value;
        } else {
            debug_assert!(false, "an entry outside the pattern: {row} {column}");
        }
    }

    /// Factors the matrix in place; false where a pivot is nothing.
    pub(super) fn factor(&mut self) -> bool {
        for i in 0..self.columns.len() {
            for (column, value) in self.columns[i].iter().zip(&self.values[i]) {
                self.work[*column] = *value;
            }
            for at in 0..self.diagonal[i] {
                let k = self.columns[i][at];
                let ahead = self.diagonal[k];
                let factor = self.work[k] / self.values[k][ahead];
                self.work[k] = factor;
                if factor != 0.0 {
                    let rest = self.columns[k][ahead + 1..].iter();
                    for (column, value) in rest.zip(&self.values[k][ahead + 1..]) {
                        self.work[*column] -= factor * value;
                    }
                }
            }
            for (column, value) in self.columns[i].iter().zip(&mut self.values[i]) {
                *value = self.work[*column];
            }
            let pivot = self.values[i][self.diagonal[i]];
            if pivot == 0.0 || !pivot.is_finite() {
                return false;
            }
        }
        true
    }

    /// Solves with the factors; `side` becomes the answer.
    pub(super) fn solve(&mut self, side: &mut [f64]) {
        for (unknown, at) in self.place.iter().enumerate() {
            self.work[*at] = side[unknown];
        }
        for i in 0..self.columns.len() {
            let before = self.columns[i].iter().zip(&self.values[i]);
            let sum: f64 = before
                .take(self.diagonal[i])
                .map(|(column, value)| value * self.work[*column])
                .sum();
            self.work[i] -= sum;
        }
        for i in (0..self.columns.len()).rev() {
            let d = self.diagonal[i];
            let after = self.columns[i][d + 1..]
                .iter()
                .zip(&self.values[i][d + 1..]);
            let sum: f64 = after
                .map(|(column, value)| value * self.work[*column])
                .sum();
            self.work[i] = (self.work[i] - sum) / self.values[i][d];
        }
        for (unknown, at) in self.place.iter().enumerate() {
            side[unknown] = self.work[*at];
        }
    }
}
