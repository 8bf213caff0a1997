//! The shapes of a recipe in JSON.

use crate::formulate::Equal;

macro_rules! spec {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $type:ty,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            $($(#[$fdoc])* pub $field: $type,)*
        }
    };
}

spec! {
    /// A batch: lots on the bench, a recipe or targets, and what to report.
    ///
    /// ```
    /// use ferrogall::json::BatchSpec;
    /// let unknown = r#"{ "schema": 1, "title": "x", "lots": [], "spice": 3 }"#;
    /// assert!(serde_json::from_str::<BatchSpec>(unknown).is_err());
    /// ```
    BatchSpec {
        /// 1.
        schema: u32,
        /// Title of the recipe.
        title: String,
        /// Name of the currency of all prices.
        #[serde(default)]
        currency: String,
        /// The bags and bottles.
        lots: Vec<LotSpec>,
        /// Mass of one part, for amounts in parts.
        #[serde(default)]
        part_g: Option<f64>,
        /// Solutions made separately; not beside `formulate`.
        #[serde(default)]
        solutions: Vec<SolutionSpec>,
        /// Final make-up; not beside `formulate`.
        #[serde(default)]
        make_up: Option<MakeUpSpec>,
        /// Targets and chosen lots instead of amounts.
        #[serde(default)]
        formulate: Option<FormulateSpec>,
        /// Scale the recipe to this volume.
        #[serde(default)]
        scale_to_ml: Option<f64>,
        /// Scale the recipe to these bottles.
        #[serde(default)]
        bottles: Option<BottlesSpec>,
        /// How the bottles are kept and used.
        #[serde(default)]
        storage: Option<StorageSpec>,
        /// Tools to round to.
        #[serde(default)]
        kit: Option<KitSpec>,
        /// "What if" another lot took one's place.
        #[serde(default)]
        substitute: Option<SubstituteSpec>,
    }
}

/// A value with its standard uncertainty (k = 1); a bare number is taken as exact.
///
/// ```
/// use ferrogall::json::EstimateSpec;
/// let exact: EstimateSpec = serde_json::from_str("0.9")?;
/// let known: EstimateSpec = serde_json::from_str(r#"{ "value": 0.9, "u": 0.02 }"#)?;
/// assert_eq!((exact.value, exact.u, known.u), (0.9, 0.0, 0.02));
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct EstimateSpec {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

impl<'de> serde::Deserialize<'de> for EstimateSpec {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(EstimateVisitor)
    }
}

struct EstimateVisitor;

impl<'de> serde::de::Visitor<'de> for EstimateVisitor {
    type Value = EstimateSpec;

    fn expecting(&self, f: &mut core::fmt::Formatter) -> core::fmt::Result {
        f.write_str("a number, or an object with \"value\" and \"u\"")
    }

    fn visit_f64<E>(self, value: f64) -> Result<EstimateSpec, E> {
        Ok(EstimateSpec { value, u: 0.0 })
    }

    fn visit_u64<E: serde::de::Error>(self, value: u64) -> Result<EstimateSpec, E> {
        self.visit_f64(value as f64)
    }

    fn visit_i64<E: serde::de::Error>(self, value: i64) -> Result<EstimateSpec, E> {
        self.visit_f64(value as f64)
    }

    fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<EstimateSpec, A::Error> {
        let object = serde::de::value::MapAccessDeserializer::new(map);
        let Object { value, u } = serde::Deserialize::deserialize(object)?;
        Ok(EstimateSpec { value, u })
    }
}

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct Object {
    value: f64,
    #[serde(default)]
    u: f64,
}

spec! {
    /// Mass fractions of weathered green vitriol; they add up to 1.
    ///
    /// ```
    /// let half = r#"{ "heptahydrate": 0.5, "tetrahydrate": 0.5 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::HydratesSpec>(half).is_ok());
    /// ```
    HydratesSpec {
        /// FeSO4·7H2O.
        #[serde(default)]
        heptahydrate: f64,
        /// FeSO4·4H2O.
        #[serde(default)]
        tetrahydrate: f64,
        /// FeSO4·H2O.
        #[serde(default)]
        monohydrate: f64,
        /// Fe(OH)SO4.
        #[serde(default)]
        basic_sulfate: f64,
    }
}

spec! {
    /// A lot: a catalogue material and what is known of this bag, or iron
    /// dissolved in an acid.
    ///
    /// ```
    /// let lot = r#"{ "name": "galls", "material": "aleppo_galls", "tannin": { "value": 0.5 } }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::LotSpec>(lot).is_ok());
    /// ```
    LotSpec {
        /// What the recipe calls it.
        name: String,
        /// Identifier of the catalogue material.
        #[serde(default)]
        material: Option<String>,
        /// Instead of a material: iron dissolved in an acid lot named above it.
        #[serde(default)]
        iron_in_acid: Option<IronInAcidSpec>,
        /// Mass fraction of the named substance; an acid's strength.
        #[serde(default)]
        purity: Option<EstimateSpec>,
        /// Instead of purity: iron as the label declares it, mass fraction.
        #[serde(default)]
        iron_content: Option<EstimateSpec>,
        /// Tannin, mass fraction on the catalogue's basis.
        #[serde(default)]
        tannin: Option<EstimateSpec>,
        /// Free gallic acid, mass fraction on the same basis.
        #[serde(default)]
        gallic_acid: Option<EstimateSpec>,
        /// Galloyl units per gram of tannin.
        #[serde(default)]
        galloyl_mmol_per_g: Option<EstimateSpec>,
        /// Moisture, mass fraction as is.
        #[serde(default)]
        moisture: Option<EstimateSpec>,
        /// Share of the iron that is iron(III), mol/mol.
        #[serde(default)]
        oxidised: Option<EstimateSpec>,
        /// Weathered green vitriol.
        #[serde(default)]
        hydrates: Option<HydratesSpec>,
        /// Alkalinity of a water as CaCO3.
        #[serde(default)]
        alkalinity_mg_per_l: Option<f64>,
        /// Hardness of a water as CaCO3.
        #[serde(default)]
        hardness_mg_per_l: Option<f64>,
        /// Density of the liquid, or bulk density of the powder.
        #[serde(default)]
        density_g_per_cm3: Option<f64>,
        /// Price of a kilogram.
        #[serde(default)]
        price_per_kg: Option<f64>,
    }
}

spec! {
    /// Iron put into an acid until the reaction ends.
    ///
    /// ```
    /// let wool = r#"{ "iron_g": 10, "acid": "brick cleaner", "acid_ml": 60 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::IronInAcidSpec>(wool).is_ok());
    /// ```
    IronInAcidSpec {
        /// Metal.
        iron_g: f64,
        /// Iron in the metal, mass fraction; steel otherwise.
        #[serde(default)]
        iron_share: Option<EstimateSpec>,
        /// Name of the acid lot.
        acid: String,
        /// Acid by volume; or `acid_g`.
        #[serde(default)]
        acid_ml: Option<f64>,
        /// Acid by mass.
        #[serde(default)]
        acid_g: Option<f64>,
        /// Name of the water lot put in with it.
        #[serde(default)]
        water: Option<String>,
        /// How much water.
        #[serde(default)]
        water_ml: Option<f64>,
    }
}

spec! {
    /// A solution made separately.
    ///
    /// ```
    /// let jug = r#"{ "name": "jug", "ingredients": [ { "lot": "salt", "parts": 2 } ] }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::SolutionSpec>(jug).is_ok());
    /// ```
    SolutionSpec {
        /// Its name.
        name: String,
        /// What goes into it.
        ingredients: Vec<IngredientSpec>,
        /// Fill up to a volume.
        #[serde(default)]
        make_up: Option<MakeUpSpec>,
        /// Use only this volume of it.
        #[serde(default)]
        use_ml: Option<f64>,
        /// Use only this mass of it.
        #[serde(default)]
        use_g: Option<f64>,
        /// Use only this share of it, 0 to 1.
        #[serde(default)]
        use_share: Option<f64>,
    }
}

spec! {
    /// One entry: a lot with exactly one amount, or a soak.
    ///
    /// ```
    /// let entry = r#"{ "lot": "gum", "mass_g": 10 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::IngredientSpec>(entry).is_ok());
    /// ```
    IngredientSpec {
        /// Name of the lot.
        #[serde(default)]
        lot: Option<String>,
        /// Weighed.
        #[serde(default)]
        mass_g: Option<f64>,
        /// Measured.
        #[serde(default)]
        volume_ml: Option<f64>,
        /// Parts by weight.
        #[serde(default)]
        parts: Option<f64>,
        /// A soak instead of a lot.
        #[serde(default)]
        extract: Option<ExtractSpec>,
    }
}

spec! {
    /// Plant matter soaked and strained.
    ///
    /// ```
    /// let soak = r#"{ "plant": "galls", "mass_g": 30, "liquid": "water", "liquid_ml": 300 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::ExtractSpec>(soak).is_ok());
    /// ```
    ExtractSpec {
        /// Name of the plant lot.
        plant: String,
        /// Its mass; or `parts`.
        #[serde(default)]
        mass_g: Option<f64>,
        /// Its parts by weight.
        #[serde(default)]
        parts: Option<f64>,
        /// Name of the liquid lot.
        liquid: String,
        /// Liquid by volume; or `liquid_g`, or `liquid_parts`.
        #[serde(default)]
        liquid_ml: Option<f64>,
        /// Liquid by mass.
        #[serde(default)]
        liquid_g: Option<f64>,
        /// Liquid in parts by weight.
        #[serde(default)]
        liquid_parts: Option<f64>,
        /// Share of the tannin that passes into the liquid, 0 to 1.
        #[serde(default)]
        yield_share: Option<EstimateSpec>,
        /// Water kept per gram of dry plant matter put in.
        #[serde(default)]
        hold_up_g_per_g: Option<f64>,
        /// How it is soaked: yield and water kept follow from it, where they
        /// are not given.
        #[serde(default)]
        soaked: Option<SoakedSpec>,
    }
}

spec! {
    /// How fine the plant is, how warm and how long it soaks, how it is strained.
    ///
    /// ```
    /// let day = r#"{ "grain": "crushed", "temperature_c": 18, "hours": 24, "strained": "pressed" }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::SoakedSpec>(day).is_ok());
    /// ```
    SoakedSpec {
        /// `powder`, `crushed` or `whole`.
        grain: String,
        /// Diameter of the grains, where it was measured.
        #[serde(default)]
        size_mm: Option<f64>,
        /// Temperature of the soak.
        temperature_c: f64,
        /// How long.
        hours: f64,
        /// `drained` (when nothing is said), `pressed` or `nothing`.
        #[serde(default)]
        strained: Option<String>,
    }
}

spec! {
    /// Fill up with a liquid.
    ///
    /// ```
    /// let fill = r#"{ "lot": "water", "volume_ml": 1000 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::MakeUpSpec>(fill).is_ok());
    /// ```
    MakeUpSpec {
        /// Name of the liquid lot.
        lot: String,
        /// To this volume.
        volume_ml: f64,
    }
}

spec! {
    /// Targets, given or taken from a published ink, and the chosen lots.
    ///
    /// Of a published ink the iron and the proportion are taken, and what a
    /// lot is named for of its gallic share, acid, gum, dye and preservative.
    /// A field given beside it wins.
    ///
    /// ```
    /// let like = r#"{ "volume_ml": 500, "reference_ink": "us_federal_writing_1935",
    ///     "iron": "salt", "tannin": "galls", "water": "tap" }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::FormulateSpec>(like).is_ok());
    /// ```
    FormulateSpec {
        /// Volume of the batch.
        volume_ml: f64,
        /// Identifier of a published ink to follow.
        #[serde(default)]
        reference_ink: Option<String>,
        /// Its strength; 1 as published.
        #[serde(default)]
        strength: Option<f64>,
        /// Iron(II); needed without a reference ink.
        #[serde(default)]
        iron_mmol_per_l: Option<f64>,
        /// Iron(II) per galloyl unit; needed without a reference ink.
        #[serde(default)]
        iron_ii_per_galloyl: Option<f64>,
        /// Free gallic acid as a share of the galloyl units, 0 to 1.
        #[serde(default)]
        gallic_share: Option<f64>,
        /// Dry gum.
        #[serde(default)]
        gum_g_per_l: Option<f64>,
        /// Strong acid.
        #[serde(default)]
        strong_acid_mmol_per_l: Option<f64>,
        /// Dye.
        #[serde(default)]
        dye_g_per_l: Option<f64>,
        /// Preservative, as the acid or phenol that acts.
        #[serde(default)]
        preservative_g_per_l: Option<f64>,
        /// Name of the iron lot.
        iron: String,
        /// Name of the tannin lot.
        tannin: String,
        /// Name of the water lot.
        water: String,
        /// Name of the gallic acid lot.
        #[serde(default)]
        gallic_acid: Option<String>,
        /// Name of the gum lot.
        #[serde(default)]
        gum: Option<String>,
        /// Name of the acid lot.
        #[serde(default)]
        acid: Option<String>,
        /// Name of the dye lot.
        #[serde(default)]
        dye: Option<String>,
        /// Name of the preservative lot.
        #[serde(default)]
        preservative: Option<String>,
        /// How plant matter is soaked.
        #[serde(default)]
        soak: Option<SoakSpec>,
    }
}

spec! {
    /// How plant matter is soaked.
    ///
    /// ```
    /// let pressed = r#"{ "water_per_plant": 12, "hold_up_g_per_g": 1.2 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::SoakSpec>(pressed).is_ok());
    /// ```
    SoakSpec {
        /// Grams of water per gram of plant.
        #[serde(default)]
        water_per_plant: Option<f64>,
        /// Share of the tannin that passes into the liquid, 0 to 1.
        #[serde(default)]
        yield_share: Option<EstimateSpec>,
        /// Water kept per gram of dry plant matter put in.
        #[serde(default)]
        hold_up_g_per_g: Option<f64>,
        /// How it is soaked: yield and water kept follow from it, where they
        /// are not given.
        #[serde(default)]
        soaked: Option<SoakedSpec>,
    }
}

spec! {
    /// Bottles to fill.
    ///
    /// ```
    /// let ten = r#"{ "count": 10, "capacity_ml": 50, "fill": 0.96 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::BottlesSpec>(ten).is_ok());
    /// ```
    BottlesSpec {
        /// How many.
        count: u32,
        /// Brimful volume of each.
        capacity_ml: f64,
        /// How full, 0 to 1; full otherwise.
        #[serde(default)]
        fill: Option<f64>,
        /// Share of the batch lost on the way, 0 to 1.
        #[serde(default)]
        loss: Option<f64>,
    }
}

spec! {
    /// How the bottles are kept and used.
    ///
    /// ```
    /// let shelf = r#"{ "openings_per_week": 2, "kept_for_days": 365 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::StorageSpec>(shelf).is_ok());
    /// ```
    StorageSpec {
        /// Openings a week; never opened otherwise.
        #[serde(default)]
        openings_per_week: Option<f64>,
        /// Share of the headspace air replaced at an opening, 0 to 1.
        #[serde(default)]
        air_exchanged: Option<f64>,
        /// Ink taken out at an opening.
        #[serde(default)]
        drawn_ml: Option<f64>,
        /// How long to look ahead.
        #[serde(default)]
        kept_for_days: Option<f64>,
        /// Temperature of the shelf.
        #[serde(default)]
        temperature_c: Option<f64>,
        /// Air pressure.
        #[serde(default)]
        pressure_kpa: Option<f64>,
        /// Identifier of the closure, see [`crate::oxidation::closures`].
        #[serde(default)]
        closure: Option<String>,
        /// Identifier of the polymer of a plastic bottle instead, see
        /// [`crate::oxidation::polymers`]; then its wall's area and thickness too.
        #[serde(default)]
        wall_polymer: Option<String>,
        /// Area of the plastic wall.
        #[serde(default)]
        wall_area_cm2: Option<f64>,
        /// Thickness of the plastic wall.
        #[serde(default)]
        wall_thickness_mm: Option<f64>,
        /// The loss of iron(II) that is too much, 0 to 1.
        #[serde(default)]
        too_much: Option<f64>,
    }
}

spec! {
    /// Tools at hand.
    ///
    /// ```
    /// let kit = r#"{ "balance_step_g": 0.1, "cylinder_step_ml": 1 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::KitSpec>(kit).is_ok());
    /// ```
    KitSpec {
        /// Last digit of the balance.
        balance_step_g: f64,
        /// Volume between two marks of the cylinder.
        cylinder_step_ml: f64,
        /// Other tools, by lot.
        #[serde(default)]
        exceptions: Vec<ToolSpec>,
    }
}

spec! {
    /// Another tool for one lot: exactly one of the four.
    ///
    /// ```
    /// let dropper = r#"{ "lot": "clove oil", "drop_ml": 0.05 }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::ToolSpec>(dropper).is_ok());
    /// ```
    ToolSpec {
        /// Name of the lot.
        lot: String,
        /// A finer or coarser balance.
        #[serde(default)]
        balance_step_g: Option<f64>,
        /// A syringe or pipette.
        #[serde(default)]
        cylinder_step_ml: Option<f64>,
        /// A level spoon.
        #[serde(default)]
        spoon_ml: Option<f64>,
        /// A dropper.
        #[serde(default)]
        drop_ml: Option<f64>,
    }
}

spec! {
    /// One lot in another's place.
    ///
    /// ```
    /// let swap = r#"{ "lot": "leaf", "with": "tannic acid", "equal": "galloyl" }"#;
    /// assert!(serde_json::from_str::<ferrogall::json::SubstituteSpec>(swap).is_ok());
    /// ```
    SubstituteSpec {
        /// Name of the lot to replace.
        lot: String,
        /// Name of the lot to take.
        with: String,
        /// "iron_ii" or "galloyl".
        equal: Equal,
    }
}
