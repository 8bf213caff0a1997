//! What the ink shall be.

use super::Goal;
use crate::composition::{Bulk, Component, Composition};
use crate::quantity::{MassConcentration, MolarConcentration, Share, Volume, within};

/// What the ink shall be.
///
/// ```
/// use ferrogall::formulate::Targets;
/// use ferrogall::quantity::*;
/// let targets = Targets::new(liters(1.0), moles_per_liter(0.054), 0.606)?
///     .gum(grams_per_liter(10.0))?
///     .strong_acid(moles_per_liter(0.034))?;
/// assert_eq!(targets.volume(), liters(1.0));
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Targets {
    volume: f64,
    iron_ii: f64,
    iron_ii_per_galloyl: f64,
    gallic_share: Option<f64>,
    gum: Option<f64>,
    strong_acid: Option<f64>,
    dye: Option<f64>,
    preservative: Option<f64>,
}

impl Targets {
    /// Volume, iron(II) per volume (1e-6 to 10 mol/L), and iron(II) per
    /// galloyl unit (1e-3 to 1e3 mol/mol).
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn new(
        volume: Volume,
        iron_ii: MolarConcentration,
        iron_ii_per_galloyl: f64,
    ) -> Result<Targets, crate::quantity::OutOfRange> {
        Ok(Targets {
            volume: within("volume", volume.value, 1e-9, 1e3, "m3")?,
            iron_ii: within("iron(II)", iron_ii.value, 1e-3, 1e4, "mol/m3")?,
            iron_ii_per_galloyl: within(
                "iron(II) per galloyl",
                iron_ii_per_galloyl,
                1e-3,
                1e3,
                "mol/mol",
            )?,
            gallic_share: None,
            gum: None,
            strong_acid: None,
            dye: None,
            preservative: None,
        })
    }

    /// What a composition is, as targets for another batch of `volume`. A base
    /// left over is no target.
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange) when it has no volume, no
    /// iron(II) or no galloyl.
    pub fn like(
        ink: &Composition,
        volume: Volume,
        strength: f64,
    ) -> Result<Targets, crate::quantity::OutOfRange> {
        let strength = within("strength", strength, 1e-3, 1e3, "")?;
        let iron_ii = ink.concentration(ink.iron_ii()) * strength;
        let ratio = ink.iron_ii().value / ink.galloyl().value;
        let mut t = Targets::new(volume, iron_ii, ratio)?;
        let some = |x: f64| (x > 0.0).then_some(x * strength);
        let per_volume = |b: Bulk| some(ink.mass_concentration(b).value);
        if ink.mass_of(Bulk::Tannin).value > 0.0 && ink.amount(Component::GallicAcid).value > 0.0 {
            t.gallic_share = Some(ink.amount(Component::GallicAcid).value / ink.galloyl().value);
        }
        t.gum = per_volume(Bulk::Gum);
        t.dye = per_volume(Bulk::Dye);
        t.strong_acid = some(ink.concentration(ink.strong_acid()).value);
        t.preservative = some(ink.preservative().value / ink.volume().value);
        Ok(t)
    }

    /// Share of the galloyl units that is free gallic acid; without it the
    /// tannin lot brings what it brings.
    #[must_use]
    pub fn gallic_share(mut self, share: Share) -> Self {
        self.gallic_share = Some(share.value());
        self
    }

    /// Dry gum per volume, up to 1 kg/L.
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn gum(mut self, dry: MassConcentration) -> Result<Self, crate::quantity::OutOfRange> {
        self.gum = Some(within("gum", dry.value, 0.0, 1e3, "g/L")?);
        Ok(self)
    }

    /// Strong acid per volume, -10 to 10 mol/L; negative: a base left over.
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn strong_acid(
        mut self,
        acid: MolarConcentration,
    ) -> Result<Self, crate::quantity::OutOfRange> {
        self.strong_acid = Some(within("strong acid", acid.value, -1e4, 1e4, "mol/m3")?);
        Ok(self)
    }

    /// Dye per volume, up to 1 kg/L.
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn dye(mut self, dye: MassConcentration) -> Result<Self, crate::quantity::OutOfRange> {
        self.dye = Some(within("dye", dye.value, 0.0, 1e3, "g/L")?);
        Ok(self)
    }

    /// Preservative per volume, as the acid or phenol that acts; up to 1 kg/L.
    ///
    /// # Errors
    /// [`OutOfRange`](crate::quantity::OutOfRange).
    pub fn preservative(
        mut self,
        preservative: MassConcentration,
    ) -> Result<Self, crate::quantity::OutOfRange> {
        self.preservative = Some(within("preservative", preservative.value, 0.0, 1e3, "g/L")?);
        Ok(self)
    }

    /// The volume to make.
    pub fn volume(&self) -> Volume {
        Volume::new::<uom::si::volume::cubic_meter>(self.volume)
    }

    /// The same targets without the optional ones `kept` is false for.
    pub(super) fn only(&self, kept: impl Fn(Target) -> bool) -> Targets {
        let only = |target, wanted: Option<f64>| wanted.filter(|_| kept(target));
        Targets {
            gallic_share: only(Target::GallicAcid, self.gallic_share),
            gum: only(Target::Gum, self.gum),
            strong_acid: only(Target::Acid, self.strong_acid),
            dye: only(Target::Dye, self.dye),
            preservative: only(Target::Preservative, self.preservative),
            ..*self
        }
    }

    /// The figures wanted, in SI.
    pub(super) fn by_goal(&self) -> [(Goal, Option<f64>); 7] {
        [
            (Goal::IronII, Some(self.iron_ii)),
            (Goal::IronIIPerGalloyl, Some(self.iron_ii_per_galloyl)),
            (Goal::GallicShare, self.gallic_share),
            (Goal::Gum, self.gum),
            (Goal::StrongAcid, self.strong_acid),
            (Goal::Dye, self.dye),
            (Goal::Preservative, self.preservative),
        ]
    }

    /// Totals the finished batch must hold, by target.
    pub(super) fn wanted(&self, target: Target) -> Option<f64> {
        let iron = self.iron_ii * self.volume;
        let galloyl = iron / self.iron_ii_per_galloyl;
        let per_volume = |c: Option<f64>| c.map(|c| c * self.volume);
        match target {
            Target::Iron => Some(iron),
            Target::Galloyl => Some(galloyl),
            Target::GallicAcid => self.gallic_share.map(|s| s * galloyl),
            Target::Gum => per_volume(self.gum),
            Target::Acid => per_volume(self.strong_acid),
            Target::Dye => per_volume(self.dye),
            Target::Preservative => per_volume(self.preservative),
            Target::Volume => Some(self.volume),
        }
    }
}

/// One equation of the system.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Target {
    Iron,
    Galloyl,
    GallicAcid,
    Gum,
    Acid,
    Dye,
    Preservative,
    Volume,
}

impl Target {
    pub(super) fn name(self) -> &'static str {
        match self {
            Target::Iron => "iron(II)",
            Target::Galloyl => "iron(II) per galloyl",
            Target::GallicAcid => "gallic share",
            Target::Gum => "gum",
            Target::Acid => "strong acid",
            Target::Dye => "dye",
            Target::Preservative => "preservative",
            Target::Volume => "volume",
        }
    }

    /// How much of it a composition holds.
    pub(super) fn held_by(self, c: &Composition) -> f64 {
        match self {
            Target::Iron => c.iron_ii().value,
            Target::Galloyl => c.galloyl().value,
            Target::GallicAcid => c.amount(Component::GallicAcid).value,
            Target::Gum => c.mass_of(Bulk::Gum).value,
            Target::Acid => c.strong_acid().value,
            Target::Dye => c.mass_of(Bulk::Dye).value,
            Target::Preservative => c.preservative().value,
            Target::Volume => c.volume().value,
        }
    }
}
