//! Looking for slips: what would bring a recipe back among the others.

use super::amount::{OldAmount, Term};
use super::count::Count;
use super::doubt::{Doubt, DoubtKind, Meant};
use super::figures::{Figure, Figures};
use super::old_recipe::{Ending, OldLine, OldRecipe, Role};
use super::reading::Reading;
use super::set::{Quantiles, historic};
use super::unit::Unit;
use super::word::{Candidate, Standing};
use super::{HistoryError, unit, units};
use crate::quantity::{ReadVolume, milliliters};

/// How far beyond the 5 % and 95 % of the historic set a figure must lie
/// before a slip is looked for: half as much again, a judgement.
const FAR: f64 = 1.5;
/// Units of one word further apart than this are worth a doubt: a judgement.
const APART: f64 = 0.05;
/// Slips told at most: those that explain best.
const MOST_SLIPS: usize = 3;

/// Units that copyists put for one another.
const NEIGHBOURS: &[(&str, &str)] = &[
    ("en_ap_dr", "en_ap_oz"),
    ("en_av_dr", "en_av_oz"),
    ("en_av_oz", "en_av_lb"),
    ("en_ap_oz", "en_ap_lb"),
    ("en_tr_oz", "en_tr_lb"),
    ("en_ap_scr", "en_ap_dr"),
    ("fr_gros", "fr_once"),
    ("fr_once", "fr_livre"),
    ("fr_once_usuelle", "fr_livre_usuelle"),
    ("it_fi_oncia", "it_fi_libbra"),
    ("it_ro_oncia", "it_ro_libbra"),
    ("it_ve_s_oncia", "it_ve_s_libbra"),
    ("it_ve_g_oncia", "it_ve_g_libbra"),
    ("it_mi_g_oncia", "it_mi_g_libbra"),
    ("it_to_oncia", "it_to_libbra"),
    ("it_bo_oncia", "it_bo_libbra"),
    ("it_ge_oncia", "it_ge_libbra"),
    ("it_na_oncia", "it_na_libbra"),
    ("it_pa_oncia", "it_pa_libbra"),
    ("de_koeln_quent", "de_koeln_lot"),
    ("de_bay_quent", "de_bay_lot"),
    ("de_bay_lot", "de_bay_lb"),
    ("de_nue_ap_dr", "de_nue_ap_oz"),
    ("de_nue_ap_oz", "de_nue_ap_lb"),
    ("es_adarme", "es_onza"),
    ("es_onza", "es_libra"),
    ("nl_ons_ams", "nl_pond_ams"),
    ("nl_lood_ams", "nl_ons_ams"),
    ("nl_ons_maas", "nl_pond_maas"),
    ("se_kvintin", "se_lod"),
    ("se_lod", "se_skalpund"),
    ("ru_zolotnik", "ru_lot"),
    ("ru_lot", "ru_funt"),
    ("en_wine_pt", "en_wine_qt"),
    ("en_wine_qt", "en_wine_gal"),
    ("en_ale_pt", "en_ale_qt"),
    ("uk_pt", "uk_qt"),
    ("uk_qt", "uk_gal"),
    ("fr_chopine", "fr_pinte"),
];

/// The 5 % and 95 % of the historic set.
struct Limits(Vec<(Figure, Quantiles)>);

impl Limits {
    fn new() -> Limits {
        let set = historic();
        // Iron follows from the vitriol.
        let figures = Figure::ALL
            .into_iter()
            .filter(|f| *f != Figure::IronPerLiter);
        Limits(
            figures
                .filter_map(|f| set.quantiles(f).map(|q| (f, q)))
                .collect(),
        )
    }

    /// Every figure outside, with the factor by which it is.
    fn outside(&self, figures: &Figures) -> Vec<(Figure, f64, f64, f64)> {
        let beyond = |(figure, q): &(Figure, Quantiles)| {
            let x = figures.get(*figure)?;
            if x < q.p05 {
                Some((*figure, x, q.p05, q.p05 / x))
            } else if x > q.p95 {
                Some((*figure, x, q.p95, x / q.p95))
            } else {
                None
            }
        };
        self.0.iter().filter_map(beyond).collect()
    }

    /// Sum of the logarithms of those factors; 0 when all is inside.
    fn strangeness(&self, figures: &Figures) -> f64 {
        let outside = self.outside(figures);
        outside.iter().map(|(.., factor)| libm::log(*factor)).sum()
    }
}

/// Everything to doubt, the likely slips first.
pub(super) fn doubts(old: &OldRecipe, reading: &Reading) -> Result<Vec<Doubt>, HistoryError> {
    let limits = Limits::new();
    let mut out = Vec::new();
    strange_figures(old, reading, &limits, &mut out);
    vitriol_exceeds(old, reading, &mut out);
    boil_down(old, reading, &mut out);
    sums(old, reading, &mut out)?;
    renderings(old, reading, &mut out)?;
    missing_liquid(old, reading, &limits, &mut out)?;
    units_in_doubt(old, reading, &mut out);
    out.sort_by_key(|d| d.kind);
    Ok(out)
}

fn meant(words: String, other: &OldRecipe) -> Option<Meant> {
    let read = other.read_bare().ok()?;
    Some(Meant {
        words,
        figures: read.figures,
        final_volume: read.final_volume.map(|v| v.typical),
        recipe: read.recipe,
    })
}

/// One guess at what was meant.
struct Guess {
    kind: DoubtKind,
    lines: Vec<usize>,
    words: String,
    recipe: OldRecipe,
}

fn strange_figures(old: &OldRecipe, reading: &Reading, limits: &Limits, out: &mut Vec<Doubt>) {
    let outside = limits.outside(&reading.figures);
    let worst = outside.iter().max_by(|a, b| a.3.total_cmp(&b.3)).copied();
    let Some((figure, value, limit, factor)) = worst else {
        return;
    };
    if factor < FAR {
        return;
    }
    let before = limits.strangeness(&reading.figures);
    let mut good: Vec<(f64, Guess, Meant)> = Vec::new();
    for guess in guesses(old, reading) {
        let Some(meant) = meant(guess.words.clone(), &guess.recipe) else {
            continue;
        };
        // It must explain nearly all of it.
        let after = limits.strangeness(&meant.figures);
        if after < 0.25 * before {
            good.push((after, guess, meant));
        }
    }
    good.sort_by(|a, b| {
        let changes = |g: &Guess| g.lines.len();
        (a.0.total_cmp(&b.0))
            .then(changes(&a.1).cmp(&changes(&b.1)))
            .then(a.1.kind.cmp(&b.1.kind))
    });
    let what = |figure: Figure, value: f64, limit: f64| {
        let unit = figure.unit();
        let space = if unit.is_empty() { "" } else { " " };
        let side = if value < limit {
            "below the 5 %"
        } else {
            "above the 95 %"
        };
        format!(
            "{} {value:.3}{space}{unit} is {side} of old recipes ({limit:.3}{space}{unit})",
            figure.name()
        )
    };
    if good.is_empty() {
        for (figure, value, limit, factor) in outside {
            if factor >= FAR {
                out.push(Doubt {
                    kind: DoubtKind::OutsideHistory,
                    lines: Vec::new(),
                    message: what(figure, value, limit),
                    value,
                    limit,
                    unit: figure.unit(),
                    meant: None,
                });
            }
        }
    }
    for (_, guess, meant) in good.into_iter().take(MOST_SLIPS) {
        out.push(Doubt {
            kind: guess.kind,
            lines: guess.lines,
            message: what(figure, value, limit),
            value,
            limit,
            unit: figure.unit(),
            meant: Some(meant),
        });
    }
}

/// Everything that a copyist may have got wrong.
fn guesses(old: &OldRecipe, reading: &Reading) -> Vec<Guess> {
    let mut out = Vec::new();
    // Every line with one number of one unit, and that unit.
    let singles: Vec<(usize, Count, Option<Candidate>)> = old
        .lines
        .iter()
        .enumerate()
        .filter(|(_, l)| l.role != Role::Other)
        .filter_map(|(i, line)| {
            let of_line = |i: usize| reading.lines.get(i)?.candidates.first();
            match *line.amount.single()? {
                Term::Unit(count, c) => Some((i, count, Some(c))),
                Term::Word(count, _) => Some((i, count, of_line(i).map(|c| c.likeliest()))),
                Term::Metric(count, _) | Term::Parts(count) => Some((i, count, None)),
            }
        })
        .collect();
    unit_slips(old, &singles, &mut out);
    digit_slips(old, &singles, &mut out);
    lost_fractions(old, &singles, &mut out);
    out
}

fn name_of(old: &OldRecipe, i: usize) -> &str {
    old.lines.get(i).map_or("", |l| l.name.as_str())
}

fn with_amount(old: &OldRecipe, i: usize, amount: OldAmount) -> OldRecipe {
    let mut out = old.clone();
    if let Some(line) = out.lines.get_mut(i) {
        line.amount = amount;
    }
    out
}

/// All lines of a unit together or some of them, in the next larger or smaller.
fn unit_slips(
    old: &OldRecipe,
    singles: &[(usize, Count, Option<Candidate>)],
    out: &mut Vec<Guess>,
) {
    let pairs = NEIGHBOURS.iter().flat_map(|&(a, b)| [(a, b), (b, a)]);
    for (from, to) in pairs {
        let Some(to_unit) = unit(to) else { continue };
        let lines: Vec<(usize, Count)> = singles
            .iter()
            .filter(|(_, _, c)| c.is_some_and(|c| c.unit.id == from && c.times == 1.0))
            .map(|(i, n, _)| (*i, *n))
            .take(6) // 63 choices are enough
            .collect();
        for choice in 1..(1_u32 << lines.len()) {
            let mut recipe = old.clone();
            let mut chosen = Vec::new();
            for (bit, (i, count)) in lines.iter().enumerate() {
                if choice & (1 << bit) != 0 {
                    recipe = with_amount(&recipe, *i, OldAmount::of(*count, to_unit));
                    chosen.push(*i);
                }
            }
            let names: Vec<&str> = chosen.iter().map(|i| name_of(old, *i)).collect();
            out.push(Guess {
                kind: DoubtKind::UnitSlip,
                words: format!("{} in the {}", names.join(" and "), to_unit.name),
                lines: chosen,
                recipe,
            });
        }
    }
}

/// A nought too many or too few in one line.
fn digit_slips(
    old: &OldRecipe,
    singles: &[(usize, Count, Option<Candidate>)],
    out: &mut Vec<Guess>,
) {
    for (i, count, _) in singles {
        let n = count.typical();
        let tens = n >= 10.0 && n % 10.0 == 0.0;
        for (factor, may_be) in [(0.1, tens), (10.0, n < 10.0)] {
            let Ok(other) = count.times(factor) else {
                continue;
            };
            let Some(amount) = recounted(old, *i, other).filter(|_| may_be) else {
                continue;
            };
            out.push(Guess {
                kind: DoubtKind::DigitSlip,
                lines: vec![*i],
                words: format!("{} of {}, not {n}", other.typical(), name_of(old, *i)),
                recipe: with_amount(old, *i, amount),
            });
        }
    }
}

/// The amount of a line with another number.
fn recounted(old: &OldRecipe, i: usize, count: Count) -> Option<OldAmount> {
    let term = match *old.lines.get(i)?.amount.single()? {
        Term::Unit(_, c) => Term::Unit(count, c),
        Term::Word(_, w) => Term::Word(count, w),
        Term::Metric(_, q) => Term::Metric(count, q),
        Term::Parts(_) => Term::Parts(count),
    };
    Some(OldAmount { terms: vec![term] })
}

/// "1/4" printed as "14", "1 1/2" as "112", in one line or several.
fn lost_fractions(
    old: &OldRecipe,
    singles: &[(usize, Count, Option<Candidate>)],
    out: &mut Vec<Guess>,
) {
    let lines: Vec<(usize, f64)> = singles
        .iter()
        .filter(|(_, n, _)| n.low() == n.high())
        .filter_map(|(i, n, _)| Some((*i, with_its_fraction(n.low())?)))
        .take(6)
        .collect();
    for choice in 1..(1_u32 << lines.len()) {
        let mut recipe = old.clone();
        let mut chosen = Vec::new();
        let mut words = Vec::new();
        for (bit, (i, number)) in lines.iter().enumerate() {
            if choice & (1 << bit) == 0 {
                continue;
            }
            let Some(amount) = Count::of(*number).ok().and_then(|n| recounted(old, *i, n)) else {
                continue;
            };
            recipe = with_amount(&recipe, *i, amount);
            words.push(format!("{number} of {}", name_of(old, *i)));
            chosen.push(*i);
        }
        out.push(Guess {
            kind: DoubtKind::LostFraction,
            lines: chosen,
            words: format!("{}, the stroke of the fraction lost", words.join(" and ")),
            recipe,
        });
    }
}

/// What "14" or "112" is when its last two digits were a fraction.
fn with_its_fraction(number: f64) -> Option<f64> {
    const FRACTIONS: &[(f64, f64)] = &[
        (12.0, 0.5),
        (13.0, 1.0 / 3.0),
        (14.0, 0.25),
        (18.0, 0.125),
        (23.0, 2.0 / 3.0),
        (34.0, 0.75),
        (38.0, 0.375),
        (58.0, 0.625),
        (78.0, 0.875),
    ];
    let whole = libm::floor(number / 100.0);
    let last = number - 100.0 * whole;
    let fraction = FRACTIONS.iter().find(|(printed, _)| *printed == last)?.1;
    (whole < 10.0).then_some(whole + fraction)
}

fn vitriol_exceeds(old: &OldRecipe, reading: &Reading, out: &mut Vec<Doubt>) {
    let Some(ratio) = reading.figures.galls_per_vitriol.filter(|r| *r < 1.0) else {
        return;
    };
    let of = |role: Role| {
        let mut found = old.lines.iter().enumerate().filter(|(_, l)| l.role == role);
        match (found.next(), found.next()) {
            (Some((i, line)), None) => Some((i, line)),
            _ => None, // several: no exchange
        }
    };
    let exchanged = of(Role::Galls).zip(of(Role::IronSalt));
    let (lines, meant) = match exchanged {
        Some(((g, galls), (v, vitriol))) => {
            let other = with_amount(old, g, vitriol.amount.clone());
            let other = with_amount(&other, v, galls.amount.clone());
            let words = "the two amounts exchanged".to_string();
            (vec![g, v], meant(words, &other))
        }
        None => (Vec::new(), None),
    };
    out.push(Doubt {
        kind: DoubtKind::VitriolExceedsGalls,
        lines,
        message: format!("more vitriol than galls ({ratio:.2} of galls to 1)"),
        value: ratio,
        limit: 1.0,
        unit: "",
        meant,
    });
}

fn boil_down(old: &OldRecipe, reading: &Reading, out: &mut Vec<Doubt>) {
    let (Ending::BoiledUnclear(share), Some(volume)) = (&old.ending, reading.final_volume) else {
        return;
    };
    let other = old.clone().ending(Ending::BoiledBy(*share));
    out.push(Doubt {
        kind: DoubtKind::UnclearBoilDown,
        lines: Vec::new(),
        message: format!(
            "boiled down to or by {:.3}: {:.0} or {:.0} mL",
            share.value(),
            volume.low.in_milliliters(),
            volume.high.in_milliliters()
        ),
        value: share.value(),
        limit: 1.0 - share.value(),
        unit: "",
        meant: meant(format!("boiled down by {:.3}", share.value()), &other),
    });
}

fn sums(old: &OldRecipe, reading: &Reading, out: &mut Vec<Doubt>) -> Result<(), HistoryError> {
    let (Some(said), Some(liquid)) = (&old.stated_total, reading.liquid) else {
        return Ok(());
    };
    let said_ml = said
        .read(
            "the liquids together",
            &old.setting,
            Default::default(),
            None,
        )?
        .metric
        .typical;
    let sum_ml = liquid.typical.in_milliliters();
    if (said_ml / sum_ml - 1.0).abs() > 0.01 {
        let other = old.clone().ending(Ending::Yields(said.clone()));
        out.push(Doubt {
            kind: DoubtKind::PartsDoNotSum,
            lines: Vec::new(),
            message: format!(
                "the liquids come to {sum_ml:.0} mL, but the text says {said_ml:.0} mL"
            ),
            value: sum_ml,
            limit: said_ml,
            unit: "mL",
            meant: meant("as much as the text says".into(), &other),
        });
    }
    Ok(())
}

fn renderings(
    old: &OldRecipe,
    reading: &Reading,
    out: &mut Vec<Doubt>,
) -> Result<(), HistoryError> {
    for (i, line) in old.lines.iter().enumerate() {
        let (Some(rendered), Some(read)) = (&line.rendered, reading.lines.get(i)) else {
            continue;
        };
        let theirs = rendered.read(&line.name, &old.setting, line.goods, old.part)?;
        if theirs.kind != read.amount.typical.kind() {
            return Err(HistoryError::MixedKinds {
                line: line.name.clone(),
            });
        }
        let ours = read.amount.typical.in_metric();
        let ratio = theirs.metric.typical / ours;
        if (ratio - 1.0).abs() <= 0.005 {
            continue;
        }
        let one = line.amount.single().and_then(|t| match t {
            Term::Unit(n, _) | Term::Word(n, _) => Some(theirs.metric.typical / n.typical()),
            _ => None,
        });
        let foreign = one.and_then(|one| foreign_unit(one, theirs.kind, old));
        let (kind, message) = match foreign {
            Some(unit) => (
                DoubtKind::RenderingUnit,
                format!(
                    "{}: the edition reckons with the {} ({:+.1} %), which was not used there",
                    line.name,
                    unit.name,
                    100.0 * (ratio - 1.0)
                ),
            ),
            None => (
                DoubtKind::RenderingDiffers,
                format!(
                    "{}: the edition gives {ratio:.2} times what the text says",
                    line.name
                ),
            ),
        };
        let other = with_amount(old, i, rendered.clone());
        out.push(Doubt {
            kind,
            lines: vec![i],
            message,
            value: ratio,
            limit: 1.0,
            unit: "",
            meant: meant("as the edition has it".into(), &other),
        });
    }
    Ok(())
}

/// A unit of this very size (to 0.2 %, what four printed digits and rounding
/// leave) that does not fit the text.
fn foreign_unit(one: f64, kind: super::UnitKind, old: &OldRecipe) -> Option<&'static Unit> {
    units()
        .filter(|u| u.kind == kind && !u.fits(old.setting.place, old.setting.years))
        .find(|u| (u.metric_value / one - 1.0).abs() < 2e-3)
}

fn missing_liquid(
    old: &OldRecipe,
    reading: &Reading,
    limits: &Limits,
    out: &mut Vec<Doubt>,
) -> Result<(), HistoryError> {
    if reading.final_volume.is_some() {
        return Ok(());
    }
    let median = limits.0.iter().find(|(f, _)| *f == Figure::GallsPerLiter);
    let median = median.map_or(f64::NAN, |(_, q)| q.median);
    // With a litre of liquid its figure is its grams.
    let with = |ml: f64| -> OldRecipe {
        let mut line = OldLine::without_lot("water", OldAmount::metric(milliliters(ml)));
        line.role = Role::Liquid;
        old.clone().line(line)
    };
    let galls_g = with(1000.0).read_bare()?.figures.galls_g_per_l;
    let ml = galls_g.map_or(0.0, |g| 1000.0 * g / median);
    let meant = (ml > 1e-6)
        .then(|| meant(format!("{ml:.0} mL of water, the strength in galls of the middle old recipe ({median:.0} g/L)"), &with(ml)))
        .flatten();
    out.push(Doubt {
        kind: DoubtKind::MissingLiquid,
        lines: Vec::new(),
        message: "no amount of liquid is given: only proportions can be told".into(),
        value: 0.0,
        limit: ml,
        unit: "mL",
        meant,
    });
    Ok(())
}

fn units_in_doubt(old: &OldRecipe, reading: &Reading, out: &mut Vec<Doubt>) {
    let mut told: Vec<&str> = Vec::new();
    for (word, candidate) in old.other_meanings() {
        let uses = |t: &Term| matches!(t, Term::Word(_, w) if *w == word);
        let in_line = |l: &OldLine| l.amount.terms.iter().any(uses);
        let lines: Vec<usize> = (0..old.lines.len())
            .filter(|i| old.lines.get(*i).is_some_and(in_line))
            .collect();
        let goods = lines
            .first()
            .and_then(|i| old.lines.get(*i))
            .map(|l| l.goods);
        let found = word.candidates_for(&old.setting, goods.unwrap_or_default());
        let likeliest = found.likeliest();
        let (a, b) = (likeliest.size().in_metric(), candidate.size().in_metric());
        if (b / a - 1.0).abs() <= APART || told.contains(&word.id) {
            continue;
        }
        told.push(word.id);
        out.push(Doubt {
            kind: DoubtKind::AmbiguousUnit,
            lines,
            message: format!(
                "{}: read as {} ({}), but it may be {} ({})",
                word.id,
                likeliest.name(),
                likeliest.in_words(),
                candidate.name(),
                candidate.in_words()
            ),
            value: a,
            limit: b,
            unit: match likeliest.unit.kind {
                super::UnitKind::Mass => "g",
                super::UnitKind::Volume => "mL",
                super::UnitKind::Time => "s",
            },
            meant: meant(candidate.name(), &old.taking(word, candidate)),
        });
    }
    for (i, line) in reading.lines.iter().enumerate() {
        for found in line
            .candidates
            .iter()
            .filter(|c| c.standing() != Standing::Fits)
        {
            let unit = found.likeliest().unit;
            out.push(Doubt {
                kind: DoubtKind::OutOfUse,
                lines: vec![i],
                message: format!(
                    "{}: the {} is {} ({}, {}; known: {})",
                    line.name,
                    unit.name,
                    found.standing().label(),
                    old.setting.place,
                    old.setting.years,
                    unit.validity
                ),
                value: f64::from(old.setting.years.from()),
                limit: f64::from(nearest_year(unit, old)),
                unit: "year",
                meant: None,
            });
        }
    }
}

/// The year of use that lies nearest to the text.
fn nearest_year(unit: &Unit, old: &OldRecipe) -> i32 {
    let year = old.setting.years.from();
    let nearest = unit
        .used
        .iter()
        .map(|u| year.clamp(u.years.from(), u.years.to()));
    nearest.min_by_key(|y| (y - year).abs()).unwrap_or(0)
}
