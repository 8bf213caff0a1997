//! How fast iron(II) takes oxygen by itself, law by law.

use super::error::{Blame, FgallError, Outcome};
use super::guard::{foreign, guard, out, out_if_wanted, out_struct, versioned};
use super::status::FgallStatus;
use super::strings::deliver;
use crate::oxidation::{InorganicRate, IronLaw, Milieu};
use crate::quantity::{celsius, moles_per_kilogram};
use core::ffi::c_char;
use core::mem::size_of;

/// Law: Fe2+, FeOH+ and Fe(OH)2 each by itself; from acid to pH 9, the law to take
/// when one is to be taken.
pub const FGALL_LAW_PARALLEL_PATHWAYS: u32 = 1;
/// Law: Stumm and Lee 1961, near neutral, in bicarbonate water.
pub const FGALL_LAW_STUMM_LEE: u32 = 2;
/// Law: Singer and Stumm 1970, in acid; the slowest of the acid constants.
pub const FGALL_LAW_ACID_PLATEAU: u32 = 3;
/// Law: a plateau in acid and the square of OH- beyond, a worked example of the
/// U.S. Geological Survey.
pub const FGALL_LAW_PLATEAU_AND_HYDROXIDE: u32 = 4;
/// Law: Millero, Sotolongo and Izaguirre 1987, from lakes to the sea.
pub const FGALL_LAW_MILLERO: u32 = 5;
/// Law: Morgan and Lahav 2007 as quoted at second hand; valid above pH 5.5 only.
pub const FGALL_LAW_MORGAN_LAHAV: u32 = 6;

/// The one list of numbers and laws.
const LAWS: [(u32, IronLaw); 6] = [
    (FGALL_LAW_PARALLEL_PATHWAYS, IronLaw::ParallelPathways),
    (FGALL_LAW_STUMM_LEE, IronLaw::StummLee),
    (FGALL_LAW_ACID_PLATEAU, IronLaw::AcidPlateau),
    (
        FGALL_LAW_PLATEAU_AND_HYDROXIDE,
        IronLaw::PlateauAndHydroxide,
    ),
    (FGALL_LAW_MILLERO, IronLaw::Millero),
    (FGALL_LAW_MORGAN_LAHAV, IronLaw::MorganLahav),
];

fn law_of(number: u32) -> Outcome<IronLaw> {
    let found = LAWS.iter().find(|(n, _)| *n == number);
    found
        .map(|(_, law)| *law)
        .ok_or_else(|| foreign(number, "law"))
}

fn number_of(law: IronLaw) -> u32 {
    LAWS.iter().find(|(_, l)| *l == law).map_or(0, |(n, _)| *n)
}

/// A range error of a milieu, with the argument it is about.
fn milieu_of(temperature_c: f64, ph: f64, salt: f64) -> Outcome<Milieu> {
    let milieu = Milieu::new(celsius(temperature_c), ph)
        .and_then(|milieu| milieu.ionic_strength(moles_per_kilogram(salt)));
    about(milieu, temperature_c, ph, salt)
}

fn about<T>(
    result: Result<T, crate::oxidation::OxidationError>,
    temperature_c: f64,
    ph: f64,
    salt: f64,
) -> Outcome<T> {
    result.arg_of(&[
        ("temperature", "temperature_c", temperature_c),
        ("pH", "ph", ph),
        ("ionic strength", "ionic_strength_mol_per_kg", salt),
    ])
}

/// Where a law comes from and how far that may be trusted, in English.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_iron_law_source(
    law: u32,
    buffer: *mut c_char,
    capacity: usize,
    needed: *mut usize,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let source = law_of(law)?.source().to_string();
            deliver(&source, buffer, capacity, needed)
        })
    }
}

/// The apparent constant k of a published law (FGALL_LAW_…): iron(II) is lost at k
/// times iron(II) times dissolved oxygen, no ligand helping. Water of 0 to 40 °C,
/// pH -1 to 14, ionic strength 0 to 2 mol/kg; FGALL_OUT_OF_RANGE where the law
/// does not hold. uncertainty_factor, by which it may be wrong either way, may
/// be NULL. The laws disagree: ask fgall_inorganic_rate for the span.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_iron_law_constant(
    law: u32,
    temperature_c: f64,
    ph: f64,
    ionic_strength_mol_per_kg: f64,
    constant_l_per_mol_s: *mut f64,
    uncertainty_factor: *mut f64,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let law = law_of(law)?;
            let slot = out(constant_l_per_mol_s, "constant_l_per_mol_s")?;
            let factor = out_if_wanted(uncertainty_factor, "uncertainty_factor")?;
            let salt = ionic_strength_mol_per_kg;
            let milieu = milieu_of(temperature_c, ph, salt)?;
            let both = law
                .constant(&milieu)
                .and_then(|k| Ok((k, law.uncertainty_factor(&milieu)?)));
            let (constant, wrong_by) = about(both, temperature_c, ph, salt)?;
            if let Some(factor) = factor {
                factor.put(wrong_by);
            }
            slot.put(constant.in_l_per_mol_s());
            Ok(())
        })
    }
}

/// What all laws that hold in a water say together of iron(II) and oxygen without
/// a ligand: the floor of an ink's oxidation.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallInorganicRate {
    /// sizeof(FgallInorganicRate), filled in by the caller.
    pub struct_size: usize,
    /// Slowest end the laws reach with their factors of uncertainty.
    pub low_l_per_mol_s: f64,
    /// The recommended law, FGALL_LAW_PARALLEL_PATHWAYS.
    pub typical_l_per_mol_s: f64,
    /// Fastest end.
    pub high_l_per_mol_s: f64,
    /// The law that sets the slowest end, FGALL_LAW_…
    pub low_law: u32,
    /// The law that sets the fastest end, FGALL_LAW_…
    pub high_law: u32,
}
versioned!(FgallInorganicRate);

/// The span of the rate of iron(II) and oxygen without a ligand, in water of 0 to
/// 40 °C, pH -1 to 9, ionic strength 0 to 2 mol/kg.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_inorganic_rate(
    temperature_c: f64,
    ph: f64,
    ionic_strength_mol_per_kg: f64,
    rate: *mut FgallInorganicRate,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(rate, "rate")?;
            let salt = ionic_strength_mol_per_kg;
            let milieu = milieu_of(temperature_c, ph, salt)?;
            let rate = about(InorganicRate::at(&milieu), temperature_c, ph, salt)?;
            slot.put(FgallInorganicRate {
                struct_size: size_of::<FgallInorganicRate>(),
                low_l_per_mol_s: rate.low.in_l_per_mol_s(),
                typical_l_per_mol_s: rate.typical.in_l_per_mol_s(),
                high_l_per_mol_s: rate.high.in_l_per_mol_s(),
                low_law: number_of(rate.low_law),
                high_law: number_of(rate.high_law),
            });
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_law_has_its_number() {
        for law in IronLaw::ALL {
            assert_eq!(law_of(number_of(law)).ok(), Some(law));
        }
        assert_eq!(LAWS.len(), IronLaw::ALL.len());
    }
}
