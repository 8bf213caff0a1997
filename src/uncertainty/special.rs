//! Quantiles of the normal and of Student's distribution.
//!
//! A draw is the quantile of a uniform number, so that one number makes one
//! draw, in order, and the same bits come out everywhere: `libm` only.

/// Coefficients of Wichura's rational approximations, Applied Statistics 37
/// (1988) 477, algorithm AS 241: relative error about 1e-16.
const CENTRE: ([f64; 8], [f64; 8]) = (
    [
        3.387_132_872_796_366_5,
        133.141_667_891_784_38,
        1_971.590_950_306_551_3,
        13_731.693_765_509_46,
        45_921.953_931_549_87,
        67_265.770_927_008_7,
        33_430.575_583_588_13,
        2_509.080_928_730_122_7,
    ],
    [
        1.0,
        42.313_330_701_600_91,
        687.187_007_492_057_9,
        5_394.196_021_424_751,
        21_213.794_301_586_597,
        39_307.895_800_092_71,
        28_729.085_735_721_943,
        5_226.495_278_852_854,
    ],
);
const SHOULDER: ([f64; 8], [f64; 8]) = (
    [
        1.423_437_110_749_683_5,
        4.630_337_846_156_546,
        5.769_497_221_460_691,
        3.647_848_324_763_204_5,
        1.270_458_252_452_368_4,
        2.417_807_251_774_506e-1,
        2.272_384_498_926_918_4e-2,
        7.745_450_142_783_414e-4,
    ],
    [
        1.0,
        2.053_191_626_637_759,
        1.676_384_830_183_803_8,
        6.897_673_349_851e-1,
        1.481_039_764_274_800_8e-1,
        1.519_866_656_361_645_7e-2,
        5.475_938_084_995_345e-4,
        1.050_750_071_644_416_9e-9,
    ],
);
const TAIL: ([f64; 8], [f64; 8]) = (
    [
        6.657_904_643_501_103,
        5.463_784_911_164_114,
        1.784_826_539_917_291_3,
        2.965_605_718_285_048_7e-1,
        2.653_218_952_657_612_4e-2,
        1.242_660_947_388_078_4e-3,
        2.711_555_568_743_487_6e-5,
        2.010_334_399_292_288_1e-7,
    ],
    [
        1.0,
        5.998_322_065_558_88e-1,
        1.369_298_809_227_358e-1,
        1.487_536_129_085_061_5e-2,
        7.868_691_311_456_133e-4,
        1.846_318_317_510_054_8e-5,
        1.421_511_758_316_446e-7,
        2.044_263_103_389_939_8e-15,
    ],
);

fn rational(coefficients: &([f64; 8], [f64; 8]), r: f64) -> f64 {
    let polynomial = |c: &[f64; 8]| c.iter().rev().fold(0.0, |sum, c| sum * r + c);
    polynomial(&coefficients.0) / polynomial(&coefficients.1)
}

/// The deviation below which a part of a normal distribution lies; `part`
/// between 0 and 1, infinite at either end.
pub(crate) fn normal_quantile(part: f64) -> f64 {
    let q = part - 0.5;
    if q.abs() <= 0.425 {
        return q * rational(&CENTRE, 0.180_625 - q * q);
    }
    let outside = if q < 0.0 { part } else { 1.0 - part };
    if outside <= 0.0 {
        return f64::INFINITY.copysign(q);
    }
    let r = libm::sqrt(-libm::log(outside));
    let deviation = if r <= 5.0 {
        rational(&SHOULDER, r - 1.6)
    } else {
        rational(&TAIL, r - 5.0)
    };
    deviation.copysign(q)
}

/// Part of a normal distribution below a deviation.
pub(crate) fn normal_below(deviation: f64) -> f64 {
    0.5 * libm::erfc(-deviation * core::f64::consts::FRAC_1_SQRT_2)
}

/// Part of Student's distribution beyond `t >= 0`, by the incomplete beta
/// function's continued fraction (Abramowitz & Stegun 26.7.1 and 26.5.8).
fn student_beyond(t: f64, dof: f64) -> f64 {
    0.5 * incomplete_beta(dof / (dof + t * t), 0.5 * dof, 0.5)
}

/// The deviation below which a part of Student's distribution lies.
pub(crate) fn student_quantile(part: f64, dof: f64) -> f64 {
    if dof > 1e7 {
        return normal_quantile(part);
    }
    let outside = part.min(1.0 - part);
    if outside >= 0.5 {
        return 0.0;
    }
    if outside <= 0.0 {
        return f64::INFINITY.copysign(part - 0.5);
    }
    // Beyond 1/outside lies less than `outside` for every number of degrees
    // of freedom of at least 1; halve in the logarithm where Newton leaves.
    let (mut low, mut high) = (0.0, 1.0);
    while student_beyond(high, dof) > outside && high < 1e300 {
        low = high;
        high *= 4.0;
    }
    let log_norm = libm::lgamma(0.5 * (dof + 1.0))
        - libm::lgamma(0.5 * dof)
        - 0.5 * libm::log(dof * core::f64::consts::PI);
    let mut t = normal_quantile(1.0 - outside).clamp(low, high);
    for _ in 0..200 {
        let excess = student_beyond(t, dof) - outside;
        if excess > 0.0 {
            low = t;
        } else {
            high = t;
        }
        let density = libm::exp(log_norm - 0.5 * (dof + 1.0) * libm::log1p(t * t / dof));
        let newton = t + excess / density;
        let next = if newton > low && newton < high {
            newton
        } else {
            0.5 * (low + high)
        };
        let step = (next - t).abs();
        t = next;
        if step <= 1e-14 * t {
            break;
        }
    }
    t.copysign(part - 0.5)
}

/// Regularised incomplete beta function.
fn incomplete_beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let log_front = libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b)
        + a * libm::log(x)
        + b * libm::log1p(-x);
    let front = libm::exp(log_front);
    // The fraction converges fast on this side of the mean only.
    if x < (a + 1.0) / (a + b + 2.0) {
        front * beta_fraction(x, a, b) / a
    } else {
        1.0 - front * beta_fraction(1.0 - x, b, a) / b
    }
}

/// Lentz's way through the continued fraction.
fn beta_fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let away = |v: f64| if v.abs() < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / away(1.0 - (a + b) * x / (a + 1.0));
    let mut h = d;
    for m in 1..10_000 {
        let m = f64::from(m);
        for numerator in [
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0)),
        ] {
            d = 1.0 / away(1.0 + numerator * d);
            c = away(1.0 + numerator / c);
            h *= d * c;
        }
        if (d * c - 1.0).abs() < 1e-16 {
            break;
        }
    }
    h
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Abramowitz & Stegun, table 26.5.
    #[test]
    fn normal_quantiles_of_the_handbook() {
        for (part, z) in [
            (0.5, 0.0),
            (0.975, 1.959_963_985),
            (0.025, -1.959_963_985),
            (0.995, 2.575_829_304),
            (0.9, 1.281_551_566),
        ] {
            assert!((normal_quantile(part) - z).abs() < 5e-10, "{part}");
        }
    }

    /// libm's error function knows nothing of the approximation.
    #[test]
    fn normal_quantile_undoes_the_error_function() {
        for part in [1e-300, 1e-100, 1e-20, 1e-9, 0.01, 0.07, 0.08, 0.3, 0.6] {
            assert_relative_eq!(
                normal_below(normal_quantile(part)),
                part,
                max_relative = 2e-13 // the error function far out, times the deviation
            );
        }
        assert_eq!(normal_quantile(0.0), f64::NEG_INFINITY);
        assert_eq!(normal_quantile(1.0), f64::INFINITY);
    }

    /// Abramowitz & Stegun, table 26.10, and closed forms for 1 and 2 degrees
    /// of freedom.
    #[test]
    fn student_quantiles() {
        for (dof, part, t) in [
            (5.0, 0.975, 2.571),
            (10.0, 0.95, 1.812),
            (16.0, 0.995, 2.921),
            (30.0, 0.995, 2.750),
            (120.0, 0.975, 1.980),
        ] {
            assert!((student_quantile(part, dof) - t).abs() < 5.001e-4, "{dof}");
        }
        for part in [1e-6, 0.01, 0.2, 0.7, 0.999_9] {
            let cauchy = libm::tan(core::f64::consts::PI * (part - 0.5));
            assert_relative_eq!(student_quantile(part, 1.0), cauchy, max_relative = 1e-9);
            let two = (2.0 * part - 1.0) / libm::sqrt(2.0 * part * (1.0 - part));
            assert_relative_eq!(student_quantile(part, 2.0), two, max_relative = 1e-9);
        }
        assert_eq!(student_quantile(0.5, 3.0), 0.0);
    }
}
