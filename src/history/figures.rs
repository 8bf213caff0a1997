//! The figures by which old recipes are compared.

use crate::bench::Material;
use crate::chem::constants::GREEN_VITRIOL;
use crate::composition::quotient;
use crate::recipe::{Evaluation, LineKind};

/// A figure of a recipe.
///
/// ```
/// use ferrogall::history::Figure;
/// assert_eq!(Figure::ALL.len(), 6);
/// assert_eq!(Figure::IronPerLiter.unit(), "g/L");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(rename_all = "snake_case")
)]
pub enum Figure {
    /// Galls to vitriol by mass, as weighed.
    GallsPerVitriol,
    /// Galls, grams per litre.
    GallsPerLiter,
    /// Vitriol, grams per litre.
    VitriolPerLiter,
    /// Gum, grams per litre.
    GumPerLiter,
    /// Gum to galls by mass.
    GumPerGalls,
    /// Iron, grams per litre.
    IronPerLiter,
}

impl Figure {
    /// All of them.
    pub const ALL: [Figure; 6] = [
        Figure::GallsPerVitriol,
        Figure::GallsPerLiter,
        Figure::VitriolPerLiter,
        Figure::GumPerLiter,
        Figure::GumPerGalls,
        Figure::IronPerLiter,
    ];

    /// Identifier for JSON and C.
    pub const fn id(self) -> &'static str {
        match self {
            Figure::GallsPerVitriol => "galls_per_vitriol",
            Figure::GallsPerLiter => "galls_g_per_l",
            Figure::VitriolPerLiter => "vitriol_g_per_l",
            Figure::GumPerLiter => "gum_g_per_l",
            Figure::GumPerGalls => "gum_per_galls",
            Figure::IronPerLiter => "iron_g_per_l",
        }
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Figure::GallsPerVitriol => "galls to vitriol",
            Figure::GallsPerLiter => "galls",
            Figure::VitriolPerLiter => "vitriol",
            Figure::GumPerLiter => "gum",
            Figure::GumPerGalls => "gum to galls",
            Figure::IronPerLiter => "iron",
        }
    }

    /// Its unit; empty for proportions.
    pub const fn unit(self) -> &'static str {
        match self {
            Figure::GallsPerVitriol | Figure::GumPerGalls => "",
            _ => "g/L",
        }
    }
}

/// The figures of one recipe; `None` where the recipe does not tell.
///
/// Grams per litre are those of the final volume where one is stated or follows
/// from a boiling down, else of the liquid that goes in: the convention of the
/// [`HistoricSet`](super::HistoricSet).
///
/// ```
/// use ferrogall::history::{Figure, historic_recipe};
/// let palatino = historic_recipe("IT01").unwrap().figures();
/// assert_eq!(palatino.galls_per_vitriol, Some(1.5));
/// assert!((palatino.get(Figure::IronPerLiter).unwrap() - 12.5).abs() < 0.05);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[non_exhaustive]
pub struct Figures {
    /// Galls to vitriol by mass, as weighed.
    pub galls_per_vitriol: Option<f64>,
    /// Galls, g/L.
    pub galls_g_per_l: Option<f64>,
    /// Vitriol (the iron salt as weighed), g/L.
    pub vitriol_g_per_l: Option<f64>,
    /// Gum, g/L.
    pub gum_g_per_l: Option<f64>,
    /// Gum to galls by mass.
    pub gum_per_galls: Option<f64>,
    /// Iron, g/L.
    pub iron_g_per_l: Option<f64>,
}

/// What the figures are made of, in grams and litres; 0 for none.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Totals {
    pub(crate) galls_g: f64,
    pub(crate) vitriol_g: f64,
    pub(crate) gum_g: f64,
    pub(crate) iron_g: f64,
    pub(crate) volume_l: f64,
}

impl Totals {
    pub(crate) fn figures(&self) -> Figures {
        let present = |x: f64, per: f64| quotient(x, per).filter(|q| *q > 0.0);
        Figures {
            galls_per_vitriol: present(self.galls_g, self.vitriol_g),
            galls_g_per_l: present(self.galls_g, self.volume_l),
            vitriol_g_per_l: present(self.vitriol_g, self.volume_l),
            gum_g_per_l: present(self.gum_g, self.volume_l),
            gum_per_galls: present(self.gum_g, self.galls_g),
            iron_g_per_l: present(self.iron_g, self.volume_l),
        }
    }
}

impl Figures {
    /// The figures of any recipe worked out, on the volume of the finished
    /// ink. Galls are all plant matter that is soaked, vitriol is all its iron
    /// counted as FeSO4·7H2O.
    ///
    /// ```
    /// use ferrogall::history::Figures;
    /// use ferrogall::quantity::liters;
    /// use ferrogall::standards::reference_ink;
    /// let recipe = reference_ink("us_federal_writing_1935").unwrap().recipe(liters(1.0), 1.0)?;
    /// let figures = Figures::of(&recipe.evaluate()?);
    /// assert!((figures.iron_g_per_l.unwrap() - 3.013).abs() < 0.001);
    /// assert_eq!(figures.galls_g_per_l, None); // it has tannic acid
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(made: &Evaluation<'_>) -> Figures {
        let c = &made.composition;
        let mut totals = Totals {
            vitriol_g: 1e3 * c.iron().value * GREEN_VITRIOL,
            iron_g: 1e3 * c.iron().value * crate::chem::constants::IRON,
            volume_l: 1e3 * c.volume().value,
            ..Totals::default()
        };
        for line in &made.lines {
            let g = 1e3 * line.mass.value * line.reach;
            if line.kind == LineKind::Plant {
                totals.galls_g += g;
            } else if matches!(line.lot.material(), Some(Material::Gum(_))) {
                totals.gum_g += g;
            }
        }
        totals.figures()
    }

    /// One of them.
    pub const fn get(&self, figure: Figure) -> Option<f64> {
        match figure {
            Figure::GallsPerVitriol => self.galls_per_vitriol,
            Figure::GallsPerLiter => self.galls_g_per_l,
            Figure::VitriolPerLiter => self.vitriol_g_per_l,
            Figure::GumPerLiter => self.gum_g_per_l,
            Figure::GumPerGalls => self.gum_per_galls,
            Figure::IronPerLiter => self.iron_g_per_l,
        }
    }
}
