//! How dark, how fast.

use super::PaperError;
use super::assumption::{DRAWS, Pick};
use super::kernel::{LEVELS, Run};
use super::span::{Sample, Span};
use super::writing::Writing;
use crate::quantity::{Share, Time, within};
use uom::si::time::second;

const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;
const DAY: f64 = 86_400.0;
const WEEK: f64 = 7.0 * DAY;
/// Later than this is "not within a year".
const YEAR: f64 = 365.25 * DAY;
/// Longest time that may be asked for, s.
const LATEST: f64 = 100.0 * YEAR;

/// Points of the curve.
pub const CURVE_POINTS: usize = 16;
const TIMES: [f64; CURVE_POINTS] = [
    MINUTE,
    2.0 * MINUTE,
    5.0 * MINUTE,
    10.0 * MINUTE,
    30.0 * MINUTE,
    HOUR,
    2.0 * HOUR,
    4.0 * HOUR,
    8.0 * HOUR,
    DAY,
    2.0 * DAY,
    4.0 * DAY,
    WEEK,
    2.0 * WEEK,
    4.0 * WEEK,
    8.0 * WEEK,
];

/// The state of a line at a time.
///
/// ```
/// use ferrogall::paper::{CurvePoint, Span};
/// use ferrogall::quantity::{Share, hours};
/// let share = |x| Span { low: Share::ZERO, typical: Share::ONE, high: x };
/// let p = CurvePoint { time: hours(8.0), oxidised: share(Share::ONE), developed: share(Share::ONE) };
/// assert!(p.oxidised.low < p.oxidised.high);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurvePoint {
    /// Since it was written.
    pub time: Time,
    /// Share of the iron(II) that has been oxidised.
    pub oxidised: Span<Share>,
    /// Share of the pigment that this ink can give at all: iron(III), what
    /// the ink brought of it included, as far as there are galloyl units.
    pub developed: Span<Share>,
}

/// How fast a line darkens, with the wide interval that is honest: no rate is
/// published for tannin ink, and none for a dry line.
///
/// ```
/// use ferrogall::paper::{Climate, Paper, Writing};
/// use ferrogall::quantity::*;
/// use ferrogall::standards::reference_ink;
/// let standard = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
/// let ink = standard.recipe(liters(1.0), 1.0)?.evaluate()?.composition;
/// let line = Writing::new(&ink, Paper::of("copy_paper")?, Climate::indoors()?)?.darkening()?;
/// for point in &line.curve {
///     println!("{:8.2} h {:5.1} % ({:.1} to {:.1})", point.time.in_days() * 24.0,
///         point.oxidised.typical.as_percent(), point.oxidised.low.as_percent(),
///         point.oxidised.high.as_percent());
/// }
/// assert!(line.to_half.low < line.to_half.typical);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Darkening {
    /// From a minute to eight weeks.
    pub curve: [CurvePoint; CURVE_POINTS],
    /// Time to a tenth of the iron(II) oxidised; `None`: not within a year.
    pub to_tenth: Span<Option<Time>>,
    /// Time to half.
    pub to_half: Span<Option<Time>>,
    /// Time to nine tenths: as good as black.
    pub to_nine_tenths: Span<Option<Time>>,
    /// pH of the ink.
    pub ph_ink: f64,
    /// pH of the line when the paper has given it what it can and the
    /// hydrogen chloride that leaves is gone, before anything is oxidised.
    pub ph_line: Span<f64>,
    /// pH of the line when all iron(II) is oxidised and bound: the most acid
    /// the line can get.
    pub ph_dark: Span<f64>,
    /// Share of the reserve that the line meets which its acid uses up, all
    /// iron(II) oxidised; all of it where the line stays more acid than chalk
    /// would leave it.
    pub reserve_used: Span<Share>,
    /// Time until the line is dry.
    pub drying: Span<Time>,
    /// Share of the iron(II) oxidised by then.
    pub oxidised_when_dry: Span<Share>,
    /// Time in which the oxygen for all iron(II) can cross the wet film.
    pub oxygen_supply: Time,
}

impl Writing {
    /// How fast this line darkens.
    ///
    /// # Errors
    /// [`PaperError::Oxidation`] where the rate laws do not hold.
    pub fn darkening(&self) -> Result<Darkening, PaperError> {
        let mut shares = [Sample::EMPTY; CURVE_POINTS];
        let mut reached = [Sample::EMPTY; LEVELS.len()];
        let [mut ph_line, mut ph_dark, mut used] = [Sample::EMPTY; 3];
        let [mut drying, mut when_dry] = [Sample::EMPTY; 2];
        for (n, pick) in Pick::draws().enumerate() {
            let one = self.one(pick)?;
            for (sample, share) in shares.iter_mut().zip(one.shares) {
                sample.0[n] = share;
            }
            for (sample, time) in reached.iter_mut().zip(one.run.reached) {
                sample.0[n] = time;
            }
            ph_line.0[n] = one.ph_line;
            ph_dark.0[n] = one.ph_dark;
            used.0[n] = one.reserve_used;
            drying.0[n] = one.drying;
            when_dry.0[n] = one.run.when_dry;
        }
        let typical = self.one(Pick::Typical)?;
        let start = CurvePoint {
            time: Time::new::<second>(0.0),
            oxidised: all(Share::ZERO),
            developed: all(Share::ZERO),
        };
        let mut curve = [start; CURVE_POINTS];
        for (i, point) in curve.iter_mut().enumerate() {
            let oxidised = shares[i].span(typical.shares[i]);
            point.time = Time::new::<second>(TIMES[i]);
            point.oxidised = oxidised.map(share);
            point.developed = oxidised.map(|x| self.developed(x));
        }
        let time = |i: usize| reached[i].span(typical.run.reached[i]).map(within_a_year);
        Ok(Darkening {
            curve,
            to_tenth: time(0),
            to_half: time(1),
            to_nine_tenths: time(2),
            ph_ink: self.titration.ink,
            ph_line: ph_line.span(typical.ph_line),
            ph_dark: ph_dark.span(typical.ph_dark),
            reserve_used: used.span(typical.reserve_used).map(share),
            drying: drying.span(typical.drying).map(Time::new::<second>),
            oxidised_when_dry: when_dry.span(typical.run.when_dry).map(share),
            oxygen_supply: self.oxygen_supply_time(),
        })
    }

    /// Share of the iron(II) oxidised at times of the caller's own, rising,
    /// up to a hundred years; nothing is allocated.
    ///
    /// ```
    /// use ferrogall::paper::{Climate, Paper, Span, Writing};
    /// use ferrogall::quantity::*;
    /// use ferrogall::standards::reference_ink;
    /// let standard = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
    /// let ink = standard.recipe(liters(1.0), 1.0)?.evaluate()?.composition;
    /// let line = Writing::new(&ink, Paper::of("cotton_rag")?, Climate::indoors()?)?;
    /// let mut overnight = [Span { low: Share::ZERO, typical: Share::ZERO, high: Share::ZERO }];
    /// line.oxidised_at(&[hours(12.0)], &mut overnight)?;
    /// assert!(overnight[0].low < overnight[0].high);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`PaperError::OutOfRange`] for a negative time or one past a hundred
    /// years; [`PaperError::TimesDoNotRise`]; [`PaperError::Lengths`] when
    /// there is not one place for each time.
    pub fn oxidised_at(
        &self,
        times: &[Time],
        oxidised: &mut [Span<Share>],
    ) -> Result<(), PaperError> {
        if times.len() != oxidised.len() {
            return Err(PaperError::Lengths {
                times: times.len(),
                places: oxidised.len(),
            });
        }
        let mut last = 0.0;
        for time in times {
            let t = within("time", time.value, 0.0, LATEST, "s")?;
            if t < last {
                return Err(PaperError::TimesDoNotRise {
                    earlier_s: last,
                    later_s: t,
                });
            }
            last = t;
        }
        let chunks = times.chunks(CURVE_POINTS);
        for (times, places) in chunks.zip(oxidised.chunks_mut(CURVE_POINTS)) {
            let mut seconds = [0.0; CURVE_POINTS];
            for (s, t) in seconds.iter_mut().zip(times) {
                *s = t.value;
            }
            self.fill(&seconds[..times.len()], places)?;
        }
        Ok(())
    }

    fn fill(&self, seconds: &[f64], places: &mut [Span<Share>]) -> Result<(), PaperError> {
        let mut shares = [Sample::EMPTY; CURVE_POINTS];
        let mut one = [0.0; CURVE_POINTS];
        let one = &mut one[..seconds.len()];
        for (n, pick) in Pick::draws().enumerate() {
            self.line(pick)?.run(seconds, one);
            for (sample, share) in shares.iter_mut().zip(one.iter()) {
                sample.0[n] = *share;
            }
        }
        self.line(Pick::Typical)?.run(seconds, one);
        for ((place, sample), typical) in places.iter_mut().zip(shares).zip(one) {
            *place = sample.span(*typical).map(share);
        }
        Ok(())
    }

    /// How many times longer half of the iron(II) takes here than in another
    /// line. Both lines share every draw (the same film, the same unknown
    /// rate), so which is slower is known better than either time; by how much
    /// spans powers of ten where papers differ in pH. `None` where one
    /// of the two never gets there: in bone-dry air, or without iron(II).
    ///
    /// ```
    /// use ferrogall::paper::{Climate, Paper, Writing};
    /// use ferrogall::quantity::*;
    /// use ferrogall::standards::reference_ink;
    /// let standard = reference_ink("us_federal_writing_1935").ok_or("no such ink")?;
    /// let ink = standard.recipe(liters(1.0), 1.0)?.evaluate()?.composition;
    /// let on = |paper| Writing::new(&ink, Paper::of(paper)?, Climate::indoors()?);
    /// let slower = on("aged_acid_paper")?.times_slower_than(&on("copy_paper")?)?.unwrap();
    /// assert!(slower.low > 1.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// As [`Writing::darkening`].
    pub fn times_slower_than(&self, other: &Writing) -> Result<Option<Span<f64>>, PaperError> {
        let ratio = |pick| -> Result<f64, PaperError> {
            let half =
                |w: &Writing| Ok::<f64, PaperError>(w.line(pick)?.run(&[], &mut []).reached[1]);
            Ok(half(self)? / half(other)?)
        };
        let mut sample = [0.0; DRAWS];
        for (slot, pick) in sample.iter_mut().zip(Pick::draws()) {
            *slot = ratio(pick)?;
        }
        let span = Sample(sample).span(ratio(Pick::Typical)?);
        let known = |x: f64| x.is_finite() && x > 0.0;
        Ok((known(span.low) && known(span.typical) && known(span.high)).then_some(span))
    }

    /// Share of all the pigment the ink can give, when this share of its
    /// iron(II) is oxidised.
    pub(super) fn developed(&self, oxidised: f64) -> Share {
        let galloyl = self.ink.galloyl().value;
        let most = self.ink.iron().value.min(galloyl);
        let iron_iii = self.ink.iron_iii().value + oxidised * self.ink.iron_ii().value;
        if most > 0.0 {
            share(iron_iii.min(galloyl) / most)
        } else {
            Share::ZERO
        }
    }

    fn one(&self, pick: Pick) -> Result<One, PaperError> {
        let line = self.line(pick)?;
        let mut shares = [0.0; CURVE_POINTS];
        let run = line.run(&TIMES, &mut shares);
        Ok(One {
            shares,
            run,
            ph_line: self.ph_at_last(&line, pick, 1.0),
            ph_dark: self.ph_at_last(&line, pick, 0.0),
            reserve_used: self.reserve_used(&line, pick),
            drying: line.drying,
        })
    }
}

/// All that is told of one draw.
struct One {
    shares: [f64; CURVE_POINTS],
    run: Run,
    ph_line: f64,
    ph_dark: f64,
    reserve_used: f64,
    drying: f64,
}

fn all<T: Copy>(x: T) -> Span<T> {
    Span {
        low: x,
        typical: x,
        high: x,
    }
}

fn share(x: f64) -> Share {
    Share::new(x.clamp(0.0, 1.0)).unwrap_or(Share::ZERO)
}

fn within_a_year(s: f64) -> Option<Time> {
    (s <= YEAR).then(|| Time::new::<second>(s))
}
