//! The figures of the room, each with its parent.

use crate::source::{Constant, Range, Source, Status};

macro_rules! constants {
    ($($(#[$doc:meta])* $name:ident, $id:literal: $value:expr, $u:expr, $unit:literal,
       $citation:literal, $status:ident;)*) => {
        $($(#[$doc])* pub(super) const $name: Constant = Constant {
            id: $id,
            value: $value,
            u: $u,
            unit: $unit,
            source: Source::new($citation, Status::$status),
        };)*

        pub(crate) const CONSTANTS: &[&Constant] = &[$(&$name),*];
    };
}

constants! {
    /// Iron(II) per permanganate.
    PERMANGANATE, "iron_per_permanganate": 5.0, 0.0, "mol/mol",
        "MnO4- + 5 Fe2+ + 8 H+ -> Mn2+ + 5 Fe3+ + 4 H2O", Computed;
    /// Iron(II) per dichromate.
    DICHROMATE, "iron_per_dichromate": 6.0, 0.0, "mol/mol",
        "Cr2O7 2- + 6 Fe2+ + 14 H+ -> 2 Cr3+ + 6 Fe3+ + 7 H2O", Computed;
    /// Iron(II) per cerium(IV).
    CERIUM, "iron_per_cerium_iv": 1.0, 0.0, "mol/mol",
        "Ce4+ + Fe2+ -> Ce3+ + Fe3+", Computed;
    /// A drop from a dropping bottle.
    DROP, "drop_volume": 0.05, 0.01, "mL",
        "common practice, 20 drops a millilitre; weigh a hundred of your own", CommonPractice;
    /// Molar absorption of the iron(II) complex with phenanthroline at 510 nm;
    /// half a unit of the second digit, rectangular.
    PHENANTHROLINE, "phenanthroline_molar_absorption": 1.1e4, 290.0, "L/(mol cm)",
        "HJ/T 345-2007", Published;
    /// Least iron the method can see.
    PHENANTHROLINE_SEEN, "phenanthroline_detection_limit": 0.03, 0.0, "mg/L",
        "HJ/T 345-2007", Published;
    /// Least iron it can measure.
    PHENANTHROLINE_LEAST, "phenanthroline_lower_limit": 0.12, 0.0, "mg/L",
        "HJ/T 345-2007", Published;
    /// Most iron it can measure.
    PHENANTHROLINE_MOST, "phenanthroline_upper_limit": 5.0, 0.0, "mg/L",
        "HJ/T 345-2007", Published;
    /// Iron per galloyl unit at which an addition stops darkening; its span is
    /// [`IRON_PER_GALLOYL`].
    END_POINT, "iron_per_galloyl_at_end": 0.54, 0.2, "mol/mol",
        "Viedt 1875, Dingler's Polytechnisches Journal 216: 17.8 g Fe per 100 g tannin in the pigment, 5.42 per 1701 g/mol of ten galloyl; from 0.2 (2:1 complex with tannic acid, pH 3 to 7, Spectrochim. Acta A 69:225, 2008, abstract) to 1 (1:1)", Published;
    /// How well an eye tells that a drop still darkened, in logarithms.
    JUDGING, "spot_test_judging": 0.15, 0.0, "ln",
        "judgement: about one addition in seven is misjudged by one", ExpertGuess;
    /// Half-width of a reading of a pH strip.
    STRIP, "ph_strip_half_width": 0.5, 0.0, "pH",
        "strips are read to 0.3 to 0.5", FromMemory;
    /// Green vitriol goes to the 4-hydrate.
    TO_TETRAHYDRATE, "vitriol_to_tetrahydrate": 56.6, 1.0, "°C",
        "suppliers' texts and a life-cycle inventory; 7 to 4 H2O", Secondary;
    /// The 4-hydrate goes to the 1-hydrate.
    TO_MONOHYDRATE, "vitriol_to_monohydrate": 65.0, 1.0, "°C",
        "suppliers' texts and a life-cycle inventory, 64 to 65 °C; 4 to 1 H2O", Secondary;
    /// Hottest drying of vitriol that the room answers for.
    NO_HOTTER, "vitriol_no_hotter": 200.0, 0.0, "°C",
        "the 1-hydrate keeps its water up to some 250 to 300 °C", FromMemory;
    /// How well Hammer's specific gravities are known.
    HAMMER, "hammer_specific_gravity_u": 0.0003, 0.0, "1",
        "assumed: his table, printed to 0.0001, looks smoothed", ExpertGuess;
}

/// Iron per galloyl unit at which further iron stops darkening: the 2:1
/// complex with a tannic acid of ten galloyl (pH 3 to 7), the pigment of Viedt,
/// and 1:1. In stronger acid the complex is 1:1 with the whole tannic acid.
pub(super) const IRON_PER_GALLOYL: Range = Range::new(0.2, 0.54, 1.0);
