//! A maker's own observations, and the rate they tell.

use super::error::{Blame, FgallError, Outcome};
use super::guard::{foreign, guard, out_struct, read_array, versioned};
use super::keeping::{FgallKeeping, kept};
use super::status::FgallStatus;
use super::stored_ink::{FgallStoredInk, assisted_of};
use crate::oxidation::{Fit, OxidationError, Seen, Sighting, fit};
use crate::quantity::{ReadTemperature, Share, days, within};
use crate::source::Range;
use core::mem::size_of;

/// Seen: iron(II) as a share of that at filling, left_share and its u_share.
/// Titrate the salt or a stock solution: in the finished ink tannin takes up
/// permanganate and dichromate too.
pub const FGALL_SEEN_IRON_II: u32 = 1;
/// Seen: iron in solution, of both kinds, as a share of that at filling, from the
/// colour of the filtered ink or its total iron: left_share and its u_share.
pub const FGALL_SEEN_STRENGTH: u32 = 2;
/// Seen: sediment for the first time; neither share is read.
pub const FGALL_SEEN_FIRST_SEDIMENT: u32 = 3;

/// Observations in one call, at most.
const MOST: usize = 1000;

/// Something seen of an ink in its bottle.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSighting {
    /// When, since filling: while the bottle is kept and holds ink.
    pub at_days: f64,
    /// What: FGALL_SEEN_…
    pub kind: u32,
    /// The share that is left, 0 to 1.
    pub left_share: f64,
    /// Its standard uncertainty, 0.001 to 0.5. By eye, 0.1 is honest.
    pub u_share: f64,
}

impl FgallSighting {
    fn sighting(&self) -> Outcome<Sighting> {
        let left = || within("left_share", self.left_share, 0.0, 1.0, "").and_then(Share::new);
        let u = || within("u_share", self.u_share, 1e-3, 0.5, "");
        let seen = match self.kind {
            FGALL_SEEN_IRON_II => Seen::IronII {
                left: left()?,
                u: u()?,
            },
            FGALL_SEEN_STRENGTH => Seen::Strength {
                left: left()?,
                u: u()?,
            },
            FGALL_SEEN_FIRST_SEDIMENT => Seen::FirstSediment,
            other => return Err(foreign(other, "kind")),
        };
        let at = days(within("at_days", self.at_days, 0.0, 365_250.0, "d")?);
        Ok(Sighting { at, seen })
    }
}

/// Worlds of a fit, the best one and 63 more.
pub const FGALL_FIT_WORLDS: usize = 64;

/// What observations say of the rate at which an ink's iron(II) takes oxygen.
/// Point FgallStoredInk.fit at it, and the next forecast is your own.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallFit {
    /// sizeof(FgallFit), filled in by the caller.
    pub struct_size: usize,
    /// Median of the rate constant.
    pub assisted_l_per_mol_s: f64,
    /// The factor either way that holds 95 %.
    pub assisted_factor_95: f64,
    /// pH at which the median holds: that of the ink.
    pub assisted_ph: f64,
    /// Temperature at which the median holds: that of the bottle.
    pub assisted_c: f64,
    /// How far tannin undoes the oxidation, as the share of iron(III) that it
    /// leaves in wine, 0.01 to 1: low end.
    pub steady_min_share: f64,
    /// Typical value; 1 when it undoes nothing.
    pub steady_typical_share: f64,
    /// High end.
    pub steady_max_share: f64,
    /// How likely it is that tannin undoes some of it at all, 0 to 1: the rate
    /// above goes with the likelier of the two.
    pub undone: f64,
    /// How far the observations are from the best world, as a root mean square
    /// in their standard uncertainties: beyond about 2 they contradict the
    /// model, or each other.
    pub misfit: f64,
    /// What the spread of the logarithm of the rate has shrunk to: 1 is not at
    /// all, near 0 a lot.
    pub shrunk_to: f64,
    /// Rate constants of the worlds that account for what was seen, the best
    /// first, L/(mol s).
    pub world_l_per_mol_s: [f64; FGALL_FIT_WORLDS],
    /// How far tannin undoes the oxidation in each, as steady_typical_share.
    pub world_steady_share: [f64; FGALL_FIT_WORLDS],
    /// The draws of all else that go with them; give back what you were given.
    pub world_draw: [u32; FGALL_FIT_WORLDS],
}
versioned!(FgallFit);

impl FgallFit {
    fn of(fit: &Fit) -> FgallFit {
        FgallFit {
            struct_size: size_of::<FgallFit>(),
            assisted_l_per_mol_s: fit.assisted.median().in_l_per_mol_s(),
            assisted_factor_95: fit.assisted.factor_95(),
            assisted_ph: fit.assisted.reference_ph(),
            assisted_c: fit.assisted.reference_temperature().in_celsius(),
            steady_min_share: fit.steady_share.min,
            steady_typical_share: fit.steady_share.typical,
            steady_max_share: fit.steady_share.max,
            undone: fit.undone,
            misfit: fit.misfit,
            shrunk_to: fit.shrunk_to,
            world_l_per_mol_s: fit.plain().map(|world| world.0),
            world_steady_share: fit.plain().map(|world| world.1),
            world_draw: fit.plain().map(|world| world.2),
        }
    }

    /// What it says, for another forecast.
    pub(super) fn fit(&self) -> Outcome<Fit> {
        let assisted = assisted_of(
            self.assisted_l_per_mol_s,
            self.assisted_factor_95,
            self.assisted_ph,
            self.assisted_c,
        )?;
        let steady = within(
            "steady_typical_share",
            self.steady_typical_share,
            0.01,
            1.0,
            "",
        )?;
        let min = within("steady_min_share", self.steady_min_share, 0.01, steady, "")?;
        let max = within("steady_max_share", self.steady_max_share, steady, 1.0, "")?;
        let mut worlds = [(0.0, 0.0, 0); FGALL_FIT_WORLDS];
        for (i, world) in worlds.iter_mut().enumerate() {
            *world = (
                self.world_l_per_mol_s[i],
                self.world_steady_share[i],
                self.world_draw[i],
            );
        }
        Fit::from_plain(assisted, Range::new(min, steady, max), &worlds)
            .arg("world_l_per_mol_s", f64::NAN)
    }
}

/// The rate of an ink from what was seen of it in a bottle: 1 to 1000
/// observations whose times do not fall, while the bottle is kept and holds ink;
/// an ink without tannin has no such rate. What was known before is that of the
/// ink.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_fit(
    ink: *const FgallStoredInk,
    keeping: *const FgallKeeping,
    sightings: *const FgallSighting,
    count: usize,
    fitted: *mut FgallFit,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room; there are count
    // sightings.
    unsafe {
        guard(error, || {
            let kept = kept(ink, keeping)?;
            let slot = out_struct(fitted, "fitted")?;
            let given = read_array(sightings, count, MOST, "sightings")?;
            let seen: Outcome<Vec<_>> = given.iter().map(FgallSighting::sighting).collect();
            let found = fit(&kept.ink, &kept.bottle, &seen?).map_err(|e| blamed(e, &given))?;
            slot.put(FgallFit::of(&found));
            Ok(())
        })
    }
}

/// Says which time came too late.
fn blamed(e: OxidationError, given: &[FgallSighting]) -> super::error::Failure {
    let late = match &e {
        OxidationError::TimesOutOfOrder { index, .. } => given.get(*index).map(|s| s.at_days),
        OxidationError::OutOfRange(range) if range.what == "time of an observation" => {
            Some(range.value / 86_400.0)
        }
        _ => None,
    };
    let mut failure = super::error::Failure::from(e);
    if let Some(days) = late {
        failure.argument = "at_days".to_string();
        failure.value = days;
    }
    failure
}
