//! What a course is given: amounts, and what happens.

use super::course_given::{FgallKinetics, FgallVessel};
use super::error::Outcome;
use super::guard::{foreign, read_struct_if_given};
use crate::oxidation::{Act, Change, Contents, Event, Portion};
use crate::quantity::{
    AmountOfSubstance, ReadAmount, Share, days, milliliters, millimoles, within,
};

/// Amounts in a bottle of ink, each 0 to 1e12 mmol.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallContents {
    /// Iron(II) in solution.
    pub iron_ii_mmol: f64,
    /// Iron(III) in solution.
    pub iron_iii_mmol: f64,
    /// Iron(III) settled.
    pub sediment_mmol: f64,
    /// Oxygen in the liquid.
    pub oxygen_dissolved_mmol: f64,
    /// Oxygen in the headspace; nothing when there is none, or it stands open.
    pub oxygen_gas_mmol: f64,
    /// Electrons that gallic acid and galloyl units can still give: two to four
    /// for each.
    pub phenol_electrons_mmol: f64,
    /// Scavenger.
    pub scavenger_mmol: f64,
    /// Electrons that oxygen has taken from other organics.
    pub other_electrons_mmol: f64,
    /// Oxygen that has come in since the beginning, less what was displaced;
    /// below 0 in a result when more was displaced.
    pub oxygen_in_mmol: f64,
    /// Iron that a piece of metal has brought.
    pub metal_iron_mmol: f64,
}

impl FgallContents {
    pub(super) fn of(c: &Contents) -> FgallContents {
        FgallContents {
            iron_ii_mmol: c.iron_ii.in_millimoles(),
            iron_iii_mmol: c.iron_iii.in_millimoles(),
            sediment_mmol: c.sediment.in_millimoles(),
            oxygen_dissolved_mmol: c.oxygen_dissolved.in_millimoles(),
            oxygen_gas_mmol: c.oxygen_gas.in_millimoles(),
            phenol_electrons_mmol: c.phenol_electrons.in_millimoles(),
            scavenger_mmol: c.scavenger.in_millimoles(),
            other_electrons_mmol: c.other_electrons.in_millimoles(),
            oxygen_in_mmol: c.oxygen_in.in_millimoles(),
            metal_iron_mmol: c.metal_iron.in_millimoles(),
        }
    }

    pub(super) fn contents(&self) -> Outcome<Contents> {
        let amount = |name: &'static str, mmol: f64| -> Outcome<AmountOfSubstance> {
            Ok(millimoles(within(name, mmol, 0.0, 1e12, "mmol")?))
        };
        Ok(Contents {
            iron_ii: amount("iron_ii_mmol", self.iron_ii_mmol)?,
            iron_iii: amount("iron_iii_mmol", self.iron_iii_mmol)?,
            sediment: amount("sediment_mmol", self.sediment_mmol)?,
            oxygen_dissolved: amount("oxygen_dissolved_mmol", self.oxygen_dissolved_mmol)?,
            oxygen_gas: amount("oxygen_gas_mmol", self.oxygen_gas_mmol)?,
            phenol_electrons: amount("phenol_electrons_mmol", self.phenol_electrons_mmol)?,
            scavenger: amount("scavenger_mmol", self.scavenger_mmol)?,
            other_electrons: amount("other_electrons_mmol", self.other_electrons_mmol)?,
            oxygen_in: amount("oxygen_in_mmol", self.oxygen_in_mmol)?,
            metal_iron: amount("metal_iron_mmol", self.metal_iron_mmol)?,
        })
    }
}

/// Event: volume_ml of ink is taken out and air takes its place; sediment goes
/// with it, as from a bottle that was stirred.
pub const FGALL_ACT_POUR: u32 = 1;
/// Event: `share` of the headspace is exchanged for outside air.
pub const FGALL_ACT_EXCHANGE: u32 = 2;
/// Event: gas and liquid come to equilibrium.
pub const FGALL_ACT_SHAKE: u32 = 3;
/// Event: volume_ml of ink that holds `contents` is added; gas is pushed out.
pub const FGALL_ACT_TOP_UP: u32 = 4;
/// Event: conditions become those that `vessel` gives, rates those of `kinetics`.
pub const FGALL_ACT_CHANGE: u32 = 5;
/// Event: sediment is filtered off.
pub const FGALL_ACT_FILTER: u32 = 6;
/// Event: inert gas replaces `share` of the headspace.
pub const FGALL_ACT_FLUSH: u32 = 7;
/// Event: volume_ml of glass beads are put in and push gas out.
pub const FGALL_ACT_DISPLACE: u32 = 8;

/// Something that happens to a bottle. One opening is a pour, then an exchange,
/// then a shake. What its kind does not name is not read.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallEvent {
    /// Time since the beginning, 0 to a thousand years.
    pub at_days: f64,
    /// What: FGALL_ACT_…
    pub kind: u32,
    /// Volume, 0 to 1e9 mL: no more than the ink or the gas there is.
    pub volume_ml: f64,
    /// Share, 0 to 1.
    pub share: f64,
    /// What an added portion holds. Oxygen in gas, oxygen come in and iron from
    /// metal are not read.
    pub contents: FgallContents,
    /// The conditions after a change; NULL: as they were.
    pub vessel: *const FgallVessel,
    /// The rates after a change; NULL: as they were.
    pub kinetics: *const FgallKinetics,
}

impl FgallEvent {
    /// # Safety
    /// As for the whole room.
    pub(super) unsafe fn event(&self) -> Outcome<Event> {
        let at = days(within("at_days", self.at_days, 0.0, 365_250.0, "d")?);
        let volume = || within("volume_ml", self.volume_ml, 0.0, 1e9, "mL").map(milliliters);
        let share = || within("share", self.share, 0.0, 1.0, "").and_then(Share::new);
        let act = match self.kind {
            FGALL_ACT_POUR => Act::Pour(volume()?),
            FGALL_ACT_EXCHANGE => Act::Exchange(share()?),
            FGALL_ACT_SHAKE => Act::Shake,
            FGALL_ACT_TOP_UP => Act::TopUp(Portion {
                volume: volume()?,
                contents: self.contents.contents()?,
            }),
            // SAFETY: as promised by the caller.
            FGALL_ACT_CHANGE => Act::Change(unsafe { self.change() }?),
            FGALL_ACT_FILTER => Act::Filter,
            FGALL_ACT_FLUSH => Act::Flush(share()?),
            FGALL_ACT_DISPLACE => Act::Displace(volume()?),
            other => return Err(foreign(other, "kind")),
        };
        Ok(Event { at, act })
    }

    /// # Safety
    /// As for the whole room.
    unsafe fn change(&self) -> Outcome<Change> {
        // SAFETY: as promised by the caller.
        let (vessel, kinetics) = unsafe {
            (
                read_struct_if_given(self.vessel, "vessel")?,
                read_struct_if_given(self.kinetics, "kinetics")?,
            )
        };
        let mut change = vessel.map_or(Ok(Change::default()), |v| v.change())?;
        if let Some(kinetics) = kinetics {
            change.kinetics = Some(kinetics.kinetics()?);
        }
        Ok(change)
    }
}
