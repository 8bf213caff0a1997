//! Diffusion out of a grain: Crank's shares against the Fourier number.
//!
//! The Fourier number Fo is D·t/R², with R the radius of a sphere or half the
//! thickness of a slab. J. Crank, The Mathematics of Diffusion, 2nd ed. 1975:
//! plane sheet ch. 4, sphere ch. 6. Each solution comes as two series, one in
//! exponentials that is short at long times and one in error functions that
//! is short at short times. They are the same function, so the place where
//! one gives way to the other cannot be seen.

use super::ExtractionError;
use crate::quantity::{Share, within};
use core::f64::consts::{FRAC_PI_2, PI};

/// Square root of pi.
const SQRT_PI: f64 = 1.772_453_850_905_516;
/// Largest Fourier number taken. All is over long before.
const MOST_FO: f64 = 1e30;
/// Where the series change over: on either side the terms left out are
/// below 1e-16.
const SPHERE_SWITCH: f64 = 0.1;
const SLAB_SWITCH: f64 = 0.25;
const BATH_SWITCH: f64 = 0.02;
/// Terms of a series at the most, and the power of e that is nothing.
const TERMS: u32 = 64;
const NOTHING: f64 = 40.0;

/// Share of what will leave a sphere that has left it, in so much liquid that
/// its concentration stays the same. `fo` is D·t/radius², 0 to 1e30.
///
/// # Errors
/// [`ExtractionError::OutOfRange`].
///
/// ```
/// use ferrogall::extraction::sphere;
/// assert!((sphere(0.1)? - 0.770_478_738).abs() < 1e-9);
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
pub fn sphere(fo: f64) -> Result<f64, ExtractionError> {
    Ok(sphere_share(fourier(fo)?))
}

/// The same out of a slab (leaf, bark, chips) through both faces. `fo` is
/// D·t/half-thickness², 0 to 1e30.
///
/// # Errors
/// [`ExtractionError::OutOfRange`].
///
/// ```
/// use ferrogall::extraction::slab;
/// assert!((slab(0.1)? - 0.356_823_400_5).abs() < 1e-10);
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
pub fn slab(fo: f64) -> Result<f64, ExtractionError> {
    Ok(slab_share(fourier(fo)?))
}

/// The same out of spheres in a stirred liquid of limited volume, as a share
/// of what has left at equilibrium.
///
/// `alpha` is the volume of the liquid over that of the grains and the
/// partition coefficient (1e-6 to 1e9): at equilibrium alpha/(1 + alpha) is in
/// the liquid. With rising `alpha` it tends to [`sphere`]; in little liquid
/// equilibrium comes sooner.
///
/// Short times by the closed form of Carman & Haul 1954 (Crank, ch. 6), which
/// leaves out only terms of the order of exp(−1/Fo).
///
/// # Errors
/// [`ExtractionError::OutOfRange`].
///
/// ```
/// use ferrogall::extraction::sphere_in_bath;
/// assert!((sphere_in_bath(0.05, 1.0)? - 0.790_518_7).abs() < 1e-7);
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
pub fn sphere_in_bath(fo: f64, alpha: f64) -> Result<f64, ExtractionError> {
    let fo = fourier(fo)?;
    let alpha = within("alpha", alpha, 1e-6, 1e9, "")?;
    if fo < BATH_SWITCH {
        return Ok(bath_at_first(fo, alpha));
    }
    let left: f64 = (1..=TERMS)
        .map(|n| bath_root_of(alpha, n))
        .take_while(|q| q * q * fo < NOTHING)
        .map(|q| {
            let weight = 6.0 * alpha * (1.0 + alpha) / (9.0 + 9.0 * alpha + q * q * alpha * alpha);
            weight * libm::exp(-q * q * fo)
        })
        .sum();
    Ok(1.0 - left)
}

/// The nth positive root of tan q = 3q/(3 + alpha q²), n from 1 to 1e6: the
/// decay rates of [`sphere_in_bath`].
///
/// # Errors
/// [`ExtractionError::OutOfRange`].
///
/// ```
/// use ferrogall::extraction::bath_root;
/// assert!((bath_root(1.0, 1)? - 3.726_384_696).abs() < 5e-10);
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
pub fn bath_root(alpha: f64, n: u32) -> Result<f64, ExtractionError> {
    let alpha = within("alpha", alpha, 1e-6, 1e9, "")?;
    within("number of the root", f64::from(n), 1.0, 1e6, "")?;
    Ok(bath_root_of(alpha, n))
}

/// Shape of a grain, as diffusion sees it.
///
/// ```
/// use ferrogall::extraction::Shape;
/// use ferrogall::quantity::Share;
/// let fo = Shape::Sphere.fourier_number(Share::percent(90.0)?)?;
/// assert!((Shape::Sphere.share(fo)?.value() - 0.9).abs() < 1e-12);
/// assert!(Shape::Slab.fourier_number(Share::percent(90.0)?)? > fo);
/// # Ok::<(), ferrogall::extraction::ExtractionError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Shape {
    /// Lumps, crumbs and powder: size is the diameter.
    Sphere,
    /// Leaf, bark, chips: size is the thickness.
    Slab,
}

impl Shape {
    /// [`sphere`] or [`slab`] at this Fourier number.
    ///
    /// # Errors
    /// [`ExtractionError::OutOfRange`].
    pub fn share(self, fo: f64) -> Result<Share, ExtractionError> {
        Ok(Share::new(self.of(fourier(fo)?))?)
    }

    /// Fourier number at which a share (below 1) has left the grain.
    ///
    /// # Errors
    /// [`ExtractionError::Never`] for all of it.
    pub fn fourier_number(self, share: Share) -> Result<f64, ExtractionError> {
        let share = share.value();
        if share >= 1.0 {
            return Err(ExtractionError::Never {
                what: "share of equilibrium",
                asked: share,
                most: 1.0,
            });
        }
        Ok(self.inverse(share))
    }

    /// Share at a number that was checked before.
    pub(super) fn of(self, fo: f64) -> f64 {
        match self {
            Shape::Sphere => sphere_share(fo),
            Shape::Slab => slab_share(fo),
        }
    }

    /// Number at a share below 1.
    pub(super) fn inverse(self, share: f64) -> f64 {
        // All but 1e-16 has left by then.
        let over = match self {
            Shape::Sphere => 5.0,
            Shape::Slab => 16.0,
        };
        let mut short = |fo: f64| self.of(fo) - share;
        crate::root::first_crossing(&mut short, 0.0, over).unwrap_or(over)
    }
}

fn fourier(fo: f64) -> Result<f64, ExtractionError> {
    // A zero may come with a minus sign.
    Ok(within("Fourier number", fo, 0.0, MOST_FO, "")? + 0.0)
}

fn sphere_share(fo: f64) -> f64 {
    let share = if fo < SPHERE_SWITCH {
        let root = libm::sqrt(fo);
        let echoes: f64 = (1..=3).map(|n| ierfc(f64::from(n) / root)).sum();
        6.0 * root * (1.0 / SQRT_PI + 2.0 * echoes) - 3.0 * fo
    } else {
        let left: f64 = (1..=TERMS)
            .map(|n| f64::from(n * n))
            .take_while(|n2| n2 * PI * PI * fo < NOTHING)
            .map(|n2| libm::exp(-n2 * PI * PI * fo) / n2)
            .sum();
        1.0 - 6.0 / (PI * PI) * left
    };
    share.clamp(0.0, 1.0)
}

fn slab_share(fo: f64) -> f64 {
    let share = if fo < SLAB_SWITCH {
        let root = libm::sqrt(fo);
        let echoes: f64 = (1..=4)
            .map(|n| {
                let echo = ierfc(f64::from(n) / root);
                if n % 2 == 0 { echo } else { -echo }
            })
            .sum();
        2.0 * root * (1.0 / SQRT_PI + 2.0 * echoes)
    } else {
        let left: f64 = (0..TERMS)
            .map(|n| f64::from((2 * n + 1) * (2 * n + 1)))
            .take_while(|m2| 0.25 * m2 * PI * PI * fo < NOTHING)
            .map(|m2| libm::exp(-0.25 * m2 * PI * PI * fo) / m2)
            .sum();
        1.0 - 8.0 / (PI * PI) * left
    };
    share.clamp(0.0, 1.0)
}

/// Integral of the complementary error function from x to infinity.
fn ierfc(x: f64) -> f64 {
    if x > 26.0 {
        return 0.0; // below 1e-300; x may be infinite
    }
    (libm::exp(-x * x) / SQRT_PI - x * libm::erfc(x)).max(0.0)
}

/// q − nπ is in the first quadrant, where it is atan(3q/(3 + αq²)): Newton's
/// steps from the middle, held in the quadrant.
fn bath_root_of(alpha: f64, n: u32) -> f64 {
    let base = f64::from(n) * PI;
    let (mut low, mut high) = (0.0, FRAC_PI_2);
    let mut r = 0.25 * PI;
    for _ in 0..60 {
        let q = base + r;
        let bath = 3.0 + alpha * q * q;
        let t = 3.0 * q / bath;
        let off = r - libm::atan(t);
        if off > 0.0 {
            high = r;
        } else {
            low = r;
        }
        // Derivative of the tangent's argument.
        let dt = 3.0 * (3.0 - alpha * q * q) / (bath * bath);
        let newton = r - off / (1.0 - dt / (1.0 + t * t));
        let next = if newton > low && newton < high {
            newton
        } else {
            0.5 * (low + high)
        };
        let step = (next - r).abs();
        r = next;
        if step <= f64::EPSILON * q {
            break;
        }
    }
    base + r
}

/// Carman & Haul: with coth taken as 1 the transform has two poles.
fn bath_at_first(fo: f64, alpha: f64) -> f64 {
    let spread = libm::sqrt(1.0 + 4.0 * alpha / 3.0);
    let g1 = 0.5 * (spread + 1.0);
    // g1 − 1, without cancelling at small alpha.
    let g2 = alpha / (3.0 * g1);
    let z = 3.0 * libm::sqrt(fo) / alpha;
    let share = (1.0 + alpha) / spread * (g1 * one_less(g1 * z) + g2 * one_less(-g2 * z));
    share.clamp(0.0, 1.0)
}

/// 1 − exp(z²) erfc(z), without cancelling where z is small.
fn one_less(z: f64) -> f64 {
    if z.abs() > 0.5 {
        return 1.0 - scaled_erfc(z);
    }
    // −Σ (−z)ⁿ/Γ(n/2 + 1): even and odd powers each have a simple ratio.
    let (mut even, mut odd) = (1.0, 2.0 / SQRT_PI);
    let mut sum = 0.0;
    let mut power = 1.0;
    for n in 1..40_u32 {
        power *= -z;
        if n % 2 == 1 {
            if n > 1 {
                odd /= 0.5 * f64::from(n);
            }
            sum -= power * odd;
        } else {
            even /= 0.5 * f64::from(n);
            sum -= power * even;
        }
    }
    sum
}

/// exp(z²) erfc(z); for z above −1 here.
fn scaled_erfc(z: f64) -> f64 {
    if z < 25.0 {
        return libm::exp(z * z) * libm::erfc(z);
    }
    let w = 1.0 / (2.0 * z * z);
    (1.0 - w * (1.0 - 3.0 * w * (1.0 - 5.0 * w))) / (z * SQRT_PI)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed with 30 digits from the series in Crank 1975, 9 and 10 decimals
    /// printed. The sphere's at 0.02 is 0.4187307365 with more digits (summed
    /// again outside the crate), so one unit of the last place is allowed.
    const TABLE: [(f64, f64, f64); 15] = [
        (0.001, 0.104047447, 0.0356824823),
        (0.002, 0.145387951, 0.0504626504),
        (0.005, 0.224365368, 0.0797884561),
        (0.01, 0.308513750, 0.1128379167),
        (0.02, 0.418730737, 0.1595769122),
        (0.03, 0.496323014, 0.1954410048),
        (0.05, 0.606939757, 0.2523132522),
        (0.07, 0.685623234, 0.2985410542),
        (0.1, 0.770478738, 0.3568234005),
        (0.15, 0.861266355, 0.4369499595),
        (0.2, 0.915495566, 0.5040878202),
        (0.25, 0.948436898, 0.5622335418),
        (0.3, 0.968524535, 0.6132360706),
        (0.4, 0.988269234, 0.6978819062),
        (0.5, 0.995627859, 0.7639503307),
    ];

    #[test]
    fn the_table_to_its_last_digit() -> Result<(), ExtractionError> {
        for (fo, in_sphere, in_slab) in TABLE {
            assert!((sphere(fo)? - in_sphere).abs() <= 1e-9, "sphere {fo}");
            assert!((slab(fo)? - in_slab).abs() <= 1e-10, "slab {fo}");
        }
        // Worked examples in the manual of a public transport library
        // (polykin), 10 digits.
        assert!((sphere(0.1)? - 0.770_478_738_0).abs() <= 0.5001e-10);
        assert!((sphere(0.25)? - 0.948_436_897_9).abs() <= 0.5001e-10);
        Ok(())
    }

    /// Both series, with many terms, wherever the long one still converges:
    /// that is the claim of 1e-11 for all times.
    #[test]
    fn both_series_are_one_function() {
        for k in 0..400 {
            let fo = libm::exp(libm::log(3e-4) + f64::from(k) * 0.025);
            let long_sphere = 1.0
                - 6.0 / (PI * PI)
                    * (1..=400)
                        .rev()
                        .map(|n| {
                            let n2 = f64::from(n * n);
                            libm::exp(-n2 * PI * PI * fo) / n2
                        })
                        .sum::<f64>();
            let long_slab = 1.0
                - 8.0 / (PI * PI)
                    * (0..400)
                        .rev()
                        .map(|n| {
                            let m2 = f64::from((2 * n + 1) * (2 * n + 1));
                            libm::exp(-0.25 * m2 * PI * PI * fo) / m2
                        })
                        .sum::<f64>();
            assert!((sphere_share(fo) - long_sphere).abs() < 1e-14, "{fo}");
            assert!((slab_share(fo) - long_slab).abs() < 1e-14, "{fo}");
        }
    }

    /// At short times the first terms are all there is (Crank 4.20, 6.22).
    #[test]
    fn short_times_are_the_first_terms() -> Result<(), ExtractionError> {
        for fo in [1e-12, 1e-9, 1e-6, 1e-4, 1e-3] {
            let root = libm::sqrt(fo / PI);
            approx::assert_relative_eq!(sphere(fo)?, 6.0 * root - 3.0 * fo, max_relative = 1e-14);
            approx::assert_relative_eq!(slab(fo)?, 2.0 * root, max_relative = 1e-14);
        }
        assert_eq!((sphere(0.0)?, slab(0.0)?), (0.0, 0.0));
        assert_eq!((sphere(1e30)?, slab(1e30)?), (1.0, 1.0));
        Ok(())
    }

    #[test]
    fn shares_rise_and_spheres_are_quicker() {
        let mut last = (0.0, 0.0);
        for k in 0..4000 {
            let fo = libm::exp(-27.6 + f64::from(k) * 0.0076); // 1e-12 to 15
            let now = (sphere_share(fo), slab_share(fo));
            // Near the end a step is below the rounding of 1.
            assert!(now.0 >= last.0 && now.1 >= last.1, "{fo}");
            assert!(fo > 3.0 || (now.0 > last.0 && now.1 > last.1), "{fo}");
            assert!(now.0 > now.1 || now.1 == 1.0, "{fo}");
            last = now;
        }
    }

    /// Roots computed with 30 digits, 9 decimals printed.
    #[test]
    fn roots_of_the_bath() -> Result<(), ExtractionError> {
        for (alpha, roots) in [
            (1.0, [3.726384696, 6.681434853, 9.715566095]),
            (5.0, [3.311710119, 6.375659835, 9.487517744]),
        ] {
            for (n, root) in (1..).zip(roots) {
                assert!((bath_root(alpha, n)? - root).abs() <= 0.5001e-9);
            }
        }
        for alpha in [1e-6, 0.03, 0.25, 1.0, 40.0, 1e9] {
            for n in [1, 2, 7, 64, 4000] {
                let q = bath_root(alpha, n)?;
                let r = q - f64::from(n) * PI;
                assert!((r - libm::atan(3.0 * q / (3.0 + alpha * q * q))).abs() < 1e-15 * q);
            }
        }
        Ok(())
    }

    /// Computed with 30 digits, 8 decimals printed.
    #[test]
    fn limited_baths() -> Result<(), ExtractionError> {
        for (alpha, shares) in [
            (0.25, [0.73794613, 0.92648339, 0.97284368, 0.99539215]),
            (1.0, [0.49084605, 0.7905187, 0.90391653, 0.97656121]),
            (5.0, [0.35252098, 0.66012637, 0.81393791, 0.93878099]),
            (10.0, [0.33108318, 0.63501723, 0.79390853, 0.92844874]),
        ] {
            for (fo, share) in [0.01, 0.05, 0.1, 0.2].into_iter().zip(shares) {
                assert!((sphere_in_bath(fo, alpha)? - share).abs() <= 0.5001e-8);
            }
        }
        Ok(())
    }

    /// The two forms agree where both hold, for every amount of liquid.
    #[test]
    fn the_bath_changes_over_unseen() -> Result<(), ExtractionError> {
        for alpha in [1e-6, 1e-3, 0.1, 0.25, 1.0, 30.0, 1e4, 1e9] {
            for fo in [5e-4, 2e-3, 0.01, 0.02, 0.03] {
                // Small first, so that rounding does not add up.
                let left: f64 = (1..=200)
                    .rev()
                    .map(|n| {
                        let q = bath_root_of(alpha, n);
                        let a2 = alpha * alpha;
                        6.0 * alpha * (1.0 + alpha) / (9.0 + 9.0 * alpha + q * q * a2)
                            * libm::exp(-q * q * fo)
                    })
                    .sum();
                // exp(-1/0.03) is 3e-15.
                assert!(
                    (bath_at_first(fo, alpha) - (1.0 - left)).abs() < 1e-11,
                    "{alpha} {fo}"
                );
            }
        }
        Ok(())
    }

    #[test]
    fn much_liquid_is_no_bound_and_little_is_quicker() -> Result<(), ExtractionError> {
        for fo in [1e-12, 1e-8, 1e-4, 0.01, 0.1, 0.4] {
            let free = sphere(fo)?;
            // What is left over is of the order of 1/alpha.
            approx::assert_relative_eq!(sphere_in_bath(fo, 1e9)?, free, max_relative = 3e-9);
            let mut last = free;
            for alpha in [100.0, 10.0, 1.0, 0.1] {
                let bound = sphere_in_bath(fo, alpha)?;
                assert!(bound > last, "{fo} {alpha}");
                last = bound;
            }
        }
        Ok(())
    }

    #[test]
    fn the_inverse_gives_the_share_back() -> Result<(), ExtractionError> {
        for shape in [Shape::Sphere, Shape::Slab] {
            for share in [0.0, 1e-9, 1e-3, 0.3, 0.5, 0.9, 0.99, 0.999_999] {
                let fo = shape.fourier_number(Share::new(share)?)?;
                assert!((shape.share(fo)?.value() - share).abs() < 1e-13, "{share}");
            }
            assert!(shape.fourier_number(Share::ONE).is_err());
        }
        // Crank's table backwards.
        let fo = Shape::Sphere.fourier_number(Share::new(0.770_478_738)?)?;
        assert!((fo - 0.1).abs() < 5e-10);
        Ok(())
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for bad in [f64::NAN, -1.0, f64::INFINITY] {
            assert!(sphere(bad).is_err() && slab(bad).is_err());
            assert!(sphere_in_bath(bad, 1.0).is_err() && sphere_in_bath(0.1, bad).is_err());
        }
        assert!(bath_root(1.0, 0).is_err() && sphere_in_bath(0.1, 0.0).is_err());
    }
}
