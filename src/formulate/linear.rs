//! Small dense linear systems.

/// Most targets one formulation may have.
pub(super) const MAX: usize = 8;

/// A square system of at most [`MAX`] unknowns, filled row by row.
#[derive(Clone, Copy)]
pub(super) struct System {
    n: usize,
    a: [[f64; MAX]; MAX],
    b: [f64; MAX],
}

impl System {
    pub(super) fn new(n: usize) -> System {
        System {
            n: n.min(MAX),
            a: [[0.0; MAX]; MAX],
            b: [0.0; MAX],
        }
    }

    pub(super) fn set(&mut self, row: usize, column: usize, value: f64) {
        self.a[row][column] = value;
    }

    pub(super) fn want(&mut self, row: usize, value: f64) {
        self.b[row] = value;
    }

    /// Solution by Gaussian elimination with scaled partial pivoting and two
    /// rounds of refinement; the row that has no pivot otherwise.
    pub(super) fn solve(&self) -> Result<[f64; MAX], usize> {
        let mut x = self.eliminate(self.b)?;
        for _ in 0..2 {
            let mut residual = self.b;
            for (i, r) in residual.iter_mut().enumerate().take(self.n) {
                for (a, x) in self.a[i].iter().zip(&x).take(self.n) {
                    *r -= a * x;
                }
            }
            let dx = self.eliminate(residual)?;
            for (x, dx) in x.iter_mut().zip(dx) {
                *x += dx;
            }
        }
        Ok(x)
    }

    fn eliminate(&self, mut b: [f64; MAX]) -> Result<[f64; MAX], usize> {
        let n = self.n;
        let mut a = self.a;
        let mut row_of: [usize; MAX] = core::array::from_fn(|i| i);
        // Rows are in different units, columns too: scale both to 1.
        let mut scale = [0.0; MAX];
        for c in 0..n {
            for row in &a[..n] {
                scale[c] = f64::max(scale[c], row[c].abs());
            }
            if scale[c] > 0.0 {
                for row in &mut a[..n] {
                    row[c] /= scale[c];
                }
            }
        }
        for r in 0..n {
            let largest = a[r][..n].iter().fold(0.0, |m: f64, v| m.max(v.abs()));
            if largest <= 0.0 {
                return Err(r);
            }
            for v in &mut a[r][..n] {
                *v /= largest;
            }
            b[r] /= largest;
        }
        for c in 0..n {
            let mut best = c;
            for r in c + 1..n {
                if a[r][c].abs() > a[best][c].abs() {
                    best = r;
                }
            }
            if a[best][c].abs() < 1e-13 {
                return Err(row_of[c]);
            }
            a.swap(c, best);
            b.swap(c, best);
            row_of.swap(c, best);
            let pivot = a[c];
            for r in c + 1..n {
                let f = a[r][c] / pivot[c];
                for (v, p) in a[r][c..n].iter_mut().zip(&pivot[c..n]) {
                    *v -= f * p;
                }
                b[r] -= f * b[c];
            }
        }
        let mut x = [0.0; MAX];
        for c in (0..n).rev() {
            let known: f64 = (c + 1..n).map(|k| a[c][k] * x[k]).sum();
            x[c] = (b[c] - known) / a[c][c];
        }
        for (x, s) in x.iter_mut().zip(scale) {
            if s > 0.0 {
                *x /= s;
            }
        }
        Ok(x)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_a_system_in_mixed_units() {
        // 2x + 3y = 8e-6 and 1e6 x - 1e6 y = -1: x = 1e-6, y = 2e-6
        let mut s = System::new(2);
        s.set(0, 0, 2.0);
        s.set(0, 1, 3.0);
        s.set(1, 0, 1e6);
        s.set(1, 1, -1e6);
        s.want(0, 8e-6);
        s.want(1, -1.0);
        let x = s.solve().unwrap_or_default();
        assert!((x[0] - 1e-6).abs() < 1e-18 && (x[1] - 2e-6).abs() < 1e-18);
    }

    #[test]
    fn names_the_row_without_a_pivot() {
        let mut s = System::new(2);
        s.set(0, 0, 1.0);
        s.set(0, 1, 1.0);
        assert_eq!(s.solve(), Err(1));
    }
}
