//! Gums. Use levels run from none to the thick model ink.

use crate::bench::material::Gum;
use crate::source::{Range, Source, Status};

pub(crate) const ROWS: &[Gum] = &[
    Gum {
        id: "gum_arabic",
        name: "gum arabic, tears or granules",
        moisture_percent: Range::new(8.0, 12.0, 15.0),
        dose_g_per_l: Range::new(0.0, 10.0, 80.0),
        caution: "Breathing the dust at work can make the lungs allergic (from memory): no dust, or a mask.",
        note: "CAS 9000-01-5. Strain it: up to 1 % acid-insoluble matter, up to 4 % ash. A 25 % solution has 60–130 mPa·s; acid and salts make it thinner. Above about 30 % v/v ethanol it may fall out. Typical moisture and its low end by judgement.",
        source: Source::new(
            "moisture at most 15 % (105 °C, 5 h): JECFA specification; dose: 10 g/L in the Swedish proclamation SFS 1964:504, 80 g/L in a conservation model ink, none in the later US standard (NBS C413)",
            Status::Secondary,
        ),
    },
    Gum {
        id: "gum_arabic_spray_dried",
        name: "gum arabic, spray-dried powder",
        moisture_percent: Range::new(5.0, 8.0, 10.0),
        dose_g_per_l: Range::new(0.0, 10.0, 80.0),
        caution: "Breathing the dust at work can make the lungs allergic (from memory): no dust, or a mask.",
        note: "CAS 9000-01-5. Scatter it on the water, or it cakes. Typical moisture and its low end by judgement.",
        source: Source::new(
            "moisture at most 10 % (105 °C, 4 h): JECFA specification; dose: 10 g/L in the Swedish proclamation SFS 1964:504, 80 g/L in a conservation model ink, none in the later US standard (NBS C413)",
            Status::Secondary,
        ),
    },
];
