//! What a course is given: the bottle and the rates.

use super::error::{Blame, Failure, Outcome};
use super::guard::{known_bits, versioned};
use super::status::FGALL_EITHER_OR;
use crate::oxidation::{
    Air, Change, Conductance, FirstOrder, Kinetics, SecondOrder, ThirdOrder, Vessel,
};
use crate::quantity::{Share, celsius, kilopascals, milliliters, moles_per_liter, within};
use uom::si::f64::VolumeRate;
use uom::si::volume_rate::liter_per_second;

/// Bit of FgallVessel.set: temperature_c and pressure_kpa are given.
pub const FGALL_VESSEL_AIR: u32 = 1;
/// Bit of FgallVessel.set: dissolving_share is given.
pub const FGALL_VESSEL_DISSOLVING: u32 = 2;
/// Bit of FgallVessel.set: transfer_l_per_s is given.
pub const FGALL_VESSEL_TRANSFER: u32 = 4;
/// Bit of FgallVessel.set: conductance_mol_per_s_atm is given.
pub const FGALL_VESSEL_CONDUCTANCE: u32 = 8;
/// Bit of FgallVessel.set: breathing_per_s is given.
pub const FGALL_VESSEL_BREATHING: u32 = 16;
/// Bit of FgallVessel.set: it stands open (it has no field).
pub const FGALL_VESSEL_OPEN: u32 = 32;
/// Bit of FgallVessel.set: in a change, it is closed again, with fresh air in it
/// (it has no field).
pub const FGALL_VESSEL_CLOSED: u32 = 64;
/// Bit of FgallVessel.set: liquid and gas hold the oxygen that air gives them,
/// and that of the contents is not read (it has no field).
pub const FGALL_VESSEL_SATURATED: u32 = 128;

/// All bits of a vessel.
const ALL: u32 = 255;

/// A vessel with ink and air in it; in a change, what its conditions become.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallVessel {
    /// sizeof(FgallVessel), filled in by the caller.
    pub struct_size: usize,
    /// Liquid in it, 0.001 mL to 1e9 mL; not read in a change.
    pub liquid_ml: f64,
    /// Gas in it, 0 to 1e9 mL; 0 is filled to the brim. Not read in a change.
    pub gas_ml: f64,
    /// Which of the rest is given: FGALL_VESSEL_… bits. In a change, what is not
    /// given stays as it was.
    pub set: u32,
    /// Temperature of ink and air, 0 to 40 °C; 25 if not given.
    pub temperature_c: f64,
    /// Pressure of the air, 50.7 to 111.4 kPa; 101.325 if not given.
    pub pressure_kpa: f64,
    /// Oxygen the ink dissolves as a share of what water does; 1 if not given.
    /// It belongs to the air: a change gives both, or the air alone, of which
    /// it then dissolves 1.
    pub dissolving_share: f64,
    /// Gas transfer coefficient times surface, 0 to 1000 L/s, at the temperature
    /// of the air; it grows by 2.4 % a kelvin. 1e-6 if not given: 5 cm2 of ink
    /// that stands still.
    pub transfer_l_per_s: f64,
    /// What closure or wall lets through, 0 to 1 mol/(s atm) of oxygen; gas-tight
    /// if not given.
    pub conductance_mol_per_s_atm: f64,
    /// Share of the headspace that a leaky cap exchanges in a second; 0 if not
    /// given.
    pub breathing_per_s: f64,
}
versioned!(FgallVessel);

impl FgallVessel {
    fn given(&self, bit: u32) -> bool {
        self.set & bit != 0
    }

    pub(super) fn is_saturated(&self) -> bool {
        self.given(FGALL_VESSEL_SATURATED)
    }

    /// `None` when neither air nor what the ink dissolves of it is given.
    fn air(&self) -> Outcome<Option<Air>> {
        if !self.given(FGALL_VESSEL_AIR | FGALL_VESSEL_DISSOLVING) {
            return Ok(None);
        }
        let mut air = Air::standard();
        if self.given(FGALL_VESSEL_AIR) {
            let (c, kpa) = (self.temperature_c, self.pressure_kpa);
            air = Air::at(celsius(c), kilopascals(kpa)).arg_of(&[
                ("temperature", "temperature_c", c),
                ("pressure", "pressure_kpa", kpa),
            ])?;
        }
        if self.given(FGALL_VESSEL_DISSOLVING) {
            let share = Share::new(self.dissolving_share);
            air = air.dissolving(share.arg("dissolving_share", self.dissolving_share)?);
        }
        Ok(Some(air))
    }

    /// What of the conditions is given, but whether it is open.
    fn conditions(&self) -> Outcome<Change> {
        let mut change = Change {
            air: self.air()?,
            ..Change::default()
        };
        if self.given(FGALL_VESSEL_TRANSFER) {
            let l_per_s = within(
                "transfer_l_per_s",
                self.transfer_l_per_s,
                0.0,
                1000.0,
                "L/s",
            )?;
            change.transfer = Some(VolumeRate::new::<liter_per_second>(l_per_s));
        }
        if self.given(FGALL_VESSEL_CONDUCTANCE) {
            let g = self.conductance_mol_per_s_atm;
            let conductance = Conductance::mol_per_second_atm(g);
            change.conductance = Some(conductance.arg("conductance_mol_per_s_atm", g)?);
        }
        if self.given(FGALL_VESSEL_BREATHING) {
            let rate = FirstOrder::per_second(self.breathing_per_s);
            change.breathing = Some(rate.arg("breathing_per_s", self.breathing_per_s)?);
        }
        Ok(change)
    }

    /// The vessel at the beginning of a course.
    pub(super) fn vessel(&self) -> Outcome<Vessel> {
        known_bits(self.set, ALL & !FGALL_VESSEL_CLOSED, "set")?;
        let given = self.conditions()?;
        let air = given.air.unwrap_or(Air::standard());
        let vessel = Vessel::closed(milliliters(self.liquid_ml), milliliters(self.gas_ml), air);
        let mut vessel = vessel.arg_of(&[
            ("liquid volume", "liquid_ml", self.liquid_ml),
            ("gas volume", "gas_ml", self.gas_ml),
        ])?;
        if let Some(transfer) = given.transfer {
            vessel = vessel.transfer(transfer)?;
        }
        if let Some(conductance) = given.conductance {
            vessel = vessel.conductance(conductance);
        }
        if let Some(breathing) = given.breathing {
            vessel = vessel.breathing(breathing);
        }
        Ok(if self.given(FGALL_VESSEL_OPEN) {
            vessel.standing_open()
        } else {
            vessel
        })
    }

    /// What becomes of the conditions in the middle of a course.
    pub(super) fn change(&self) -> Outcome<Change> {
        // What it dissolves would go with air of 25 °C.
        let with_air = if self.given(FGALL_VESSEL_AIR) {
            0
        } else {
            FGALL_VESSEL_DISSOLVING
        };
        known_bits(self.set, ALL & !FGALL_VESSEL_SATURATED & !with_air, "set")?;
        let open = self.given(FGALL_VESSEL_OPEN);
        let closed = self.given(FGALL_VESSEL_CLOSED);
        if open && closed {
            let text = "says that the vessel is open, and closed too";
            return Err(Failure::new(FGALL_EITHER_OR, "set", text));
        }
        Ok(Change {
            open: (open || closed).then_some(open),
            ..self.conditions()?
        })
    }
}

/// Bit of FgallKinetics.set: oxygen_per_scavenger is given.
pub const FGALL_KINETICS_OXYGEN_PER_SCAVENGER: u32 = 1;
/// Bit of FgallKinetics.set: iron_per_oxygen is given.
pub const FGALL_KINETICS_IRON_PER_OXYGEN: u32 = 2;
/// Bit of FgallKinetics.set: valid_at_c is given.
pub const FGALL_KINETICS_VALID_AT: u32 = 4;

/// Rate constants and stoichiometry of the reactions in a bottle of ink. What
/// FGALL_INIT leaves at 0 does not happen. Rate constants are 0 to 1e12.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct FgallKinetics {
    /// sizeof(FgallKinetics), filled in by the caller.
    pub struct_size: usize,
    /// Iron(II) and dissolved oxygen, first order in each.
    pub oxidation_l_per_mol_s: f64,
    /// Second order in iron(II), as in concentrated acid solutions; no constant
    /// for 25 °C is published.
    pub oxidation_by_two_l2_per_mol2_s: f64,
    /// Iron(III) and the electrons of phenol, 2 to 4 for each galloyl unit.
    pub reduction_l_per_mol_s: f64,
    /// Settling of the iron(III) beyond soluble_mol_per_l; not published for ink.
    pub settling_per_s: f64,
    /// Iron(III) that stays in solution, 0 to 10 mol/L.
    pub soluble_mol_per_l: f64,
    /// Reduction of iron(III) by metallic iron, which brings half an iron more
    /// for each. It gives off hydrogen, which is not in the model: leave such a
    /// bottle open to vent, away from flames.
    pub metal_per_s: f64,
    /// A scavenger and dissolved oxygen.
    pub scavenging_l_per_mol_s: f64,
    /// Share of the electrons which iron does not give an O2 that phenols give
    /// while there are any, 0 to 1; the rest comes from other organics.
    pub rest_from_phenol_share: f64,
    /// Activation energy of all constants, 0 to 200 kJ/mol.
    pub activation_kj_per_mol: f64,
    /// Which of the rest is given: FGALL_KINETICS_… bits.
    pub set: u32,
    /// O2 taken up by a mole of scavenger, 0.1 to 4; 0.5 if not given.
    pub oxygen_per_scavenger: f64,
    /// Iron(II) oxidised by one O2, 2 to 4; 4 if not given.
    pub iron_per_oxygen: f64,
    /// Temperature at which the constants hold, 0 to 100 °C; 25 if not given.
    pub valid_at_c: f64,
}
versioned!(FgallKinetics);

impl FgallKinetics {
    pub(super) fn kinetics(&self) -> Outcome<Kinetics> {
        known_bits(self.set, 7, "set")?;
        let given = |bit| self.set & bit != 0;
        let first = |name, k| FirstOrder::per_second(k).arg(name, k);
        let second = |name, k| SecondOrder::l_per_mol_s(k).arg(name, k);
        let by_two = self.oxidation_by_two_l2_per_mol2_s;
        let by_two =
            ThirdOrder::l2_per_mol2_s(by_two).arg("oxidation_by_two_l2_per_mol2_s", by_two)?;
        let rest = self.rest_from_phenol_share;
        let oxygen_per_scavenger = if given(FGALL_KINETICS_OXYGEN_PER_SCAVENGER) {
            self.oxygen_per_scavenger
        } else {
            0.5
        };
        let valid_at_c = if given(FGALL_KINETICS_VALID_AT) {
            self.valid_at_c
        } else {
            25.0
        };
        let mut kinetics = Kinetics::builder()
            .oxidation(second("oxidation_l_per_mol_s", self.oxidation_l_per_mol_s)?)
            .oxidation_by_two(by_two)
            .reduction(second("reduction_l_per_mol_s", self.reduction_l_per_mol_s)?)
            .settling(
                first("settling_per_s", self.settling_per_s)?,
                moles_per_liter(self.soluble_mol_per_l),
            )
            .metal(first("metal_per_s", self.metal_per_s)?)
            .scavenging(
                second("scavenging_l_per_mol_s", self.scavenging_l_per_mol_s)?,
                oxygen_per_scavenger,
            )
            .rest_from_phenol(Share::new(rest).arg("rest_from_phenol_share", rest)?)
            .activation_energy_kj_per_mol(self.activation_kj_per_mol, celsius(valid_at_c));
        if given(FGALL_KINETICS_IRON_PER_OXYGEN) {
            kinetics = kinetics.iron_per_oxygen(self.iron_per_oxygen);
        }
        kinetics.build().arg_of(&[
            (
                "soluble iron(III)",
                "soluble_mol_per_l",
                self.soluble_mol_per_l,
            ),
            (
                "activation energy",
                "activation_kj_per_mol",
                self.activation_kj_per_mol,
            ),
            (
                "oxygen per scavenger",
                "oxygen_per_scavenger",
                oxygen_per_scavenger,
            ),
            (
                "iron(II) per oxygen (nu)",
                "iron_per_oxygen",
                self.iron_per_oxygen,
            ),
            ("temperature of the constants", "valid_at_c", valid_at_c),
        ])
    }
}
