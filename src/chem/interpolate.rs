//! Curves through tabulated points, and finding a place on a curve.

/// Cubic through the points of `table` without overshoot (Fritsch & Butland
/// 1984, SIAM J. Sci. Stat. Comput. 5, 300): it rises where they rise, falls
/// where they fall and turns only at a point. Outside it stays at the end value.
pub(super) fn monotone_cubic(table: &[(f64, f64)], x: f64) -> f64 {
    let right = table.partition_point(|(knot, _)| *knot <= x);
    let (Some(left), Some(&(x1, y1))) = (right.checked_sub(1), table.get(right)) else {
        let end = if right == 0 {
            table.first()
        } else {
            table.last()
        };
        return end.map_or(0.0, |(_, y)| *y);
    };
    let (x0, y0) = table[left];
    let h = x1 - x0;
    let s = (x - x0) / h;
    let (d0, d1) = (slope(table, left), slope(table, right));
    let rise = y1 - y0;
    // Hermite form about the left point.
    y0 + s * (h * d0 + s * (3.0 * rise - h * (2.0 * d0 + d1) + s * (h * (d0 + d1) - 2.0 * rise)))
}

/// Slope at a point: the weighted harmonic mean of the chords on both sides, 0
/// where they disagree in sign; at an end the chord's own.
fn slope(table: &[(f64, f64)], i: usize) -> f64 {
    let chord = |i: usize| -> Option<(f64, f64)> {
        let (&(x0, y0), &(x1, y1)) = (table.get(i)?, table.get(i + 1)?);
        Some((x1 - x0, (y1 - y0) / (x1 - x0)))
    };
    match (i.checked_sub(1).and_then(chord), chord(i)) {
        (Some((h0, m0)), Some((h1, m1))) if m0 * m1 > 0.0 => {
            let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
            (w0 + w1) / (w0 / m0 + w1 / m1)
        }
        (Some(_), Some(_)) | (None, None) => 0.0,
        (Some((_, m)), None) | (None, Some((_, m))) => m,
    }
}

/// Where a monotone `f` takes the value `target` between `lo` and `hi`, to the
/// last bit; the nearer end when it never does. Ends after some 1100 halvings
/// at the very most, the number of distinct exponents and bits of an `f64`.
pub(super) fn find(f: impl Fn(f64) -> f64, target: f64, lo: f64, hi: f64) -> f64 {
    let rising = f(hi) >= f(lo);
    let (mut lo, mut hi) = (lo, hi);
    loop {
        let middle = 0.5 * (lo + hi);
        if middle <= lo || middle >= hi {
            break;
        }
        if (f(middle) < target) == rising {
            lo = middle;
        } else {
            hi = middle;
        }
    }
    if (f(lo) - target).abs() <= (f(hi) - target).abs() {
        lo
    } else {
        hi
    }
}

/// Where a curve with one hump is highest between `lo` and `hi`.
pub(super) fn summit(f: impl Fn(f64) -> f64, lo: f64, hi: f64) -> f64 {
    let (mut lo, mut hi) = (lo, hi);
    // Each round leaves two thirds; a hump is no sharper than √ε anyway.
    for _ in 0..60 {
        let third = (hi - lo) / 3.0;
        if f(lo + third) < f(hi - third) {
            lo += third;
        } else {
            hi -= third;
        }
    }
    0.5 * (lo + hi)
}
