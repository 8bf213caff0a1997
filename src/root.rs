//! Finds where a continuous function of an amount crosses zero.

/// Steps taken at most; halving alone needs about 60.
const STEPS: u32 = 200;

/// The amount from `low` to `high` at which `f` is 0. Where `low` and `high`
/// are of one sign there is none: the values at both come back. The first
/// crossing is sought from `low` upward in decades.
pub(crate) fn first_crossing(
    f: &mut impl FnMut(f64) -> f64,
    low: f64,
    high: f64,
) -> Result<f64, (f64, f64)> {
    let at_low = f(low);
    if at_low == 0.0 {
        return Ok(low);
    }
    let (mut a, mut fa) = (low, at_low);
    let mut b = (high * 1e-9).max(low * 1.000_001);
    loop {
        let fb = f(b);
        if fb.is_nan() {
            return Err((at_low, fb));
        }
        if fb == 0.0 {
            return Ok(b);
        }
        if (fa > 0.0) != (fb > 0.0) {
            return Ok(between(f, (a, fa), (b, fb)));
        }
        if b >= high {
            return Err((at_low, fb));
        }
        (a, fa) = (b, fb);
        b = (10.0 * b).min(high);
    }
}

/// Where `f` is 0 between two places at which it has unlike signs: the
/// false-position rule of Anderson and Björck, halving where it lags.
pub(crate) fn between(f: &mut impl FnMut(f64) -> f64, a: (f64, f64), b: (f64, f64)) -> f64 {
    let ((mut a, mut fa), (mut b, mut fb)) = (a, b);
    let mut width = (b - a).abs();
    for step in 0..STEPS {
        let lagging = step % 4 == 3 && (b - a).abs() > 0.5 * width;
        if step % 4 == 3 {
            width = (b - a).abs();
        }
        let x = if lagging {
            0.5 * (a + b)
        } else {
            b - fb * (b - a) / (fb - fa)
        };
        let fx = f(x);
        if fx == 0.0 || fx.is_nan() || (b - a).abs() <= 4.0 * f64::EPSILON * x.abs() {
            return x;
        }
        if (fx > 0.0) == (fb > 0.0) {
            let shrink = 1.0 - fx / fb;
            fa *= if shrink > 0.0 { shrink } else { 0.5 };
        } else {
            (a, fa) = (b, fb);
        }
        (b, fb) = (x, fx);
    }
    b
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_roots_and_says_when_there_is_none() {
        let root = first_crossing(&mut |x: f64| libm::log10(x + 1e-12) + 3.0, 0.0, 20.0);
        approx::assert_relative_eq!(root.unwrap_or(f64::NAN), 1e-3, max_relative = 1e-8);
        let steep = first_crossing(&mut |x: f64| libm::atan(1e9 * (x - 0.3)), 0.0, 20.0);
        approx::assert_relative_eq!(steep.unwrap_or(f64::NAN), 0.3, max_relative = 1e-12);
        assert_eq!(
            first_crossing(&mut |x| x + 1.0, 0.0, 20.0),
            Err((1.0, 21.0))
        );
    }
}
