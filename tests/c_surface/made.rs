//! Inks from a cupboard, through the C surface: what Rust says, to the last bit.

use super::forecasts::bits;
use super::room::*;
use super::twin::{SCOOP, c_kit, kit};
use core::ffi::CStr;
use core::ptr::{null, null_mut};
use ferrogall::bench::Lot;
use ferrogall::capi::*;
use ferrogall::composition::{Criterion, criteria};
use ferrogall::formulate::*;
use ferrogall::quantity::*;
use ferrogall::recipe::{Kit, Recipe, Solution};

pub const ONE: &CStr = c"one_iron_per_galloyl";

/// A bag: material, name, price a kilogram, purity, what is left, pack.
type Bag = (
    &'static CStr,
    &'static CStr,
    Option<f64>,
    Option<f64>,
    Option<f64>,
    Option<f64>,
);

/// Some nearly empty, some sold in packs, some without a price or an end.
const BAGS: [Bag; 9] = [
    (
        c"iron_ii_sulfate_heptahydrate",
        c"vitriol",
        Some(22.0),
        None,
        Some(4.0),
        Some(500.0),
    ),
    (
        c"iron_ii_sulfate_monohydrate",
        c"dried vitriol",
        Some(6.0),
        Some(0.91),
        Some(500.0),
        None,
    ),
    (
        c"tannic_acid",
        c"tannic acid",
        Some(104.0),
        None,
        Some(30.0),
        None,
    ),
    (
        c"aleppo_galls",
        c"galls",
        Some(56.0),
        None,
        Some(120.0),
        None,
    ),
    (
        c"gallic_acid_monohydrate",
        c"gallic acid",
        Some(190.0),
        None,
        None,
        Some(25.0),
    ),
    (c"gum_arabic", c"gum", None, None, None, None),
    (
        c"hydrochloric_acid",
        c"weak acid",
        Some(5.0),
        Some(0.1),
        Some(400.0),
        None,
    ),
    (c"soluble_blue", c"blue", Some(640.0), None, Some(9.0), None),
    (c"phenol", c"phenol", Some(210.0), None, Some(20.0), None),
];

fn words_of(text: &CStr) -> &str {
    text.to_str().unwrap()
}

/// The bags on a shelf in C; the water comes after them.
pub struct Bags {
    pub shelf: *mut FgallShelf,
    pub stores: Vec<FgallStore>,
    pub water: usize,
}

impl Bags {
    pub fn new() -> Bags {
        let (mut shelf, mut lot) = (null_mut(), 0);
        let mut stores = Vec::new();
        // SAFETY: locals, and a live handle.
        unsafe {
            assert_eq!(fgall_shelf_new(&mut shelf, null_mut()), FGALL_OK);
            for (material, name, price, purity, on_hand, pack) in BAGS {
                let mut bag = spec(material, name);
                if let Some(price) = price {
                    (bag.set, bag.price_per_kg) = (FGALL_LOT_PRICE, price);
                }
                if let Some(purity) = purity {
                    (bag.purity, bag.purity_u) = (purity, 0.01);
                    bag.set |= FGALL_LOT_PURITY;
                }
                let added = fgall_shelf_add_lot(shelf, &bag, &mut lot, null_mut());
                assert_eq!(added, FGALL_OK);
                let bit = |given: Option<f64>, bit| given.map_or(0, |_| bit);
                stores.push(FgallStore {
                    lot,
                    set: bit(on_hand, FGALL_STORE_ON_HAND) | bit(pack, FGALL_STORE_PACK),
                    on_hand_g: on_hand.unwrap_or(f64::NAN),
                    pack_g: pack.unwrap_or(f64::NAN),
                });
            }
            let water = spec(c"distilled_water", c"water");
            let added = fgall_shelf_add_lot(shelf, &water, &mut lot, null_mut());
            assert_eq!(added, FGALL_OK);
        }
        Bags {
            shelf,
            stores,
            water: lot,
        }
    }

    pub fn cupboard(&self) -> FgallCupboard {
        FgallCupboard {
            water_lot: self.water,
            stores: self.stores.as_ptr(),
            store_count: self.stores.len(),
            ..init()
        }
    }
}

impl Drop for Bags {
    fn drop(&mut self) {
        // SAFETY: made in `new`, freed here only.
        unsafe { fgall_shelf_free(self.shelf) };
    }
}

fn water_here() -> Lot {
    let water = Lot::of("distilled_water").unwrap().named("water");
    water.build().unwrap()
}

/// The same shelf in Rust.
pub fn here() -> Shelf {
    let mut shelf = Shelf::new(&water_here());
    for (material, name, price, purity, on_hand, pack) in BAGS {
        let mut lot = Lot::of(words_of(material)).unwrap().named(words_of(name));
        if let Some(price) = price {
            lot = lot.price(Price::per_kilogram(price).unwrap());
        }
        if let Some(purity) = purity {
            lot = lot.purity(purity, 0.01).unwrap();
        }
        let mut stock = Stock::of(&lot.build().unwrap());
        if let Some(g) = on_hand {
            stock = stock.on_hand(grams(g)).unwrap();
        }
        if let Some(g) = pack {
            stock = stock.sold_by(grams(g)).unwrap();
        }
        shelf = shelf.with(stock);
    }
    shelf
}

pub fn between(low: f64, high: f64) -> FgallWindow {
    FgallWindow { low, high }
}

/// A plain blue-black ink.
pub fn asked() -> FgallWanted {
    FgallWanted {
        volume_ml: 500.0,
        set: FGALL_WANTED_IRON
            | FGALL_WANTED_IRON_II_PER_GALLOYL
            | FGALL_WANTED_GALLIC_SHARE
            | FGALL_WANTED_GUM
            | FGALL_WANTED_DYE
            | FGALL_WANTED_PH,
        iron_g_per_l: between(3.0, 4.0),
        iron_ii_per_galloyl: between(0.55, 0.62),
        gallic_share: between(0.15, 0.4),
        gum_g_per_l: between(8.0, 12.0),
        dye_g_per_l: between(3.0, f64::NAN),
        ph: between(f64::NAN, 2.0),
        ..init()
    }
}

pub fn asked_here() -> Wanted {
    let wanted = Wanted::new(milliliters(500.0)).unwrap();
    wanted
        .iron(grams_per_liter(3.0)..=grams_per_liter(4.0))
        .and_then(|w| w.iron_ii_per_galloyl(0.55..=0.62))
        .and_then(|w| w.gallic_share(0.15..=0.4))
        .and_then(|w| w.gum(grams_per_liter(8.0)..=grams_per_liter(12.0)))
        .and_then(|w| w.dye(grams_per_liter(3.0)..))
        .and_then(|w| w.ph(..=2.0))
        .unwrap()
}

pub fn one() -> Criterion {
    let found = criteria().iter().find(|c| c.id == words_of(ONE));
    *found.unwrap()
}

pub fn objectives() -> [(u32, Objective); 5] {
    [
        (FGALL_OBJECTIVE_LEAST_COST, Objective::LeastCost),
        (FGALL_OBJECTIVE_CLOSEST, Objective::Closest),
        (FGALL_OBJECTIVE_FEWEST_WEIGHINGS, Objective::FewestWeighings),
        (FGALL_OBJECTIVE_LEAST_WASTE, Objective::LeastWaste),
        (FGALL_OBJECTIVE_SUREST, Objective::Surest(one())),
    ]
}

/// A blend in C, freed at the end.
pub struct Made(pub *mut FgallBlend);

impl Drop for Made {
    fn drop(&mut self) {
        // SAFETY: from a _new function, freed here only.
        unsafe { fgall_blend_free(self.0) };
    }
}

pub fn made(bags: &Bags, there: &FgallCupboard, wanted: &FgallWanted, objective: u32) -> Made {
    let mut blend = null_mut();
    let mut error: FgallError = init();
    let criterion = ONE.as_ptr();
    // SAFETY: a live handle and locals.
    let status = unsafe {
        fgall_shelf_make_new(
            bags.shelf, there, wanted, objective, criterion, &mut blend, &mut error,
        )
    };
    assert_eq!(status, FGALL_OK, "{}", words(&error.message));
    Made(blend)
}

/// An infinite end is NaN over there.
fn ends(c: f64, rust: f64) {
    if rust.is_infinite() {
        assert!(c.is_nan());
    } else {
        bits(c, rust);
    }
}

fn maybe(c: f64, rust: Option<f64>) {
    match rust {
        Some(rust) => bits(c, rust),
        None => assert!(c.is_nan()),
    }
}

fn name_of(bags: &Bags, lot: usize) -> String {
    // SAFETY: as `said` promises; a live handle.
    said(|b, c, n| unsafe { fgall_shelf_lot_name(bags.shelf, lot, b, c, n, null_mut()) })
}

pub fn same(bags: &Bags, c: &Made, rust: &Blend, page: &str) {
    let mut all: FgallBlendSummary = init();
    // SAFETY: live handles and locals.
    let told = unsafe { fgall_blend_summary(c.0, &mut all, null_mut()) };
    assert_eq!(told, FGALL_OK);
    bits(all.volume_ml, rust.volume.in_milliliters());
    assert_eq!(all.weighings, rust.weighings);
    assert_eq!(all.meets_all != 0, rust.meets_all());
    maybe(all.cost, rust.cost);
    bits(all.waste_g, rust.waste.in_grams());

    // SAFETY: as `listed` promises.
    let taken = listed(|a, c_, n| unsafe { fgall_blend_taken(c.0, a, c_, n, null_mut()) });
    assert_eq!(taken.len(), rust.taken.len());
    for (c, rust) in taken.iter().zip(&rust.taken) {
        assert_eq!(
            (words(&c.name), name_of(bags, c.lot)),
            (rust.lot.clone(), rust.lot.clone())
        );
        bits(c.mass_g, rust.mass.in_grams());
        maybe(c.volume_ml, rust.volume.map(|v| v.in_milliliters()));
        maybe(c.steps, rust.steps);
        maybe(c.left_g, rust.left.map(|m| m.in_grams()));
        bits(c.packs, rust.packs);
        maybe(c.cost, rust.cost);
    }
    // SAFETY: as `listed` promises.
    let figures = listed(|a, c_, n| unsafe { fgall_blend_figures(c.0, a, c_, n, null_mut()) });
    assert_eq!(figures.len(), rust.figures.len());
    for (c, rust) in figures.iter().zip(&rust.figures) {
        assert_eq!(
            (words(&c.name), words(&c.unit)),
            (rust.name.into(), rust.unit.into())
        );
        assert_eq!(c.is_met != 0, rust.is_met());
        ends(c.low, rust.low);
        ends(c.high, rust.high);
        maybe(c.reached, rust.reached);
        bits(c.miss, rust.miss);
    }
    // SAFETY: as `listed` promises.
    let gone = listed(|a, c_, n| unsafe { fgall_blend_used_up(c.0, a, c_, n, null_mut()) });
    let gone: Vec<_> = gone.iter().map(|lot| name_of(bags, *lot)).collect();
    assert_eq!(gone, rust.used_up);
    // SAFETY: as `said` promises.
    let text = said(|b, c_, n| unsafe { fgall_blend_text(c.0, b, c_, n, null_mut()) });
    assert_eq!(text, page);

    let (mut recipe, mut ink) = (null_mut(), init::<FgallComposition>());
    // SAFETY: live handles and locals.
    unsafe {
        assert_eq!(
            fgall_blend_recipe_new(c.0, &mut recipe, null_mut()),
            FGALL_OK
        );
        assert_eq!(
            fgall_recipe_evaluate(recipe, &mut ink, null_mut()),
            FGALL_OK
        );
        fgall_recipe_free(recipe);
    }
    let rust = rust.recipe.evaluate().unwrap();
    let c = rust.composition;
    bits(ink.mass_g, c.mass().in_grams());
    bits(
        ink.strong_acid_mol_per_l,
        c.concentration(c.strong_acid()).in_moles_per_liter(),
    );
    bits(
        ink.galloyl_mol_per_l,
        c.concentration(c.galloyl()).in_moles_per_liter(),
    );
}

#[test]
fn every_objective_gives_what_rust_gives() {
    let (bags, shelf) = (Bags::new(), here());
    let mut costs = Vec::new();
    for (code, objective) in objectives() {
        let c = made(&bags, &bags.cupboard(), &asked(), code);
        let rust = shelf.make(&asked_here(), objective).unwrap();
        same(&bags, &c, &rust, &rust.to_string());
        costs.push(rust.cost.unwrap());
        // SAFETY: as `listed` promises.
        let more: Vec<FgallMore> =
            listed(|a, c_, n| unsafe { fgall_blend_more(c.0, a, c_, n, null_mut()) });
        assert!(more.is_empty());
    }
    // They are not all one ink: the test tells them apart.
    assert!(costs.iter().all(|c| *c >= costs[0] * (1.0 - 1e-9)));
    assert!(costs.iter().any(|c| *c > costs[0] * 1.01), "{costs:?}");
}

/// Every window there is, with numbers that leave a trace in the last bits.
#[test]
fn every_window_arrives_where_it_belongs() {
    let bags = Bags::new();
    let wanted = FgallWanted {
        volume_ml: 333.3,
        most_volume_ml: 444.4,
        set: (1 << 14) - 1 + FGALL_WANTED_MOST_VOLUME,
        iron_ii_mol_per_l: between(0.0123, f64::NAN),
        iron_g_per_l: between(f64::NAN, 4.7),
        galloyl_mol_per_l: between(0.0171, 0.31),
        gallic_acid_mol_per_l: between(0.0013, 0.17),
        tannic_and_gallic_g_per_l: between(0.7, 31.7),
        iron_ii_per_galloyl: between(0.07, 1.3),
        gallic_share: between(0.013, 0.93),
        strong_acid_mol_per_l: between(-0.77, 0.37),
        ph: between(1.1, 6.7),
        gum_g_per_l: between(1.9, 1.9),
        dye_g_per_l: between(0.3, 7.1),
        preservative_g_per_l: between(0.11, 1.3),
        most_cost: 77.7,
        criterion: ONE.as_ptr(),
        assurance: 0.77,
        ..init()
    };
    let mol = moles_per_liter;
    let g = grams_per_liter;
    let rust = Wanted::new(milliliters(333.3)..=milliliters(444.4))
        .and_then(|w| w.iron_ii(mol(0.0123)..))
        .and_then(|w| w.iron(..=g(4.7)))
        .and_then(|w| w.galloyl(mol(0.0171)..=mol(0.31)))
        .and_then(|w| w.gallic_acid(mol(0.0013)..=mol(0.17)))
        .and_then(|w| w.tannic_and_gallic(g(0.7)..=g(31.7)))
        .and_then(|w| w.iron_ii_per_galloyl(0.07..=1.3))
        .and_then(|w| w.gallic_share(0.013..=0.93))
        .and_then(|w| w.strong_acid(mol(-0.77)..=mol(0.37)))
        .and_then(|w| w.ph(1.1..=6.7))
        .and_then(|w| w.gum(g(1.9)))
        .and_then(|w| w.dye(g(0.3)..=g(7.1)))
        .and_then(|w| w.preservative(g(0.11)..=g(1.3)))
        .and_then(|w| w.costing_at_most(77.7))
        .and_then(|w| w.sure_of(&one(), 0.77))
        .unwrap();
    let c = made(&bags, &bags.cupboard(), &wanted, FGALL_OBJECTIVE_LEAST_COST);
    let rust = here().make(&rust, Objective::LeastCost).unwrap();
    same(&bags, &c, &rust, &rust.to_string());
    // SAFETY: as `listed` promises.
    let figures = listed(|a, c_, n| unsafe { fgall_blend_figures(c.0, a, c_, n, null_mut()) });
    let figures: Vec<FgallFigure> = figures;
    let seen: Vec<u32> = figures.iter().map(|f| f.wanted).collect();
    assert_eq!(seen, (0..14).map(|bit| 1 << bit).collect::<Vec<_>>());
}

#[test]
fn tools_and_soaks_are_kept_to() {
    let (bags, shelf) = (Bags::new(), here());
    let soak = FgallSoak {
        set: FGALL_SOAK_YIELD | FGALL_SOAK_HOLD_UP | FGALL_SOAK_WATER,
        yield_share: 0.7,
        yield_u: 0.05,
        hold_up_g_per_g: 1.1,
        water_g_per_g: 6.0,
        ..init()
    };
    let tools = [SCOOP];
    let coarse = FgallKit {
        balance_step_g: 0.1,
        cylinder_step_ml: 0.5,
        ..c_kit(&tools)
    };
    let there = FgallCupboard {
        soak: &soak,
        kit: &coarse,
        ..bags.cupboard()
    };
    let soaked = Soak::default()
        .yielding(0.7, 0.05)
        .and_then(|s| s.holding_back(1.1))
        .and_then(|s| s.water_per_plant(6.0))
        .unwrap();
    let finer = ferrogall::recipe::Measure::Balance { step: grams(0.7) };
    let tools = Kit::new(grams(0.1), milliliters(0.5)).with("vitriol", finer);
    let shelf = shelf.soaked(soaked).measured_with(&tools);
    for (code, objective) in objectives() {
        if code == FGALL_OBJECTIVE_SUREST {
            continue; // slow: every whole step searched
        }
        let c = made(&bags, &there, &asked(), code);
        let rust = shelf.make(&asked_here(), objective).unwrap();
        assert!(
            rust.taken
                .iter()
                .all(|t| t.steps.is_some_and(|s| s.fract() == 0.0))
        );
        same(&bags, &c, &rust, &rust.to_string());
    }
    // The kit of the other tests, as a check of the twins.
    assert_ne!(kit(), tools);
}

#[test]
fn the_most_and_what_more_would_give_are_those_of_rust() {
    let (bags, shelf) = (Bags::new(), here());
    let mut blend = null_mut();
    // All the gallic acid would have to be bought.
    let wanted = FgallWanted {
        gallic_share: between(0.0, 0.4),
        ..asked()
    };
    // SAFETY: a live handle and locals.
    let status = unsafe {
        fgall_shelf_most_new(
            bags.shelf,
            &bags.cupboard(),
            &wanted,
            &mut blend,
            null_mut(),
        )
    };
    assert_eq!(status, FGALL_OK);
    let c = Made(blend);
    let rust = shelf
        .most(&asked_here().gallic_share(0.0..=0.4).unwrap())
        .unwrap();
    same(&bags, &c, &rust.blend, &rust.to_string());
    // SAFETY: as `listed` promises.
    let more = listed(|a, c_, n| unsafe { fgall_blend_more(c.0, a, c_, n, null_mut()) });
    assert_eq!(more.len(), rust.more.len());
    assert!(!more.is_empty());
    for (c, rust) in more.iter().zip(&rust.more) {
        assert_eq!(
            (words(&c.name), name_of(&bags, c.lot)),
            (rust.lot.clone(), rust.lot.clone())
        );
        bits(c.mass_g, rust.mass.in_grams());
        maybe(c.cost, rust.cost);
        ends(c.volume_ml, rust.volume.in_milliliters());
    }
}

#[test]
fn stocks_go_on_the_shelf_and_are_poured_together() {
    let bags = Bags::new();
    let shelf = here();
    let bag = |name: &str| {
        let stocks = shelf.stocks().iter();
        stocks
            .map(Stock::lot)
            .find(|l| l.name() == name)
            .unwrap()
            .clone()
    };
    let recipes: [(&CStr, &[(usize, f64)]); 3] = [
        (c"iron stock", &[(0, 20.0), (6, 12.0)]),
        (c"tannin stock", &[(2, 14.0), (4, 2.0)]),
        (c"gum stock", &[(5, 20.0)]),
    ];
    let (mut stores, mut rust) = (Vec::new(), Shelf::new(&water_here()));
    for (name, parts) in recipes {
        let (mut recipe, mut lot) = (null_mut(), 0);
        let mut pot = Solution::new(words_of(name));
        let (shelf, e) = (bags.shelf, null_mut);
        // SAFETY: live handles and locals.
        unsafe {
            assert_eq!(fgall_recipe_new(name.as_ptr(), &mut recipe, e()), FGALL_OK);
            assert_eq!(
                fgall_recipe_begin_solution(recipe, name.as_ptr(), e()),
                FGALL_OK
            );
            for (lot, g) in parts {
                assert_eq!(
                    fgall_recipe_add_mass(recipe, shelf, *lot, *g, e()),
                    FGALL_OK
                );
                pot = pot.add(&bag(words_of(BAGS[*lot].1)), grams(*g));
            }
            let made_up = fgall_recipe_make_up(recipe, shelf, bags.water, 200.0, e());
            assert_eq!(made_up, FGALL_OK);
            let added = fgall_shelf_add_recipe(shelf, recipe, name.as_ptr(), &mut lot, e());
            assert_eq!(added, FGALL_OK);
            fgall_recipe_free(recipe);
        }
        stores.push(FgallStore {
            lot,
            set: 0,
            on_hand_g: f64::NAN,
            pack_g: f64::NAN,
        });
        let recipe = Recipe::new(words_of(name)).with(pot);
        let recipe = recipe.make_up(&water_here(), milliliters(200.0));
        rust = rust.with(&recipe.evaluate().unwrap().to_lot(words_of(name)).unwrap());
    }
    let there = FgallCupboard {
        stores: stores.as_ptr(),
        store_count: stores.len(),
        ..bags.cupboard()
    };
    let wanted = FgallWanted {
        volume_ml: 30.0,
        set: FGALL_WANTED_IRON | FGALL_WANTED_IRON_II_PER_GALLOYL | FGALL_WANTED_GUM,
        iron_g_per_l: between(3.5, 3.5),
        iron_ii_per_galloyl: between(0.6, 0.6),
        gum_g_per_l: between(10.0, 10.0),
        ..init()
    };
    let mut blend = null_mut();
    // SAFETY: a live handle and locals.
    let status =
        unsafe { fgall_shelf_mix_new(bags.shelf, &there, &wanted, &mut blend, null_mut()) };
    assert_eq!(status, FGALL_OK);
    let c = Made(blend);
    let wanted = Wanted::new(milliliters(30.0))
        .and_then(|w| w.iron(grams_per_liter(3.5)))
        .and_then(|w| w.iron_ii_per_galloyl(0.6))
        .and_then(|w| w.gum(grams_per_liter(10.0)))
        .unwrap();
    let mixed = rust.mix(&wanted).unwrap();
    same(&bags, &c, &mixed.blend, &mixed.blend.to_string());
    let mut all: FgallBlendSummary = init();
    // SAFETY: a live handle and a local.
    let told = unsafe { fgall_blend_summary(c.0, &mut all, null_mut()) };
    assert_eq!(told, FGALL_OK);
    bits(all.residual, mixed.residual);
}

#[test]
fn a_blend_outlives_its_shelf_and_a_shelf_can_be_read_by_many() {
    struct Shared(*const FgallShelf);
    // SAFETY: the header allows reading one handle from many threads.
    unsafe impl Sync for Shared {}
    let mut bags = Bags::new();
    let rust = here().make(&asked_here(), Objective::LeastCost).unwrap();
    let shared = Shared(bags.shelf);
    std::thread::scope(|scope| {
        for _ in 0..3 {
            let (shared, bags) = (&shared, &bags.stores);
            let (water, expected) = (BAGS.len(), rust.cost.unwrap());
            let stores = bags.as_ptr() as usize;
            scope.spawn(move || {
                let there = FgallCupboard {
                    water_lot: water,
                    stores: stores as *const FgallStore,
                    store_count: BAGS.len(),
                    ..init()
                };
                let (mut blend, mut all) = (null_mut(), init::<FgallBlendSummary>());
                let least = FGALL_OBJECTIVE_LEAST_COST;
                // SAFETY: the shelf is only read; locals.
                unsafe {
                    let (shelf, e) = (shared.0, null_mut);
                    let wanted = asked();
                    let made = fgall_shelf_make_new(
                        shelf,
                        &there,
                        &wanted,
                        least,
                        null(),
                        &mut blend,
                        e(),
                    );
                    assert_eq!(made, FGALL_OK);
                    assert_eq!(fgall_blend_summary(blend, &mut all, e()), FGALL_OK);
                    fgall_blend_free(blend);
                }
                bits(all.cost, expected);
            });
        }
    });
    let c = made(
        &bags,
        &bags.cupboard(),
        &asked(),
        FGALL_OBJECTIVE_LEAST_COST,
    );
    // SAFETY: freed once; the room frees a NULL later.
    unsafe { fgall_shelf_free(bags.shelf) };
    bags.shelf = null_mut();
    // SAFETY: as `said` promises.
    let page = said(|b, c_, n| unsafe { fgall_blend_text(c.0, b, c_, n, null_mut()) });
    assert_eq!(page, rust.to_string());
}
