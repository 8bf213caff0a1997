//! The shape of a sheet: plain numbers, units in the names.

use super::{keeping::SheetKeeping, sureness::SheetSureness};
use crate::check::Finding;
use crate::composition::Side;
use crate::formulate::Equal;
use crate::recipe::{LineKind, RatioInterval};

macro_rules! sheet_struct {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $type:ty,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq)]
        #[cfg_attr(feature = "serde", derive(serde::Serialize))]
        #[non_exhaustive]
        pub struct $name { $($(#[$fdoc])* pub $field: $type,)* }
    };
}

sheet_struct! {
    /// One thing to weigh or measure, as the sheet prints it.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert_eq!(sheet.steps[0].lines[2].take, "7.5 g");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetLine {
        /// Name of the lot.
        lot: String,
        /// What it is for.
        kind: LineKind,
        /// What to take, with the tool's unit.
        take: String,
        /// The recipe's own words where they say something else ("3 parts").
        stated: String,
        /// What that weighs.
        mass_g: f64,
        /// What that fills, where the density is known.
        volume_ml: Option<f64>,
        /// Cost, where the lot has a price.
        cost: Option<f64>,
        /// What rounding it did, where it was rounded.
        rounding: Option<SheetLineRounding>,
    }
}

sheet_struct! {
    /// What rounding one line does to the ink, all else exact.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// let rounding = sheet.steps[0].lines[2].rounding.as_ref().unwrap();
    /// assert_eq!(rounding.steps, 75.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetLineRounding {
        /// The mass asked for.
        exact_g: f64,
        /// Steps of the tool.
        steps: f64,
        /// To the iron concentration, %.
        iron_error_percent: f64,
        /// To iron per galloyl, %.
        ratio_error_percent: f64,
        /// To the strong acid.
        acid_error_mmol_per_l: f64,
    }
}

sheet_struct! {
    /// A lot as it was understood.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert_eq!(sheet.lots[0].material, "sumac_leaf");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetLot {
        /// What the maker calls it.
        name: String,
        /// Identifier of the catalogue material; empty for a prepared lot.
        material: String,
        /// The catalogue's name of it.
        material_name: String,
        /// What was said of it.
        given: Vec<String>,
        /// What the catalogue had to fill in (k = 1).
        assumed: Vec<String>,
        /// Iron(II) in it.
        iron_ii_mol_per_kg: f64,
        /// Iron(III) in it.
        iron_iii_mol_per_kg: f64,
        /// Galloyl units in it, free gallic acid included.
        galloyl_mol_per_kg: f64,
        /// Strong acid in it; negative: base.
        strong_acid_mol_per_kg: f64,
        /// Density, where known.
        density_g_per_cm3: Option<f64>,
        /// Price, where known.
        price_per_kg: Option<f64>,
        /// Where the catalogue row comes from.
        source: String,
    }
}

sheet_struct! {
    /// One solution of the sheet.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert_eq!(sheet.steps[0].lines.len(), 3); // leaf, water, vitriol
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetStep {
        /// Heading.
        name: String,
        /// What to weigh and measure.
        lines: Vec<SheetLine>,
        /// What to do with it.
        instruction: String,
        /// Volume that is made.
        volume_ml: f64,
    }
}

sheet_struct! {
    /// What is in the finished ink.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert!((sheet.ink.iron_g_per_l - 3.01).abs() < 0.01);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetInk {
        /// Volume at 20 °C.
        volume_ml: f64,
        /// Mass.
        mass_g: f64,
        /// Density at 20 °C.
        density_g_per_cm3: f64,
        /// Metallic iron, both states.
        iron_g_per_l: f64,
        /// Relative standard uncertainty of the iron(II), %.
        iron_u_percent: f64,
        /// Iron(II).
        iron_ii_mmol_per_l: f64,
        /// Iron(III).
        iron_iii_mmol_per_l: f64,
        /// Galloyl units, free gallic acid included.
        galloyl_mmol_per_l: f64,
        /// Relative standard uncertainty of the galloyl units, %.
        galloyl_u_percent: f64,
        /// Free gallic acid.
        gallic_acid_mmol_per_l: f64,
        /// Tannin.
        tannin_g_per_l: f64,
        /// Strong acid; negative: excess of base.
        strong_acid_mmol_per_l: f64,
        /// Acid that evaporates as the writing dries.
        volatile_acid_mmol_per_l: f64,
        /// Strong acid that stays in the paper.
        fixed_acid_mmol_per_l: f64,
        /// Dry gum.
        gum_g_per_l: f64,
        /// Dye.
        dye_g_per_l: f64,
        /// Preservative, as the acid or phenol that acts.
        preservative_g_per_l: f64,
        /// Dry residue (a lower bound for plant liquors).
        dry_residue_g_per_l: f64,
        /// Every component that is there.
        components: Vec<SheetComponent>,
    }
}

sheet_struct! {
    /// How acid the ink is, and what becomes of it.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("hard_tap_water")?.build()?;
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink")
    /// #     .add(&Lot::of("tannic_acid")?.build()?, grams(7.0))
    /// #     .add(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?, grams(7.5))
    /// #     .add(&Lot::of("salicylic_acid")?.build()?, grams(0.6))
    /// #     .make_up(&water, milliliters(500.0)));
    /// # let options = SheetOptions::default();
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// let acidity = sheet.acidity.unwrap();
    /// assert!(acidity.ph_low < acidity.ph && acidity.ph < acidity.ph_high);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetAcidity {
        /// Temperature.
        temperature_c: f64,
        /// pH of the fresh ink.
        ph: f64,
        /// Low end of what the uncertainty of constants leaves open (95 %).
        ph_low: f64,
        /// High end.
        ph_high: f64,
        /// Ionic strength.
        ionic_strength_mol_per_kg: f64,
        /// Whether activity coefficients are trusted there.
        within_validity: bool,
        /// pH if there were no minerals in the water.
        ph_with_pure_water: f64,
        /// Strong base that brings it to pH 7.
        titratable_acid_mmol_per_l: f64,
        /// pH when air has oxidised all iron(II) and all is still dissolved.
        ph_oxidised: f64,
        /// pH when all the iron that tannin can take has settled as pigment.
        ph_settled: f64,
        /// Strong acid set free until then.
        acid_set_free_mmol_per_l: f64,
        /// Strong acid that can then evaporate from the writing.
        volatile_acid_then_mmol_per_l: f64,
        /// Strong acid that then stays in the paper.
        fixed_acid_then_mmol_per_l: f64,
        /// Share of iron(II) bound to sulfate, %.
        iron_ii_with_sulfate_percent: f64,
        /// Share of iron(II) not bound at all, %.
        iron_ii_free_percent: f64,
        /// Share of iron(III) bound to gallic acid and tannin, %, low end of
        /// 95 %; `None` without iron(III).
        iron_iii_coloured_low_percent: Option<f64>,
        /// High end.
        iron_iii_coloured_high_percent: Option<f64>,
        /// Share of iron(II) that air can oxidise before a solid of iron(III)
        /// begins to settle, the pigment apart, %; `None`: all of it.
        settles_at_percent: Option<f64>,
        /// That solid.
        settles_first: Option<String>,
        /// Solids that the fresh ink holds too much of, and that form soon.
        settling: Vec<String>,
        /// Solids it holds too much of, but that may stay away for years.
        metastable: Vec<String>,
        /// What the preservatives can do at this pH.
        preservatives: Vec<SheetPreservative>,
        /// Name of the set of constants.
        constants: String,
    }
}

sheet_struct! {
    /// What a preservative can do at the ink's pH.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("hard_tap_water")?.build()?;
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink")
    /// #     .add(&Lot::of("tannic_acid")?.build()?, grams(7.0))
    /// #     .add(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?, grams(7.5))
    /// #     .add(&Lot::of("salicylic_acid")?.build()?, grams(0.6))
    /// #     .make_up(&water, milliliters(500.0)));
    /// # let options = SheetOptions::default();
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// let acidity = sheet.acidity.unwrap();
    /// assert!(acidity.preservatives[0].enough);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetPreservative {
        /// Identifier of the component.
        id: &'static str,
        /// Share in the form that acts, %.
        undissociated_percent: f64,
        /// What acts.
        effective_g_per_l: f64,
        /// The smallest dose met with.
        usual_g_per_l: f64,
        /// Whether what acts comes up to half of it, which is as well as doses are known.
        enough: bool,
    }
}

sheet_struct! {
    /// Amount of one component.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert!(sheet.ink.components.iter().any(|c| c.id == "sulfate"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetComponent {
        /// Identifier, see [`Component::id`](crate::composition::Component::id).
        id: &'static str,
        /// In the batch.
        mol: f64,
        /// In the batch, as the formula `Component::formula` gives.
        mass_g: f64,
        /// In the ink.
        mmol_per_l: f64,
        /// In the ink.
        g_per_l: f64,
    }
}

sheet_struct! {
    /// One published opinion on the proportion, applied.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert!(sheet.verdicts.iter().all(|v| v.factor > 0.0));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetVerdict {
        /// Identifier of the criterion.
        criterion: &'static str,
        /// What the criterion says.
        name: &'static str,
        /// What it comes to.
        verdict: Side,
        /// Iron present per balanced amount.
        factor: f64,
        /// Iron too much (or wanting), mmol/L.
        excess_mmol_per_l: f64,
        /// Its source.
        source: crate::source::Source,
    }
}

sheet_struct! {
    /// What rounding to the tools does.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert!(sheet.rounding.unwrap().smallest_batch_ml < 500.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetRounding {
        /// To the iron concentration, %.
        iron_error_percent: f64,
        /// To iron per galloyl, %.
        ratio_error_percent: f64,
        /// To the strong acid, mmol/L.
        acid_error_mmol_per_l: f64,
        /// The lot whose rounding does most to the ratio (or the iron).
        worst: String,
        /// Smallest batch in which everything is at least twenty steps.
        smallest_batch_ml: f64,
        /// Stock solutions for what is under twenty steps here.
        stocks: Vec<String>,
    }
}

sheet_struct! {
    /// The most that air can do to the ink in its bottle.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert!(sheet.oxygen.unwrap().share_after_filling_percent < 10.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetOxygen {
        /// Brimful volume of a bottle.
        bottle_ml: f64,
        /// Ink in it.
        fill_ml: f64,
        /// Temperature assumed.
        temperature_c: f64,
        /// Pressure assumed.
        pressure_kpa: f64,
        /// Closure assumed.
        closure: String,
        /// Days between openings; `None`: never opened.
        opened_every_days: Option<f64>,
        /// Share of the headspace air replaced at an opening, %.
        air_exchanged_percent: f64,
        /// Ink taken out at an opening.
        drawn_ml: f64,
        /// Iron(II) in the bottle.
        iron_ii_mmol: f64,
        /// Oxygen in the headspace and dissolved at filling.
        oxygen_at_filling_mmol: f64,
        /// Iron(II) that oxygen can oxidise, % of what is there.
        share_after_filling_percent: f64,
        /// Iron(II) one opening can oxidise, mmol.
        iron_per_opening_mmol: f64,
        /// Days looked ahead.
        kept_for_days: f64,
        /// Openings within that time.
        openings: u64,
        /// Share that can be gone by then, %.
        share_after_duration_percent: f64,
        /// The loss that is too much, %.
        stated_share_percent: f64,
        /// Openings until then; `None`: not while there is ink.
        openings_to_share: Option<u64>,
        /// Days until then; `None`: not while there is ink.
        time_to_share_days: Option<f64>,
        /// Fill at which the air of the filling alone can do no more than the
        /// stated share; `None`: the dissolved oxygen alone can.
        fill_for_share_ml: Option<f64>,
        /// The bottle model between bound and floor; `None` where the ink has
        /// no pH to tell, or its openings are too many to follow.
        keeping: Option<SheetKeeping>,
    }
}

sheet_struct! {
    /// What the batch costs.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert!(sheet.cost.unwrap().per_bottle.unwrap() < 0.1);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    SheetCost {
        /// Name of the currency; may be empty.
        currency: String,
        /// Materials of the batch.
        per_batch: f64,
        /// Per litre.
        per_liter: f64,
        /// Per bottle, where bottles were named.
        per_bottle: Option<f64>,
        /// Lines without a price.
        unpriced_lines: usize,
    }
}

sheet_struct! {
    /// What another lot in one's place would change, new less old.
    ///
    /// ```
    /// # use ferrogall::bench::Lot;
    /// # use ferrogall::quantity::*;
    /// # use ferrogall::recipe::*;
    /// # let water = Lot::of("distilled_water")?.build()?;
    /// # let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?.price(Price::per_kilogram(6.0)?).build()?;
    /// # let leaf = Lot::of("sumac_leaf")?.named("leaf").price(Price::per_kilogram(14.0)?).build()?;
    /// # let tannin = Lot::of("tannic_acid")?.price(Price::per_kilogram(70.0)?).build()?;
    /// # let soak = Extraction::new(&leaf, grams(50.0), &water, grams(500.0));
    /// # let recipe = Recipe::new("ink").with(Solution::new("ink").extract(soak).add(&vitriol, grams(7.5)))
    /// #     .make_up(&water, milliliters(500.0));
    /// # let options = SheetOptions { kit: Some(Kit::new(grams(0.1), milliliters(1.0))),
    /// #     bottles: Some(BottlePlan::new(10, milliliters(50.0))?), storage: Some(Storage::default()),
    /// #     substitute: Some(("leaf".into(), tannin, ferrogall::formulate::Equal::Galloyl)),
    /// #     currency: String::new() };
    /// let sheet = BatchSheet::new(&recipe, &options)?;
    /// assert_eq!(sheet.comparison.unwrap().instead_of, "leaf");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    Comparison {
        /// The lot replaced.
        instead_of: String,
        /// The lot taken.
        take: String,
        /// How much of it.
        mass_g: f64,
        /// Kept equal.
        equal: Equal,
        /// What to think of the comparison; empty when nothing.
        note: String,
        /// Volume of the batch, before.
        volume_before_ml: f64,
        /// And after.
        volume_after_ml: f64,
        /// Metallic iron, before.
        iron_before_g_per_l: f64,
        /// And after.
        iron_after_g_per_l: f64,
        /// pH, before; `None` for what is no dilute solution.
        ph_before: Option<f64>,
        /// And after.
        ph_after: Option<f64>,
        /// Change of strong acid.
        strong_acid_mmol_per_l: f64,
        /// Change of the acid that evaporates.
        volatile_acid_mmol_per_l: f64,
        /// Change of the acid that stays in the paper.
        fixed_acid_mmol_per_l: f64,
        /// Change of iron(III).
        iron_iii_mmol_per_l: f64,
        /// Change of free gallic acid.
        gallic_acid_mmol_per_l: f64,
        /// Change of sulfate.
        sulfate_mmol_per_l: f64,
        /// Change of chloride.
        chloride_mmol_per_l: f64,
        /// Change of acetate.
        acetate_mmol_per_l: f64,
        /// Change of dry residue.
        dry_residue_g_per_l: f64,
        /// Change of the cost of the batch, where prices are known.
        cost: Option<f64>,
        /// Iron per galloyl with its 95 % interval, before.
        ratio_before: Option<RatioInterval>,
        /// And after.
        ratio_after: Option<RatioInterval>,
        /// Findings that the change brings.
        new_findings: Vec<Finding>,
        /// Codes of findings that it does away with.
        settled: Vec<crate::check::Code>,
    }
}

sheet_struct! {
    /// A sheet to print and work from.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::quantity::*;
    /// use ferrogall::recipe::{BatchSheet, Recipe, SheetOptions, Solution};
    ///
    /// let recipe = Recipe::new("plain ink").with(Solution::new("ink")
    ///     .add(&Lot::of("tannic_acid")?.build()?, grams(14.0))
    ///     .add(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?, grams(15.0))
    ///     .make_up(&Lot::of("distilled_water")?.build()?, liters(1.0)));
    /// let sheet = BatchSheet::new(&recipe, &SheetOptions::default())?;
    /// assert!(sheet.to_string().contains("15.0 g"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    BatchSheet {
        /// Version of this shape.
        schema: u32,
        /// Version of the crate.
        ferrogall: &'static str,
        /// Version of its data.
        data: &'static str,
        /// Title of the recipe.
        title: String,
        /// What to do, in order.
        steps: Vec<SheetStep>,
        /// The finished ink.
        ink: SheetInk,
        /// How acid it is; `None` for what is no dilute solution.
        acidity: Option<SheetAcidity>,
        /// Iron per galloyl with its 95 % interval.
        iron_per_galloyl: Option<RatioInterval>,
        /// Plant matter per iron salt by mass, as weighed.
        plant_per_iron_salt: Option<f64>,
        /// The proportion in every usual way of saying it.
        ratios: crate::composition::Ratios,
        /// The published opinions on it.
        verdicts: Vec<SheetVerdict>,
        /// How sure the proportion is; `None` without iron or tannin.
        sureness: Option<SheetSureness>,
        /// What rounding does, where tools were named.
        rounding: Option<SheetRounding>,
        /// What air can do, where bottles and their use were named.
        oxygen: Option<SheetOxygen>,
        /// What it costs, where prices were named.
        cost: Option<SheetCost>,
        /// What another lot would change, where one was named.
        comparison: Option<Comparison>,
        /// Findings, worst first.
        findings: Vec<Finding>,
        /// The usual cautions.
        cautions: Vec<String>,
        /// Every lot as it was understood.
        lots: Vec<SheetLot>,
        /// Soaks as they were understood.
        assumed: Vec<String>,
    }
}
