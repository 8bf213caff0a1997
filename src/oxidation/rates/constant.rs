//! Rate constants by their order.

use crate::oxidation::OxidationError;
use crate::quantity::{MolarConcentration, Time, within};
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

impl SecondOrder {
    /// Time in which half of one substance is gone while the other stays at
    /// this concentration; `None`: never.
    pub fn half_life(self, other: MolarConcentration) -> Option<Time> {
        // mol/m³ inside
        let per_second = self.0 * other.value / 1000.0;
        (per_second > 0.0).then(|| Time::new::<second>(LN_2 / per_second))
    }
}
