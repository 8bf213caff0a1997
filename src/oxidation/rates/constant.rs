//! Rate constants by their order.

use crate::oxidation::OxidationError;
use crate::quantity::{MolarConcentration, Share, Time, within};
use core::f64::consts::LN_2;
use uom::si::time::second;

/// Nothing dissolved reacts faster than it meets: about 1e10 L/(mol s).
const MOST: f64 = 1e12;

macro_rules! rate_constant {
    ($(#[$doc:meta])* $name:ident, $make:ident, $read:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// No reaction at all.
            pub const ZERO: $name = $name(0.0);

            #[doc = concat!("From ", $unit, "; 0 to 1e12.")]
            ///
            /// # Errors
            /// [`OxidationError::OutOfRange`] otherwise.
            pub fn $make(value: f64) -> Result<Self, OxidationError> {
                Ok($name(within("rate constant", value, 0.0, MOST, $unit)?))
            }

            #[doc = concat!("In ", $unit, ".")]
            pub const fn $read(self) -> f64 {
                self.0
            }
        }
    };
}

rate_constant!(
    /// Amount per time and amount of one substance.
    ///
    /// ```
    /// use ferrogall::oxidation::FirstOrder;
    /// let settling = FirstOrder::per_second(1e-6)?;
    /// assert_eq!(settling.in_per_second(), 1e-6);
    /// # Ok::<(), ferrogall::oxidation::OxidationError>(())
    /// ```
    FirstOrder, per_second, in_per_second, "1/s"
);
rate_constant!(
    /// Two substances that meet: iron(II) and oxygen, iron(III) and phenol.
    ///
    /// ```
    /// use ferrogall::oxidation::{Air, SecondOrder};
    /// use ferrogall::quantity::ReadTime;
    /// let acid = SecondOrder::l_per_mol_s(1.07e-5)?;
    /// let years = acid.half_life(Air::standard().dissolved()).unwrap().in_days() / 365.25;
    /// assert!((years - 7.9).abs() < 0.1);
    /// # Ok::<(), ferrogall::oxidation::OxidationError>(())
    /// ```
    SecondOrder, l_per_mol_s, in_l_per_mol_s, "L/(mol s)"
);
rate_constant!(
    /// Two iron(II) and one oxygen, as in concentrated acid iron solutions.
    ///
    /// ```
    /// use ferrogall::oxidation::ThirdOrder;
    /// assert_eq!(ThirdOrder::l2_per_mol2_s(0.5)?.in_l2_per_mol2_s(), 0.5);
    /// # Ok::<(), ferrogall::oxidation::OxidationError>(())
    /// ```
    ThirdOrder, l2_per_mol2_s, in_l2_per_mol2_s, "L2/(mol2 s)"
);

impl FirstOrder {
    /// The constant at which this share is gone after a time.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for a share of all, or a time outside
    /// 1e-6 s to a thousand years.
    ///
    /// ```
    /// use ferrogall::oxidation::FirstOrder;
    /// use ferrogall::quantity::{days, Share};
    /// let k = FirstOrder::of_loss(Share::percent(50.0)?, days(1.0))?;
    /// assert!((k.in_per_second() * 86_400.0 - 2f64.ln()).abs() < 1e-12);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_loss(share: Share, after: Time) -> Result<Self, OxidationError> {
        let seconds = within("time", after.value, 1e-6, 3.2e10, "s")?;
        let lost = within("share lost", share.value(), 0.0, 1.0 - f64::EPSILON, "")?;
        Self::per_second(-libm::log1p(-lost) / seconds)
    }

    /// The second-order constant, when the pace was set by this much of
    /// another substance.
    ///
    /// # Errors
    /// [`OxidationError::OutOfRange`] for less than 1e-15 or more than 100
    /// mol/L of it, or a constant above 1e12 L/(mol s).
    pub fn with(self, other: MolarConcentration) -> Result<SecondOrder, OxidationError> {
        // mol/m³ inside
        let c = within("concentration", other.value / 1000.0, 1e-15, 100.0, "mol/L")?;
        SecondOrder::l_per_mol_s(self.0 / c)
    }
}

impl SecondOrder {
    /// A constant of a table, known to be in range.
    pub(super) const fn from_table(l_per_mol_s: f64) -> Self {
        SecondOrder(l_per_mol_s)
    }

    /// Time in which half of one substance is gone while the other stays at
    /// this concentration; `None`: never.
    pub fn half_life(self, other: MolarConcentration) -> Option<Time> {
        // mol/m³ inside
        let per_second = self.0 * other.value / 1000.0;
        (per_second > 0.0).then(|| Time::new::<second>(LN_2 / per_second))
    }
}
