//! A sparse system of equations with one fixed pattern, solved many times.
//!
//! The order of elimination is chosen once: the unknowns of the first kind (flows) first, then the others by
//! least degree. The pivots stand on the diagonal, where the equations of a circuit have them.

/// A matrix with its pattern and, after [`Lu::factor`], its factors.
#[derive(Clone, Debug)]
pub(super) struct Lu {
    /// Place of each unknown in the order of elimination.
    place: Vec<usize>,
    /// Where each row begins in the two lists that follow, and where the last one ends.
    begins: Vec<usize>,
    /// Columns of the rows in that order, rising.
    columns: Vec<usize>,
    /// Values beside them.
    values: Vec<f64>,
    /// Where the diagonal of each row stands in the lists.
    diagonal: Vec<usize>,
    work: Vec<f64>,
    /// How many unknowns are eliminated first.
    first: usize,
}

/// The last system that was prepared: circuits that are asked about again and again have one pattern, and its
/// order of elimination need not be chosen anew.
#[derive(Debug, Default)]
pub struct Kept {
    entries: Vec<(usize, usize)>,
    lu: Option<Lu>,
}

impl Kept {
    /// A system for these entries, as [`Lu::new`] prepares it.
    pub(super) fn take(&mut self, n: usize, first: usize, entries: Vec<(usize, usize)>) -> Lu {
        match self.lu.take() {
            Some(lu) if lu.fits(n, first) && self.entries == entries => lu,
            _ => {
                let lu = Lu::new(n, first, &entries);
                self.entries = entries;
                lu
            }
        }
    }

    /// Keeps a system that was taken.
    pub(super) fn give(&mut self, lu: Lu) {
        self.lu = Some(lu);
    }
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
        let mut begins = vec![0];
        let mut diagonal = Vec::with_capacity(n);
        for (i, row) in columns.iter().enumerate() {
            let from = begins[i];
            // OK because every row was begun with its own place.
            diagonal.push(from + row.binary_search(&i).unwrap_or(0));
            begins.push(from + row.len());
        }
        let columns = columns.concat();
        Self {
            values: vec![0.0; columns.len()],
            place,
            begins,
            columns,
            diagonal,
            work: vec![0.0; n],
            first,
        }
    }

    fn fits(&self, n: usize, first: usize) -> bool {
        (self.place.len(), self.first) == (n, first)
    }

    /// Empties the matrix.
    pub(super) fn clear(&mut self) {
        self.values.fill(0.0);
    }

    /// Leaves of a row but one on its diagonal.
    pub(super) fn only(&mut self, row: usize) {
        let row = self.place[row];
        self.values[self.begins[row]..self.begins[row + 1]].fill(0.0);
        self.values[self.diagonal[row]] = 1.0;
    }

    /// Adds to an entry of the pattern.
    pub(super) fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = (self.place[row], self.place[column]);
        let from = self.begins[row];
        if let Ok(at) = self.columns[from..self.begins[row + 1]].binary_search(&column) {
            self.values[from + at] += value;
        } else {
            debug_assert!(false, "an entry outside the pattern: {row} {column}");
        }
    }

    /// Factors the matrix in place; false where a pivot is nothing.
    pub(super) fn factor(&mut self) -> bool {
        for i in 0..self.diagonal.len() {
            let (from, to) = (self.begins[i], self.begins[i + 1]);
            for at in from..to {
                self.work[self.columns[at]] = self.values[at];
            }
            for at in from..self.diagonal[i] {
                let k = self.columns[at];
                let ahead = self.diagonal[k];
                let factor = self.work[k] / self.values[ahead];
                self.work[k] = factor;
                if factor != 0.0 {
                    let rest = ahead + 1..self.begins[k + 1];
                    let columns = self.columns[rest.clone()].iter();
                    for (column, value) in columns.zip(&self.values[rest]) {
                        self.work[*column] -= factor * value;
                    }
                }
            }
            for at in from..to {
                self.values[at] = self.work[self.columns[at]];
            }
            let pivot = self.values[self.diagonal[i]];
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
        let sum = |work: &[f64], range: std::ops::Range<usize>| -> f64 {
            let columns = self.columns[range.clone()].iter();
            let row = columns.zip(&self.values[range]);
            row.map(|(column, value)| value * work[*column]).sum()
        };
        let n = self.diagonal.len();
        for i in 0..n {
            self.work[i] -= sum(&self.work, self.begins[i]..self.diagonal[i]);
        }
        for i in (0..n).rev() {
            let d = self.diagonal[i];
            let rest = sum(&self.work, d + 1..self.begins[i + 1]);
            self.work[i] = (self.work[i] - rest) / self.values[d];
        }
        for (unknown, at) in self.place.iter().enumerate() {
            side[unknown] = self.work[*at];
        }
    }
}
