//! What a study says: figures with their intervals, which measurement would
//! help most, and chances.

use super::bench::FGALL_NAME_BYTES;
use super::error::{FgallError, Outcome, unknown_name};
use super::guard::{
    deliver_all, foreign, guard, handle, out, out_if_wanted, out_struct, out_struct_if_wanted,
    room_for, versioned,
};
use super::lots::FgallShelf;
use super::status::FgallStatus;
use super::strings::{deliver, fixed, text};
use super::study::{FgallStudy, about};
use crate::composition::{Criterion, criteria};
use crate::quantity::ReadMass;
use crate::uncertainty::{Advice, Help, Measurand, Method, Misleading, MonteCarlo};
use core::ffi::c_char;
use core::mem::size_of;

/// A figure: iron, both states, per galloyl unit, mol/mol.
pub const FGALL_MEASURAND_IRON_PER_GALLOYL: u32 = 1;
/// A figure: iron(II) per galloyl unit, mol/mol.
pub const FGALL_MEASURAND_IRON_II_PER_GALLOYL: u32 = 2;
/// A figure: iron(II).
pub const FGALL_MEASURAND_IRON_II_MOL_PER_L: u32 = 3;
/// A figure: metallic iron.
pub const FGALL_MEASURAND_IRON_G_PER_L: u32 = 4;
/// A figure: galloyl units, free gallic acid included.
pub const FGALL_MEASURAND_GALLOYL_MOL_PER_L: u32 = 5;
/// A figure: free gallic acid.
pub const FGALL_MEASURAND_GALLIC_ACID_MOL_PER_L: u32 = 6;
/// A figure: strong acid; negative: excess of base.
pub const FGALL_MEASURAND_STRONG_ACID_MOL_PER_L: u32 = 7;
/// A figure: dry gum.
pub const FGALL_MEASURAND_GUM_G_PER_L: u32 = 8;
/// A figure: preservative, as the acid or phenol that acts.
pub const FGALL_MEASURAND_PRESERVATIVE_G_PER_L: u32 = 9;
/// A figure: dry residue.
pub const FGALL_MEASURAND_DRY_RESIDUE_G_PER_L: u32 = 10;
/// A figure: volume at 20 °C.
pub const FGALL_MEASURAND_VOLUME_ML: u32 = 11;

/// The measurand of a constant.
pub(super) fn measurand_of(code: u32) -> Outcome<Measurand> {
    Ok(match code {
        FGALL_MEASURAND_IRON_PER_GALLOYL => Measurand::IronPerGalloyl,
        FGALL_MEASURAND_IRON_II_PER_GALLOYL => Measurand::IronIIPerGalloyl,
        FGALL_MEASURAND_IRON_II_MOL_PER_L => Measurand::IronII,
        FGALL_MEASURAND_IRON_G_PER_L => Measurand::Iron,
        FGALL_MEASURAND_GALLOYL_MOL_PER_L => Measurand::Galloyl,
        FGALL_MEASURAND_GALLIC_ACID_MOL_PER_L => Measurand::GallicAcid,
        FGALL_MEASURAND_STRONG_ACID_MOL_PER_L => Measurand::StrongAcid,
        FGALL_MEASURAND_GUM_G_PER_L => Measurand::Gum,
        FGALL_MEASURAND_PRESERVATIVE_G_PER_L => Measurand::Preservative,
        FGALL_MEASURAND_DRY_RESIDUE_G_PER_L => Measurand::DryResidue,
        FGALL_MEASURAND_VOLUME_ML => Measurand::Volume,
        other => return Err(foreign(other, "measurand")),
    })
}

/// A measurand in words, such as "free gallic acid".
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_measurand_text(
    measurand: u32,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            deliver(measurand_of(measurand)?.name(), buffer, capacity, needed)
        })
    }
}

/// How an answer was come by: law of propagation of uncertainty, first order.
pub const FGALL_METHOD_FIRST_ORDER: u32 = 1;
/// How an answer was come by: draws, because the figure bends over the width of
/// its sources.
pub const FGALL_METHOD_DRAWS_CURVED: u32 = 2;
/// How an answer was come by: draws, because most of the variance comes from one
/// source that is not normally distributed.
pub const FGALL_METHOD_DRAWS_NOT_NORMAL: u32 = 3;

/// A figure with its 95 % interval, in the unit that its FGALL_MEASURAND_… names.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallAnswer {
    /// sizeof(FgallAnswer), filled in by the caller.
    pub struct_size: usize,
    /// FGALL_METHOD_…
    pub method: u32,
    /// The figure with every source at its estimate.
    pub value: f64,
    /// Standard uncertainty (k = 1).
    pub u: f64,
    /// Low end of the interval that holds 95 %.
    pub low: f64,
    /// High end of it.
    pub high: f64,
    /// Draws for which there is no such figure; they count for nothing else.
    pub failed_draws: usize,
    /// Share of the variance that all weighings and fillings make together.
    pub tools_share: f64,
}
versioned!(FgallAnswer);

/// No figure is infinite over the border.
pub(super) fn finite(x: f64) -> f64 {
    if x.is_finite() { x } else { f64::NAN }
}

impl FgallAnswer {
    fn of(advice: &Advice) -> FgallAnswer {
        let answer = &advice.answer;
        FgallAnswer {
            struct_size: size_of::<FgallAnswer>(),
            method: match answer.method {
                Method::FirstOrder => FGALL_METHOD_FIRST_ORDER,
                Method::MonteCarlo(Misleading::Curved) => FGALL_METHOD_DRAWS_CURVED,
                Method::MonteCarlo(Misleading::NotNormal) => FGALL_METHOD_DRAWS_NOT_NORMAL,
            },
            value: finite(answer.value),
            u: finite(answer.u),
            low: finite(answer.low),
            high: finite(answer.high),
            failed_draws: answer.failed,
            tools_share: finite(advice.tools),
        }
    }
}

/// What knowing one source exactly would do to the interval of a figure.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallHelp {
    /// Index of the source in the study.
    pub source: usize,
    /// Its name; all of it through fgall_study_source_name.
    pub name: [c_char; FGALL_NAME_BYTES],
    /// Share of the variance that would go.
    pub share: f64,
    /// Width of the interval that would be left, as a share of the present one.
    pub width_left: f64,
    /// What narrows the source: FGALL_REMEDY_…
    pub remedy: u32,
}

impl FgallHelp {
    fn of(help: &Help, study: &FgallStudy) -> FgallHelp {
        FgallHelp {
            source: study.place(&help.name),
            name: fixed(&help.name),
            share: finite(help.share),
            width_left: finite(help.width_left),
            remedy: study.remedy(&help.name),
        }
    }
}

impl FgallStudy {
    fn advice(&self, measurand: u32, seed: u64, draws: u32) -> Outcome<Advice> {
        let measurand = measurand_of(measurand)?;
        Ok(self
            .study
            .advice(measurand, &MonteCarlo::fixed(seed, draws)?)?)
    }
}

/// One figure with its 95 % interval: by first order where that is honest, by
/// draws (100 to 2e7) where it is not. FGALL_NO_VALUE when the ink does not have
/// the figure. The same seed gives the same draws, everywhere.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_answer(
    study: *const FgallStudy,
    measurand: u32,
    seed: u64,
    draws: u32,
    answer: *mut FgallAnswer,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let slot = out_struct(answer, "answer")?;
            let plan = MonteCarlo::fixed(seed, draws)?;
            // The ranking of the sources, which is not told, need not be drawn.
            let quick = study.study.quick_advice(measurand_of(measurand)?, &plan)?;
            slot.put(FgallAnswer::of(&quick));
            Ok(())
        })
    }
}

/// The same, and every source by what knowing it would do, the most helpful
/// first, which takes a run of draws for each of them: written to `helps`, which has room for `capacity` of them. There are as
/// many as sources; if that is too many, *needed says so and nothing is drawn.
/// `answer` may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_helps(
    study: *const FgallStudy,
    measurand: u32,
    seed: u64,
    draws: u32,
    answer: *mut FgallAnswer,
    helps: *mut FgallHelp,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let slot = out_struct_if_wanted(answer, "answer")?;
            room_for(study.count(), capacity, needed, "helps")?;
            let advice = study.advice(measurand, seed, draws)?;
            let all = advice.answer.helps.iter();
            let all = all.map(|help| FgallHelp::of(help, study));
            deliver_all(all, helps, capacity, needed, "helps")?;
            if let Some(slot) = slot {
                slot.put(FgallAnswer::of(&advice));
            }
            Ok(())
        })
    }
}

/// The sentence: the figure, its interval, and which measurement would help
/// most. Every call draws anew: FGALL_TEXT_BYTES are mostly enough.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_advice_text(
    study: *const FgallStudy,
    measurand: u32,
    seed: u64,
    draws: u32,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let advice = study.advice(measurand, seed, draws)?;
            deliver(&advice.to_string(), buffer, capacity, needed)
        })
    }
}

/// # Safety
/// As for the whole room.
pub(super) unsafe fn criterion_called(id: *const c_char) -> Outcome<&'static Criterion> {
    // SAFETY: as promised by the caller.
    let id = unsafe { text(id, "criterion") }?;
    let found = criteria().iter().find(|c| c.id == id);
    found.ok_or_else(|| unknown_name("criterion", id))
}

/// How likely the ink has more iron than a criterion (its identifier as in
/// FgallVerdict) calls balanced: a share of the draws (100 to 2e7), and its
/// standard error from their number alone, which may be NULL.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_excess_iron(
    study: *const FgallStudy,
    criterion: *const c_char,
    seed: u64,
    draws: u32,
    probability: *mut f64,
    sampling_error: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let criterion = criterion_called(criterion)?;
            let likely = out(probability, "probability")?;
            let sampling = out_if_wanted(sampling_error, "sampling_error")?;
            let plan = MonteCarlo::fixed(seed, draws)?;
            let chance = study.study.excess_iron(criterion, &plan)?;
            likely.put(chance.probability);
            if let Some(slot) = sampling {
                slot.put(chance.sampling_error);
            }
            Ok(())
        })
    }
}

/// How much of a lot makes sure that no iron is left over.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallAssurance {
    /// sizeof(FgallAssurance), filled in by the caller.
    pub struct_size: usize,
    /// How many times as much of the lot as the recipe has.
    pub factor: f64,
    /// That much of the lot.
    pub mass_g: f64,
    /// The assurance there is as it stands, 0 to 1.
    pub now: f64,
}
versioned!(FgallAssurance);

/// How much of a lot of the shelf, which must be one of the recipe, with its
/// soak water if it is soaked, it takes that the iron stays within a criterion
/// with this assurance, 0.5 to 0.999. Draws (100 to 2e7) are made many times
/// over. FGALL_NOT_ASSURED when a thousand times as much would not do.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_study_assured(
    study: *const FgallStudy,
    shelf: *const FgallShelf,
    lot: usize,
    criterion: *const c_char,
    assurance: f64,
    seed: u64,
    draws: u32,
    assured: *mut FgallAssurance,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let study = handle(study, "study")?;
            let lot = handle(shelf, "shelf")?.lot(lot, "lot")?;
            let criterion = criterion_called(criterion)?;
            let slot = out_struct(assured, "assured")?;
            let plan = MonteCarlo::fixed(seed, draws)?;
            let found = study.study.assured(lot, criterion, assurance, &plan);
            let found = about(found, "lot")?;
            slot.put(FgallAssurance {
                struct_size: size_of::<FgallAssurance>(),
                factor: finite(found.factor),
                mass_g: finite(found.mass.in_grams()),
                now: finite(found.now),
            });
            Ok(())
        })
    }
}
