//! Linear algebra of a chain: block-tridiagonal 2 × 2 factors with a border, and a small dense one.
//!
//! All loops run over lengths fixed when the work space was made, so an index stays in its range.

/// Symmetric 2 × 2 block: `[a, b, d]` for `a b / b d`.
pub(crate) type Sym = [f64; 3];

/// Full 2 × 2 block by rows.
pub(crate) type Full = [f64; 4];

/// One unknown pair.
pub(crate) type Pair = [f64; 2];

/// Sum of the products of two columns, eight running sums abreast: one alone waits for each addition.
pub(crate) fn dot(a: &[Pair], b: &[Pair]) -> f64 {
    let (fours, others) = (a.chunks_exact(4), b.chunks_exact(4));
    let mut rest = 0.0;
    for (a, b) in fours.remainder().iter().zip(others.remainder()) {
        rest += a[0] * b[0] + a[1] * b[1];
    }
    let mut sums = [[0.0; 2]; 4];
    for (a, b) in fours.zip(others) {
        for ((sum, a), b) in sums.iter_mut().zip(a).zip(b) {
            sum[0] += a[0] * b[0];
            sum[1] += a[1] * b[1];
        }
    }
    sums.iter().fold(rest, |all, sum| all + (sum[0] + sum[1]))
}

/// A symmetric block-tridiagonal matrix and its factors.
#[derive(Debug, Default, Clone)]
pub(crate) struct Band {
    /// Diagonal blocks.
    pub(crate) diag: Vec<Sym>,
    /// Block between i and i + 1.
    pub(crate) off: Vec<Full>,
    inverse: Vec<Sym>,
    low: Vec<Full>,
    /// Negative pivots of the last factor: the count of negative eigenvalues.
    pub(crate) negative: usize,
}

impl Band {
    /// Room for `n` blocks.
    pub(crate) fn resize(&mut self, n: usize) {
        self.diag.resize(n, [0.0; 3]);
        self.inverse.resize(n, [0.0; 3]);
        self.off.resize(n, [0.0; 4]);
        self.low.resize(n, [0.0; 4]);
    }

    /// Factors the matrix plus `shift` on the diagonal of the blocks that are free.
    ///
    /// Gives false where a pivot vanishes: another shift is needed.
    pub(crate) fn factor(&mut self, shift: f64, free: &[bool]) -> bool {
        self.negative = 0;
        let n = self.diag.len();
        for (i, free) in free.iter().enumerate().take(n) {
            let [mut a, mut b, mut d] = self.diag[i];
            if *free {
                a += shift;
                d += shift;
            }
            let size = a.abs().max(d.abs()).max(b.abs());
            if i > 0 {
                let c = self.off[i - 1];
                let [p, q, r] = self.inverse[i - 1];
                // low = inverse × off
                let l = [
                    p * c[0] + q * c[2],
                    p * c[1] + q * c[3],
                    q * c[0] + r * c[2],
                    q * c[1] + r * c[3],
                ];
                a -= c[0] * l[0] + c[2] * l[2];
                b -= c[0] * l[1] + c[2] * l[3];
                d -= c[1] * l[1] + c[3] * l[3];
                self.low[i - 1] = l;
            }
            let det = a * d - b * b;
            let norm = a.abs().max(d.abs()).max(b.abs());
            if !(det.abs() > 1e-18 * norm * norm && norm > 1e-11 * size && norm < 1e11 * size) {
                return false;
            }
            if det < 0.0 {
                self.negative += 1;
            } else if a + d < 0.0 {
                self.negative += 2;
            }
            self.inverse[i] = [d / det, -b / det, a / det];
        }
        true
    }

    /// Solves in place with the last factor.
    pub(crate) fn solve(&self, x: &mut [Pair]) {
        self.solve_abreast([x]);
    }

    /// Solves for many columns, which lie one after the other, in place.
    pub(crate) fn solve_all(&self, columns: &mut [Pair]) {
        let n = self.diag.len();
        let mut fours = columns.chunks_exact_mut(4 * n);
        for four in &mut fours {
            let (left, right) = four.split_at_mut(2 * n);
            let ((a, b), (c, d)) = (left.split_at_mut(n), right.split_at_mut(n));
            self.solve_abreast([a, b, c, d]);
        }
        for column in fours.into_remainder().chunks_exact_mut(n) {
            self.solve(column);
        }
    }

    /// Solves for columns abreast: each place of a column waits for the one before it, and meanwhile the others go on.
    fn solve_abreast<const K: usize>(&self, mut columns: [&mut [Pair]; K]) {
        let n = self.diag.len();
        for i in 1..n {
            let l = self.low[i - 1];
            for x in &mut columns {
                let [p, q] = x[i - 1];
                x[i][0] -= l[0] * p + l[2] * q;
                x[i][1] -= l[1] * p + l[3] * q;
            }
        }
        for i in (0..n).rev() {
            let [a, b, d] = self.inverse[i];
            let l = self.low[i];
            for x in &mut columns {
                let [p, q] = x[i];
                let mut r = [a * p + b * q, b * p + d * q];
                if i + 1 < n {
                    let [s, t] = x[i + 1];
                    r[0] -= l[0] * s + l[1] * t;
                    r[1] -= l[2] * s + l[3] * t;
                }
                x[i] = r;
            }
        }
    }
}

/// A small dense symmetric matrix, told by its half at and under the diagonal, factored with pivots from the diagonal.
#[derive(Debug, Default, Clone)]
pub(crate) struct Dense {
    n: usize,
    a: Vec<f64>,
    order: Vec<usize>,
    scratch: Vec<f64>,
    /// Negative pivots of the last factor.
    pub(crate) negative: usize,
}

impl Dense {
    /// Makes it an `n` × `n` matrix of zeros.
    pub(crate) fn reset(&mut self, n: usize) {
        self.n = n;
        self.a.clear();
        self.a.resize(n * n, 0.0);
        self.order.clear();
        self.order.extend(0..n);
        self.scratch.resize(n, 0.0);
    }

    /// Adds to the entry at a row and a column.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.a[row * self.n + column] += value;
    }

    /// Factors in place. False where a pivot vanishes.
    pub(crate) fn factor(&mut self) -> bool {
        let n = self.n;
        self.negative = 0;
        let size = self.a.iter().fold(0.0_f64, |most, v| most.max(v.abs()));
        for k in 0..n {
            let mut best = k;
            for i in k + 1..n {
                if self.a[i * n + i].abs() > self.a[best * n + best].abs() {
                    best = i;
                }
            }
            if best != k {
                self.exchange(k, best);
            }
            let pivot = self.a[k * n + k];
            if pivot.abs() <= 1e-17 * size || !pivot.is_finite() {
                return false;
            }
            if pivot < 0.0 {
                self.negative += 1;
            }
            for i in k + 1..n {
                self.scratch[i] = self.a[i * n + k];
            }
            for i in k + 1..n {
                let factor = self.scratch[i] / pivot;
                self.a[i * n + k] = factor;
                if factor == 0.0 {
                    continue;
                }
                let row = &mut self.a[i * n + k + 1..=i * n + i];
                for (value, column) in row.iter_mut().zip(&self.scratch[k + 1..=i]) {
                    *value -= factor * column;
                }
            }
        }
        true
    }

    /// Gives two rows, the first above the second, each other's number, and their columns with them: in the half at and
    /// under the diagonal, which alone is kept up.
    fn exchange(&mut self, k: usize, best: usize) {
        let n = self.n;
        for j in 0..k {
            self.a.swap(k * n + j, best * n + j);
        }
        for i in k + 1..best {
            self.a.swap(i * n + k, best * n + i);
        }
        for i in best + 1..n {
            self.a.swap(i * n + k, i * n + best);
        }
        self.a.swap(k * n + k, best * n + best);
        self.order.swap(k, best);
    }

    /// Solves in place with the last factor.
    pub(crate) fn solve(&mut self, x: &mut [f64]) {
        let n = self.n;
        for i in 0..n {
            self.scratch[i] = x[self.order[i]];
        }
        for i in 0..n {
            for j in 0..i {
                let l = self.a[i * n + j];
                self.scratch[i] -= l * self.scratch[j];
            }
        }
        for i in 0..n {
            self.scratch[i] /= self.a[i * n + i];
        }
        for i in (0..n).rev() {
            for j in i + 1..n {
                let l = self.a[j * n + i];
                self.scratch[i] -= l * self.scratch[j];
            }
        }
        for i in 0..n {
            x[self.order[i]] = self.scratch[i];
        }
    }
}
