//! Humectants. Ethanol is among the preservatives.

use crate::bench::material::Humectant;
use crate::composition::Component;
use crate::source::{Range, Source, Status};

pub(crate) const ROWS: &[Humectant] = &[
    Humectant {
        id: "glycerol",
        name: "glycerol",
        formula: "C3H8O3",
        cas: "56-81-5",
        ions: &[(Component::Glycerol, 1.0)],
        density_g_per_cm3: 1.2611,
        dose_g_per_l: Range::new(5.0, 20.0, 50.0),
        volatile: false,
        note: "A 5 % solution has 1.145 mPa·s, a 10 % one 1.310 at 20 °C. Too much and the writing stays tacky.",
        source: Source::new(
            "density at 20 °C: CRC Handbook 102nd ed. 2021; dose by judgement",
            Status::ExpertGuess,
        ),
    },
    Humectant {
        id: "sucrose",
        name: "sugar",
        formula: "C12H22O11",
        cas: "57-50-1",
        ions: &[],
        density_g_per_cm3: 1.587,
        dose_g_per_l: Range::new(4.0, 8.0, 20.0),
        volatile: false,
        note: "Gloss and body in old recipes. Feeds mould: a preservative is needed.",
        source: Source::new(
            "dose: English percolated ink c. 1892, Carmel of Lisieux, Moschini 1876 (4, 8 and 20 g/L computed from their recipes); density and CAS number from memory",
            Status::Secondary,
        ),
    },
];
