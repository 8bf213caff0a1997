//! The bottle as a container: liquid, gas, and what passes between them.

use super::kinetics::Kinetics;
use super::system::System;
use crate::oxidation::constants::{ATM, GAS_CONSTANT, TRANSFER_PER_KELVIN};
use crate::oxidation::{Air, Conductance, FirstOrder, OxidationError};
use crate::quantity::{Volume, within};
use uom::si::f64::VolumeRate;
use uom::si::volume::cubic_meter;
use uom::si::volume_rate::liter_per_second;

/// Liquid below this share of what was there first counts as an empty bottle.
const DREGS: f64 = 1e-9;

/// A vessel with ink and air in it.
///
/// ```
/// use ferrogall::oxidation::{Air, Vessel};
/// use ferrogall::quantity::milliliters;
/// let bottle = Vessel::closed(milliliters(30.0), milliliters(10.0), Air::standard())?;
/// assert_eq!(bottle.gas(), milliliters(10.0));
/// // An open dish takes its oxygen from the room.
/// let dish = Vessel::open(milliliters(25.0), Air::standard())?;
/// assert!(dish.is_open());
/// # Ok::<(), ferrogall::oxidation::OxidationError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vessel {
    /// m³, of liquid and of gas.
    pub(super) liquid: f64,
    pub(super) gas: f64,
    pub(super) open: bool,
    pub(super) air: Air,
    /// m³/s at `transfer_at`, K.
    transfer: f64,
    transfer_at: f64,
    pub(super) conductance: Conductance,
    /// Share of the headspace exchanged per second.
    pub(super) breathing: FirstOrder,
    /// Liquid at the beginning, m³.
    first_liquid: f64,
}

impl Vessel {
    /// A closed vessel; gas-tight, with [`DEFAULT_TRANSFER`](Self::DEFAULT_TRANSFER_L_PER_S)
    /// between gas and liquid. No gas at all is a vessel filled to the brim.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for a liquid outside 0.001 mL to
    /// 1000 m³, or a gas volume above 1000 m³.
    pub fn closed(liquid: Volume, gas: Volume, air: Air) -> Result<Self, OxidationError> {
        within("liquid volume", liquid.value * 1e6, 1e-3, 1e9, "mL")?;
        within("gas volume", gas.value * 1e6, 0.0, 1e9, "mL")?;
        Ok(Vessel {
            liquid: liquid.value,
            gas: gas.value,
            open: false,
            air,
            transfer: Self::DEFAULT_TRANSFER_L_PER_S / 1000.0,
            transfer_at: air.temperature().value,
            conductance: Conductance::ZERO,
            breathing: FirstOrder::ZERO,
            first_liquid: liquid.value,
        })
    }

    /// An open vessel: the air above the liquid never runs short of oxygen.
    ///
    /// # Errors
    /// As [`Vessel::closed`].
    pub fn open(liquid: Volume, air: Air) -> Result<Self, OxidationError> {
        Ok(Vessel {
            open: true,
            ..Self::closed(liquid, Volume::default(), air)?
        })
    }

    /// Transfer between gas and liquid of a bottle that stands still, L/s: a
    /// transfer coefficient of 2e-6 m/s times 5 cm². Coefficients of 1e-6 to
    /// 1e-5 m/s go with ordinary thermal convection (from memory).
    pub const DEFAULT_TRANSFER_L_PER_S: f64 = 1e-6;

    /// Gas transfer coefficient times surface, up to 1000 L/s, at the
    /// temperature of the vessel's air; it grows by 2.4 % a kelvin.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] otherwise.
    pub fn transfer(self, coefficient_times_surface: VolumeRate) -> Result<Self, OxidationError> {
        let l_per_s = coefficient_times_surface.get::<liter_per_second>();
        let l_per_s = within("gas transfer", l_per_s, 0.0, 1000.0, "L/s")?;
        Ok(Vessel {
            transfer: l_per_s / 1000.0,
            transfer_at: self.air.temperature().value,
            ..self
        })
    }

    /// What lets oxygen through the closure or the wall.
    #[must_use]
    pub fn conductance(self, conductance: Conductance) -> Self {
        Vessel {
            conductance,
            ..self
        }
    }

    /// Share of the headspace that a cap which is not gas-tight exchanges in
    /// a time: what [`breathing`](crate::oxidation::breathing) gives for a
    /// swing of temperature, over the time between two swings.
    #[must_use]
    pub fn breathing(self, share_per_time: FirstOrder) -> Self {
        Vessel {
            breathing: share_per_time,
            ..self
        }
    }

    /// The same, standing open.
    #[must_use]
    pub fn standing_open(self) -> Self {
        Vessel { open: true, ..self }
    }

    /// Other air in and around it: another temperature or pressure.
    #[must_use]
    pub fn in_air(self, air: Air) -> Self {
        Vessel { air, ..self }
    }

    /// Liquid in it.
    pub fn liquid(&self) -> Volume {
        Volume::new::<cubic_meter>(self.liquid)
    }

    /// Gas in it. What is above an open vessel does not count.
    pub fn gas(&self) -> Volume {
        Volume::new::<cubic_meter>(self.gas)
    }

    /// Whether it stands open.
    pub fn is_open(&self) -> bool {
        self.open
    }

    /// Air in and around it.
    pub fn air(&self) -> Air {
        self.air
    }

    /// Whether there is a gas space that can run short of oxygen.
    pub(super) fn has_headspace(&self) -> bool {
        !self.open && self.gas > 0.0
    }

    /// Oxygen in gas that is in equilibrium with the air outside, mol.
    pub(super) fn oxygen_of_air(&self, gas: f64) -> f64 {
        self.air.gas() * gas
    }

    /// Oxygen in liquid as a multiple of that in gas, by volume.
    pub(super) fn dissolved_per_gas(&self) -> f64 {
        self.air.dissolved().value / self.air.gas()
    }

    /// Whether pouring this much leaves ink in it.
    pub(super) fn least_liquid(&self) -> f64 {
        DREGS * self.first_liquid
    }

    /// The equations, in amounts.
    pub(super) fn system(&self, kinetics: &Kinetics) -> System {
        let k = kinetics.given;
        let kelvin = self.air.temperature().value;
        let by_temperature = kinetics.factor_at(kelvin);
        // 1 L/mol is 1e-3 m³/mol
        let second = |constant: f64| constant * by_temperature * 1e-3 / self.liquid;
        let warmer = kelvin - self.transfer_at;
        let transfer = if warmer == 0.0 {
            self.transfer
        } else {
            self.transfer * libm::exp(warmer * libm::log(TRANSFER_PER_KELVIN.value))
        };
        let outside = self.air.oxygen_pressure().value;
        // mol/(m³ Pa): Henry constant, and the same for gas.
        let henry = self.air.dissolved().value / outside;
        let per_gas = 1.0 / (GAS_CONSTANT * kelvin);
        let through = self.conductance.in_mol_per_second_atm() / ATM
            + self.breathing.in_per_second() * per_gas * self.gas;
        let headspace = self.has_headspace();
        // Liquid that fills its bottle takes oxygen straight through the wall.
        let exchange = if headspace || self.open {
            transfer
        } else if through > 0.0 && transfer > 0.0 {
            transfer * through / (through + transfer * henry)
        } else {
            0.0
        };
        let missing = (NU_MAX - k.nu) / k.nu;
        System {
            ox1: second(k.oxidation.in_l_per_mol_s()),
            ox2: k.oxidation_by_two.in_l2_per_mol2_s() * by_temperature * 1e-6
                / (self.liquid * self.liquid),
            red: second(k.reduction.in_l_per_mol_s()),
            settle: k.settling.in_per_second() * by_temperature,
            soluble: k.soluble.value * self.liquid,
            metal: k.metal.in_per_second() * by_temperature,
            scavenge: second(k.scavenging.in_l_per_mol_s()),
            supply: if headspace {
                0.0
            } else {
                exchange * henry * outside
            },
            from_gas: if headspace {
                exchange * henry / (per_gas * self.gas)
            } else {
                0.0
            },
            from_liquid: exchange / self.liquid,
            leak_in: if headspace { through * outside } else { 0.0 },
            leak_out: if headspace {
                through / (per_gas * self.gas)
            } else {
                0.0
            },
            headspace,
            oxygen_per_iron: 1.0 / k.nu,
            oxygen_per_scavenger: k.oxygen_per_scavenger,
            burnt_phenol: k.from_phenol.value() * missing,
            burnt_other: (1.0 - k.from_phenol.value()) * missing,
        }
    }
}

/// Electrons an O₂ takes.
const NU_MAX: f64 = 4.0;
