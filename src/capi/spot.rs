//! A drop of extract, additions of iron, and the eye.

use super::assay::{read, reading};
use super::belief::FgallBelief;
use super::error::{Blame, Failure, FgallError, Outcome};
use super::guard::{
    foreign, guard, known_bits, out_struct, out_struct_if_wanted, read_struct, versioned,
};
use super::status::FgallStatus;
use crate::assay::{Bracket, Figure, SpotTest};
use crate::quantity::{
    Molality, MolarConcentration, ReadMolality, ReadMolarConcentration, grams, milliliters,
    moles_per_kilogram, moles_per_liter, within,
};
use crate::source::Range;
use crate::uncertainty::{Belief, Evidence};
use core::mem::size_of;

/// Spot test: iron solution added to so much extract.
pub const FGALL_ADDING_IRON: u32 = 1;
/// Spot test: extract added to so much iron solution.
pub const FGALL_ADDING_EXTRACT: u32 = 2;

/// Bit of FgallSpotTest.set: judging_u_ln is given.
pub const FGALL_SPOT_JUDGING: u32 = 1;
/// Bit of FgallSpotTest.set: iron_per_galloyl_min, iron_per_galloyl_typical and
/// iron_per_galloyl_max are given.
pub const FGALL_SPOT_RATIO: u32 = 2;

/// Additions until one no longer darkens. Take an iron(III) salt, or wait; put no
/// acid in.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSpotTest {
    /// sizeof(FgallSpotTest), filled in by the caller.
    pub struct_size: usize,
    /// What was added: FGALL_ADDING_…
    pub kind: u32,
    /// Which of the optional fields are given: FGALL_SPOT_… bits.
    pub set: u32,
    /// Volume that was there, up to 10 mL.
    pub given_ml: f64,
    /// Its standard uncertainty.
    pub given_u_ml: f64,
    /// Iron in the iron solution, 1e-9 to 10 mol/L.
    pub iron_mol_per_l: f64,
    /// Its standard uncertainty.
    pub iron_u_mol_per_l: f64,
    /// All that was added when it last darkened; 0 where none did.
    pub last_darkened_ml: f64,
    /// All that was added when it first did not, up to 10 mL.
    pub first_not_ml: f64,
    /// How well the eye judges an end, in logarithms, 0 to 2; 0.15 if not given.
    pub judging_u_ln: f64,
    /// Iron per galloyl at the end point, 0.01 to 10, found on an extract of
    /// known content: low end; the library's span if not given.
    pub iron_per_galloyl_min: f64,
    /// Typical value.
    pub iron_per_galloyl_typical: f64,
    /// High end.
    pub iron_per_galloyl_max: f64,
}
versioned!(FgallSpotTest);

/// A property known to lie between two values, each end perhaps misjudged; what is
/// then believed of it says fgall_belief_update_bracket.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallBracket {
    /// sizeof(FgallBracket), filled in by the caller.
    pub struct_size: usize,
    /// Low end; 0 where not even the first addition did anything.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// The geometric middle; NaN where the low end is 0.
    pub median: f64,
    /// Standard uncertainty of the middle in logarithms; NaN where the low end is
    /// 0.
    pub u_ln: f64,
    /// Standard uncertainty in logarithms of what moves both ends alike.
    pub scale_u_ln: f64,
    /// Standard uncertainty in logarithms of judging either end.
    pub judging_u_ln: f64,
    /// Both of these together.
    pub both_u_ln: f64,
}
versioned!(FgallBracket);

impl FgallBracket {
    fn of<Q: Figure>(found: &Bracket<Q>, unit: impl Fn(Q) -> f64) -> FgallBracket {
        let u_ln = Some(found.u_ln()).filter(|u| u.is_finite());
        FgallBracket {
            struct_size: size_of::<FgallBracket>(),
            low: unit(found.low),
            high: unit(found.high),
            median: found.median().map_or(f64::NAN, unit),
            u_ln: u_ln.unwrap_or(f64::NAN),
            scale_u_ln: found.scale_u_ln,
            judging_u_ln: found.judging_u_ln,
            both_u_ln: found.both_u_ln(),
        }
    }
}

/// How far below its high end a bracket whose low end is 0 still reaches.
const FAR: f64 = 1e12;

impl FgallBracket {
    fn evidence(&self) -> Outcome<Evidence> {
        let high = within("high", self.high, 1e-30, 1e30, "")?;
        let low = within("low", self.low, 0.0, high, "")?.max(high / FAR);
        let judging = within("judging_u_ln", self.judging_u_ln, 0.0, 20.0, "")?;
        let scale = within("scale_u_ln", self.scale_u_ln, 0.0, 20.0, "")?;
        Ok(Evidence::between(low, high, judging)?.times(1.0, scale)?)
    }
}

/// What is believed of a positive property after a bracket of it, in the unit of
/// the bracket: `median` (1e-30 to 1e30) and `u_ln` (0 to 20) are the belief before.
/// Of the bracket low, high, judging_u_ln and scale_u_ln count.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_belief_update_bracket(
    median: f64,
    u_ln: f64,
    bracket: *const FgallBracket,
    belief: *mut FgallBelief,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(belief, "belief")?;
            let prior = Belief::log_normal(median, u_ln);
            let prior = prior.arg_of(&[("uncertainty of the logarithm", "u_ln", u_ln)])?;
            let evidence = read_struct(bracket, "bracket")?.evidence()?;
            let after = prior.updated(&evidence);
            let (low, high) = after.interval();
            slot.put(FgallBelief {
                struct_size: size_of::<FgallBelief>(),
                median: after.median(),
                u_ln: after.u_ln(),
                low,
                high,
                surprise: prior.surprise(&evidence),
            });
            Ok(())
        })
    }
}

impl FgallSpotTest {
    fn test(&self) -> Outcome<SpotTest> {
        known_bits(self.set, FGALL_SPOT_JUDGING | FGALL_SPOT_RATIO, "set")?;
        let given = read!(self, given_ml, given_u_ml, milliliters, 10.0)?;
        let iron = read!(
            self,
            iron_mol_per_l,
            iron_u_mol_per_l,
            moles_per_liter,
            10.0
        )?;
        let last = within("last_darkened_ml", self.last_darkened_ml, 0.0, 10.0, "mL")?;
        let first = within("first_not_ml", self.first_not_ml, 0.0, 10.0, "mL")?;
        let (last, first) = (milliliters(last), milliliters(first));
        let test = match self.kind {
            FGALL_ADDING_IRON => SpotTest::iron_into_extract(given, iron, last, first),
            FGALL_ADDING_EXTRACT => SpotTest::extract_into_iron(given, iron, last, first),
            other => return Err(foreign(other, "kind")),
        };
        let mut test = test.arg_of(&[
            (
                "last addition that darkened",
                "last_darkened_ml",
                self.last_darkened_ml,
            ),
            (
                "first addition that did not",
                "first_not_ml",
                self.first_not_ml,
            ),
            ("volume given", "given_ml", self.given_ml),
            ("iron solution", "iron_mol_per_l", self.iron_mol_per_l),
        ])?;
        if self.set & FGALL_SPOT_JUDGING != 0 {
            let judged = test.judging(self.judging_u_ln);
            test = judged.arg("judging_u_ln", self.judging_u_ln)?;
        }
        if self.set & FGALL_SPOT_RATIO != 0 {
            let (min, typical, max) = (
                self.iron_per_galloyl_min,
                self.iron_per_galloyl_typical,
                self.iron_per_galloyl_max,
            );
            within("iron_per_galloyl_typical", typical, 0.01, 10.0, "")?;
            let known = test.iron_per_galloyl(Range::new(min, typical, max));
            test = known.arg_of(&[
                ("iron per galloyl, low", "iron_per_galloyl_min", min),
                ("iron per galloyl, high", "iron_per_galloyl_max", max),
            ])?;
        }
        Ok(test)
    }

    fn galloyl(&self) -> Outcome<Bracket<MolarConcentration>> {
        Ok(self.test()?.galloyl()?)
    }
}

/// Galloyl units of the extract, free gallic acid included, mol/L.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_spot_galloyl_mol_per_l(
    test: *const FgallSpotTest,
    bracket: *mut FgallBracket,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let slot = out_struct(bracket, "bracket")?;
            let found = read_struct(test, "test")?.galloyl()?;
            slot.put(FgallBracket::of(&found, |c| c.in_moles_per_liter()));
            Ok(())
        })
    }
}

/// The plant an extract came from.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallSpotPlant {
    /// sizeof(FgallSpotPlant), filled in by the caller.
    pub struct_size: usize,
    /// Volume of the whole extract.
    pub liquor_ml: f64,
    /// Its standard uncertainty.
    pub liquor_u_ml: f64,
    /// Mass of the plant as it was weighed.
    pub plant_g: f64,
    /// Its standard uncertainty.
    pub plant_u_g: f64,
    /// Moisture of the plant, 0 to 0.99; 0 for a content of the plant as it is.
    pub moisture_share: f64,
    /// Its standard uncertainty.
    pub moisture_u: f64,
    /// Share of the plant's galloyl units that is in the extract.
    pub yield_share: f64,
    /// Its standard uncertainty.
    pub yield_u: f64,
    /// Galloyl units per mass of tannin, 0.1 to 20 mol/kg.
    pub galloyl_mol_per_kg: f64,
    /// Its standard uncertainty.
    pub galloyl_u_mol_per_kg: f64,
}
versioned!(FgallSpotPlant);

impl FgallSpotPlant {
    fn galloyl(&self, found: &Bracket<MolarConcentration>) -> Outcome<Bracket<Molality>> {
        let held = found.plant(
            &read!(self, liquor_ml, liquor_u_ml, milliliters, 1e9)?,
            &read!(self, plant_g, plant_u_g, grams, 1e9)?,
            &read!(self, moisture_share, moisture_u, |x| x, 1.0)?,
            &read!(self, yield_share, yield_u, |x| x, 1.0)?,
        );
        held.map_err(|e| {
            let mut failure = Failure::from(e);
            let (name, value) = match failure.argument.as_str() {
                "volume of the liquor" => ("liquor_ml", self.liquor_ml),
                "mass of the plant" => ("plant_g", self.plant_g),
                "moisture" => ("moisture_share", self.moisture_share),
                "yield" => ("yield_share", self.yield_share),
                _ => return failure,
            };
            failure.argument = name.to_string();
            failure.value = value;
            failure
        })
    }
}

/// Galloyl units of the plant, mol per kg of dry plant, and the tannin that stands
/// for them, as a share of dry plant (free gallic acid counts as tannin). Either
/// bracket may be NULL; without `tannin` galloyl_mol_per_kg is not read.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fgall_spot_plant(
    test: *const FgallSpotTest,
    plant: *const FgallSpotPlant,
    galloyl_mol_per_kg: *mut FgallBracket,
    tannin_share: *mut FgallBracket,
    error: *mut FgallError,
) -> FgallStatus {
    // SAFETY: the caller keeps the pointer rules of this room.
    unsafe {
        guard(error, || {
            let test = read_struct(test, "test")?;
            let plant = read_struct(plant, "plant")?;
            let of_galloyl = out_struct_if_wanted(galloyl_mol_per_kg, "galloyl_mol_per_kg")?;
            let of_tannin = out_struct_if_wanted(tannin_share, "tannin_share")?;
            let held = plant.galloyl(&test.galloyl()?)?;
            if let Some(slot) = of_tannin {
                let value = ("galloyl_mol_per_kg", plant.galloyl_mol_per_kg);
                let u = ("galloyl_u_mol_per_kg", plant.galloyl_u_mol_per_kg);
                let per = reading(moles_per_kilogram, value, u, 1e3)?;
                let tannin = held.tannin(&per);
                let blame = [("galloyl per tannin", value.0, value.1)];
                slot.put(FgallBracket::of(&tannin.arg_of(&blame)?, |x| x));
            }
            if let Some(slot) = of_galloyl {
                slot.put(FgallBracket::of(&held, |m| m.in_moles_per_kilogram()));
            }
            Ok(())
        })
    }
}
