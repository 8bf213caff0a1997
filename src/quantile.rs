//! Where some values lie, and how far apart.

/// The ends that leave a fortieth of the values outside on either side; NaN
/// when there are none. Sorts the values.
pub(crate) fn ends_of_95_percent(values: &mut [f64]) -> (f64, f64) {
    values.sort_unstable_by(f64::total_cmp);
    let outside = values.len() / 40;
    let at = |i: usize| values.get(i).copied().unwrap_or(f64::NAN);
    (at(outside), at(values.len().wrapping_sub(outside + 1)))
}

/// Mean and standard deviation of values; NaN when there are none.
pub(crate) fn mean_and_deviation(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|x| (x - mean) * (x - mean)).sum();
    (mean, libm::sqrt(squares / n))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fortieth_stays_outside_at_either_end() {
        let mut values: Vec<f64> = (0..120).rev().map(f64::from).collect();
        assert_eq!(ends_of_95_percent(&mut values), (3.0, 116.0));
        assert_eq!(ends_of_95_percent(&mut [7.0]), (7.0, 7.0));
        assert!(ends_of_95_percent(&mut []).0.is_nan());
    }
}
