//! The sheet as a page.

use super::shapes::{BatchSheet, Comparison, SheetLine, SheetLot, SheetOxygen, SheetVerdict};
use crate::composition::{Composition, Side};
use crate::quantity::ReadVolume;
use crate::recipe::{LineKind, SolutionMade};
use core::fmt::{Display, Formatter, Result, Write};

const WIDTH: usize = 76;

/// Decimals that show every multiple of a step; four at most.
pub(super) fn decimals(step: f64) -> usize {
    let mut n = 0;
    let mut step = step;
    while n < 4 && (step - step.round()).abs() > 1e-6 * step {
        step *= 10.0;
        n += 1;
    }
    n
}

/// Decimals that show three figures of a number; four at most.
pub(super) fn three_figures(x: f64) -> usize {
    [100.0, 10.0, 1.0, 0.1]
        .iter()
        .position(|&limit| x >= limit)
        .unwrap_or(4)
}

/// A mass in grams, or kilograms from one on.
pub(super) fn mass(grams: f64, decimals: usize) -> String {
    if grams >= 1000.0 {
        format!("{:.*} kg", decimals + 3, grams / 1000.0)
    } else {
        format!("{grams:.decimals$} g")
    }
}

/// A volume in millilitres, or litres from two on.
pub(super) fn volume(ml: f64, decimals: usize) -> String {
    if ml >= 2000.0 {
        format!("{:.*} L", decimals + 3, ml / 1000.0)
    } else {
        format!("{ml:.decimals$} mL")
    }
}

/// A number without trailing zeros.
pub(super) fn trimmed(x: f64) -> String {
    let text = format!("{x:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// "1 drop", "3 drops".
pub(super) fn counted(n: f64, what: &str) -> String {
    let plural = if n == 1.0 { "" } else { "s" };
    format!("{n:.0} {what}{plural}")
}

/// What is in a pot, as far as its handling goes.
pub(super) struct Pot {
    pub(super) tea: bool,
    pub(super) wet: bool,
    pub(super) acid: bool,
}

/// What to do with the things of one solution.
pub(super) fn instruction(made: &SolutionMade, lines: &[SheetLine], pot: &Pot) -> String {
    let mut out = Vec::new();
    let has = |kind| lines.iter().any(|l| l.kind == kind);
    if has(LineKind::Plant) {
        let drained: f64 = made
            .extractions
            .iter()
            .map(|e| e.liquor.volume().in_milliliters())
            .sum();
        let how = if pot.tea {
            "Pour the water on boiling, leave it five minutes"
        } else {
            "Crush the plant matter, soak it covered for about a day"
        };
        out.push(format!(
            "{how}, strain through cloth and let it drain: about {drained:.0} mL of liquor come through."
        ));
    }
    if has(LineKind::Ingredient) {
        out.push(if has(LineKind::Plant) {
            "Stir in the rest; what dissolves slowly likes the liquor warm.".to_string()
        } else {
            match (pot.wet, pot.acid) {
                (true, true) => "Dissolve; acid goes into the water, slowly.",
                (true, false) => "Dissolve.",
                (false, _) => "Mix; it dissolves when the whole is filled up.",
            }
            .to_string()
        });
    }
    if has(LineKind::MakeUp) {
        let ml = made.made.volume().in_milliliters();
        out.push(format!("Fill up to {}.", volume(ml, 0)));
    }
    let used = made.used.value();
    if used < 1.0 {
        let take = made.made.volume().in_milliliters() * used;
        out.push(format!(
            "Take {} of it for the ink; label and keep the rest.",
            volume(take, 1)
        ));
    }
    out.join(" ")
}

/// What to do in the end.
pub(super) fn final_instruction(ink: &Composition, solutions: usize, fills_up: bool) -> String {
    let ml = volume(ink.volume().in_milliliters(), 0);
    let pour = match (solutions > 1, fills_up) {
        (true, true) => "Pour the solutions together in this order, stirring, and fill up to",
        (true, false) => "Pour the solutions together in this order, stirring. This gives about",
        (false, true) => "Fill up to",
        (false, false) => "This gives about",
    };
    format!("{pour} {ml} (at 20 °C). Let it stand a day, decant or filter, bottle at once.")
}

impl Display for BatchSheet {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let rule = "=".repeat(WIDTH);
        writeln!(f, "{rule}\n{}\n{rule}", self.title)?;
        for (n, step) in self.steps.iter().enumerate() {
            writeln!(f, "\n{}. {}", n + 1, step.name)?;
            for line in &step.lines {
                write_line(f, line)?;
            }
            paragraph(f, "   ", &step.instruction)?;
        }
        self.write_ink(f)?;
        if let Some(acidity) = &self.acidity {
            acidity.write(f)?;
        }
        self.write_proportion(f)?;
        if let Some(sureness) = &self.sureness {
            sureness.write(f)?;
        }
        if let Some(r) = &self.rounding {
            heading(f, "Rounding to your tools")?;
            paragraph(
                f,
                "  ",
                &format!(
                    "iron {:+.1} %, iron per galloyl {:+.1} %, acid {:+.2} mmol/L{}. Every amount is at least twenty steps of its tool from a batch of {} on.",
                    r.iron_error_percent,
                    r.ratio_error_percent,
                    r.acid_error_mmol_per_l,
                    if r.worst.is_empty() {
                        String::new()
                    } else {
                        format!(" (mostly from {})", r.worst)
                    },
                    volume(r.smallest_batch_ml, 0)
                ),
            )?;
            for stock in &r.stocks {
                paragraph(f, "  - stock: ", stock)?;
            }
        }
        if let Some(o) = &self.oxygen {
            write_oxygen(f, o)?;
        }
        if let Some(c) = &self.cost {
            heading(f, "Cost of materials")?;
            let money = |x: f64| format!("{x:.2}{}{}", gap(&c.currency), c.currency);
            write!(
                f,
                "  batch {}, litre {}",
                money(c.per_batch),
                money(c.per_liter)
            )?;
            if let Some(bottle) = c.per_bottle {
                write!(f, ", bottle {}", money(bottle))?;
            }
            match c.unpriced_lines {
                0 => writeln!(f)?,
                n => writeln!(f, " ({n} without a price)")?,
            }
        }
        if let Some(c) = &self.comparison {
            let currency = self.cost.as_ref().map_or("", |c| c.currency.as_str());
            write_comparison(f, c, currency)?;
        }
        if !self.findings.is_empty() {
            heading(f, "Findings")?;
            for finding in &self.findings {
                paragraph(f, "  - ", &finding.to_string())?;
                if let Some(slip) = finding.slips.first() {
                    paragraph(f, "    ", &slip.message)?;
                }
            }
        }
        list(f, "Cautions", &self.cautions)?;
        heading(f, "The lots as understood")?;
        for lot in &self.lots {
            paragraph(f, "  - ", &lot_words(lot))?;
        }
        for soak in &self.assumed {
            paragraph(f, "  - soak: ", soak)?;
        }
        writeln!(f, "\nferrogall {}, data {}", self.ferrogall, self.data)
    }
}

impl BatchSheet {
    fn write_ink(&self, f: &mut Formatter<'_>) -> Result {
        let ink = &self.ink;
        heading(f, "The ink")?;
        writeln!(
            f,
            "  {} ({:.1} g, {:.3} g/cm3)",
            volume(ink.volume_ml, 1),
            ink.mass_g,
            ink.density_g_per_cm3
        )?;
        row(
            f,
            "iron",
            format!(
                "{:.2} g/L = {:.1} mmol/L, of it iron(III) {:.1}  (± {:.0} %, k = 1)",
                ink.iron_g_per_l,
                ink.iron_ii_mmol_per_l + ink.iron_iii_mmol_per_l,
                ink.iron_iii_mmol_per_l,
                ink.iron_u_percent
            ),
        )?;
        row(
            f,
            "galloyl units",
            format!(
                "{:.1} mmol/L, of it free gallic acid {:.1}  (± {:.0} %, k = 1)",
                ink.galloyl_mmol_per_l, ink.gallic_acid_mmol_per_l, ink.galloyl_u_percent
            ),
        )?;
        let acid = ink.strong_acid_mmol_per_l;
        if acid < -0.05 {
            let words = format!("{acid:.1} mmol/L: a base left over");
            row(f, "strong acid, balance", words)?;
        } else {
            row(
                f,
                "free strong acid",
                format!("{:.1} mmol/L", acid.max(0.0) + 0.0),
            )?;
        }
        row(
            f,
            "  of acid, can evaporate",
            format!(
                "up to {:.1} mmol/L; {:.1} stay",
                ink.volatile_acid_mmol_per_l, ink.fixed_acid_mmol_per_l
            ),
        )?;
        for (name, g_per_l) in [
            ("tannin", ink.tannin_g_per_l),
            ("gum, dry", ink.gum_g_per_l),
            ("dye", ink.dye_g_per_l),
            ("preservative", ink.preservative_g_per_l),
            ("dry residue, at least", ink.dry_residue_g_per_l),
        ] {
            if g_per_l > 0.0 {
                row(f, name, format!("{g_per_l:.2} g/L"))?;
            }
        }
        Ok(())
    }

    fn write_proportion(&self, f: &mut Formatter<'_>) -> Result {
        let Some(ratio) = &self.iron_per_galloyl else {
            return match self.plant_per_iron_salt {
                Some(ratio) => {
                    heading(f, "Iron against tannin")?;
                    writeln!(f, "  plant : salt as weighed   {ratio:.2}")
                }
                None => Ok(()),
            };
        };
        heading(f, "Iron against tannin")?;
        writeln!(
            f,
            "  iron per galloyl unit     {:.2} mol/mol, 95 % between {:.2} and {:.2}",
            ratio.value, ratio.low, ratio.high
        )?;
        let r = &self.ratios;
        for (name, value) in [
            ("galloyl per iron", r.galloyl_per_iron),
            ("iron per tannic acid", r.iron_per_tannic_acid),
            ("vitriol : tannin by mass", r.vitriol_per_tannin_by_mass),
            ("trade galls : vitriol", r.galls_per_vitriol_by_mass),
            ("plant : salt as weighed", self.plant_per_iron_salt),
        ] {
            if let Some(value) = value {
                writeln!(f, "  {name:<26}{value:.2}")?;
            }
        }
        for v in &self.verdicts {
            paragraph(f, "  - ", &verdict(v))?;
        }
        Ok(())
    }
}

fn lot_words(lot: &SheetLot) -> String {
    let mut out = lot.name.clone();
    if !lot.material_name.is_empty() && lot.material_name != lot.name {
        let _ = write!(out, ", {}", lot.material_name);
    }
    for (lead, words) in [("given", &lot.given), ("assumed", &lot.assumed)] {
        if !words.is_empty() {
            let _ = write!(out, "; {lead} {}", words.join(", "));
        }
    }
    for (mol_per_kg, what) in [
        (lot.iron_ii_mol_per_kg, "iron(II)"),
        (lot.iron_iii_mol_per_kg, "iron(III)"),
        (lot.galloyl_mol_per_kg, "galloyl"),
    ] {
        if mol_per_kg > 0.0 {
            let _ = write!(out, "; {mol_per_kg:.2} mol/kg {what}");
        }
    }
    if !lot.source.is_empty() {
        let _ = write!(out, " [{}]", lot.source);
    }
    out
}

fn verdict(v: &SheetVerdict) -> String {
    let figure = match v.verdict {
        Side::Balanced => String::new(),
        Side::IronInExcess => format!(
            ", {:.1} times the iron, {:.1} mmol/L over",
            v.factor, v.excess_mmol_per_l
        ),
        Side::TanninInExcess => format!(
            ", {:.2} of the iron, {:.1} mmol/L wanting",
            v.factor, v.excess_mmol_per_l
        ),
    };
    format!("{}{figure}: by {} [{}]", v.verdict, v.name, v.source)
}

fn write_line(f: &mut Formatter<'_>, line: &SheetLine) -> Result {
    let mut what = line.lot.clone();
    if line.kind == LineKind::MakeUp {
        what.push_str(", to fill up");
    }
    if !line.stated.is_empty() {
        let _ = write!(what, " ({})", line.stated);
    }
    writeln!(f, "   [ ] {:>14}  {what}", line.take)
}

fn write_oxygen(f: &mut Formatter<'_>, o: &SheetOxygen) -> Result {
    heading(f, "What air does to it (no shelf life is promised)")?;
    let opened = match o.opened_every_days {
        Some(days) => format!(
            "opened every {} days with {:.0} % of the air exchanged and {} taken out",
            trimmed(days),
            o.air_exchanged_percent,
            if o.drawn_ml > 0.0 {
                format!("{} mL", trimmed(o.drawn_ml))
            } else {
                "no ink (a bottle in use empties, and lets in more air)".to_string()
            }
        ),
        None => "never opened".to_string(),
    };
    paragraph(
        f,
        "  ",
        &format!(
            "{:.0} mL bottle with {:.0} mL of ink and {:.2} mmol of iron(II), {}, {:.0} °C, {:.0} kPa, {opened}:",
            o.bottle_ml, o.fill_ml, o.iron_ii_mmol, o.closure, o.temperature_c, o.pressure_kpa
        ),
    )?;
    writeln!(
        f,
        "  air of the filling        at most {:.1} % of the iron(II)",
        o.share_after_filling_percent
    )?;
    writeln!(
        f,
        "  after {:<20}at most {:.0} %, {} openings",
        format!("{:.0} days", o.kept_for_days),
        o.share_after_duration_percent,
        o.openings
    )?;
    let reached = match (o.openings_to_share, o.time_to_share_days) {
        (Some(n), Some(days)) => format!("not before {n} openings, {days:.0} days"),
        (None, Some(days)) => format!("not before {days:.0} days"),
        (Some(n), None) => format!("not before {n} openings"),
        (None, None) => "never while there is ink in it".to_string(),
    };
    writeln!(
        f,
        "  {:<26}{reached}",
        format!("{:.0} % of it can be gone", o.stated_share_percent)
    )?;
    if let Some(fill) = o.fill_for_share_ml {
        writeln!(
            f,
            "  fill to at least          {fill:.1} mL, so that the filling costs no more than that"
        )?;
    }
    if let Some(keeping) = &o.keeping {
        keeping.write(f, o.stated_share_percent)?;
    }
    Ok(())
}

fn write_comparison(f: &mut Formatter<'_>, c: &Comparison, currency: &str) -> Result {
    let kept = c.equal.name();
    heading(
        f,
        &format!("What {} in place of {} would change", c.take, c.instead_of),
    )?;
    writeln!(f, "  take {} of it, at equal {kept}", mass(c.mass_g, 2))?;
    if !c.note.is_empty() {
        paragraph(f, "  ", &c.note)?;
    }
    for (name, before, after, unit, digits) in [
        ("volume", c.volume_before_ml, c.volume_after_ml, "mL", 0),
        (
            "iron",
            c.iron_before_g_per_l,
            c.iron_after_g_per_l,
            "g/L",
            2,
        ),
    ] {
        // Half a per cent is within the accuracy of any volume here.
        if (after - before).abs() > 0.005 * before {
            writeln!(
                f,
                "  {name:<26}{before:.digits$} becomes {after:.digits$} {unit}"
            )?;
        }
    }
    if let (Some(before), Some(after)) = (c.ph_before, c.ph_after)
        && (after - before).abs() >= 0.005
    {
        row(f, "pH", format!("{before:.2} becomes {after:.2}"))?;
    }
    if let (Some(a), Some(b)) = (&c.ratio_before, &c.ratio_after) {
        writeln!(
            f,
            "  iron per galloyl, 95 %    {:.2} to {:.2} becomes {:.2} to {:.2}",
            a.low, a.high, b.low, b.high
        )?;
    }
    for (name, change, unit) in [
        ("strong acid", c.strong_acid_mmol_per_l, "mmol/L"),
        ("acid that evaporates", c.volatile_acid_mmol_per_l, "mmol/L"),
        ("acid that stays", c.fixed_acid_mmol_per_l, "mmol/L"),
        ("iron(III)", c.iron_iii_mmol_per_l, "mmol/L"),
        ("free gallic acid", c.gallic_acid_mmol_per_l, "mmol/L"),
        ("sulfate", c.sulfate_mmol_per_l, "mmol/L"),
        ("chloride", c.chloride_mmol_per_l, "mmol/L"),
        ("acetate", c.acetate_mmol_per_l, "mmol/L"),
        ("dry residue", c.dry_residue_g_per_l, "g/L"),
    ] {
        // Below a hundredth there is nothing a maker could notice.
        if change.abs() >= 0.01 {
            writeln!(f, "  {name:<26}{change:+.2} {unit}")?;
        }
    }
    if let Some(cost) = c.cost {
        let gap = gap(currency);
        writeln!(f, "  cost of the batch         {cost:+.2}{gap}{currency}")?;
    }
    for finding in &c.new_findings {
        paragraph(f, "  - new: ", &finding.to_string())?;
    }
    for code in &c.settled {
        paragraph(f, "  - settled: ", code.id())?;
    }
    Ok(())
}

/// A name, and what is to be said of it.
pub(super) fn row(f: &mut Formatter<'_>, name: &str, value: String) -> Result {
    writeln!(f, "  {name:<26}{value}")
}

pub(super) fn heading(f: &mut Formatter<'_>, text: &str) -> Result {
    writeln!(
        f,
        "\n{text}\n{}",
        "-".repeat(text.chars().count().min(WIDTH))
    )
}

fn list(f: &mut Formatter<'_>, title: &str, items: &[String]) -> Result {
    if items.is_empty() {
        return Ok(());
    }
    heading(f, title)?;
    for item in items {
        paragraph(f, "  - ", item)?;
    }
    Ok(())
}

/// Text broken into lines of [`WIDTH`], the first after a lead, the others
/// indented as far.
pub(super) fn paragraph(f: &mut Formatter<'_>, lead: &str, text: &str) -> Result {
    let indent = lead.chars().count();
    f.write_str(lead)?;
    let mut column = indent;
    for (n, word) in text.split_whitespace().enumerate() {
        let length = word.chars().count();
        if n > 0 && column + 1 + length > WIDTH {
            write!(f, "\n{:indent$}{word}", "")?;
            column = indent + length;
        } else {
            if n > 0 {
                f.write_char(' ')?;
                column += 1;
            }
            f.write_str(word)?;
            column += length;
        }
    }
    writeln!(f)
}

fn gap(currency: &str) -> &'static str {
    if currency.is_empty() { "" } else { " " }
}
