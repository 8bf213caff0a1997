//! What the ink shall be, in windows.

use super::{Targets, Window};
use crate::chem::constants::GALLIC_ACID;
use crate::composition::{Bulk, Component, Composition, Criterion};
use crate::quantity::{MassConcentration, MolarConcentration, OutOfRange, Volume, within};
use crate::standards::{Quantity, Standard};

/// A figure of an ink that can be asked for.
///
/// ```
/// use ferrogall::formulate::Goal;
/// assert_eq!(Goal::IronII.id(), "iron_ii");
/// assert_eq!(Goal::from_id("ph"), Some(Goal::Ph));
/// assert_eq!(Goal::Gum.unit(), "g/L");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
#[non_exhaustive]
pub enum Goal {
    /// Iron(II) per volume.
    #[cfg_attr(feature = "serde", serde(rename = "iron_ii"))]
    IronII,
    /// All iron per volume, as metal: the figure standards speak of.
    Iron,
    /// Galloyl units per volume, bound and free.
    Galloyl,
    /// Free gallic acid per volume.
    GallicAcid,
    /// Tannin and free gallic acid (anhydrous) together, by mass per volume.
    TannicAndGallic,
    /// Iron(II) per galloyl unit.
    IronIIPerGalloyl,
    /// Share of the galloyl units that is free gallic acid.
    GallicShare,
    /// Strong acid per volume; negative: base left over.
    StrongAcid,
    /// pH of the fresh ink.
    Ph,
    /// Dry gum per volume.
    Gum,
    /// Dye per volume.
    Dye,
    /// Preservative per volume, as the acid or phenol that acts.
    Preservative,
}

/// What a goal is reckoned on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Per {
    Volume,
    Galloyl,
    /// Not linear in the amounts.
    Nothing,
}

impl Goal {
    /// Every goal, in a fixed order.
    pub const ALL: [Goal; 12] = [
        Goal::IronII,
        Goal::Iron,
        Goal::Galloyl,
        Goal::GallicAcid,
        Goal::TannicAndGallic,
        Goal::IronIIPerGalloyl,
        Goal::GallicShare,
        Goal::StrongAcid,
        Goal::Ph,
        Goal::Gum,
        Goal::Dye,
        Goal::Preservative,
    ];

    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        match self {
            Goal::IronII => "iron_ii",
            Goal::Iron => "iron",
            Goal::Galloyl => "galloyl",
            Goal::GallicAcid => "gallic_acid",
            Goal::TannicAndGallic => "tannic_and_gallic",
            Goal::IronIIPerGalloyl => "iron_ii_per_galloyl",
            Goal::GallicShare => "gallic_share",
            Goal::StrongAcid => "strong_acid",
            Goal::Ph => "ph",
            Goal::Gum => "gum",
            Goal::Dye => "dye",
            Goal::Preservative => "preservative",
        }
    }

    /// The goal with this identifier.
    pub fn from_id(id: &str) -> Option<Goal> {
        Goal::ALL.into_iter().find(|goal| goal.id() == id)
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Goal::IronII => "iron(II)",
            Goal::Iron => "iron",
            Goal::Galloyl => "galloyl",
            Goal::GallicAcid => "free gallic acid",
            Goal::TannicAndGallic => "tannin and gallic acid",
            Goal::IronIIPerGalloyl => "iron(II) per galloyl",
            Goal::GallicShare => "gallic share",
            Goal::StrongAcid => "strong acid",
            Goal::Ph => "pH",
            Goal::Gum => "gum",
            Goal::Dye => "dye",
            Goal::Preservative => "preservative",
        }
    }

    /// Unit in which figures of it are given; empty for ratios and pH.
    pub const fn unit(self) -> &'static str {
        match self {
            Goal::IronII | Goal::Galloyl | Goal::GallicAcid | Goal::StrongAcid => "mol/L",
            Goal::Iron | Goal::TannicAndGallic | Goal::Gum | Goal::Dye | Goal::Preservative => {
                "g/L"
            }
            Goal::IronIIPerGalloyl => "mol/mol",
            Goal::GallicShare | Goal::Ph => "",
        }
    }

    /// What a figure in SI is in [`Goal::unit`], as a factor.
    pub(super) const fn per_si(self) -> f64 {
        match self {
            Goal::IronII | Goal::Galloyl | Goal::GallicAcid | Goal::StrongAcid => 1e-3,
            _ => 1.0,
        }
    }

    pub(super) const fn per(self) -> Per {
        match self {
            Goal::IronIIPerGalloyl | Goal::GallicShare => Per::Galloyl,
            Goal::Ph => Per::Nothing,
            _ => Per::Volume,
        }
    }

    /// What is above the line of it, in SI; linear in the composition.
    pub(super) fn above_line(self, c: &Composition) -> f64 {
        match self {
            Goal::IronII | Goal::IronIIPerGalloyl => c.iron_ii().value,
            Goal::Iron => c.iron().value * crate::chem::constants::IRON,
            Goal::Galloyl => c.galloyl().value,
            Goal::GallicAcid | Goal::GallicShare => c.amount(Component::GallicAcid).value,
            Goal::TannicAndGallic => {
                c.mass_of(Bulk::Tannin).value + c.amount(Component::GallicAcid).value * GALLIC_ACID
            }
            Goal::StrongAcid => c.strong_acid().value,
            Goal::Gum => c.mass_of(Bulk::Gum).value,
            Goal::Dye => c.mass_of(Bulk::Dye).value,
            Goal::Preservative => c.preservative().value,
            Goal::Ph => 0.0,
        }
    }

    /// What is below the line of it.
    pub(super) fn below_line(self, c: &Composition) -> f64 {
        match self.per() {
            Per::Galloyl => c.galloyl().value,
            _ => c.volume().value,
        }
    }

    /// Largest size of a figure, in SI.
    const fn most(self) -> f64 {
        match self {
            Goal::IronII | Goal::Galloyl | Goal::GallicAcid | Goal::StrongAcid => 1e4,
            Goal::GallicShare => 1.0,
            Goal::Ph => 15.0,
            _ => 1e3,
        }
    }

    /// What counts as a whole of it where nothing of it is wanted, in SI.
    pub(super) const fn little(self) -> f64 {
        match self.per() {
            Per::Volume => 10.0,
            _ => 1.0,
        }
    }

    const fn index(self) -> usize {
        self as usize
    }
}

/// What the ink shall be: a volume, and a window for each figure that matters.
/// A quantity by itself means exactly so much, a range anything between.
///
/// Figures nobody asks for may be anything; an ink as cheap as can be has no
/// gum when nobody asks for gum.
///
/// ```
/// use ferrogall::formulate::{Goal, Wanted};
/// use ferrogall::quantity::*;
/// let wanted = Wanted::new(milliliters(500.0))?
///     .iron_ii(moles_per_liter(0.055))?
///     .iron_ii_per_galloyl(0.8..=0.95)?
///     .gum(grams_per_liter(10.0)..)?
///     .ph(1.8..=2.4)?;
/// assert_eq!(wanted.window(Goal::Ph), Some((1.8, 2.4)));
/// assert_eq!(wanted.window(Goal::Dye), None);
/// # Ok::<(), OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// m³; two ends that are the same mean exactly so much.
    pub(super) volume: (f64, f64),
    windows: [Option<(f64, f64)>; Goal::ALL.len()],
    pub(super) cost: Option<f64>,
    pub(super) sure: Option<(Criterion, f64)>,
}

impl Wanted {
    /// So much ink (1 µL to 1000 m³), of any kind so far. A volume with two
    /// ends leaves it free between them: whole steps of a balance then have
    /// room to meet the windows.
    ///
    /// ```
    /// use ferrogall::formulate::Wanted;
    /// use ferrogall::quantity::milliliters;
    /// let bottle = Wanted::new(milliliters(28.0)..=milliliters(36.0))?;
    /// assert_eq!(bottle.volumes().high(), Some(milliliters(36.0)));
    /// assert!(Wanted::new(milliliters(28.0)..).is_err()); // how much at most?
    /// # Ok::<(), ferrogall::quantity::OutOfRange>(())
    /// ```
    ///
    /// # Errors
    /// [`OutOfRange`], also for an open end.
    pub fn new(volume: impl Into<Window<Volume>>) -> Result<Wanted, OutOfRange> {
        Ok(Wanted {
            volume: volumes(volume.into())?,
            windows: [None; Goal::ALL.len()],
            cost: None,
            sure: None,
        })
    }

    /// The same ink in another volume.
    ///
    /// # Errors
    /// As [`Wanted::new`].
    pub fn in_volume(mut self, volume: impl Into<Window<Volume>>) -> Result<Wanted, OutOfRange> {
        self.volume = volumes(volume.into())?;
        Ok(self)
    }

    fn molar(self, goal: Goal, window: Window<MolarConcentration>) -> Result<Wanted, OutOfRange> {
        self.ends(goal, window.ends(|c| c.value))
    }

    fn mass(self, goal: Goal, window: Window<MassConcentration>) -> Result<Wanted, OutOfRange> {
        self.ends(goal, window.ends(|c| c.value))
    }

    /// A window in SI, checked.
    pub(super) fn ends(mut self, goal: Goal, ends: (f64, f64)) -> Result<Wanted, OutOfRange> {
        let (low, high) = ends;
        let (what, si) = (goal.name(), goal.per_si());
        let least = match goal {
            Goal::StrongAcid => -goal.most(),
            Goal::Ph => -1.0,
            _ => 0.0,
        };
        let checked = |x: f64, least: f64, most: f64| {
            within(what, x * si, least * si, most * si, goal.unit()).map(|_| x)
        };
        if high != f64::INFINITY {
            checked(high, least, goal.most())?;
        }
        if low != f64::NEG_INFINITY {
            checked(low, least, high.min(goal.most()))?;
        }
        if let Some(slot) = self.windows.get_mut(goal.index()) {
            *slot = (low > f64::NEG_INFINITY || high < f64::INFINITY).then_some((low, high));
        }
        Ok(self)
    }

    /// Iron(II) per volume, up to 10 mol/L.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn iron_ii(
        self,
        window: impl Into<Window<MolarConcentration>>,
    ) -> Result<Wanted, OutOfRange> {
        self.molar(Goal::IronII, window.into())
    }

    /// All iron per volume, reckoned as metal, up to 1 kg/L.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn iron(self, window: impl Into<Window<MassConcentration>>) -> Result<Wanted, OutOfRange> {
        self.mass(Goal::Iron, window.into())
    }

    /// Galloyl units per volume, up to 10 mol/L.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn galloyl(
        self,
        window: impl Into<Window<MolarConcentration>>,
    ) -> Result<Wanted, OutOfRange> {
        self.molar(Goal::Galloyl, window.into())
    }

    /// Free gallic acid per volume, up to 10 mol/L.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn gallic_acid(
        self,
        window: impl Into<Window<MolarConcentration>>,
    ) -> Result<Wanted, OutOfRange> {
        self.molar(Goal::GallicAcid, window.into())
    }

    /// Tannin and free gallic acid, reckoned without water, together.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn tannic_and_gallic(
        self,
        window: impl Into<Window<MassConcentration>>,
    ) -> Result<Wanted, OutOfRange> {
        self.mass(Goal::TannicAndGallic, window.into())
    }

    /// mol of iron(II) per mol of galloyl units, up to 1000.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn iron_ii_per_galloyl(self, window: impl Into<Window<f64>>) -> Result<Wanted, OutOfRange> {
        self.ends(Goal::IronIIPerGalloyl, window.into().ends(|r| r))
    }

    /// Share of the galloyl units that is free gallic acid, 0 to 1.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn gallic_share(self, window: impl Into<Window<f64>>) -> Result<Wanted, OutOfRange> {
        self.ends(Goal::GallicShare, window.into().ends(|r| r))
    }

    /// Strong acid per volume, -10 to 10 mol/L; negative: base left over.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn strong_acid(
        self,
        window: impl Into<Window<MolarConcentration>>,
    ) -> Result<Wanted, OutOfRange> {
        self.molar(Goal::StrongAcid, window.into())
    }

    /// pH of the fresh ink by the reviewed constants at 20 °C, -1 to 15.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn ph(self, window: impl Into<Window<f64>>) -> Result<Wanted, OutOfRange> {
        self.ends(Goal::Ph, window.into().ends(|r| r))
    }

    /// Dry gum per volume, up to 1 kg/L.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn gum(self, window: impl Into<Window<MassConcentration>>) -> Result<Wanted, OutOfRange> {
        self.mass(Goal::Gum, window.into())
    }

    /// Dye per volume, up to 1 kg/L.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn dye(self, window: impl Into<Window<MassConcentration>>) -> Result<Wanted, OutOfRange> {
        self.mass(Goal::Dye, window.into())
    }

    /// Preservative per volume, as the acid or phenol that acts, up to 1 kg/L.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn preservative(
        self,
        window: impl Into<Window<MassConcentration>>,
    ) -> Result<Wanted, OutOfRange> {
        self.mass(Goal::Preservative, window.into())
    }

    /// What a specification limits, beside what is wanted already: iron, tannin
    /// with gallic acid, gallic acid, dye, preservative and strong acid, to the
    /// letter. Limits on anything else are not taken over, nor are its tests:
    /// hold the ink against it afterwards
    /// ([`Standard::compare`](crate::standards::Standard::compare)).
    ///
    /// ```
    /// use ferrogall::formulate::{Goal, Wanted};
    /// use ferrogall::quantity::*;
    /// use ferrogall::standards::standard;
    /// let class_one = standard("de_document_class_i").ok_or("no such standard")?;
    /// let wanted = Wanted::new(liters(1.0))?.keeping(class_one)?;
    /// assert_eq!(wanted.window(Goal::Iron), Some((4.0, 6.0)));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`OutOfRange`] where nothing keeps both.
    pub fn keeping(self, standard: &Standard) -> Result<Wanted, OutOfRange> {
        standard.windows().try_fold(self, |wanted, window| {
            // From the unit of the clause to SI.
            let (goal, si) = match window.quantity {
                Quantity::Iron => (Goal::Iron, 1.0),
                Quantity::TannicAndGallicAcid => (Goal::TannicAndGallic, 1.0),
                Quantity::GallicAcid => (Goal::GallicAcid, 1.0 / GALLIC_ACID),
                Quantity::Dye => (Goal::Dye, 1.0),
                Quantity::Preservative => (Goal::Preservative, 1.0),
                Quantity::StrongAcid => (Goal::StrongAcid, 1.0),
                _ => return Ok(wanted),
            };
            let (low, high) = wanted
                .in_si(goal)
                .unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
            let least = window.min.map_or(low, |min| low.max(min * si));
            let most = window.max.map_or(high, |max| high.min(max * si));
            wanted.ends(goal, (least, most))
        })
    }

    /// The batch may cost so much at most (0 to 1e12), in the money of the
    /// prices.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn costing_at_most(mut self, money: f64) -> Result<Wanted, OutOfRange> {
        self.cost = Some(within("cost", money, 0.0, 1e12, "")?);
        Ok(self)
    }

    /// The iron shall stay within a criterion with this assurance (0.5 to
    /// 0.999), the strengths of the lots being as unsure as they are.
    ///
    /// It is reckoned to first order with normal, independent strengths;
    /// [`Study::excess_iron`](crate::uncertainty::Study::excess_iron) draws
    /// the recipe that comes out of it.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn sure_of(mut self, criterion: &Criterion, assurance: f64) -> Result<Wanted, OutOfRange> {
        let assurance = within("assurance", assurance, 0.5, 0.999, "")?;
        self.sure = Some((*criterion, assurance));
        Ok(self)
    }

    /// The volume to make; of one with two ends, the middle.
    pub fn volume(&self) -> Volume {
        Volume::new::<uom::si::volume::cubic_meter>(0.5 * (self.volume.0 + self.volume.1))
    }

    /// The volume to make, with its two ends.
    pub fn volumes(&self) -> Window<Volume> {
        let end = |x| Some(Volume::new::<uom::si::volume::cubic_meter>(x));
        Window::between(end(self.volume.0), end(self.volume.1))
    }

    /// The window of a goal in [`Goal::unit`], an open end infinite.
    pub fn window(&self, goal: Goal) -> Option<(f64, f64)> {
        let (low, high) = self.in_si(goal)?;
        Some((low * goal.per_si(), high * goal.per_si()))
    }

    pub(super) fn without_ph(mut self) -> Wanted {
        if let Some(slot) = self.windows.get_mut(Goal::Ph.index()) {
            *slot = None;
        }
        self
    }

    pub(super) fn in_si(&self, goal: Goal) -> Option<(f64, f64)> {
        self.windows.get(goal.index()).copied().flatten()
    }
}

/// Both ends, checked.
fn volumes(window: Window<Volume>) -> Result<(f64, f64), OutOfRange> {
    let (low, high) = window.ends(|v| v.value);
    // In mL, as makers think.
    let checked = |ml: f64, most: f64| within("volume", ml, 1e-3, most, "mL");
    checked(high * 1e6, 1e9)?;
    checked(low * 1e6, high * 1e6)?;
    Ok((low, high))
}

impl From<&Targets> for Wanted {
    /// Every target exactly.
    fn from(targets: &Targets) -> Wanted {
        let mut wanted = Wanted {
            volume: (targets.volume().value, targets.volume().value),
            windows: [None; Goal::ALL.len()],
            cost: None,
            sure: None,
        };
        for (goal, value) in targets.by_goal() {
            if let Some(slot) = wanted.windows.get_mut(goal.index()) {
                *slot = value.map(|v| (v, v));
            }
        }
        wanted
    }
}
