//! What examples/c/bits.c prints, reckoned in Rust.

use ferrogall::bench::Lot;
use ferrogall::composition::Component;
use ferrogall::equilibrium::{ConstantSet, Solver};
use ferrogall::oxidation::Bottle;
use ferrogall::quantity::*;
use ferrogall::recipe::{ColumnPlan, Recipe, Solution};

struct Random(u64);

impl Random {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((self.0 >> 11) as f64 / 9_007_199_254_740_992.0)
    }
}

pub fn lines() -> Vec<String> {
    let lot = |id| Lot::of(id).unwrap().build().unwrap();
    let vitriol = lot("iron_ii_sulfate_heptahydrate");
    let tannin = Lot::of("tannic_acid").unwrap();
    let tannin = tannin.tannin(0.88, 0.02).unwrap().build().unwrap();
    let gum = lot("gum_arabic");
    let water = lot("hard_tap_water");
    let plan = ColumnPlan::new(&[&vitriol, &tannin, &gum], &water).unwrap();
    let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0)).unwrap();
    let mut random = Random(1);
    (0..1000)
        .map(|i| {
            let mass_g = [
                random.between(1.0, 40.0),
                random.between(1.0, 40.0),
                random.between(0.0, 20.0),
            ];
            let volume_ml = random.between(300.0, 1500.0);
            let fill_ml = random.between(10.0, 50.0);
            let ink = Solution::new("ink")
                .add(&vitriol, grams(mass_g[0]))
                .add(&tannin, grams(mass_g[1]))
                .add(&gum, grams(mass_g[2]));
            let recipe = Recipe::new("random")
                .with(ink)
                .make_up(&water, milliliters(volume_ml));
            let made = recipe.evaluate().unwrap();
            let c = &made.composition;
            let ratio = made.iron_per_galloyl().unwrap();
            let iron_ii = c.molarity(Component::IronII).in_moles_per_liter();
            let bottle = Bottle::builder(
                milliliters(50.0),
                milliliters(fill_ml),
                moles_per_liter(iron_ii),
            );
            let bound = bottle.build().unwrap().bound();
            let (row, _) = plan.row(|k| mass_g[k], volume_ml);
            let (acid, _) = plan.equilibrium_row(&mut solver, |k| mass_g[k], volume_ml);
            let figures = [
                c.volume().in_milliliters(),
                c.mass().in_grams(),
                iron_ii,
                c.concentration(c.galloyl()).in_moles_per_liter(),
                ratio.low,
                ratio.high,
                c.concentration(c.strong_acid()).in_moles_per_liter(),
                bound.share_after_filling.value(),
                solver.ph_of(c).unwrap(),
                row.make_up_g,
                row.dry_residue_g_per_l,
                acid.ph,
            ];
            let bits = figures.map(|x| format!(" {:016x}", x.to_bits()));
            format!("{i}{}", bits.concat())
        })
        .collect()
}
