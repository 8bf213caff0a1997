//! Every public function of the bench, recipe, formulate, standards, chem,
//! composition and check rooms takes any number and any text: it answers or
//! refuses, never panics, and never answers with NaN or infinity.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use ferrogall::bench::{
    HydrateMix, IronInAcid, Lot, LotBuilder, LotError, StrengthU, find, materials, solubilities,
    solubility,
};
use ferrogall::check::{cautions, check};
use ferrogall::chem::{
    BaumeScale, Element, Formula, Solute, Solution as Dissolved, SpecificGravity,
    apparent_specific_volume, density, formula_density, handbook_density,
    mass_fraction_from_density, molar_mass, readable_up_to, water_density,
};
use ferrogall::composition::{Bulk, Component, Composition, criteria};
use ferrogall::formulate::{Choice, Equal, Soak, Swap, Targets};
use ferrogall::quantity::*;
use ferrogall::recipe::{
    Amount, BatchSheet, BottlePlan, ColumnPlan, Evaluation, Extraction, Kit, Measure, Portion,
    Recipe, RowStatus, SheetOptions, Solution, Storage, smallest_batch,
};
use ferrogall::standards::{reference_ink, reference_inks};
use proptest::prelude::*;

fn config() -> ProptestConfig {
    ProptestConfig {
        cases: 256,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Any bit pattern; the famous ones; and plain numbers of any size, so that
/// some get past the door.
fn wild() -> impl Strategy<Value = f64> {
    let famous = vec![
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        0.0,
        -0.0,
        -1.0,
        1.0,
        5e-324,
        f64::MIN_POSITIVE,
        f64::MAX,
        f64::MIN,
        f64::EPSILON,
        1e6,
        1e3,
        1e-9,
    ];
    prop_oneof![
        2 => any::<u64>().prop_map(f64::from_bits),
        2 => prop::sample::select(famous),
        3 => 0.0..1.0_f64,
        3 => 0.0..1e3_f64,
        2 => (-330.0..309.0_f64).prop_map(|e| 10f64.powf(e)),
    ]
}

/// All wild, or all plain numbers from 0 to 1 but one or two.
fn wilds() -> impl Strategy<Value = [f64; 12]> {
    let plain = prop::array::uniform12(0.0..1.0_f64);
    let some = prop::collection::vec((0..12_usize, wild()), 0..3);
    let mostly_plain = (plain, some).prop_map(|(mut x, some)| {
        for (k, v) in some {
            x[k] = v;
        }
        x
    });
    prop_oneof![1 => prop::array::uniform12(wild()), 4 => mostly_plain]
}

fn text() -> impl Strategy<Value = String> {
    let known = vec![
        "",
        "water",
        "iron_ii_sulfate_heptahydrate",
        "phenol",
        "é水\u{0}",
        "FeSO4",
    ];
    prop_oneof![
        prop::sample::select(known).prop_map(String::from),
        any::<String>(),
        "[A-Za-z0-9()·.*+^{}\\[\\]₀-₉²³⁺⁻ -]{0,40}",
    ]
}

fn finite(what: &str, x: f64) -> Result<(), TestCaseError> {
    prop_assert!(x.is_finite(), "{what} = {x}");
    Ok(())
}

fn sane(c: &Composition) -> Result<(), TestCaseError> {
    for k in Component::ALL {
        finite(k.id(), c.amount(*k).value)?;
        finite(k.id(), c.molarity(*k).value)?;
    }
    for b in Bulk::ALL {
        finite(b.id(), c.mass_of(*b).value)?;
        finite(b.id(), c.mass_concentration(*b).value)?;
    }
    for (what, x) in [
        ("mass", c.mass().value),
        ("volume", c.volume().value),
        ("density", c.density().value),
        ("residue", c.dry_residue().value),
        ("iron", c.iron().value),
        ("iron g/L", c.iron_mass_concentration().value),
        ("galloyl", c.galloyl().value),
        ("strong acid", c.strong_acid().value),
        ("volatile acid", c.volatile_acid().value),
        ("fixed acid", c.fixed_acid().value),
        ("preservative", c.preservative().value),
    ] {
        finite(what, x)?;
    }
    let r = c.ratios();
    for x in [
        r.iron_per_galloyl,
        r.galloyl_per_iron,
        r.iron_per_tannic_acid,
        r.vitriol_per_tannin_by_mass,
        r.galls_per_vitriol_by_mass,
    ] {
        finite("ratio", x.unwrap_or(0.0))?;
    }
    for criterion in criteria() {
        finite("proportion", criterion.proportion(c).unwrap_or(0.0))?;
        if let Some(v) = criterion.verdict(c) {
            finite("excess", v.iron.value)?;
            finite("factor", v.factor)?;
        }
    }
    Ok(())
}

fn sane_evaluation(e: &Evaluation) -> Result<(), TestCaseError> {
    sane(&e.composition)?;
    sane(&e.left_behind)?;
    finite("iron u", e.iron_u)?;
    finite("galloyl u", e.galloyl_u)?;
    for line in &e.lines {
        finite("line", line.mass.value)?;
        finite("line", line.volume.map_or(0.0, |v| v.value))?;
    }
    if let Some(r) = e.iron_per_galloyl() {
        finite("low", r.low)?;
        finite("high", r.high)?;
    }
    if let Some((sum, _)) = e.cost() {
        finite("cost", sum)?;
    }
    for finding in check(e, None) {
        finite(finding.code.id(), finding.value)?;
        finite(finding.code.id(), finding.limit)?;
    }
    cautions(e);
    Ok(())
}

/// A lot of any catalogue row with every setting tried; settings that are
/// refused are left out.
fn wild_lot(row: usize, x: &[f64; 12], name: &str) -> Result<Lot, LotError> {
    let all: Vec<_> = materials().collect();
    let id = all[row % all.len()].id();
    type Setting<'a> = Box<dyn Fn(LotBuilder) -> Result<LotBuilder, LotError> + 'a>;
    let settings: Vec<Setting> = vec![
        Box::new(|b| b.purity(x[0], x[1])),
        Box::new(|b| b.tannin(x[2], x[3])),
        Box::new(|b| b.gallic_acid(x[4], x[5])),
        Box::new(|b| b.galloyl(moles_per_kilogram(x[6]), moles_per_kilogram(x[7]))),
        Box::new(|b| b.moisture(x[8], x[9])),
        Box::new(|b| b.oxidised(x[10], x[11])),
        Box::new(|b| b.alkalinity(grams_per_liter(x[0]))),
        Box::new(|b| b.hardness(grams_per_liter(x[1]))),
        Box::new(|b| b.density(grams_per_cubic_centimeter(x[2]))),
        Box::new(|b| Ok(b.price(Price::per_kilogram(x[3])?))),
        Box::new(|b| Ok(b.price(Price::of_pack(x[4], grams(x[5]))?))),
        Box::new(|b| b.hydrates(HydrateMix::new(x[6], 1.0 - x[6], 0.0, 0.0)?)),
    ];
    let plain = Lot::of(id)?.named(name);
    let mut builder = plain.clone();
    for set in settings {
        builder = set(builder.clone()).unwrap_or(builder);
    }
    // More than a whole: as the catalogue has it, then.
    builder.build().or_else(|_| plain.build())
}

fn amount(kind: u8, x: f64) -> Amount {
    match kind % 4 {
        0 => Amount::Parts(x),
        1 => Amount::Volume(milliliters(x)),
        _ => Amount::Mass(grams(x)),
    }
}

fn portion(kind: u8, x: f64) -> Portion {
    match kind % 4 {
        0 => Portion::Volume(milliliters(x)),
        1 => Portion::Mass(grams(x)),
        2 => Portion::Share(Share::new(x).unwrap_or(Share::ONE)),
        _ => Portion::All,
    }
}

fn wild_recipe(rows: &[usize; 4], x: &[f64; 12], kinds: &[u8; 4], name: &str) -> Option<Recipe> {
    let water = Lot::of("hard_tap_water").unwrap().build().unwrap();
    let mut first = Solution::new(name);
    let mut second = Solution::new("second");
    for (k, row) in rows.iter().enumerate() {
        let lot = wild_lot(*row, x, name).ok()?;
        let how = amount(kinds[k], x[k]);
        let solution = if k % 2 == 0 { &mut first } else { &mut second };
        *solution = if lot.is_plant() {
            let soak = Extraction::new(&lot, how, &water, grams(x[4] * 10.0));
            let soak = soak.clone().yielding(x[5], x[6]).unwrap_or(soak);
            let soak = soak.clone().holding_back(x[7]).unwrap_or(soak);
            solution.clone().extract(soak)
        } else {
            solution.clone().add(&lot, how)
        };
    }
    if kinds[0].is_multiple_of(2) {
        first = first.make_up(&water, milliliters(100.0 * x[8]));
    }
    let first = first.use_only(portion(kinds[1], x[9]));
    let mut recipe = Recipe::new(name).with(first).with(second);
    if kinds[2].is_multiple_of(2) {
        recipe = recipe.with_part(grams(x[10]));
    }
    if kinds[3].is_multiple_of(2) {
        recipe = recipe.make_up(&water, milliliters(1e3 * x[11]));
    }
    Some(recipe)
}

fn kinds() -> impl Strategy<Value = [u8; 4]> {
    prop::array::uniform4(any::<u8>())
}

fn rows() -> impl Strategy<Value = [usize; 4]> {
    prop::array::uniform4(0..100_usize)
}

/// The plainest use of every row.
#[test]
fn every_catalogue_row_makes_a_lot() {
    for material in materials() {
        let lot = Lot::of(material.id()).unwrap().build();
        let lot = lot.unwrap_or_else(|e| panic!("{}: {e}", material.id()));
        let c = lot.composition(grams(1.0)).unwrap();
        assert!((c.mass().in_grams() - 1.0).abs() < 1e-12);
        assert!(c.volume().value > 0.0 && c.dry_residue().value >= -1e-15);
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn lots(row in 0..100_usize, x in wilds(), name in text()) {
        if let Ok(lot) = wild_lot(row, &x, &name) {
            let whole = lot.composition(kilograms(1.0)).unwrap();
            sane(&whole)?;
            for g in [x[0], x[2], x[4]] {
                let Ok(some) = lot.composition(grams(g)) else { continue };
                sane(&some)?;
                let Ok(made) = Lot::prepared(name.clone(), &some) else { continue };
                if let Ok(part) = made.composition(grams(x[3])) {
                    sane(&part)?;
                }
                finite("density", made.density().map_or(0.0, |d| d.value))?;
            }
            finite("u", lot.strength_u().iron)?;
            finite("u", lot.strength_u().galloyl)?;
            if let Ok(mass) = lot.mass_of(milliliters(x[1])) {
                finite("mass", mass.value)?;
            }
            if let Ok(scaled) = whole.scaled(x[4]) {
                sane(&scaled)?;
            }
        }
        let _ = (Lot::of(&name).is_ok(), find(&name), solubility(&name), Component::from_id(&name));
        if let Ok(m) = HydrateMix::new(x[0], x[1], x[2], x[3]) {
            finite("mix", m.heptahydrate() + m.tetrahydrate() + m.monohydrate() + m.basic_sulfate())?;
        }
        for curve in solubilities() {
            for t in [celsius(x[5]), celsius(100.0 * x[6])] {
                if let Ok(w) = curve.saturated(t) {
                    finite("saturated", w.value())?;
                }
            }
        }
        if let Ok(e) = Estimate::new(x[7], x[8]) {
            finite("relative", e.relative_u())?;
        }
        let _ = (MoleFraction::percent(x[9]).is_ok(), Share::new(x[10]).is_ok());
    }

    #[test]
    fn iron_in_acid(row in 0..100_usize, x in wilds(), which in 0..3_usize) {
        let ids = ["hydrochloric_acid", "sulfuric_acid", "acetic_acid"];
        let acid = Lot::of(ids[which]).unwrap();
        let acid = acid.clone().purity(x[0], 0.0).unwrap_or(acid).build();
        let any = wild_lot(row, &x, "any");
        for lot in [acid, any].into_iter().flatten() {
            let water = Lot::of("hard_tap_water").unwrap().build().unwrap();
            let mut iron = IronInAcid::new(grams(x[1]), &lot, grams(10.0 * x[2]));
            if x[3] < 0.5 {
                iron = iron.water(&water, grams(x[4]));
            }
            if let Ok(share) = Estimate::new(x[5], x[6]) {
                iron = iron.iron_share(share);
            }
            if x[7] < 0.5 {
                iron = iron.at(celsius(100.0 * x[8]), kilopascals(50.0 + 70.0 * x[9]));
            }
            if let Ok(share) = Share::new(x[10]) {
                iron = iron.dissolved(share);
            }
            let Ok(made) = iron.react() else { continue };
            for (what, v) in [
                ("iron", made.iron_ii.value),
                ("mol/L", made.iron_ii_concentration.value),
                ("acid", made.free_acid.value),
                ("metal", made.metal_left.value),
                ("hydrogen", made.hydrogen_volume.value),
                ("air", made.fresh_air.value),
                ("heat", made.heat.1.value),
                ("saturation", made.saturation.unwrap_or(0.0)),
                ("u", made.lot.strength_u().iron),
            ] {
                finite(what, v)?;
            }
            sane(&made.lot.composition(kilograms(1.0)).unwrap())?;
        }
    }

    #[test]
    fn recipes(rows in rows(), x in wilds(), kinds in kinds(), name in text(), y in wilds()) {
        let Some(recipe) = wild_recipe(&rows, &x, &kinds, &name) else { return Ok(()) };
        for recipe in [recipe.clone(), recipe.scaled(y[0])] {
            let Ok(made) = recipe.evaluate() else { continue };
            sane_evaluation(&made)?;
            let kit = Kit::new(grams(y[1]), milliliters(y[2]));
            let kit = kit.with(name.clone(), Measure::Spoon { volume: milliliters(y[3]) });
            if let Ok(r) = recipe.rounded(&kit) {
                finite("iron", r.iron_error)?;
                finite("ratio", r.ratio_error)?;
                finite("acid", r.acid_error.value)?;
                for line in r.lines {
                    finite("steps", line.steps)?;
                    finite("rounded", line.rounded.value)?;
                    finite("error", line.iron_error + line.ratio_error + line.acid_error.value)?;
                }
            }
            if let Ok(b) = smallest_batch(&recipe, &kit, 1.0 / y[4]) {
                finite("volume", b.volume.value)?;
                finite("factor", b.factor)?;
                for s in b.stocks {
                    finite("weigh", s.weigh.value)?;
                    finite("dissolve", s.dissolve_to.value)?;
                    finite("take", s.take.value)?;
                }
            }
            for r in [
                recipe.to_volume(milliliters(y[5])).ok(),
                recipe.limited_by(&name, grams(y[6])).ok().map(|b| b.recipe),
            ].into_iter().flatten() {
                if let Ok(e) = r.evaluate() {
                    sane_evaluation(&e)?;
                }
            }
            let bottles = BottlePlan::new(kinds[0].into(), milliliters(100.0 * y[7]));
            let bottles = bottles.ok().and_then(|b| b.filled(Share::new(y[8]).ok()?).ok());
            let bottles = bottles.and_then(|b| b.losing(Share::new(y[9]).ok()?).ok());
            if let Some(plan) = &bottles {
                finite("batch", plan.batch_volume().value)?;
                if let Ok(b) = recipe.bottling(plan) {
                    for c in [b.per_batch, b.per_liter, b.per_bottle].into_iter().flatten() {
                        finite("cost", c)?;
                    }
                }
                if let Ok(r) = recipe.for_bottles(plan) {
                    let _ = r.evaluate().is_ok();
                }
            }
            let storage = Storage {
                opened_every: kinds[1].is_multiple_of(2).then(|| days(y[10])),
                drawn_per_opening: milliliters(y[11]),
                kept_for: days(1e3 * x[0]),
                temperature: celsius(40.0 * x[1]),
                pressure: kilopascals(50.0 + 60.0 * x[2]),
                ..Storage::default()
            };
            let options = SheetOptions {
                kit: Some(kit),
                bottles,
                storage: Some(storage),
                substitute: None,
                currency: name.clone(),
            };
            if let Ok(sheet) = BatchSheet::new(&recipe, &options) {
                let page = sheet.to_string();
                let own = |w: &str| ["NaN", "inf", "-inf"].contains(&w);
                prop_assert!(name.split_whitespace().any(own) || !page.split_whitespace().any(own), "{page}");
            }
        }
    }

    #[test]
    fn formulations(row in rows(), x in wilds(), y in wilds(), name in text()) {
        let targets = Targets::new(milliliters(x[0]), moles_per_liter(x[1]), x[2]).ok();
        let plain = Targets::new(liters(1.0), moles_per_liter(0.05), 0.6).ok();
        let lots: Vec<Lot> = row.iter().filter_map(|r| wild_lot(*r, &y, &name).ok()).collect();
        let usual = |id: &str| Lot::of(id).unwrap().build().unwrap();
        let water = usual("distilled_water");
        for targets in [targets, plain].into_iter().flatten() {
            let mut t = targets;
            t = t.gum(grams_per_liter(x[3])).unwrap_or(t);
            t = t.strong_acid(moles_per_liter(x[4])).unwrap_or(t);
            t = t.dye(grams_per_liter(x[5])).unwrap_or(t);
            t = t.preservative(grams_per_liter(x[6])).unwrap_or(t);
            if let Ok(s) = Share::new(x[7]) {
                t = t.gallic_share(s);
            }
            for (k, lot) in lots.iter().enumerate() {
                let iron = if k % 2 == 0 { lot.clone() } else { usual("iron_ii_chloride_tetrahydrate") };
                let tannin = if k % 2 == 1 { lot.clone() } else { usual("chinese_galls") };
                let soak = Soak::default();
                let soak = soak.water_per_plant(x[8]).unwrap_or(soak);
                let soak = soak.yielding(x[9], x[10]).unwrap_or(soak);
                let soak = soak.holding_back(x[11]).unwrap_or(soak);
                let bare = Choice::new(&iron, &tannin, &water).soaked(soak);
                let full = bare.clone().gum(&usual("gum_arabic")).acid(lot)
                    .dye(&usual("soluble_blue")).preservative(&usual("phenol"))
                    .gallic_acid(&usual("gallic_acid_monohydrate"));
                let by_lot = Choice::new(&iron, &tannin, lot);
                for (choice, t) in [(&bare, targets), (&full, t), (&by_lot, targets)] {
                    if let Ok(made) = choice.formulate(&t) {
                        for (_, m) in &made.amounts {
                            finite("amount", m.value)?;
                        }
                        if let Ok(e) = made.recipe.evaluate() {
                            sane_evaluation(&e)?;
                        }
                    }
                }
            }
        }
        for a in &lots {
            for b in &lots {
                for equal in [Equal::IronII, Equal::Galloyl] {
                    let shares = (Estimate::new(x[0], x[3]), Estimate::new(x[1], x[4]));
                    let swap = Swap::new(a, b, equal);
                    let swap = match shares {
                        (Ok(p), Ok(q)) => swap.yielding(p, q),
                        _ => swap,
                    };
                    if let Ok(s) = swap.of(grams(x[2])) {
                        finite("mass", s.mass.value)?;
                        finite("factor", s.factor)?;
                        finite("u", s.factor_u)?;
                        finite("cost", s.cost.unwrap_or(0.0))?;
                        finite("acid", s.effects.strong_acid.value)?;
                    }
                }
            }
            let Ok(some) = a.composition(grams(x[3])) else { continue };
            if let Ok(t) = Targets::like(&some, milliliters(x[4]), x[5]) {
                finite("volume", t.volume().value)?;
            }
        }
    }

    #[test]
    fn substitutes(rows in rows(), x in wilds(), kinds in kinds(), other in 0..100_usize) {
        let Some(recipe) = wild_recipe(&rows, &x, &kinds, "lot") else { return Ok(()) };
        let Ok(to) = wild_lot(other, &x, "other") else { return Ok(()) };
        for equal in [Equal::IronII, Equal::Galloyl] {
            for name in ["lot", "other", ""] {
                let swapped = recipe.with_substitute(name, &to, equal);
                let Ok(r) = swapped else { continue };
                if let Ok(e) = r.evaluate() {
                    sane_evaluation(&e)?;
                }
            }
        }
    }

    #[test]
    fn published_inks(x in wild(), y in wild(), name in text()) {
        let _ = reference_ink(&name);
        for ink in reference_inks() {
            if let Ok(recipe) = ink.recipe(milliliters(x), y)
                && let Ok(e) = recipe.evaluate()
            {
                sane_evaluation(&e)?;
            }
            if let Ok(t) = ink.targets(milliliters(x), y) {
                finite("volume", t.volume().value)?;
            }
        }
    }

    #[test]
    fn columns(row in rows(), x in wilds(), y in wilds()) {
        let lots: Vec<Lot> = row.iter().filter_map(|r| wild_lot(*r, &y, "lot").ok()).collect();
        let refs: Vec<&Lot> = lots.iter().collect();
        let water = Lot::of("rain_water").unwrap().build().unwrap();
        for water in lots.iter().chain([&water]) {
            let Ok(plan) = ColumnPlan::new(&refs, water) else { continue };
            let (r, status) = plan.row(|k| x[k % 12], x[11]);
            if status == RowStatus::Ok {
                for v in [r.volume_ml, r.mass_g, r.make_up_g, r.iron_g_per_l, r.galloyl_mol_per_l,
                    r.strong_acid_mol_per_l, r.gum_g_per_l, r.dry_residue_g_per_l] {
                    finite("figure", v)?;
                }
                // Without a single price there is no cost.
                prop_assert!(r.cost.is_finite() || lots.iter().all(|l| l.price().is_none()));
                prop_assert!(!r.iron_per_galloyl.is_infinite());
            } else {
                prop_assert!(r.volume_ml.is_nan() && r.cost.is_nan());
            }
        }
    }

    #[test]
    fn chemistry(x in wilds(), name in text(), which in 0..12_usize) {
        if let Ok(m) = molar_mass(&name) {
            finite("molar mass", m.value)?;
        }
        if let Ok(f) = Formula::parse(&name) {
            finite("molar mass", f.molar_mass().value)?;
            finite("u", f.molar_mass_u().value)?;
            finite("share", f.mass_share("Fe"))?;
            finite("count", f.count(&name))?;
            let _ = (f.charge(), f.to_string(), f.iter().count());
        }
        let _ = (Element::from_symbol(&name), Solute::from_id(&name));
        let s = Solute::ALL[which];
        let scale = BaumeScale::ALL[which % 5];
        let (t, u) = (celsius(x[0]), celsius(x[1] * 50.0));
        for t in [t, u, celsius(20.0)] {
            if let Ok(d) = water_density(t) {
                finite("water", d.value)?;
            }
            if let Ok(w) = readable_up_to(s, t) {
                finite("readable", w.value())?;
            }
            if let Ok(w) = mass_fraction_from_density(s, grams_per_cubic_centimeter(x[2]), t) {
                finite("w", w.value())?;
            }
            if let Ok(w) = MassFraction::new(x[3]) {
                finite("density", density(s, w, t).map_or(0.0, |d| d.value))?;
                finite("density", formula_density(s, w, t).map_or(0.0, |d| d.value))?;
                finite("density", handbook_density(s, w).map_or(0.0, |d| d.value))?;
                finite("volume", apparent_specific_volume(s, w, t).map_or(0.0, |v| v.value))?;
            }
            for solution in [
                Dissolved::from_mass_percent(s, x[4], t),
                Dissolved::from_molarity(s, moles_per_liter(x[5]), t),
                Dissolved::from_density(s, grams_per_cubic_centimeter(x[6]), t),
                Dissolved::from_specific_gravity(s, x[7], t, u),
                Dissolved::from_baume(s, scale, x[8], t),
                Dissolved::from_twaddell(s, x[9], t),
            ].into_iter().flatten() {
                finite("density", solution.density().value)?;
                finite("molarity", solution.molarity().value)?;
                finite("g/L", solution.mass_concentration().value)?;
                finite("mass", solution.mass_of(milliliters(x[10])).map_or(0.0, |m| m.value))?;
                finite("volume", solution.volume_of(grams(x[11])).map_or(0.0, |m| m.value))?;
                finite("sg", solution.specific_gravity(u).map_or(0.0, |g| g.ratio()))?;
            }
            for reading in [
                SpecificGravity::new(x[2], t, u),
                SpecificGravity::from_density(grams_per_cubic_centimeter(x[3]), t, u),
                SpecificGravity::from_baume(scale, x[4], t),
                SpecificGravity::from_twaddell(x[5], t),
            ].into_iter().flatten() {
                finite("density", reading.density().value)?;
                finite("baume", reading.baume(scale).unwrap_or(0.0))?;
                finite("twaddell", reading.twaddell().unwrap_or(0.0))?;
                finite("against", reading.against(u).map_or(0.0, |r| r.ratio()))?;
            }
        }
    }

    /// Uncertainties set by hand: refused, or harmless.
    #[test]
    fn uncertainties_by_hand(iron in wild(), galloyl in wild()) {
        let lot = |id: &str| Lot::of(id).unwrap().build().unwrap();
        let u = StrengthU { iron, galloyl, ..StrengthU::default() };
        let Ok(vitriol) = lot("iron_ii_sulfate_heptahydrate").with_strength_u(u) else {
            prop_assert!([iron, galloyl].iter().any(|u| !(0.0..=1e9).contains(u)));
            return Ok(());
        };
        let dried = lot("iron_ii_sulfate_monohydrate");
        let recipe = Recipe::new("r").with(Solution::new("s").add(&vitriol, grams(1.0)));
        sane_evaluation(&recipe.evaluate().unwrap())?;
        let swap = Swap::new(&vitriol, &dried, Equal::IronII).of(grams(1.0)).unwrap();
        finite("u", swap.factor_u)?;
    }

    /// Tools with any step, also those a recipe has no use for.
    #[test]
    fn kits(step in wild(), mark in wild(), steps in wild()) {
        let vitriol = Lot::of("iron_ii_sulfate_heptahydrate").unwrap().build().unwrap();
        let recipe = Recipe::new("dry").with(Solution::new("s").add(&vitriol, grams(1.0)));
        for (step, mark, steps) in [(step, mark, steps), (0.1, mark, 20.0), (step, 1.0, 20.0), (0.1, 1.0, steps)] {
            let kit = Kit::new(grams(step), milliliters(mark));
            if let Ok(b) = smallest_batch(&recipe, &kit, steps) {
                finite("factor", b.factor)?;
                for s in b.stocks {
                    for v in [s.weigh.value, s.dissolve_to.value, s.take.value] {
                        prop_assert!(v.is_finite() && v > 0.0, "{s:?}");
                    }
                }
            }
            if let Ok(r) = recipe.rounded(&kit) {
                finite("error", r.iron_error)?;
            }
        }
    }

    /// A price takes any mass.
    #[test]
    fn prices(x in wild(), per_kg in 0.0..1e9_f64) {
        if let Ok(cost) = Price::per_kilogram(per_kg).unwrap().of(grams(x)) {
            finite("price", cost)?;
        }
    }

    /// Scaled again and again.
    #[test]
    fn compositions_scaled_without_end(x in prop_oneof![wild(), 1.0..1e12_f64], times in 1..40_usize) {
        let mut c = Lot::of("iron_ii_sulfate_heptahydrate").unwrap().build().unwrap().composition(kilograms(1.0)).unwrap();
        for _ in 0..times {
            let Ok(more) = c.scaled(x) else { break };
            c = more.mixed_with(&c);
        }
        sane(&c)?;
    }
}
