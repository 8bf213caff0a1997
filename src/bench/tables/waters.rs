//! Waters. Alkalinity eats acid; ask the water works for the real figures.

use crate::bench::material::Water;
use crate::source::{Range, Source, Status};

pub(crate) const ROWS: &[Water] = &[
    Water {
        id: "distilled_water",
        name: "distilled or deionised water",
        alkalinity_mg_per_l: Range::new(0.0, 0.0, 20.0),
        hardness_mg_per_l: Range::new(0.0, 0.0, 5.0),
        note: "The water of the reference inks. It takes up carbon dioxide from air, no more.",
        source: Source::new("alkalinity 0–20 mg/L: common figure", Status::FromMemory),
    },
    Water {
        id: "rain_water",
        name: "rain water",
        alkalinity_mg_per_l: Range::new(0.0, 5.0, 20.0),
        hardness_mg_per_l: Range::new(0.0, 5.0, 20.0),
        note: "Let the first of the rain run off the roof; boil or strain it.",
        source: Source::new("alkalinity 0–20 mg/L: common figure", Status::FromMemory),
    },
    Water {
        id: "soft_tap_water",
        name: "soft tap water",
        alkalinity_mg_per_l: Range::new(20.0, 40.0, 60.0),
        hardness_mg_per_l: Range::new(0.0, 30.0, 60.0),
        note: "Costs little acid.",
        source: Source::new(
            "hardness class: WHO 2011 as quoted in several pages; alkalinity by judgement inside the 20–350 mg/L of tap waters, from memory",
            Status::ExpertGuess,
        ),
    },
    Water {
        id: "moderately_hard_tap_water",
        name: "moderately hard tap water",
        alkalinity_mg_per_l: Range::new(40.0, 80.0, 120.0),
        hardness_mg_per_l: Range::new(60.0, 90.0, 120.0),
        note: "Each 50 mg/L of alkalinity eats 1 mmol/L of acid.",
        source: Source::new(
            "hardness class: WHO 2011 as quoted in several pages; alkalinity by judgement inside the 20–350 mg/L of tap waters, from memory",
            Status::ExpertGuess,
        ),
    },
    Water {
        id: "hard_tap_water",
        name: "hard tap water",
        alkalinity_mg_per_l: Range::new(80.0, 140.0, 200.0),
        hardness_mg_per_l: Range::new(120.0, 150.0, 180.0),
        note: "In a weak gall ink without added acid it can throw down iron.",
        source: Source::new(
            "hardness class: WHO 2011 as quoted in several pages; alkalinity by judgement inside the 20–350 mg/L of tap waters, from memory",
            Status::ExpertGuess,
        ),
    },
    Water {
        id: "very_hard_tap_water",
        name: "very hard tap water",
        alkalinity_mg_per_l: Range::new(150.0, 250.0, 350.0),
        hardness_mg_per_l: Range::new(180.0, 280.0, 400.0),
        note: "250 mg/L of alkalinity eats 5.0 mmol/L of acid, 15 % of the acid of the US standard ink: use distilled water instead.",
        source: Source::new(
            "hardness class: WHO 2011 as quoted in several pages; alkalinity by judgement inside the 20–350 mg/L of tap waters, from memory",
            Status::ExpertGuess,
        ),
    },
];
