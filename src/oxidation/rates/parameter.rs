//! What nobody has measured well: parameters with their spans.

use crate::source::{Constant, Range, Source, Status};

/// A parameter of the kinetics that is known as a span only.
///
/// `range` encloses about 95 % of what is thought possible. None of these is
/// to be shown without its span; what a maker observes on the own ink replaces
/// it.
///
/// ```
/// use ferrogall::oxidation::Parameter;
/// use ferrogall::source::Status;
/// let share = Parameter::STEADY_IRON_III_SHARE;
/// assert_eq!((share.range.min, share.range.max), (0.32, 1.0));
/// assert!(Parameter::ALL.iter().all(|p| p.range.contains(p.range.typical)));
/// assert_eq!(Parameter::ASSISTED_CONSTANT.source.status, Status::ExpertGuess);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Parameter {
    /// Name under which it can be looked up.
    pub id: &'static str,
    /// The span, in `unit`.
    pub range: Range,
    /// Unit.
    pub unit: &'static str,
    /// Where it comes from.
    pub source: Source,
}

macro_rules! parameters {
    ($($(#[$doc:meta])* $name:ident, $id:literal: $min:literal, $typical:literal, $max:literal,
       $unit:literal, $citation:literal, $status:ident;)*) => {
        impl Parameter {
            $($(#[$doc])* pub const $name: Parameter = Parameter {
                id: $id,
                range: Range::new($min, $typical, $max),
                unit: $unit,
                source: Source::new($citation, Status::$status),
            };)*

            /// All of them.
            pub const ALL: &'static [Parameter] = &[$(Parameter::$name),*];
        }

        pub(crate) const PARAMETER_CONSTANTS: &[Constant] =
            &[$(Parameter::$name.as_constant()),*];
    };
}

impl Parameter {
    const fn as_constant(&self) -> Constant {
        Constant::of_span(self.id, self.range, self.unit, self.source)
    }
}

parameters! {
    /// Activation energy of the acid plateau. None is published for dilute
    /// iron(II) at room temperature: the middle is that of hot concentrated
    /// acid sulfate, the ends Millero's at constant OH⁻ and one from memory.
    PLATEAU_ACTIVATION, "iron_oxidation_plateau_activation": 29.6, 51.6, 73.7, "kJ/mol",
        "between Millero et al. 1987, Iwai, Majima & Awakura (343 to 363 K, abstract) and Mathews & Robins 1972 (from memory)",
        ExpertGuess;
    /// Iron(II) bound to gallate or tannin with oxygen, at pH 2.5 and 25 °C.
    /// No measurement at the pH of ink was found.
    ASSISTED_CONSTANT, "assisted_oxidation_constant": 0.0004, 0.02, 1.0, "L/(mol s)",
        "from the use of oxygen in wine (about 0.01 at pH 3 to 4), below Perron et al. 2010 (9 to 430 at pH 6)",
        ExpertGuess;
    /// How the assisted rate falls with acid: [H⁺] to minus this power.
    ASSISTED_ACID_ORDER, "assisted_oxidation_acid_order": 0.0, 0.25, 1.0, "1",
        "Mathews & Robins 1972 (0.25, from memory); at most the one proton an iron-gallate complex gives off; wine takes oxygen faster at pH 4 than at 3",
        ExpertGuess;
    /// Activation energy of the assisted rate.
    ASSISTED_ACTIVATION, "assisted_oxidation_activation": 30.0, 51.6, 75.0, "kJ/mol",
        "carried over from iron(II) in concentrated acid sulfate: Iwai, Majima & Awakura, abstract",
        ExpertGuess;
    /// Share of iron(III) at which oxygen and phenol keep each other in check.
    /// 1, as when phenol reduces nothing, is taken unless something is known:
    /// an ink that has gone dark stays dark in a full bottle.
    STEADY_IRON_III_SHARE, "steady_iron_iii_share": 0.32, 1.0, 1.0, "1",
        "Danilewicz 2021, abstract: 32 % in one model wine; 1 is common practice, no source", ExpertGuess;
    /// Iron(II) with oxygen in model wine, for which that steady share was
    /// found.
    WINE_OXIDATION, "wine_oxidation_constant": 0.001, 0.01, 0.1, "L/(mol s)",
        "from a two weeks' half-life of oxygen with about 5 mg/L of iron (from memory)", ExpertGuess;
    /// Electrons a galloyl unit gives to iron(III) before it is used up.
    ELECTRONS_PER_GALLOYL, "electrons_per_galloyl": 2.0, 2.0, 4.0, "mol/mol",
        "Powell & Taylor 1982, abstract (2); J. Electroanal. Chem. 650 (2010) 16 (up to 4)", Published;
    /// Iron(II) per O₂: 4 when the hydrogen peroxide goes on to iron, 2 when
    /// phenol or sulfite takes it.
    IRON_PER_OXYGEN, "iron_per_oxygen": 2.0, 4.0, 4.0, "mol/mol",
        "4 Fe2+ + O2 + 4 H+ -> 4 Fe3+ + 2 H2O; Danilewicz 2021, abstract", Published;
    /// Ascorbic acid or sulfite with oxygen in ink, catalysed by what iron(III)
    /// is free.
    SCAVENGER_CONSTANT, "scavenger_oxygen_constant": 0.01, 1.0, 100.0, "L/(mol s)",
        "about what 20 umol/L of free iron(III) does to ascorbic acid (Shen et al. 2021); in ink, judgement",
        ExpertGuess;
    /// Of the electrons that oxygen takes from organics, the share that gallic
    /// acid and tannin give while they last; the rest comes from gum and others.
    REST_FROM_PHENOL, "rest_from_phenol": 0.0, 0.5, 1.0, "mol/mol",
        "judgement: phenols are oxidised more easily than gum, no figure found", ExpertGuess;
    /// Settling of the iron(III) that is beyond what stays dissolved.
    SETTLING_CONSTANT, "settling_constant": 1e-7, 1e-6, 1e-5, "1/s",
        "judgement: days to months; no published value for ink found", ExpertGuess;
    /// How what stays in solution grows with acid: \[H⁺\] to this power. An
    /// iron that settles with gallic acid sets three protons free; what is
    /// dissolved holds its own gallic acid, by one or two protons less.
    SETTLING_ACID_ORDER, "settling_acid_order": 0.0, 1.0, 2.0, "1",
        "judgement between the stoichiometry of FeHGal and no effect; makers add acid against sediment", ExpertGuess;
    /// Iron(III) that stays in solution with tannin and acid at pH 2, mol/L.
    SOLUBLE_IRON_III, "soluble_iron_iii": 0.0005, 0.003, 0.02, "mol/L",
        "judgement; the solubility of iron-tannin pigment is not published", ExpertGuess;
    /// Share of the iron that makes a sediment visible, a third or three times as
    /// much.
    VISIBLE_SEDIMENT, "visible_sediment_share": 0.0033, 0.01, 0.03, "mol/mol",
        "judgement", ExpertGuess;
    /// What the bottle model itself may be off by, as a share of the iron, when
    /// observations are fitted: worlds are few, and none is the maker's own.
    MODEL_ERROR, "bottle_model_error": 0.02, 0.05, 0.1, "mol/mol",
        "set so that intervals of a fit hold the truth in 95 of 100 simulated worlds", ExpertGuess;
    /// Sediment below this share of the iron is not worth filtering.
    WORTH_FILTERING, "sediment_worth_filtering": 0.005, 0.02, 0.1, "mol/mol",
        "judgement", ExpertGuess;
    /// When more than this share of the iron has settled, a new batch is less work.
    PAST_SAVING, "sediment_past_saving": 0.3, 0.5, 0.8, "mol/mol",
        "judgement", ExpertGuess;
    /// Gas transfer coefficient of a bottle that stands still, by its own
    /// convection, at 20 °C.
    TRANSFER_COEFFICIENT, "oxygen_transfer_coefficient": 1e-6, 3.2e-6, 1e-5, "m/s",
        "order of magnitude for still water in a room", FromMemory;
}
