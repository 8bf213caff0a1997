//! From the JSON shapes to lots, a recipe and the sheet's options.

use super::spec::*;
use super::{Batch, JsonError, SCHEMA};
use crate::bench::{HydrateMix, IronInAcid, Lot};
use crate::extraction::{Grain, Process, Straining, Wash};
use crate::formulate::{Choice, Soak, Targets, WATER_PER_PLANT};
use crate::oxidation::{Closure, closures, polymers};
use crate::quantity::{
    Estimate, MassFraction, Price, Share, celsius, days, grams, grams_per_cubic_centimeter,
    grams_per_liter, hours, kilopascals, milliliters, millimeters, moles_per_kilogram,
    moles_per_liter, square_centimeters, within,
};
use crate::recipe::{
    Amount, BottlePlan, Extraction, Kit, Measure, Portion, Recipe, SheetOptions, Solution, Storage,
    resolve,
};
use crate::standards::{reference_ink, reference_inks};

impl BatchSpec {
    /// Lots, recipe and options, each checked by its own room.
    ///
    /// # Errors
    /// [`JsonError`].
    pub fn build(&self) -> Result<Batch, JsonError> {
        if self.schema != SCHEMA {
            return Err(JsonError::Schema {
                schema: self.schema,
            });
        }
        if self.storage.is_some() && self.bottles.is_none() {
            return Err(JsonError::ExactlyOne {
                place: "the batch".into(),
                fields: "\"storage\" with \"bottles\", or neither",
            });
        }
        if self.formulate.is_some() && self.part_g.is_some() {
            return Err(JsonError::ExactlyOne {
                place: "the batch".into(),
                fields: "\"part_g\" or \"formulate\"",
            });
        }
        let shelf = Shelf::stock(&self.lots)?;
        let mut recipe = match (&self.formulate, self.solutions.is_empty()) {
            (Some(f), true) if self.make_up.is_none() => f.recipe(&self.title, &shelf)?,
            (None, _) => self.recipe(&shelf)?,
            _ => {
                return Err(JsonError::ExactlyOne {
                    place: "the batch".into(),
                    fields: "\"formulate\" or \"solutions\" with \"make_up\"",
                });
            }
        };
        let bottles = self.bottles.as_ref().map(BottlesSpec::plan).transpose()?;
        recipe = match (self.scale_to_ml, bottles) {
            (Some(ml), None) => recipe.to_volume(milliliters(ml))?,
            (None, Some(plan)) => recipe.for_bottles(&plan)?,
            (None, None) => recipe,
            (Some(_), Some(_)) => {
                return Err(JsonError::ExactlyOne {
                    place: "the batch".into(),
                    fields: "\"scale_to_ml\" or \"bottles\" (or leave out both)",
                });
            }
        };
        let substitute = match &self.substitute {
            Some(s) => Some((s.lot.clone(), shelf.lot(&s.with)?.clone(), s.equal)),
            None => None,
        };
        Ok(Batch {
            recipe,
            options: SheetOptions {
                kit: self.kit.as_ref().map(|k| k.kit(&shelf)).transpose()?,
                bottles,
                storage: self
                    .storage
                    .as_ref()
                    .map(StorageSpec::storage)
                    .transpose()?,
                substitute,
                currency: self.currency.clone(),
            },
        })
    }

    fn recipe(&self, shelf: &Shelf) -> Result<Recipe, JsonError> {
        let mut recipe = Recipe::new(self.title.clone());
        if let Some(g) = self.part_g {
            recipe = recipe.with_part(grams(g));
        }
        for solution in &self.solutions {
            recipe = recipe.with(solution.solution(shelf)?);
        }
        if let Some(m) = &self.make_up {
            recipe = recipe.make_up(shelf.lot(&m.lot)?, milliliters(m.volume_ml));
        }
        Ok(recipe)
    }
}

/// The lots by name.
struct Shelf(Vec<Lot>);

impl Shelf {
    fn stock(specs: &[LotSpec]) -> Result<Shelf, JsonError> {
        let mut shelf = Shelf(Vec::with_capacity(specs.len()));
        for spec in specs {
            if shelf.lot(&spec.name).is_ok() {
                return Err(JsonError::TwoLots {
                    name: spec.name.clone(),
                });
            }
            let lot = spec.lot(&shelf).map_err(|error| JsonError::InLot {
                lot: spec.name.clone(),
                error: Box::new(error),
            })?;
            shelf.0.push(lot);
        }
        Ok(shelf)
    }

    fn lot(&self, name: &str) -> Result<&Lot, JsonError> {
        let found = self.0.iter().find(|l| l.name() == name);
        found.ok_or_else(|| JsonError::NoSuchLot {
            name: name.to_string(),
        })
    }

    fn maybe(&self, name: &Option<String>) -> Result<Option<&Lot>, JsonError> {
        name.as_ref().map(|n| self.lot(n)).transpose()
    }
}

impl EstimateSpec {
    fn estimate(&self) -> Result<Estimate, JsonError> {
        Ok(Estimate::new(self.value, self.u)?)
    }
}

impl LotSpec {
    fn lot(&self, shelf: &Shelf) -> Result<Lot, JsonError> {
        match (&self.material, &self.iron_in_acid) {
            (Some(id), None) => self.of_material(id),
            (None, Some(_)) if self.describes_a_material() => Err(JsonError::ExactlyOne {
                place: format!("lot {:?}", self.name),
                fields: "\"iron_in_acid\" with a price at most, or \"material\" with its settings",
            }),
            (None, Some(made)) => {
                let lot = made.lot(shelf)?.renamed(self.name.clone());
                Ok(match self.price_per_kg {
                    Some(price) => lot.with_price(Price::per_kilogram(price)?),
                    None => lot,
                })
            }
            _ => Err(JsonError::ExactlyOne {
                place: format!("lot {:?}", self.name),
                fields: "\"material\" or \"iron_in_acid\"",
            }),
        }
    }

    fn describes_a_material(&self) -> bool {
        let estimates = [
            &self.purity,
            &self.iron_content,
            &self.tannin,
            &self.gallic_acid,
            &self.galloyl_mmol_per_g,
            &self.moisture,
            &self.oxidised,
        ];
        let numbers = [
            self.alkalinity_mg_per_l,
            self.hardness_mg_per_l,
            self.density_g_per_cm3,
        ];
        estimates.iter().any(|e| e.is_some())
            || numbers.iter().any(|n| n.is_some())
            || self.hydrates.is_some()
    }

    fn of_material(&self, id: &str) -> Result<Lot, JsonError> {
        let mut lot = Lot::of(id)?.named(self.name.clone());
        if let Some(e) = &self.purity {
            lot = lot.purity(e.value, e.u)?;
        }
        if let Some(e) = &self.iron_content {
            if self.purity.is_some() {
                return Err(JsonError::ExactlyOne {
                    place: "the lot".into(),
                    fields: "\"purity\" or \"iron_content\"",
                });
            }
            lot = lot.iron_content(e.value, e.u)?;
        }
        if let Some(e) = &self.tannin {
            lot = lot.tannin(e.value, e.u)?;
        }
        if let Some(e) = &self.gallic_acid {
            lot = lot.gallic_acid(e.value, e.u)?;
        }
        if let Some(e) = &self.galloyl_mmol_per_g {
            lot = lot.galloyl(moles_per_kilogram(e.value), moles_per_kilogram(e.u))?;
        }
        if let Some(e) = &self.moisture {
            lot = lot.moisture(e.value, e.u)?;
        }
        if let Some(e) = &self.oxidised {
            lot = lot.oxidised(e.value, e.u)?;
        }
        if let Some(h) = &self.hydrates {
            lot = lot.hydrates(HydrateMix::new(
                h.heptahydrate,
                h.tetrahydrate,
                h.monohydrate,
                h.basic_sulfate,
            )?)?;
        }
        if let Some(mg) = self.alkalinity_mg_per_l {
            lot = lot.alkalinity(grams_per_liter(mg * 1e-3))?;
        }
        if let Some(mg) = self.hardness_mg_per_l {
            lot = lot.hardness(grams_per_liter(mg * 1e-3))?;
        }
        if let Some(d) = self.density_g_per_cm3 {
            lot = lot.density(grams_per_cubic_centimeter(d))?;
        }
        if let Some(price) = self.price_per_kg {
            lot = lot.price(Price::per_kilogram(price)?);
        }
        Ok(lot.build()?)
    }
}

impl IronInAcidSpec {
    fn lot(&self, shelf: &Shelf) -> Result<Lot, JsonError> {
        let acid = shelf.lot(&self.acid)?;
        let mass = match (self.acid_g, self.acid_ml) {
            (Some(g), None) => grams(g),
            (None, Some(ml)) => acid.mass_of(milliliters(ml))?,
            _ => {
                return Err(JsonError::ExactlyOne {
                    place: "iron_in_acid".into(),
                    fields: "\"acid_g\" or \"acid_ml\"",
                });
            }
        };
        let mut iron = IronInAcid::new(grams(self.iron_g), acid, mass);
        if let Some(e) = &self.iron_share {
            MassFraction::new(e.value)?;
            iron = iron.iron_share(e.estimate()?);
        }
        match (shelf.maybe(&self.water)?, self.water_ml) {
            (Some(water), Some(ml)) => {
                iron = iron.water(water, water.mass_of(milliliters(ml))?);
            }
            (None, None) => {}
            _ => {
                return Err(JsonError::ExactlyOne {
                    place: "iron_in_acid".into(),
                    fields: "no water, or \"water\" with \"water_ml\"",
                });
            }
        }
        Ok(iron.react()?.lot)
    }
}

/// Identifiers for a message.
fn listed<'a>(ids: impl Iterator<Item = &'a str>) -> String {
    ids.collect::<Vec<_>>().join(", ")
}

/// The one amount that is given.
fn amount(
    place: &str,
    mass_g: Option<f64>,
    volume_ml: Option<f64>,
    parts: Option<f64>,
) -> Result<Amount, JsonError> {
    match (mass_g, volume_ml, parts) {
        (Some(g), None, None) => Ok(Amount::Mass(grams(g))),
        (None, Some(ml), None) => Ok(Amount::Volume(milliliters(ml))),
        (None, None, Some(p)) => Ok(Amount::Parts(p)),
        _ => Err(JsonError::ExactlyOne {
            place: place.to_string(),
            fields: "mass, volume or parts",
        }),
    }
}

impl SolutionSpec {
    fn solution(&self, shelf: &Shelf) -> Result<Solution, JsonError> {
        let mut solution = Solution::new(self.name.clone());
        for (i, entry) in self.ingredients.iter().enumerate() {
            let place = || format!("solution {:?}, ingredient {}", self.name, i + 1);
            solution = match (&entry.lot, &entry.extract) {
                (Some(name), None) => {
                    let amount = amount(&place(), entry.mass_g, entry.volume_ml, entry.parts)?;
                    solution.add(shelf.lot(name)?, amount)
                }
                (None, Some(soak)) => solution.extract(soak.extraction(&place(), shelf)?),
                _ => {
                    return Err(JsonError::ExactlyOne {
                        place: place(),
                        fields: "\"lot\" or \"extract\"",
                    });
                }
            };
        }
        if let Some(m) = &self.make_up {
            solution = solution.make_up(shelf.lot(&m.lot)?, milliliters(m.volume_ml));
        }
        match (self.use_ml, self.use_g, self.use_share) {
            (None, None, None) => Ok(solution),
            (Some(ml), None, None) => Ok(solution.use_only(Portion::Volume(milliliters(ml)))),
            (None, Some(g), None) => Ok(solution.use_only(Portion::Mass(grams(g)))),
            (None, None, Some(s)) => Ok(solution.use_only(Portion::Share(Share::new(s)?))),
            _ => Err(JsonError::ExactlyOne {
                place: format!("solution {:?}", self.name),
                fields: "\"use_ml\", \"use_g\" or \"use_share\"",
            }),
        }
    }
}

impl ExtractSpec {
    fn extraction(&self, place: &str, shelf: &Shelf) -> Result<Extraction, JsonError> {
        let plant = amount(place, self.mass_g, None, self.parts)?;
        let liquid = amount(place, self.liquid_g, self.liquid_ml, self.liquid_parts)?;
        let (plant_lot, liquid_lot) = (shelf.lot(&self.plant)?, shelf.lot(&self.liquid)?);
        let mut soak = Extraction::new(plant_lot, plant, liquid_lot, liquid);
        if let Some(soaked) = &self.soaked {
            // Only the proportion counts, so any part will do.
            let part = Some(grams(100.0));
            let water = resolve(liquid_lot, liquid, part)? / resolve(plant_lot, plant, part)?;
            let by = Extraction::by(&soaked.process(plant_lot, water)?, liquid_lot)?;
            soak = soak.soaked_like(&by);
        }
        if let Some(e) = &self.yield_share {
            soak = soak.yielding(e.value, e.u)?;
        }
        if let Some(h) = self.hold_up_g_per_g {
            soak = soak.holding_back(h)?;
        }
        Ok(soak)
    }
}

impl SoakedSpec {
    /// The soak of a plant in so many times its mass of liquid.
    fn process(&self, plant: &Lot, liquid_per_plant: f64) -> Result<Process, JsonError> {
        let grain = match self.grain.as_str() {
            "powder" => Grain::powder(),
            "crushed" => Grain::crushed(),
            "whole" => Grain::whole(),
            other => return Err(unknown_word("grain", other, "powder, crushed, whole")),
        };
        let grain = match self.size_mm {
            Some(size) => grain.measuring(millimeters(size))?,
            None => grain,
        };
        let straining = match self.strained.as_deref() {
            None | Some("drained") => Straining::Drained,
            Some("pressed") => Straining::Pressed,
            Some("nothing") => Straining::Nothing,
            Some(other) => {
                return Err(unknown_word("strained", other, "drained, pressed, nothing"));
            }
        };
        let plant_mass = grams(100.0);
        let wash = Wash::of(
            plant_mass * liquid_per_plant,
            celsius(self.temperature_c),
            hours(self.hours),
        )?;
        Ok(Process::new(plant, plant_mass, grain)?.wash(wash.strained(straining)?)?)
    }
}

fn unknown_word(field: &'static str, value: &str, allowed: &str) -> JsonError {
    JsonError::UnknownWord {
        field,
        value: value.to_string(),
        allowed: allowed.to_string(),
    }
}

impl FormulateSpec {
    fn recipe(&self, title: &str, shelf: &Shelf) -> Result<Recipe, JsonError> {
        let mut choice = Choice::new(
            shelf.lot(&self.iron)?,
            shelf.lot(&self.tannin)?,
            shelf.lot(&self.water)?,
        );
        if let Some(soak) = &self.soak {
            choice = choice.soaked(soak.soak(shelf.lot(&self.tannin)?)?);
        }
        if let Some(lot) = shelf.maybe(&self.gallic_acid)? {
            choice = choice.gallic_acid(lot);
        }
        if let Some(lot) = shelf.maybe(&self.gum)? {
            choice = choice.gum(lot);
        }
        if let Some(lot) = shelf.maybe(&self.acid)? {
            choice = choice.acid(lot);
        }
        if let Some(lot) = shelf.maybe(&self.dye)? {
            choice = choice.dye(lot);
        }
        if let Some(lot) = shelf.maybe(&self.preservative)? {
            choice = choice.preservative(lot);
        }
        let made = choice.formulate(&self.targets(&choice)?)?;
        Ok(made.recipe.titled(title))
    }

    fn targets(&self, choice: &Choice) -> Result<Targets, JsonError> {
        let volume = milliliters(self.volume_ml);
        let mut targets = match (
            &self.reference_ink,
            self.iron_mmol_per_l,
            self.iron_ii_per_galloyl,
        ) {
            (Some(id), None, None) => {
                let ink = reference_ink(id).ok_or_else(|| JsonError::UnknownWord {
                    field: "reference_ink",
                    value: id.clone(),
                    allowed: listed(reference_inks().iter().map(|ink| ink.id)),
                })?;
                let published = ink.targets(volume, self.strength.unwrap_or(1.0))?;
                choice.reachable(&published)
            }
            (None, Some(iron), Some(ratio)) if self.strength.is_none() => {
                Targets::new(volume, moles_per_liter(iron * 1e-3), ratio)?
            }
            _ => {
                return Err(JsonError::ExactlyOne {
                    place: "formulate".into(),
                    fields: "\"reference_ink\" (with \"strength\"), or \"iron_mmol_per_l\" with \"iron_ii_per_galloyl\"",
                });
            }
        };
        if let Some(share) = self.gallic_share {
            targets = targets.gallic_share(Share::new(share)?);
        }
        if let Some(g) = self.gum_g_per_l {
            targets = targets.gum(grams_per_liter(g))?;
        }
        if let Some(mmol) = self.strong_acid_mmol_per_l {
            targets = targets.strong_acid(moles_per_liter(mmol * 1e-3))?;
        }
        if let Some(g) = self.dye_g_per_l {
            targets = targets.dye(grams_per_liter(g))?;
        }
        if let Some(g) = self.preservative_g_per_l {
            targets = targets.preservative(grams_per_liter(g))?;
        }
        Ok(targets)
    }
}

impl SoakSpec {
    fn soak(&self, plant: &Lot) -> Result<Soak, JsonError> {
        let water = self.water_per_plant.unwrap_or(WATER_PER_PLANT);
        let mut soak = match &self.soaked {
            Some(soaked) => Soak::by(&soaked.process(plant, water)?)?,
            None => Soak::default().water_per_plant(water)?,
        };
        if let Some(e) = &self.yield_share {
            soak = soak.yielding(e.value, e.u)?;
        }
        if let Some(h) = self.hold_up_g_per_g {
            soak = soak.holding_back(h)?;
        }
        Ok(soak)
    }
}

impl BottlesSpec {
    fn plan(&self) -> Result<BottlePlan, JsonError> {
        let mut plan = BottlePlan::new(self.count, milliliters(self.capacity_ml))?;
        if let Some(fill) = self.fill {
            plan = plan.filled(Share::new(fill)?)?;
        }
        if let Some(loss) = self.loss {
            plan = plan.losing(Share::new(loss)?)?;
        }
        Ok(plan)
    }
}

impl StorageSpec {
    fn storage(&self) -> Result<Storage, JsonError> {
        let mut storage = Storage {
            closure: self.closure()?,
            ..Storage::default()
        };
        if let Some(n) = self.openings_per_week {
            let n = within("openings per week", n, 0.0, 1e4, "")?;
            storage.opened_every = (n > 0.0).then(|| days(7.0 / n));
        }
        if let Some(share) = self.air_exchanged {
            storage.air_exchanged = Share::new(share)?;
        }
        if let Some(ml) = self.drawn_ml {
            storage.drawn_per_opening = milliliters(ml);
        }
        if let Some(d) = self.kept_for_days {
            storage.kept_for = days(d);
        }
        if let Some(t) = self.temperature_c {
            storage.temperature = celsius(t);
        }
        if let Some(p) = self.pressure_kpa {
            storage.pressure = kilopascals(p);
        }
        if let Some(share) = self.too_much {
            storage.stated_share = Share::new(share)?;
        }
        Ok(storage)
    }

    fn closure(&self) -> Result<Closure, JsonError> {
        let wall = (
            &self.wall_polymer,
            self.wall_area_cm2,
            self.wall_thickness_mm,
        );
        match (&self.closure, wall) {
            (None, (None, None, None)) => Ok(Closure::SEALED_GLASS),
            (Some(id), (None, None, None)) => closures()
                .iter()
                .find(|row| row.id == id)
                .map(Closure::of)
                .ok_or_else(|| JsonError::UnknownWord {
                    field: "closure",
                    value: id.clone(),
                    allowed: listed(closures().iter().map(|row| row.id)),
                }),
            (None, (Some(id), Some(area), Some(thickness))) => {
                let row = polymers().iter().find(|row| row.id == id).ok_or_else(|| {
                    JsonError::UnknownWord {
                        field: "wall_polymer",
                        value: id.clone(),
                        allowed: listed(polymers().iter().map(|row| row.id)),
                    }
                })?;
                Ok(Closure::wall(
                    row,
                    square_centimeters(area),
                    millimeters(thickness),
                )?)
            }
            _ => Err(JsonError::ExactlyOne {
                place: "storage".into(),
                fields: "\"closure\", or \"wall_polymer\" with \"wall_area_cm2\" and \"wall_thickness_mm\"",
            }),
        }
    }
}

impl KitSpec {
    fn kit(&self, shelf: &Shelf) -> Result<Kit, JsonError> {
        let mut kit = Kit::new(
            grams(self.balance_step_g),
            milliliters(self.cylinder_step_ml),
        );
        for tool in &self.exceptions {
            shelf.lot(&tool.lot)?;
            kit = kit.with(tool.lot.clone(), tool.measure()?);
        }
        Ok(kit)
    }
}

impl ToolSpec {
    fn measure(&self) -> Result<Measure, JsonError> {
        let ml = milliliters;
        match (
            self.balance_step_g,
            self.cylinder_step_ml,
            self.spoon_ml,
            self.drop_ml,
        ) {
            (Some(g), None, None, None) => Ok(Measure::Balance { step: grams(g) }),
            (None, Some(v), None, None) => Ok(Measure::Cylinder { step: ml(v) }),
            (None, None, Some(v), None) => Ok(Measure::Spoon { volume: ml(v) }),
            (None, None, None, Some(v)) => Ok(Measure::Dropper { volume: ml(v) }),
            _ => Err(JsonError::ExactlyOne {
                place: format!("tool of {:?}", self.lot),
                fields: "\"balance_step_g\", \"cylinder_step_ml\", \"spoon_ml\" or \"drop_ml\"",
            }),
        }
    }
}
