//! Diffusion out of a grain, Peleg's curve, and tea by the bag.

use super::bench::FgallRange;
use super::error::{Blame, Failure, FgallError, Outcome, mass};
use super::extraction_answers::range;
use super::guard::{guard, out, out_if_wanted, out_struct, read_array, read_struct, versioned};
use super::status::FgallStatus;
use crate::extraction::{Peleg, TeaBrew, slab, sphere, sphere_in_bath};
use crate::quantity::{ReadMass, Share, Time, hours, within};
use core::mem::size_of;
use uom::si::time::{hour, minute, second};

/// Measurements in one fit, at most.
const MOST: usize = 10_000;

/// Share of what will leave a sphere that has left it, in much liquid. The Fourier
/// number is diffusivity times time over the radius squared, 0 to 1e30.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_diffused_from_sphere(
    fourier_number: f64,
    share: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(share, "share")?;
            slot.put(sphere(fourier_number).arg("fourier_number", fourier_number)?);
            Ok(())
        })
    }
}

/// The same out of a slab (leaf, bark, chips) through both faces; the Fourier
/// number has half its thickness for the radius.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_diffused_from_slab(
    fourier_number: f64,
    share: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(share, "share")?;
            slot.put(slab(fourier_number).arg("fourier_number", fourier_number)?);
            Ok(())
        })
    }
}

/// The same out of spheres in little stirred liquid, as a share of what has left
/// at equilibrium. `alpha` is the volume of the liquid over that of the grains
/// and the partition coefficient, 1e-6 to 1e9.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_diffused_into_bath(
    fourier_number: f64,
    alpha: f64,
    share: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(share, "share")?;
            let left = sphere_in_bath(fourier_number, alpha);
            slot.put(left.arg_of(&[("Fourier number", "fourier_number", fourier_number)])?);
            Ok(())
        })
    }
}

/// What boiling water takes out of tea leaf (all bags together) brewed for so
/// long, up to a day. Polyphenols are not galloyl units; most are catechins.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_tea_brew(
    leaf_g: f64,
    minutes: f64,
    polyphenols_g: *mut FgallRange,
    gallic_acid_g: *mut FgallRange,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let polyphenols = out(polyphenols_g, "polyphenols_g")?;
            let gallic_acid = out_if_wanted(gallic_acid_g, "gallic_acid_g")?;
            let leaf = mass("leaf_g", leaf_g)?;
            let brew = TeaBrew::of(leaf, Time::new::<minute>(minutes));
            let brew = brew.arg_of(&[("brewing time", "minutes", minutes)])?;
            polyphenols.put(range(brew.polyphenols, |m| m.in_grams()));
            if let Some(slot) = gallic_acid {
                slot.put(range(brew.gallic_acid, |m| m.in_grams()));
            }
            Ok(())
        })
    }
}

/// Peleg's curve of a yield against time, t/(K1 + K2 t). The yield is a pure
/// ratio (gram per gram of dry plant, or a share). A curve, no mechanism: it
/// cannot be carried over to another grain or temperature.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallPeleg {
    /// sizeof(FgallPeleg), filled in by the caller.
    pub struct_size: usize,
    /// K1, seconds per unit of yield; its inverse is the rate at the start.
    pub k1_s: f64,
    /// Its standard uncertainty; 0 for published constants.
    pub k1_u_s: f64,
    /// K2 per unit of yield; its inverse is what the yield tends to.
    pub k2: f64,
    /// Its standard uncertainty.
    pub k2_u: f64,
    /// Covariance of both.
    pub covariance_s: f64,
}
versioned!(FgallPeleg);

impl FgallPeleg {
    fn curve(&self) -> Outcome<Peleg> {
        let seconds = Time::new::<second>;
        let curve = Peleg::new(seconds(self.k1_s), self.k2);
        let curve = curve.arg_of(&[("K1", "k1_s", self.k1_s), ("K2", "k2", self.k2)])?;
        let known = curve.known_to(seconds(self.k1_u_s), self.k2_u, seconds(self.covariance_s));
        known.arg_of(&[
            ("uncertainty of K1", "k1_u_s", self.k1_u_s),
            ("uncertainty of K2", "k2_u", self.k2_u),
            ("covariance of K1 and K2", "covariance_s", self.covariance_s),
        ])
    }
}

/// Peleg's curve through `count` measurements, 3 to 10000: yields (1e-12 to 1e12)
/// after so many hours. FGALL_CANNOT_FIT where they do not rise and level off.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_peleg_fit(
    at_hours: *const f64,
    yields: *const f64,
    count: usize,
    curve: *mut FgallPeleg,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; there are count
    // times and yields.
    unsafe {
        guard(error, || {
            let slot = out_struct(curve, "curve")?;
            let times = read_array(at_hours, count, MOST, "at_hours")?;
            let yields = read_array(yields, count, MOST, "yields")?;
            let measured = times.iter().map(|&t| hours(t)).zip(yields.iter().copied());
            let measured: Vec<(Time, f64)> = measured.collect();
            let fit = Peleg::fit(&measured).map_err(|e| blamed(e.into(), &times))?;
            let ((k1, k1_u), (k2, k2_u)) = (fit.k1(), fit.k2());
            slot.put(FgallPeleg {
                struct_size: size_of::<FgallPeleg>(),
                k1_s: k1.get::<second>(),
                k1_u_s: k1_u.get::<second>(),
                k2,
                k2_u,
                covariance_s: fit.covariance().get::<second>(),
            });
            Ok(())
        })
    }
}

/// Says which measurement it was, in the caller's unit.
fn blamed(mut failure: Failure, times: &[f64]) -> Failure {
    match failure.argument.as_str() {
        "time" => {
            let bits = failure.value.to_bits();
            let same = |t: &&f64| hours(**t).value.to_bits() == bits || t.to_bits() == bits;
            failure.value = times.iter().find(same).copied().unwrap_or(failure.value);
            failure.argument = "at_hours".to_string();
        }
        "yield" => failure.argument = "yields".to_string(),
        _ => {}
    }
    failure
}

/// The yield after so many hours, up to ten years, and its standard uncertainty
/// from the fit, which may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_peleg_after(
    curve: *const FgallPeleg,
    at_hours: f64,
    yielded: *mut f64,
    yielded_u: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(yielded, "yielded")?;
            let slot_u = out_if_wanted(yielded_u, "yielded_u")?;
            let curve = read_struct(curve, "curve")?.curve()?;
            let found = curve.after(hours(at_hours));
            let found = found.arg_of(&[("time", "at_hours", at_hours)])?;
            slot.put(found.value());
            if let Some(slot) = slot_u {
                slot.put(found.u());
            }
            Ok(())
        })
    }
}

/// Hours until this share (below 1) of what the yield tends to.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_peleg_time_to(
    curve: *const FgallPeleg,
    share: f64,
    at_hours: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out(at_hours, "at_hours")?;
            let curve = read_struct(curve, "curve")?.curve()?;
            let share = Share::new(share).arg("share", share)?;
            let time = curve.time_to(share)?.get::<hour>();
            slot.put(within("at_hours", time, 0.0, f64::MAX, "h")?);
            Ok(())
        })
    }
}
