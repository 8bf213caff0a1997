//! A line of one ink on one paper.

use super::assumption::{
    Assumption, CHALK_PH, DAMPNESS, DRYING, FILM, Input, LEAVING, NEUTRALISING, Pick, REACH, WIDTH,
};
use super::climate::{Climate, checked_width};
use super::kernel::Line;
use super::load::{ArealAmount, Load, hydrogen_chloride};
use super::pace::Pace;
use super::titration::Titration;
use super::{Paper, PaperError};
use crate::composition::Composition;
use crate::oxidation::{Assisted, Parameter, oxygen_diffusion};
use crate::quantity::{Length, Share, Time, within};
use crate::source::Range;
use uom::si::length::micrometer;
use uom::si::time::second;

/// Iron(II) that an O₂ can reach at most.
const IRON_PER_OXYGEN: f64 = Parameter::IRON_PER_OXYGEN.range.max;
/// Humidity at which the dampness of a dry line is told.
const ORDINARY_HUMIDITY: f64 = 0.5;

/// An ink on a paper in the air of a room, ready to be asked.
///
/// What is not told is drawn from its span (see
/// [`assumptions`](super::assumptions)): 127 draws, always the same ones. A
/// span of a result is that in which 95 % of them lie.
///
/// ```
/// use ferrogall::paper::{Climate, Paper, Writing};
/// use ferrogall::quantity::*;
/// use ferrogall::standards::reference_ink;
/// let standard = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
/// let ink = standard.recipe(liters(1.0), 1.0)?.evaluate()?.composition;
/// let room = Climate::indoors()?;
/// let copy = Writing::new(&ink, Paper::of("copy_paper")?, room)?;
/// let rag = Writing::new(&ink, Paper::of("cotton_rag")?, room)?;
/// // why it is black at once on one paper and not on another
/// assert!(copy.darkening()?.ph_line.typical > rag.darkening()?.ph_line.typical + 2.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Writing {
    pub(super) ink: Composition,
    pub(super) paper: Paper,
    pub(super) climate: Climate,
    pub(super) titration: Titration,
    pace: Pace,
    film_um: Range,
    reach: Range,
    width: f64,
    /// m²/s
    diffusion: f64,
}

impl Writing {
    /// An ink, a paper and the air of the room; film, line width and reach of
    /// the ink as usual, rates as published.
    ///
    /// # Errors
    /// [`PaperError::NoInk`] for a composition without volume,
    /// [`PaperError::Equilibrium`] where its pH cannot be worked out.
    pub fn new(ink: &Composition, paper: Paper, climate: Climate) -> Result<Writing, PaperError> {
        if ink.volume().value.is_nan() || ink.volume().value <= 0.0 {
            return Err(PaperError::NoInk);
        }
        let temperature = climate.temperature();
        let titration = Titration::of(ink, temperature)?;
        let pace = Pace::of(ink, &titration, temperature, Assisted::published())?;
        Ok(Writing {
            ink: *ink,
            paper,
            climate,
            titration,
            pace,
            film_um: FILM.range,
            reach: REACH.range,
            width: WIDTH.range.typical * 1e-3,
            diffusion: oxygen_diffusion(temperature)?.value,
        })
    }

    /// With a known film of wet ink, 0.1 µm to 1 mm: its volume over the area
    /// it covers.
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] otherwise.
    pub fn with_film(mut self, film: Length) -> Result<Writing, PaperError> {
        let um = within("film", film.value * 1e6, 0.1, 1000.0, "um")?;
        self.film_um = Range::exact(um);
        Ok(self)
    }

    /// With a line of this width, 0.05 to 10 mm; 0.5 mm is usual. It sets how
    /// fast the line dries.
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] otherwise.
    pub fn with_width(mut self, width: Length) -> Result<Writing, PaperError> {
        self.width = checked_width(width, 10.0)?;
        Ok(self)
    }

    /// With a known share of the sheet's alkaline reserve that the ink meets.
    #[must_use]
    pub fn with_reach(mut self, reach: Share) -> Writing {
        self.reach = Range::exact(reach.value());
        self
    }

    /// With another estimate of how fast iron(II) in tannin takes oxygen, best
    /// from an observation of one's own.
    ///
    /// # Errors
    /// [`PaperError::Oxidation`] as [`Assisted::constant_at`].
    pub fn with_assisted(mut self, assisted: Assisted) -> Result<Writing, PaperError> {
        let temperature = self.climate.temperature();
        self.pace = Pace::of(&self.ink, &self.titration, temperature, assisted)?;
        Ok(self)
    }

    /// The ink.
    pub fn ink(&self) -> &Composition {
        &self.ink
    }

    /// The paper.
    pub fn paper(&self) -> &Paper {
        &self.paper
    }

    /// The air of the room.
    pub fn climate(&self) -> &Climate {
        &self.climate
    }

    /// Typical film of wet ink.
    pub fn film(&self) -> Length {
        Length::new::<micrometer>(self.film_um.typical)
    }

    /// What the line brings to an area of paper, with the typical film; all
    /// amounts go with the film.
    ///
    /// # Errors
    /// As [`Load::of`].
    pub fn load(&self) -> Result<Load, PaperError> {
        Load::of(&self.ink, self.film())
    }

    /// Typical reserve that the line meets, as the acid it can take up.
    pub fn reserve_met(&self) -> ArealAmount {
        ArealAmount(self.paper.reserve().0 * self.reach.typical)
    }

    /// Time in which oxygen gets across the wet film, L²/D.
    pub fn oxygen_crossing(&self) -> Time {
        let film = self.film().value;
        Time::new::<second>(film * film / self.diffusion)
    }

    /// Time in which the oxygen for all iron(II) can cross the wet film: at
    /// the flux of a film that holds none at its floor, four iron to each O₂.
    pub fn oxygen_supply_time(&self) -> Time {
        Time::new::<second>(1.0 / self.supply(self.film().value))
    }

    /// Share of the iron(II) whose oxygen crosses a film in a second, 1/s.
    fn supply(&self, film: f64) -> f64 {
        let flux = self.diffusion * self.climate.air.dissolved().value / film;
        let iron = self.ink.concentration(self.ink.iron_ii()).value * film;
        IRON_PER_OXYGEN * flux / iron
    }

    /// The line of one draw.
    pub(super) fn line(&self, pick: Pick) -> Result<Line<'_>, PaperError> {
        let by_factors = |input, range| pick.by_factors(input, range);
        let of = |input, assumed: Assumption| pick.by_factors(input, assumed.range);
        let film = by_factors(Input::Film, self.film_um) * 1e-6;
        let reserve = self
            .paper
            .base(pick.even(Input::Reserve, self.paper.reserve_percent));
        let met = reserve * self.reach_of(pick);
        let still = film / self.climate.drying_speed(self.width);
        let per_volume = |mol| self.ink.concentration(crate::quantity::moles(mol)).value;
        let oxygen = self.climate.air.dissolved().value;
        let most = if self.ink.iron_ii().value > 0.0 {
            self.pace.rate_at(pick, self.highest_ph(pick), oxygen)?
        } else {
            0.0
        };
        let humid = self.climate.humidity().value() / ORDINARY_HUMIDITY;
        Ok(Line {
            titration: &self.titration,
            ln_rate: self.pace.ln_rates(pick, oxygen)?,
            most,
            base: met / film,
            neutralising: of(Input::Neutralising, NEUTRALISING),
            leaving: per_volume(hydrogen_chloride(&self.ink))
                * pick.even(Input::Leaving, LEAVING.range),
            drying: still * of(Input::Drying, DRYING),
            dampness: (of(Input::Dampness, DAMPNESS) * humid).min(1.0),
            supply: self.supply(film),
            set_free: 2.0 * per_volume(self.ink.iron_ii().value),
        })
    }

    fn reach_of(&self, pick: Pick) -> f64 {
        if self.reach.typical > 0.0 {
            pick.by_factors(Input::Reach, self.reach)
        } else {
            0.0
        }
    }

    /// The pH that chalk and paper can bring a line to; no lower than the ink's.
    pub(super) fn highest_ph(&self, pick: Pick) -> f64 {
        let chalk = pick.even(Input::ChalkPh, CHALK_PH.range);
        let paper = pick.even(Input::PaperPh, self.paper.ph);
        chalk.min(paper).max(self.titration.ink)
    }

    /// pH of a line of this draw with a share of its iron(II) left, long
    /// after it was written.
    pub(super) fn ph_at_last(&self, line: &Line<'_>, pick: Pick, left: f64) -> f64 {
        let base = line.base_at(f64::INFINITY, left);
        self.titration.ph_with(base).min(self.highest_ph(pick))
    }

    /// Share of the reserve met that this line uses up once it is dark: what
    /// lifts it to the pH that chalk and paper allow.
    pub(super) fn reserve_used(&self, line: &Line<'_>, pick: Pick) -> f64 {
        let to_the_top = self.titration.base_for(self.highest_ph(pick));
        let needed = (to_the_top + line.set_free - line.leaving).max(0.0);
        if needed < line.base {
            needed / line.base
        } else if needed > 0.0 {
            1.0
        } else {
            0.0
        }
    }
}
