//! What can I make from my shelf?
//!
//! A lettering studio has a dozen bags and bottles, some nearly empty, and
//! wants a plain blue-black ink: at least money, with as little weighing as
//! can be, so that iron surely stays bound, and 30 mL of it on a kitchen
//! balance. Names, stocks and prices are made up.
//!
//! ```sh
//! cargo run --example shelf
//! ```

use ferrogall::bench::Lot;
use ferrogall::composition::criteria;
use ferrogall::formulate::{Objective, Shelf, Stock, Wanted};
use ferrogall::quantity::*;
use ferrogall::recipe::{Kit, Recipe, Solution, smallest_batch};
use ferrogall::standards::standard;
use ferrogall::uncertainty::{MonteCarlo, Study};
use std::error::Error;

type Result<T> = std::result::Result<T, Box<dyn Error>>;

/// A lot with its price for a pack.
fn lot(id: &str, name: &str, money: f64, pack_g: f64) -> Result<Lot> {
    let price = Price::of_pack(money, grams(pack_g))?;
    Ok(Lot::of(id)?.named(name).price(price).build()?)
}

/// So much of it is left.
fn left(lot: &Lot, g: f64) -> Result<Stock> {
    Ok(Stock::of(lot).on_hand(grams(g))?)
}

fn cupboard(water: &Lot) -> Result<Shelf> {
    let dried = Lot::of("iron_ii_sulfate_monohydrate")?
        .named("dried vitriol, garden grade")
        .purity(0.91, 0.02)?
        .price(Price::of_pack(6.0, grams(1000.0))?)
        .build()?;
    let galls = Lot::of("aleppo_galls")?
        .named("Aleppo galls, crushed")
        .tannin(0.55, 0.06)?
        .price(Price::of_pack(7.0, grams(250.0))?)
        .build()?;
    let tannic = lot("tannic_acid", "tannic acid", 26.0, 250.0)?;
    let muriatic = Lot::of("hydrochloric_acid")?
        .named("hydrochloric acid 10 %")
        .purity(0.10, 0.002)?
        .price(Price::of_pack(5.0, grams(1000.0))?)
        .build()?;
    let gallic = lot("gallic_acid_monohydrate", "gallic acid", 19.0, 100.0)?;
    Ok(Shelf::new(water)
        .with(left(
            &lot("iron_ii_sulfate_heptahydrate", "green vitriol", 11.0, 500.0)?,
            40.0,
        )?)
        .with(left(&dried, 3.0)?)
        .with(left(
            &lot(
                "iron_ii_chloride_tetrahydrate",
                "iron chloride",
                18.0,
                100.0,
            )?,
            25.0,
        )?)
        .with(left(&tannic, 30.0)?)
        .with(left(&galls, 120.0)?)
        .with(left(&gallic, 6.0)?)
        .with(left(&lot("gum_arabic", "gum arabic", 12.0, 250.0)?, 80.0)?)
        .with(left(&muriatic, 400.0)?)
        .with(left(
            &lot("tartaric_acid", "tartaric acid", 8.0, 250.0)?,
            60.0,
        )?)
        .with(left(
            &lot("soluble_blue", "soluble blue", 16.0, 25.0)?,
            9.0,
        )?)
        .with(left(&lot("phenol", "phenol", 21.0, 100.0)?, 20.0)?)
        .with(left(
            &lot("salicylic_acid", "salicylic acid", 9.0, 100.0)?,
            50.0,
        )?))
}

fn studio_ink(volume: Volume) -> Result<Wanted> {
    Ok(Wanted::new(volume)?
        .iron(grams_per_liter(3.0)..=grams_per_liter(4.0))?
        .iron_ii_per_galloyl(0.55..=0.62)?
        .gallic_share(0.15..=0.4)?
        .gum(grams_per_liter(8.0)..=grams_per_liter(12.0))?
        .dye(grams_per_liter(3.0)..)?
        .preservative(grams_per_liter(0.8)..=grams_per_liter(1.2))?
        .ph(1.9..=2.3)?)
}

fn main() -> Result<()> {
    let water = Lot::of("distilled_water")?.build()?;
    let shelf = cupboard(&water)?;
    let wanted = studio_ink(milliliters(500.0))?;

    println!(
        "AS CHEAP AS CAN BE\n{}",
        shelf.make(&wanted, Objective::LeastCost)?
    );
    println!(
        "AS LITTLE WEIGHING AS CAN BE\n{}",
        shelf.make(&wanted, Objective::FewestWeighings)?
    );
    println!(
        "NOTHING THROWN AWAY\n{}",
        shelf.make(&wanted, Objective::LeastWaste)?
    );

    // More room in the proportion: how much iron does the tannin surely hold?
    let criterion = criteria().iter().find(|c| c.id == "one_iron_per_galloyl");
    let criterion = criterion.ok_or("no such criterion")?;
    let roomy = wanted.iron_ii_per_galloyl(0.7..=1.0)?;
    let plan = MonteCarlo::fixed(1, 10_000)?;
    println!("SUREST TO BIND ALL IRON ({})", criterion.name);
    let surest = shelf.make(&roomy, Objective::Surest(*criterion))?;
    print!("{surest}");
    let cheapest = shelf.make(&roomy, Objective::LeastCost)?;
    for (name, made) in [("cheapest", &cheapest), ("surest", &surest)] {
        let chance = Study::of(&made.recipe)?.excess_iron(criterion, &plan)?;
        let percent = 100.0 * chance.probability;
        println!("  the {name}: iron in excess in {percent:.1} % of drawn inks");
    }
    let sure_enough = roomy.sure_of(criterion, 0.95)?;
    let made = shelf.make(&sure_enough, Objective::LeastCost)?;
    println!("\nCHEAPEST THAT IS 95 % SURE OF IT\n{made}");

    println!("TO THE GERMAN CLASS I OF 1888/1912, SO FAR AS ITS NUMBERS ARE KNOWN");
    let class_one = standard("de_document_class_i").ok_or("no such standard")?;
    let archival = Wanted::new(milliliters(500.0))?
        .iron_ii_per_galloyl(0.55..=0.65)?
        .gallic_share(0.25..=0.35)?
        .keeping(class_one)?;
    let made = shelf.make(&archival, Objective::LeastCost)?;
    let ink = made.recipe.evaluate()?.composition;
    println!("{made}\n{}", class_one.compare(&ink));
    println!(
        "\nTHE MOST THERE IS IN THE CUPBOARD\n{}",
        shelf.most(&wanted)?
    );

    let rough = Kit::new(grams(0.1), milliliters(0.2));
    let small = studio_ink(milliliters(30.0))?;
    let on_the_balance = shelf.clone().measured_with(&rough);
    let rounded = on_the_balance.make(&small, Objective::Closest)?;
    println!("30 mL ON A 0.1 g BALANCE\n{rounded}");
    if rounded.figure("preservative").is_some_and(|f| !f.is_met()) {
        println!(
            "  (a tenth of a gram would be far too much of it: without, use the ink within days)"
        );
    }
    let exact = shelf.make(&small, Objective::LeastCost)?;
    let smallest = smallest_batch(&exact.recipe, &rough, 20.0)?;
    println!(
        "  {} is weighed in too few steps: {:.0} mL is the smallest batch of that recipe.",
        smallest.limited_by,
        smallest.volume.in_milliliters()
    );

    let about = small.in_volume(milliliters(100.0)..=milliliters(200.0))?;
    println!(
        "\nWHATEVER VOLUME FROM 100 TO 200 mL SUITS THE BALANCE\n{}",
        on_the_balance.make(&about, Objective::Closest)?
    );

    println!("30 mL FROM STOCK SOLUTIONS, BY THE SYRINGE");
    let stock = |name: &str, parts: &[(&str, f64)]| -> Result<Lot> {
        let mut pot = Solution::new(name);
        for (part, g) in parts {
            let bag = shelf.stocks().iter().find(|s| s.lot().name() == *part);
            pot = pot.add(bag.ok_or("no such bag")?.lot(), grams(*g));
        }
        let recipe = Recipe::new(name)
            .with(pot)
            .make_up(&water, milliliters(200.0));
        Ok(recipe.evaluate()?.to_lot(name)?)
    };
    let iron = stock(
        "iron stock",
        &[("green vitriol", 20.0), ("hydrochloric acid 10 %", 12.0)],
    )?;
    let tannin = stock(
        "tannin stock",
        &[("tannic acid", 14.0), ("gallic acid", 2.0)],
    )?;
    let gum = stock("gum stock", &[("gum arabic", 20.0)])?;
    let from_stocks = Wanted::new(milliliters(30.0))?
        .iron(grams_per_liter(3.5))?
        .iron_ii_per_galloyl(0.6)?
        .gum(grams_per_liter(10.0))?;
    let stocks = Shelf::new(&water).with(&iron).with(&tannin).with(&gum);
    print!("{}", stocks.mix(&from_stocks)?.blend);
    Ok(())
}
