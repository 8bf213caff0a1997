//! Published figures of closures and bottle polymers.

use super::closure::{Ingress, Polymer};
use crate::source::{Range, Source, Status};

/// Typical values are geometric means of the ends unless the row says otherwise.
pub(super) const CLOSURES: &[Ingress] = &[
    Ingress {
        id: "sealed_glass",
        name: "sealed glass",
        oxygen_ug_per_day: Range::exact(0.0),
        note: "an ampoule, or a cap proved tight",
        source: Source::new("glass lets no oxygen through", Status::CommonPractice),
    },
    Ingress {
        id: "wine_closure",
        name: "wine-type closure on glass",
        oxygen_ug_per_day: Range::new(5.0, 18.3, 67.0),
        note: "eight screw caps, technical and synthetic closures of wine size",
        source: Source::new(
            "Vidal et al., OENO One, article 1618, abstract",
            Status::Published,
        ),
    },
    Ingress {
        id: "synthetic_wine_closure",
        name: "synthetic wine closure on glass",
        // 3.4 to 10.0 µL a day at 20 °C and 1 atm
        oxygen_ug_per_day: Range::new(4.52, 8.91, 13.31),
        note: "printed as 3.4 to 10.0 uL a day, taken at 20 degC and 1 atm; typical is the middle",
        source: Source::new(
            "Practical Winery & Vineyard, January 2015",
            Status::Secondary,
        ),
    },
    Ingress {
        id: "drink_bottle_cap",
        name: "cap of a PET drink bottle",
        // 0.01 to 0.25 cm³ a day at 0 °C and 1 atm
        oxygen_ug_per_day: Range::new(14.2, 71.4, 357.0),
        note: "printed as 0.01 to 0.25 cm3 a day, taken at 0 degC and 1 atm; the cap alone, not the wall",
        source: Source::new(
            "packaging-test article, gasworld 2003955",
            Status::Secondary,
        ),
    },
];

const TABLE: Source = Source::new(
    "Biosystems Engineering, chapter 11, table 11.2 (25 degC)",
    Status::Handbook,
);

const fn polymer(id: &'static str, name: &'static str, min: f64, max: f64) -> Polymer {
    Polymer {
        id,
        name,
        cm3_mil_per_100in2_day_atm: Range::new(min, (min + max) / 2.0, max),
        source: TABLE,
    }
}

#[rustfmt::skip]
pub(super) const POLYMERS: &[Polymer] = &[
    polymer("ldpe",     "low-density polyethylene",           300.0,  600.0),
    polymer("hdpe",     "high-density polyethylene",          100.0,  250.0),
    polymer("pp",       "polypropylene, unoriented",          150.0,  250.0),
    polymer("pet",      "polyethylene terephthalate",         3.0,    6.0),
    polymer("pvdc",     "polyvinylidene chloride",            0.1,    2.0),
    polymer("evoh_dry", "ethylene vinyl alcohol, dry",        0.0007, 0.1),
];
